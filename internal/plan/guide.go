package plan

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"sort"

	"kailyard/internal/allot"
)

// guide is what to try where: for each want its sowings in the beds that let them in, each the likelier drawn the less its bed
// loses by it at the prices of the bound.
type guide struct {
	urns   []urn
	market *market
	prices *allot.Prices
}

// bound is a value that no plan exceeds: what the guide's prices come to after some more steps, or, where the weather years count one
// by one, that of a market of their own.
func (g *guide) bound() float64 {
	g.prices.Lower(stepsToBound-stepsToGuide, nil)
	if g.market.settings.Risk != byMeanHarvest {
		m := g.market.field.relax(byNothing)
		return m.base + m.from(g.market, g.prices, stepsToYears).Proven()
	}
	return g.market.base + g.prices.Proven()
}

// urn holds pairs, those that lose their bed least first, and their weights added up.
type urn struct {
	pairs []pair
	upTo  []float64
}

type pair struct {
	bed, sow int32
	loss     float64
}

// trust is the loss, in points, that makes a pair e times rarer; rarest is the least weight of one.
const (
	trust  = 15.0
	rarest = 0.01
)

// newGuide reads the prices of the bound.
func newGuide(f *field) *guide {
	m := f.relaxed(byNothing, byMeanHarvest)
	x := m.prices(stepsToGuide)
	g := &guide{urns: make([]urn, len(f.wants)), market: m, prices: x}
	for bed := range f.plots {
		for w := range f.wants {
			var sows []int
			var uses []int32
			for _, sow := range f.wants[w].sowings {
				share := m.leaves(bed, sow)
				if share == 0 {
					continue
				}
				if key, ok := m.keyOf(bed, w, sow, share); ok {
					if id, ok := m.at[key]; ok {
						sows, uses = append(sows, sow), append(uses, id)
					}
				}
			}
			for k, loss := range x.Losses(m.grounds[bed], uses) {
				g.urns[w].pairs = append(g.urns[w].pairs, pair{int32(bed), int32(sows[k]), loss})
			}
		}
	}
	for w := range g.urns {
		g.urns[w].fill()
	}
	return g
}

func (u *urn) fill() {
	slices.SortStableFunc(u.pairs, func(a, b pair) int { return cmp.Compare(a.loss, b.loss) })
	sum := 0.0
	for _, p := range u.pairs {
		sum += math.Exp(-p.loss/trust) + rarest
		u.upTo = append(u.upTo, sum)
	}
}

// some calls each with about n of a want's pairs: two thirds those that lose least, the others spread over the rest.
func (g *guide) some(want, n int, each func(bed, sow int)) {
	pairs := g.urns[want].pairs
	best := len(pairs)
	if best > n {
		best = n * 2 / 3
	}
	for _, p := range pairs[:best] {
		each(int(p.bed), int(p.sow))
	}
	step := max(1, (len(pairs)-best)*3/max(1, n))
	for k := best + step/2; k < len(pairs); k += step {
		each(int(pairs[k].bed), int(pairs[k].sow))
	}
}

// draw is a sowing of a want and a bed for it.
func (g *guide) draw(r *rand.Rand, want int) (bed, sow int, ok bool) {
	u := &g.urns[want]
	if len(u.pairs) == 0 {
		return 0, 0, false
	}
	k := sort.SearchFloat64s(u.upTo, r.Float64()*u.upTo[len(u.upTo)-1])
	p := u.pairs[min(k, len(u.pairs)-1)]
	return int(p.bed), int(p.sow), true
}
