package sun

import (
	"math"
	"slices"

	"kailyard/internal/quantity"
)

// Spot is a place on the plot: metres along the plot's own east and north.
type Spot struct{ East, North quantity.Metre }

// Apex is a corner of a solid: a spot, and its height over the ground in the middle of the solid.
type Apex struct {
	Spot
	Height quantity.Metre
}

// Scene is a plot of ground and what stands around it. The ground is one plane; everything stands upright on it.
type Scene struct {
	Turn          float64 // degrees clockwise from true north to the plot's own north
	Slope, Aspect float64 // degrees from level, below 60; and where it falls to, clockwise from true north
	Horizon       Horizon
	Things        []Thing
}

// Thing is a shape that keeps direct light off. Passes is the share it lets through (0 nothing, 1 all) on each of the
// days asked for; one share stands for all days.
type Thing struct {
	Shape  Shape
	Passes []float64
}

func (t Thing) passes(day int) float64 {
	switch {
	case len(t.Passes) == 0:
		return 0
	case len(t.Passes) == 1:
		day = 0
	}
	return max(0, min(1, t.Passes[day]))
}

// Shape is a Solid, a Crown or a Post.
type Shape interface {
	// cast lays the shape out on ground of a given gradient, fit to be drawn from any side.
	cast(gradient [2]float64) caster
}

// Solid is a body with straight edges and no hollows: walls rise from the corners of its foot, up to its tops. A flat
// house has a top over each foot; a ridged one two more, the ends of its ridge.
type Solid struct {
	Foot []Spot // in any order
	Top  []Apex
}

// Crown is what a tree bears: an egg between bottom and top, or a cone with its tip up.
type Crown struct {
	Middle              Spot
	Radius, Bottom, Top quantity.Metre
	Cone                bool
}

// Post is round and upright, from the ground up: a trunk.
type Post struct {
	Middle      Spot
	Radius, Top quantity.Metre
}

// Sight is a height of the skyline.
type Sight struct {
	Bearing  float64 // degrees clockwise from true north
	Altitude float64 // degrees above the level
}

// Horizon is the skyline of hills and woods far off, by bearing; between two sights it runs straight. None: level.
type Horizon []Sight

// At is the skyline's altitude at a bearing, in degrees.
func (h Horizon) At(bearing float64) float64 {
	if len(h) == 0 {
		return 0
	}
	around := func(s Sight) float64 { return math.Mod(math.Mod(s.Bearing-bearing, 360)+360, 360) }
	next, last := h[0], h[0]
	for _, s := range h[1:] {
		if around(s) < around(next) {
			next = s
		}
		if around(s) > around(last) {
			last = s
		}
	}
	ahead, behind := around(next), 360-around(last)
	if len(h) == 1 || ahead == 0 {
		return next.Altitude
	}
	return (next.Altitude*behind + last.Altitude*ahead) / (ahead + behind)
}

// gradient is how much the ground rises to the metre along the plot's own east and north.
func (s Scene) gradient() [2]float64 {
	sin, cos := math.Sincos((s.Aspect - s.Turn) * degree)
	fall := math.Tan(max(0, min(60, s.Slope)) * degree)
	return [2]float64{-fall * sin, -fall * cos}
}

// ray is a direction of light as the ground has it: a point at a height over the ground throws its shadow so many metres
// east and north of its foot for each metre of height.
type ray struct {
	east, north float64 // metres a metre
	slant       float64 // cosine of the angle to the ground's upright
}

// towards is the light that comes from a direction; not lit where the ground turns its back on it, or hills hide it.
func (s Scene) towards(p Position, gradient [2]float64) (r ray, lit bool) {
	if p.Altitude <= 0 || len(s.Horizon) > 0 && p.Altitude <= s.Horizon.At(p.Azimuth) {
		return ray{}, false
	}
	sinAltitude, cosAltitude := math.Sincos(p.Altitude * degree)
	sinAzimuth, cosAzimuth := math.Sincos((p.Azimuth - s.Turn) * degree)
	east, north := cosAltitude*sinAzimuth, cosAltitude*cosAzimuth
	over := sinAltitude - gradient[0]*east - gradient[1]*north // the sun's climb over the ground
	if over < 1e-6 {
		return ray{}, false
	}
	return ray{-east / over, -north / over, over / math.Sqrt(1+gradient[0]*gradient[0]+gradient[1]*gradient[1])}, true
}

// caster draws a shape's shadow.
type caster interface{ shade(b *brush, r ray) }

// solid is a Solid as points over the ground, and the box that holds them.
type solid struct {
	points    [][3]float64
	low, high [3]float64
}

func (s Solid) cast(gradient [2]float64) caster {
	var middle [2]float64
	for _, f := range s.Foot {
		middle[0] += float64(f.East) / float64(len(s.Foot))
		middle[1] += float64(f.North) / float64(len(s.Foot))
	}
	var out solid
	for _, f := range s.Foot {
		out.points = append(out.points, [3]float64{float64(f.East), float64(f.North), 0})
	}
	for _, a := range s.Top {
		rise := gradient[0]*(float64(a.East)-middle[0]) + gradient[1]*(float64(a.North)-middle[1])
		out.points = append(out.points, [3]float64{float64(a.East), float64(a.North), max(0, float64(a.Height)-rise)})
	}
	out.low, out.high = [3]float64{math.Inf(1), math.Inf(1), 0}, [3]float64{math.Inf(-1), math.Inf(-1), 0}
	for _, p := range out.points {
		for k := range p {
			out.low[k], out.high[k] = min(out.low[k], p[k]), max(out.high[k], p[k])
		}
	}
	return out
}

// reaches says whether the shadow of the box that holds the solid comes near the grid.
func (s solid) reaches(b *brush, r ray) bool {
	east, north := s.high[2]*r.east, s.high[2]*r.north
	southWest := b.at(s.low[0]+min(0, east), s.low[1]+min(0, north))
	northEast := b.at(s.high[0]+max(0, east), s.high[1]+max(0, north))
	return !b.misses(southWest[0], northEast[0], southWest[1], northEast[1])
}

func (s solid) shade(b *brush, r ray) {
	if !s.reaches(b, r) {
		return
	}
	b.corners = b.corners[:0]
	for _, p := range s.points {
		b.corners = append(b.corners, b.at(p[0]+p[2]*r.east, p[1]+p[2]*r.north))
	}
	if !b.misses(b.box()) {
		b.polygon(b.hull())
	}
}

// round is a crown on its ground.
type round struct {
	middle, gradient [2]float64
	Crown
}

func (c Crown) cast(gradient [2]float64) caster {
	return round{[2]float64{float64(c.Middle.East), float64(c.Middle.North)}, gradient, c}
}

// postSides is how many sides stand for a post's roundness; its radius is stretched so that it is as wide on the whole.
const postSides = 8

func (p Post) cast(gradient [2]float64) caster {
	radius := float64(p.Radius) * math.Pi / (postSides * math.Sin(math.Pi/postSides))
	var s Solid
	for i := range postSides {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / postSides)
		at := Spot{p.Middle.East + quantity.Metre(radius*sin), p.Middle.North + quantity.Metre(radius*cos)}
		s.Foot = append(s.Foot, at)
		s.Top = append(s.Top, Apex{at, p.Top})
	}
	return s.cast(gradient)
}

// oval is an ellipse: the image of a circle of radius 1 by a matrix M about a middle, kept as M·Mᵀ.
type oval struct {
	middle     [2]float64
	xx, xy, yy float64
}

// disc is the shadow of a level disc at a height, or with half its height as deep that of an ellipsoid around it.
//
// A point at (r·u, r·v, h + d·w) of the unit sphere is r·(g·(u, v)) less high over ground that rises by g, and its
// shadow lies (u, v)·r + k·(h + d·w − r·g·(u, v)) from the middle: a linear map of the sphere.
func (o round) disc(r ray, height, deep float64) oval {
	radius := float64(o.Radius)
	e := [3]float64{radius * (1 - r.east*o.gradient[0]), -radius * r.east * o.gradient[1], r.east * deep}
	n := [3]float64{-radius * r.north * o.gradient[0], radius * (1 - r.north*o.gradient[1]), r.north * deep}
	return oval{
		[2]float64{o.middle[0] + height*r.east, o.middle[1] + height*r.north},
		e[0]*e[0] + e[1]*e[1] + e[2]*e[2], e[0]*n[0] + e[1]*n[1] + e[2]*n[2], n[0]*n[0] + n[1]*n[1] + n[2]*n[2],
	}
}

func (o round) shade(b *brush, r ray) {
	low, high := float64(o.Bottom), float64(o.Top)
	if !o.Cone {
		b.oval(o.disc(r, (low+high)/2, (high-low)/2))
		return
	}
	// A cone's shadow is its bottom's, and what lies between that and its tip's.
	bottom := o.disc(r, low, 0)
	b.oval(bottom)
	tip := [2]float64{o.middle[0] + high*r.east, o.middle[1] + high*r.north}
	if one, other, outside := bottom.tangents(tip); outside {
		b.corners = append(b.corners[:0], b.at(tip[0], tip[1]), b.at(one[0], one[1]), b.at(other[0], other[1]))
		if !b.misses(b.box()) {
			b.polygon(b.corners)
		}
	}
}

// root is a lower triangular matrix L with L·Lᵀ as the oval has it, so that the oval is L applied to a circle.
func (o oval) root() (xx, yx, yy float64) {
	xx = math.Sqrt(o.xx)
	yx = o.xy / xx
	return xx, yx, math.Sqrt(max(0, o.yy-yx*yx))
}

// tangents are where lines from a point outside touch the oval.
func (o oval) tangents(from [2]float64) (one, other [2]float64, outside bool) {
	xx, yx, yy := o.root()
	u := (from[0] - o.middle[0]) / xx
	v := (from[1] - o.middle[1] - yx*u) / yy
	square := u*u + v*v
	if !(square > 1) {
		return one, other, false
	}
	root := math.Sqrt(square - 1)
	back := func(p, q float64) [2]float64 { return [2]float64{o.middle[0] + xx*p, o.middle[1] + yx*p + yy*q} }
	return back((u-root*v)/square, (v+root*u)/square), back((u+root*v)/square, (v-root*u)/square), true
}

// hull puts the brush's corners in order around what holds them all (Andrew's chain).
func (b *brush) hull() [][2]float64 {
	c := b.corners
	slices.SortFunc(c, func(p, q [2]float64) int {
		switch {
		case p[0] < q[0] || p[0] == q[0] && p[1] < q[1]:
			return -1
		case p == q:
			return 0
		}
		return 1
	})
	left := func(o, p, q [2]float64) bool { return (p[0]-o[0])*(q[1]-o[1])-(p[1]-o[1])*(q[0]-o[0]) > 0 }
	h := b.around[:0]
	for _, p := range c {
		for len(h) > 1 && !left(h[len(h)-2], h[len(h)-1], p) {
			h = h[:len(h)-1]
		}
		h = append(h, p)
	}
	lower := len(h)
	for i := len(c) - 2; i >= 0; i-- {
		for len(h) > lower && !left(h[len(h)-2], h[len(h)-1], c[i]) {
			h = h[:len(h)-1]
		}
		h = append(h, c[i])
	}
	b.around = h
	return h
}
