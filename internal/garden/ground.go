package garden

import (
	"math"

	"kailyard/internal/quantity"
)

// Point is a place on the plot: metres east and north of its south-west corner.
type Point struct{ East, North quantity.Metre }

// axes are the unit vectors along the bed and across it. The length points north, or east where
// the bed runs more east than north; the width points to the other, so that the corner both start
// from is the one nearest the south-west.
func (b Bed) axes() (along, across Point) {
	turn := math.Mod(b.Bearing, 180)
	if turn < 0 {
		turn += 180
	}
	if turn > 135 {
		turn -= 180
	}
	sin, cos := math.Sincos(turn * math.Pi / 180)
	along = Point{quantity.Metre(sin), quantity.Metre(cos)}
	if turn > 45 {
		return along, Point{quantity.Metre(-cos), quantity.Metre(sin)}
	}
	return along, Point{quantity.Metre(cos), quantity.Metre(-sin)}
}

// On is where on the plot a spot of the bed lies, given as metres along its length and across its
// width from the south-west corner, the measure of Place.
func (b Bed) On(along, across quantity.Metre) Point {
	u, v := b.axes()
	along -= b.Length / 2
	across -= b.Width / 2
	return Point{b.X + u.East*along + v.East*across, b.Y + u.North*along + v.North*across}
}

// Corners are the bed's corners on the plot, in order around it from the south-west one.
func (b Bed) Corners() [4]Point {
	return b.Outline(Place{AlongTo: b.Length, AcrossTo: b.Width})
}

// Outline is a place in the bed as corners on the plot, in order around it.
func (b Bed) Outline(p Place) [4]Point {
	return [4]Point{
		b.On(p.AlongFrom, p.AcrossFrom), b.On(p.AlongTo, p.AcrossFrom),
		b.On(p.AlongTo, p.AcrossTo), b.On(p.AlongFrom, p.AcrossTo),
	}
}

// Whole is the place that is all of the bed.
func (b Bed) Whole() Place { return Place{AlongTo: b.Length, AcrossTo: b.Width} }

// Holds says whether a place lies in the bed.
func (b Bed) Holds(p Place) bool {
	const eps = 1e-6
	return p.AlongFrom >= -eps && p.AlongTo <= b.Length+eps && p.AcrossFrom >= -eps && p.AcrossTo <= b.Width+eps &&
		p.AlongFrom < p.AlongTo && p.AcrossFrom < p.AcrossTo
}

// Overlaps says whether two beds share ground on the plot, by more than a centimetre.
// Two convex shapes are apart if a side of one has the other wholly beyond it.
func (b Bed) Overlaps(o Bed) bool {
	mine, theirs := b.Corners(), o.Corners()
	for _, axes := range [2]Bed{b, o} {
		u, v := axes.axes()
		for _, axis := range [2]Point{u, v} {
			lowMine, highMine := shadowOn(axis, mine)
			lowTheirs, highTheirs := shadowOn(axis, theirs)
			const slack = 0.01
			if highMine <= lowTheirs+slack || highTheirs <= lowMine+slack {
				return false
			}
		}
	}
	return true
}

// shadowOn is the reach of a shape along a direction.
func shadowOn(axis Point, corners [4]Point) (low, high quantity.Metre) {
	low, high = quantity.Metre(math.Inf(1)), quantity.Metre(math.Inf(-1))
	for _, c := range corners {
		d := axis.East*c.East + axis.North*c.North
		low, high = min(low, d), max(high, d)
	}
	return low, high
}

// Extent is the plot as drawn: the site's width and depth, or where they are not given what holds
// all beds, with the beds that reach beyond in any case.
func (g Garden) Extent() (southWest, northEast Point) {
	northEast = Point{g.Site.Width, g.Site.Depth}
	for _, b := range g.Beds {
		for _, c := range b.Corners() {
			southWest = Point{min(southWest.East, c.East), min(southWest.North, c.North)}
			northEast = Point{max(northEast.East, c.East), max(northEast.North, c.North)}
		}
	}
	return southWest, northEast
}
