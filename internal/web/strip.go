package web

import (
	"cmp"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// strip is one bed laid out for the picture in space and time: which of its two directions is the
// axis, and the part of the axis each planting takes. Where plantings do not take the whole of the
// other direction the bed is cut into lanes, laid end to end: a patch is always as wide as its ground
// is large, and lies where one finds it.
type strip struct {
	bed     garden.Bed
	across  bool    // the axis is the bed's width
	length  float64 // of the axis, m
	lanes   []lane  // one when every planting takes the whole of the other direction
	patches []patch
}

// lane is a band of the bed along the axis.
type lane struct {
	beside part // of the other direction, m
	on     part // where it lies on the axis
}

// patch is one planting on the axis.
type patch struct {
	p      *garden.Planting
	parts  []part // more than one where it spans lanes
	within bool   // drawn inside its partner's patch
}

// part is a stretch, m.
type part struct{ from, to float64 }

const hair = 1e-6 // m

func (a part) long() float64     { return a.to - a.from }
func (a part) meets(b part) bool { return a.from < b.to-hair && b.from < a.to-hair }

// widest is the part a label goes on.
func (q patch) widest() part {
	return slices.MaxFunc(q.parts, func(a, b part) int { return cmp.Compare(a.long(), b.long()) })
}

// holds is the days a planting keeps ground from others, in any weather year drawn.
func holds(p *garden.Planting) civil.Span {
	return civil.Span{From: p.Start, To: max(p.Clear, p.Last.P90)}
}

// sides is a planting's stretch of the bed in the axis' direction and in the other.
type sides struct{ on, beside part }

// layStrip chooses the direction: the length, unless the width needs far fewer pieces.
func layStrip(bed garden.Bed, plantings []*garden.Planting) strip {
	long, wide := make([]sides, len(plantings)), make([]sides, len(plantings))
	for i, p := range plantings {
		at := p.Place
		if at.Area() <= 0 { // kept from before without a place: the whole bed
			at = bed.Whole()
		}
		along := part{float64(at.AlongFrom), float64(at.AlongTo)}
		across := part{float64(at.AcrossFrom), float64(at.AcrossTo)}
		long[i], wide[i] = sides{along, across}, sides{across, along}
	}
	s := cutStrip(bed, plantings, long, float64(bed.Length), float64(bed.Width))
	if len(s.lanes) == 1 {
		return s
	}
	o := cutStrip(bed, plantings, wide, float64(bed.Width), float64(bed.Length))
	o.across = true
	if 3*o.pieces() < 2*s.pieces() { // one walks along a bed, so the length unless it is much harder to read
		return o
	}
	return s
}

func (s *strip) pieces() int {
	n := len(s.lanes)
	for _, q := range s.patches {
		n += len(q.parts)
	}
	return n
}

// cutStrip lays the plantings on one direction, in as many lanes as keep them apart.
func cutStrip(bed garden.Bed, plantings []*garden.Planting, at []sides, length, width float64) strip {
	s := strip{bed: bed, length: length, lanes: lanesFor(at, length, width)}
	for i, p := range plantings {
		q := patch{p: p, within: partOf(p, plantings)}
		for _, l := range s.lanes {
			if len(s.lanes) > 1 && !l.beside.meets(at[i].beside) {
				continue
			}
			share := l.on.long() / length
			next := part{l.on.from + share*at[i].on.from, l.on.from + share*at[i].on.to}
			if n := len(q.parts); n > 0 && next.from-q.parts[n-1].to < hair {
				q.parts[n-1].to = next.to
			} else {
				q.parts = append(q.parts, next)
			}
		}
		if len(q.parts) == 0 {
			q.parts = []part{at[i].on}
		}
		s.patches = append(s.patches, q)
	}
	return s
}

// lanesFor cuts the other direction at the sides of the plantings.
func lanesFor(at []sides, length, width float64) []lane {
	cuts := []float64{0, width}
	for i := range at {
		cuts = append(cuts, at[i].beside.from, at[i].beside.to)
	}
	slices.Sort(cuts)
	const least = .02 // m: sides so near are the same side
	var lanes []lane
	from := 0.0
	for _, c := range cuts {
		if c-from < least || c > width+hair {
			continue
		}
		lanes = append(lanes, lane{beside: part{from, c}, on: part{length * from / width, length * c / width}})
		from = c
	}
	if len(lanes) == 0 {
		return []lane{{part{0, width}, part{0, length}}}
	}
	return lanes
}

func partOf(p *garden.Planting, all []*garden.Planting) bool {
	if p.Role != garden.Fast && p.Role != garden.Marker {
		return false
	}
	return slices.ContainsFunc(all, func(o *garden.Planting) bool { return o.Key == p.Partner })
}

// laneNames are the words for a strip's lanes, in order from the bed's south-west corner.
func (s *strip) laneNames() []string {
	east := s.bed.Bearing <= 45 || s.bed.Bearing > 135 // the width points east
	if s.across {
		east = !east
	}
	first, last := "south", "north"
	if east {
		first, last = "west", "east"
	}
	switch n := len(s.lanes); n {
	case 1:
		return []string{""}
	case 2:
		return []string{first + " side", last + " side"}
	default:
		names := make([]string, n)
		for i := range names {
			names[i] = ""
		}
		names[0], names[n-1] = first, last
		if n == 3 {
			names[1] = "middle"
		}
		return names
	}
}
