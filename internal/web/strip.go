package web

import (
	"cmp"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// strip is one bed laid out for the picture in space and time: which of its two directions is the
// axis, and the part of the axis each planting takes.
type strip struct {
	bed     garden.Bed
	across  bool    // the axis is the bed's width
	length  float64 // of the axis, m
	patches []patch
}

// patch is one planting on the axis: as large a share of the axis as its ground is of the bed.
type patch struct {
	p      *garden.Planting
	parts  []part // one, unless it had to be cut to keep its ground clear of others
	within bool   // drawn inside its partner's patch
}

// part is a stretch of the axis, m.
type part struct{ from, to float64 }

// widest is the part a label goes on.
func (q patch) widest() part {
	return slices.MaxFunc(q.parts, func(a, b part) int { return cmp.Compare(a.to-a.from, b.to-b.from) })
}

// holds is the days a planting keeps ground from others, in any weather year drawn.
func holds(p *garden.Planting) civil.Span {
	return civil.Span{From: p.Start, To: max(p.Clear, p.Last.P90)}
}

// sides is a planting's stretch of the bed in the axis' direction and in the other.
type sides struct{ on, beside part }

// layStrip chooses the axis on which fewer plantings hide one another, the length when equal, and
// places each planting on it. Plantings that would still hide one another (rows side by side) share
// the stretch they take together, each in proportion to its ground.
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
	s := strip{bed: bed, length: float64(bed.Length)}
	chosen, width := long, float64(bed.Width)
	if hidden(plantings, wide) < hidden(plantings, long) {
		s.across, s.length = true, float64(bed.Width)
		chosen, width = wide, float64(bed.Length)
	}
	for i, p := range plantings {
		s.patches = append(s.patches, patch{p: p, parts: []part{chosen[i].on}, within: partOf(p, plantings)})
	}
	for _, cluster := range clusters(plantings, chosen) {
		s.shareOut(cluster, chosen, width)
	}
	return s
}

func partOf(p *garden.Planting, all []*garden.Planting) bool {
	if p.Role != garden.Fast && p.Role != garden.Marker {
		return false
	}
	return slices.ContainsFunc(all, func(o *garden.Planting) bool { return o.Key == p.Partner })
}

func partners(p, o *garden.Planting) bool {
	return p.Partner != "" && p.Partner == o.Key || o.Partner != "" && o.Partner == p.Key
}

const hair = 1e-6 // m

func (a part) meets(b part) bool { return a.from < b.to-hair && b.from < a.to-hair }

func together(p, o *garden.Planting) bool { return p.Span().Meets(o.Span()) }

// hidden counts the pairs that would lie over one another.
func hidden(ps []*garden.Planting, at []sides) int {
	n := 0
	for i := range ps {
		for j := i + 1; j < len(ps); j++ {
			if at[i].on.meets(at[j].on) && together(ps[i], ps[j]) && !partners(ps[i], ps[j]) {
				n++
			}
		}
	}
	return n
}

// clusters are the groups of plantings of which some lie over one another, by index.
func clusters(ps []*garden.Planting, at []sides) [][]int {
	group, bad := make([]int, len(ps)), make([]bool, len(ps))
	for i := range group {
		group[i] = i
	}
	root := func(i int) int {
		for group[i] != i {
			i = group[i]
		}
		return i
	}
	for i := range ps {
		for j := i + 1; j < len(ps); j++ {
			if !at[i].on.meets(at[j].on) || !together(ps[i], ps[j]) {
				continue
			}
			a, b := root(i), root(j)
			group[b] = a
			bad[a] = bad[a] || bad[b] || !partners(ps[i], ps[j])
		}
	}
	by := map[int][]int{}
	for i := range ps {
		if r := root(i); bad[r] {
			by[r] = append(by[r], i)
		}
	}
	var out [][]int
	for _, c := range by {
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b []int) int { return cmp.Compare(a[0], b[0]) })
	return out
}

// shareOut gives each planting of a cluster its share of the stretch the cluster takes: first whole,
// its side's share of the width; and when that would still lay one over another, cut by lanes.
func (s *strip) shareOut(cluster []int, at []sides, width float64) {
	whole := at[cluster[0]].on
	cuts := []float64{0, width}
	for _, i := range cluster {
		whole.from, whole.to = min(whole.from, at[i].on.from), max(whole.to, at[i].on.to)
		cuts = append(cuts, at[i].beside.from, at[i].beside.to)
	}
	if whole.to <= whole.from || width <= 0 {
		return
	}
	for _, i := range cluster {
		s.patches[i].parts = []part{laneShare(whole, at[i].beside, at[i].on, width)}
	}
	if !s.overlap(cluster) {
		return
	}
	slices.Sort(cuts)
	for _, i := range cluster {
		var parts []part
		for k := 1; k < len(cuts); k++ {
			lane := part{cuts[k-1], cuts[k]}
			if lane.to-lane.from < hair || !lane.meets(at[i].beside) {
				continue
			}
			next := laneShare(whole, lane, at[i].on, width)
			if n := len(parts); n > 0 && next.from-parts[n-1].to < hair {
				parts[n-1].to = next.to
			} else {
				parts = append(parts, next)
			}
		}
		s.patches[i].parts = parts
	}
}

// laneShare is the part of a stretch that lies in a lane of the bed's other direction.
func laneShare(whole, lane, on part, width float64) part {
	long := whole.to - whole.from
	from := whole.from + long*lane.from/width
	share := (lane.to - lane.from) / width
	return part{from + share*(on.from-whole.from), from + share*(on.to-whole.from)}
}

func (s *strip) overlap(cluster []int) bool {
	for n, i := range cluster {
		for _, j := range cluster[n+1:] {
			a, b := s.patches[i], s.patches[j]
			if a.parts[0].meets(b.parts[0]) && together(a.p, b.p) && !partners(a.p, b.p) {
				return true
			}
		}
	}
	return false
}
