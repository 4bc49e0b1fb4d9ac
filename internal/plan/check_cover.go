package plan

import (
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/growth"
)

// covered: only under a cover that the garden has and that is high enough for the crop, by itself, and where the
// same planting in the open fails.
func (c *checker) covered(x *garden.Planting, o option) {
	if x.Protection == "" {
		return
	}
	if !slices.Contains(c.garden.Site.Covers, x.Protection) {
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
		if bare.cover != nil || bare.crop.ID != x.CropID || bare.method != x.Method {
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
