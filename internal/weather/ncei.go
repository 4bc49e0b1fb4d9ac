package weather

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/quantity"
)

func isNCEI(columns []string) bool {
	return slices.Contains(columns, "station") && slices.Contains(columns, "date") &&
		(slices.Contains(columns, "tmax") || slices.Contains(columns, "tmin") || slices.Contains(columns, "prcp"))
}

// readNCEI reads NCEI daily summaries. The same header serves three scales: tenths of °C and mm (the
// files by station), °C and mm (the service with units=metric), °F and inches (units=standard); which
// it is shows in the figures themselves and is told in a note. Attribute columns, where present, hold
// measurement, quality and source flags with commas between; a value with a quality flag is left out.
func readNCEI(name string, text []byte) (*sheet, error) {
	s := &sheet{name: name, source: "NCEI daily summaries"}
	t, err := newTable(s, text, 0)
	if err != nil {
		return nil, err
	}
	date, station := t.column("date"), t.column("station")
	elements := [3]int{t.column("tmin"), t.column("tmax"), t.column("prcp")}
	if elements[0] < 0 || elements[1] < 0 {
		return nil, s.fail(1, "the columns TMIN and TMAX are not both there", "ask the service for dataTypes=TMAX,TMIN,PRCP")
	}
	flags := [3]int{t.column("tmin_attributes"), t.column("tmax_attributes"), t.column("prcp_attributes")}
	var scale scaleFinder
	for {
		fields, err := t.next()
		if err != nil {
			return nil, err
		}
		if fields == nil {
			break
		}
		if err := s.nceiStation(t, fields, field(fields, station)); err != nil {
			return nil, err
		}
		d, ok := parseDate(field(fields, date))
		if !ok {
			return nil, s.fail(t.line, quoteShort(field(fields, date))+" is not a date of a daily record", "ask for the dataset daily-summaries; dates are written year-month-day")
		}
		w := missingRow(d, t.line)
		for e, place := range [3]*float64{&w.min, &w.max, &w.rain} {
			v, err := t.value(fields, elements[e])
			if err != nil && elements[e] >= 0 {
				return nil, err
			}
			if !math.IsNaN(v) && doubtful(field(fields, flags[e])) {
				s.flagged++
				continue
			}
			*place = v
			scale.see(e == 2, v, field(fields, elements[e]))
		}
		s.rows = append(s.rows, w)
	}
	return s, scale.apply(s)
}

// doubtful reads the quality flag, the second of the comma-separated attributes.
func doubtful(attributes string) bool {
	_, after, found := strings.Cut(attributes, ",")
	if !found {
		return false
	}
	quality, _, _ := strings.Cut(after, ",")
	return strings.TrimSpace(quality) != ""
}

func (s *sheet) nceiStation(t *table, fields []string, id string) error {
	id = strings.TrimSpace(id)
	if s.station.ID == id {
		return nil
	}
	if s.station.ID != "" {
		return s.fail(t.line, "a second station begins here: "+id+" after "+s.station.ID, "ask for one station, or keep the lines of one")
	}
	s.station.ID = id
	s.station.Name = strings.TrimSpace(field(fields, t.column("name")))
	latitude, err1 := parseValue(field(fields, t.column("latitude")))
	longitude, err2 := parseValue(field(fields, t.column("longitude")))
	elevation, err3 := parseValue(field(fields, t.column("elevation")))
	s.place(latitude, longitude, elevation, err1 == nil && err2 == nil, err3 == nil)
	return nil
}

// place stores a position if it is one on Earth.
func (s *sheet) place(latitude, longitude, elevation float64, located, levelled bool) {
	if located && math.Abs(latitude) <= 90 && math.Abs(longitude) <= 360 {
		s.station.Latitude, s.station.Longitude, s.station.Located = latitude, longitude, true
	}
	if levelled && elevation > -500 && elevation < 9000 {
		s.station.Elevation, s.station.Levelled = quantity.Metre(elevation), true
	}
}

// scaleFinder decides from the figures which of the three scales a file uses.
type scaleFinder struct {
	temperatures, rains         int
	hottest, coldest            float64
	fractions, fractionsOfRains int
}

func (f *scaleFinder) see(rain bool, v float64, text string) {
	if math.IsNaN(v) {
		return
	}
	fraction := strings.Contains(text, ".")
	if rain {
		f.rains++
		if fraction {
			f.fractionsOfRains++
		}
		return
	}
	f.temperatures++
	f.hottest, f.coldest = max(f.hottest, v), min(f.coldest, v)
	if fraction {
		f.fractions++
	}
}

// apply converts the rows. Decimal temperatures are °C unless they pass 57 (no place has been hotter:
// then °F). Whole ones are tenths of °C where they pass 140 or −80 or where all rain is whole (inches
// are given as 0.00), otherwise °F where rain has decimals.
func (f *scaleFinder) apply(s *sheet) error {
	if len(s.rows) == 0 || f.temperatures == 0 {
		return nil // record says what is missing
	}
	first, last := s.rows[0].date, s.rows[len(s.rows)-1].date
	switch {
	case f.fractions > 0 && f.hottest <= 57:
		s.note("units", first, last, "The figures are in degrees Celsius and millimetres.")
	case f.fractions > 0, f.fractionsOfRains > 0 && f.hottest <= 140 && f.coldest >= -80:
		s.note("units", first, last, "The figures are in degrees Fahrenheit and inches; they were converted.")
		s.convert(celsiusFromFahrenheit, millimetresFromInches)
	case f.hottest > 140 || f.coldest < -80 || f.rains > 0 && f.fractionsOfRains == 0:
		s.note("units", first, last, "The figures are in tenths of a degree Celsius and of a millimetre; they were converted.")
		s.convert(tenths, tenths)
	default:
		return s.fail(0, fmt.Sprintf("whether the temperatures (%.0f to %.0f) are °F or tenths of °C cannot be told from so few days", f.coldest, f.hottest),
			"ask the service again with units=metric")
	}
	return nil
}

func (s *sheet) convert(temperature, rain func(float64) float64) {
	for i := range s.rows {
		w := &s.rows[i]
		w.min, w.max, w.rain = temperature(w.min), temperature(w.max), rain(w.rain)
	}
}

func celsiusFromFahrenheit(f float64) float64 { return (f - 32) * 5 / 9 }

func millimetresFromInches(in float64) float64 { return in * 1000 * quantity.MetresPerInch }
