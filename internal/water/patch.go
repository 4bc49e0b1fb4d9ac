package water

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// patch is a piece of a bed's ground that the same plantings hold, one after the other or together. It is watered as one, so that no
// ground is watered twice.
type patch struct {
	bed    int64
	area   float64 // m²
	stands []int   // by the day they go in
}

// leastPatch is the ground, m², below which a patch is the rounding of a drawing.
const leastPatch = 1e-4

// patchesOf cuts the ground of all beds where plantings begin and end. A stand without a place is a patch of its own.
func patchesOf(stands []Stand) []patch {
	var out []patch
	var beds []int64
	placed := map[int64][]int{}
	for i, s := range stands {
		if s.Place.Area() <= 0 {
			if s.Area > 0 {
				out = append(out, patch{s.BedID, float64(s.Area), []int{i}})
			}
			continue
		}
		if placed[s.BedID] == nil {
			beds = append(beds, s.BedID)
		}
		placed[s.BedID] = append(placed[s.BedID], i)
	}
	for _, bed := range beds {
		out = append(out, cut(stands, bed, placed[bed])...)
	}
	for _, p := range out {
		slices.SortStableFunc(p.stands, func(a, b int) int { return int(stands[a].From - stands[b].From) })
	}
	return out
}

// cut parts one bed: first across its length, then each strip across its width; pieces with the same plantings are one patch.
func cut(stands []Stand, bed int64, of []int) []patch {
	var out []patch
	at := map[string]int{}
	along := cutsOf(of, func(i int) (a, b quantity.Metre) { return stands[i].Place.AlongFrom, stands[i].Place.AlongTo })
	for k := range max(0, len(along)-1) {
		strip := covering(of, (along[k]+along[k+1])/2, func(i int) (a, b quantity.Metre) { return stands[i].Place.AlongFrom, stands[i].Place.AlongTo })
		wide := func(i int) (a, b quantity.Metre) { return stands[i].Place.AcrossFrom, stands[i].Place.AcrossTo }
		across := cutsOf(strip, wide)
		for m := range max(0, len(across)-1) {
			held := covering(strip, (across[m]+across[m+1])/2, wide)
			area := float64((along[k+1] - along[k]) * (across[m+1] - across[m]))
			if len(held) == 0 || area <= 0 {
				continue
			}
			key := make([]byte, 0, 4*len(held))
			for _, i := range held {
				key = append(key, byte(i), byte(i>>8), byte(i>>16), byte(i>>24))
			}
			n, seen := at[string(key)]
			if !seen {
				n = len(out)
				at[string(key)] = n
				out = append(out, patch{bed: bed, stands: held})
			}
			out[n].area += area
		}
	}
	return slices.DeleteFunc(out, func(p patch) bool { return p.area < leastPatch })
}

func cutsOf(of []int, edges func(i int) (a, b quantity.Metre)) []quantity.Metre {
	var cuts []quantity.Metre
	for _, i := range of {
		a, b := edges(i)
		cuts = append(cuts, a, b)
	}
	slices.Sort(cuts)
	return slices.CompactFunc(cuts, func(a, b quantity.Metre) bool { return max(a-b, b-a) < 1e-6 })
}

func covering(of []int, at quantity.Metre, edges func(i int) (a, b quantity.Metre)) []int {
	var out []int
	for _, i := range of {
		if a, b := edges(i); a <= at && at < b {
			out = append(out, i)
		}
	}
	return out
}

// holds says whether a stand is in the ground at some time of a span of days.
func (s Stand) holds(from, to civil.Date) bool { return s.From <= to && s.To > from }

// step is what a patch asks on one of its days, weather apart.
type step struct {
	Asks
	nearest float64 // what of the water that the deepest roots may miss the most sensitive of the crops may, 0–1
	in      bool    // something goes in
	perArea float64 // mm that the plants set out are watered in with
	seedbed bool    // seed of something is not up
	grown   bool    // something is up or set out
	waters  bool
	held    bool
	dark    float64 // what of the open sky's energy its bed lacks
}

// steps are all days of a patch, from fallow days before the first planting to the day that the last is out. Where crops share the
// ground it is the greater need of them that counts.
func (p patch) steps(stands []Stand, courses []course, c Climate) (first civil.Date, out []step) {
	if len(p.stands) == 0 {
		return 0, nil
	}
	first = stands[p.stands[0]].From.Add(-fallow)
	last := first
	for _, i := range p.stands {
		last = max(last, stands[i].To)
	}
	out = make([]step, max(0, int(last-first)))
	lying := step{Asks: bare(c, float64(sownDepth)), nearest: 1}
	for n := range out {
		out[n] = lying
	}
	for _, i := range p.stands {
		s := &stands[i]
		for n := range courses[i] {
			out[int(s.From-first)+n].join(s, courses[i][n], n)
		}
	}
	return first, out
}

// join adds a planting on one of its days.
func (t *step) join(s *Stand, a Asks, day int) {
	if !t.held {
		t.Asks = a
	} else {
		reach := min(t.Share*t.nearest*t.Root, a.Share*a.Root)
		t.Basal, t.Most, t.Cover = max(t.Basal, a.Basal), max(t.Most, a.Most), max(t.Cover, a.Cover)
		t.Root, t.Share, t.Wets = max(t.Root, a.Root), min(t.Share, a.Share), max(t.Wets, a.Wets)
		t.nearest = min(1, reach/(t.Share*t.Root))
	}
	t.held, t.waters = true, t.waters || s.Waters
	up := int(s.Up - s.From)
	t.seedbed, t.grown = t.seedbed || s.Waters && day < up, t.grown || day >= up
	if day == 0 && !s.Settled {
		t.in = true
		if s.Up <= s.From && s.Area > 0 {
			t.perArea = max(t.perArea, perPlantSetOut*float64(s.Plants)/float64(s.Area))
		}
	}
}

// names are what grows on ground, each once, in the order of the list; with the day it went in where another planting of the name stands
// among others.
func names(stands, others []Stand) []string {
	var out []string
	for _, s := range stands {
		name := s.Name
		if slices.ContainsFunc(others, func(o Stand) bool { return o.Name == s.Name && o.Key != s.Key }) && !s.Settled {
			name += " of " + s.From.Short()
		}
		if s.Name != "" && !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// groundsOf is a bed's soil, and what of the water given to it comes to the roots.
func (q *Question) groundsOf(bed int64) (Ground, float64) {
	ground, known := q.Grounds[bed]
	if !known {
		ground = GroundOf("")
	}
	reaches := q.Reaches[bed]
	if !(reaches > 0.1 && reaches <= 1) {
		reaches = usuallyReaches
	}
	return ground, reaches
}

// usuallyReaches is what of a can's water comes to the roots. Source: common practice
const usuallyReaches = 0.9

// deepest is how far down the deepest roots of the season go, m.
func (q *Question) deepest() float64 {
	deep := 0.6
	for _, s := range q.Stands {
		deep = max(deep, float64(s.Crop.Root))
	}
	return deep
}
