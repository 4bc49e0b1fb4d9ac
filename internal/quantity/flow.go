package quantity

import "strconv"

type (
	// LitrePerHour is a flow of water: a tap, all drip lines of a bed.
	LitrePerHour float64
	// MillimetrePerHour is the depth a sprinkler or a shower lays down in an hour.
	MillimetrePerHour float64
)

var (
	flow = measure{
		noun: "flow of water",
		units: []unit{
			{names: "l/h l/hr l/hour lperhour lph litres/h litresperhour liters/h litersperhour", factor: 1},
			{names: "l/min l/minute lpermin lperminute lpm litres/min litresperminute liters/min litersperminute", factor: 60},
			{names: "gal/h gal/hr gal/hour gph galperhour gallons/h gallonsperhour", factor: LitresPerGallon},
			{names: "gal/min gal/minute gpm galpermin galperminute gallons/min gallonsperminute", factor: 60 * LitresPerGallon},
		},
		bare: [2]string{"l/min", "gal/min"}, examples: [2]string{"12 L/min or 24 L/h", "3 gal/min or 6 gal/h"},
	}
	spray = measure{
		noun: "depth of water an hour",
		units: []unit{
			{names: "mm/h mm/hr mm/hour mmperhour", factor: 1},
			{names: "cm/h cm/hr cm/hour cmperhour", factor: 10},
			{names: "in/h in/hr in/hour inperhour inches/h inches/hour inchesperhour", factor: 1000 * MetresPerInch},
		},
		bare: [2]string{"mm/h", "in/h"}, examples: [2]string{"12 mm/h", "0.5 in/h"},
	}
)

// ParseFlow reads a flow. A bare number is litres, or US gallons in the US system, a minute.
func ParseFlow(text string, s System) (LitrePerHour, error) {
	v, err := flow.parse(text, s)
	return LitrePerHour(v), err
}

// ParseSpray reads the depth of water laid down in an hour. A bare number is millimetres, or inches in the US system.
func ParseSpray(text string, s System) (MillimetrePerHour, error) {
	v, err := spray.parse(text, s)
	return MillimetrePerHour(v), err
}

// Flow is a flow of water: "24 L/h", "12 L/min", "6 gal/h", "3 gal/min".
func (s System) Flow(f LitrePerHour) string {
	unit, amount := " L", float64(f)
	if s == US {
		unit, amount = " gal", amount/LitresPerGallon
	}
	if amount >= 60 {
		return significant(amount/60, 2) + unit + "/min"
	}
	return significant(amount, 2) + unit + "/h"
}

// Spray is a depth of water an hour: "12 mm/h", "0.47 in/h".
func (s System) Spray(r MillimetrePerHour) string { return s.Rain(Millimetre(r)) + "/h" }

// ExactFlow is the like of ExactLength for a flow: "24 L/h", "12 L/min", "3 gal/min".
func (s System) ExactFlow(f LitrePerHour) string {
	return shortest(float64(f), " L/h", []candidate{{Metric, " L/min", 60}, {US, " gal/h", LitresPerGallon}, {US, " gal/min", 60 * LitresPerGallon}}, s,
		func(text string) (float64, error) { v, err := ParseFlow(text, s); return float64(v), err })
}

// ExactSpray is the like of ExactLength for a depth of water an hour: "12 mm/h", "0.5 in/h".
func (s System) ExactSpray(r MillimetrePerHour) string {
	return shortest(float64(r), " mm/h", []candidate{{US, " in/h", 1000 * MetresPerInch}}, s,
		func(text string) (float64, error) { v, err := ParseSpray(text, s); return float64(v), err })
}

// ExactArea is the like of ExactLength for an area: "24 m²", "260 sq ft".
func (s System) ExactArea(a SquareMetre) string {
	return shortest(float64(a), " m²", []candidate{{US, " sq ft", SquareMetresPerFoot}}, s,
		func(text string) (float64, error) { v, err := ParseArea(text, s); return float64(v), err })
}

type candidate struct {
	system System
	unit   string
	size   float64
}

// shortest is the shortest text, among the program's own unit and those of a system, that reads back to the very same number.
func shortest(x float64, own string, candidates []candidate, s System, parse func(string) (float64, error)) string {
	best := strconv.FormatFloat(x, 'f', -1, 64) + own
	for _, c := range candidates {
		if c.system != s {
			continue
		}
		text := trimmed(x/c.size, 6) + c.unit
		if back, err := parse(text); err == nil && back == x && len(text) <= len(best) {
			best = text
		}
	}
	return best
}
