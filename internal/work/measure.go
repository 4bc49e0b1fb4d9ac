package work

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"kailyard/internal/quantity"
)

// measures prints what a gardener reads off a line, a rule or a balance: rounded to what the hand
// can do, in the site's units.
type measures struct{ system quantity.System }

// length is a run of ground: "9 m", "9.1 m", "30 ft", "29½ ft", "45 cm".
func (m measures) length(v quantity.Metre) string {
	if m.system == quantity.US {
		if feet := float64(v) / quantity.MetresPerFoot; feet >= 3 {
			whole, half := math.Modf(math.Round(feet*2) / 2)
			if half > 0 {
				return trim(whole, 0) + "½ ft"
			}
			return trim(whole, 0) + " ft"
		}
		return m.distance(v)
	}
	if v >= 1 {
		return trim(float64(v), 1) + " m"
	}
	return m.distance(v)
}

func (m measures) area(v quantity.SquareMetre) string { return m.system.Area(v) }
func (m measures) mass(v quantity.Kilogram) string    { return m.system.Mass(v) }
func (m measures) seedMass(v quantity.Gram) string    { return m.system.SeedMass(v) }
func (m measures) temperature(v quantity.Celsius) string {
	return m.system.Temperature(quantity.Celsius(m.wholeDegree(v)))
}

// distance is from plant to plant and row to row; depth is how far down.
func (m measures) distance(v quantity.Metre) string { return m.system.Distance(m.byRule(v)) }
func (m measures) depth(v quantity.Metre) string    { return m.system.Depth(m.byRule(v)) }

// byRule rounds, from 2 to 10 cm, to the half centimetre that a rule on the ground is read to.
func (m measures) byRule(v quantity.Metre) quantity.Metre {
	if m.system == quantity.US || v < 0.02 || v >= 0.1 {
		return v
	}
	return quantity.Metre(math.Round(float64(v)*200) / 200)
}

// weighed says whether so little seed is worth weighing: under a gram, or a twentieth of an ounce, no
// kitchen balance tells.
func (m measures) weighed(v quantity.Gram) bool {
	if m.system == quantity.US {
		return v >= quantity.GramsPerOunce/20
	}
	return v >= 1
}

// wholeDegree rounds to the whole degree of the person's scale: soil and nights are not read closer.
func (m measures) wholeDegree(v quantity.Celsius) float64 {
	if m.system == quantity.US {
		return float64(v)
	}
	return math.Round(float64(v))
}

// compost is a volume of bulky stuff: litres, or where those are used cubic feet, or quarts below a
// quarter of one.
func (m measures) compost(v quantity.Litre) string {
	if m.system == quantity.US {
		if feet := float64(v) / quantity.LitresPerGallon / gallonsPerCubicFoot; feet >= 0.25 {
			return figures(feet) + " cu ft"
		}
		return m.system.Volume(v)
	}
	if v >= 1000 {
		return thousands(roundTo2(int(v))) + " L"
	}
	return figures(float64(v)) + " L"
}

// gallonsPerCubicFoot: a cubic foot is 1728 cubic inches, a US gallon 231, by definition.
const gallonsPerCubicFoot = 1728.0 / 231

// figures is a number at two figures, without an exponent.
func figures(v float64) string {
	if v <= 0 {
		return "0"
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return trim(math.Round(v/step)*step, max(0, -int(math.Round(math.Log10(step)))))
}

// trim is a number at so many places, without trailing zeros.
func trim(v float64, places int) string {
	text := strconv.FormatFloat(v, 'f', places, 64)
	if places > 0 {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

var smallNumbers = []string{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

// number is a small number as a word, a large one in figures: "two", "48".
func number(n int) string {
	if n >= 0 && n < len(smallNumbers) {
		return smallNumbers[n]
	}
	return strconv.Itoa(n)
}

// count is a number and what is counted: "one drill", "two drills", "48 plants".
func count(n int, one, many string) string {
	if n == 1 {
		return number(n) + " " + one
	}
	return number(n) + " " + many
}

// list joins words: "a, b and c".
func list(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return fmt.Sprintf("%s and %s", strings.Join(words[:len(words)-1], ", "), words[len(words)-1])
}

// sentence begins with a capital letter.
func sentence(text string) string {
	if text == "" {
		return text
	}
	return strings.ToUpper(text[:1]) + text[1:]
}
