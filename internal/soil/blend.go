package soil

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"kailyard/internal/quantity"
)

// Demand is what a mix is to bring to a square metre.
type Demand struct {
	Need  Supply                          // in the whole season
	Later quantity.KilogramPerSquareMetre // the part of the nitrogen that is given after planting
	Over  Supply                          // by how much each may be exceeded
	Salt  quantity.KilogramPerSquareMetre // the most at one time, as sodium nitrate
	Times int                             // dressings in which the later part is given
	Salty bool                            // the ground bears no manure or compost, of which the salts are not known
}

// MixPart is one material of a mix.
type MixPart struct {
	Offer Offer
	Now   quantity.KilogramPerSquareMetre // before planting
	Later quantity.KilogramPerSquareMetre // after, in all dressings together
}

// Mix is a choice of materials with what it brings. What the crops find of it is the need, less what remains unmet,
// with the excess: Balance holds it to that.
type Mix struct {
	Parts    []MixPart
	Need     Supply
	Supplied Supply  // what the crops find of the materials in the first season
	Excess   Supply  // over the need, within what was allowed
	Unmet    Supply  // what no choice of these materials could bring
	Cost     float64 // of a square metre; 0 where a price is missing
}

// Balance is an error unless what comes in is what is needed, less what remains unmet, with the excess.
func (m Mix) Balance() error {
	var brought [plantFoods]float64
	for _, p := range m.Parts {
		for i, share := range p.Offer.found() {
			brought[i] += share * float64(p.Now+p.Later)
		}
	}
	need, in, over, unmet := m.Need.values(), m.Supplied.values(), m.Excess.values(), m.Unmet.values()
	for i := range need {
		slack := 1e-9 + 1e-6*need[i]
		if math.Abs(brought[i]-in[i]) > slack || math.Abs(in[i]-(need[i]-unmet[i]+over[i])) > slack {
			return fmt.Errorf("the %s of the mix does not balance: %g comes in for a need of %g with %g unmet and %g over", foodNames[i], brought[i], need[i], unmet[i], over[i])
		}
	}
	return nil
}

// Weights of what remains unmet against one another: nitrogen first.
var unmetWeights = [plantFoods]float64{4, 1, 1}

// Blend is the cheapest mix (by weight, where a price is missing) among those that leave least unmet: a linear
// program in kilograms of each material before and after planting, solved twice, for what remains unmet and then, with that
// held, for the cost. No plant food exceeds its need by more than the target allows; salts at one time, and what a
// material allows at one time, hold in both parts of the season; after planting only what feeds soon is used.
func Blend(t Demand, offers []Offer) (Mix, error) {
	if err := t.check(); err != nil {
		return Mix{}, err
	}
	mix := Mix{Need: t.Need, Unmet: t.Need}
	if t.Need == (Supply{}) { // nothing is needed, so the cheapest mix is none
		return mix, mix.Balance()
	}
	p := programOf(t, offers)
	if len(p.columns) == 0 {
		return mix, mix.Balance()
	}
	unmet := make([]float64, p.variables)
	for i, col := range p.short {
		if col >= 0 {
			unmet[col] = p.weights[i]
		}
	}
	least, first, err := p.solve(unmet, nil, 0)
	if err != nil {
		return Mix{}, err
	}
	cost := make([]float64, p.variables)
	priced := allPriced(offers)
	for j, c := range p.columns {
		cost[j] = 1
		if priced {
			cost[j] = offers[c.offer].perKilogram()
		}
	}
	_, x, err := p.solve(cost, unmet, math.Max(0, least)+1e-7)
	if err != nil {
		x = first // feasible and least unmet, if not the cheapest
	}
	mix = p.mix(t, offers, x)
	if priced {
		for _, part := range mix.Parts {
			mix.Cost += part.Offer.perKilogram() * float64(part.Now+part.Later)
		}
	}
	return mix, mix.Balance()
}

func allPriced(offers []Offer) bool {
	for _, o := range offers {
		if !o.Priced() {
			return false
		}
	}
	return len(offers) > 0
}

func (t Demand) check() error {
	for i, v := range append(append(sliceOf(t.Need), sliceOf(t.Over)...), float64(t.Later), float64(t.Salt)) {
		if math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
			return fmt.Errorf("the mix's target has %v where an amount of 0 or more must stand (figure %d)", v, i+1)
		}
	}
	if t.Later > t.Need.N*(1+1e-9) {
		return errors.New("more nitrogen is to be given after planting than in the whole season: give at most all of it")
	}
	return nil
}

func sliceOf(s Supply) []float64 {
	v := s.values()
	return v[:]
}

// program is the linear program: equations over variables that are not below zero. Amounts are in grams a square metre,
// so that figures lie near one another.
type program struct {
	columns   []column // the first variables: materials
	short     []int    // the variable for what is unmet of each row of nutrients; −1: none
	weights   []float64
	rows      [][]float64
	right     []float64
	basic     []int // for each row a variable of its own: together the solution of buying nothing, from which the search begins; −1: none
	variables int
}

type column struct {
	offer int
	later bool
}

const grams = 1000.0

func programOf(t Demand, offers []Offer) *program {
	need, over := t.Need.values(), t.Over.values()
	p := &program{}
	for j, o := range offers {
		found, barred, empty := o.found(), false, true
		for i, share := range found {
			barred = barred || share > 0 && need[i]+over[i] <= 1e-9
			empty = empty && share <= 0
		}
		if barred || empty || t.Salty && o.Material.Family == Organic {
			continue
		}
		p.columns = append(p.columns, column{j, false})
		if o.quick() && t.Later > 1e-9 {
			p.columns = append(p.columns, column{j, true})
		}
	}
	p.variables = len(p.columns)
	salt := grams * float64(t.Salt)
	if len(p.columns) == 0 {
		return p
	}
	brings := func(food int, part func(column) bool) map[int]float64 {
		terms := map[int]float64{}
		for j, c := range p.columns {
			if share := offers[c.offer].found()[food]; share > 0 && part(c) {
				terms[j] = share
			}
		}
		return terms
	}
	either := func(column) bool { return true }
	later := func(c column) bool { return c.later }
	now := func(c column) bool { return !c.later }
	nowOver, laterOver := over[0]/2, over[0]/2
	if t.Later <= 1e-9 {
		nowOver, laterOver = over[0], 0
	}
	// Nitrogen in both parts of the season, phosphate and potash in the whole.
	wanted := []struct {
		terms      map[int]float64
		need, over float64
		weight     float64
	}{
		{brings(0, now), need[0] - float64(t.Later), nowOver, unmetWeights[0]},
		{brings(0, later), float64(t.Later), laterOver, unmetWeights[0]},
		{brings(1, either), need[1], over[1], unmetWeights[1]},
		{brings(2, either), need[2], over[2], unmetWeights[2]},
	}
	for _, w := range wanted {
		p.nutrient(w.terms, grams*math.Max(0, w.need), grams*w.over, w.weight)
	}
	salts := func(part func(column) bool, limit float64) {
		terms := map[int]float64{}
		for j, c := range p.columns {
			if s := offers[c.offer].salt(); s > 0 && part(c) {
				terms[j] = s
			}
		}
		if len(terms) > 0 {
			p.atMost(terms, limit)
		}
	}
	times := float64(max(1, t.Times))
	salts(now, salt)
	salts(later, salt*times)
	for j, c := range p.columns {
		if most := float64(offers[c.offer].Material.Most); most > 0 {
			if c.later {
				most *= times
			}
			p.atMost(map[int]float64{j: 1}, grams*most)
		}
	}
	return p
}

// nutrient adds: what is brought, with what is unmet, less what is over, is the need; and the bound of what is over.
func (p *program) nutrient(terms map[int]float64, need, over, weight float64) {
	short := -1
	if need > 0 {
		short = p.variable()
		terms[short] = 1
	}
	p.short, p.weights = append(p.short, short), append(p.weights, weight)
	if len(terms) == 0 {
		return
	}
	own := short
	if over > 0 {
		excess := p.variable()
		terms[excess] = -1
		p.atMost(map[int]float64{excess: 1}, over)
		if own < 0 {
			own = excess // of which there is none, as of the need
		}
	}
	p.row(terms, need, own)
}

func (p *program) atMost(terms map[int]float64, limit float64) {
	spare := p.variable()
	terms[spare] = 1
	p.row(terms, limit, spare)
}

func (p *program) variable() int {
	p.variables++
	return p.variables - 1
}

func (p *program) row(terms map[int]float64, right float64, own int) {
	row := make([]float64, 0, p.variables)
	for j, v := range terms {
		for len(row) <= j {
			row = append(row, 0)
		}
		row[j] = v
	}
	p.rows, p.right, p.basic = append(p.rows, row), append(p.right, right), append(p.basic, own)
}

// solve minimises cost, with hold·x at most limit where hold is given.
func (p *program) solve(cost, hold []float64, limit float64) (float64, []float64, error) {
	rows, right, n := p.rows, p.right, p.variables
	if hold != nil {
		bound := make([]float64, n+1)
		copy(bound, hold)
		bound[n] = 1
		rows, right = append(rows[:len(rows):len(rows)], bound), append(right[:len(right):len(right)], limit)
		n++
	}
	a := mat.NewDense(len(rows), n, nil)
	for i, row := range rows {
		for j, v := range row {
			a.Set(i, j, v)
		}
	}
	c := make([]float64, n)
	copy(c, cost)
	var from []int
	if hold == nil && !slices.Contains(p.basic, -1) {
		from = p.basic
	}
	least, x, err := lp.Simplex(c, a, right, 1e-10, from)
	if err != nil {
		return 0, nil, fmt.Errorf("no mix could be computed: %w", err)
	}
	return least, x, nil
}

// mix reads the solution.
func (p *program) mix(t Demand, offers []Offer, x []float64) Mix {
	m := Mix{Need: t.Need}
	at := map[int]int{}
	var in [plantFoods]float64
	for j, c := range p.columns {
		rate := quantity.KilogramPerSquareMetre(x[j] / grams)
		if rate <= 1e-7 { // a tenth of a gram on a thousand square metres is dust of the arithmetic
			continue
		}
		k, ok := at[c.offer]
		if !ok {
			k = len(m.Parts)
			at[c.offer], m.Parts = k, append(m.Parts, MixPart{Offer: offers[c.offer]})
		}
		if c.later {
			m.Parts[k].Later = rate
		} else {
			m.Parts[k].Now = rate
		}
		for i, share := range offers[c.offer].found() {
			in[i] += share * float64(rate)
		}
	}
	m.Supplied = supplyOf(in)
	m.Unmet, m.Excess = m.Need.Less(m.Supplied)
	return m
}
