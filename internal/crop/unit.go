package crop

import (
	"math"
	"strings"

	"kailyard/internal/quantity"
)

// dimension is what a field measures: the units it may be written in, and how to say so.
type dimension struct {
	name    string // "a length"
	example string // what a right value looks like
	own     string // the program's unit, with a space before it
	units   map[string]func(float64) float64
}

func times(factor float64) func(float64) float64 {
	return func(value float64) float64 { return value * factor }
}

func per(factor float64) func(float64) float64 {
	return func(value float64) float64 { return value / factor }
}

func fahrenheit(value float64) float64 { return (value - 32) * 5 / 9 }

// The dimensions of a crop's file. Results are in the program's own units.
var (
	temperature = dimension{"a temperature", `"18 °C" or "65 °F"`, " °C", map[string]func(float64) float64{
		"°C": times(1), "C": times(1), "°F": fahrenheit, "F": fahrenheit,
	}}
	warming = dimension{"a difference of temperatures", `"2 °C" or "2–4 °F"`, " °C", map[string]func(float64) float64{
		"°C": times(1), "C": times(1), "°F": times(5.0 / 9), "F": times(5.0 / 9),
	}}
	length = dimension{"a length", `"8 cm", "0.3 m" or "12–18 in"`, " m", map[string]func(float64) float64{
		"mm": times(0.001), "cm": times(0.01), "m": times(1),
		"in": times(quantity.MetresPerInch), "ft": times(quantity.MetresPerFoot),
	}}
	days = dimension{"a time in days", `"60–85 d" or "4 wk"`, " d", map[string]func(float64) float64{
		"d": times(1), "day": times(1), "days": times(1),
		"wk": times(7), "week": times(7), "weeks": times(7),
		"mo": times(365.25 / 12), "month": times(365.25 / 12), "months": times(365.25 / 12),
		"yr": times(365.25), "year": times(365.25), "years": times(365.25),
	}}
	weeks = dimension{"a time in weeks", `"5–7 wk" or "42 d"`, " wk", map[string]func(float64) float64{
		"wk": times(1), "week": times(1), "weeks": times(1),
		"d": per(7), "day": per(7), "days": per(7),
	}}
	years = dimension{"a time in years", `"3 yr"`, " yr", map[string]func(float64) float64{
		"yr": times(1), "year": times(1), "years": times(1), "y": times(1),
	}}
	hours = dimension{"a time in hours", `"6 h"`, " h", map[string]func(float64) float64{
		"h": times(1), "hour": times(1), "hours": times(1), "hr": times(1),
	}}
	mass = dimension{"a mass", `"80 g" or "0.5 lb"`, " kg", map[string]func(float64) float64{
		"g": per(1000), "kg": times(1),
		"oz": times(quantity.GramsPerOunce / 1000), "lb": times(quantity.KilogramsPerPound),
	}}
	seedCount = dimension{"a count of seeds to a mass", `"25000 /oz" or "800 /g"`, " /g", map[string]func(float64) float64{
		"/g": times(1), "/kg": per(1000),
		"/oz": per(quantity.GramsPerOunce), "/lb": per(1000 * quantity.KilogramsPerPound),
	}}
	setCount = dimension{"a count of sets to a mass", `"12 /kg" or "8 /lb"`, " /kg", map[string]func(float64) float64{
		"/kg": times(1), "/g": times(1000),
		"/lb": per(quantity.KilogramsPerPound), "/oz": per(quantity.GramsPerOunce / 1000),
	}}
	share = dimension{"a share", `"55 %"`, "", map[string]func(float64) float64{
		"%": per(100), "": times(1),
	}}
	bare = dimension{"a number without a unit", `0.7 or "5.5–6.8"`, "", map[string]func(float64) float64{
		"": times(1),
	}}
)

// convert turns an amount into the program's unit of the dimension.
func (d *dimension) convert(a amount) (Range, bool) {
	change, ok := d.units[a.unit]
	if !ok {
		return Range{}, false
	}
	return Range{tidy(change(a.low)), tidy(change(a.high))}, true
}

// tidy takes off the dust that binary fractions leave, so that 12 in is 0.3048 m and not 0.30479999….
func tidy(value float64) float64 {
	if value == 0 {
		return 0
	}
	scale := math.Pow(10, 12-math.Ceil(math.Log10(math.Abs(value))))
	if rounded := math.Round(value*scale) / scale; !math.IsNaN(rounded) && !math.IsInf(rounded, 0) {
		return rounded
	}
	return value
}

// harvestRate is a yield's mass (in kg; or in the harvest's own counted unit, by unitMass kg each)
// over one of: an area of ground, a length of row, a plant.
type harvestRate struct {
	mass  float64 // kg per 1 of what the value counts
	area  float64 // m², when over an area
	row   float64 // m of row, when over a length of row
	plant bool
}

// parseRate reads the unit of a yield: "kg/m²", "lb/sq ft", "lb/100 ft", "heads/100 ft", "lb/plant".
func parseRate(unit, counted string, unitMass float64) (harvestRate, bool) {
	above, below, found := strings.Cut(unit, "/")
	if !found {
		return harvestRate{}, false
	}
	var rate harvestRate
	above, below = strings.TrimSpace(above), strings.TrimSpace(below)
	dozen := 1.0
	if rest, ok := strings.CutPrefix(above, "dozen "); ok {
		dozen, above = 12, rest
	}
	if toKilogram, ok := mass.units[above]; ok && dozen == 1 {
		rate.mass = toKilogram(1)
	} else if singular(above) == singular(counted) && counted != "" && unitMass > 0 {
		rate.mass = dozen * unitMass
	} else {
		return rate, false
	}
	switch below {
	case "m²", "m2":
		rate.area = 1
	case "sq ft", "ft²", "ft2":
		rate.area = quantity.SquareMetresPerFoot
	case "100 sq ft", "100 ft²", "100 ft2":
		rate.area = 100 * quantity.SquareMetresPerFoot
	case "plant":
		rate.plant = true
	case "100 ft":
		rate.row = 100 * quantity.MetresPerFoot
	case "10 ft":
		rate.row = 10 * quantity.MetresPerFoot
	case "ft":
		rate.row = quantity.MetresPerFoot
	case "m":
		rate.row = 1
	default:
		return rate, false
	}
	return rate, true
}

// perArea is the rate in kg/m² of ground wholly given to the crop at its spacing.
func (h harvestRate) perArea(value float64, spacing Spacing) float64 {
	switch {
	case h.area > 0:
		return value * h.mass / h.area
	case h.plant:
		return value * h.mass / float64(spacing.InRow*spacing.BetweenRows)
	default:
		return value * h.mass / h.row / float64(spacing.BetweenRows)
	}
}
