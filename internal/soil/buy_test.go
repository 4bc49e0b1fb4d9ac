package soil_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// TestBuyAgainstBruteForce: no combination of packages that holds the amount is cheaper, with prices or by weight.
func TestBuyAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		priced := rapid.Bool().Draw(r, "priced")
		o := soil.Offer{Name: "x"}
		for range rapid.IntRange(1, 4).Draw(r, "sizes") {
			s := soil.Size{Mass: quantity.Kilogram(rapid.IntRange(1, 20).Draw(r, "mass"))}
			if priced {
				s.Price = float64(rapid.IntRange(1, 40).Draw(r, "price"))
			}
			o.Sizes = append(o.Sizes, s)
		}
		needed := quantity.Kilogram(rapid.Float64Range(0, 40).Draw(r, "needed"))
		got, err := soil.Buy(o, needed)
		if err != nil {
			r.Fatal(err)
		}
		price := func(s soil.Size) float64 {
			if priced {
				return s.Price
			}
			return float64(s.Mass)
		}
		var bought, paid float64
		for _, b := range got.Bags {
			bought, paid = bought+float64(b.Size.Mass)*float64(b.Count), paid+price(b.Size)*float64(b.Count)
		}
		if bought < float64(needed)*0.999-2e-6 || math.Abs(bought-float64(got.Bought)) > 1e-9 || priced && math.Abs(paid-got.Cost) > 1e-9 {
			r.Fatalf("%v kg needed: %+v", needed, got)
		}
		// Brute force: the least paid for any sum, by the table of whole kilograms.
		need := int(math.Ceil(float64(needed)*0.999 - 1e-6))
		least := make([]float64, need+1)
		for kg := 1; kg <= need; kg++ {
			least[kg] = math.Inf(1)
			for _, s := range o.Sizes {
				least[kg] = min(least[kg], least[max(0, kg-int(s.Mass))]+price(s))
			}
		}
		if math.Abs(least[need]-paid) > 1e-9 {
			r.Fatalf("%v kg of %v: paid %v, possible %v", needed, o.Sizes, paid, least[need])
		}
	})
}

func TestBuyRefusesNonsense(t *testing.T) {
	one := soil.Offer{Sizes: []soil.Size{{Mass: 1}}}
	for name, f := range map[string]func() error{
		"below zero":   func() error { _, err := soil.Buy(one, -1); return err },
		"not a number": func() error { _, err := soil.Buy(one, quantity.Kilogram(math.NaN())); return err },
		"no package":   func() error { _, err := soil.Buy(soil.Offer{}, 1); return err },
		"no weight":    func() error { _, err := soil.Buy(soil.Offer{Sizes: []soil.Size{{}}}, 1); return err },
		"a hill":       func() error { _, err := soil.Buy(one, 1e6); return err },
	} {
		if f() == nil {
			t.Errorf("%s is taken", name)
		}
	}
}
