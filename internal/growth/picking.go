package growth

import (
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// harvest is the outcome of a planting that comes to its first harvest and is ended on a day.
func (g *grower) harvest(i, up, end int, p course, failed packed) packed {
	last := g.lastPick(p.first)
	cut := last
	if end <= last {
		cut = end - 1
	}
	picked := cut - p.first + 1
	share := 1.0
	if g.manner == crop.Repeated {
		days := g.pickingDays(p.first, cut)
		share = min(days/float64(g.span), 1)
		if days < g.least-1e-9 {
			picked = 0
		}
	}
	if picked <= 0 {
		failed.cause = outOfYear
		if end <= last {
			failed.cause = g.cutBy(up, end, p)
		}
		return failed
	}
	cool := g.cool(p)
	if cool < worthwhile.spares {
		failed.cause = boltedHeat
		return failed
	}
	unhurt := max(1-meanSince(g.now.harvested.nips, g.now.harvested.sums, min(p.mature, p.first), p.first, cut), 0)
	failed.cause = ready
	failed.first, failed.last = int16(p.first-i), int16(cut-i)
	failed.yield = uint8(math.Round(255 * share * p.worth * g.setShare(cut) * unhurt * cool))
	return failed
}

// pickingDays is the days of a harvest that count: all of them where leaves or heads stand; of fruit and pods as many
// as the plant's growth in them would take in kind weather, when that is fewer.
func (g *grower) pickingDays(first, last int) float64 {
	days := float64(last - first + 1)
	if !g.ripens {
		return days
	}
	return min((g.now.growing[last+1]-g.now.growing[first])/g.speed, days)
}

// lastPick is the last day of a harvest that nothing cuts short: Span mid days in kind weather, longer
// in cold by development, at most twice as long, within the year.
func (g *grower) lastPick(first int) int {
	sums := g.now.growing
	g.picked = seek(sums, g.picked, sums[first]+float64(g.span)*g.speed)
	last := min(max(g.picked-1, first+g.span-1), first+2*g.span-1)
	return min(last, g.days-1)
}

// cutBy is what cut the harvest short.
func (g *grower) cutBy(up, end int, p course) cause {
	if end >= g.days {
		return outOfYear
	}
	if p.mature < g.days && g.killed(up, p) == end {
		return frozenHarvest
	}
	if g.curves.springs != nil && g.spring(p) == end {
		return boltedSpring
	}
	if g.now.heat != nil && g.spoiled(p) == end {
		return heatCutHarvest
	}
	if g.curves.longDays != nil && g.longDay(p) == end {
		return boltedDays
	}
	return outOfYear
}

// setShare is the yield left by flowering weather: days on which fruit sets, from flowering to the last
// harvest; half of the days suffice for a full crop.
func (g *grower) setShare(last int) float64 {
	if g.now.setting == nil || last <= g.flowers {
		return 1
	}
	days := float64(g.now.settled[last] - g.now.settled[g.flowers])
	return min(2*days/float64(last-g.flowers), 1)
}

// cool is the share of its crop that warmth leaves a planting.
func (g *grower) cool(p course) float64 {
	if g.now.warmth == nil || p.first <= p.grown {
		return 1
	}
	over := (g.now.warmth[p.first] - g.now.warmth[p.grown]) / float64(p.first-p.grown)
	return 1 - HeatLoss(quantity.Celsius(over))
}
