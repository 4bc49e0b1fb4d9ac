package weather

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/civil"
)

// The parameters taken from NASA POWER, under the names its versions have used.
var (
	powerMin       = []string{"t2m_min", "t2mmin"}
	powerMax       = []string{"t2m_max", "t2mmax"}
	powerRain      = []string{"prectotcorr", "prectot"}
	powerRadiation = []string{"allsky_sfc_sw_dwn"}
	powerAir       = [airParts]string{airDew: "t2mdew", airHumidityMean: "rh2m", airWind: "ws2m"} // °C, per cent and m/s in all versions
)

const powerRemedy = "ask POWER for the daily parameters T2M_MAX,T2M_MIN,PRECTOTCORR"

func isPowerColumns(line string) bool {
	columns := splitHeader(line)
	return len(columns) > 2 && columns[0] == "year" && (columns[1] == "doy" || columns[1] == "mo") &&
		slices.ContainsFunc(columns, func(c string) bool { return strings.HasPrefix(c, "t2m") })
}

// powerHeader is what the lines between -BEGIN HEADER- and -END HEADER- say. Its wording and order
// differ between versions and requests, so each line is searched for what it may hold.
type powerHeader struct {
	lines               int
	fill                float64
	units               map[string]string // by parameter, lower case
	latitude, longitude float64
	elevation           float64
	universal           bool // days of universal, not of local solar, time
}

// readPowerCSV reads NASA POWER daily point data.
func readPowerCSV(name string, text []byte) (*sheet, error) {
	s := &sheet{name: name, source: "NASA POWER"}
	h, err := s.powerHeader(text)
	if err != nil {
		return nil, err
	}
	body := text
	for range h.lines {
		_, body, _ = bytes.Cut(body, []byte("\n"))
	}
	t, err := newTable(s, body, h.lines)
	if err != nil {
		return nil, err
	}
	p, err := s.powerColumns(t, h)
	if err != nil {
		return nil, err
	}
	s.place(h.latitude, h.longitude, h.elevation, !math.IsNaN(h.latitude) && !math.IsNaN(h.longitude), !math.IsNaN(h.elevation))
	for {
		fields, err := t.next()
		if err != nil {
			return nil, err
		}
		if fields == nil {
			break
		}
		w, err := p.row(t, fields)
		if err != nil {
			return nil, err
		}
		s.rows = append(s.rows, w)
	}
	s.powerNotes(h.universal)
	return s, nil
}

func (s *sheet) powerNotes(universal bool) {
	if len(s.rows) == 0 {
		return
	}
	first, last := s.rows[0].date, s.rows[len(s.rows)-1].date
	s.note("gridded", first, last, "The values are a model's for an area of about 50 km (30 miles), not a thermometer's: frost in hollows and heat in towns differ.")
	if universal {
		s.note("units", first, last, "The days are days of universal time; away from Greenwich, ask for time-standard=LST.")
	}
}

func (s *sheet) powerHeader(text []byte) (powerHeader, error) {
	nan := math.NaN()
	h := powerHeader{fill: -999, units: map[string]string{}, latitude: nan, longitude: nan, elevation: nan}
	first, _ := firstLine(text)
	if !strings.HasPrefix(strings.ToUpper(first), "-BEGIN HEADER-") {
		return h, nil
	}
	for rest := text; len(rest) > 0; {
		var line []byte
		line, rest, _ = bytes.Cut(rest, []byte("\n"))
		h.lines++
		if h.lines > 2000 {
			break
		}
		trimmed := strings.TrimSpace(string(line))
		if strings.HasPrefix(strings.ToUpper(trimmed), "-END HEADER-") {
			return h, nil
		}
		h.take(trimmed)
	}
	return h, s.fail(h.lines, "the header has no end (-END HEADER-)", "the file is cut off: download it again")
}

func (h *powerHeader) take(line string) {
	lower := strings.ToLower(line)
	if strings.Contains(lower, "missing") {
		if v, ok := numberAfter(lower, ":"); ok {
			h.fill = v
		}
	}
	if v, ok := numberAfter(lower, "latitude"); ok {
		h.latitude = v
	}
	if v, ok := numberAfter(lower, "longitude"); ok {
		h.longitude = v
	}
	if strings.HasPrefix(lower, "elevation") {
		if v, ok := numberAfter(lower, "="); ok {
			h.elevation = v
		}
	}
	if strings.HasPrefix(lower, "dates") && strings.HasSuffix(lower, "utc") {
		h.universal = true
	}
	if name, _, found := strings.Cut(lower, " "); found && strings.HasSuffix(lower, ")") {
		if at := strings.LastIndex(lower, "("); at > 0 {
			h.units[name] = lower[at+1 : len(lower)-1]
		}
	}
}

// numberAfter is the first word behind the last mark, if it is a number.
func numberAfter(line, mark string) (float64, bool) {
	at := strings.LastIndex(line, mark)
	if at < 0 {
		return 0, false
	}
	words := strings.Fields(line[at+len(mark):])
	if len(words) == 0 {
		return 0, false
	}
	v, err := strconv.ParseFloat(strings.Trim(words[0], ",;"), 64)
	return v, err == nil && !math.IsInf(v, 0) && !math.IsNaN(v)
}

// powerTable knows where the columns are and how to turn them into our units.
type powerTable struct {
	year, month, day, dayOfYear       int
	min, max, rain, radiation         int
	air                               [airParts]int
	fill                              float64
	minUnit, maxUnit, rainUnit, sunMJ float64
	minOffset, maxOffset              float64
}

func (s *sheet) powerColumns(t *table, h powerHeader) (*powerTable, error) {
	at := 1 + h.lines
	if t.column("parameter") == 0 {
		return nil, s.fail(at, "these are POWER's monthly averages, not days", powerRemedy+" with temporal/daily")
	}
	p := &powerTable{
		year: t.column("year"), month: t.column("mo"), day: t.column("dy"), dayOfYear: t.column("doy"), fill: h.fill,
		min: t.column(powerMin...), max: t.column(powerMax...), rain: t.column(powerRain...), radiation: t.column(powerRadiation...),
	}
	for part, name := range powerAir {
		if p.air[part] = -1; name != "" {
			p.air[part] = t.column(name)
		}
	}
	switch {
	case t.column("hr") >= 0:
		return nil, s.fail(at, "these are POWER's hourly values, not days", powerRemedy+" with temporal/daily")
	case p.year < 0 || p.dayOfYear < 0 && (p.month < 0 || p.day < 0):
		return nil, s.fail(at, "the columns for the date (YEAR and DOY, or YEAR, MO and DY) are not there", powerRemedy)
	case p.min < 0 || p.max < 0:
		return nil, s.fail(at, "the columns T2M_MIN and T2M_MAX are not both there", powerRemedy)
	}
	unitOf := func(column int) string {
		if column < 0 {
			return ""
		}
		return h.units[t.header[column]]
	}
	if err := p.units(s, at, unitOf(p.min), unitOf(p.max), unitOf(p.rain), unitOf(p.radiation)); err != nil {
		return nil, err
	}
	return p, nil
}

// units settles the conversions. An unknown unit of rain or radiation leaves the column out.
func (p *powerTable) units(s *sheet, line int, low, high, rain, radiation string) error {
	var ok1, ok2, ok3 bool
	p.minUnit, p.minOffset, ok1 = celsiusFrom(low)
	p.maxUnit, p.maxOffset, ok2 = celsiusFrom(high)
	if !ok1 || !ok2 {
		return s.fail(line, fmt.Sprintf("the unit of temperature, %s, is not known", quoteShort(low+" "+high)), "ask for degrees Celsius")
	}
	if p.rainUnit, ok3 = map[string]float64{"": 1, "mm/day": 1, "mm day-1": 1, "mm": 1, "kg/m^2/day": 1, "in/day": 25.4}[rain]; !ok3 {
		p.rainUnit = math.NaN()
		s.note("units", 0, 0, "The unit of rain, "+quoteShort(rain)+", is not known; rain was left out.")
	}
	p.sunMJ = radiationMJ(radiation)
	if p.radiation >= 0 && math.IsNaN(p.sunMJ) {
		s.note("units", 0, 0, "The header gives no known unit of radiation ("+quoteShort(radiation)+"); radiation was left out.")
	}
	return nil
}

// celsiusFrom is the factor and the offset, applied first, that lead from a unit to °C.
func celsiusFrom(unit string) (factor, offset float64, ok bool) {
	switch strings.TrimPrefix(strings.TrimSpace(strings.ToLower(unit)), "°") {
	case "", "c", "degc", "deg c", "celsius":
		return 1, 0, true
	case "f", "degf", "fahrenheit":
		return 5.0 / 9, -32, true
	case "k", "kelvin":
		return 1, -273.15, true
	}
	return 0, 0, false
}

func (p *powerTable) row(t *table, fields []string) (row, error) {
	year, err := strconv.Atoi(strings.TrimSpace(field(fields, p.year)))
	date, ok := civil.Date(0), false
	if p.dayOfYear >= 0 {
		n, err2 := strconv.Atoi(strings.TrimSpace(field(fields, p.dayOfYear)))
		ok = err == nil && err2 == nil && year >= firstYear && year <= lastYear && n >= 1 && (n <= 365 || n == 366 && civil.Leap(year))
		if ok {
			date = civil.Of(year, 1, 1).Add(n - 1)
		}
	} else {
		month, err2 := strconv.Atoi(strings.TrimSpace(field(fields, p.month)))
		day, err3 := strconv.Atoi(strings.TrimSpace(field(fields, p.day)))
		if err == nil && err2 == nil && err3 == nil {
			date, ok = dateOf(year, month, day)
		}
	}
	if !ok {
		return row{}, t.s.fail(t.line, "the date cannot be read or does not exist", "download the file again")
	}
	w := missingRow(date, t.line)
	type cell struct {
		column int
		place  *float64
	}
	cells := []cell{{p.min, &w.min}, {p.max, &w.max}, {p.rain, &w.rain}, {p.radiation, &w.radiation}}
	for part, column := range p.air {
		cells = append(cells, cell{column, &w.air[part]})
	}
	for _, c := range cells {
		if c.column < 0 {
			continue
		}
		v, err := t.value(fields, c.column)
		if err != nil {
			return row{}, err
		}
		if v != p.fill {
			*c.place = v
		}
	}
	p.convert(&w)
	return w, nil
}

func (p *powerTable) convert(w *row) {
	w.min = (w.min + p.minOffset) * p.minUnit
	w.max = (w.max + p.maxOffset) * p.maxUnit
	w.rain *= p.rainUnit
	w.radiation *= p.sunMJ
}
