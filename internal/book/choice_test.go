package book

import (
	"bytes"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// TestChoiceIsKept: what the person will have put on their ground is kept with the site, goes out and comes in with a description, and
// what is no lime and no organic matter is refused.
func TestChoiceIsKept(t *testing.T) {
	b := newBook(t, Options{})
	g := ground()
	g.Site.Soil.Natural, g.Site.Soil.Lime, g.Site.Soil.Organic = true, "limestone-dolomitic", "leaf-mould"
	check(t, b.SaveSite(t.Context(), g.Site))
	kept, err := b.Garden(t.Context())
	check(t, err)
	if s := kept.Site.Soil; !s.Natural || s.Lime != "limestone-dolomitic" || s.Organic != "leaf-mould" {
		t.Fatalf("kept is %+v", s)
	}
	var text bytes.Buffer
	check(t, garden.WriteDescription(&text, kept))
	again, err := garden.ReadDescription("again.toml", &text, crop.Default())
	check(t, err)
	other := newBook(t, Options{})
	check(t, other.Import(t.Context(), again))
	if kept, err = other.Garden(t.Context()); err != nil || kept.Site.Soil.Lime != "limestone-dolomitic" || !kept.Site.Soil.Natural {
		t.Errorf("taken in: %+v, %v", kept.Site.Soil, err)
	}
	for _, wrong := range []garden.Soil{{Lime: "compost"}, {Lime: "moonstone"}, {Organic: "limestone-ground"}} {
		site := g.Site
		site.Soil = wrong
		site.Soil.Weighs = g.Site.Units
		if err := b.SaveSite(t.Context(), site); err == nil {
			t.Errorf("%+v is kept", wrong)
		}
		whole := again
		whole.Site = site
		if err := other.Import(t.Context(), whole); !IsKind(err, Refused) {
			t.Errorf("%+v is taken in: %v", wrong, err)
		}
	}
	if kept, err = b.Garden(t.Context()); err != nil || kept.Site.Soil.Organic != "leaf-mould" {
		t.Errorf("a refusal changed what was kept: %+v, %v", kept.Site.Soil, err)
	}
}

// TestOwnLimeIsChosen: a product whose package tells what it neutralises may be the garden's lime; it goes out and comes in with a
// description, and while it is chosen its last label cannot go. One whose package tells no such figure is refused.
func TestOwnLimeIsChosen(t *testing.T) {
	b := newBook(t, Options{})
	number := func(x float64) *float64 { return &x }
	own := garden.Package{Material: "quarry-fines", Name: "quarry fines", Mass: 25, CCE: number(88), Fineness: number(80)}
	id, err := b.AddPackage(t.Context(), own)
	check(t, err)
	_, err = b.AddPackage(t.Context(), garden.Package{Material: "own-feed", Name: "own feed", Mass: 10, N: number(6), P2O5: number(3), K2O: number(2)})
	check(t, err)
	site := ground().Site
	site.Soil.Lime = "own-feed"
	if err := b.SaveSite(t.Context(), site); err == nil || !strings.Contains(err.Error(), "neutralising value") {
		t.Errorf("a plant food is kept as lime: %v", err)
	}
	site.Soil.Lime = "quarry-fines"
	check(t, b.SaveSite(t.Context(), site))
	kept := mustGarden(t, b)
	if kept.Site.Soil.Lime != "quarry-fines" {
		t.Fatalf("kept is %+v", kept.Site.Soil)
	}
	wantTrouble(t, b.RemovePackage(t.Context(), id), Refused, "lime chosen for this garden", "choose another lime first")
	own.ID, own.CCE, own.N, own.P2O5, own.K2O = id, nil, number(1), number(1), number(1)
	wantTrouble(t, b.SavePackage(t.Context(), own), Refused, "lime chosen for this garden")
	var text bytes.Buffer
	check(t, garden.WriteDescription(&text, kept))
	again, err := garden.ReadDescription("again.toml", &text, crop.Default())
	check(t, err)
	other := newBook(t, Options{})
	check(t, other.Import(t.Context(), again))
	if got := mustGarden(t, other).Site.Soil.Lime; got != "quarry-fines" {
		t.Errorf("taken in: %q", got)
	}
	site.Soil.Lime = ""
	check(t, b.SaveSite(t.Context(), site))
	check(t, b.RemovePackage(t.Context(), id))
}

// TestImpossibleTests: what no ground has is refused wherever it comes from; what is odd, or of no use for want of its solution, is kept.
func TestImpossibleTests(t *testing.T) {
	b := newBook(t, Options{})
	check(t, b.Import(t.Context(), ground()))
	number := func(x float64) *float64 { return &x }
	day := civil.Of(2026, 10, 1)
	for name, wrong := range map[string]garden.SoilTest{
		"a missing point":                {Date: day, PH: number(65)},
		"pH 14":                          {Date: day, PH: number(14)},
		"a pH no ground has":             {Date: day, PH: number(1.5)},
		"more organic matter than there": {Date: day, Organic: number(140)},
	} {
		if _, err := b.AddTest(t.Context(), wrong); err == nil || !strings.Contains(err.Error(), " ") {
			t.Errorf("%s is kept: %v", name, err)
		}
		g := ground()
		g.Tests = []garden.SoilTest{wrong}
		if err := b.Import(t.Context(), g); err == nil {
			t.Errorf("%s is taken in", name)
		}
	}
	for name, odd := range map[string]garden.SoilTest{
		"no solution told": {Date: day, Elements: []garden.Reading{{Element: garden.Phosphorus, Value: 40, Unit: garden.PPM}}},
		"much phosphorus":  {Date: day, Elements: []garden.Reading{{Element: garden.Phosphorus, Value: 900, Unit: garden.PPM, Extractor: garden.Mehlich3}}},
	} {
		if ps := odd.Validate().Refused(); len(ps) > 0 {
			t.Fatalf("%s: %v", name, ps)
		}
		if _, err := b.AddTest(t.Context(), odd); err != nil {
			t.Errorf("%s is refused: %v", name, err)
		}
	}
}
