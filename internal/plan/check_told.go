package plan

import (
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
)

// This file holds what a plan tells of itself to the catalogue and the growth tables: how its plantings are begun, when their plants
// are raised, when they are harvested, and what the whole is worth.

// told: the way is the method's, the plants are raised for as long as the method says, and the harvest is that of the growth table.
func (c *checker) told(x *garden.Planting, o option) {
	if x.Method < 0 || x.Method >= len(o.crop.Methods) {
		return
	}
	how := o.crop.Methods[x.Method]
	if x.Way != how.Way {
		c.fault(x, "is begun by %q, and its method says %q", x.Way, how.Way)
	}
	c.raising(x, how)
	c.harvested(x, o)
}

// raising: what is set out is sown under cover as many weeks before as its method says, a week more or less; nothing else is.
func (c *checker) raising(x *garden.Planting, how crop.Method) {
	switch {
	case how.Way != crop.SetOut:
		if x.RaiseOn != nil {
			c.fault(x, "is not set out, and is raised on %s", *x.RaiseOn)
		}
	case x.RaiseOn == nil:
		c.fault(x, "is set out, and nothing says when its plants are raised")
	default:
		weeks := float64(x.Start-*x.RaiseOn) / 7
		if weeks < how.WeeksIndoors.Low-1 || weeks > how.WeeksIndoors.High+1 {
			c.fault(x, "is raised for %.1f weeks, and its method says %.0f to %.0f", weeks, how.WeeksIndoors.Low, how.WeeksIndoors.High)
		}
	}
}

// lateBegun is how many days after its day a planting may still be begun when what is before it is late.
const lateBegun = 21

// harvested: the first and the last harvest are the growth table's for the start day, later by what shade costs. Where something is
// cleared from the same ground before, which may be late, they lie within those of all years begun up to lateBegun days later.
func (c *checker) harvested(x *garden.Planting, o option) {
	sum := o.times.Summary(x.Start)
	last := sum.Last
	if c.takenWhole(x, o.crop) {
		last = garden.Spread{P10: sum.First.P10 + 6, P50: sum.First.P50 + 6, P90: sum.First.P90 + 6}
	}
	_, leaves, _ := c.shadeOf(x, o, c.beds[x.BedID])
	for _, late := range c.delays(x, o) {
		slack := civil.Date(0)
		if late > 0 || leaves < 1 && c.problem.light != nil { // half a week may be rounded either way
			slack = 7
		}
		if near(x.First, sum.First, late, slack) && near(x.Last, last, late, slack) || c.follows(x) && c.withinLate(x, o, civil.Date(late), slack) {
			return
		}
	}
	c.fault(x, "is harvested from %s to %s in the middle of the years, and its growth table says %s to %s", x.First.P50, x.Last.P50, sum.First.P50, last.P50)
}

// delays are the days by which a planting may be late for shade: those of its bed; where that is told in hours a day, any bed's, for
// it may be counted on as late as in those.
func (c *checker) delays(x *garden.Planting, o option) []int {
	_, _, late := c.shadeOf(x, o, c.beds[x.BedID])
	all := []int{late}
	if c.problem.light == nil {
		return all
	}
	if _, known := c.problem.light.Beds[x.BedID]; known {
		return all
	}
	for _, b := range c.garden.Beds {
		_, _, late := c.shadeOf(x, o, b)
		all = append(all, late)
	}
	return all
}

// near says whether days are others so much later, within a slack.
func near(got, want garden.Spread, late int, slack civil.Date) bool {
	for _, d := range [][2]civil.Date{{got.P10, want.P10}, {got.P50, want.P50}, {got.P90, want.P90}} {
		if by := d[0] - d[1].Add(late); by < -slack || by > slack {
			return false
		}
	}
	return true
}

// follows says whether something is cleared from a planting's ground before it is begun.
func (c *checker) follows(x *garden.Planting) bool {
	for i := range c.plan.Plantings {
		z := &c.plan.Plantings[i]
		if z.Key != x.Key && z.BedID == x.BedID && z.Start < x.Start && z.Clear <= x.Start && overlap(z.Place, x.Place, c.beds[x.BedID]) {
			return true
		}
	}
	return false
}

// withinLate says whether the harvest told lies within those of all years begun on the day or up to lateBegun days later.
func (c *checker) withinLate(x *garden.Planting, o option, late, slack civil.Date) bool {
	first, last := civil.Date(math.MaxInt32), civil.Date(math.MinInt32)
	for day := x.Start; day <= x.Start+lateBegun; day++ {
		for i := 0; i < x.Years; i++ {
			if y := o.times.Outcome(day, i); y.Fate == growth.Ready {
				first, last = min(first, y.First+late-slack), max(last, y.Last+late+slack, y.First+late+slack+6)
			}
		}
	}
	f, l := x.First, x.Last
	return first <= f.P10 && f.P10 <= f.P50 && f.P50 <= f.P90 && l.P10 <= l.P50 && l.P50 <= l.P90 && l.P90 <= last &&
		f.P10 <= l.P10 && f.P50 <= l.P50 && f.P90 <= l.P90
}

// worth: the value and its bound are numbers, and no plan is worth more than the bound.
func (c *checker) worth() {
	v, b := c.plan.Value, c.plan.Bound
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0) || math.IsNaN(b) || math.IsInf(b, 0):
		c.faults = append(c.faults, fmt.Errorf("the plan's value %v and its bound %v are not both numbers", v, b))
	case b > 0 && v > b+1e-9*math.Abs(b):
		c.faults = append(c.faults, fmt.Errorf("the plan's value %.6f is above its bound %.6f", v, b))
	}
}

// shares: what stands between another's plants runs nowhere and is not earthed up, and neither is the other; it wants neither a block
// nor a support; it is in the ground for twelve weeks at most and four fifths of the other's time, goes in no more than six weeks
// before the other and four after, and is still there when the other goes in.
func (c *checker) shares(slow, fast *garden.Planting, sc, fc *crop.Crop) {
	if sc.Practice.Vine || fc.Practice.Vine {
		c.fault(fast, "and %s: a vine does not share its ground", slow.Key)
	}
	if sc.Practice.EarthUp || fc.Practice.EarthUp {
		c.fault(fast, "and %s: what is earthed up does not share its ground", slow.Key)
	}
	if fc.Practice.Block || fc.Practice.Support != "" {
		c.fault(fast, "wants a block or a support and has none among the plants of %s", slow.Key)
	}
	stay, room := fast.Clear-fast.Start, slow.Clear-slow.Start
	if stay > 84 || 5*stay > 4*room {
		c.fault(fast, "stands for %d days among %s, which stands for %d", stay, slow.Key, room)
	}
	if fast.Start < slow.Start-42 || fast.Start > slow.Start+28 || fast.Clear <= slow.Start {
		c.fault(fast, "is begun on %s, too far from the start of %s on %s", fast.Start, slow.Key, slow.Start)
	}
}
