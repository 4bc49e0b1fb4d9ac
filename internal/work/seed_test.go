package work

import (
	"math"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

const foot = quantity.MetresPerFoot

// Worked by hand: 60 plants from seed of which 0.8 come up and 0.75 of those grow on take 100 seeds;
// 48 plants at 0.9 take 53.33, so 54.
func TestSeedsForPlants(t *testing.T) {
	for _, row := range []struct {
		plants              int
		germination, growOn float64
		seeds               int
	}{
		{60, 0.8, 0.75, 100},
		{48, 0.9, 1, 54},
		{0, 0.8, 0.75, 0},
		{10, 0, 0, 10}, // nothing known: one seed a plant
		{10, 1.5, -1, 10},
	} {
		if got := SeedsFor(row.plants, row.germination, row.growOn); got != row.seeds {
			t.Errorf("SeedsFor(%d, %g, %g) = %d, want %d", row.plants, row.germination, row.growOn, got, row.seeds)
		}
	}
}

// A seed house's row chart (Olds Seeds): seed for 100 ft of row and seeds to the ounce. Seed counted
// the chart's way must come out at the chart's seeds to the foot: pea 1 lb of 120/oz = 19.2/ft,
// beet 1 oz of 1500/oz = 15/ft, bush bean 8 oz of 100/oz = 8/ft.
func TestSeedMassAgainstOldsRowChart(t *testing.T) {
	for _, row := range []struct {
		crop         string
		perOunce     float64
		ounces       float64
		seedsPerFoot float64
	}{
		{"pea", 120, 16, 19.2}, {"beet", 1500, 1, 15}, {"snap bean", 100, 8, 8}, {"carrot", 25000, 0.5, 125},
	} {
		seeds := int(math.Round(row.seedsPerFoot * 100))
		got := float64(SeedMass(seeds, row.perOunce/quantity.GramsPerOunce)) / quantity.GramsPerOunce
		if math.Abs(got-row.ounces) > 0.005*row.ounces {
			t.Errorf("%s: 100 ft takes %.3f oz, the chart says %.3f", row.crop, got, row.ounces)
		}
	}
	if SeedMass(100, 0) != 0 {
		t.Error("a crop with no seed count has no seed mass")
	}
}

// Common practice: peas lie thick in a flat trench 6 in wide, a seed every 2 in each way. The row
// chart (Olds Seeds) sows 19.2 seeds to the foot of row; within a tenth.
func TestPeasInTheTrenchAgainstOldsRowChart(t *testing.T) {
	s := drill(pea(), &garden.Planting{Way: crop.Sow, Rows: 1, Plants: 600}, 100*foot)
	if got := float64(s.seeds) / 100; math.Abs(got-19.2) > 1.92 {
		t.Errorf("%.1f seeds to the foot, the chart sows 19.2", got)
	}
	if s.abreast != 3 || s.station != 1 {
		t.Errorf("three lines of seed fit in 6 in at 2 in, one seed in a place: got %d and %d", s.abreast, s.station)
	}
}

// Common practice: beets a seed an inch; 20 ft of drill takes 240. Published row count: 20 ft at 3 in
// is 80 places (intervals, not posts).
func TestDrillCounts(t *testing.T) {
	beet := carrot()
	beet.Spacing.SowApart = 1 * inch
	if s := drill(beet, &garden.Planting{Way: crop.Sow, Rows: 1}, 20*foot); s.seeds != 240 {
		t.Errorf("a seed an inch over 20 ft: %d seeds, want 240", s.seeds)
	}
	beet.Spacing.SowApart, beet.Spacing.InRow = 3*inch, 6*inch
	if s := drill(beet, &garden.Planting{Way: crop.Sow, Rows: 1}, 20*foot); s.seeds != 80 {
		t.Errorf("a seed every 3 in over 20 ft: %d seeds, want 80", s.seeds)
	}
	if s := drill(beet, &garden.Planting{Way: crop.Sow, Rows: 3}, 20*foot); s.seeds != 240 {
		t.Errorf("three drills take three times as much: %d", s.seeds)
	}
}

// Common practice: a packet of carrot seed does about a 30-ft row. A packet holds about a gram
// (from memory: 0.5 to 2 g).
func TestCarrotPacketSowsThirtyFeet(t *testing.T) {
	c := carrot()
	s := drill(c, &garden.Planting{Way: crop.Sow, Rows: 1, Plants: 180}, 30*foot)
	if g := SeedMass(s.seeds, c.Seed.PerGram); g < 0.5 || g > 2 {
		t.Errorf("30 ft of drill takes %.2f g, not a packet", float64(g))
	}
	// And enough comes up to stand at the final distance: 720 seeds at the legal 55 %.
	if up := float64(s.seeds) * c.Seed.Germination; up < 180 {
		t.Errorf("only %.0f come up for 180 places", up)
	}
}

// Seed that is placed: where 75 of 100 come up and 85 of those grow on, two in a place.
func TestPlacedSeed(t *testing.T) {
	c := cabbage()
	if s := drill(c, &garden.Planting{Way: crop.Sow, Rows: 1, Plants: 20}, 30*foot); s.station != 2 || s.seeds != 40 {
		t.Errorf("two seeds in each of 20 places: got %d and %d", s.station, s.seeds)
	}
	c.Seed.Germination = 0.40
	if s := drill(c, &garden.Planting{Way: crop.Sow, Rows: 1, Plants: 20}, 30*foot); s.station != 3 {
		t.Errorf("never more than three in a place: got %d", s.station)
	}
}

// 32 plants with 85 of 100 seedlings good are 38 seedlings; two seeds a cell at 75 % leave one cell
// in sixteen empty, so 41 cells and 82 seeds (worked by hand).
func TestRaisingInCells(t *testing.T) {
	r := raising(cabbage(), &garden.Planting{Plants: 32})
	if r.seedlings != 38 || r.cells != 41 || r.each != 2 || r.seeds != 82 {
		t.Errorf("got %+v", r)
	}
	onion := &crop.Crop{Kind: "onion", Group: crop.Allium, Seed: crop.Seed{Germination: 0.70}}
	if r := raising(onion, &garden.Planting{Plants: 85}); r.cells != 0 || r.seedlings != 100 || r.seeds != 143 {
		t.Errorf("onions in trays: 100 seedlings from 143 seeds: got %+v", r)
	}
}

func TestSetsForPlaces(t *testing.T) {
	for places, want := range map[int]int{0: 0, 20: 21, 100: 105, 7: 8} {
		if got := SetsFor(places); got != want {
			t.Errorf("SetsFor(%d) = %d, want %d", places, got, want)
		}
	}
}
