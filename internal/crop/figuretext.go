package crop

import (
	"math"
	"strconv"
	"strings"

	"kailyard/internal/quantity"
)

// unitForm is how an amount in one unit is written in the other system's: the unit there, and the change to it.
type unitForm struct {
	of     quantity.System // whose unit it is
	to     string
	change func(float64) float64
	places int // digits after the point; −1: two significant
}

// exchanged are the units that the other system has a form of its own for. Lengths go to inches and centimetres: those
// of crops are less than a man's height, but for the longest.
var exchanged = map[string]unitForm{
	"°F":  {quantity.US, "°C", fahrenheit, 1},
	"°C":  {quantity.Metric, "°F", func(c float64) float64 { return c*1.8 + 32 }, 0},
	"in":  {quantity.US, "cm", times(100 * quantity.MetresPerInch), -1},
	"ft":  {quantity.US, "m", times(quantity.MetresPerFoot), -1},
	"mm":  {quantity.Metric, "in", per(1000 * quantity.MetresPerInch), -1},
	"cm":  {quantity.Metric, "in", per(100 * quantity.MetresPerInch), -1},
	"m":   {quantity.Metric, "in", per(quantity.MetresPerInch), 0},
	"oz":  {quantity.US, "g", times(quantity.GramsPerOunce), -1},
	"lb":  {quantity.US, "kg", times(quantity.KilogramsPerPound), -1},
	"g":   {quantity.Metric, "oz", per(quantity.GramsPerOunce), -1},
	"kg":  {quantity.Metric, "lb", per(quantity.KilogramsPerPound), -1},
	"/oz": {quantity.US, "/g", per(quantity.GramsPerOunce), -1},
	"/lb": {quantity.US, "/kg", per(quantity.KilogramsPerPound), -1},
	"/g":  {quantity.Metric, "/oz", times(quantity.GramsPerOunce), -1},
	"/kg": {quantity.Metric, "/lb", times(quantity.KilogramsPerPound), -1},
}

// below is the same for what a yield is over, one of it; what is not here is written alike in both.
var below = map[string]unitForm{
	"ft":    {quantity.US, "m of row", per(quantity.MetresPerFoot), 0},
	"m":     {quantity.Metric, "ft of row", times(quantity.MetresPerFoot), 0},
	"sq ft": {quantity.US, "m²", per(quantity.SquareMetresPerFoot), 0},
	"ft²":   {quantity.US, "m²", per(quantity.SquareMetresPerFoot), 0},
	"ft2":   {quantity.US, "m²", per(quantity.SquareMetresPerFoot), 0},
	"m²":    {quantity.Metric, "sq ft", times(quantity.SquareMetresPerFoot), 0},
	"m2":    {quantity.Metric, "sq ft", times(quantity.SquareMetresPerFoot), 0},
}

// In is the figure's text for a person who reads a system of units: as its source prints it and, where that is in the
// other system, with the person's own before it: "7.2 °C (45 °F)". What cannot be read so stays as it is.
func (f Figure) In(u quantity.System) string {
	text := strings.TrimSpace(f.Text)
	numbers, unit := listed(text)
	if unit == "" {
		a, err := parseAmount(text, "")
		if err != nil {
			return text
		}
		numbers, unit = []float64{a.low, a.high}, a.unit
		if a.low == a.high {
			numbers = numbers[:1]
		}
	}
	to, change, places, ok := otherForm(unit, u, strings.HasPrefix(f.Field, "gain."))
	if !ok {
		return text
	}
	joined := "–"
	if strings.Contains(text, ", ") {
		joined = ", "
	}
	var words []string
	for _, v := range numbers {
		words = append(words, rounded(change(v), places))
	}
	if len(words) == 2 && words[0] == words[1] {
		words = words[:1]
	}
	own := strings.Join(words, joined)
	if !strings.HasPrefix(to, "/") {
		own += " "
	}
	return own + to + " (" + text + ")"
}

// listed takes "41, 50, 59 °F" apart; unit is empty where it is no such list.
func listed(text string) (numbers []float64, unit string) {
	parts := strings.Split(text, ", ")
	if len(parts) < 2 {
		return nil, ""
	}
	last, unit, _ := strings.Cut(parts[len(parts)-1], " ")
	parts[len(parts)-1] = last
	for _, part := range parts {
		v, err := strconv.ParseFloat(part, 64)
		if err != nil {
			return nil, ""
		}
		numbers = append(numbers, v)
	}
	return numbers, unit
}

// otherForm is a unit in a system it is not of, and the change to it; ok is false where it is that system's own, or both's.
func otherForm(unit string, u quantity.System, difference bool) (to string, change func(float64) float64, places int, ok bool) {
	if difference && unit == "°C" && u == quantity.US {
		return "°F", times(1.8), 1, true
	}
	if difference && unit == "°F" && u == quantity.Metric {
		return "°C", times(5.0 / 9), 1, true
	}
	if form, known := exchanged[unit]; known {
		return form.to, form.change, form.places, form.of != u
	}
	above, under, found := strings.Cut(unit, "/")
	if !found {
		return "", nil, 0, false
	}
	change = times(1)
	to = above
	if form, known := exchanged[above]; known && form.of != u {
		to, change, ok = form.to, form.change, true
	}
	count, what := 1.0, under
	if number, rest, many := strings.Cut(under, " "); many {
		if n, err := strconv.ParseFloat(number, 64); err == nil && n > 0 {
			count, what = n, rest
		}
	}
	if form, known := below[what]; known && form.of != u {
		first := change
		under, ok = form.to, true
		change = func(v float64) float64 { return form.change(first(v)) / count }
	}
	return to + "/" + under, change, -1, ok
}

// rounded writes a number with some digits after the point, or with two significant ones; never with zeros at its end.
func rounded(v float64, places int) string {
	if places < 0 {
		places = max(0, 1-int(math.Floor(math.Log10(math.Max(math.Abs(v), 1e-3)))))
		if math.Abs(v) >= 100 {
			scale := math.Pow(10, math.Floor(math.Log10(math.Abs(v)))-1)
			v = math.Round(v/scale) * scale
		}
	}
	text := strconv.FormatFloat(v, 'f', places, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return strings.Replace(text, "-", "−", 1)
}
