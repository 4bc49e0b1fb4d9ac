package work

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"kailyard/internal/quantity"
)

// wordsInInches are the measures that the crops' sentences write out in words. Longer ones first:
// each is looked for only where no longer one stood.
var wordsInInches = []struct {
	words     string
	low, high float64
}{
	{"half an inch to an inch", 0.5, 1},
	{"a quarter to half an inch", 0.25, 0.5},
	{"a quarter of an inch", 0.25, 0.25},
	{"half an inch", 0.5, 0.5},
	{"an inch or two", 1, 2},
	{"one or two inches", 1, 2},
	{"an inch or more", 1, 1},
	{"two to two and a half feet and at five", 30, 60},
	{"three and five feet", 36, 60},
	{"two and a half feet", 30, 30},
	{"an inch", 1, 1},
	{"every inch", 1, 1},
	{"top inch", 1, 1},
	{"two inches", 2, 2},
	{"a foot", 12, 12},
}

var (
	inchRange = regexp.MustCompile(`(\d+(?:\.\d+)?) (to|or) (\d+(?:\.\d+)?) in\b`)
	inches    = regexp.MustCompile(`(\d+(?:\.\d+)?) in\b`)
	degrees   = regexp.MustCompile(`(\d+) °F`)
	ounces    = regexp.MustCompile(`(\d+) oz\b`)
)

// inUnits writes the measures of a crop's sentence, which are in inches and °F, in metric for a
// person who reads metric.
func (m measures) inUnits(s string) string {
	if m.system == quantity.US {
		return s
	}
	number := func(text string) float64 {
		v, _ := strconv.ParseFloat(text, 64) // the pattern lets only numbers through
		return v
	}
	s = inchRange.ReplaceAllStringFunc(s, func(found string) string {
		part := inchRange.FindStringSubmatch(found)
		return m.span(number(part[1]), number(part[3]), part[2])
	})
	s = inches.ReplaceAllStringFunc(s, func(found string) string {
		v := number(inches.FindStringSubmatch(found)[1])
		return m.span(v, v, "")
	})
	s = degrees.ReplaceAllStringFunc(s, func(found string) string {
		return m.temperature(quantity.FromFahrenheit(number(degrees.FindStringSubmatch(found)[1])))
	})
	s = ounces.ReplaceAllStringFunc(s, func(found string) string {
		return fmt.Sprintf("%.0f g", number(ounces.FindStringSubmatch(found)[1])*quantity.GramsPerOunce)
	})
	for _, w := range wordsInInches {
		first := sentence(w.words)
		if !strings.Contains(s, w.words) && !strings.Contains(s, first) {
			continue
		}
		joined := "to"
		if strings.Contains(w.words, "five") {
			joined = "and"
		}
		with := m.span(w.low, w.high, joined)
		switch {
		case strings.HasPrefix(w.words, "every "):
			with = "every " + with
		case strings.HasPrefix(w.words, "top "):
			with = "top " + with
		case strings.HasSuffix(w.words, " or more"):
			with += " or more"
		}
		s = strings.ReplaceAll(s, w.words, with)
		s = strings.ReplaceAll(s, first, with)
	}
	return s
}

// span is one length or two, given in inches: "5 to 10 cm", "13 mm".
func (m measures) span(low, high float64, joined string) string {
	upper := m.depth(quantity.Metre(high * quantity.MetresPerInch))
	if low == high {
		return upper
	}
	lower := m.depth(quantity.Metre(low * quantity.MetresPerInch))
	if unit := upper[strings.LastIndex(upper, " "):]; strings.HasSuffix(lower, unit) {
		lower = strings.TrimSuffix(lower, unit)
	}
	return lower + " " + joined + " " + upper
}
