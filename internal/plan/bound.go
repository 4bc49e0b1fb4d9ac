package plan

import "kailyard/internal/allot"

// Bound is what no plan of a season can exceed, and what keeps it from all that is wanted.
type Bound struct {
	Value  float64 // as Plan.Value
	Wanted float64 // were every want wholly met, without work
	Limits []Limit // by how much each one takes
}

// Limit is something that keeps plans from answering every want, and how much higher the bound would lie without it.
type Limit struct {
	Name  string // "land", "light", "rotation", "work"
	Costs float64
}

// stepsToBound is how long the prices of the bound are moved.
const stepsToBound = 160

// prices puts prices on the market.
func (m *market) prices(steps int) *allot.Prices {
	x := allot.NewPrices(m.r)
	x.Lower(steps, nil)
	return x
}

func (m *market) bound(steps int) float64 { return m.base + m.prices(steps).Proven() }
