package plan

import "kailyard/internal/allot"

// Bound is what no plan of a season can exceed, by a relaxation of it, and how the value of all that is wanted comes down to that.
type Bound struct {
	Value  float64 // no plan's Value exceeds it
	Wanted float64 // were every want wholly met at the best of times, without work
	Limits []Limit // from Wanted down to Value, in this order; their Costs add up to the difference
}

// Limit is something that keeps plans from answering every want.
type Limit struct {
	Name  string // "season", "ground", "light", "rotation", "work"
	Costs float64
}

// How long prices are moved: to guide the search, for the bound told with a plan, and for each limit. Source: PLAN-PRACTICE.
const (
	stepsToGuide = 100
	stepsToBound = 300
	stepsToYears = 120 // from there, for the weather years one by one
	stepsToLimit = 60
)

// prices puts prices on the market.
func (m *market) prices(steps int) *allot.Prices {
	x := allot.NewPrices(m.r)
	x.Lower(steps, nil)
	return x
}

// from begins with the prices of a market of the same wants, whatever limits and weather years that knows.
func (m *market) from(like *market, prices *allot.Prices, steps int) *allot.Prices {
	known := map[wantKey][allot.MostPieces]float64{}
	for row, key := range like.keys {
		p := prices.Row(row)
		for k := range p {
			p[k] /= key.share
		}
		share := key.share
		key.share = 0
		if old, ok := known[key]; ok { // the years' mean
			for k := range p {
				p[k] = old[k] + share*p[k]
			}
		} else {
			for k := range p {
				p[k] *= share
			}
		}
		known[key] = p
	}
	x := allot.NewPrices(m.r)
	x.Begin(func(row int) [allot.MostPieces]float64 {
		key := m.keys[row]
		share := key.share
		key.share = 0
		p := known[key]
		for k := range p {
			p[k] *= share
		}
		return p
	})
	x.Lower(steps, nil)
	return x
}

// bound is a value that no plan exceeds.
func (m *market) bound(steps int) float64 { return m.base + m.prices(steps).Proven() }

// wanted is what all that is wanted is worth, and what of it some sowing could bring were there ground without end and no work:
// an early harvest counts, or drills marked, where some sowing could have it.
func (m *market) wanted() (all, some float64) {
	served := make([]bool, len(m.r.Rows))
	for i := range m.r.Uses {
		for _, y := range m.r.Uses[i].Yields {
			for _, row := range m.r.Supplies[y.Demand].Rows {
				served[row] = true
			}
		}
	}
	asked := make([]bool, len(m.r.Rows))
	for i := range m.wants {
		for s := m.first[i]; s < m.ends[i]; s++ {
			for _, row := range m.r.Supplies[s].Rows {
				asked[row] = true
				served[row] = served[row] || m.r.Supplies[s].Had > 0
			}
		}
	}
	all, some = m.base, m.base
	for i, row := range m.r.Rows {
		for _, piece := range row.Pieces {
			worth := piece.Kilograms * piece.ValuePerKilogram
			if served[i] {
				some += worth
			}
			if served[i] || asked[i] {
				all += worth
			}
		}
	}
	return all, some
}

// Within says what no plan for an input can exceed, and what keeps it there: the season's weeks and weather first, then the ground,
// its light, rotation, and the work. Each is what the bound falls by when the limit is laid on, with those before it.
func Within(in Input) (Bound, error) {
	p, err := newProblem(in)
	if err != nil {
		return Bound{}, err
	}
	f, err := newField(p)
	if err != nil {
		return Bound{}, err
	}
	return f.within(), nil
}

func (f *field) within() Bound {
	whole := f.relax(byNothing)
	prices := whole.prices(stepsToBound)
	least := func(without limit) float64 {
		m := f.relax(without)
		return m.base + m.from(whole, prices, stepsToLimit).Proven()
	}
	b := Bound{Value: whole.base + prices.Proven()}
	var above float64
	b.Wanted, above = f.relax(byLight | byRotation | byWork).wanted()
	b.Value = min(b.Value, above)
	b.Limits = []Limit{{"season", b.Wanted - above}}
	down := func(name string, to float64) {
		to = max(b.Value, min(above, to))
		b.Limits = append(b.Limits, Limit{name, above - to})
		above = to
	}
	down("ground", least(byLight|byRotation|byWork))
	down("light", least(byRotation|byWork))
	down("rotation", least(byWork))
	down("work", b.Value)
	return b
}
