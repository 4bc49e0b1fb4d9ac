package quantity_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/quantity"
)

const inch = quantity.Metre(quantity.MetresPerInch)

// Facts of the trade in both systems, worked by hand from the definitions.
func TestPrinted(t *testing.T) {
	m, us := quantity.Metric, quantity.US
	rows := [][2]string{
		{m.Length(18 * inch), "46 cm"}, {us.Length(18 * inch), "18 in"},
		{m.Length(9), "9 m"}, {us.Length(360 * inch), "30 ft"}, {us.Length(54 * inch), "4 ft 6 in"},
		{us.Length(9), "29 ft 6 in"}, {m.Length(360 * inch), "9.14 m"}, {us.Length(-54 * inch), "−4 ft 6 in"},
		{m.Distance(inch), "2.5 cm"}, {us.Distance(inch), "1 in"}, {us.Distance(inch * 3 / 4), "¾ in"},
		{us.Distance(4.5 * inch), "4½ in"}, {us.Distance(18 * inch), "18 in"}, {m.Distance(18 * inch), "46 cm"},
		{us.Distance(96 * inch), "8 ft"},
		{m.Depth(inch / 4), "6 mm"}, {us.Depth(inch / 4), "¼ in"}, {us.Depth(inch / 2), "½ in"}, {us.Depth(1.5 * inch), "1½ in"},
		{m.Depth(inch), "2.5 cm"}, {m.Depth(4 * inch), "10 cm"}, {us.Depth(4 * inch), "4 in"}, {us.Depth(0), "0 in"},
		{m.Temperature(15), "15 °C"}, {us.Temperature(15), "59 °F"}, {m.Temperature(-2.2), "−2.2 °C"}, {us.Temperature(-2.2), "28 °F"},
		{m.Temperature(-0.01), "0 °C"}, {us.TemperatureChange(5), "9 °F"}, {m.TemperatureChange(5), "5 °C"},
		{us.ThermalTime(450), "810 °F days"}, {m.ThermalTime(450), "450 °C days"},
		{m.Area(10.9), "11 m²"}, {us.Area(11.1483648), "120 sq ft"}, {m.Area(0.93), "0.9 m²"},
		{m.Mass(0.45), "450 g"}, {m.Mass(4.5), "4.5 kg"}, {us.Mass(quantity.KilogramsPerPound), "1 lb"}, {us.Mass(quantity.KilogramsPerPound / 2), "8 oz"},
		{m.SeedMass(0.79), "0.79 g"}, {us.SeedMass(quantity.GramsPerOunce / 4), "0.25 oz"},
		{m.Volume(15), "15 L"}, {us.Volume(4 * quantity.LitresPerGallon), "4 gal"}, {us.Volume(quantity.LitresPerGallon / 2), "2 qt"},
		{m.Rain(12), "12 mm"}, {us.Rain(12), "0.47 in"}, {us.Rain(25.4), "1 in"},
		{m.Rate(3.5), "3.5 kg/m²"}, {m.Rate(0.12), "120 g/m²"}, {us.Rate(0.2441214), "5 lb per 100 sq ft"},
		{m.Hours(6), "6 h"}, {m.Temperature(quantity.Celsius(math.NaN())), "unknown °C"}, {us.Length(quantity.Metre(math.Inf(1))), "unknown"},
		{quantity.Metric.Height(612.4), "612 m"}, {quantity.US.Height(612), "2008 ft"}, {quantity.US.Height(-3), "−10 ft"}, {quantity.Noun(false, "heads"), "heads"},
		{quantity.Plural(1, "head"), "1 head"}, {quantity.Plural(3, "head"), "3 heads"}, {quantity.Plural(2, "bunch"), "2 bunches"}, {quantity.Plural(2, "kg"), "2 kg"},
	}
	for i, r := range rows {
		if r[0] != r[1] {
			t.Errorf("row %d: got %q, want %q", i, r[0], r[1])
		}
	}
}

// What is printed can be typed back, and stays within the rounding of the print.
func TestPrintedReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]quantity.System{quantity.Metric, quantity.US}).Draw(t, "system")
		v := rapid.Float64Range(0.001, 500).Draw(t, "value")
		near := func(what, text string, got float64, err error, within float64) {
			if err != nil || math.Abs(got-v) > within+1e-9 {
				t.Errorf("%s %v printed as %q reads back as %v, %v", what, v, text, got, err)
			}
		}
		text := s.Length(quantity.Metre(v))
		l, err := quantity.ParseLength(text, s)
		near("length", text, float64(l), err, 0.5*quantity.MetresPerInch)
		text = s.Distance(quantity.Metre(v))
		l, err = quantity.ParseLength(text, s)
		near("distance", text, float64(l), err, 0.05)
		text = s.Depth(quantity.Metre(v))
		l, err = quantity.ParseDistance(text, s)
		near("depth", text, float64(l), err, 0.5*quantity.MetresPerInch)
		text = s.Area(quantity.SquareMetre(v))
		a, err := quantity.ParseArea(text, s)
		near("area", text, float64(a), err, 0.5)
		text = s.Mass(quantity.Kilogram(v))
		k, err := quantity.ParseMass(text, s)
		near("mass", text, float64(k), err, 0.5)
		text = s.Volume(quantity.Litre(v))
		w, err := quantity.ParseVolume(text, s)
		near("volume", text, float64(w), err, 0.5*quantity.LitresPerGallon)
		text = s.Rain(quantity.Millimetre(v))
		r, err := quantity.ParseRain(text, s)
		near("rain", text, float64(r), err, 0.5)
		text = s.Rate(quantity.KilogramPerSquareMetre(v))
		q, err := quantity.ParseRate(text, s)
		near("rate", text, float64(q), err, max(0.05*v, 1e-9))
		text = s.Temperature(quantity.Celsius(v))
		c, err := quantity.ParseTemperature(text, s)
		near("temperature", text, float64(c), err, 0.5/1.8)
	})
}

// Files must not drift: the exact printers read back to the last bit.
func TestExactReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom([]quantity.System{quantity.Metric, quantity.US}).Draw(t, "system")
		m := quantity.Metre(rapid.OneOf(
			rapid.Float64Range(-1000, 1000),
			rapid.Map(rapid.IntRange(0, 2000), func(n int) float64 { return float64(n) * quantity.MetresPerInch }),
			rapid.Map(rapid.IntRange(0, 2000), func(n int) float64 { return float64(n) / 100 }),
		).Draw(t, "metres"))
		text := s.ExactLength(m)
		if back, err := quantity.ParseLength(text, s); err != nil || back != m {
			t.Errorf("%v written as %q reads back as %v, %v", float64(m), text, float64(back), err)
		}
		k := quantity.Kilogram(rapid.Float64Range(0, 1000).Draw(t, "kilograms"))
		text = s.ExactMass(k)
		if back, err := quantity.ParseMass(text, s); err != nil || back != k {
			t.Errorf("%v written as %q reads back as %v, %v", float64(k), text, float64(back), err)
		}
		l := quantity.Litre(rapid.OneOf(
			rapid.Float64Range(0, 10000),
			rapid.Map(rapid.IntRange(0, 200), func(n int) float64 { return float64(n) * quantity.LitresPerGallon }),
		).Draw(t, "litres"))
		text = s.ExactVolume(l)
		if back, err := quantity.ParseVolume(text, s); err != nil || back != l {
			t.Errorf("%v written as %q reads back as %v, %v", float64(l), text, float64(back), err)
		}
	})
	for _, text := range []string{"2 gal", "3 cu ft", "1 cu yd", "3.8 cu ft"} {
		if l, err := quantity.ParseVolume(text, quantity.US); err != nil || quantity.US.ExactVolume(l) != text {
			t.Errorf("%s is written as %s", text, quantity.US.ExactVolume(l))
		}
	}
	for text, m := range map[string]quantity.Metre{"30 ft": 9.144, "18 in": 0.4572, "4 ft": 1.2192} {
		if got := quantity.US.ExactLength(m); got != text {
			t.Errorf("%v: got %q, want %q", m, got, text)
		}
	}
	for text, m := range map[string]quantity.Metre{"9 m": 9, "1.2 m": 1.2, "45 cm": 0.45} {
		if got := quantity.Metric.ExactLength(m); got != text {
			t.Errorf("%v: got %q, want %q", m, got, text)
		}
	}
}
