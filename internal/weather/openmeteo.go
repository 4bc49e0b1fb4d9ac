package weather

import (
	"bytes"
	"slices"
	"strings"
)

// The variables taken from Open-Meteo, in the order minimum, maximum, rain, radiation.
var openMeteoVariables = [4]string{"temperature_2m_min", "temperature_2m_max", "precipitation_sum", "shortwave_radiation_sum"}

const openMeteoRemedy = "ask for daily=temperature_2m_max,temperature_2m_min,precipitation_sum"

// openMeteoUnit is the conversion from a unit as Open-Meteo writes it to ours.
func openMeteoUnit(variable, unit string) (func(float64) float64, bool) {
	same := func(v float64) float64 { return v }
	unit = strings.ToLower(strings.TrimSpace(unit))
	switch variable {
	case "precipitation_sum":
		switch unit {
		case "", "mm":
			return same, true
		case "inch", "in":
			return millimetresFromInches, true
		}
		return nil, false
	case "shortwave_radiation_sum":
		factor := radiationMJ(unit)
		if unit == "" {
			factor = 1
		}
		return func(v float64) float64 { return v * factor }, true // NaN where the unit is unknown: left out
	}
	factor, offset, ok := celsiusFrom(unit)
	return func(v float64) float64 { return (v + offset) * factor }, ok
}

func isOpenMeteoCSV(columns []string) bool {
	return len(columns) > 2 && columns[0] == "latitude" && slices.Contains(columns, "utc_offset_seconds")
}

// readOpenMeteoCSV reads the CSV form: two lines about the place, a blank one, then the days under
// names that carry their unit in parentheses.
func readOpenMeteoCSV(name string, text []byte) (*sheet, error) {
	s := &sheet{name: name, source: "Open-Meteo archive"}
	t, err := newTable(s, text, 0)
	if err != nil {
		return nil, err
	}
	fields, err := t.next()
	if err != nil {
		return nil, err
	}
	if fields == nil {
		return nil, s.fail(1, "the file ends after its first line", "download it again")
	}
	latitude, err1 := parseValue(field(fields, t.column("latitude")))
	longitude, err2 := parseValue(field(fields, t.column("longitude")))
	elevation, err3 := parseValue(field(fields, t.column("elevation")))
	s.place(latitude, longitude, elevation, err1 == nil && err2 == nil, err3 == nil)

	body, above := text, 0
	for range t.line {
		_, body, _ = bytes.Cut(body, []byte("\n"))
		above++
	}
	if len(bytes.TrimSpace(body)) == 0 {
		return nil, s.fail(t.line, "the file ends after the lines about the place", "download it again")
	}
	return s, s.readColumns(body, above)
}
