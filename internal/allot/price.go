package allot

import (
	"math"
	"slices"
	"sort"
)

// use is an option in one kind of light. What it brings for a square metre does not depend on the bed
// otherwise, but for the most area it can have there.
type use struct {
	option    int32
	end       int
	cost      float64
	leastArea float64
	corners   []corner  // ascending by area
	bestArea  []float64 // by class of bed area
}

// corner is an area of a use at which one piece of one demand is filled.
type corner struct {
	area  float64
	row   int32
	piece int8
	kg    float64 // per m²
}

// prices puts a price on every piece of every demand. At any prices that fall from piece to piece, what the pieces are
// worth beyond their prices, together with what each bed can earn at most at those prices, is more than any plan's value:
//
//	value ≤ Σ pieces (worth − price)⁺ × kg + Σ beds area × (best chain of uses over the weeks, per m²)
//
// A planting is charged its whole fixed cost and is paid for no more than its demands want, so that its best rate per m²
// is at a corner, at its least area or at the bed's area.
type prices struct {
	*Problem
	uses    []use
	useOf   [][3]int32 // by option and light had, −1: not allowed
	bedUses [][]int32  // by bed, ascending by start
	areas   []float64  // classes of bed area, ascending; the largest of each
	areaOf  []int      // by bed
	edges   [][MostPieces]float64
	rates   [][MostPieces]float64

	price  [][MostPieces]float64
	lack   [][MostPieces]float64 // kg grown − kg wanted at the prices: the subgradient
	weight [][]float64           // by class of area and use: per m²
	ground [][]float64           // m² used, likewise

	least     float64 // the least bound found
	leastAt   [][MostPieces]float64
	direction [][MostPieces]float64
	ease      [][MostPieces]float64 // how readily each price moves: its span over the kg it is for
	level     leveller
	chain     [MostWeeks + 1]float64
	from      [MostWeeks + 1]int32
}

// mostAreaClasses: beds of many sizes are taken together, each counted as the largest of its class.
const mostAreaClasses = 24

func newPrices(p *Problem) *prices {
	x := &prices{Problem: p, least: math.Inf(1)}
	x.areas, x.areaOf = areaClasses(p)
	for i := range p.Demands {
		r := newRow(&p.Demands[i])
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
	x.lack = make([][MostPieces]float64, len(p.Demands))
	x.direction = make([][MostPieces]float64, len(p.Demands))
	x.leastAt = slices.Clone(x.price)
	for i := range p.Options {
		x.useOf = append(x.useOf, [3]int32{-1, -1, -1})
		for sun := range 3 {
			x.addUse(i, sun)
		}
	}
	for range x.areas {
		x.weight = append(x.weight, make([]float64, len(x.uses)))
		x.ground = append(x.ground, make([]float64, len(x.uses)))
	}
	for b := range p.Beds {
		x.bedUses = append(x.bedUses, x.usesIn(b))
	}
	return x
}

// firstPrice is the share of its worth each piece is priced at to begin with.
const firstPrice = 0.6

func (x *prices) addUse(option, sun int) {
	o := &x.Options[option]
	light := Light(o.Sun, sun)
	if light == 0 {
		return
	}
	for lower := range sun {
		if u := x.useOf[option][lower]; u >= 0 && Light(o.Sun, lower) == light {
			x.useOf[option][sun] = u
			return
		}
	}
	u := use{option: int32(option), end: o.End, cost: o.Cost, leastArea: o.LeastArea, bestArea: make([]float64, len(x.areas))}
	for _, y := range o.Yields {
		kg := y.KilogramsPerSquare * light
		for k, edge := range x.edges[y.Demand] {
			if k < len(x.Demands[y.Demand].Pieces) {
				u.corners = append(u.corners, corner{edge / kg, int32(y.Demand), int8(k), kg})
			}
		}
	}
	sort.SliceStable(u.corners, func(i, j int) bool { return u.corners[i].area < u.corners[j].area })
	x.useOf[option][sun] = int32(len(x.uses))
	x.uses = append(x.uses, u)
}

func (x *prices) usesIn(bed int) []int32 {
	var ids []int32
	for o := range x.Options {
		if x.Allowed(bed, o) {
			ids = append(ids, x.useOf[o][x.Beds[bed].Sun])
		}
	}
	sort.SliceStable(ids, func(i, j int) bool {
		return x.Options[x.uses[ids[i]].option].Start < x.Options[x.uses[ids[j]].option].Start
	})
	return ids
}

// areaClasses sorts beds by area into classes; a class counts as its largest.
func areaClasses(p *Problem) (areas []float64, of []int) {
	var all []float64
	for i := range p.Beds {
		all = append(all, p.Beds[i].Area)
	}
	sort.Float64s(all)
	all = slices.Compact(all)
	n := min(len(all), mostAreaClasses)
	for k := 1; k <= n; k++ {
		areas = append(areas, all[k*len(all)/n-1])
	}
	for i := range p.Beds {
		of = append(of, sort.SearchFloat64s(areas, p.Beds[i].Area))
	}
	return areas, of
}

// weigh finds every use's best rate per m² at the prices, for each class of bed area.
func (x *prices) weigh() {
	for i := range x.uses {
		x.weighUse(i)
	}
}

func (x *prices) weighUse(i int) {
	u := &x.uses[i]
	slope := 0.0
	for k := range u.corners {
		if c := &u.corners[k]; c.piece == 0 {
			slope += x.price[c.row][0] * c.kg
		}
	}
	earned, area := -u.cost, 0.0
	best, bestArea := math.Inf(-1), 0.0
	class := 0
	settle := func(upTo float64) { // bed areas passed on the way
		for ; class < len(x.areas) && x.areas[class] <= upTo; class++ {
			a := x.areas[class]
			x.weight[class][i], u.bestArea[class] = best, bestArea
			if a < u.leastArea || a <= 0 {
				x.weight[class][i], u.bestArea[class] = -1, max(a, 1e-9)
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
				best, bestArea = (earned+slope*(u.leastArea-area))/u.leastArea, u.leastArea
			}
			earned += slope * (c.area - area)
			area = c.area
			if area >= u.leastArea {
				rate := earned / area
				if rate < best {
					break // it only falls from here
				}
				best, bestArea = rate, area
			}
		}
		slope -= x.price[c.row][c.piece] * c.kg
		if next := int(c.piece) + 1; next < MostPieces {
			slope += x.price[c.row][next] * c.kg
		}
	}
	if area < u.leastArea {
		settle(u.leastArea)
		if rate := (earned + slope*(u.leastArea-area)) / u.leastArea; rate > best {
			best, bestArea = rate, u.leastArea
		}
	}
	for ; class < len(x.areas); class++ {
		x.weight[class][i], u.bestArea[class] = best, bestArea
	}
}
