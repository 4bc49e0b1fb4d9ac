package soil_test

import (
	"math"
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s is %.5f, the source has %g (within %g)", what, got, want, tolerance)
	}
}

// TestRatesAgainstDefinitions: the acre of 43 560 square feet, pound and foot by definition; the oxides from atomic masses.
func TestRatesAgainstDefinitions(t *testing.T) {
	near(t, "100 lb/acre in lb/1000 sq ft", float64(100*soil.PoundPerAcre/soil.PoundPer1000SquareFeet), 2.2957, 0.0005)
	near(t, "100 lb/acre in g/m²", float64(100*soil.PoundPerAcre)*1000, 11.2085, 0.001)
	near(t, "100 lb/acre in kg/ha", float64(100*soil.PoundPerAcre)*1e4, 112.085, 0.001)
	near(t, "1 lb/1000 sq ft in lb/acre", float64(soil.PoundPer1000SquareFeet/soil.PoundPerAcre), 43.56, 0.001)
	near(t, "1 lb/1000 sq ft in g/m²", float64(soil.PoundPer1000SquareFeet)*1000, 4.88243, 0.001)
	near(t, "P2O5 of P", soil.PhosphatePerPhosphorus, 2.2914, 0.0002)
	near(t, "K2O of K", soil.PotashPerPotassium, 1.2046, 0.0002)
}

// TestBagAgainstMinnesota: a 60 lb bag of 30-4-4. Source: UMN-LAWN, Tables 7.3 and 7.4, to one decimal.
func TestBagAgainstMinnesota(t *testing.T) {
	m := soil.Grade{N: 30, P2O5: 4, K2O: 4}.Holds(60)
	near(t, "N", float64(m.N), 18, 0.05)
	near(t, "P2O5", float64(m.P2O5), 2.4, 0.05)
	near(t, "K2O", float64(m.K2O), 2.4, 0.05)
	_, p, k := m.Elemental()
	near(t, "P", float64(p), 1.1, 0.06) // the source multiplies by 0.44 and rounds up
	near(t, "K", float64(k), 2.0, 0.05)
}

// TestBagAgainstMaine: an 80 lb bag of 5-10-15, and 8 per cent nitrogen in the place of 5. Source: UMAINE-2287.
func TestBagAgainstMaine(t *testing.T) {
	m := soil.Grade{N: 5, P2O5: 10, K2O: 15}.Holds(80)
	near(t, "N", float64(m.N), 4, 1e-9)
	near(t, "P2O5", float64(m.P2O5), 8, 1e-9)
	near(t, "K2O", float64(m.K2O), 12, 1e-9)
	got, err := soil.Instead(40, 5, 8)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "40 lb of a 5 per cent product as one of 8", float64(got), 25, 1e-9)
}

func TestBadLabels(t *testing.T) {
	for _, g := range []soil.Grade{{N: -1}, {N: math.NaN()}, {P2O5: 101}, {N: 60, P2O5: 30, K2O: 30}} {
		if g.Validate() == nil {
			t.Errorf("a label of %v is taken", g)
		}
	}
	if _, err := soil.Instead(40, 5, 0); err == nil {
		t.Error("a product without nitrogen stands in for one with it")
	}
}

// TestClassAgainstRutgers: the table's own edges. Source: RUTGERS-M3 (lb/acre, Mehlich 3); ppm is half of it by PSU-AGGUIDE.
func TestClassAgainstRutgers(t *testing.T) {
	for _, c := range []struct {
		element garden.Element
		value   float64
		unit    garden.SoilUnit
		want    garden.TestClass
	}{
		{garden.Phosphorus, 24, garden.PoundPerAcre, garden.VeryLow}, {garden.Phosphorus, 25, garden.PoundPerAcre, garden.Low},
		{garden.Phosphorus, 45, garden.PoundPerAcre, garden.Low}, {garden.Phosphorus, 46, garden.PoundPerAcre, garden.Medium},
		{garden.Phosphorus, 71, garden.PoundPerAcre, garden.Medium}, {garden.Phosphorus, 72, garden.PoundPerAcre, garden.High},
		{garden.Phosphorus, 137, garden.PoundPerAcre, garden.High}, {garden.Phosphorus, 138, garden.PoundPerAcre, garden.VeryHigh},
		{garden.Potassium, 40, garden.PoundPerAcre, garden.VeryLow}, {garden.Potassium, 81, garden.PoundPerAcre, garden.Low},
		{garden.Potassium, 145, garden.PoundPerAcre, garden.Medium}, {garden.Potassium, 277, garden.PoundPerAcre, garden.High},
		{garden.Potassium, 278, garden.PoundPerAcre, garden.VeryHigh},
		{garden.Magnesium, 83, garden.PoundPerAcre, garden.Low}, {garden.Magnesium, 84, garden.PoundPerAcre, garden.Medium},
		{garden.Calcium, 1400, garden.PoundPerAcre, garden.Medium}, {garden.Calcium, 1791, garden.PoundPerAcre, garden.VeryHigh},
		{garden.Phosphorus, 36, garden.PPM, garden.High}, {garden.Phosphorus, 35, garden.PPM, garden.Medium},
	} {
		got, err := soil.Class(garden.Reading{Element: c.element, Value: c.value, Unit: c.unit, Extractor: garden.Mehlich3})
		if err != nil || got.Class != c.want {
			t.Errorf("%s %v %s is %q (%v), the table has %q", c.element, c.value, c.unit, got.Class, err, c.want)
		}
	}
}

// TestClassOfOlsen: the outer steps that two sources share. Source: NI-OLSEN (indices 0, 1, 2, 3, 4 begin at 0, 10, 16, 26,
// 46 mg/l); UCIPM-TOMATO (low below 15, high above 25 ppm).
func TestClassOfOlsen(t *testing.T) {
	for value, want := range map[float64]garden.TestClass{9: garden.Low, 12: garden.Medium, 20: garden.Medium, 26: garden.High, 45: garden.High, 46: garden.VeryHigh} {
		got, err := soil.Class(garden.Reading{Element: garden.Phosphorus, Value: value, Unit: garden.MgPerLitre, Extractor: garden.Olsen})
		if err != nil || got.Class != want {
			t.Errorf("Olsen %v is %q (%v), want %q", value, got.Class, err, want)
		}
	}
}

func TestReadingsThatTellNothing(t *testing.T) {
	for name, r := range map[string]garden.Reading{
		"no extractor":       {Element: garden.Phosphorus, Value: 30, Unit: garden.PPM},
		"unknown extractor":  {Element: garden.Phosphorus, Value: 30, Unit: garden.PPM, Extractor: "water"},
		"kit with a number":  {Element: garden.Phosphorus, Value: 30, Unit: garden.PPM, Extractor: garden.HomeKit},
		"no unit":            {Element: garden.Phosphorus, Value: 30, Extractor: garden.Mehlich3},
		"P in meq":           {Element: garden.Phosphorus, Value: 3, Unit: garden.MeqPer100g, Extractor: garden.Mehlich3},
		"below zero":         {Element: garden.Potassium, Value: -3, Unit: garden.PPM, Extractor: garden.Mehlich3},
		"ten times too much": {Element: garden.Potassium, Value: 90000, Unit: garden.PPM, Extractor: garden.Mehlich3},
		"not a number":       {Element: garden.Potassium, Value: math.NaN(), Unit: garden.PPM, Extractor: garden.Mehlich3},
	} {
		if got, err := soil.Class(r); err == nil {
			t.Errorf("%s: taken as %q", name, got.Class)
		} else if len(err.Error()) < 40 {
			t.Errorf("%s: %q does not say what to do", name, err)
		}
	}
	got, err := soil.Class(garden.Reading{Element: garden.Phosphorus, Value: 3, Class: garden.High, Unit: garden.PPM})
	if err != nil || got.Class != garden.High {
		t.Errorf("the class printed does not stand: %v %v", got, err)
	}
}

// TestByHand against the pint that weighs a pound and its parts. Source: KSU-SIDE (pint); the cup and spoon are its parts.
func TestByHand(t *testing.T) {
	blend, _ := soil.Find("blend-10-10-10")
	for _, c := range []struct {
		pounds float64
		want   string
	}{{1, "2 cups"}, {0.5, "1 cup"}, {1. / 32, "1 tablespoon"}, {2, "1 quart"}, {1. / 96, "1 teaspoon"}} {
		if got := soil.ByHand(quantity.Kilogram(c.pounds)*quantity.KilogramsPerPound, blend, quantity.US, 0).String(); got != c.want {
			t.Errorf("%v lb is %s, want %s", c.pounds, got, c.want)
		}
	}
	if got := soil.ByHand(12, blend, quantity.Metric, 10).String(); got != "1¼ buckets" {
		t.Errorf("12 kg (12.5 L) in a bucket of 10 L is %s", got)
	}
}
