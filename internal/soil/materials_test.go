package soil

import (
	"slices"
	"strings"
	"testing"

	"kailyard/doc"
)

// TestMaterials loads the whole file and holds every figure to its source.
func TestMaterials(t *testing.T) {
	list, err := Materials()
	if err != nil {
		t.Fatal(err)
	}
	if len(list) < 45 {
		t.Errorf("only %d materials", len(list))
	}
	for _, m := range list {
		for _, f := range []*Figure{m.N, m.P2O5, m.K2O, m.First, m.CCE, m.Fineness, m.Magnesium, m.Salt, m.Density, m.Expansion, m.CN, m.Moisture} {
			if f == nil || f.Source == "" {
				continue
			}
			for key := range strings.SplitSeq(f.Source, ";") {
				if _, ok := doc.Find(strings.TrimSpace(key)); !ok {
					t.Errorf("%s cites %q, which doc/SOURCES.md has not", m.ID, key)
				}
			}
		}
		switch m.Family {
		case Liming:
			if m.CCE == nil || m.CCE.Value <= 0 || m.Fineness == nil {
				t.Errorf("%s: a liming material needs a neutralising value and a fineness", m.ID)
			}
		case Acidifying:
			if m.CCE == nil || m.CCE.Value >= 0 || m.Most == 0 {
				t.Errorf("%s: an acidifying material needs a negative neutralising value and a limit", m.ID)
			}
		case Organic:
			if m.CN == nil || m.Moisture == nil || m.First == nil {
				t.Errorf("%s: needs carbon to nitrogen, moisture and the share of nitrogen in the first year", m.ID)
			}
		}
		if m.Raw && !slices.ContainsFunc(m.Cautions, func(c string) bool { return strings.Contains(c, "120 days") }) {
			t.Errorf("%s: raw manure without its days before harvest", m.ID)
		}
	}
}

// TestMaterialsAgainstFormulas: a neutralising value is never beyond what the pure substance has by
// its formula (atomic weights of 2021: Ca 40.078, C 12.011, O 15.999, H 1.008, Mg 24.305, S 32.06, Fe 55.845, N 14.007).
func TestMaterialsAgainstFormulas(t *testing.T) {
	const carbonate = 40.078 + 12.011 + 3*15.999
	pure := map[string]float64{
		"limestone-ground":    100,
		"limestone-dolomitic": 200 * carbonate / (2*carbonate - 40.078 + 24.305),
		"lime-hydrated":       100 * carbonate / (40.078 + 2*(15.999+1.008)),
		"lime-burnt":          100 * carbonate / (40.078 + 15.999),
		"sulfur-ground":       -100 * carbonate / 32.06,
		"ammonium-sulfate":    -100 * 2 * carbonate / (2*(14.007+4*1.008) + 32.06 + 4*15.999), // the whole ammonium nitrified and its nitrate leached
	}
	for id, limit := range pure {
		m, ok := Find(id)
		if !ok {
			t.Fatalf("no %s", id)
		}
		if share := m.CCE.Value / limit; share > 1.0001 || share < 0.6 {
			t.Errorf("%s: neutralising value %g %%, pure %.1f %%", id, m.CCE.Value, limit)
		}
	}
}

// TestMaterialUnits: converted figures by hand. 1 lb/ft³ is 0.0160185 kg/l, 1 lb/yd³ 0.000593276 kg/l (exact pound and foot).
func TestMaterialUnits(t *testing.T) {
	for _, row := range []struct {
		id   string
		want float64
	}{{"urea", 46 * 0.01601846}, {"manure-cattle-fresh", 1458 * 0.00059327642}, {"blend-10-10-10", 0.45359237 / 0.473176473}} {
		m, _ := Find(row.id)
		if got := m.Density.Value; got < row.want*0.99999 || got > row.want*1.00001 {
			t.Errorf("%s: %g kg/l, want %g", row.id, got, row.want)
		}
	}
	m, _ := Find("wood-ash")
	if got := float64(m.Most); got < 0.0976 || got > 0.0977 { // 2 lb over 100 sq ft is 97.65 g/m²
		t.Errorf("wood ash: most %g kg/m²", got)
	}
}

// TestBadMaterials: what is wrong with a file is said, with where.
func TestBadMaterials(t *testing.T) {
	head := "[[material]]\nid = \"x\"\nname = \"x\"\nfamily = \"liming\"\ndensity = { v = \"1 kg/l\", q = \"from memory\" }\n"
	for text, want := range map[string]string{
		head + `n = { v = "12", q = "from memory" }`:           "unit",
		head + `n = { v = "120 %", q = "from memory" }`:        "outside",
		head + `n = { v = "12 %", q = "sure" }`:                "quality",
		head + `n = { v = "12 %", q = "published" }`:           "names no source",
		head + `n = { v = "12 % (13–14)", q = "from memory" }`: "own range",
		head + `n = { v = "much", q = "from memory" }`:         "form",
		head + `cautions = ["none"]`:                           "caution",
		head + `most = { v = "5 lb", q = "from memory" }`:      "most",
		head + head: "twice",
		"[[material]]\nid = \"X y\"\nname = \"\"\nfamily = \"soup\"\n":  "small letters",
		"[[material]]\nid = \"a\"\nname = \"a\"\nfamily = \"liming\"\n": "density",
		head + `colour = "red"`:                           "materials.toml",
		head + `n = { v = "1.2.3 %", q = "from memory" }`: "number",
	} {
		if _, err := readMaterials([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s\n: got %v, want %q", text, err, want)
		}
	}
}
