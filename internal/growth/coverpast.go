package growth

import "kailyard/internal/civil"

// coverMemory is how many days a cover's warmth is looked for before a planting goes in: the soil keeps some of it.
const coverMemory = 30

// CoverOff says whether a planting's cover is on in no weather year on any day before another, from some weeks before
// the start day on. Then the planting covered from that day on is what the table has: its past is the same under the
// cover and in the open. In the open it is always so.
//
//	start  the day the planting went in
//	until  the first day on which the cover may be on
func (t *Table) CoverOff(start, until civil.Date) bool {
	k := t.Option.cover()
	if k.protection == nil {
		return true
	}
	c := t.Climate
	first, last := int(start-c.Season.Start)+Lead-coverMemory, int(until-c.Season.Start)+Lead
	for y := range c.Years {
		from, to := c.year(y)
		on := k.on(c.low[from:to], c.hours)
		for i := max(first, 0); i < min(last, len(on)); i++ {
			if on[i] {
				return false
			}
		}
	}
	return true
}
