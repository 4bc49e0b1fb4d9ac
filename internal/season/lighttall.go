package season

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
)

// worthSaying is from how many hours of sun a day a tall crop's shade on the bed behind it is told, and manyPairs how many are
// told one by one.
const (
	worthSaying quantity.Hour = 0.5
	manyPairs   int           = 3
)

// shadePair is a tall planting before a bed of low ones.
type shadePair struct {
	tall, low garden.Planting
	hours     quantity.Hour
}

// tallNotes tells where tall crops stand on the sunny side of low ones in a bed whose light is not known by month. There the planner does
// not keep their shade off, as it does where the light is known, and the rule of thumb is told: tall crops to the north.
//
// Source: PLAN-PRACTICE.
func tallNotes(g garden.Garden, p *plan.Plan, crops *crop.Catalogue) []garden.Reason {
	pairs := tallPairs(g, p, crops)
	if len(pairs) == 0 {
		return nil
	}
	names := map[int64]string{}
	for _, b := range g.Beds {
		names[b.ID] = b.Name
	}
	pole, says := "north", ""
	if g.Site.Latitude < 0 {
		pole = "south"
	}
	for i, pair := range pairs[:min(len(pairs), manyPairs)] {
		if i > 0 {
			says += " "
		}
		tall, _ := crops.Find(pair.tall.CropID)
		low, _ := crops.Find(pair.low.CropID)
		says += fmt.Sprintf("In %s %s takes up to %s of sun a day from %s in %s.", names[pair.tall.BedID], tall.Name(), g.Site.Units.Hours(pair.hours), low.Name(), names[pair.low.BedID])
	}
	if more := len(pairs) - manyPairs; more > 0 {
		says += fmt.Sprintf(" So it is in %s more.", quantity.Plural(float64(more), "place"))
	}
	says += fmt.Sprintf(" The plan does not reckon with that where the light of a bed is told by the season only: grow tall crops in the beds to the %s, or tell what throws shade or what sun you saw, and the plan keeps their shade off.", pole)
	return []garden.Reason{{Says: says, Rule: "light", Source: "PLAN-PRACTICE"}}
}

// tallPairs are the pairs of tall and low plantings, the most shade first, one for each pair of beds and tall crop.
func tallPairs(g garden.Garden, p *plan.Plan, crops *crop.Catalogue) (pairs []shadePair) {
	cost := rowCosts{latitude: g.Site.Latitude, known: map[rowCase]quantity.Hour{}}
	even := [12]float64{1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}
	beds := map[int64]garden.Bed{}
	for _, b := range g.Beds {
		if b.X != 0 || b.Y != 0 { // else not placed yet
			beds[b.ID] = b
		}
	}
	for _, tall := range p.Plantings {
		c, ok := crops.Find(tall.CropID)
		from, placed := beds[tall.BedID]
		if !ok || !placed || c.Plant.Height < tallFrom || tall.Status == garden.Lost {
			continue
		}
		for _, low := range p.Plantings {
			other, ok := crops.Find(low.CropID)
			on, placed := beds[low.BedID]
			if !ok || !placed || low.BedID == tall.BedID || byMonth(g, on) || other.Plant.Height*2 > c.Plant.Height || low.Status == garden.Lost {
				continue
			}
			hours, ok := cost.between(c, from, on, g.Site.Lie.North, even)
			if most := mostOf(hours, standsTall(tall), low); ok && most >= worthSaying {
				pairs = addPair(pairs, shadePair{tall, low, most})
			}
		}
	}
	slices.SortStableFunc(pairs, func(a, b shadePair) int {
		switch {
		case a.hours > b.hours:
			return -1
		case a.hours < b.hours:
			return 1
		}
		return 0
	})
	return pairs
}

// standsTall are the days on which a planting is taller than half grown, as the planner has them.
func standsTall(p garden.Planting) civil.Span {
	return civil.Span{From: p.Start + max(0, p.First.P50-p.Start)/2, To: p.Clear - 1}
}

// mostOf is the most shade in a month in which the one stands tall and the other grows.
func mostOf(hours [12]quantity.Hour, tall civil.Span, low garden.Planting) (most quantity.Hour) {
	from, to := max(tall.From, low.Start), min(tall.To, low.Last.P50)
	for d := from; d <= to; d = civil.Of(d.Year(), int(d.Month())+1, 1) {
		most = max(most, hours[d.Month()-1])
	}
	return most
}

// addPair adds a pair, or puts it in the place of one of the same beds and tall crop that has less shade.
func addPair(pairs []shadePair, p shadePair) []shadePair {
	for i, q := range pairs {
		if q.tall.CropID == p.tall.CropID && q.tall.BedID == p.tall.BedID && q.low.BedID == p.low.BedID {
			if p.hours > q.hours {
				pairs[i] = p
			}
			return pairs
		}
	}
	return append(pairs, p)
}
