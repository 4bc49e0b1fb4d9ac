package growth

import (
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// What cold and heat do to plants short of killing them.
const (
	nipReach = 2.0 // °C above the killing temperature from which a night does harm
	nipMost  = 0.5 // share of stand or crop that a night just above the killing temperature takes
	healing  = 14  // d, after which growth has made good what a night took before there was anything to harvest

	heatOver  = 6.0     // °C above BoltAbove, on BoltDays days, that spoil a crop
	heatReach = 4.0     // °C below BoltAbove from which warmth costs yield
	heatTakes = 1.0 / 7 // share of the crop lost for each °C above that
)

// Nip is the share of the stand or of the crop that a night takes: all at or below the temperature that kills,
// half just above it, less and less up to 2 °C above, nothing from there.
//
// The temperature that kills is that of the middle plant in middling ground: some stand colder, some are
// weaker, and so several nights near it do by and by what one night at it does. A plant that still grows makes good
// within a fortnight what they took, unless it comes to the whole stand; what is taken of the part to be
// harvested is lost.
//
//	low     °C  the night's minimum
//	kills   °C  the killing temperature at the plant's stage
//	result  0–1
//
// Source: estimate; of the usual shape, since survival falls from nearly all to nearly none over some 2–4 °C about the
// temperature that kills half.
func Nip(low, kills quantity.Celsius) float64 {
	switch above := float64(low - kills); {
	case above <= 0:
		return 1
	case above < nipReach:
		return nipMost * (1 - above/nipReach)
	}
	return 0
}

// HeatLoss is the share of its crop that warmth costs a plant while it forms, from half grown to the first harvest: a seventh
// for each °C by which the days, as a mean, stand above 4 °C below BoltAbove, days cooler than that counting for nothing.
//
// Crops of cool weather do not fail at a stroke: from about 15–20 °C upwards they ripen faster than they grow, leaves toughen,
// flowers drop. Where warmth takes more than three fifths the planting has failed (estimate). The heat that spoils
// what is left is told in Spoils.
//
//	over    °C  mean over those days of what their means are above BoltAbove − 4 °C
//	result  0–1
//
// Source: estimate. MSU-BOLT has cool-season vegetables grow best from 50 to 70 °F (10–21 °C); BoltAbove of most is 23–25 °C.
func HeatLoss(over quantity.Celsius) float64 { return min(float64(over)*heatTakes, 1) }

// Spoils is the sum of daily means above BoltAbove, since it was half grown, by which a crop has bolted or is spoiled:
// BoltDays days 6 °C above it, or more days less far above: a week of 29 °C, or three weeks of 25 °C, for peas.
//
// Source: the form is an estimate; limit and days are the catalogue's.
func Spoils(heat crop.Heat) quantity.CelsiusDay {
	return quantity.CelsiusDay(heatOver * float64(max(heat.BoltDays, 1)))
}

// colds are the killing temperatures by stage: of a seedling, of a growing plant, and of what is harvested; warm and hardened.
// Seedlings harden by as much as growing plants, those of a crop that overwinters as far; what is harvested hardens with the plant, but for a part that is tenderer.
func colds(c *crop.Crop) (seedling, growing, harvested coldKey) {
	h := c.Hardiness
	key := func(kills, hardened quantity.Celsius) coldKey {
		return coldKey{kills: float64(kills), hardened: float64(min(hardened, kills))}
	}
	hardened := h.Hardened
	if h.Overwinters {
		hardened = h.Dormant
	}
	young := h.Seedling - quantity.Celsius(eases(h))
	if h.Overwinters {
		young = hardened
	}
	seedling, growing, harvested = key(h.Seedling, young), key(h.Established, hardened), key(h.Mature, hardened)
	if h.Mature > h.Established && (!h.Overwinters || ripens(c)) {
		harvested = key(h.Mature, h.Mature)
	}
	return seedling, growing, harvested
}

// nip is the share that the night of a day of the flat arrays takes of what cold kills at one temperature, and at a lower one
// when it is hardened.
func (p *preparation) nip(k coldKey, i int) float64 {
	if k.crown {
		return Nip(p.c.crownLow(i), quantity.Celsius(k.kills))
	}
	limit := k.kills - float64(p.c.hardening[i])*(k.kills-k.hardened)
	return Nip(quantity.Celsius(p.c.low[i]), quantity.Celsius(limit))
}

// toll is what cold does to what stands at a stage, by year and day.
type toll struct {
	kill []int16   // the next day by which it has killed: by one night, or by several within a fortnight
	nips []float64 // running sums of what the nights take
	sums []float64 // running sums of nips
}

// year is the part of the y-th year, of so many days.
func (c toll) year(y, days int) toll {
	from, to := y*(days+1), (y+1)*(days+1)
	return toll{c.kill[y*days : (y+1)*days], c.nips[from:to], c.sums[from:to]}
}

// cold is what cold does at a stage with its killing temperatures.
func (p *preparation) cold(key coldKey) toll {
	return once(p.colds, key, func() toll {
		c := toll{nips: p.runningSums(func(i int) float64 { return p.nip(key, i) })}
		c.sums = p.doubled(c.nips)
		n := p.c.days
		c.kill = p.next(func(next []int16, from int) {
			at := from / n * (n + 1)
			nextSum(next, healing, c.nips[at:at+n+1])
		})
		return c
	})
}

// heating is the running sums of daily means above BoltAbove, and above what is heatReach below it; nil without limit.
func (p *preparation) heating(h crop.Heat) (spoils, costs []float64) {
	if h.BoltAbove == nil {
		return nil, nil
	}
	above := func(limit float64) []float64 {
		return once(p.heats, limit, func() []float64 {
			return p.runningSums(func(i int) float64 { return max(float64(p.c.mean[i])-limit, 0) })
		})
	}
	limit := float64(*h.BoltAbove)
	return above(limit), above(limit - heatReach)
}

// doubled is the running sums of running sums: the k-th is over those of the days before k.
func (p *preparation) doubled(sums []float64) []float64 {
	n := p.c.days
	out := make([]float64, len(sums))
	for y := range p.c.Years {
		from := y * (n + 1)
		for k := range n {
			out[from+k+1] = out[from+k] + sums[from+k]
		}
	}
	return out
}

// meanSince is the mean, over the days of a harvest, of what has been summed since a day up to each of them.
func meanSince(sums, double []float64, since, first, last int) float64 {
	return (double[last+1]-double[first])/float64(last+1-first) - sums[since]
}

// stage is what cold does to a planting from the day on which a stage of its life begins.
type stage struct {
	toll
	from int
}

// kills is the day by which the nights of the stage have killed it; never when they do not.
func (s stage) kills() int {
	if s.from >= len(s.kill) {
		return int(never)
	}
	return int(s.kill[s.from])
}

// stages are those of a life so far, in order.
type stages []stage

// carried is the day, within a fortnight past the change to the last stage, by which what the nights took before and
// after it together has killed; never when they do not.
func (s stages) carried() int {
	last := s[len(s)-1]
	days := len(last.kill)
	if last.from >= days || s.taken(last.from-healing+1, last.from) == 0 {
		return int(never)
	}
	for day := last.from; day < min(last.from+healing-1, days); day++ {
		if s.taken(day-healing+1, day+1) >= 1-1e-9 {
			return day
		}
	}
	return int(never)
}

// taken is what the nights of the days from one up to another took.
func (s stages) taken(from, to int) (sum float64) {
	for k, v := range s {
		begins, ends := max(v.from, from), to
		if k+1 < len(s) {
			ends = min(to, s[k+1].from)
		}
		if begins < ends {
			sum += v.nips[ends] - v.nips[begins]
		}
	}
	return sum
}
