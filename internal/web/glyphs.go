package web

import (
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/drawing"
)

// A plant from above, by its sort: figures on the unit circle, drawn for this program.
type glyph struct {
	leaf drawing.Figure // filled
	vein drawing.Figure // stroked over it
}

var glyphs = map[crop.Group]glyph{
	crop.Root:           rays(9, .16, .95, .5),
	crop.Leaf:           ruffle(7, .86, .14),
	crop.Brassica:       lobes(6, .62, .42),
	crop.Allium:         rays(6, .10, 1, .2),
	crop.Legume:         leaflets(3, .5),
	crop.Cucurbit:       palm(5, .55),
	crop.Nightshade:     palm(7, .42),
	crop.Corn:           blades(4),
	crop.Herb:           leaflets(8, .27),
	crop.PerennialGroup: lobes(5, .55, .5),
	crop.Cover:          blades(6),
	crop.Other:          ruffle(5, .8, .2),
}

func glyphFor(g crop.Group) glyph {
	if f, ok := glyphs[g]; ok {
		return f
	}
	return glyphs[crop.Other]
}

func at(angle, radius float64) [2]float64 {
	sin, cos := math.Sincos(angle)
	return [2]float64{radius * cos, radius * sin}
}

func move(p [2]float64) drawing.Stroke {
	return drawing.Stroke{Letter: 'M', Points: [3][2]float64{p}}
}

func straight(p [2]float64) drawing.Stroke {
	return drawing.Stroke{Letter: 'L', Points: [3][2]float64{p}}
}

func bend(c, p [2]float64) drawing.Stroke {
	return drawing.Stroke{Letter: 'Q', Points: [3][2]float64{c, p}}
}

var shut = drawing.Stroke{Letter: 'Z'}

// rays are n narrow leaves from the middle: roots' feathers, onions' blades.
func rays(n int, width, reach, waist float64) glyph {
	var g glyph
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		tip := at(a, reach)
		g.leaf = append(g.leaf, move([2]float64{}), bend(at(a+width/waist/2, reach*waist), tip), bend(at(a-width/waist/2, reach*waist), [2]float64{}), shut)
	}
	return g
}

// ruffle is a rosette with a wavy rim and a curl at its heart.
func ruffle(n int, radius, wave float64) glyph {
	var g glyph
	for i := range n {
		a, b := 2*math.Pi*float64(i)/float64(n), 2*math.Pi*float64(i+1)/float64(n)
		if i == 0 {
			g.leaf = append(g.leaf, move(at(a, radius-wave)))
		}
		g.leaf = append(g.leaf, bend(at((a+b)/2, radius+2.4*wave), at(b, radius-wave)))
		g.vein = append(g.vein, move(at(a, .2)), bend(at(a+.5, .45), at(a, radius-wave)))
	}
	g.leaf = append(g.leaf, shut)
	return g
}

// lobes are n round overlapping leaves with a midrib each.
func lobes(n int, out, size float64) glyph {
	var g glyph
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		g.leaf = append(g.leaf,
			move([2]float64{}),
			drawing.Stroke{Letter: 'C', Points: [3][2]float64{at(a-size*1.5, out), at(a-size*.9, 1.15), at(a, 1)}},
			drawing.Stroke{Letter: 'C', Points: [3][2]float64{at(a+size*.9, 1.15), at(a+size*1.5, out), {}}}, shut)
		g.vein = append(g.vein, move([2]float64{}), straight(at(a, .8)))
	}
	return g
}

// leaflets are n oval leaves on short stalks.
func leaflets(n int, size float64) glyph {
	var g glyph
	for i := range n {
		a := 2*math.Pi*float64(i)/float64(n) - math.Pi/2
		foot, tip := at(a, .12), at(a, 1)
		g.leaf = append(g.leaf, move(foot), bend(at(a+size*1.6, .75), tip), bend(at(a-size*1.6, .75), foot), shut)
	}
	return g
}

// palm is one broad leaf with n points.
func palm(n int, notch float64) glyph {
	var g glyph
	for i := range n {
		a := 2*math.Pi*float64(i)/float64(n) - math.Pi/2
		half := math.Pi / float64(n)
		if i == 0 {
			g.leaf = append(g.leaf, move(at(a-half, notch)))
		}
		g.leaf = append(g.leaf, bend(at(a-half*.6, .95), at(a, 1)), bend(at(a+half*.6, .95), at(a+half, notch)))
		g.vein = append(g.vein, move([2]float64{}), straight(at(a, .78)))
	}
	g.leaf = append(g.leaf, shut)
	return g
}

// blades are n long leaves that arch to one side.
func blades(n int) glyph {
	var g glyph
	for i := range n {
		a := 2 * math.Pi * float64(i) / float64(n)
		g.leaf = append(g.leaf, move([2]float64{}), bend(at(a+.55, .62), at(a+.15, 1)), bend(at(a+.15, .5), [2]float64{}), shut)
	}
	return g
}
