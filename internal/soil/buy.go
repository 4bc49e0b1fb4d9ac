package soil

import (
	"cmp"
	"errors"
	"math"
	"slices"

	"kailyard/internal/quantity"
)

// Bags is a number of packages of one size.
type Bags struct {
	Size  Size
	Count int
}

// Purchase is what to buy of one material.
type Purchase struct {
	Offer  Offer
	Needed quantity.Kilogram
	Bags   []Bags            // largest first, none with a count of 0
	Bought quantity.Kilogram // together
	Cost   float64           // 0 where a price is missing
}

// Left is what will be over, for another year.
func (p Purchase) Left() quantity.Kilogram { return p.Bought - p.Needed }

// Count is the number of packages.
func (p Purchase) Count() (n int) {
	for _, b := range p.Bags {
		n += b.Count
	}
	return n
}

// weighsEnough: a package a thousandth short is taken as enough; no scale in a shed tells the difference.
const weighsEnough = 0.999

// mostBags is the number of packages above which a purchase is a mistake of units, not a garden's.
const mostBags = 20000

// Buy is the cheapest set of packages that holds an amount: by price, or where one is missing by weight and then by
// number. Every combination is considered: sizes one after the other, each count up to what would be enough alone,
// leaving out only those that cost at least as much already, at the best price a kilogram, as the best found.
func Buy(o Offer, needed quantity.Kilogram) (Purchase, error) {
	if math.IsNaN(float64(needed)) || math.IsInf(float64(needed), 0) || needed < 0 {
		return Purchase{}, errors.New("an amount to buy must be 0 or more")
	}
	sizes := slices.Clone(o.Sizes)
	slices.SortFunc(sizes, func(a, b Size) int { return cmp.Or(cmp.Compare(b.Mass, a.Mass), cmp.Compare(a.Price, b.Price)) })
	if len(sizes) == 0 || !(sizes[len(sizes)-1].Mass > 0) {
		return Purchase{}, errors.New("a material to buy needs a package with a weight: write one")
	}
	if float64(needed/sizes[0].Mass) > mostBags {
		return Purchase{}, errors.New("that is more than twenty thousand packages: check the area and the package's weight")
	}
	s := packing{sizes: sizes, priced: o.Priced(), counts: make([]int, len(sizes))}
	s.each = s.cheapestOn()
	s.best.price = math.Inf(1)
	s.fill(0, float64(needed)*weighsEnough, cost{})
	p := Purchase{Offer: o, Needed: needed}
	for i, n := range s.chosen {
		if n > 0 {
			p.Bags = append(p.Bags, Bags{sizes[i], n})
			p.Bought += sizes[i].Mass * quantity.Kilogram(n)
		}
	}
	if s.priced {
		p.Cost = s.best.price
	}
	return p, nil
}

// cost is what a set of packages costs, in money or in weight, and their number.
type cost struct {
	price float64
	bags  int
}

func (c cost) below(o cost) bool {
	const same = 1e-9
	if math.Abs(c.price-o.price) <= same*(1+math.Abs(c.price)) {
		return c.bags < o.bags
	}
	return c.price < o.price
}

type packing struct {
	sizes  []Size
	priced bool
	each   []float64 // from this size on, the least that a kilogram costs
	counts []int
	chosen []int
	best   cost
}

func (s *packing) price(i int) float64 {
	if s.priced {
		return s.sizes[i].Price
	}
	return float64(s.sizes[i].Mass)
}

func (s *packing) cheapestOn() []float64 {
	each := make([]float64, len(s.sizes)+1)
	each[len(s.sizes)] = math.Inf(1)
	for i := len(s.sizes) - 1; i >= 0; i-- {
		each[i] = min(each[i+1], s.price(i)/float64(s.sizes[i].Mass))
	}
	return each
}

// milligram, in kilograms: less is nothing.
const milligram = 1e-6

// fill tries every count of size i and those after it for what is still missing.
func (s *packing) fill(i int, missing float64, so cost) {
	if missing <= milligram {
		if s.chosen == nil || so.below(s.best) {
			s.best, s.chosen = so, slices.Clone(s.counts)
		}
		return
	}
	if i == len(s.sizes) || s.best.below(cost{so.price + missing*s.each[i], so.bags}) {
		return
	}
	enough := int(math.Ceil(missing / float64(s.sizes[i].Mass)))
	for n := enough; n >= 0; n-- {
		s.counts[i] = n
		s.fill(i+1, missing-float64(n)*float64(s.sizes[i].Mass), cost{so.price + float64(n)*s.price(i), so.bags + n})
	}
	s.counts[i] = 0
}
