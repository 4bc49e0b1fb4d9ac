package sheet

import (
	"math"
	"slices"

	"kailyard/internal/garden"
)

// ribbon is a bed laid out along one line for its picture in space and time. Where plantings lie
// beside each other across the bed it is cut lengthwise into lanes, which follow one another along
// the line, each as long as its share of the ground.
type ribbon struct {
	bed      garden.Bed
	sideways bool    // the line is the bed's width and the lanes lie along its length
	length   float64 // of the bed in the line's direction, m
	lanes    []lane
}

// lane is a strip of the bed: the stretch beside the line it covers, m, and where on the line it
// lies, as shares.
type lane struct {
	beside stretch
	on     stretch
}

type stretch struct{ from, to float64 }

func (a stretch) meets(b stretch) bool { return a.from < b.to-1e-6 && b.from < a.to-1e-6 }

// sameEdge is how near two edges lie that a person would not tell apart, m.
const sameEdge = 0.02

// layRibbon chooses the direction that needs fewer lanes, the length when equal.
func layRibbon(bed garden.Bed, list []garden.Planting) ribbon {
	along := ribbon{bed: bed, length: float64(bed.Length)}
	along.cut(list, float64(bed.Width))
	if len(along.lanes) == 1 {
		return along
	}
	across := ribbon{bed: bed, sideways: true, length: float64(bed.Width)}
	across.cut(list, float64(bed.Length))
	if len(across.lanes) < len(along.lanes) {
		return across
	}
	return along
}

// sides are a planting's stretch in the line's direction and beside it. One without a place, kept
// from before, has the whole bed.
func (r *ribbon) sides(q garden.Planting) (on, beside stretch) {
	at := q.Place
	if at.Area() <= 0 {
		at = r.bed.Whole()
	}
	on = stretch{float64(at.AlongFrom), float64(at.AlongTo)}
	beside = stretch{float64(at.AcrossFrom), float64(at.AcrossTo)}
	if r.sideways {
		on, beside = beside, on
	}
	return on, beside
}

// cut makes the lanes at the sides of the plantings.
func (r *ribbon) cut(list []garden.Planting, width float64) {
	cuts := []float64{width}
	for _, q := range list {
		_, beside := r.sides(q)
		cuts = append(cuts, beside.from, beside.to)
	}
	slices.Sort(cuts)
	from := 0.0
	for _, c := range cuts {
		if c-from < sameEdge || c > width+1e-6 || c < width && width-c < sameEdge {
			continue
		}
		r.lanes = append(r.lanes, lane{stretch{from, c}, stretch{from / width, c / width}})
		from = c
	}
	if len(r.lanes) == 0 {
		r.lanes = []lane{{stretch{0, width}, stretch{0, 1}}}
	}
}

// parts are the stretches of the line that a planting takes, as shares of it.
func (r *ribbon) parts(q garden.Planting) []stretch {
	on, beside := r.sides(q)
	var out []stretch
	for _, l := range r.lanes {
		middle := (l.beside.from + l.beside.to) / 2
		if middle < beside.from || middle > beside.to {
			continue
		}
		share := (l.on.to - l.on.from) / r.length
		next := stretch{l.on.from + share*on.from, l.on.from + share*on.to}
		next.from, next.to = math.Max(0, next.from), math.Min(1, next.to)
		if n := len(out); n > 0 && next.from-out[n-1].to < 1e-6 {
			out[n-1].to = next.to
		} else if next.to > next.from {
			out = append(out, next)
		}
	}
	return out
}

// ends are the words for where the line begins and ends.
func (r *ribbon) ends() (first, last string) { return compass(r.bed, r.sideways) }

// sideNames are the words for the first and the last lane.
func (r *ribbon) sideNames() (first, last string) { return compass(r.bed, !r.sideways) }

// compass are the names of the ends of a bed in the direction of its length, or of its width.
func compass(b garden.Bed, width bool) (first, last string) {
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
