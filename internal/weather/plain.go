package weather

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// readPlain reads our own open form: a header whose names carry the unit, one line a day.
//
//	# station: the allotment
//	# latitude: 52.1
//	date,tmin_c,tmax_c,rain_mm
//	2027-01-01,-3.4,2.1,0.6
//
// Names may also be tmin_f, tmax_f, rain_in, radiation_mj_m2, and of the air dew_point_c, humidity_min_percent, humidity_max_percent,
// humidity_mean_percent, wind_2m_m_s (or another height and unit) and sunshine_h; and the date may stand in year,month,day or year,doy.
// The separator may be a semicolon (the decimal mark may then be a comma) or a tab.
func readPlain(name string, text []byte) (*sheet, error) {
	s := &sheet{name: name, source: "plain CSV"}
	if err := s.plainComments(text); err != nil {
		return nil, err
	}
	return s, s.readColumns(text, 0)
}

// plainComments takes what the lines "# key: value" above the header say about the station.
func (s *sheet) plainComments(text []byte) error {
	for number, rest := 1, text; len(rest) > 0; number++ {
		var line []byte
		line, rest, _ = bytes.Cut(rest, []byte("\n"))
		comment, found := strings.CutPrefix(strings.TrimSpace(string(line)), "#")
		if !found {
			if len(bytes.TrimSpace(line)) > 0 {
				return nil
			}
			continue
		}
		key, value, _ := strings.Cut(comment, ":")
		key, value = strings.ToLower(strings.TrimSpace(key)), strings.TrimSpace(value)
		if err := s.plainComment(number, key, value); err != nil {
			return err
		}
	}
	return nil
}

func (s *sheet) plainComment(line int, key, value string) error {
	switch key {
	case "station", "name":
		s.station.Name = value
	case "id":
		s.station.ID = value
	case "source":
		s.source = value
	case "origin":
		if value == string(Generated) {
			s.origin = Generated
		}
	case "wind_height_m":
		v, err := strconv.ParseFloat(value, 64)
		if err != nil || !(v >= 0.5 && v <= 100) {
			return s.fail(line, quoteShort(value)+" is not a height at which wind is measured", "write it in metres above the ground, for example 10")
		}
		s.windHeight = quantity.Metre(v)
	case "latitude", "latitude_deg", "longitude", "longitude_deg", "elevation_m":
		v, err := strconv.ParseFloat(value, 64)
		limit := map[byte]float64{'a': 90, 'o': 360, 'l': 9000}[key[1]]
		if err != nil || math.IsNaN(v) || math.Abs(v) > limit {
			return s.fail(line, fmt.Sprintf("%s is not a %s", quoteShort(value), key), "write degrees as a decimal number, south and west negative, for example -33.9")
		}
		latitude, longitude, elevation := s.station.Latitude, s.station.Longitude, float64(s.station.Elevation)
		switch key[1] {
		case 'a':
			latitude = v
		case 'o':
			longitude = v
		default:
			elevation = v
		}
		s.place(latitude, longitude, elevation, key[1] == 'a' || s.station.Located, key[1] == 'l' || s.station.Levelled)
		s.station.Longitude = longitude
	}
	return nil
}

// plainColumn is a column that is read, with its conversion.
type plainColumn struct {
	at      int
	place   func(*row) *float64
	convert func(float64) float64
}

type plainDate struct{ date, year, month, day, dayOfYear int }

// readColumns reads a table whose names carry units; above is the number of lines before the text.
func (s *sheet) readColumns(text []byte, above int) error {
	t, err := newTable(s, text, above)
	if err != nil {
		return err
	}
	_, headerLine := firstLine(text)
	columns, when, err := s.plainHeader(t, headerLine+above)
	if err != nil {
		return err
	}
	for {
		fields, err := t.next()
		if err != nil {
			return err
		}
		if fields == nil {
			return nil
		}
		date, ok := when.read(fields)
		if !ok {
			return s.fail(t.line, quoteShort(strings.Join(fields[:min(len(fields), 3)], " "))+" does not begin with a date that exists", "write dates as year-month-day, for example 2027-04-15")
		}
		w := missingRow(date, t.line)
		for _, c := range columns {
			v, err := c.value(t, fields)
			if err != nil {
				return err
			}
			*c.place(&w) = v
		}
		s.rows = append(s.rows, w)
	}
}

func (c plainColumn) value(t *table, fields []string) (float64, error) {
	if text := strings.TrimSpace(field(fields, c.at)); strings.EqualFold(text, "t") || strings.EqualFold(text, "trace") {
		return 0, nil // a trace of rain
	}
	v, err := t.value(fields, c.at)
	return c.convert(v), err
}

func (p plainDate) read(fields []string) (civil.Date, bool) {
	if p.date >= 0 {
		return parseDate(field(fields, p.date))
	}
	number := func(column int) int {
		n, err := strconv.Atoi(strings.TrimSpace(field(fields, column)))
		if err != nil {
			return -1
		}
		return n
	}
	year := number(p.year)
	if p.dayOfYear >= 0 {
		n := number(p.dayOfYear)
		if year < firstYear || year > lastYear || n < 1 || n > 366 || n == 366 && !civil.Leap(year) {
			return 0, false
		}
		return civil.Of(year, 1, 1).Add(n - 1), true
	}
	return dateOf(year, number(p.month), number(p.day))
}

func (s *sheet) plainHeader(t *table, line int) ([]plainColumn, plainDate, error) {
	when := plainDate{
		date: t.column("date", "day_date", "time", "datetime"), year: t.column("year", "yyyy"),
		month: t.column("month", "mo", "mm"), day: t.column("day", "dy", "dd"), dayOfYear: t.column("doy", "day_of_year", "yday"),
	}
	if when.date < 0 && (when.year < 0 || when.dayOfYear < 0 && (when.month < 0 || when.day < 0)) {
		return nil, when, s.fail(line, "no column is called date (the columns are "+quoteShort(strings.Join(t.header, ", "))+")", knownFormats)
	}
	var columns []plainColumn
	var ignored []string
	seen := map[string]string{}
	for i, name := range t.header {
		what, unit := splitUnit(name)
		if part, convert, known := airColumn(name, s.windHeight); what == "" && known {
			if convert == nil || seen[airColumns[part]] != "" {
				s.note("not read", 0, 0, fmt.Sprintf("The column %s is not used: call it %s, once, if it is %s.", quoteShort(name), airExample[part], airSays[part]))
				continue
			}
			seen[airColumns[part]] = name
			columns = append(columns, plainColumn{i, func(w *row) *float64 { return &w.air[part] }, convert})
			continue
		}
		if what == "" {
			if !slices.Contains([]int{when.date, when.year, when.month, when.day, when.dayOfYear}, i) && name != "" {
				ignored = append(ignored, name)
			}
			continue
		}
		convert, wanted := plainUnit(what, unit)
		if convert == nil {
			return nil, when, s.fail(line, fmt.Sprintf("the column %q does not say a unit that is known", name), "call it "+wanted)
		}
		if other, twice := seen[what]; twice {
			return nil, when, s.fail(line, fmt.Sprintf("the columns %q and %q both give the %s", other, name, what), "keep one of them")
		}
		seen[what] = name
		columns = append(columns, plainColumn{i, plainPlaces[what], convert})
	}
	if seen["minimum"] == "" || seen["maximum"] == "" {
		return nil, when, s.fail(line, "the columns for minimum and maximum temperature are not both there (the columns are "+quoteShort(strings.Join(t.header, ", "))+")",
			"call them tmin_c and tmax_c, or tmin_f and tmax_f")
	}
	if len(ignored) > 0 {
		s.note("not read", 0, 0, "Columns that are not used: "+strings.Join(ignored[:min(len(ignored), 12)], ", ")+".")
	}
	return columns, when, nil
}

var plainPlaces = map[string]func(*row) *float64{
	"minimum":   func(w *row) *float64 { return &w.min },
	"maximum":   func(w *row) *float64 { return &w.max },
	"rain":      func(w *row) *float64 { return &w.rain },
	"radiation": func(w *row) *float64 { return &w.radiation },
}

// plainNames are the beginnings of column names, the longest that fits is taken.
var plainNames = map[string]string{
	"tmin": "minimum", "temp_min": "minimum", "min_temp": "minimum", "mint": "minimum", "temperature_min": "minimum", "min": "minimum", "minimum": "minimum", "t_min": "minimum", "temperature_2m_min": "minimum",
	"tmax": "maximum", "temp_max": "maximum", "max_temp": "maximum", "maxt": "maximum", "temperature_max": "maximum", "max": "maximum", "maximum": "maximum", "t_max": "maximum", "temperature_2m_max": "maximum",
	"rain": "rain", "precip": "rain", "precipitation": "rain", "prcp": "rain", "rainfall": "rain", "precipitation_sum": "rain",
	"radiation": "radiation", "solar": "radiation", "srad": "radiation", "radn": "radiation", "shortwave_radiation_sum": "radiation",
}

// splitUnit takes a column name apart: "tmin_c", "TMIN (°C)", "rain [mm]" or "rain_mm".
func splitUnit(name string) (quantity, unit string) {
	name = strings.ToLower(strings.TrimSpace(name))
	name = strings.NewReplacer("(", "_", ")", "", "[", "_", "]", "", " ", "_").Replace(name)
	name = strings.TrimRight(name, "_")
	longest := ""
	for known := range plainNames {
		if len(known) > len(longest) && (name == known || strings.HasPrefix(name, known+"_")) {
			longest = known
		}
	}
	if longest == "" {
		return "", ""
	}
	return plainNames[longest], strings.Trim(strings.TrimPrefix(name, longest), "_")
}

// plainUnit is the conversion for a unit, and what to call the column where the unit is not known.
func plainUnit(quantity, unit string) (convert func(float64) float64, wanted string) {
	scale := func(factor float64) func(float64) float64 { return func(v float64) float64 { return v * factor } }
	switch quantity {
	case "rain":
		switch unit {
		case "mm", "millimetre", "millimeter", "millimetres", "millimeters":
			return scale(1), ""
		case "cm":
			return scale(10), ""
		case "in", "inch", "inches":
			return millimetresFromInches, ""
		}
		return nil, "rain_mm or rain_in"
	case "radiation":
		factor := radiationMJ(strings.ReplaceAll(unit, "_", "/"))
		if math.IsNaN(factor) {
			return nil, RadiationColumns()
		}
		return scale(factor), ""
	}
	short := map[string]string{"minimum": "tmin", "maximum": "tmax"}[quantity]
	factor, offset, ok := celsiusFrom(strings.ReplaceAll(unit, "_", ""))
	if !ok || unit == "" {
		return nil, short + "_c or " + short + "_f"
	}
	return func(v float64) float64 { return (v + offset) * factor }, ""
}
