package work

import (
	"testing"

	"kailyard/internal/quantity"
)

// 1 in = 2.54 cm, 1 ft = 30.48 cm, 1 oz = 28.35 g, 70 °F = 21.1 °C (by definition), rounded as a rule is read.
func TestSentencesInMetric(t *testing.T) {
	m := measures{quantity.Metric}
	for text, want := range map[string]string{
		"Thin to 8 or 10 in when the plants have three leaves.":                                       "Thin to 20 or 25 cm when the plants have three leaves.",
		"Thin to one plant every 2 to 4 in when they are 3 in high, and eat the thinnings as greens.": "Thin to one plant every 5 to 10 cm when they are 7.5 cm high, and eat the thinnings as greens.",
		"Sow thinly into dry soil a quarter of an inch deep.":                                         "Sow thinly into dry soil 6 mm deep.",
		"Thin to an inch or two as soon as they can be handled.":                                      "Thin to 2.5 to 5 cm as soon as they can be handled.",
		"Sow when the soil has cooled below 70 °F, in drills a quarter to half an inch deep":          "Sow when the soil has cooled below 21 °C, in drills 6 to 13 mm deep",
		"Cut large seed potatoes into pieces of 2 oz with two eyes each":                              "Cut large seed potatoes into pieces of 57 g with two eyes each",
		"Sow a seed cluster every inch, half an inch deep, in dry soil":                               "Sow a seed cluster every 2.5 cm, 13 mm deep, in dry soil",
		"Water it as soon as the top inch is dry":                                                     "Water it as soon as the top 2.5 cm is dry",
		"Dig a trench a foot wide and deep, and ridge two inches of soil":                             "Dig a trench 30 cm wide and deep, and ridge 5 cm of soil",
		"Broadcast and rake in half an inch to an inch.":                                              "Broadcast and rake in 13 mm to 2.5 cm.",
		"Set posts and two wires, at two to two and a half feet and at five.":                         "Set posts and two wires, at 76 and 152 cm.",
		"Dig in autumn or spring, and replant.":                                                       "Dig in autumn or spring, and replant.",
	} {
		if got := m.inUnits(text); got != want {
			t.Errorf("got  %q\nwant %q", got, want)
		}
		if got := (measures{quantity.US}).inUnits(text); got != text {
			t.Errorf("changed for a person who reads inches: %q", got)
		}
	}
}
