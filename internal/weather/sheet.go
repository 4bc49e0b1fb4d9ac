package weather

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// sheet is a file as read, before it is put in order and checked. Temperatures are °C, rain mm,
// radiation MJ/m² a day; a value that is not there is NaN.
type sheet struct {
	name    string // for messages
	source  string
	station Station
	origin  Origin
	rows    []row
	notes   []Note

	windHeight quantity.Metre // told above a plain table; 0: not
	flagged    int            // values the source's own quality control marked as doubtful
}

type row struct {
	date                      civil.Date
	line                      int
	min, max, rain, radiation float64
	air                       [airParts]float64
}

func missingRow(date civil.Date, line int) row {
	nan := math.NaN()
	return row{date: date, line: line, min: nan, max: nan, rain: nan, radiation: nan, air: noAir()}
}

// The years a record may lie in: the oldest daily series begin in the eighteenth century, and
// generated years may lie ahead.
const firstYear, lastYear = 1700, 2300

// dateOf refuses days that do not exist and years no record has.
func dateOf(year, month, day int) (civil.Date, bool) {
	if year < firstYear || year > lastYear || month < 1 || month > 12 || day < 1 || day > daysIn(year, month) {
		return 0, false
	}
	return civil.Of(year, month, day), true
}

func daysIn(year, month int) int {
	switch month {
	case 2:
		if civil.Leap(year) {
			return 29
		}
		return 28
	case 4, 6, 9, 11:
		return 30
	}
	return 31
}

// parseDate reads 2027-04-15, 2027/04/15, 20270415, and drops a time of day behind them.
func parseDate(text string) (civil.Date, bool) {
	text = strings.TrimSpace(text)
	if len(text) > 10 && (text[10] == 'T' || text[10] == ' ') {
		text = text[:10]
	}
	var parts []string
	switch {
	case len(text) == 8 && strings.Trim(text, "0123456789") == "":
		parts = []string{text[:4], text[4:6], text[6:]}
	case strings.Contains(text, "-"):
		parts = strings.Split(text, "-")
	case strings.Contains(text, "/"):
		parts = strings.Split(text, "/")
	}
	if len(parts) != 3 || len(parts[0]) != 4 {
		return 0, false
	}
	year, err1 := strconv.Atoi(parts[0])
	month, err2 := strconv.Atoi(parts[1])
	day, err3 := strconv.Atoi(parts[2])
	if err1 != nil || err2 != nil || err3 != nil {
		return 0, false
	}
	return dateOf(year, month, day)
}

// parseValue reads a number. The marks that services use for "not measured" give NaN.
func parseValue(text string) (float64, error) {
	text = strings.TrimSpace(text)
	switch strings.ToLower(text) {
	case "", "na", "n/a", "nan", "null", "none", "-", "--", "m", "-999", "-999.0", "-999.00", "-9999", "-9999.0", "-99.9":
		return math.NaN(), nil
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return math.NaN(), fmt.Errorf("%s is not a number", quoteShort(text))
	}
	return v, nil
}

func (s *sheet) fail(line int, says, remedy string) error {
	return &FileError{Name: s.name, Line: line, Says: says, Remedy: remedy}
}

func (s *sheet) note(kind string, from, to civil.Date, says string) {
	s.notes = append(s.notes, Note{Kind: kind, From: from, To: to, Says: says})
}

// record puts the rows in order, checks them across fields and lays them out one day after the other.
func (s *sheet) record() (*Record, error) {
	if len(s.rows) == 0 {
		return nil, &FileError{Name: s.name, Says: "the file has a header but no days", Remedy: "download it again, or ask for a longer period", Nothing: true}
	}
	if err := s.arrange(); err != nil {
		return nil, err
	}
	if err := s.check(); err != nil {
		return nil, err
	}
	if s.origin == "" {
		s.origin = Measured
	}
	first, last := s.rows[0].date, s.rows[len(s.rows)-1].date
	r := &Record{Station: s.station, Origin: s.origin, Source: s.source, Days: make([]Day, int(last-first)+1), Lines: make([]int, int(last-first)+1)}
	for i := range r.Days {
		r.Days[i].Date = first.Add(i)
	}
	temperatures := 0
	for _, w := range s.rows {
		d := &r.Days[w.date-first]
		r.Lines[w.date-first] = w.line
		if !math.IsNaN(w.min) && !math.IsNaN(w.max) {
			d.Min, d.Max, d.HasTemp = quantity.Celsius(w.min), quantity.Celsius(w.max), true
			temperatures++
		}
		if !math.IsNaN(w.rain) {
			d.Rain, d.HasRain = quantity.Millimetre(w.rain), true
		}
		if !math.IsNaN(w.radiation) {
			d.Radiation, d.HasRadiation = quantity.MegajoulePerSquareMetre(w.radiation), true
		}
		d.Air = airOf(w.air)
	}
	if temperatures == 0 {
		return nil, &FileError{
			Name: s.name, Says: "no day has both a minimum and a maximum temperature",
			Remedy: "ask the service for TMIN and TMAX (daily minimum and maximum temperature), or choose another station", Nothing: true,
		}
	}
	if s.flagged > 0 {
		s.note("flagged", first, last, plural(s.flagged, "value was", "values were")+" left out because the source's own quality control marked them as doubtful.")
	}
	for i := range s.notes {
		if n := &s.notes[i]; n.From == 0 && n.To == 0 { // about the whole file
			n.From, n.To = first, last
		}
	}
	r.Notes = s.notes
	return r, nil
}

// arrange sorts the rows and settles dates that occur twice: the first is kept.
func (s *sheet) arrange() error {
	outOfOrder := 0
	for i := 1; i < len(s.rows); i++ {
		if s.rows[i].date < s.rows[i-1].date {
			outOfOrder++
		}
	}
	if outOfOrder > 0 {
		slices.SortStableFunc(s.rows, func(a, b row) int { return cmp.Compare(a.date, b.date) })
		s.note("out of order", s.rows[0].date, s.rows[len(s.rows)-1].date,
			"The days were not in order ("+plural(outOfOrder, "step", "steps")+" back in time); they were sorted by date.")
	}
	kept := s.rows[:1]
	repeated, differing, at := 0, 0, row{}
	for _, w := range s.rows[1:] {
		before := kept[len(kept)-1]
		if w.date != before.date {
			kept = append(kept, w)
			continue
		}
		if repeated == 0 {
			at = w
		}
		repeated++
		if !sameValue(w.min, before.min) || !sameValue(w.max, before.max) || !sameValue(w.rain, before.rain) {
			differing++
		}
	}
	if differing > len(kept)/4 && differing > 3 {
		return s.fail(at.line, fmt.Sprintf("the date %s comes a second time with other values, and so do %d others: the file holds more than one station", at.date, differing-1),
			"keep the lines of one station only")
	}
	if repeated > 0 {
		s.note("repeated", at.date, at.date, fmt.Sprintf("%s given more than once, first %s on line %d; the first line for a date was kept.",
			plural(repeated, "date was", "dates were"), at.date, at.line))
	}
	s.rows = kept
	return nil
}

func sameValue(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprint(n, " ", many)
}
