package soil

import (
	"fmt"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// coarseness is a texture as tables of sulfur part soils.
type coarseness int

const (
	coarse coarseness = iota
	middling
	fine
)

func coarsenessOf(t garden.Texture) coarseness {
	switch t {
	case garden.Sand, garden.SandyLoam:
		return coarse
	case garden.ClayLoam, garden.Clay, garden.Organic:
		return fine
	}
	return middling
}

// Sulfur, in pounds an acre to furrow slice, that brings ground without free lime from each pH down to 6.5, and from each pH down
// to 4.5, on sand, loam and clay.
//
// Source: WESTERN-FERTILIZER (to 6.5, from memory); MSU-SULFUR (to 4.5)
var (
	sulfurTo65 = struct {
		from   []float64
		pounds [3][]float64
	}{[]float64{6.5, 7.0, 7.5, 8.0, 8.5}, [3][]float64{{0, 100, 500, 1200, 2000}, {0, 150, 800, 1500, 2500}, {0, 300, 1000, 2000, 3000}}}
	sulfurTo45 = struct {
		from   []float64
		pounds [3][]float64
	}{[]float64{4.5, 5.0, 5.5, 6.0, 6.5, 7.0}, [3][]float64{{0, 175, 350, 530, 660, 840}, {0, 530, 1030, 1540, 2020, 2560}, {0, 800, 1600, 2300, 3030, 3830}}}
)

// Sulfur for each pH unit, in pounds to a hundred square feet, as other sources have it.
//
// Source: LIME-UNIT (10, 15 and 20 lb to a thousand); UT-BLUEBERRY (2 lb to a thousand for each tenth on middling ground, a third more or less on clay or sand); EXT-BLUEBERRY (1 lb to a hundred on sand, 2 on heavier)
var sulfurPerUnit = [][3]float64{{1.0, 1.5, 2.0}, {1.333, 2.0, 2.667}, {1.0, 2.0, 2.0}}

// TableSulfur is the elemental sulfur by the tables, pure, for furrow slice.
//
//	from, to  pH in water, 8.5 to 4.5; outside, the ends hold
//	result    kg/m²
//
// Source: WESTERN-FERTILIZER; MSU-SULFUR
func TableSulfur(texture garden.Texture, from, to float64) quantity.KilogramPerSquareMetre {
	if from <= to {
		return 0
	}
	c := coarsenessOf(texture)
	upper := func(ph float64) float64 { return between(ph, sulfurTo65.from, sulfurTo65.pounds[c]) }
	lower := func(ph float64) float64 { return between(ph, sulfurTo45.from, sulfurTo45.pounds[c]) }
	pounds := max(0, upper(from)-upper(to)) + max(0, lower(min(from, 6.5))-lower(min(to, 6.5)))
	return quantity.KilogramPerSquareMetre(pounds) * PoundPerAcre
}

// SulfurRequirement is the elemental sulfur that brings ground without free lime from a pH to a lower one, with the range of the
// sources; the lower middle is followed, because more can be given and too much harms.
//
// Source: WESTERN-FERTILIZER; MSU-SULFUR; LIME-UNIT; UT-BLUEBERRY; EXT-BLUEBERRY; RHS-S
func SulfurRequirement(texture garden.Texture, from, to float64, units quantity.System) Requirement {
	r := Requirement{Depth: furrowSlice, Target: to, Method: "sulfur by kind of soil"}
	if from <= to {
		return r
	}
	c := coarsenessOf(texture)
	unit := float64(10 * PoundPer1000SquareFeet)
	found := []float64{float64(TableSulfur(texture, from, to)) / unit}
	for _, rates := range sulfurPerUnit {
		found = append(found, rates[c]*(from-to))
	}
	if from >= 7 && from <= 7.5 && to >= 6 && to <= 6.5 {
		found = append(found, []float64{0.135, 0.2025, 0.270}[c]/unit) // RHS-S: 135 g/m² on sand, 270 on clay
	}
	slices.Sort(found)
	follow := found[(len(found)-1)/2]
	r.Low, r.Lime, r.High = quantity.KilogramPerSquareMetre(found[0]*unit), quantity.KilogramPerSquareMetre(follow*unit), quantity.KilogramPerSquareMetre(found[len(found)-1]*unit)
	r.Reasons = []garden.Reason{{Says: fmt.Sprintf("From pH %.1f to %.1f on %s ground, %d sources give %s of sulfur; the lower middle, %s, is followed, with a test before more.",
		from, to, [...]string{"light", "middling", "heavy"}[c], len(found), rates(units, r.Low, r.High), units.Rate(r.Lime)), Rule: "sulfur by kind of soil", Source: "WESTERN-FERTILIZER; MSU-SULFUR; LIME-UNIT; UT-BLUEBERRY; EXT-BLUEBERRY; RHS-S"}}
	return r
}

// IronSulfate is iron sulfate in place of sulfur: eight times the weight.
//
// Source: RHS-S
func IronSulfate(sulfur quantity.KilogramPerSquareMetre) quantity.KilogramPerSquareMetre {
	return 8 * sulfur
}

// LimeTakenBySulfur is the calcium carbonate that a mass of sulfur takes away once it has turned to acid: one mole for one.
//
// Source: IUPAC-2021 (100.087 / 32.06)
func LimeTakenBySulfur(sulfur quantity.Kilogram) quantity.Kilogram { return sulfur * (100.087 / 32.06) }

// freeLimePH is the pH above which ground usually holds free lime.
const freeLimePH = 7.8

// FreeLime says whether ground holds lime as such, which takes up all sulfur given before the pH moves.
//
// Source: RHS-S (it fizzes with vinegar); WESTERN-FERTILIZER (pH over about 7.8)
func FreeLime(test *garden.SoilTest, ph float64) (free bool, reason garden.Reason) {
	switch {
	case test != nil && test.FreeLime != nil && *test.FreeLime:
		return true, garden.Reason{Says: "It fizzes with vinegar: the ground holds free lime, and sulfur would be used up on that before the pH moves. Lowering it is not practical.", Rule: "free lime", Source: "RHS-S"}
	case test != nil && test.FreeLime != nil:
		return false, garden.Reason{}
	case ph > freeLimePH:
		return true, garden.Reason{Says: fmt.Sprintf("At pH %.1f there is probably free lime, and sulfur may not be practical. Drop vinegar on a little dry earth: if it fizzes, leave the pH as it is.", ph), Rule: "free lime", Source: "WESTERN-FERTILIZER"}
	}
	return false, garden.Reason{}
}

// AlkalineAdvice is how to garden where the pH stays high.
var AlkalineAdvice = []string{
	"Grow what stands it: asparagus, beet, cabbage kinds, leek, spinach and many herbs.",
	"Work in compost every year: it feeds where lime locks iron, manganese and zinc away.",
	"Feed nitrogen as ammonium sulfate, which acidifies a little, and give no lime, wood ash or bone meal.",
	"Yellow leaves with green veins tell of iron: a foliar or chelated iron, by its label, does more than sulfur.",
	"For acid-loving crops make a raised bed or tub of peat or leaf mould and sand, and water it with rain.",
}
