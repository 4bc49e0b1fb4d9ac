package quantity

import (
	"math"
	"strconv"
	"strings"
)

// The printers are methods of System, so that a page or a command asks the person's own system
// for every figure it shows. They round to what a gardener can measure; ExactLength and its kin
// in exact.go keep every digit for files.

// Length is a length on the ground, to the centimetre or the inch: "46 cm", "9 m", "18 in",
// "4 ft 6 in", "30 ft".
func (s System) Length(m Metre) string {
	if s == US {
		return feetAndInches(float64(m))
	}
	if cm := math.Round(float64(m) * 100); math.Abs(cm) < 100 {
		return digits(cm, 0) + " cm"
	}
	return digits(float64(m), 2) + " m"
}

// Height is a height of land, to the metre or the foot: "612 m", "2008 ft".
func (s System) Height(m Metre) string {
	if s == US {
		return digits(float64(m)/MetresPerFoot, 0) + " ft"
	}
	return digits(float64(m), 0) + " m"
}

// Distance is the room between plants and rows: "2.5 cm", "46 cm", "¾ in", "18 in", "8 ft".
func (s System) Distance(m Metre) string {
	if s == US {
		inches := float64(m) / MetresPerInch
		switch {
		case math.Abs(inches) < 3:
			return fraction(inches, 4) + " in"
		case math.Abs(inches) < 12:
			return fraction(inches, 2) + " in"
		case math.Abs(inches) < 60:
			return digits(inches, 0) + " in"
		}
		return feetAndInches(float64(m))
	}
	cm := float64(m) * 100
	switch {
	case math.Abs(cm) < 10:
		return digits(cm, 1) + " cm"
	case math.Abs(cm) < 200:
		return digits(cm, 0) + " cm"
	}
	return digits(float64(m), 1) + " m"
}

// Depth is a depth of sowing, setting or digging: "6 mm", "2.5 cm", "¼ in", "1½ in", "4 in".
func (s System) Depth(m Metre) string {
	if s == US {
		inches := float64(m) / MetresPerInch
		switch {
		case math.Abs(inches) < 1:
			return fraction(inches, 8) + " in"
		case math.Abs(inches) < 3:
			return fraction(inches, 4) + " in"
		case math.Abs(inches) < 6:
			return fraction(inches, 2) + " in"
		}
		return digits(inches, 0) + " in"
	}
	cm := float64(m) * 100
	switch {
	case math.Abs(cm) < 2:
		return digits(cm*10, 0) + " mm"
	case math.Abs(cm) < 10:
		return fixedHalf(cm) + " cm"
	}
	return digits(cm, 0) + " cm"
}

// Temperature is a temperature: "15 °C", "−2.2 °C", "59 °F".
func (s System) Temperature(c Celsius) string {
	if s == US {
		return digits(float64(c)*1.8+32, 0) + " °F"
	}
	return digits(float64(c), 1) + " °C"
}

// TemperatureChange is a difference between temperatures: "5 °C" and "9 °F" are the same change.
func (s System) TemperatureChange(c Celsius) string {
	if s == US {
		return digits(float64(c)*1.8, 0) + " °F"
	}
	return digits(float64(c), 1) + " °C"
}

// ThermalTime is warmth summed over days: "450 °C days", "810 °F days".
func (s System) ThermalTime(d CelsiusDay) string {
	if s == US {
		return digits(float64(d)*1.8, 0) + " °F days"
	}
	return digits(float64(d), 0) + " °C days"
}

// Area is an area of ground: "11 m²", "0.9 m²", "120 sq ft".
func (s System) Area(a SquareMetre) string {
	if s == US {
		return sensible(float64(a)/SquareMetresPerFoot, 1) + " sq ft"
	}
	return sensible(float64(a), 1) + " m²"
}

// Mass is a mass of harvest, compost or lime: "450 g", "4.5 kg", "8 oz", "12 lb".
func (s System) Mass(k Kilogram) string {
	if s == US {
		pounds := float64(k) / KilogramsPerPound
		if ounces := pounds * 16; math.Abs(ounces) < 15.5 {
			return sensible(ounces, 1) + " oz"
		}
		return sensible(pounds, 1) + " lb"
	}
	if grams := float64(k) * 1000; math.Abs(grams) < 999.5 {
		return sensible(grams, 0) + " g"
	}
	return sensible(float64(k), 1) + " kg"
}

// SeedMass is a small mass, as of seed: "0.8 g", "12 g", "0.03 oz".
func (s System) SeedMass(g Gram) string {
	if s == US {
		return significant(float64(g)/GramsPerOunce, 2) + " oz"
	}
	return significant(float64(g), 2) + " g"
}

// Volume is a volume of water or compost: "0.5 L", "15 L", "2 qt", "4 gal".
func (s System) Volume(l Litre) string {
	if s == US {
		gallons := float64(l) / LitresPerGallon
		if math.Abs(gallons) < 0.975 {
			return sensible(gallons*4, 1) + " qt"
		}
		return sensible(gallons, 1) + " gal"
	}
	return sensible(float64(l), 1) + " L"
}

// Rain is a depth of rain or of watering: "12 mm", "0.5 mm", "0.47 in".
func (s System) Rain(mm Millimetre) string {
	if s == US {
		return digits(float64(mm)/(1000*MetresPerInch), 2) + " in"
	}
	return sensible(float64(mm), 1) + " mm"
}

// Rate is a mass on the ground: "3.5 kg/m²", "120 g/m²", "72 lb per 100 sq ft".
func (s System) Rate(r KilogramPerSquareMetre) string {
	if s == US {
		return significant(float64(r)/kilogramsPerSquareMetrePerPoundPer100SqFt, 2) + " lb per 100 sq ft"
	}
	if grams := float64(r) * 1000; math.Abs(grams) < 999.5 {
		return significant(grams, 2) + " g/m²"
	}
	return significant(float64(r), 2) + " kg/m²"
}

// Hours is a span of hours, the same in both systems: "6 h", "1.5 h".
func (s System) Hours(h Hour) string { return digits(float64(h), 1) + " h" }

// Plural is "1 head", "3 heads": a count with a regular English noun, for the units that crops are counted in.
func Plural(n float64, unit string) string {
	text := digits(n, 1)
	return text + " " + Noun(text == "1", unit)
}

// Noun is a regular English noun for one or for many, as a unit that crops are counted in: "head", "heads"; what is a
// plural already, or short for a mass, stays.
func Noun(one bool, unit string) string {
	if one || unit == "kg" || unit == "g" || unit == "lb" || unit == "oz" {
		return unit
	}
	for _, ending := range []string{"x", "sh", "ch"} {
		if strings.HasSuffix(unit, ending) {
			return unit + "es"
		}
	}
	if strings.HasSuffix(unit, "s") {
		return unit
	}
	return unit + "s"
}

// digits writes a number with at most places decimals, trailing zeros dropped and a true minus sign.
func digits(x float64, places int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "unknown"
	}
	text := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return strings.Replace(text, "-", "−", 1)
}

// sensible keeps decimals only below ten: 4.5, 45, 450.
func sensible(x float64, places int) string {
	if math.Abs(x) >= 9.95 {
		return digits(x, 0)
	}
	return digits(x, places)
}

// significant keeps n figures of a number below 10ⁿ, and whole numbers above.
func significant(x float64, n int) string {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return digits(x, 0)
	}
	places := n - 1 - int(math.Floor(math.Log10(math.Abs(x))))
	return digits(x, min(max(places, 0), 9))
}

// fixedHalf rounds to a half: 2.5, 3.
func fixedHalf(x float64) string { return digits(math.Round(x*2)/2, 1) }

// feetAndInches writes a length in inches below a yard, else in feet and whole inches.
func feetAndInches(metres float64) string {
	inches := metres / MetresPerInch
	if math.IsNaN(inches) || math.IsInf(inches, 0) {
		return "unknown"
	}
	if math.Abs(inches) < 12 {
		return fraction(inches, 2) + " in"
	}
	whole := math.Round(math.Abs(inches))
	if whole < 36 {
		return digits(math.Copysign(whole, inches), 0) + " in"
	}
	sign := ""
	if inches < 0 {
		sign = "−"
	}
	feet, rest := math.Floor(whole/12), math.Mod(whole, 12)
	if rest == 0 {
		return sign + digits(feet, 0) + " ft"
	}
	return sign + digits(feet, 0) + " ft " + digits(rest, 0) + " in"
}

// vulgar are the fraction signs a ruler has, by eighths.
var vulgar = [8]string{"", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"}

// fraction writes a number to the nearest 1/parts (2, 4 or 8), with the fraction's own sign: "1½".
func fraction(x float64, parts int) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return "unknown"
	}
	steps := math.Round(math.Abs(x) * float64(parts))
	whole, eighths := math.Floor(steps/float64(parts)), int(math.Mod(steps, float64(parts)))*8/parts
	text := vulgar[eighths]
	if whole > 0 || eighths == 0 {
		text = digits(whole, 0) + text
	}
	if x < 0 && text != "0" {
		return "−" + text
	}
	return text
}
