package weather

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strings"
)

// answer is the union of what the services send as JSON; which fields are there tells which it is.
type answer struct {
	// Open-Meteo
	Error      bool              `json:"error"`
	Reason     string            `json:"reason"`
	Latitude   *float64          `json:"latitude"`
	Longitude  *float64          `json:"longitude"`
	Elevation  *float64          `json:"elevation"`
	DailyUnits map[string]string `json:"daily_units"`
	Daily      json.RawMessage   `json:"daily"`
	Hourly     json.RawMessage   `json:"hourly"`
	// NASA POWER
	Properties *powerProperties `json:"properties"`
	Features   []struct {
		Geometry   powerGeometry    `json:"geometry"`
		Properties *powerProperties `json:"properties"`
	} `json:"features"` // version 1 put the point into a collection
	Geometry   powerGeometry   `json:"geometry"`
	Header     json.RawMessage `json:"header"`
	Parameters map[string]struct {
		Units string `json:"units"`
	} `json:"parameters"`
	ParameterInformation map[string]struct {
		Units string `json:"units"`
	} `json:"parameterInformation"`
	Messages json.RawMessage `json:"messages"`
	// NCEI's refusals
	ErrorMessage string `json:"errorMessage"`
}

type powerGeometry struct {
	Coordinates []float64 `json:"coordinates"`
}

type powerProperties struct {
	Parameter map[string]map[string]*float64 `json:"parameter"`
}

func readJSON(name string, text []byte) (*sheet, error) {
	s := &sheet{name: name}
	if bytes.HasPrefix(bytes.TrimSpace(text), []byte("[")) {
		return nil, s.fail(1, "this is a list, as services send it for several places or in another form", "ask for one place; for NCEI ask for format=csv")
	}
	var a answer
	if err := json.Unmarshal(text, &a); err != nil {
		return nil, s.jsonError(text, err)
	}
	if len(a.Features) > 0 && a.Properties == nil {
		a.Properties, a.Geometry = a.Features[0].Properties, a.Features[0].Geometry
	}
	switch {
	case a.Error || a.Reason != "":
		return nil, s.fail(0, "Open-Meteo refused the request: "+quoteShort(a.Reason), "correct the request and download again")
	case a.ErrorMessage != "":
		return nil, s.fail(0, "the service refused the request: "+quoteShort(a.ErrorMessage), "correct the request and download again")
	case a.Properties != nil && a.Properties.Parameter != nil:
		return s, s.fromPower(&a)
	case len(a.Daily) > 0:
		return s, s.fromOpenMeteo(&a)
	case len(a.Hourly) > 0:
		return nil, s.fail(0, "Open-Meteo's hourly values are there, but no daily ones", "ask for daily=temperature_2m_max,temperature_2m_min,precipitation_sum")
	case len(a.Messages) > 2:
		return nil, s.fail(0, "NASA POWER refused the request: "+quoteShort(string(a.Messages)), "correct the request and download again")
	}
	return nil, s.fail(0, "this is JSON, but neither NASA POWER's nor Open-Meteo's", knownFormats)
}

func (s *sheet) jsonError(text []byte, err error) error {
	var syntax *json.SyntaxError
	var kind *json.UnmarshalTypeError
	switch {
	case errors.Is(err, io.ErrUnexpectedEOF), errors.As(err, &syntax) && int(syntax.Offset) >= len(bytes.TrimSpace(text)):
		return s.fail(lineOf(text, len(text)), "the JSON text ends in the middle", "the file is cut off: download it again")
	case syntax != nil:
		return s.fail(lineOf(text, int(syntax.Offset)), "the JSON text is damaged ("+syntax.Error()+")", "download it again")
	case errors.As(err, &kind):
		return s.fail(lineOf(text, int(kind.Offset)), fmt.Sprintf("the field %q holds a %s where a number or a table is wanted", kind.Field, kind.Value), "download it again")
	}
	return s.fail(0, "the JSON text cannot be read ("+err.Error()+")", "download it again")
}

// fromPower reads NASA POWER's JSON: a map from day to value for each parameter.
func (s *sheet) fromPower(a *answer) error {
	s.source = "NASA POWER"
	find := func(names []string) (string, map[string]*float64) {
		for key, values := range a.Properties.Parameter {
			if slices.Contains(names, strings.ToLower(key)) {
				return key, values
			}
		}
		return "", nil
	}
	minName, low := find(powerMin)
	maxName, high := find(powerMax)
	rainName, rain := find(powerRain)
	sunName, radiation := find(powerRadiation)
	if low == nil || high == nil {
		given := slices.Sorted(maps.Keys(a.Properties.Parameter))
		return s.fail(0, "T2M_MIN and T2M_MAX are not both there (only "+strings.Join(given[:min(len(given), 8)], ", ")+")", powerRemedy)
	}
	unit := func(name string) string {
		if u, ok := a.Parameters[name]; ok {
			return strings.ToLower(u.Units)
		}
		return strings.ToLower(a.ParameterInformation[name].Units)
	}
	p := powerTable{fill: -999, radiation: -1}
	if radiation != nil {
		p.radiation = 0
	}
	if err := p.units(s, 0, unit(minName), unit(maxName), unit(rainName), unit(sunName)); err != nil {
		return err
	}
	fill, universal := powerJSONHeader(a.Header)
	if !math.IsNaN(fill) {
		p.fill = fill
	}
	if c := a.Geometry.Coordinates; len(c) > 2 {
		s.place(c[1], c[0], c[2], true, true)
	} else if len(c) == 2 {
		s.place(c[1], c[0], 0, true, false)
	}
	var air [airParts]map[string]*float64
	for part, name := range powerAir {
		if name != "" {
			_, air[part] = find([]string{name})
		}
	}
	days := map[string]bool{}
	for _, m := range []map[string]*float64{low, high, rain} {
		for day := range m {
			days[day] = true
		}
	}
	for _, day := range slices.Sorted(maps.Keys(days)) {
		date, ok := parseDate(day)
		if !ok {
			return s.fail(0, quoteShort(day)+" is not a day", powerRemedy+" with temporal/daily")
		}
		w := missingRow(date, 0)
		w.min, w.max = p.pick(low[day]), p.pick(high[day])
		w.rain, w.radiation = p.pick(rain[day]), p.pick(radiation[day])
		for part := range air {
			w.air[part] = p.pick(air[part][day])
		}
		p.convert(&w)
		s.rows = append(s.rows, w)
	}
	s.powerNotes(universal)
	return nil
}

func (p *powerTable) pick(v *float64) float64 {
	if v == nil || *v == p.fill {
		return math.NaN()
	}
	return *v
}

// powerJSONHeader finds the fill value (named differently by version) and the time standard.
func powerJSONHeader(raw json.RawMessage) (fill float64, universal bool) {
	fill = math.NaN()
	var h map[string]any
	if json.Unmarshal(raw, &h) != nil {
		return fill, false
	}
	for _, key := range []string{"fill_value", "fillValue", "Fill_value"} {
		switch v := h[key].(type) {
		case float64:
			fill = v
		case string:
			if n, err := parseFill(v); err == nil {
				fill = n
			}
		}
	}
	standard, _ := h["time_standard"].(string)
	return fill, strings.EqualFold(standard, "UTC")
}

func parseFill(text string) (v float64, err error) {
	_, err = fmt.Sscan(strings.TrimSpace(text), &v)
	return v, err
}

// fromOpenMeteo reads Open-Meteo's archive: one array for each variable.
func (s *sheet) fromOpenMeteo(a *answer) error {
	s.source = "Open-Meteo archive"
	var daily map[string]json.RawMessage
	if err := json.Unmarshal(a.Daily, &daily); err != nil {
		return s.fail(0, "\"daily\" is not a table of variables", "download it again")
	}
	var days []string
	if err := json.Unmarshal(daily["time"], &days); err != nil {
		return s.fail(0, "\"daily.time\" is not a list of days written year-month-day", "ask with timeformat=iso8601")
	}
	columns := [4][]float64{}
	for i, variable := range openMeteoVariables {
		values, err := s.openMeteoColumn(daily, variable, a.DailyUnits[variable], len(days))
		if err != nil {
			return err
		}
		columns[i] = values
	}
	if columns[0] == nil || columns[1] == nil {
		return s.fail(0, "temperature_2m_min and temperature_2m_max are not both there", openMeteoRemedy)
	}
	for i, day := range days {
		date, ok := parseDate(day)
		if !ok {
			return s.fail(0, fmt.Sprintf("entry %d of \"daily.time\", %s, is not a day", i+1, quoteShort(day)), "download it again")
		}
		w := missingRow(date, 0)
		for c, place := range [4]*float64{&w.min, &w.max, &w.rain, &w.radiation} {
			if columns[c] != nil {
				*place = columns[c][i]
			}
		}
		s.rows = append(s.rows, w)
	}
	if a.Latitude != nil && a.Longitude != nil {
		elevation := math.NaN()
		if a.Elevation != nil {
			elevation = *a.Elevation
		}
		s.place(*a.Latitude, *a.Longitude, elevation, true, a.Elevation != nil)
	}
	return nil
}

func (s *sheet) openMeteoColumn(daily map[string]json.RawMessage, variable, unit string, days int) ([]float64, error) {
	raw, found := daily[variable]
	if !found {
		return nil, nil
	}
	var values []*float64
	if err := json.Unmarshal(raw, &values); err != nil {
		return nil, s.fail(0, "\"daily."+variable+"\" is not a list of numbers", "download it again")
	}
	if len(values) != days {
		return nil, s.fail(0, fmt.Sprintf("\"daily.%s\" has %d values for %d days", variable, len(values), days), "the file is damaged: download it again")
	}
	convert, ok := openMeteoUnit(variable, unit)
	if !ok {
		return nil, s.fail(0, fmt.Sprintf("the unit %s of %s is not known", quoteShort(unit), variable), "ask for °C and mm")
	}
	out := make([]float64, days)
	for i, v := range values {
		out[i] = math.NaN()
		if v != nil {
			out[i] = convert(*v)
		}
	}
	return out, nil
}
