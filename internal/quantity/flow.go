package quantity

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

// ExactFlow is a flow to the last digit, as ParseFlow reads it.
func (s System) ExactFlow(f LitrePerHour) string {
	if s == US {
		return trimmed(float64(f)/LitresPerGallon, 9) + " gal/h"
	}
	return trimmed(float64(f), 9) + " L/h"
}

// ExactSpray is a depth of water an hour to the last digit, as ParseSpray reads it.
func (s System) ExactSpray(r MillimetrePerHour) string {
	if s == US {
		return trimmed(float64(r)/(1000*MetresPerInch), 9) + " in/h"
	}
	return trimmed(float64(r), 9) + " mm/h"
}
