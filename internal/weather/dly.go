package weather

import (
	"bytes"
	"fmt"
	"math"

	"kailyard/internal/civil"
)

// A .dly line: station 1–11, year 12–15, month 16–17, element 18–21, then 31 times a value of five
// characters and the measurement, quality and source flags of one each. Source: GHCN-README.
const (
	dlyHead     = 21
	dlyDay      = 8
	dlyShortest = dlyHead + 30*dlyDay + 5 // blanks behind the last value may have been trimmed
	dlyMissing  = -9999
)

func isDLY(line string) bool {
	if len(line) < dlyHead+5 {
		return false
	}
	for i := range 17 {
		c := line[i]
		digit := c >= '0' && c <= '9'
		if i >= 11 && !digit || i < 11 && !digit && (c < 'A' || c > 'Z') && c != '_' && c != '-' {
			return false
		}
	}
	for _, c := range []byte(line[17:21]) {
		if (c < 'A' || c > 'Z') && (c < '0' || c > '9') {
			return false
		}
	}
	return true
}

// dlyElement is 0 for TMAX, 1 for TMIN, 2 for PRCP, −1 for what is not read.
func dlyElement(name []byte) int {
	switch string(name) {
	case "TMAX":
		return 0
	case "TMIN":
		return 1
	case "PRCP":
		return 2
	}
	return -1
}

type dlyMonth struct {
	rows [31]row
	has  [3]bool
}

// readDLY reads GHCN-Daily: tenths of °C and of mm, a month and an element to a line. A value with a
// quality flag is left out.
func readDLY(name string, text []byte) (*sheet, error) {
	s := &sheet{name: name, source: "GHCN-Daily"}
	months := map[int]*dlyMonth{}
	var order []int
	repeats := 0
	for number, rest := 1, text; len(rest) > 0; number++ {
		var line []byte
		line, rest, _ = bytes.Cut(rest, []byte("\n"))
		line = bytes.TrimRight(line, "\r\n\x1a")
		if len(bytes.TrimSpace(line)) == 0 {
			continue
		}
		if !isDLY(string(line[:min(len(line), dlyHead+5)])) {
			return nil, s.fail(number, "this is not a GHCN-Daily line: "+quoteShort(string(line)), "download the .dly file again")
		}
		if err := s.dlyStation(number, string(line[:11])); err != nil {
			return nil, err
		}
		element := dlyElement(line[17:21])
		if element < 0 {
			continue
		}
		if len(line) < dlyShortest {
			return nil, s.fail(number, fmt.Sprintf("the line is cut off after %d characters (a full month has at least %d)", len(line), dlyShortest), "download the .dly file again")
		}
		year, _ := dlyInt(line[11:15])
		month, _ := dlyInt(line[15:17])
		if _, ok := dateOf(year, month, 1); !ok {
			return nil, s.fail(number, fmt.Sprintf("there is no month %d in a year %d", month, year), "download the .dly file again")
		}
		key := year*12 + month - 1
		m := months[key]
		if m == nil {
			m = &dlyMonth{}
			for d := range m.rows {
				m.rows[d] = missingRow(civil.Of(year, month, 1).Add(d), number)
			}
			months[key] = m
			order = append(order, key)
		}
		if m.has[element] {
			if repeats == 0 {
				s.note("repeated", m.rows[0].date, m.rows[0].date, fmt.Sprintf("Line %d gives %s for %d-%02d a second time; the first was kept.", number, line[17:21], year, month))
			}
			repeats++
			continue
		}
		m.has[element] = true
		if err := s.dlyValues(number, line, element, m, daysIn(year, month)); err != nil {
			return nil, err
		}
	}
	for _, key := range order {
		s.rows = append(s.rows, months[key].rows[:daysIn(key/12, key%12+1)]...)
	}
	if len(order) == 0 {
		return nil, s.fail(0, "the file has no TMAX, TMIN or PRCP lines", "choose a station that measures temperature")
	}
	return s, nil
}

func (s *sheet) dlyStation(line int, id string) error {
	if s.station.ID == "" {
		s.station.ID, s.station.Name = id, id
	}
	if s.station.ID != id {
		return s.fail(line, "a second station begins here: "+id+" after "+s.station.ID, "give the file of one station")
	}
	return nil
}

func (s *sheet) dlyValues(number int, line []byte, element int, m *dlyMonth, days int) error {
	for d := range days {
		at := dlyHead + d*dlyDay
		value, ok := dlyInt(line[at : at+5])
		if !ok {
			return s.fail(number, fmt.Sprintf("the value for day %d is %s, not a number", d+1, quoteShort(string(line[at:at+5]))), "download the .dly file again")
		}
		if value == dlyMissing {
			continue
		}
		if at+6 < len(line) && line[at+6] != ' ' {
			s.flagged++
			continue
		}
		v := float64(value) / 10
		switch element {
		case 0:
			m.rows[d].max = v
		case 1:
			m.rows[d].min = v
		default:
			m.rows[d].rain = v
		}
	}
	return nil
}

// dlyInt reads a right-aligned whole number.
func dlyInt(field []byte) (int, bool) {
	n, sign, digits := 0, 1, 0
	for _, c := range field {
		switch {
		case c >= '0' && c <= '9':
			n = n*10 + int(c-'0')
			digits++
		case c == '-' && digits == 0 && sign == 1:
			sign = -1
		case c == ' ' && digits == 0 && sign == 1:
		default:
			return 0, false
		}
	}
	return sign * n, digits > 0
}

// tenths undoes the storing of a value in tenths.
func tenths(v float64) float64 { return math.Round(v) / 10 }
