package crop

import (
	"math"
	"strings"
	"testing"
)

// The factors come from outside the program: the inch is 2.54 cm and the pound 0.45359237 kg exactly
// (international yard and pound agreement, 1959), the avoirdupois ounce 28.349523125 g, and 32 °F is 0 °C,
// 212 °F is 100 °C.
func TestConvert(t *testing.T) {
	tests := []struct {
		text string
		dim  *dimension
		want Range
	}{
		{"32 °F", &temperature, Range{0, 0}},
		{"212 °F", &temperature, Range{100, 100}},
		{"-40 °F", &temperature, Range{-40, -40}},
		{"−2 °C", &temperature, Range{-2, -2}},
		{"-2 °C", &temperature, Range{-2, -2}},
		{"-10–-5 °C", &temperature, Range{-10, -5}},
		{"59–68 °F", &temperature, Range{15, 20}},
		{"18–24 in", &length, Range{0.4572, 0.6096}},
		{"18-24 in", &length, Range{0.4572, 0.6096}},
		{"18 to 24 in", &length, Range{0.4572, 0.6096}},
		{"1/4–1/2 in", &length, Range{0.00635, 0.0127}},
		{"1 1/2 in", &length, Range{0.0381, 0.0381}},
		{"¼–½ in", &length, Range{0.00635, 0.0127}},
		{"1½ in", &length, Range{0.0381, 0.0381}},
		{".5 in", &length, Range{0.0127, 0.0127}},
		{"3 ft", &length, Range{0.9144, 0.9144}},
		{"25 mm", &length, Range{0.025, 0.025}},
		{"5–7 wk", &days, Range{35, 49}},
		{"5–7 wk", &weeks, Range{5, 7}},
		{"42 d", &weeks, Range{6, 6}},
		{"1 oz", &mass, Range{0.028349523125, 0.028349523125}},
		{"25,000 /oz", &seedCount, Range{881.84904874, 881.84904874}}, // 25000 / 28.349523125
		{"8–10 /lb", &setCount, Range{17.6369809748, 22.0462262185}},  // 8 and 10 / 0.45359237
		{"55 %", &share, Range{0.55, 0.55}},
		{"5.5–6.8", &bare, Range{5.5, 6.8}},
	}
	for _, test := range tests {
		parsed, err := parseAmount(test.text, length.example)
		if err != nil {
			t.Errorf("%s: %v", test.text, err)
			continue
		}
		got, ok := test.dim.convert(parsed)
		if !ok || math.Abs(got.Low-test.want.Low) > 1e-7 || math.Abs(got.High-test.want.High) > 1e-7 {
			t.Errorf("%s: got %v (%v), want %v", test.text, got, ok, test.want)
		}
	}
}

func TestParseAmountRefuses(t *testing.T) {
	for _, text := range []string{"", "in", "about 3 in", "24–18 in", "1/0 in", "12–18–24 in", "3 4 in"} {
		if parsed, err := parseAmount(text, length.example); err == nil {
			t.Errorf("%q was read as %v", text, parsed)
		}
	}
}

// What does not read as a number is answered with an example of the thing asked for.
func TestParseAmountShowsItsOwnExample(t *testing.T) {
	for _, d := range []dimension{packetDays, length, temperature, mass} {
		for _, text := range []string{"abc", "1/0", "1–2–3"} {
			_, err := parseAmount(text, d.example)
			if err == nil || !strings.Contains(err.Error(), d.example) {
				t.Errorf("%s: %v does not show %s", d.name, err, d.example)
			}
		}
	}
}

// A row of 100 ft is 30.48 m: 100 lb of it, 15 in from the next, is 45.359237 kg on 30.48 × 0.381 m²,
// 3.9059 kg/m²; half a pound a square foot (Rutgers' planning figure for a mixed stand) is 2.4412 kg/m².
func TestYieldPerArea(t *testing.T) {
	spacing := Spacing{InRow: 0.3, BetweenRows: 0.381}
	tests := []struct {
		value   float64
		unit    string
		counted string
		mass    float64
		want    float64
	}{
		{100, "lb/100 ft", "root", 0.08, 3.9059},
		{10, "lb/10 ft", "root", 0.08, 3.9059},
		{0.5, "lb/sq ft", "kg", 1, 2.4412},
		{2, "kg/m²", "kg", 1, 2},
		{100, "heads/100 ft", "head", 0.3, 100 * 0.3 / 30.48 / 0.381},
		{10, "dozen ears/100 ft", "ear", 0.25, 120 * 0.25 / 30.48 / 0.381},
		{0.5, "kg/plant", "head", 0.5, 0.5 / (0.3 * 0.381)},
	}
	for _, test := range tests {
		rate, ok := parseRate(test.unit, test.counted, test.mass)
		if !ok {
			t.Errorf("%s was not read", test.unit)
			continue
		}
		if got := rate.perArea(test.value, spacing); math.Abs(got-test.want) > 5e-5 {
			t.Errorf("%v %s: got %.4f kg/m², want %.4f", test.value, test.unit, got, test.want)
		}
	}
	for _, unit := range []string{"lb", "heads/100 ft", "lb/acre", "/100 ft"} {
		if _, ok := parseRate(unit, "root", 0.1); ok {
			t.Errorf("%q was read as a yield", unit)
		}
	}
}

func FuzzParseAmount(f *testing.F) {
	for _, text := range []string{"18–24 in", "-2 °C", "1 1/2 in", "½", "–", "9e999", "1/0"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		parsed, err := parseAmount(text, length.example)
		if err == nil && !(parsed.low <= parsed.high) {
			t.Errorf("%q: %v", text, parsed)
		}
	})
}
