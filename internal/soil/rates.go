package soil

import (
	"regexp"
	"strings"

	"kailyard/internal/quantity"
)

// rates is a range of rates in words, the unit once: "11–17 g/m²", "2.3–3.5 lb per 100 sq ft".
func rates(units quantity.System, low, high quantity.KilogramPerSquareMetre) string {
	return span(units.Rate(low), units.Rate(high))
}

// Rates is a range of rates in words: "3.5–5 lb per 100 sq ft".
func Rates(units quantity.System, low, high quantity.KilogramPerSquareMetre) string {
	return rates(units, low, high)
}

// lengths is a range of lengths in words: "10–15 cm", "4–6 in".
func lengths(units quantity.System, low, high quantity.Metre) string {
	return span(units.Length(low), units.Length(high))
}

// span joins two figures of one unit.
func span(low, high string) string {
	if low == high {
		return low
	}
	a, unit, _ := strings.Cut(low, " ")
	if _, other, _ := strings.Cut(high, " "); other == unit {
		return a + "–" + high
	}
	return low + " to " + high
}

// both is a length written both ways: "45 cm (18 in)".
var both = regexp.MustCompile(`([0-9][0-9.–]* (?:mm|cm|m)) \(([0-9][0-9.–]* (?:in|ft))\)`)

// inUnits keeps, of lengths that a text gives both ways, the person's own.
func inUnits(text string, units quantity.System) string {
	if units == quantity.US {
		return both.ReplaceAllString(text, "$2")
	}
	return both.ReplaceAllString(text, "$1")
}

// InUnits is a sentence that tells its measures both ways, "10 cm (4 in)", with one system's alone.
func InUnits(text string, units quantity.System) string { return inUnits(text, units) }

// allInUnits is inUnits for a list.
func allInUnits(texts []string, units quantity.System) []string {
	out := make([]string, len(texts))
	for i, text := range texts {
		out[i] = inUnits(text, units)
	}
	return out
}
