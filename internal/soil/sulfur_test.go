package soil

import (
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// TestTableSulfur: Western Fertilizer Handbook (remembered), to 6.5 in lb an acre: 8.5 sand 2000, loam 2500, clay 3000; 8.0 loam 1500;
// 7.5 clay 1000; 7.0 sand 100. Michigan State table as a grower's letter repeats it, to 4.5: 5.5 loam 1030, 6.0 sand 530, 7.0 clay 3830.
func TestTableSulfur(t *testing.T) {
	for _, c := range []struct {
		texture  garden.Texture
		from, to float64
		want     float64
	}{
		{garden.Sand, 8.5, 6.5, 2000}, {garden.Loam, 8.5, 6.5, 2500}, {garden.Clay, 8.5, 6.5, 3000}, {garden.Loam, 8.0, 6.5, 1500},
		{garden.Clay, 7.5, 6.5, 1000}, {garden.Sand, 7.0, 6.5, 100}, {garden.Loam, 5.5, 4.5, 1030}, {garden.Sand, 6.0, 4.5, 530}, {garden.Sand, 6.5, 4.5, 660},
		{garden.Loam, 5, 6, 0},
	} {
		near(t, "lb/acre", poundsPerAcre(TableSulfur(c.texture, c.from, c.to)), c.want, 0.5)
	}
}

// TestSulfurPerUnit: garden soil text: 10, 15 and 20 lb of sulfur to 1,000 square feet for one pH unit on sandy, loamy and clay ground.
func TestSulfurPerUnit(t *testing.T) {
	for i, want := range []float64{10, 15, 20} {
		near(t, "lb/1000 sq ft", sulfurPerUnit[0][i]*10, want, 1e-9)
	}
	r := SulfurRequirement(garden.Loam, 7.3, 6.3, quantity.Metric)
	if r.Lime < r.Low || r.Lime > r.High || r.High > 4*r.Low {
		t.Errorf("%v of %v to %v", r.Lime, r.Low, r.High)
	}
}

// TestIronSulfate: Royal Horticultural Society, Acidifying soil: sulfur 135 g/m² on sand and 270 on clay, iron sulfate 1080 and 2160. Exact.
func TestIronSulfate(t *testing.T) {
	near(t, "sand", float64(IronSulfate(0.135)), 1.080, 1e-12)
	near(t, "clay", float64(IronSulfate(0.270)), 2.160, 1e-12)
}

// TestSulfurStoichiometry: 1 kg of S takes 3.12 kg of calcium carbonate (100.087 / 32.06).
func TestSulfurStoichiometry(t *testing.T) {
	near(t, "kg", float64(LimeTakenBySulfur(1)), 3.12, 0.005)
}

// TestClemsonCap: Clemson, soil acidification notes: 5 to 10 lb to 1,000 square feet is 0.05 to 0.10 lb to 10 and 218 to 436 lb an acre.
func TestClemsonCap(t *testing.T) {
	for pounds, want := range map[float64][2]float64{5: {0.05, 218}, 10: {0.10, 436}} {
		rate := quantity.KilogramPerSquareMetre(pounds) * PoundPer1000SquareFeet
		near(t, "lb/10 sq ft", float64(rate)*10*quantity.SquareMetresPerFoot/quantity.KilogramsPerPound, want[0], 0.0005)
		near(t, "lb/acre", poundsPerAcre(rate), want[1], 0.5)
	}
}

// TestRateConversions: by the definitions of pound, foot and acre: 100 lb/acre is 2.2957 lb/1000 sq ft, 11.2085 g/m², 112.085 kg/ha;
// 1 lb/1000 sq ft is 43.56 lb/acre and 4.88243 g/m²; a ton an acre 45.914 lb/1000 sq ft, 4.5914 lb/100 sq ft, 224.17 g/m²; 1 oz/sq yd 33.906 g/m².
func TestRateConversions(t *testing.T) {
	near(t, "lb/1000", float64(100*PoundPerAcre/PoundPer1000SquareFeet), 2.2957, 0.001)
	near(t, "g/m²", float64(100*PoundPerAcre)*1000, 11.2085, 0.001)
	near(t, "kg/ha", float64(100*PoundPerAcre)*1e4, 112.085, 0.001)
	near(t, "lb/acre", poundsPerAcre(PoundPer1000SquareFeet), 43.56, 0.001)
	near(t, "g/m²", float64(PoundPer1000SquareFeet)*1000, 4.88243, 0.001)
	near(t, "lb/1000", float64(TonPerAcre/PoundPer1000SquareFeet), 45.914, 0.001)
	near(t, "g/m²", float64(TonPerAcre)*1000, 224.17, 0.005)
	ounce, err := quantity.ParseRate("1 oz/sq yd", quantity.US)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "g/m²", float64(ounce)*1000, 33.906, 0.001)
}

// TestFreeLime: a fizz decides, else the pH.
func TestFreeLime(t *testing.T) {
	yes, no := true, false
	for _, c := range []struct {
		test *garden.SoilTest
		ph   float64
		want bool
	}{{nil, 8.0, true}, {nil, 7.5, false}, {&garden.SoilTest{FreeLime: &yes}, 7.4, true}, {&garden.SoilTest{FreeLime: &no}, 8.1, false}} {
		if got, _ := FreeLime(c.test, c.ph); got != c.want {
			t.Errorf("%+v", c)
		}
	}
}
