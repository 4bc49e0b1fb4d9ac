package sun

import (
	"math"
	"slices"
)

// Step is a piece of a day with the sun in one place.
type Step struct {
	Sun   Position // as the air shows it
	Hours float64
	Beam  float64 // direct light on level ground in the step, in any unit; 0 where only hours are asked for

	turned float64 // radians from noon
}

// Shine is what the cells of a grid get on some days: hours of direct sun, and direct light in the unit of the steps'
// Beam, on the ground as it slopes. Light that a bare crown lets through by halves counts by halves.
type Shine struct {
	Grid        Grid
	Hours, Beam [][]float32 // by day, then by cell
}

// Shine reckons the direct sun on every cell on each of the days. The shadow of each thing on the ground is drawn for
// each place of the sun, as a band of cells in every row, and added up for 64 cells at a time; what comes of it is what
// a ray from the middle of each cell to the sun finds.
func (s Scene) Shine(g Grid, days [][]Step) Shine {
	c := s.canvas(g)
	hours, beam := newTally(len(c.dark)), newTally(len(c.dark))
	out := Shine{Grid: g}
	for day, steps := range days {
		var lights []light
		longest, strongest := 0.0, 0.0
		for _, step := range steps {
			if r, lit := s.towards(step.Sun, c.gradient); lit {
				on := step.Beam * r.slant / math.Sin(step.Sun.Altitude*degree)
				lights = append(lights, light{r, step.Hours, on})
				longest, strongest = max(longest, step.Hours), max(strongest, on)
			}
		}
		for _, l := range lights {
			c.draw(l.ray)
			c.veil(day)
			c.add(hours, l.hours/longest*wholeStep)
			if l.beam > 0 {
				c.add(beam, l.beam/strongest*heaviest)
			}
		}
		out.Hours = append(out.Hours, hours.read(g, longest/wholeStep))
		out.Beam = append(out.Beam, beam.read(g, strongest/heaviest))
	}
	return out
}

// light is a ray with what it brings to the ground it meets.
type light struct {
	ray
	hours, beam float64
}

// Weights are whole numbers: a step in hours weighs wholeStep, the day's strongest beam heaviest. Shares as near to
// nothing or to all as half of that are taken for it.
const (
	wholeStep = 256
	heaviest  = 1023
	tiny      = 0.5 / heaviest
)

// canvas is what one reckoning works with.
type canvas struct {
	grid     Grid
	gradient [2]float64
	brush    *brush
	things   []Thing
	casters  []caster
	masks    [][]uint64 // the shadow of each thing in the light drawn last
	falls    []bool     // whether that shadow falls on the grid
	dark     []uint64   // where nothing comes through
	veiled   []uint64   // where a part of the light is kept off
	veils    []veil
	shaded   bool // whether any shadow falls on the grid
}

// veil is a shadow that lets a share of the light through.
type veil struct {
	mask   []uint64
	passes float64
}

func (s Scene) canvas(g Grid) *canvas {
	c := &canvas{grid: g, gradient: s.gradient(), brush: newBrush(g), things: s.Things}
	words := c.brush.words * g.Rows
	for _, t := range s.Things {
		c.casters = append(c.casters, t.Shape.cast(c.gradient))
		c.masks = append(c.masks, make([]uint64, words))
	}
	c.falls = make([]bool, len(s.Things))
	c.dark, c.veiled = make([]uint64, words), make([]uint64, words)
	return c
}

// draw makes the shadow of each thing.
func (c *canvas) draw(r ray) {
	for i, one := range c.casters {
		if c.falls[i] {
			clear(c.masks[i])
		}
		c.brush.mask, c.brush.touched = c.masks[i], false
		one.shade(c.brush, r)
		c.falls[i] = c.brush.touched
	}
}

// veil lays the shadows over each other as the things stand on a day.
func (c *canvas) veil(day int) {
	if c.shaded {
		clear(c.dark)
		clear(c.veiled)
	}
	c.veils, c.shaded = c.veils[:0], slices.Contains(c.falls, true)
	for i, t := range c.things {
		switch passes := t.passes(day); {
		case !c.falls[i] || passes > 1-tiny:
		case passes < tiny:
			for w, m := range c.masks[i] {
				c.dark[w] |= m
			}
		default:
			for w, m := range c.masks[i] {
				c.veiled[w] |= m
			}
			c.veils = append(c.veils, veil{c.masks[i], passes})
		}
	}
}

// add gives a weight to every cell, and takes it from those in the dark and a part of it from those behind veils.
func (c *canvas) add(to *tally, weight float64) {
	whole := uint32(math.Round(weight))
	to.given += whole
	if !c.shaded {
		return
	}
	for w, dark := range c.dark {
		if dark != 0 {
			to.take(w, dark, whole)
		}
		if veiled := c.veiled[w] &^ dark; veiled != 0 {
			c.behind(to, w, veiled, 0, 1, weight)
		}
	}
}

// behind parts the cells of a word by the veils they are behind, which let a share through together.
func (c *canvas) behind(to *tally, word int, cells uint64, from int, share, weight float64) {
	for i := from; i < len(c.veils) && cells != 0; i++ {
		if in := cells & c.veils[i].mask[word]; in != 0 {
			c.behind(to, word, in, i+1, share*c.veils[i].passes, weight)
			cells &^= in
		}
	}
	to.take(word, cells, uint32(math.Round(weight))-uint32(math.Round(weight*share)))
}

// Sky is the share of an even sky's light that every cell gets, of what level open ground gets: 1 under the open sky, 0
// in a pit. Each list of days is one share of light for every thing as it stands on that day.
//
// The sky is cut in bands of altitude and pieces of azimuth, and each piece counts by its size and by how steeply its
// light falls on the ground: ∫ cos θ dω / π, which on an open slope comes to (1 + cos slope) / 2.
//
// Source: DUFFIE-2013, section 2.15 (the isotropic sky of Liu and Jordan).
func (s Scene) Sky(g Grid, days int) [][]float32 {
	c := s.canvas(g)
	sums := make([]*tally, days)
	for day := range sums {
		sums[day] = newTally(len(c.dark))
	}
	same := c.sameDays(days)
	strongest := 0.0
	patches := s.patches(c.gradient)
	for _, p := range patches {
		strongest = max(strongest, p.beam)
	}
	for _, p := range patches {
		c.draw(p.ray)
		for day := range days {
			if same[day] == day {
				c.veil(day)
				c.add(sums[day], p.beam/strongest*heaviest)
			}
		}
	}
	out := make([][]float32, days)
	for day := range days {
		if same[day] == day {
			out[day] = sums[day].read(g, strongest/heaviest)
		} else {
			out[day] = out[same[day]]
		}
	}
	return out
}

// sameDays is for each day the first on which all things let the same through.
func (c *canvas) sameDays(days int) []int {
	same := make([]int, days)
	for day := range same {
		for same[day] = 0; same[day] < day; same[day]++ {
			alike := true
			for _, t := range c.things {
				alike = alike && t.passes(day) == t.passes(same[day])
			}
			if alike {
				break
			}
		}
	}
	return same
}

const (
	skyBands  = 18
	skyPieces = 48
)

// patches are the pieces of the sky that the ground faces and the skyline leaves free, each with its share of the light.
func (s Scene) patches(gradient [2]float64) (patches []light) {
	for i := range skyBands {
		low, high := 90*float64(i)/skyBands, 90*float64(i+1)/skyBands
		size := (math.Sin(high*degree) - math.Sin(low*degree)) * 2 * math.Pi / skyPieces
		// The altitude that stands for the band's light on level ground: the band's mean sine.
		middle := math.Asin((math.Sin(low*degree)+math.Sin(high*degree))/2) / degree
		for j := range skyPieces {
			azimuth := 360 * (float64(j) + 0.5) / skyPieces
			if r, lit := s.towards(Position{middle, azimuth}, gradient); lit {
				patches = append(patches, light{ray: r, beam: size * r.slant / math.Pi})
			}
		}
	}
	return patches
}
