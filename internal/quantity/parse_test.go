package quantity_test

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/quantity"
)

// What people type, against lengths worked out by hand from 1 ft = 0.3048 m.
func TestLengthsAsTyped(t *testing.T) {
	rows := []struct {
		text   string
		system quantity.System
		want   float64
	}{
		{"30 ft", quantity.Metric, 9.144},
		{"30'", quantity.Metric, 9.144},
		{"30", quantity.US, 9.144},
		{"9m", quantity.US, 9},
		{"9", quantity.Metric, 9},
		{"18 in", quantity.Metric, 0.4572},
		{"18 inches", quantity.Metric, 0.4572},
		{"1 ft 6 in", quantity.Metric, 0.4572},
		{"1ft6in", quantity.Metric, 0.4572},
		{"4'6\"", quantity.Metric, 1.3716},
		{"4′ 6″", quantity.Metric, 1.3716},
		{"4’6”", quantity.Metric, 1.3716},
		{"4' 6", quantity.Metric, 1.3716},
		{"4 ft 6½ in", quantity.Metric, 1.3843},
		{"4 ft 6 1/2 in", quantity.Metric, 1.3843},
		{"½ in", quantity.Metric, 0.0127},
		{"1/2\"", quantity.Metric, 0.0127},
		{"1½\"", quantity.Metric, 0.0381},
		{"2,5 m", quantity.Metric, 2.5},
		{"0,125 m", quantity.Metric, 0.125},
		{"1 m 20 cm", quantity.Metric, 1.2},
		{"1 m 20", quantity.Metric, 1.2},
		{"120cm", quantity.Metric, 1.2},
		{" 25 mm ", quantity.Metric, 0.025},
		{".5 m", quantity.Metric, 0.5},
		{"-3 m", quantity.Metric, -3},
		{"− 3 m", quantity.Metric, -3},
		{"5ft2", quantity.Metric, 1.5748},
		{"3 yd 1 ft", quantity.Metric, 3.048},
	}
	for _, r := range rows {
		got, err := quantity.ParseLength(r.text, r.system)
		if err != nil || math.Abs(float64(got)-r.want) > 1e-12 {
			t.Errorf("%q: got %v, %v, want %v", r.text, got, err, r.want)
		}
	}
}

func TestOtherQuantitiesAsTyped(t *testing.T) {
	rows := []struct {
		text  string
		want  float64
		parse func(string) (float64, error)
	}{
		{"10.9 m²", 10.9, area},
		{"12m2", 12, area},
		{"120 sq ft", 11.1483648, area},
		{"120 square feet", 11.1483648, area},
		{"5ft2", 0.4645152, area},
		{"1 lb 8 oz", 0.680388555, mass},
		{"450 g", 0.45, mass},
		{"2 kilos", 2, mass},
		{"2 gal 1 qt", 8.516 + 0.0011765, volume}, // 9 qt
		{"1 m3", 1000, volume},
		{"3 kg/m²", 3, rate},
		{"120 g per m2", 0.12, rate},
		{"5 lb per 100 sq ft", 0.2441214, rate},
		{"5 lb/100 sq ft", 0.2441214, rate},
		{"10 t/ha", 1, rate},
		{"4 oz per sq yd", 0.135623, rate},
	}
	for _, r := range rows {
		got, err := r.parse(r.text)
		if err != nil || math.Abs(got-r.want) > 1e-6 {
			t.Errorf("%q: got %v, %v, want %v", r.text, got, err, r.want)
		}
	}
	if got, err := quantity.ParseRain("1 in", quantity.Metric); err != nil || math.Abs(float64(got)-25.4) > 1e-12 {
		t.Errorf("1 in of rain: %v, %v", got, err)
	}
	if got, err := quantity.ParseDistance("18", quantity.US); err != nil || math.Abs(float64(got)-0.4572) > 1e-12 {
		t.Errorf("a distance of 18 in the US system: %v, %v", got, err)
	}
}

func TestRefusals(t *testing.T) {
	rows := []struct{ text, holds string }{
		{"", "nothing is written"},
		{"wide", "no number"},
		{"9 kg", `"kg" is not a unit`},
		{"1,500 m", "thousands or a decimal"},
		{"6 in 4 ft", "do not go together"},
		{"4 ft 50 cm", "do not go together"},
		{"12 5", "does not belong"},
		{"1e5 m", "not a unit"},
		{"NaN", "no number"},
		{"infinity m", "no number"},
		{strings.Repeat("9", 400) + " m", "too many digits"},
		{"5 / 0 m", "not a"},
		{"½", ""}, // half a metre: fine
		{"4 ft -6 in", "not a"},
	}
	for _, r := range rows {
		got, err := quantity.ParseLength(r.text, quantity.Metric)
		if r.holds == "" {
			if err != nil {
				t.Errorf("%q: %v", r.text, err)
			}
			continue
		}
		if err == nil {
			t.Errorf("%q was read as %v", r.text, got)
			continue
		}
		if !strings.Contains(err.Error(), r.holds) || !strings.Contains(err.Error(), "for example 9 m") {
			t.Errorf("%q: %v", r.text, err)
		}
	}
	for _, parse := range []func(string) (float64, error){area, mass, volume, rate} {
		if v, err := parse("-2"); err == nil {
			t.Errorf("−2 was read as %v", v)
		}
	}
}

func TestParseSystem(t *testing.T) {
	for text, want := range map[string]quantity.System{"metric": quantity.Metric, "US": quantity.US, " us ": quantity.US, "imperial": quantity.US} {
		if got, err := quantity.ParseSystem(text); err != nil || got != want {
			t.Errorf("%q: %v, %v", text, got, err)
		}
	}
	if _, err := quantity.ParseSystem("cubits"); err == nil {
		t.Error("cubits were taken")
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"30 ft", "4'6\"", "1 1/2 in", "59 °F", "5 lb per 100 sq ft", "2,5 m", "½", "−3", "1 m 20", "/", "1//2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, s := range []quantity.System{quantity.Metric, quantity.US} {
			values := make([]float64, 0, 8)
			add := func(v float64, err error) {
				if err == nil {
					values = append(values, v)
				} else if err.Error() == "" {
					t.Error("an empty error")
				}
			}
			l, err := quantity.ParseLength(text, s)
			add(float64(l), err)
			a, err := quantity.ParseArea(text, s)
			add(float64(a), err)
			m, err := quantity.ParseMass(text, s)
			add(float64(m), err)
			v, err := quantity.ParseVolume(text, s)
			add(float64(v), err)
			r, err := quantity.ParseRate(text, s)
			add(float64(r), err)
			c, err := quantity.ParseTemperature(text, s)
			add(float64(c), err)
			for _, v := range values {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Errorf("%q was read as %v", text, v)
				}
			}
		}
	})
}
