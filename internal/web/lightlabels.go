package web

import (
	"fmt"
	"math"

	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The names and figures on the picture of the light are set twice, for wide screens and for narrow ones, and the style sheet
// shows the one or the other: letters that can be read on a telephone leave no room for names, so that the beds have their
// numbers there.

// How many letters' heights the picture is wide: about 19 pixels on a wide screen, 12 on a telephone of 390.
const (
	wideLetters   = 56
	narrowLetters = 30
)

// How much room letters take, in their height.
const (
	letterWide = .58
	lineHigh   = 1.1
)

const labelHalo = "#f7f2e3"

// room is a rectangle of the picture, right and down.
type room struct{ x0, y0, x1, y1 float64 }

func (r room) area() float64 { return max(0, r.x1-r.x0) * max(0, r.y1-r.y0) }

func (r room) shared(o room) float64 {
	return room{max(r.x0, o.x0), max(r.y0, o.y0), min(r.x1, o.x1), min(r.y1, o.y1)}.area()
}

// within says whether a room lies in another.
func (r room) within(o room) bool {
	return r.x0 >= o.x0 && r.y0 >= o.y0 && r.x1 <= o.x1 && r.y1 <= o.y1
}

func (r room) middle() (x, y float64) { return (r.x0 + r.x1) / 2, (r.y0 + r.y1) / 2 }

// writing is one or two lines about a point, turned up when they run from below.
type writing struct {
	lines  []string
	x, y   float64
	turned bool
}

// lettering is all that is written on the picture in one size.
type lettering struct {
	class  string
	size   float64
	frame  room
	brief  bool   // beds have numbers, names of what throws shade only where there is room
	taken  []room // by what is written
	lines  []room // by fences, walls and hedges, which strike through what lies on them
	bodies []room // of beds
	beds   []drawing.Node
	shades [][]drawing.Node
}

// takes is the room of a writing.
func (l *lettering) takes(w writing) room {
	long := 0
	for _, line := range w.lines {
		long = max(long, len([]rune(line)))
	}
	wide, high := float64(long)*l.size*letterWide/2, float64(len(w.lines))*l.size*lineHigh/2
	if w.turned {
		wide, high = high, wide
	}
	return room{w.x - wide, w.y - high, w.x + wide, w.y + high}
}

// costs is how much of a writing's room is taken already: 0 where it is free. Of the ground of beds half counts.
func (l *lettering) costs(w writing, own int) float64 {
	r := l.takes(w)
	cost := 0.0
	for _, o := range l.taken {
		cost += r.shared(o)
	}
	for _, o := range l.lines {
		cost += 3 * r.shared(o)
	}
	for i, o := range l.bodies {
		if i != own {
			cost += r.shared(o) / 2
		}
	}
	cost += 4 * (r.area() - r.shared(l.frame))
	return cost / r.area()
}

// best is the first of the writings that costs least.
func (l *lettering) best(from []writing, own int) (w writing, cost float64) {
	cost = math.Inf(1)
	for _, c := range from {
		if at := l.costs(c, own); at < cost-1e-9 {
			w, cost = c, at
		}
	}
	return w, cost
}

// write sets a writing and takes its room.
func (l *lettering) write(w writing, italic bool) (nodes []drawing.Node) {
	l.taken = append(l.taken, l.takes(w))
	for i, line := range w.lines {
		off := (float64(i)-float64(len(w.lines)-1)/2)*l.size*lineHigh + l.size*.36
		t := drawing.Text{X: w.x, Y: w.y + off, Size: l.size, Anchor: drawing.Middle, Italic: italic, Halo: labelHalo, Says: line, Style: drawing.Style{Fill: ink, Class: l.class}}
		if w.turned {
			t.X, t.Y, t.Turn = w.x+off, w.y, -90
		}
		nodes = append(nodes, t)
	}
	return nodes
}

// lettering sets the names of all beds and of what throws shade: first what finds room in its bed, then the names of what throws
// shade, then those of beds too small for theirs, each where it is least in the way.
func (v *lightPicture) lettering(class string, size float64, frame room, brief bool) *lettering {
	g := v.year.Garden
	l := &lettering{class: class, size: size, frame: frame, brief: brief, shades: make([][]drawing.Node, len(g.Shades))}
	for _, b := range g.Beds {
		l.bodies = append(l.bodies, v.bodyOf(b))
	}
	for _, s := range g.Shades {
		if s.Kind != garden.Tree && !s.Kind.Roofed() {
			l.lines = append(l.lines, v.lineOf(s, size)...)
		}
	}
	var outside []int
	for i, b := range g.Beds {
		if !v.inBed(l, i, b) {
			outside = append(outside, i)
		}
	}
	for i, s := range g.Shades {
		const inTheWay = .6
		w, cost := l.best(v.shadePlaces(l, s), -1)
		if cost > inTheWay || l.brief && cost > .1 {
			continue // it is told under the picture
		}
		l.shades[i] = l.write(w, true)
	}
	for _, i := range outside {
		if w, cost := l.best(v.besideBed(l, i, g.Beds[i].Name), i); cost < 1 {
			l.bed(g.Beds[i], l.write(w, false))
		}
	}
	return l
}

// bed adds what is written of a bed, which leads to its light.
func (l *lettering) bed(b garden.Bed, nodes []drawing.Node) {
	l.beds = append(l.beds, drawing.Group{Link: fmt.Sprintf("/bed/%d/light", b.ID), Nodes: nodes, Style: drawing.Style{Class: l.class}})
}

// inBed writes a bed's hours on it, with its name or number where both find room; whole is false where the name is still to be
// written beside it.
func (v *lightPicture) inBed(l *lettering, i int, b garden.Bed) (whole bool) {
	name, hours := b.Name, fmt.Sprintf("%.1f h", float64(v.year.Bed(b)[v.month-1].Hours))
	if l.brief {
		name = fmt.Sprint(i + 1)
	}
	x, y := l.bodies[i].middle()
	forms := [][]string{{name + "  " + hours}, {name, hours}}
	if l.brief {
		figure := hours[:len(hours)-len(" h")]
		forms = [][]string{{name + " · " + hours}, {name, hours}, {name + " · " + figure}, {name, figure}}
	}
	for _, turned := range []bool{false, true} {
		for _, lines := range forms {
			w := writing{lines, x, y, turned}
			if r := l.takes(w); r.within(l.bodies[i]) && l.costs(w, i) < .05 {
				l.bed(b, l.write(w, false))
				return true
			}
		}
	}
	if l.brief { // where not even that has room, as near as can be
		for _, w := range []writing{{forms[2], x, y, false}, {[]string{name}, x, y, false}, {forms[2], x, y, true}} {
			if l.costs(w, i) < .25 {
				l.bed(b, l.write(w, false))
				break
			}
		}
		return true
	}
	places := []writing{{[]string{hours}, x, y, false}, {[]string{hours}, x, y, true}}
	if !l.takes(places[0]).within(l.bodies[i]) && l.takes(places[1]).within(l.bodies[i]) {
		places = places[1:]
	}
	if w, cost := l.best(places, i); cost < 1 {
		l.bed(b, l.write(w, false))
	}
	return false
}

// besideBed are the places for a bed's name around it.
func (v *lightPicture) besideBed(l *lettering, i int, name string) []writing {
	body, gap := l.bodies[i], l.size*.75
	x, y := body.middle()
	long := float64(len([]rune(name))) * l.size * letterWide / 2
	says := []string{name}
	across := []writing{{says, x, body.y0 - gap, false}, {says, x, body.y1 + gap, false}}
	up := []writing{{says, body.x0 - gap, y, true}, {says, body.x1 + gap, y, true}}
	ends := []writing{{says, body.x1 + long + gap/2, y, false}, {says, body.x0 - long - gap/2, y, false}}
	if body.y1-body.y0 > body.x1-body.x0 && long*2 < (body.y1-body.y0)*1.3 {
		return append(append(up, across...), ends...)
	}
	return append(append(across, ends...), up...)
}

// shadePlaces are the places for the name of what throws shade: in a crown or under a roof, at the ends of what is narrow or along it.
func (v *lightPicture) shadePlaces(l *lettering, s garden.Shade) []writing {
	says, gap := []string{s.Name}, l.size*.8
	at := v.point(garden.Point{East: s.X, North: s.Y})
	x, y := at[0], at[1]
	long := float64(len([]rune(s.Name))) * l.size * letterWide / 2
	switch {
	case s.Kind == garden.Tree:
		r := float64(s.Spread) * 50
		in := max(r-gap, gap)
		return []writing{{says, x, y + in, false}, {says, x, y - in, false}, {says, x, y + r*.45, false}, {says, x, y - r*.45, false}, {says, x, y + r + gap, false}, {says, x, y - r - gap, false},
			{says, x + r + long, y, false}, {says, x - r - long, y, false}}
	case s.Kind.Roofed():
		body := v.bodyOf(s.Footprint())
		in := room{max(body.x0, l.frame.x0), max(body.y0, l.frame.y0), min(body.x1, l.frame.x1), min(body.y1, l.frame.y1)} // what is seen of it
		cx, cy := in.middle()
		places := []writing{{says, cx, cy, false}, {says, cx, cy + gap, false}, {says, cx, cy, true}, {says, cx + gap, cy, true}}
		if !l.takes(places[0]).within(in) && l.takes(places[2]).within(in) {
			places = places[2:]
		}
		return append(places, writing{says, cx, in.y1 + gap, false}, writing{says, cx, in.y0 - gap, false}, writing{says, in.x1 + long + gap/2, cy, false}, writing{says, in.x0 - long - gap/2, cy, false})
	}
	turn := s.Bearing * math.Pi / 180
	half, aside := float64(s.Length)*50, float64(s.Width)*50+gap
	on := func(along float64) (float64, float64) { return x + along*math.Sin(turn), y - along*math.Cos(turn) }
	var places []writing
	if math.Abs(math.Sin(turn)) > .7 { // across the picture
		for _, end := range []float64{half + long + gap/2, -half - long - gap/2} {
			px, py := on(end)
			places = append(places, writing{says, px, py, false})
		}
		for _, along := range []float64{0, .5, -.5, .8, -.8} {
			px, py := on(along * half)
			places = append(places, writing{says, px, py - aside, false}, writing{says, px, py + aside, false})
		}
		return places
	}
	for _, along := range []float64{0, .5, -.5, .8, -.8} {
		px, py := on(along * half)
		places = append(places, writing{says, px + aside, py, true}, writing{says, px - aside, py, true})
	}
	for _, end := range []float64{half + gap, -half - gap} {
		px, py := on(end)
		places = append(places, writing{says, px, py, false})
	}
	return places
}

// bodyOf is a bed's room on the picture; of one that lies askew only what is surely on it.
func (v *lightPicture) bodyOf(b garden.Bed) room {
	if turn := math.Mod(b.Bearing, 90); math.Min(turn, 90-turn) > 5 {
		at, half := v.point(garden.Point{East: b.X, North: b.Y}), float64(min(b.Length, b.Width))*45
		return room{at[0] - half, at[1] - half, at[0] + half, at[1] + half}
	}
	r := room{math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)}
	for _, c := range b.Corners() {
		at := v.point(c)
		r = room{min(r.x0, at[0]), min(r.y0, at[1]), max(r.x1, at[0]), max(r.y1, at[1])}
	}
	return r
}

// lineOf is the ground of something narrow, in pieces, so that one that lies askew takes no more than it covers.
func (v *lightPicture) lineOf(s garden.Shade, size float64) (pieces []room) {
	foot := s.Footprint()
	n := max(1, int(math.Ceil(float64(s.Length)*100/size)))
	half := max(float64(s.Width)*50, size/8)
	for i := range n {
		at := v.point(foot.On(foot.Length*quantity.Metre((float64(i)+.5)/float64(n)), foot.Width/2))
		reach := max(half, float64(s.Length)*50/float64(n))
		across := math.Abs(math.Sin(s.Bearing * math.Pi / 180))
		wide, high := max(half, reach*across), max(half, reach*math.Sqrt(1-across*across))
		pieces = append(pieces, room{at[0] - wide, at[1] - high, at[0] + wide, at[1] + high})
	}
	return pieces
}
