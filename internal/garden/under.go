package garden

import (
	"math"
	"slices"

	"kailyard/internal/quantity"
)

// sharedGround is the least ground two beds must have in common for the one to know the other's past.
const sharedGround = 0.05 // m²

// Under is the ground that a place of another bed has in common with this one: the smallest place of
// this bed that holds it. A place without ground is the whole of its bed. ok is false where they share
// next to nothing, or a bed lies nowhere: at the plot's very corner, where beds stand that nobody has
// placed.
func (b Bed) Under(o Bed, p Place) (shared Place, ok bool) {
	if b.X == 0 && b.Y == 0 || o.X == 0 && o.Y == 0 {
		return Place{}, false
	}
	if p.Area() <= 0 {
		p = o.Whole()
	}
	outline := o.Outline(p)
	shape := b.from(outline[:])
	for _, side := range []struct {
		along bool
		at    quantity.Metre
		upper bool
	}{{true, 0, false}, {true, b.Length, true}, {false, 0, false}, {false, b.Width, true}} {
		shape = clipped(shape, side.along, side.at, side.upper)
	}
	if areaOf(shape) < sharedGround {
		return Place{}, false
	}
	shared = Place{AlongFrom: b.Length, AcrossFrom: b.Width}
	for _, c := range shape {
		shared.AlongFrom, shared.AlongTo = min(shared.AlongFrom, c.East), max(shared.AlongTo, c.East)
		shared.AcrossFrom, shared.AcrossTo = min(shared.AcrossFrom, c.North), max(shared.AcrossTo, c.North)
	}
	return shared, true
}

// from is points of the plot as metres along the bed (East) and across it (North).
func (b Bed) from(points []Point) []Point {
	u, v := b.axes()
	corner := b.On(0, 0)
	out := slices.Clone(points)
	for i, p := range points {
		east, north := p.East-corner.East, p.North-corner.North
		out[i] = Point{u.East*east + u.North*north, v.East*east + v.North*north}
	}
	return out
}

// clipped is what of a convex shape lies on one side of a line along or across.
func clipped(shape []Point, along bool, at quantity.Metre, upper bool) []Point {
	beyond := func(p Point) quantity.Metre { // metres inside the line; below 0 outside
		d := p.North - at
		if along {
			d = p.East - at
		}
		if upper {
			return -d
		}
		return d
	}
	var out []Point
	for i, p := range shape {
		q := shape[(i+1)%len(shape)]
		a, c := beyond(p), beyond(q)
		if a >= 0 {
			out = append(out, p)
		}
		if (a < 0) != (c < 0) {
			t := a / (a - c)
			out = append(out, Point{p.East + t*(q.East-p.East), p.North + t*(q.North-p.North)})
		}
	}
	return out
}

// areaOf is the ground of a shape, m².
func areaOf(shape []Point) float64 {
	sum := 0.0
	for i, p := range shape {
		q := shape[(i+1)%len(shape)]
		sum += float64(p.East*q.North - q.East*p.North)
	}
	return math.Abs(sum) / 2
}
