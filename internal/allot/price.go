package allot

import (
	"math"
	"slices"
	"sort"
)

// use is a Use with the areas at which what it earns for more ground changes.
type use struct {
	start, end int
	families   uint64
	rises      bool // what it earns for more ground may fall and rise again
	cost       float64
	slope      float64 // earned by a m² beside what its harvest is paid
	leastArea  float64
	corners    []corner  // ascending by area
	bestArea   []float64 // by class of ground
}

// corner is an area of a use at which one piece of one supply is filled, or a slope of its own ends.
type corner struct {
	area   float64
	supply int32 // −1: a slope of its own
	piece  int8
	kg     float64 // per m²; or the slope that ends
}

// Prices puts a price on every piece of every row. At any prices that fall from piece to piece, what the pieces are worth
// beyond their prices, together with what each ground can earn at most at those prices, is more than any plan's value:
//
//	value ≤ Σ pieces (worth − price)⁺ × kg + Σ grounds area × (best chain of uses over time, per m²)
//
// A planting is charged its whole fixed cost and is paid for no more than its rows want, so that its best rate per m²
// is at a corner, at its least area or at the ground's largest. What may stand among it is paid as the best of its group. A
// harvest that may serve several rows is paid the highest price of each piece, for as many kilograms as they want together.
type Prices struct {
	*Relaxation
	uses    []use
	useOf   [][3]int32            // by option and light had, where the relaxation is of a Problem
	areas   []float64             // classes of largest planting, ascending; the largest of each
	areaOf  []int                 // by ground
	order   []int                 // of the grounds, those that share a list and a class together
	edges   [][MostPieces]float64 // by row, kg, cumulative
	rates   [][MostPieces]float64
	reach   [][MostPieces]float64 // by supply, kg, cumulative
	price   [][MostPieces]float64 // by row
	paid    [][MostPieces]float64 // by supply: the highest price of the rows
	payer   [][MostPieces]int32   // and the row that pays it
	lack    [][MostPieces]float64 // kg grown − kg wanted at the prices: the subgradient
	weight  [][]float64           // by class of area and use: per m²
	friend  [][]int32             // by class of area and group: the best use of the group, −1 where none pays
	ground  [][]float64           // m² used, likewise
	least   float64               // the least bound found
	leastAt [][MostPieces]float64

	direction [][MostPieces]float64
	ease      [][MostPieces]float64 // how readily each price moves: its span over the kg it is for
	level     leveller
	chain     [2][]float64 // by time: the best chain from then on, and the best of those that begin with other families
	from      [2][]int32   // its first use; −1: none begins then
	head      []uint64     // the families that the best begins with
}

// mostAreaClasses: grounds of many sizes are taken together, each counted as the largest of its class.
const mostAreaClasses = 24

// firstPrice is the share of its worth each piece is priced at to begin with.
const firstPrice = 0.6

func newPrices(p *Problem) *Prices {
	r, useOf := relax(p)
	x := NewPrices(r)
	x.useOf = useOf
	return x
}

// NewPrices puts first prices on a relaxation.
func NewPrices(r *Relaxation) *Prices {
	x := &Prices{Relaxation: r, least: math.Inf(1), head: make([]uint64, r.Times+1)}
	for k := range x.chain {
		x.chain[k], x.from[k] = make([]float64, r.Times+1), make([]int32, r.Times+1)
	}
	x.areas, x.areaOf = areaClasses(r.Grounds)
	for i := range r.Rows {
		x.addRow(r.Rows[i].Pieces)
	}
	if r.Supplies == nil {
		for i := range r.Rows {
			r.Supplies = append(r.Supplies, Supply{Rows: []int32{int32(i)}})
		}
	}
	for _, s := range r.Supplies {
		reach := x.edges[s.Rows[0]]
		for k := range reach {
			reach[k] *= float64(len(s.Rows))
		}
		x.reach = append(x.reach, reach)
	}
	x.paid, x.payer = make([][MostPieces]float64, len(r.Supplies)), make([][MostPieces]int32, len(r.Supplies))
	x.lack, x.direction = make([][MostPieces]float64, len(r.Rows)), make([][MostPieces]float64, len(r.Rows))
	x.leastAt = slices.Clone(x.price)
	for i := range r.Uses {
		x.uses = append(x.uses, x.cornersOf(&r.Uses[i]))
	}
	for range x.areas {
		x.weight = append(x.weight, make([]float64, len(x.uses)))
		x.ground = append(x.ground, make([]float64, len(x.uses)))
		x.friend = append(x.friend, make([]int32, len(r.Friends)))
	}
	x.order = x.together()
	return x
}

// together puts grounds that share a list and a class beside each other.
func (x *Prices) together() []int {
	type kind struct {
		class int
		list  *int32
	}
	var kinds []kind
	of := map[kind][]int{}
	for g := range x.Grounds {
		k := kind{class: x.areaOf[g]}
		if uses := x.Grounds[g].Uses; len(uses) > 0 {
			k.list = &uses[0]
		}
		if of[k] == nil {
			kinds = append(kinds, k)
		}
		of[k] = append(of[k], g)
	}
	var order []int
	for _, k := range kinds {
		order = append(order, of[k]...)
	}
	return order
}

// alike says whether two grounds have the same best chain.
func (x *Prices) alike(a, b int) bool {
	return x.areaOf[a] == x.areaOf[b] && sameList(x.Grounds[a].Uses, x.Grounds[b].Uses)
}

// sameList says whether two lists are one.
func sameList(a, b []int32) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0])
}

func (x *Prices) addRow(pieces []Piece) {
	r := newRow(&Demand{Pieces: pieces})
	x.edges = append(x.edges, r.edge)
	x.rates = append(x.rates, r.rate)
	first := r.rate
	for k := range first {
		first[k] *= firstPrice
	}
	x.price = append(x.price, first)
	var ease [MostPieces]float64
	edge := 0.0
	for k := range ease {
		if kg := r.edge[k] - edge; kg > 0 {
			ease[k] = r.rate[0] / kg
		}
		edge = r.edge[k]
	}
	x.ease = append(x.ease, ease)
}

func (x *Prices) cornersOf(of *Use) use {
	u := use{start: of.Start, end: of.End, families: of.Families, cost: of.Cost + of.Scrap, slope: of.Scrap - of.Waiting - of.CostPerSquare, leastArea: of.LeastArea,
		bestArea: make([]float64, len(x.areas))}
	if of.Scrap > 0 {
		u.corners = append(u.corners, corner{1, -1, 0, of.Scrap})
	}
	if of.Waiting > 0 {
		u.rises = true
		u.corners = append(u.corners, corner{of.WaitingArea, -1, 0, -of.Waiting})
	}
	for _, y := range of.Yields {
		row := x.Supplies[y.Demand].Rows[0]
		for k, edge := range x.reach[y.Demand] {
			if k < len(x.Rows[row].Pieces) {
				u.corners = append(u.corners, corner{edge / y.KilogramsPerSquare, int32(y.Demand), int8(k), y.KilogramsPerSquare})
			}
		}
	}
	sort.SliceStable(u.corners, func(i, j int) bool { return u.corners[i].area < u.corners[j].area })
	return u
}

// areaClasses sorts grounds by their largest planting into classes; a class counts as its largest.
func areaClasses(grounds []Ground) (areas []float64, of []int) {
	var all []float64
	for i := range grounds {
		all = append(all, grounds[i].Largest)
	}
	sort.Float64s(all)
	all = slices.Compact(all)
	n := min(len(all), mostAreaClasses)
	for k := 1; k <= n; k++ {
		areas = append(areas, all[k*len(all)/n-1])
	}
	for i := range grounds {
		of = append(of, sort.SearchFloat64s(areas, grounds[i].Largest))
	}
	return areas, of
}

// weigh finds what is paid for each supply and every use's best rate per m² at the prices, for each class of ground.
func (x *Prices) weigh() {
	for s := range x.Supplies {
		for k := range x.paid[s] {
			x.paid[s][k] = -1
			for _, row := range x.Supplies[s].Rows {
				if p := x.price[row][k]; p > x.paid[s][k] {
					x.paid[s][k], x.payer[s][k] = p, row
				}
			}
		}
	}
	for i := range x.uses {
		x.weighUse(i)
	}
	for class, weight := range x.weight {
		for g, group := range x.Friends {
			best, most := int32(-1), 0.0
			for _, id := range group {
				if weight[id] > most {
					best, most = id, weight[id]
				}
			}
			x.friend[class][g] = best
		}
	}
	if len(x.Friends) == 0 {
		return
	}
	for class, weight := range x.weight {
		for i := range x.Uses {
			if g := x.Uses[i].Friends; g >= 0 && x.friend[class][g] >= 0 {
				weight[i] += weight[x.friend[class][g]]
			}
		}
	}
}

func (x *Prices) weighUse(i int) {
	u := &x.uses[i]
	slope := u.slope
	for k := range u.corners {
		if c := &u.corners[k]; c.piece == 0 && c.supply >= 0 {
			slope += x.paid[c.supply][0] * c.kg
		}
	}
	earned, area := -u.cost, 0.0
	top := earned // plants may stand wider: no more ground earns less but for its rate
	best, bestArea := math.Inf(-1), 0.0
	class := 0
	settle := func(upTo float64) { // ground areas passed on the way
		for ; class < len(x.areas) && x.areas[class] <= upTo; class++ {
			a := x.areas[class]
			x.weight[class][i], u.bestArea[class] = best, bestArea
			if a < u.leastArea || a <= 0 {
				x.weight[class][i], u.bestArea[class] = math.Inf(-1), max(a, 1e-9)
			} else if rate := (earned + slope*(a-area)) / a; rate > best {
				x.weight[class][i], u.bestArea[class] = rate, a
			}
		}
	}
	for k := range u.corners {
		c := &u.corners[k]
		if c.area > area {
			settle(c.area)
			if area < u.leastArea && c.area > u.leastArea {
				best, bestArea = max(top, earned+slope*(u.leastArea-area))/u.leastArea, u.leastArea
			}
			earned += slope * (c.area - area)
			area, top = c.area, max(top, earned)
			if area >= u.leastArea {
				rate := earned / area
				if rate < best && !u.rises {
					break // it only falls from here
				}
				if rate >= best {
					best, bestArea = rate, area
				}
			}
		}
		if c.supply < 0 {
			slope -= c.kg
			continue
		}
		slope -= x.paid[c.supply][c.piece] * c.kg
		if next := int(c.piece) + 1; next < MostPieces {
			slope += x.paid[c.supply][next] * c.kg
		}
	}
	if area < u.leastArea {
		settle(u.leastArea)
		if rate := max(top, earned+slope*(u.leastArea-area)) / u.leastArea; rate > best {
			best, bestArea = rate, u.leastArea
		}
	}
	for ; class < len(x.areas); class++ {
		x.weight[class][i], u.bestArea[class] = best, bestArea
	}
}

// Row is the prices of a row's pieces.
func (x *Prices) Row(row int) [MostPieces]float64 { return x.leastAt[row] }

// warmDepth is how far below the least bound the first aim lies where prices begin near their best.
const warmDepth = 0.015

// Begin sets the prices of all rows, from prices of a like relaxation.
func (x *Prices) Begin(price func(row int) [MostPieces]float64) {
	for row := range x.price {
		p := price(row)
		for k := range p {
			p[k] = min(max(0, p[k]), x.rates[row][k])
		}
		fall(&p)
		x.price[row] = p
	}
	copy(x.leastAt, x.price)
	x.level.depth = warmDepth
}
