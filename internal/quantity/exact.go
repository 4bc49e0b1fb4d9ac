package quantity

import (
	"strconv"
	"strings"
)

// ExactLength is the shortest text that ParseLength reads back to the very same number: in the
// person's own units where the length is a whole count of them ("30 ft", "4 ft 6 in", "45 cm"),
// else in metres with every digit. Files are written with it, so that nothing drifts.
func (s System) ExactLength(m Metre) string {
	metres := strconv.FormatFloat(float64(m), 'f', -1, 64) + " m"
	candidates := []string{trimmed(float64(m)*100, 6) + " cm"}
	if s == US {
		inches := float64(m) / MetresPerInch
		feet := float64(int64(inches/12 + 1e-9))
		candidates = []string{
			trimmed(inches/12, 6) + " ft",
			trimmed(inches, 6) + " in",
			trimmed(feet, 0) + " ft " + trimmed(inches-12*feet, 3) + " in",
		}
	}
	best := metres
	for i, text := range candidates {
		back, err := ParseLength(text, s)
		if err == nil && back == m && (len(text) < len(best) || s == US && i == 0 && !strings.Contains(text, ".") && len(text) <= len(best)+1) {
			best = text
		}
	}
	return best
}

// ExactMass is the like of ExactLength for a mass: "4 lb", "4.5 kg".
func (s System) ExactMass(k Kilogram) string {
	kilograms := strconv.FormatFloat(float64(k), 'f', -1, 64) + " kg"
	if s == US {
		text := trimmed(float64(k)/KilogramsPerPound, 6) + " lb"
		if back, err := ParseMass(text, s); err == nil && back == k && len(text) < len(kilograms) {
			return text
		}
	}
	return kilograms
}

// ExactVolume is the like of ExactLength for a volume: "40 L", "2 gal", "3 cu ft".
func (s System) ExactVolume(l Litre) string {
	litres := strconv.FormatFloat(float64(l), 'f', -1, 64) + " L"
	if s != US {
		return litres
	}
	best := litres
	for _, u := range []struct {
		name string
		size float64
	}{{" gal", LitresPerGallon}, {" cu ft", litresPerCubicFoot}, {" cu yd", 27 * litresPerCubicFoot}} {
		text := trimmed(float64(l)/u.size, 6) + u.name
		if back, err := ParseVolume(text, s); err == nil && back == l && len(text) < len(best) {
			best = text
		}
	}
	return best
}

const litresPerCubicFoot = 1728. / 231 * LitresPerGallon

// trimmed writes a number with at most places decimals and a plain minus.
func trimmed(x float64, places int) string {
	text := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}
