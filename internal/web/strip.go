package web

import (
	"cmp"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// strip is one bed laid out for the picture in space and time, with the plantings on it.
type strip struct {
	garden.Strip
	patches []patch
}

// patch is one planting on the strip.
type patch struct {
	p      *garden.Planting
	parts  []garden.Stretch // more than one where it spans lanes
	within bool             // drawn inside its partner's patch
}

// widest is the part a label goes on.
func (q patch) widest() garden.Stretch {
	return slices.MaxFunc(q.parts, func(a, b garden.Stretch) int { return cmp.Compare(a.Long(), b.Long()) })
}

// holds is the days a planting keeps ground from others, in any weather year drawn.
func holds(p *garden.Planting) civil.Span {
	if p.Ended() {
		return civil.Span{From: p.Start, To: p.Clear}
	}
	return civil.Span{From: p.Start, To: max(p.Clear, p.Last.P90)}
}

// layStrip lays a bed's plantings out.
func layStrip(bed garden.Bed, plantings []*garden.Planting) strip {
	places := make([]garden.Place, len(plantings))
	for i, p := range plantings {
		places[i] = p.Place
	}
	s := strip{Strip: garden.LayStrip(bed, places)}
	for _, p := range plantings {
		q := patch{p: p, within: partOf(p, plantings), parts: s.Parts(p.Place)}
		if len(q.parts) == 0 { // narrower than any lane
			q.parts = []garden.Stretch{{To: s.Length}}
		}
		s.patches = append(s.patches, q)
	}
	return s
}

func partOf(p *garden.Planting, all []*garden.Planting) bool {
	if p.Role != garden.Fast && p.Role != garden.Marker {
		return false
	}
	return slices.ContainsFunc(all, func(o *garden.Planting) bool { return o.Key == p.Partner })
}

// laneNames are the words for a strip's lanes, in order from the bed's south-west corner.
func (s *strip) laneNames() []string {
	first, last := s.SideNames()
	names := make([]string, len(s.Lanes))
	switch n := len(names); n {
	case 1:
	case 2:
		names[0], names[1] = first+" side", last+" side"
	default:
		names[0], names[n-1] = first, last
		if n == 3 {
			names[1] = "middle"
		}
	}
	return names
}
