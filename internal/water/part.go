package water

import (
	"cmp"
	"math"
	"slices"

	"kailyard/internal/quantity"
)

// share is ground that the same plantings hold in a week.
type share struct {
	stands  []int
	patches []*ground
	area    float64
	part    Part
}

// week is a bed's week: its ground by what grows on it, ground that wants the like told together.
func (r *reckoning) week(patches []*ground, w int) WeekNeed {
	from := r.monday.Add(7 * w)
	out := WeekNeed{From: from}
	var shares []*share
	var all share
	for _, g := range patches {
		var held []int
		for _, i := range g.stands {
			if s := r.q.Stands[i]; s.holds(from, from+6) {
				held = append(held, i)
				if s.From >= from && !s.Settled && s.Name != "" && !slices.Contains(out.GoesIn, s.Name) {
					out.GoesIn = append(out.GoesIn, s.Name)
				}
			}
		}
		if len(held) == 0 {
			continue
		}
		all.patches, all.area = append(all.patches, g), all.area+g.area
		at := slices.IndexFunc(shares, func(s *share) bool { return slices.Equal(s.stands, held) })
		if at < 0 {
			at = len(shares)
			shares = append(shares, &share{stands: held})
		}
		shares[at].patches, shares[at].area = append(shares[at].patches, g), shares[at].area+g.area
	}
	out.Area = quantity.SquareMetre(all.area)
	if !r.told(&all, w) {
		return out
	}
	out.Typical, out.Dry = all.part.Typical, all.part.Dry
	var dry []*share
	for _, s := range shares {
		if r.told(s, w) {
			dry = append(dry, s)
		}
	}
	apart := r.alike(dry, w)
	for _, s := range apart {
		var held, others []Stand
		for _, o := range apart {
			for _, i := range o.stands {
				if o == s {
					held = append(held, r.q.Stands[i])
				} else {
					others = append(others, r.q.Stands[i])
				}
			}
		}
		s.part.Area, s.part.Names = quantity.SquareMetre(s.area), names(held, others)
		out.Parts = append(out.Parts, s.part)
	}
	return out
}

// told reckons what ground wants in a week; false where it wants nothing in any year.
func (r *reckoning) told(s *share, w int) bool {
	years := len(r.q.Years)
	litres, times := make([]float64, years), make([]float64, years)
	some := false
	days := 0.0
	for _, g := range s.patches {
		days += g.held[w] * g.area / s.area
	}
	for y := range years {
		for _, g := range s.patches {
			one := g.years[y]
			litres[y] += float64(one.depth[w]) * g.area
			times[y] += float64(one.times[w]) * g.area / s.area
		}
		some = some || litres[y] > 0
	}
	if !some {
		return false
	}
	slices.Sort(litres)
	slices.Sort(times)
	s.part.Typical, s.part.Dry = s.amount(litres, times, days, 0.5), s.amount(litres, times, days, 0.9)
	return s.part.Dry.Water > 0
}

// amount is a week of a kind of year; no watering of it is more than one brings.
func (s *share) amount(litres, times []float64, days, part float64) Amount {
	a := Amount{Water: quantity.Litre(sorted(litres, part)), Times: sorted(times, part), Days: days}
	if s.area > 0 {
		a.Depth = quantity.Millimetre(float64(a.Water) / s.area)
		a.Times = max(a.Times, float64(a.Depth)/MostAtOnce)
	}
	return a
}

// alike joins ground that wants much the same, the largest first.
func (r *reckoning) alike(shares []*share, w int) []*share {
	byArea := func(a, b *share) int { return cmp.Compare(b.area, a.area) }
	slices.SortStableFunc(shares, byArea)
	var out []*share
	for _, s := range shares {
		at := slices.IndexFunc(out, func(o *share) bool { return o.part.Typical.like(s.part.Typical) && o.part.Dry.like(s.part.Dry) })
		if at < 0 {
			out = append(out, s)
			continue
		}
		o := out[at]
		o.stands, o.patches, o.area = append(slices.Clone(o.stands), s.stands...), append(slices.Clone(o.patches), s.patches...), o.area+s.area
		r.told(o, w)
	}
	slices.SortStableFunc(out, byArea)
	return out
}

// like says whether two amounts are one to a gardener: within 3 mm or a quarter, and as often within a third.
func (a Amount) like(b Amount) bool {
	near := func(x, y, least, part float64) bool { return math.Abs(x-y) <= max(least, part*max(x, y)) }
	return near(float64(a.Depth), float64(b.Depth), 3, 0.25) && near(a.Times, b.Times, 0.2, 1./3) && near(a.Held(), b.Held(), 1, 0)
}
