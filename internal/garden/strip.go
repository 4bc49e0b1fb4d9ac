package garden

import (
	"math"
	"slices"
)

// Strip is a bed laid out along one line, for pictures of it in space and time. Where places do not
// take the whole of the other direction the bed is cut into lanes, laid end to end: so each place
// takes the share of the line that its ground is of the bed, and lies where one finds it.
type Strip struct {
	Bed    Bed
	Across bool    // the line is the bed's width
	Length float64 // of the line, m
	Lanes  []Lane  // one when every place takes the whole of the other direction
}

// Lane is a band of the bed along a strip's line.
type Lane struct {
	Beside Stretch // of the other direction, m
	On     Stretch // where it lies on the line, m
}

// Stretch is a length of a line, m.
type Stretch struct{ From, To float64 }

// hair is a difference in length that is none, m.
const hair = 1e-6

// SameEdge is how near two edges lie that a person would not tell apart, m.
const SameEdge = 0.02

// Long is the stretch's length, m.
func (a Stretch) Long() float64 { return a.To - a.From }

// Meets says whether two stretches share more than an end.
func (a Stretch) Meets(b Stretch) bool { return a.From < b.To-hair && b.From < a.To-hair }

// LayStrip chooses the direction of a bed's strip for the places in it: the length, along which one
// walks, unless the width needs far fewer pieces.
func LayStrip(b Bed, places []Place) Strip {
	long := Strip{Bed: b, Length: float64(b.Length)}
	long.cut(places, float64(b.Width))
	if len(long.Lanes) == 1 {
		return long
	}
	wide := Strip{Bed: b, Across: true, Length: float64(b.Width)}
	wide.cut(places, float64(b.Length))
	if 3*wide.pieces(places) < 2*long.pieces(places) {
		return wide
	}
	return long
}

// sides are a place's stretch on the line and beside it; one without ground has the whole bed.
func (s *Strip) sides(at Place) (on, beside Stretch) {
	if at.Area() <= 0 {
		at = s.Bed.Whole()
	}
	on = Stretch{float64(at.AlongFrom), float64(at.AlongTo)}
	beside = Stretch{float64(at.AcrossFrom), float64(at.AcrossTo)}
	if s.Across {
		on, beside = beside, on
	}
	return on, beside
}

// cut makes the lanes at the sides of the places.
func (s *Strip) cut(places []Place, width float64) {
	cuts := []float64{width}
	for _, at := range places {
		_, beside := s.sides(at)
		cuts = append(cuts, beside.From, beside.To)
	}
	slices.Sort(cuts)
	from := 0.0
	for _, c := range cuts {
		if c-from < SameEdge || c > width+hair || c < width && width-c < SameEdge {
			continue
		}
		s.Lanes = append(s.Lanes, Lane{Stretch{from, c}, Stretch{s.Length * from / width, s.Length * c / width}})
		from = c
	}
	if len(s.Lanes) == 0 {
		s.Lanes = []Lane{{Stretch{0, width}, Stretch{0, s.Length}}}
	}
}

// pieces is how many things there are to read: the lanes, and each part of each place.
func (s *Strip) pieces(places []Place) int {
	n := len(s.Lanes)
	for _, at := range places {
		n += len(s.Parts(at))
	}
	return n
}

// Parts are the stretches of the line that a place takes, in order: more than one where it spans lanes.
func (s *Strip) Parts(at Place) []Stretch {
	on, beside := s.sides(at)
	var out []Stretch
	for _, l := range s.Lanes {
		middle := (l.Beside.From + l.Beside.To) / 2
		if len(s.Lanes) > 1 && (middle < beside.From || middle > beside.To) {
			continue
		}
		share := l.On.Long() / s.Length
		next := Stretch{max(0, l.On.From+share*on.From), min(s.Length, l.On.From+share*on.To)}
		if n := len(out); n > 0 && next.From-out[n-1].To < hair {
			out[n-1].To = next.To
		} else if next.To > next.From {
			out = append(out, next)
		}
	}
	return out
}

// Ends are the words for where the line begins and ends.
func (s *Strip) Ends() (first, last string) { return s.Bed.Compass(s.Across) }

// SideNames are the words for the first and the last lane.
func (s *Strip) SideNames() (first, last string) { return s.Bed.Compass(!s.Across) }

// Compass are the names of the ends of a bed in the direction of its length, or of its width.
func (b Bed) Compass(width bool) (first, last string) {
	to := b.On(b.Length, 0)
	if width {
		to = b.On(0, b.Width)
	}
	from := b.On(0, 0)
	if math.Abs(float64(to.East-from.East)) >= math.Abs(float64(to.North-from.North)) {
		return "west", "east"
	}
	return "south", "north"
}
