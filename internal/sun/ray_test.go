package sun

import "math"

// The plain way, kept as the oracle of the quick one: from the middle of each cell a ray to the sun, tried against
// every thing. It shares with the quick way only the skyline and the list of steps.

// walk is a ray from a cell: after t metres along the level it is at x + east·t, y + north·t, and climb·t higher.
type walk struct{ x, y, z, east, north, climb float64 }

// meets says whether a ray meets a shape; base is how high the ground is in the middle of the shape, ground is that
// under any spot.
func (w walk) meets(shape Shape, ground func(x, y float64) float64) bool {
	switch s := shape.(type) {
	case Solid:
		return w.meetsSolid(s, ground)
	case Crown:
		x, y := float64(s.Middle.East), float64(s.Middle.North)
		base := ground(x, y)
		if s.Cone {
			return w.meetsCone(x, y, float64(s.Radius), base+float64(s.Bottom), base+float64(s.Top))
		}
		return w.meetsEgg(x, y, float64(s.Radius), base+float64(s.Bottom), base+float64(s.Top))
	case Post:
		x, y := float64(s.Middle.East), float64(s.Middle.North)
		from, to, ok := w.overCircle(x, y, float64(s.Radius))
		_ = to
		return ok && w.z+w.climb*from < ground(x, y)+float64(s.Top)
	}
	panic("no such shape")
}

// overCircle is the part of the ray over a circle on the plan.
func (w walk) overCircle(x, y, radius float64) (from, to float64, ok bool) {
	dx, dy := w.x-x, w.y-y
	along := dx*w.east + dy*w.north
	root := along*along - (dx*dx + dy*dy - radius*radius)
	if root < 0 {
		return 0, 0, false
	}
	root = math.Sqrt(root)
	from, to = max(0, -along-root), -along+root
	return from, to, to > 0
}

// meetsEgg solves for the ray in the ellipsoid's own measure.
func (w walk) meetsEgg(x, y, radius, bottom, top float64) bool {
	middle, deep := (bottom+top)/2, (top-bottom)/2
	px, py, pz := (w.x-x)/radius, (w.y-y)/radius, (w.z-middle)/deep
	dx, dy, dz := w.east/radius, w.north/radius, w.climb/deep
	a, b, c := dx*dx+dy*dy+dz*dz, px*dx+py*dy+pz*dz, px*px+py*py+pz*pz-1
	return b*b-a*c >= 0 && (-b+math.Sqrt(max(0, b*b-a*c)) > 0)
}

// meetsCone: the distance from the axis is at most the cone's radius at that height, within its heights.
func (w walk) meetsCone(x, y, radius, bottom, top float64) bool {
	from, to := max(0, (bottom-w.z)/w.climb), (top-w.z)/w.climb // the part of the ray in the cone's heights
	slope := radius / (top - bottom)
	px, py, pz := w.x-x, w.y-y, slope*(top-w.z)
	dx, dy, dz := w.east, w.north, -slope*w.climb
	a, b, c := dx*dx+dy*dy-dz*dz, px*dx+py*dy-pz*dz, px*px+py*py-pz*pz
	inside := func(t float64) bool { return t >= from && t <= to && a*t*t+2*b*t+c <= 1e-12 }
	if inside(from) || inside(to) {
		return true
	}
	root := b*b - a*c
	if root < 0 || a == 0 {
		return false
	}
	root = math.Sqrt(root)
	one, other := (-b-root)/a, (-b+root)/a
	return one >= from && one <= to || other >= from && other <= to
}

// meetsSolid walks under the roof: the foot is a rectangle on the plan, the roof level or two planes that meet in a
// ridge along the middle; the ray is below the roof somewhere if it is so at an end or under the ridge.
func (w walk) meetsSolid(s Solid, ground func(x, y float64) float64) bool {
	ox, oy := float64(s.Foot[0].East), float64(s.Foot[0].North)
	ux, uy := float64(s.Foot[1].East)-ox, float64(s.Foot[1].North)-oy
	vx, vy := float64(s.Foot[3].East)-ox, float64(s.Foot[3].North)-oy
	length, width := math.Hypot(ux, uy), math.Hypot(vx, vy)
	along, alongStep := ((w.x-ox)*ux+(w.y-oy)*uy)/length, (w.east*ux+w.north*uy)/length
	across, acrossStep := ((w.x-ox)*vx+(w.y-oy)*vy)/width, (w.east*vx+w.north*vy)/width
	from, to := 0.0, math.Inf(1)
	for _, side := range [2][3]float64{{along, alongStep, length}, {across, acrossStep, width}} {
		if math.Abs(side[1]) < 1e-12 {
			if side[0] < 0 || side[0] > side[2] {
				return false
			}
			continue
		}
		one, other := -side[0]/side[1], (side[2]-side[0])/side[1]
		from, to = max(from, min(one, other)), min(to, max(one, other))
	}
	if from > to {
		return false
	}
	eaves, ridge := float64(s.Top[0].Height), float64(s.Top[0].Height)
	if len(s.Top) > 4 {
		ridge = float64(s.Top[4].Height)
	}
	base := ground(ox+(ux+vx)/2, oy+(uy+vy)/2)
	under := func(t float64) bool {
		lean := 1 - math.Abs((across+acrossStep*t)/width*2-1) // 0 at the eaves, 1 under the ridge
		return w.z+w.climb*t < base+eaves+(ridge-eaves)*lean
	}
	if under(from) || under(to) {
		return true
	}
	middle := (width/2 - across) / acrossStep
	return ridge > eaves && middle > from && middle < to && under(middle)
}

// byRays is Shine, the plain way.
func (s Scene) byRays(g Grid, days [][]Step) Shine {
	out := Shine{Grid: g}
	gradient := s.gradient()
	ground := func(x, y float64) float64 { return gradient[0]*x + gradient[1]*y }
	for day, steps := range days {
		hours, beam := make([]float32, g.Cells()), make([]float32, g.Cells())
		for _, step := range steps {
			if step.Sun.Altitude <= s.Horizon.At(step.Sun.Azimuth) {
				continue
			}
			sin, cos := math.Sincos(step.Sun.Azimuth*degree - s.Turn*degree)
			climb := math.Tan(step.Sun.Altitude * degree)
			facing := math.Cos(step.Sun.Incidence(s.Slope, s.Aspect)*degree) / math.Sin(step.Sun.Altitude*degree)
			if facing <= 0 {
				continue
			}
			for row := range g.Rows {
				for column := range g.Columns {
					at := g.Middle(column, row)
					w := walk{float64(at.East), float64(at.North), 0, sin, cos, climb}
					w.z = ground(w.x, w.y)
					share := 1.0
					for _, t := range s.Things {
						if passes := t.passes(day); passes < 1 && share > 0 && w.meets(t.Shape, ground) {
							share *= passes
						}
					}
					hours[row*g.Columns+column] += float32(share * step.Hours)
					beam[row*g.Columns+column] += float32(share * step.Beam * facing)
				}
			}
		}
		out.Hours, out.Beam = append(out.Hours, hours), append(out.Beam, beam)
	}
	return out
}
