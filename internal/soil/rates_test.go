package soil

import (
	"regexp"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func TestRates(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{rates(quantity.US, 3.5*10*PoundPer1000SquareFeet, 50*PoundPer1000SquareFeet), "3.5–5 lb per 100 sq ft"},
		{rates(quantity.Metric, 0.17, 0.24), "170–240 g/m²"},
		{rates(quantity.Metric, 0.8, 1.2), "800 g/m² to 1.2 kg/m²"},
		{rates(quantity.Metric, 0.2, 0.2), "200 g/m²"},
		{lengths(quantity.US, 4*inch, 6*inch), "4–6 in"},
		{inUnits("keep 10 cm (4 in) from it, 15–20 cm (6–8 in) deep", quantity.US), "keep 4 in from it, 6–8 in deep"},
		{inUnits("keep 10 cm (4 in) from it, 15–20 cm (6–8 in) deep", quantity.Metric), "keep 10 cm from it, 15–20 cm deep"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// TestOwnUnits: no sentence of what a bed is given counts in the other system's units.
func TestOwnUnits(t *testing.T) {
	others := map[quantity.System]*regexp.Regexp{
		quantity.Metric: regexp.MustCompile(`\b(lb|sq ft|square feet|oz|[0-9½] (in|ft)|°F)\b|an acre`),
		quantity.US:     regexp.MustCompile(`\b(g|kg|m²|cm)\b|square met|°C`),
	}
	for units, other := range others {
		var said []string
		reasons := func(list []garden.Reason) {
			for _, r := range list {
				said = append(said, r.Says)
			}
		}
		for _, ph := range []float64{0, 4.6, 5.4, 6.4, 7.6, 8.1} {
			g := garden.Garden{Beds: []garden.Bed{{ID: 1, Name: "A", Length: 6, Width: 1.2}}}
			g.Site.Units, g.Site.Soil.Weighs = units, units
			g.Site.Soil.Drift = garden.TowardsAcid
			if ph > 7 {
				g.Site.Soil.Drift = garden.TowardsAlkaline
			}
			if ph > 0 {
				g.Tests = []garden.SoilTest{{Date: civil.Of(2025, 3, 1), PH: &ph, Organic: ptr(5.0)}}
				g.Treatments = []garden.Treatment{{Date: civil.Of(2025, 10, 1), BedID: 1, Material: "limestone-ground", Amount: 1}, {Date: civil.Of(2026, 4, 1), BedID: 1, Material: "compost", Volume: 200}}
			}
			ground := GroundOf(g, g.Beds[0], nil, civil.SeasonOf(2027, 44), crop.Default())
			r, err := ReactionOf(SourOf(g, ground, "", civil.Of(2027, 3, 1)))
			if err != nil {
				t.Fatal(err)
			}
			reasons(r.Reasons)
			said = append(said, r.Advice...)
			for _, d := range append(r.Others, deref(r.Dose)...) {
				reasons(d.Reasons)
				said = append(said, d.Cautions...)
			}
			fed, list, err := Feed([]Ground{ground}, nil, Choice{Units: units}, 0)
			if err != nil {
				t.Fatal(err)
			}
			reasons(append(fed[0].Reasons, list.Reasons...))
			said = append(said, fed[0].Cautions...)
			for _, d := range fed[0].Dressings {
				reasons(d.Reasons)
				said = append(said, d.How)
			}
		}
		for _, state := range []garden.GroundState{garden.Sod, garden.Neglected, garden.Cultivated} {
			b, err := Break(10, garden.Soil{State: state, Topsoil: 0.2, Texture: garden.Clay}, units)
			if err != nil {
				t.Fatal(err)
			}
			reasons(b.Reasons)
			said = append(said, b.Cautions...)
			for _, toil := range b.Toils {
				said = append(said, toil.Passes...)
			}
		}
		for _, h := range plantingHoles {
			h = h.said(units)
			reasons(h.Reason)
			said = append(append(said, h.Level), h.How...)
		}
		for _, text := range said {
			if strings.Contains(text, "%!") {
				t.Errorf("%s: %q", units, text)
			}
			if found := other.FindString(text); found != "" {
				t.Errorf("%s: %q has %q", units, text, found)
			}
		}
	}
}

func deref(d *Dose) []Dose {
	if d == nil {
		return nil
	}
	return []Dose{*d}
}

// TestFeedingStages: no stage of a side-dressing counts in the other system's units.
func TestFeedingStages(t *testing.T) {
	rows, err := sideRows()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		for _, m := range row.when {
			if metric := inUnits(m.Stage, quantity.Metric); strings.Contains(metric, " in)") || strings.Contains(metric, "foot") || strings.Contains(metric, " inch") {
				t.Errorf("%q", metric)
			}
			if us := inUnits(m.Stage, quantity.US); strings.Contains(us, "cm") {
				t.Errorf("%q", us)
			}
		}
	}
}
