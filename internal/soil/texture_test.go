package soil

import (
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

const poundPer100SquareFeet = 10 * PoundPer1000SquareFeet

// TestLimeTables: the tables typed here give their own rows (pounds to 100 square feet): raising pH with limestone, loam 5.0
// to 6.5 10.5; lime per 1,000 square feet, clay 4.5 to 6.5 20.0 and sand 5.5 to 6.5 4.5; garden text per pH unit, sandy 3.5,
// loam 5, clay loam 7; Agriculture Handbook 18 (remembered), warm-temperate loam 4.5 to 6.5 0.8 + 1.0 ton = 8.3 lb. Half a digit.
func TestLimeTables(t *testing.T) {
	for _, c := range []struct {
		table    int
		texture  garden.Texture
		from, to float64
		want     float64
	}{
		{0, garden.Loam, 5.0, 6.5, 10.5}, {0, garden.SandyLoam, 4.0, 6.5, 11.5}, {1, garden.Clay, 4.5, 6.5, 20}, {1, garden.Sand, 5.5, 6.5, 4.5},
		{2, garden.SandyLoam, 5.5, 6.5, 3.5}, {2, garden.Loam, 5.5, 6.5, 5}, {2, garden.ClayLoam, 5.5, 6.5, 7},
		{3, garden.Loam, 4.5, 6.5, 8.3}, {4, garden.ClayLoam, 5.5, 6.5, 10.6},
	} {
		got, ok := limeCurves[c.table].at(c.texture, c.from)
		above, _ := limeCurves[c.table].at(c.texture, c.to)
		if !ok {
			t.Fatal(c)
		}
		near(t, "lb/100 sq ft", got-above, c.want, 0.05)
	}
}

// TestTextureRequirement: the range holds what is followed, the cap holds, finer soil never takes less, no lime at the target.
func TestTextureRequirement(t *testing.T) {
	before := quantity.KilogramPerSquareMetre(0)
	for _, texture := range []garden.Texture{garden.Sand, garden.SandyLoam, garden.Loam, garden.SiltLoam, garden.ClayLoam} {
		r := TextureRequirement(texture, 3, 5.8, 6.5, quantity.Metric)
		if r.Lime < before || r.Low > r.Lime || r.Lime > r.High || r.High > 4*r.Low {
			t.Errorf("%s: %v of %v to %v after %v", texture, r.Lime, r.Low, r.High, before)
		}
		before = r.Lime
		if TextureRequirement(texture, 3, 6.5, 6.5, quantity.Metric).Lime != 0 {
			t.Errorf("%s: lime at the target", texture)
		}
		if r := TextureRequirement(texture, 3, 4.2, 6.5, quantity.Metric); r.Lime > mostByTexture {
			t.Errorf("%s: %v over the cap", texture, r.Lime)
		}
	}
	r := TextureRequirement(garden.Loam, 3, 5.5, 6.5, quantity.Metric)
	near(t, "loam 5.5 to 6.5", float64(r.Lime/poundPer100SquareFeet), 7.5, 0.01) // 4.6, 5, 7.5, 7.8, 8: the lower middle
	deep := r.DepthScaled(2*r.Depth, quantity.Metric)
	near(t, "twice as deep", float64(deep.Lime/r.Lime), 2, 1e-9)
}
