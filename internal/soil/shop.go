package soil

import (
	"fmt"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Shopping is what to buy for all beds together.
type Shopping struct {
	Purchases []Purchase // by material, in the order of the offers
	Cost      float64    // 0 where it is not known
	Priced    bool
	Reasons   []garden.Reason
	Left      []string // what was not offered, and why
}

// With is the list with more purchases, as of lime; where a price is missing, no cost of the whole is told.
func (s Shopping) With(more ...Purchase) Shopping {
	out := Shopping{Priced: true, Left: s.Left}
	for _, p := range append(slices.Clone(s.Purchases), more...) {
		if p.Count() == 0 {
			continue
		}
		out.Purchases = append(out.Purchases, p)
		out.Cost, out.Priced = out.Cost+p.Cost, out.Priced && p.Offer.Priced()
	}
	if !out.Priced || len(out.Purchases) == 0 {
		out.Cost, out.Priced = 0, false
	}
	out.tell()
	return out
}

// Bags is the number of packages.
func (s Shopping) Bags() (n int) {
	for _, p := range s.Purchases {
		n += p.Count()
	}
	return n
}

// Bought is the weight of all packages.
func (s Shopping) Bought() (mass quantity.Kilogram) {
	for _, p := range s.Purchases {
		mass += p.Bought
	}
	return mass
}

// below says whether a list is better than another: cheaper, or where prices are missing of fewer packages, then lighter.
func (s Shopping) below(o Shopping) bool {
	if s.Priced {
		return cost{s.Cost, s.Bags()}.below(cost{o.Cost, o.Bags()})
	}
	if s.Bags() != o.Bags() {
		return s.Bags() < o.Bags()
	}
	return s.Bought() < o.Bought()-1e-9
}

// mostKinds is the number of materials that one shopping list is tried with; three plant foods need no more.
const mostKinds = 3

// mostMixes bounds the work of trying sets of materials over many beds.
const mostMixes = 3000

// worse is how much more of a plant food may remain unmet, as part of the need, for a shorter shopping list.
const worse = 0.02

// Feed prescribes for several beds at once and finds what to buy for them. Sets of one, two and three of the
// materials are tried: of those that leave no more unmet in any bed than all materials together would, by two parts in a
// hundred, the one whose whole packages for all beds cost least is taken (without prices: fewest packages, then least
// weight). Inside a set, each bed has its cheapest mix.
func Feed(grounds []Ground, packages []garden.Package, choice Choice, bucket quantity.Litre) ([]Prescription, Shopping, error) {
	offers, left := Offers(packages, choice)
	known := priced(offers)
	all := make([]Prescription, len(grounds))
	targets := make([]Demand, len(grounds))
	best := make([]Mix, len(grounds))
	for i, g := range grounds {
		all[i] = reckon(g)
		targets[i] = all[i].target(g)
		mix, err := Blend(targets[i], offers)
		if err != nil {
			return nil, Shopping{}, fmt.Errorf("%s: %w", g.Bed.Name, err)
		}
		best[i] = mix
	}
	if enough(grounds, targets, best, known) && len(known) < len(offers) {
		offers = known // what has no price is not needed
		left = append(left, "Materials without a price are left out: those with one suffice.")
	}
	mixes, list, err := cheapestSet(all, targets, best, offers)
	if err != nil {
		return nil, Shopping{}, err
	}
	for i, g := range grounds {
		all[i].settle(g, mixes[i], choice.Units, bucket)
	}
	list.Left = left
	list.tell()
	return all, list, nil
}

// priced are the offers of which every size has a price.
func priced(offers []Offer) (known []Offer) {
	for _, o := range offers {
		if o.Priced() {
			known = append(known, o)
		}
	}
	return known
}

// enough says whether some offers alone do as well as all of them.
func enough(grounds []Ground, targets []Demand, best []Mix, some []Offer) bool {
	if len(some) == 0 {
		return false
	}
	for i := range grounds {
		mix, err := Blend(targets[i], some)
		if err != nil || !mix.asGoodAs(best[i]) {
			return false
		}
	}
	return true
}

// asGoodAs says whether a mix leaves hardly more unmet than another for the same need.
func (m Mix) asGoodAs(o Mix) bool {
	need, mine, other := m.Need.values(), m.Unmet.values(), o.Unmet.values()
	for i := range need {
		if mine[i] > other[i]+worse*need[i]+1e-9 {
			return false
		}
	}
	return true
}

// cheapestSet tries the sets of offers. Beds with the same target share their mix.
func cheapestSet(all []Prescription, targets []Demand, best []Mix, offers []Offer) ([]Mix, Shopping, error) {
	var kinds []int // index of the first bed with each bed's target
	distinct := 0
	for i, t := range targets {
		kinds = append(kinds, slices.Index(targets, t))
		if kinds[i] == i {
			distinct++
		}
	}
	mixes := slices.Clone(best)
	list, err := listOf(all, mixes)
	if err != nil {
		return nil, list, err
	}
	left := mostMixes
	for size := 1; size <= min(mostKinds, len(offers)); size++ {
		if !list.Priced && size > list.Bags() {
			break // a package of each is more than there are already
		}
		for set := range sets(len(offers), size) {
			if left -= distinct; left < 0 {
				return mixes, list, nil
			}
			some := make([]Offer, size)
			for k, j := range set {
				some[k] = offers[j]
			}
			if !bringEnough(some, best) {
				continue
			}
			tried, ok := mixesOf(targets, kinds, best, some)
			if !ok {
				continue
			}
			other, err := listOf(all, tried)
			if err == nil && other.below(list) {
				mixes, list = tried, other
			}
		}
	}
	return mixes, list, nil
}

// bringEnough is false where some offers, together, have none of a plant food that the best mix of a bed brings.
func bringEnough(some []Offer, best []Mix) bool {
	var brings [plantFoods]bool
	for _, o := range some {
		for i, share := range o.found() {
			brings[i] = brings[i] || share > 0
		}
	}
	for _, m := range best {
		need, unmet := m.Need.values(), m.Unmet.values()
		for i := range need {
			if !brings[i] && need[i] > unmet[i]+worse*need[i]+1e-9 {
				return false
			}
		}
	}
	return true
}

// mixesOf is every bed's mix from some offers, and whether all are as good as the best.
func mixesOf(targets []Demand, kinds []int, best []Mix, some []Offer) ([]Mix, bool) {
	mixes := make([]Mix, len(targets))
	for i, t := range targets {
		if kinds[i] < i {
			mixes[i] = mixes[kinds[i]]
			continue
		}
		mix, err := Blend(t, some)
		if err != nil || !mix.asGoodAs(best[i]) {
			return nil, false
		}
		mixes[i] = mix
	}
	return mixes, true
}

// sets yields the sets of some size from n things, in order.
func sets(n, size int) func(func([]int) bool) {
	return func(yield func([]int) bool) {
		set := make([]int, size)
		var from func(k, least int) bool
		from = func(k, least int) bool {
			if k == size {
				return yield(set)
			}
			for j := least; j < n; j++ {
				set[k] = j
				if !from(k+1, j+1) {
					return false
				}
			}
			return true
		}
		from(0, 0)
	}
}

// listOf is the shopping list of every bed's mix.
func listOf(all []Prescription, mixes []Mix) (Shopping, error) {
	var offers []Offer
	var masses []quantity.Kilogram
	for i, m := range mixes {
		for _, part := range m.Parts {
			mass := quantity.Kilogram(part.Now+part.Later) * quantity.Kilogram(all[i].Need.Planted)
			k := slices.IndexFunc(offers, func(o Offer) bool { return o.Material.ID == part.Offer.Material.ID && o.Grade == part.Offer.Grade })
			if k < 0 {
				k, offers, masses = len(offers), append(offers, part.Offer), append(masses, 0)
			}
			masses[k] += mass
		}
	}
	list := Shopping{Priced: len(offers) > 0}
	for k, o := range offers {
		p, err := Buy(o, masses[k])
		if err != nil {
			return list, fmt.Errorf("%s: %w", o.Name, err)
		}
		list.Purchases = append(list.Purchases, p)
		list.Cost += p.Cost
		list.Priced = list.Priced && o.Priced()
	}
	if !list.Priced {
		list.Cost = 0
	}
	return list, nil
}

func (s *Shopping) tell() {
	switch {
	case len(s.Purchases) == 0:
		s.Reasons = append(s.Reasons, garden.Reason{Says: "Nothing is to be bought.", Rule: "shopping list"})
	case s.Priced:
		s.Reasons = append(s.Reasons, garden.Reason{Says: "These whole packages cost least of those that hold what all beds need.", Rule: "shopping list"})
	default:
		s.Reasons = append(s.Reasons, garden.Reason{Says: "The cost is not known: no price is told. Of the materials that will do, those of the fewest packages are taken, and of each the packages with least left over.", Rule: "shopping list"})
	}
}
