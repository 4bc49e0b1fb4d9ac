package plan

import (
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/growth"
)

// covered: under what its want asks for; else only under a cover that the garden has and that is high enough for the
// crop, by itself, and where the same planting in the open fails.
func (c *checker) covered(x *garden.Planting, o option) {
	under := c.askedUnder(x)
	if under == garden.InTheOpen && x.Protection != "" || under != "" && under != garden.InTheOpen && x.Protection != under {
		c.fault(x, "stands under %q, and its want asks for %q", x.Protection, under)
	}
	if x.Protection == "" {
		return
	}
	asked := under == x.Protection
	if !asked && !slices.Contains(c.garden.Site.Covers, x.Protection) {
		c.fault(x, "stands under a cover the garden does not have: %s", x.Protection)
	}
	if o.crop.Perennial || o.crop.Plant.Height > o.cover.Room && o.cover.Stays {
		c.fault(x, "has no room under %s", o.cover.Under())
	}
	if t, ok := o.times.(*growth.Table); ok && t.Outgrows(x.Start) {
		c.fault(x, "outgrows %s while the nights are cold", o.cover.Under())
	}
	if x.Partner != "" {
		c.fault(x, "shares its cover with %s", x.Partner)
	}
	for _, bare := range c.options {
		if asked || bare.cover != nil || bare.crop.ID != x.CropID || bare.method != x.Method {
			continue
		}
		good := 0
		for i := 0; i < x.Years; i++ {
			if bare.times.Outcome(x.Start, i).Fate == growth.Ready {
				good++
			}
		}
		if float64(good) >= c.settings.Share*float64(x.Years)-1e-6 {
			c.fault(x, "is covered for nothing: it succeeds in %d years of %d in the open", good, x.Years)
		}
	}
}

// askedUnder is what the want that a planting serves is to be grown under.
func (c *checker) askedUnder(x *garden.Planting) string {
	for i, s := range c.plan.Supply {
		if i < len(c.garden.Wants) && slices.Contains(s.Keys, x.Key) {
			return c.garden.Wants[i].Under
		}
	}
	return ""
}
