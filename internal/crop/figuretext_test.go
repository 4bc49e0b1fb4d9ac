package crop

import (
	"strings"
	"testing"

	"kailyard/internal/quantity"
)

// The changes are those of the definitions (NIST-HB44-C: 1 in is 2.54 cm, 1 lb 0.45359237 kg, 1 ft 30.48 cm) and of the
// two temperature scales, to the digits shown: 100 lb over 100 ft is 45.36 kg over 30.48 m, 1.488 kg a metre.
func TestFigureInThePersonsUnits(t *testing.T) {
	for _, row := range []struct{ field, text, metric, us string }{
		{"hardiness.seedling", "25 °F", "−3.9 °C (25 °F)", "25 °F"},
		{"hardiness.seedling", "-2 °F", "−18.9 °C (-2 °F)", "-2 °F"},
		{"cardinal.optimum", "18–24 °C", "18–24 °C", "64–75 °F (18–24 °C)"},
		{"emergence.soil", "41, 50, 59 °F", "5, 10, 15 °C (41, 50, 59 °F)", "41, 50, 59 °F"},
		{"gain.night", "2–6 °F", "1.1–3.3 °C (2–6 °F)", "2–6 °F"},
		{"gain.day", "4.2 °C", "4.2 °C", "7.6 °F (4.2 °C)"},
		{"spacing.between_rows", "12–18 in", "30–46 cm (12–18 in)", "12–18 in"},
		{"method.1.depth", "0.25–0.5 in", "0.64–1.3 cm (0.25–0.5 in)", "0.25–0.5 in"},
		{"method.1.depth", "1/4–1/2 in", "0.64–1.3 cm (1/4–1/2 in)", "1/4–1/2 in"},
		{"plant.root", "0.5–1.0 m", "0.5–1.0 m", "20–39 in (0.5–1.0 m)"},
		{"room", "7 ft", "2.1 m (7 ft)", "7 ft"},
		{"harvest.yield", "100 lb/100 ft", "1.5 kg/m of row (100 lb/100 ft)", "100 lb/100 ft"},
		{"harvest.yield", "3 kg/m²", "3 kg/m²", "0.61 lb/sq ft (3 kg/m²)"},
		{"harvest.yield", "8 lb/plant", "3.6 kg/plant (8 lb/plant)", "8 lb/plant"},
		{"harvest.yield", "2.5 lb/10 ft", "0.37 kg/m of row (2.5 lb/10 ft)", "2.5 lb/10 ft"},
		{"harvest.yield", "80 heads/100 ft", "2.6 heads/m of row (80 heads/100 ft)", "80 heads/100 ft"},
		{"harvest.unit_mass", "80 g", "80 g", "2.8 oz (80 g)"},
		{"seed.count", "25000 /oz", "880/g (25000 /oz)", "25000 /oz"},
		{"ph.range", "5.8–6.8", "5.8–6.8", "5.8–6.8"},
		{"harvest.span", "4–10 wk", "4–10 wk", "4–10 wk"},
		{"seed.germination", "55 %", "55 %", "55 %"},
		{"emergence.days", "51, 17, 10 d", "51, 17, 10 d", "51, 17, 10 d"},
		{"note", "no number", "no number", "no number"},
	} {
		f := Figure{Field: row.field, Text: row.text}
		if got := f.In(quantity.Metric); got != row.metric {
			t.Errorf("%s %q in metric is %q, want %q", row.field, row.text, got, row.metric)
		}
		if got := f.In(quantity.US); got != row.us {
			t.Errorf("%s %q in US units is %q, want %q", row.field, row.text, got, row.us)
		}
	}
}

// Every figure of the catalogue and of the covers can be told in either system: with the person's own units first, the
// source's words kept, and in one of the two systems as the source has it.
func TestEveryFigureIsToldInBoth(t *testing.T) {
	var all []Figure
	for _, c := range Default().All() {
		all = append(all, c.Figures...)
	}
	for _, p := range Protections() {
		all = append(all, p.Figures...)
	}
	for _, f := range all {
		metric, us, text := f.In(quantity.Metric), f.In(quantity.US), strings.TrimSpace(f.Text)
		if metric != text && us != text || !strings.Contains(metric, text) || !strings.Contains(us, text) {
			t.Errorf("%s %q: %q, %q", f.Field, f.Text, metric, us)
		}
		own, _, _ := strings.Cut(metric, " (")
		for _, unit := range []string{"°F", " in", " ft", " lb", " oz", "/oz", "/lb"} {
			if strings.Contains(own+" ", unit+" ") {
				t.Errorf("%s %q is %q in metric", f.Field, f.Text, metric)
			}
		}
		own, _, _ = strings.Cut(us, " (")
		for _, unit := range []string{"°C", " cm", " m", "kg", " g", "/g"} {
			if strings.HasSuffix(own, unit) {
				t.Errorf("%s %q is %q in US units", f.Field, f.Text, us)
			}
		}
	}
}
