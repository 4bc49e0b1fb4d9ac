package soil

import (
	"fmt"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// limeCurve is the lime that one source gives from each pH up to 6.5, in pounds to a hundred square feet, by coarseness.
type limeCurve struct {
	source  string
	quality string
	from    []float64                    // pH
	pounds  map[garden.Texture][]float64 // at each of from; 0 at 6.5 is understood
	slope   map[garden.Texture]float64   // or: pounds for each pH unit
}

// limeCurves are the tables of lime by texture that were found. They differ up to twofold: a soil's own humus and kind of
// clay count for more than its name. Source: LIME-100; LIME-1000; LIME-UNIT; USDA-AH18.
var limeCurves = []limeCurve{
	{source: "LIME-100", quality: "published", from: []float64{4.0, 4.5, 5.0, 5.5, 6.0}, pounds: map[garden.Texture][]float64{
		garden.SandyLoam: {11.5, 9.5, 8, 6, 3}, garden.Loam: {16, 13.5, 10.5, 8, 4}, garden.ClayLoam: {23, 19.5, 15, 10.5, 5.5}}},
	{source: "LIME-1000", quality: "published", from: []float64{4.0, 4.5, 5.0, 5.5, 6.0}, pounds: map[garden.Texture][]float64{
		garden.Sand: {10, 8, 6.5, 4.5, 2}, garden.Loam: {17.5, 15, 11, 7.5, 3.5}, garden.Clay: {23, 20, 15, 10, 5}}},
	{source: "LIME-UNIT", quality: "published", slope: map[garden.Texture]float64{
		garden.SandyLoam: 3.5, garden.Loam: 5, garden.ClayLoam: 7}},
	{source: "USDA-AH18", quality: "from memory", from: []float64{4.5, 5.5}, pounds: map[garden.Texture][]float64{ // warm-temperate, steps summed
		garden.Sand: {3.2, 1.8}, garden.SandyLoam: {5.5, 3.2}, garden.Loam: {8.3, 4.6}, garden.SiltLoam: {11.9, 6.4}, garden.ClayLoam: {16.1, 9.2}, garden.Organic: {32.6, 17.4}}},
	{source: "USDA-AH18", quality: "from memory", from: []float64{4.5, 5.5}, pounds: map[garden.Texture][]float64{ // cool-temperate
		garden.Sand: {5.1, 2.8}, garden.SandyLoam: {9.7, 6.0}, garden.Loam: {13.3, 7.8}, garden.SiltLoam: {16.1, 9.2}, garden.ClayLoam: {19.3, 10.6}, garden.Organic: {37.1, 19.7}}},
}

// The textures that a table without a texture's own row is asked for instead.
var nearTexture = map[garden.Texture][]garden.Texture{
	garden.Sand: {garden.Sand, garden.SandyLoam}, garden.SandyLoam: {garden.SandyLoam, garden.Sand}, garden.Loam: {garden.Loam},
	garden.SiltLoam: {garden.SiltLoam, garden.Loam}, garden.ClayLoam: {garden.ClayLoam, garden.Clay}, garden.Clay: {garden.Clay, garden.ClayLoam},
	garden.Organic: {garden.Organic}, "": {garden.Loam, garden.SandyLoam},
}

// at is the lime of a curve from ph to 6.5, or what it lacks.
func (c limeCurve) at(texture garden.Texture, ph float64) (pounds float64, ok bool) {
	for _, t := range nearTexture[texture] {
		if slope, found := c.slope[t]; found {
			return max(0, slope*(6.5-ph)), true
		}
		if row, found := c.pounds[t]; found {
			return between(ph, append(slices.Clone(c.from), 6.5), append(slices.Clone(row), 0)), true
		}
	}
	return 0, false
}

// mostByTexture is the most lime that is given without a buffer test: half a kilogram a square metre, which a garden soil of
// pH 5 and middling texture takes. Source: PSU-HG (more than 10 lb to 100 square feet is split).
const mostByTexture = 10 * 10 * PoundPer1000SquareFeet

// TextureRequirement is the lime without a buffer test, from the kind of soil and the change of pH: the low middle of what the
// tables found give, capped, with the range they span. The low side is followed because too little is mended next year and
// too much is not; a buffer test is always the better way.
//
//	texture  empty: between loam and sandy loam
//	organic  per cent organic matter, 0: not known; above 5 the range is widened upwards, above 20 the soil counts as organic
//	result   kg/m² as fine pure limestone to furrow slice
//
// Source: LIME-100; LIME-1000; LIME-UNIT; USDA-AH18
func TextureRequirement(texture garden.Texture, organic, ph, target float64, units quantity.System) Requirement {
	r := Requirement{Depth: furrowSlice, Target: target, Method: "kind of soil"}
	if ph >= target {
		return r
	}
	if organic > 20 {
		texture = garden.Organic
	}
	low, high, follow, all := r.span(texture, ph, target)
	if organic > 5 && texture != garden.Organic {
		high *= 1.3 // humus holds acid; by how much a table of textures cannot tell
		r.Doubts = append(r.Doubts, fmt.Sprintf("%.3g %% organic matter holds more acid than the tables reckon with", organic))
	}
	unit := 10 * PoundPer1000SquareFeet // a pound to a hundred square feet
	r.Low, r.High = quantity.KilogramPerSquareMetre(low)*unit, quantity.KilogramPerSquareMetre(high)*unit
	r.Lime = min(quantity.KilogramPerSquareMetre(follow)*unit, mostByTexture)
	r.Low = min(r.Low, r.Lime)
	if ph < 4 {
		r.Doubts = append(r.Doubts, "the tables begin at pH 4.0")
	}
	name := string(texture)
	if name == "" {
		name = "soil of unknown texture"
		r.Doubts = append(r.Doubts, "the texture is not known: the tables are read for a light loam")
	}
	r.Reasons = []garden.Reason{
		{Says: fmt.Sprintf("For %s from pH %.1f to %.1f, %d tables give %s of fine limestone; the lower middle, %s, is followed, because more can be given next year and too much cannot be taken back.",
			name, ph, target, all, rates(units, r.Low, r.High), units.Rate(r.Lime)), Rule: "lime by kind of soil", Source: "LIME-100; LIME-1000; LIME-UNIT; USDA-AH18"},
		{Says: "A laboratory's buffer test would tell the need within about a quarter; by texture it is known only within a factor of two.", Rule: "lime by kind of soil"},
	}
	if r.Lime == mostByTexture {
		r.Reasons = append(r.Reasons, garden.Reason{Says: fmt.Sprintf("Without a buffer test no more than %s is given; test again after half a year.", units.Rate(mostByTexture)), Rule: "cap without a buffer test", Source: "PSU-HG"})
	}
	return r
}

// span is the least and the most that the tables give from ph to target, and the lower middle of them.
func (r *Requirement) span(texture garden.Texture, ph, target float64) (low, high, follow float64, tables int) {
	var found []float64
	for _, c := range limeCurves {
		below, ok := c.at(texture, ph)
		if !ok {
			continue
		}
		above, _ := c.at(texture, target)
		if target > 6.5 { // beyond the tables: at the rate of the last step
			step, _ := c.at(texture, 6.0)
			above = -step * (target - 6.5) / 0.5
		}
		found = append(found, max(0, below-above))
	}
	slices.Sort(found)
	return found[0], found[len(found)-1], found[(len(found)-1)/2], len(found)
}

// DepthScaled is a requirement for ground worked to another depth than the method counts for.
//
//	depth  m, 0.05 to 0.45; more than that is not worked by hand
//
// Source: MSU-E2567 (half the rate for 4 inches in place of 8)
func (r Requirement) DepthScaled(depth quantity.Metre, units quantity.System) Requirement {
	if depth <= 0 || r.Depth <= 0 || depth == r.Depth {
		return r
	}
	f := quantity.KilogramPerSquareMetre(depth / r.Depth)
	out := r
	out.Lime, out.Low, out.High, out.Depth = r.Lime*f, r.Low*f, r.High*f, depth
	if r.Lime > 0 {
		out.Reasons = append(slices.Clone(r.Reasons), garden.Reason{
			Says: fmt.Sprintf("The method counts for %s of ground and the bed is worked to %s, so it takes %.2f times its lime.", units.Depth(r.Depth), units.Depth(depth), float64(f)),
			Rule: "lime by depth", Source: "MSU-E2567"})
	}
	return out
}
