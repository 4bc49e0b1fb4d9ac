package plan

import (
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// shelf: in no week do the seedlings of the plan take more trays than there is light for, but for what stands or is pinned. It goes day
// by day from the sowing under cover to the hardening off.
func (c *checker) shelf() {
	if c.garden.Site.Trays <= 0 {
		return
	}
	type stay struct {
		x        *garden.Planting
		from, to civil.Date
		trays    float64
	}
	var all []stay
	for i := range c.plan.Plantings {
		x := &c.plan.Plantings[i]
		of, ok := c.crops.Find(x.CropID)
		if !ok || x.RaiseOn == nil || x.Method >= len(of.Methods) || x.Way != crop.SetOut || x.Status == garden.Over || x.Status == garden.Lost {
			continue
		}
		harden := of.Methods[x.Method].Hardening
		if harden <= 0 {
			harden = 7
		}
		s := stay{x, *x.RaiseOn, x.Start.Add(-harden - 1), of.Trays(x.Plants)}
		s.to = max(s.to, s.from)
		all = append(all, s)
	}
	for _, at := range all {
		if c.stands[at.x.Key] {
			continue
		}
		for day := at.from; day <= at.to; day++ {
			sum := 0.0
			for _, s := range all {
				if s.from <= day && day <= s.to {
					sum += s.trays
				}
			}
			if sum > c.garden.Site.Trays+1e-6 {
				c.fault(at.x, "is under light on %s with %.2f trays in all, and there is light for %.2f", day, sum, c.garden.Site.Trays)
				break
			}
		}
	}
}
