package crop

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// amount is a printed value taken apart: its numbers (a range has two different ones) and its unit.
type amount struct {
	low, high float64
	unit      string
}

// The number, as sources print them: 18, 1,200, 0.5, 1/4, 1 1/2, ½, 1½, −2, -2.
const numberForm = `[-−]?(?:\d+ +\d+/\d+|\d+/\d+|(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?[¼½¾⅛⅓⅔]?|\.\d+|[¼½¾⅛⅓⅔])`

var (
	amountForm = regexp.MustCompile(`^(` + numberForm + `)(?:\s*(?:–|—|-|−|to )\s*(` + numberForm + `))?\s*(.*)$`)
	vulgar     = map[rune]float64{'¼': 0.25, '½': 0.5, '¾': 0.75, '⅛': 0.125, '⅓': 1.0 / 3, '⅔': 2.0 / 3}
)

// parseAmount reads "18–24 in", "-2 °C", "1/4–1/2 in", "100 lb/100 ft", "0.7". The example is what a right value looks
// like, quoted.
func parseAmount(text, example string) (amount, error) {
	trimmed := strings.TrimSpace(strings.ReplaceAll(text, "\u00a0", " "))
	parts := amountForm.FindStringSubmatch(trimmed)
	if parts == nil {
		return amount{}, fmt.Errorf("%q does not begin with a number; write it like %s", text, example)
	}
	low := number(parts[1])
	high := low
	if parts[2] != "" {
		high = number(parts[2])
	}
	if math.IsNaN(low) || math.IsNaN(high) || math.IsInf(low, 0) || math.IsInf(high, 0) {
		return amount{}, fmt.Errorf("%q has a number that cannot be read; write it like %s", text, example)
	}
	if low > high {
		return amount{}, fmt.Errorf("%q runs from high to low; write the lower value first", text)
	}
	unit := strings.TrimSpace(parts[3])
	if strings.IndexAny(unit, "0123456789.,-–—−") == 0 {
		return amount{}, fmt.Errorf("%q has more than two numbers before its unit; write one value or a range like %s", text, example)
	}
	return amount{low, high, unit}, nil
}

// number reads one number of numberForm; NaN when it cannot (a fraction with 0 below).
func number(text string) float64 {
	text = strings.ReplaceAll(text, ",", "")
	sign := 1.0
	if rest, ok := strings.CutPrefix(text, "-"); ok {
		sign, text = -1, rest
	} else if rest, ok := strings.CutPrefix(text, "−"); ok {
		sign, text = -1, rest
	}
	total := 0.0
	if runes := []rune(text); len(runes) > 0 {
		if part, ok := vulgar[runes[len(runes)-1]]; ok {
			total, text = part, string(runes[:len(runes)-1])
		}
	}
	for _, word := range strings.Fields(text) {
		above, below, isFraction := strings.Cut(word, "/")
		value, err := strconv.ParseFloat(above, 64)
		if err != nil {
			return math.NaN()
		}
		if isFraction {
			divisor, err := strconv.ParseFloat(below, 64)
			if err != nil || divisor == 0 {
				return math.NaN()
			}
			value /= divisor
		}
		total += value
	}
	return sign * total
}

// middle is the middle of the range.
func (a amount) middle() float64 { return (a.low + a.high) / 2 }
