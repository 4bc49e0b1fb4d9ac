package growth

import "kailyard/internal/civil"

// Readiness is how the planting of one start day stands on a chosen day, over the weather years. Each year is
// counted once: Ready, Kept, Late, Over, or by the fate that ends it.
type Readiness struct {
	Start civil.Date
	Years int
	Ready int    // the first harvest is by the day, and the last not before it
	Kept  int    // the harvest is over, but what was put by in its last days still keeps
	Late  int    // it comes to harvest, after the day
	Over  int    // the harvest is over, and nothing keeps so long
	Lost  Losses // never comes to harvest
}

// Chance is the share of years, 0–1, in which it can be picked on the day.
func (r Readiness) Chance() float64 { return part(r.Ready, r.Years) }

// ChanceKept is Chance with the years in which it comes from the store.
func (r Readiness) ChanceKept() float64 { return part(r.Ready+r.Kept, r.Years) }

func part(n, of int) float64 {
	if of == 0 {
		return 0
	}
	return float64(n) / float64(of)
}

// ReadyOn asks how a start day stands on a day; what is harvested keeps for so many days after it. A
// start day outside the season has no years.
func (t *Table) ReadyOn(start, day civil.Date, keeps int) Readiness {
	r := Readiness{Start: start}
	for i, p := range t.of(start) {
		r.Years++
		o := t.Outcome(start, i)
		switch {
		case o.Fate != Ready:
			r.Lost.count(p.cause)
		case o.First > day:
			r.Late++
		case o.Last >= day:
			r.Ready++
		case o.Last.Add(keeps) >= day:
			r.Kept++
		default:
			r.Over++
		}
	}
	return r
}
