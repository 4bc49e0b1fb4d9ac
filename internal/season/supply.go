package season

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/water"
)

// supplyNotes tell in which weeks a plan asks for more water, in a dry year of ten, than tap or tank can give. Nothing is told where
// neither is known.
func (r *Result) supplyNotes() []garden.Reason {
	s := r.Garden.Site.Supply
	if s.Tap <= 0 && (s.Tank <= 0 || s.Roof <= 0) {
		return nil
	}
	needs, store, err := r.waterNeeds()
	if err != nil {
		return nil // the water's own page tells why
	}
	short := r.shortWeeks(needs, store)
	if len(short) == 0 {
		return nil
	}
	says := fmt.Sprintf("In a dry year the plan asks for more water than the tap gives in %.0f hours in %s: %s.", float64(mostTap), weeksTold(len(short)), runsOf(short))
	if s.Tap <= 0 {
		says = fmt.Sprintf("In a dry year the plan asks for more water than the tank has in %s: %s; no tap is told.", weeksTold(len(short)), runsOf(short))
	}
	return []garden.Reason{{Rule: "water", Says: says + " Mulch, grow less that is thirsty then, or find a second source."}}
}

// waterNeeds is the season's water, reckoned once.
func (r *Result) waterNeeds() (water.Needs, water.Store, error) {
	r.water.once.Do(func() {
		r.water.needs, r.water.err = water.Reckon(r.waterQuestion())
		if r.water.err == nil {
			r.water.store = water.StoreOf(r.water.needs, r.Garden.Site.Supply, r.Years)
		}
	})
	return r.water.needs, r.water.store, r.water.err
}

// shortWeeks are the first days of the weeks in which the supply does not do: by the tap, where one is told, else by the tank.
func (r *Result) shortWeeks(needs water.Needs, store water.Store) (short []civil.Date) {
	tap := r.Garden.Site.Supply.Tap
	for _, w := range needs.Weeks {
		if tap > 0 && water.TapHours(w.Dry, tap) > mostTap {
			short = append(short, w.From)
		}
	}
	if tap > 0 {
		return short
	}
	for _, w := range store.Weeks {
		if w.Chance < 0.9 && w.DryShort >= 1 {
			short = append(short, w.From)
		}
	}
	return short
}

func weeksTold(n int) string { return quantity.Plural(float64(n), "week") }

// runsOf says weeks that follow one another in one go: "from 5 Jul to 8 Aug, from 30 Aug to 5 Sep".
func runsOf(weeks []civil.Date) string {
	says := ""
	for i := 0; i < len(weeks); {
		k := i
		for k+1 < len(weeks) && weeks[k+1] == weeks[k]+7 {
			k++
		}
		if says != "" {
			says += ", "
		}
		says += fmt.Sprintf("from %s to %s", weeks[i].Short(), weeks[k].Add(6).Short())
		i = k + 1
	}
	return says
}
