package garden_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func drawFigure(t *rapid.T, name string, low, high float64) *float64 {
	if !rapid.Bool().Draw(t, name+" given") {
		return nil
	}
	v := rapid.Float64Range(low, high).Draw(t, name)
	return &v
}

func drawMass(t *rapid.T, name string) quantity.Kilogram {
	return quantity.Kilogram(rapid.OneOf(rapid.Float64Range(0.001, 90), rapid.Map(rapid.IntRange(1, 90), func(n int) float64 { return float64(n) * quantity.KilogramsPerPound })).Draw(t, name))
}

func drawVolume(t *rapid.T, name string) quantity.Litre {
	return quantity.Litre(rapid.OneOf(rapid.Float64Range(0.001, 190), rapid.Map(rapid.IntRange(1, 40), func(n int) float64 { return float64(n) * quantity.LitresPerGallon })).Draw(t, name))
}

// drawGround draws soil, tests, treatments, packages and heaps that the rules allow.
func drawGround(t *rapid.T, g *garden.Garden) {
	soil := func(name string) garden.Soil {
		return garden.Soil{
			Texture: rapid.SampledFrom(append([]garden.Texture{""}, garden.Textures...)).Draw(t, name+" texture"), Topsoil: drawLength(0, 2).Draw(t, name+" topsoil"),
			Tilled: drawLength(0, 0.9).Draw(t, name+" dug to"), Spit: rapid.SampledFrom([]garden.DiggingTool{"", garden.Tiller}).Draw(t, name+" tool"),
		}
	}
	g.Site.Soil = soil("site")
	g.Site.Soil.Drift = rapid.SampledFrom([]garden.Drift{"", garden.TowardsAcid, garden.Neither}).Draw(t, "drift")
	g.Site.Soil.Bucket = drawVolume(t, "bucket")
	g.Site.Soil.Natural = rapid.Bool().Draw(t, "natural")
	g.Site.Soil.Weighs = rapid.SampledFrom([]quantity.System{quantity.Metric, quantity.US}).Draw(t, "weighs")
	var ids []int64
	for i := range g.Beds {
		g.Beds[i].Soil = soil("bed")
		g.Beds[i].Soil.State = rapid.SampledFrom([]garden.GroundState{"", garden.Sod}).Draw(t, "state")
		ids = append(ids, g.Beds[i].ID)
	}
	for range rapid.IntRange(0, 2).Draw(t, "tests") {
		test := garden.SoilTest{
			Date: drawDay(t, "date"), Kit: rapid.Bool().Draw(t, "kit"), Depth: drawLength(0.03, 0.4).Draw(t, "depth"), PH: drawFigure(t, "ph", 4, 8), Organic: drawFigure(t, "organic", 0, 20),
			Acidity: drawFigure(t, "acidity", 0, 20), CEC: drawFigure(t, "cec", 0, 50), Lead: drawFigure(t, "lead", 0, 3000), Lab: drawText(t, "lab"), Note: drawText(t, "note"),
			Texture:  rapid.SampledFrom(append([]garden.Texture{""}, garden.Textures...)).Draw(t, "texture"),
			Elements: []garden.Reading{{Element: garden.Phosphorus, Value: rapid.Float64Range(0, 400).Draw(t, "P"), Unit: garden.PPM, Extractor: garden.Bray1}, {Element: garden.Potassium, Class: garden.Low}},
		}
		if test.Salt = test.PH != nil && rapid.Bool().Draw(t, "salt"); test.PH == nil {
			test.Buffer, test.Method = drawFigure(t, "buffer", 5, 7), garden.Sikora
			if test.Buffer == nil {
				test.Method = ""
			}
		}
		if test.Salts = drawFigure(t, "salts", 0, 9); test.Salts != nil {
			test.SaltsBy = garden.OneToTwo
		}
		if rapid.Bool().Draw(t, "looked for lime") {
			free := rapid.Bool().Draw(t, "lime")
			test.FreeLime = &free
		}
		if len(ids) > 0 && rapid.Bool().Draw(t, "some beds") {
			test.Beds = ids[:1]
		}
		g.Tests = append(g.Tests, test)
	}
	for range min(len(ids), rapid.IntRange(0, 2).Draw(t, "treatments")) {
		g.Treatments = append(g.Treatments, garden.Treatment{
			Date: drawDay(t, "date"), BedID: ids[0], Material: "limestone-ground", Amount: drawMass(t, "amount"), Volume: drawVolume(t, "volume"), Depth: drawLength(0, 0.3).Draw(t, "depth"), Note: drawText(t, "note"),
		})
	}
	slices.SortStableFunc(g.Tests, func(a, b garden.SoilTest) int { return int(a.Date - b.Date) })
	slices.SortStableFunc(g.Treatments, func(a, b garden.Treatment) int { return int(a.Date - b.Date) })
	for range rapid.IntRange(0, 2).Draw(t, "packages") {
		n := rapid.Float64Range(1, 30).Draw(t, "n")
		g.Packages = append(g.Packages, garden.Package{
			Material: "blend-2", Name: drawText(t, "name"), Mass: drawMass(t, "mass"), Volume: drawVolume(t, "volume"), Price: rapid.Float64Range(0, 99).Draw(t, "price"),
			N: &n, P2O5: &n, K2O: &n, CCE: drawFigure(t, "cce", 0, 120), Fineness: drawFigure(t, "fineness", 0, 100),
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "heaps") {
		h := garden.Heap{Name: "H" + drawText(t, "name"), Started: drawDay(t, "started"), Note: drawText(t, "note")}
		h.Put = []garden.HeapPart{{Feedstock: "hay", Volume: drawVolume(t, "volume"), Moisture: drawFigure(t, "moisture", 0, 90)}}
		warm := quantity.Celsius(rapid.Float64Range(-5, 80).Draw(t, "warm"))
		h.Log = []garden.HeapEntry{{Date: h.Started + 3, Kind: garden.HeapHeat, Celsius: &warm}, {Date: h.Started + 9, Kind: garden.HeapTurned, Text: drawText(t, "text")}}
		if rapid.Bool().Draw(t, "emptied") {
			day := h.Started + 99
			h.Emptied = &day
		}
		g.Heaps = append(g.Heaps, h)
	}
}

func figure(v float64) *float64 { return &v }

// What no soil can be is refused with its field and a remedy; what is odd is doubted.
func TestSoilTestsAreLookedAt(t *testing.T) {
	day := civil.Of(2027, 4, 1)
	reading := func(r garden.Reading) garden.SoilTest { return garden.SoilTest{Elements: []garden.Reading{r}} }
	rows := []struct {
		name   string
		test   garden.SoilTest
		field  string
		doubt  bool
		says   string
		remedy string
	}{
		{"a point is missing", garden.SoilTest{PH: figure(65)}, "ph", false, "pH is 65", "6.5"},
		{"pH 14", garden.SoilTest{PH: figure(14)}, "ph", false, "which no soil has", "between 4 and 9"},
		{"pH below 0", garden.SoilTest{PH: figure(-1)}, "ph", false, "pH is -1", ""},
		{"no number", garden.SoilTest{PH: figure(math.NaN())}, "ph", false, "NaN", ""},
		{"pH 3.1", garden.SoilTest{PH: figure(3.1)}, "ph", true, "unusual", "test again"},
		{"nothing", garden.SoilTest{}, "ph", false, "tells nothing", ""},
		{"buffer below pH", garden.SoilTest{PH: figure(6.2), Buffer: figure(5.8), Method: garden.SMP}, "buffer_ph", false, "below the soil's pH", "which is which"},
		{"buffer without method", garden.SoilTest{PH: figure(5.5), Buffer: figure(6.4)}, "buffer_method", false, "no method", "different amounts"},
		{"unknown method", garden.SoilTest{PH: figure(5.5), Buffer: figure(6.4), Method: "Sikorra"}, "buffer_method", false, "not known", "did you mean Sikora?"},
		{"buffer above its start", garden.SoilTest{PH: figure(5.5), Buffer: figure(7.4), Method: garden.Mehlich}, "buffer_ph", true, "not above 6.6", ""},
		{"unknown extractor", reading(garden.Reading{Element: garden.Phosphorus, Value: 20, Unit: garden.PPM, Extractor: "Bray"}), "extractor", false, "not known", "Bray 1"},
		{"no unit", reading(garden.Reading{Element: garden.Potassium, Value: 120}), "unit", false, "no unit", "ppm"},
		{"lb/acre as ppm", reading(garden.Reading{Element: garden.Phosphorus, Value: 640, Unit: garden.PPM}), "value", true, "unusually high", "lb/acre"},
		{"more than soil holds", reading(garden.Reading{Element: garden.Phosphorus, Value: 9000, Unit: garden.PPM}), "value", false, "more than any soil holds", ""},
		{"meq as ppm", reading(garden.Reading{Element: garden.Calcium, Value: 9, Unit: garden.PPM}), "value", true, "unusually low", "meq/100 g"},
		{"ppm as meq", reading(garden.Reading{Element: garden.Calcium, Value: 1200, Unit: garden.MeqPer100g}), "value", false, "more than any soil holds", ""},
		{"P in meq", reading(garden.Reading{Element: garden.Phosphorus, Value: 2, Unit: garden.MeqPer100g}), "unit", false, "not counted", ""},
		{"twice", garden.SoilTest{Elements: []garden.Reading{{Element: garden.Potassium, Class: garden.Low}, {Element: garden.Potassium, Class: garden.High}}}, "element", false, "given twice", ""},
		{"below nothing", garden.SoilTest{Lead: figure(-4)}, "lead_mg_kg", false, "-4", ""},
		{"salts of no method", garden.SoilTest{Salts: figure(2)}, "salts_in", false, "not told", "1:2"},
		{"organic over all", garden.SoilTest{Organic: figure(130)}, "organic_percent", false, "130", ""},
		{"depth in cm", garden.SoilTest{PH: figure(6), Depth: 15}, "depth", false, "15 m deep", "15 cm"},
	}
	for _, r := range rows {
		r.test.Date = day
		ps := r.test.Validate().Of(r.field)
		if len(ps) != 1 || ps[0].Doubt != r.doubt || !strings.Contains(ps[0].Says, r.says) || !strings.Contains(ps[0].Remedy, r.remedy) || ps[0].Remedy == "" {
			t.Errorf("%s: %v", r.name, r.test.Validate())
		}
	}
	fine := garden.SoilTest{Date: day, PH: figure(5.6), Buffer: figure(6.4), Method: garden.SMP, Elements: []garden.Reading{{Element: garden.Potassium, Value: 0.4, Unit: garden.MeqPer100g}, {Element: garden.Phosphorus, Value: 40, Unit: garden.PoundPerAcre, Extractor: garden.Olsen}}}
	limy := garden.SoilTest{Date: day, PH: figure(7.4), Buffer: figure(7.1), Method: garden.Sikora}
	over := garden.SoilTest{Date: day, PH: figure(6.9), Buffer: figure(6.6), Method: garden.Mehlich} // over its start a buffer tells of no need
	if fine.Validate() != nil || over.Validate() != nil || limy.Validate().Err() == nil {
		t.Errorf("%v; %v; %v", fine.Validate(), over.Validate(), limy.Validate())
	}
}

// 1 meq/100 g is 391 mg/kg of K, 121.5 of Mg, 200.4 of Ca (atomic weights 39.10, 24.305, 40.08 over the charge); 2 lb/acre are 1 ppm.
func TestMilligramPerKg(t *testing.T) {
	for _, r := range []struct {
		reading garden.Reading
		want    float64
	}{
		{garden.Reading{Element: garden.Potassium, Value: 1, Unit: garden.MeqPer100g}, 391},
		{garden.Reading{Element: garden.Magnesium, Value: 1, Unit: garden.MeqPer100g}, 121.5},
		{garden.Reading{Element: garden.Calcium, Value: 1, Unit: garden.MeqPer100g}, 200.4},
		{garden.Reading{Element: garden.Phosphorus, Value: 50, Unit: garden.PoundPerAcre}, 25},
		{garden.Reading{Element: garden.Phosphorus, Value: 22.4, Unit: garden.KgPerHectare}, 10},
	} {
		if got, ok := r.reading.MilligramPerKg(); !ok || math.Abs(got-r.want) > 1e-9 {
			t.Errorf("%+v: %v", r.reading, got)
		}
	}
}

func TestPackagesAndHeapsAreLookedAt(t *testing.T) {
	rows := []struct {
		ps    garden.Problems
		field string
		says  string
	}{
		{garden.Package{Material: "lime", Mass: 20, N: figure(5)}.Validate(), "n", "only part"},
		{garden.Package{Material: "lime", Mass: 20, N: figure(50), P2O5: figure(40), K2O: figure(20)}.Validate(), "n", "110 per cent"},
		{garden.Package{Material: "lime", Mass: 20, N: figure(0), P2O5: figure(0), K2O: figure(0)}.Validate(), "n", "nothing at all"},
		{garden.Package{Material: "lime"}.Validate(), "mass", "holds nothing"},
		{garden.Package{Material: "lime", Mass: -1}.Validate(), "mass", "-1 kg"},
		{garden.Package{Material: "lime", Mass: 1, Price: -2}.Validate(), "price", "-2"},
		{garden.Package{Material: "Ground lime", Mass: 1}.Validate(), "material", "not an ID"},
		{garden.Package{Material: "lime", Mass: 1, CCE: figure(950)}.Validate(), "cce", "950"},
		{garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, BedID: 1, Material: "lime"}.Validate(), "amount", "neither"},
		{garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, Material: "lime", Amount: 1}.Validate(), "bed", "no bed"},
		{garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Dug, BedID: 1, Material: "lime", Amount: 1}.Validate(), "kind", "fed"},
		{garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, BedID: 1, Material: "lime", Volume: -1}.Validate(), "volume", "-1"},
		{garden.Entry{Date: civil.Of(2027, 4, 1), Kind: garden.Fed, BedID: 1, Depth: 1}.Validate(), "material", "no material"},
		{garden.Heap{Name: "H", Started: civil.Of(2027, 4, 1), Put: []garden.HeapPart{{Feedstock: "hay"}}}.Validate(), "volume", "0 L of hay"},
		{garden.Heap{Name: "H", Started: civil.Of(2027, 4, 1), Log: []garden.HeapEntry{{Date: civil.Of(2027, 3, 1), Kind: garden.HeapTurned}}}.Validate(), "log", "older than the heap"},
		{garden.HeapEntry{Date: civil.Of(2027, 3, 1), Kind: garden.HeapHeat}.Validate(), "temperature", "no temperature"},
		{garden.Site{Name: "A", Soil: garden.Soil{Texture: "mud"}}.Validate(), "texture", "mud"},
		{garden.Bed{Name: "A", Length: 1, Width: 1, Sun: 8, Soil: garden.Soil{Bucket: 3}}.Validate(), "", "whole garden"},
	}
	for i, r := range rows {
		if len(r.ps.Of(r.field)) != 1 || !strings.Contains(r.ps.Of(r.field)[0].Says, r.says) || r.ps.Err() == nil {
			t.Errorf("row %d: %v", i, r.ps)
		}
	}
	g := garden.Garden{Site: garden.Site{Name: "A"}, Beds: []garden.Bed{{ID: 1, Name: "B", Length: 3, Width: 1, Sun: 8}},
		Treatments: []garden.Treatment{{Date: civil.Of(2027, 4, 1), BedID: 1, Material: "lime", Amount: 600}, {Date: civil.Of(2027, 4, 1), BedID: 2, Material: "lime", Amount: 1}}}
	if ps := g.Validate(nil); len(ps.Doubts()) != 1 || !strings.Contains(ps.Doubts()[0].Says, "200 kg on each square metre") || len(ps.Refused()) != 1 {
		t.Errorf("%v", ps)
	}
}

func TestSoilOfABed(t *testing.T) {
	g := garden.Garden{Site: garden.Site{Soil: garden.Soil{Texture: garden.Loam, Topsoil: 0.2, Drift: garden.TowardsAcid, Bucket: 9, Weighs: quantity.US}}}
	want := garden.Soil{Texture: garden.Clay, Topsoil: 0.2, State: garden.Sod, Drift: garden.TowardsAcid, Bucket: 9, Weighs: quantity.US}
	if got := g.SoilOf(garden.Bed{Soil: garden.Soil{Texture: garden.Clay, State: garden.Sod}}); got != want {
		t.Errorf("%+v", got)
	}
	if got := g.SoilOf(garden.Bed{}); got.State != garden.Cultivated || got.Texture != garden.Loam {
		t.Errorf("%+v", got)
	}
}

// Tests written in any order are read by date, and a fault is still told at its own line.
func TestTestsAreReadByDate(t *testing.T) {
	text := "[site]\nname = \"A\"\nlatitude = 40\nlongitude = 3\n[[soil_test]]\ndate = 2027-05-01\nph = 6\n[[soil_test]]\ndate = 2026-05-01\nph = 5.5\n"
	g, err := garden.ReadDescription("g", strings.NewReader(text), nil)
	if err != nil || len(g.Tests) != 2 || *g.Tests[0].PH != 5.5 {
		t.Errorf("%+v, %v", g.Tests, err)
	}
	_, err = garden.ReadDescription("g", strings.NewReader(strings.Replace(text, "5.5", "55", 1)), nil)
	if err == nil || !strings.Contains(err.Error(), "g:10:6:") {
		t.Errorf("%v", err)
	}
}
