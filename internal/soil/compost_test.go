package soil

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The worked example of the mixture formulas (CORNELL-CN; formulas seen, the example's numbers from memory): 10 kg of grass
// clippings (77 % water, carbon 45 %, nitrogen 2.4 %) and leaves (35 %, 50 %, 0.75 %).
func TestCornellMixture(t *testing.T) {
	q, err := ForMoisture(10, 77, 35, 60)
	if err != nil || math.Abs(float64(q)-6.8) > 0.05 {
		t.Errorf("leaves for 60 %% water: %v kg, %v; printed 6.8", q, err)
	}
	grass, leaves := Portion{10, 77, 45, 2.4}, Portion{1, 35, 50, 0.75}
	q, err = ForRatio(grass, leaves, 30)
	if err != nil || math.Abs(float64(q)-3.4741) > 0.00005 {
		t.Errorf("leaves for 30 to 1: %v kg, %v; 3.4741", q, err)
	}
	leaves.Fresh = q
	if r := MixtureRatio([]Portion{grass, leaves}); math.Abs(r-30) > 0.01 {
		t.Errorf("ratio %v, want 30", r)
	}
	if m := MixtureMoisture([]Portion{grass, leaves}); math.Abs(m-66.17) > 0.02 {
		t.Errorf("moisture %v, want 66.17", m)
	}
}

// A handout's sum, percentages of fresh weight, without moisture (seen): 50, 10 and 2 lb with carbon 40, 10 and 25 % and nitrogen 1 %:
// carbon 21.5, nitrogen 0.62, ratio 34.7.
func TestHandoutMixture(t *testing.T) {
	parts := []Portion{{50, 0, 40, 1}, {10, 0, 10, 1}, {2, 0, 25, 1}}
	if r := MixtureRatio(parts); math.Abs(r-34.7) > 0.05 {
		t.Errorf("ratio %v, printed 34.7", r)
	}
	var carbon, nitrogen float64
	for _, p := range parts {
		carbon += float64(p.Fresh) * p.Carbon / 100
		nitrogen += float64(p.Fresh) * p.Nitrogen / 100
	}
	if math.Abs(carbon-21.5) > 0.005 || math.Abs(nitrogen-0.62) > 0.005 {
		t.Errorf("carbon %v, nitrogen %v", carbon, nitrogen)
	}
}

func TestMixturesThatCannotBe(t *testing.T) {
	if _, err := ForMoisture(10, 77, 70, 60); err == nil {
		t.Error("two wet things made a dry one")
	}
	if _, err := ForRatio(Portion{10, 50, 45, 0.5}, Portion{1, 50, 45, 0.9}, 30); err == nil {
		t.Error("two brown things made a green one")
	}
	if MixtureRatio(nil) != 0 || MixtureMoisture(nil) != 0 || WaterToAdd(10, 70, 55) != 0 {
		t.Error("nothing makes nothing")
	}
	if got := WaterToAdd(100, 40, 55); math.Abs(float64(got)-100.0*15/45) > 1e-9 {
		t.Errorf("water %v", got)
	}
}

// Feedstocks: the ratios are those of the tables, and no carbon is more than plant matter has.
func TestFeedstocks(t *testing.T) {
	all := Feedstocks()
	if len(all) < 25 {
		t.Errorf("only %d feedstocks", len(all))
	}
	seen := map[string]bool{}
	for _, f := range all {
		if seen[f.ID] || f.ID == "" {
			t.Errorf("%q stands twice", f.ID)
		}
		seen[f.ID] = true
		if f.Carbon > 52 || f.Nitrogen <= 0 || f.Moisture < 0 || f.Moisture >= 100 || f.Density <= 0.03 || f.Density > 1.3 || f.Quality == "" {
			t.Errorf("%+v", f)
		}
		if back, ok := FindFeedstock(f.ID); !ok || back.Name != f.Name {
			t.Errorf("%s is not found", f.ID)
		}
		m, ok := Find(f.ID)
		if ok && math.Abs(f.Ratio()-m.CN.Value) > 1e-9 {
			t.Errorf("%s has ratio %v", f.ID, f.Ratio())
		}
	}
	for _, id := range []string{"leaves", "grass-clippings", "straw", "sawdust", "kitchen-scraps", "manure-horse-fresh", "sod"} {
		if !seen[id] {
			t.Errorf("no %s", id)
		}
	}
}

// Dry leaves and fresh grass: common practice is two to four parts of leaves to one of grass by volume, loose.
func TestLeavesAndGrass(t *testing.T) {
	h, err := MixHeap([]garden.HeapPart{{Feedstock: "leaves", Volume: 1000}, {Feedstock: "grass-clippings", Volume: 1000}}, quantity.Metric)
	if err != nil {
		t.Fatal(err)
	}
	// As in the worked example the two cannot meet both goals at once: at 30 to 1 they are 66 % water.
	if h.Best || h.Ratio < 25-1e-6 || h.Ratio > 35+1e-6 || h.Moisture < 60 || h.Moisture > 65+1e-6 || h.Water != 0 {
		t.Errorf("%+v", h)
	}
	if parts := float64(h.Parts[0].Volume / h.Parts[1].Volume); parts < 1 || parts > 5 {
		t.Errorf("%v parts of leaves to one of grass", parts)
	}
	if h.OutLow >= h.OutHigh || h.OutHigh >= h.In || h.Built >= h.In {
		t.Errorf("volumes %+v", h)
	}
}

func TestHeapsThatDoNotMix(t *testing.T) {
	mix := func(id string, litres float64) HeapMix {
		h, err := MixHeap([]garden.HeapPart{{Feedstock: id, Volume: quantity.Litre(litres)}}, quantity.Metric)
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	if h := mix("sawdust", 500); !strings.Contains(h.Short, "brown stuff") || !strings.Contains(h.Short, "grass clippings") || h.Best {
		t.Errorf("sawdust: %+v", h.Short)
	}
	if h := mix("manure-poultry-fresh", 500); !strings.Contains(h.Short, "green stuff") || !strings.Contains(h.Short, "leaves") {
		t.Errorf("poultry: %+v", h.Short)
	}
	if h := mix("manure-horse-fresh", 900); !strings.Contains(h.Short, "too wet") || !strings.Contains(strings.Join(h.Cautions, " "), "counts as raw manure") {
		t.Errorf("horse: %q %q", h.Short, h.Cautions)
	}
	if h := mix("leaves", 50); len(h.Doubts) == 0 {
		t.Error("a small heap was not doubted")
	}
	for _, bad := range [][]garden.HeapPart{nil, {{Feedstock: "gold", Volume: 3}}, {{Feedstock: "leaves"}}, {{Feedstock: "leaves", Volume: quantity.Litre(math.NaN())}}} {
		if _, err := MixHeap(bad, quantity.US); err == nil {
			t.Errorf("%v was mixed", bad)
		}
	}
}

// Whatever there is: the heap is within its bounds, uses no more than there is, and no single thing left over could still go in
// whole (a largest heap). Brute force over a grid of two feedstocks finds no larger one.
func TestMixHeapLaws(t *testing.T) {
	var ids []string
	for _, f := range Feedstocks() {
		ids = append(ids, f.ID)
	}
	rapid.Check(t, func(t *rapid.T) {
		var have []garden.HeapPart
		for range rapid.IntRange(1, 5).Draw(t, "parts") {
			have = append(have, garden.HeapPart{Feedstock: rapid.SampledFrom(ids).Draw(t, "feedstock"), Volume: quantity.Litre(rapid.Float64Range(1, 3000).Draw(t, "volume"))})
		}
		h, err := MixHeap(have, quantity.US)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range h.Parts {
			if p.Volume < 0 || math.Abs(float64(p.Volume+p.Left-have[i].Volume)) > 1e-5 {
				t.Errorf("%v of %v", p.Volume, have[i].Volume)
			}
		}
		if h.Short != "" {
			return
		}
		low, high, water := someRatioLow, someRatioHigh, someWater
		if h.Best {
			low, high, water = bestRatioLow, bestRatioHigh, mostWater
		}
		if h.Ratio < low-1e-3 || h.Ratio > high+1e-3 || h.Moisture > water+1e-3 {
			t.Errorf("ratio %v, water %v: %+v", h.Ratio, h.Moisture, have)
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		parts, err := feedstocksOf([]garden.HeapPart{
			{Feedstock: rapid.SampledFrom(ids).Draw(t, "a"), Volume: 100}, {Feedstock: rapid.SampledFrom(ids).Draw(t, "b"), Volume: quantity.Litre(rapid.Float64Range(10, 900).Draw(t, "volume"))},
		})
		if err != nil {
			t.Fatal(err)
		}
		got := total(chooseVolumes(parts, bestRatioLow, bestRatioHigh, mostWater))
		const steps = 60
		for i := 0; i <= steps; i++ {
			for j := 0; j <= steps; j++ {
				u, v := float64(parts[0].Volume)*float64(i)/steps, float64(parts[1].Volume)*float64(j)/steps
				one, two := parts[0].Feedstock, parts[1].Feedstock
				portions := []Portion{{quantity.Kilogram(u * one.Density), one.Moisture, one.Carbon, one.Nitrogen}, {quantity.Kilogram(v * two.Density), two.Moisture, two.Carbon, two.Nitrogen}}
				r, m := MixtureRatio(portions), MixtureMoisture(portions)
				if u+v > got+1e-6 && r >= bestRatioLow && r <= bestRatioHigh && m <= mostWater {
					t.Fatalf("%s %v with %s %v is a larger heap than %v", one.ID, u, two.ID, v, got)
				}
			}
		}
	})
}
