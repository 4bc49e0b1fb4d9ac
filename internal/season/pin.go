package season

import (
	"fmt"

	"kailyard/internal/garden"
	"kailyard/internal/plan"
)

// PinRefused says why a planting cannot be kept exactly so by every new plan, and what to do; both are empty where it can.
func (r *Result) PinRefused(p garden.Planting) (why, remedy string) {
	switch p.Status {
	case garden.InGround:
		return "It is in the ground, and every new plan leaves it there.", "There is nothing to keep."
	case garden.Over, garden.Lost:
		return "It is over.", "There is nothing to keep."
	}
	b, ok := r.Bed(p.BedID)
	if !ok {
		return "Its bed is no longer in the garden.", "Plan the season again, and it finds another."
	}
	if !b.Holds(p.Place) {
		return fmt.Sprintf("It reaches beyond %s as the bed is now.", b.Name), "Plan the season again, or give the bed its size back."
	}
	if _, ok := r.Crops.Find(p.CropID); !ok {
		return "The catalogue no longer has its crop.", "Take the crop in again, or plan the season without it."
	}
	if v, ok := r.Garden.Vetoed(p, r.Crops); ok {
		return fmt.Sprintf("You will have %s.", r.Garden.VetoSays(v)), "Take that back first, or plan the season again without it."
	}
	in := Input{Season: r.Season, Garden: r.Garden, Record: r.Record, Crops: r.Crops, Journal: r.journal}
	if in.soilShares(r.Tables)[plan.BedCrop{Bed: b.ID, Crop: p.CropID}].Stopped {
		return fmt.Sprintf("A soil test of %s stops it: no food is grown there.", b.Name), "See the bed's soil page."
	}
	if o, ok := r.inItsPlace(p); ok {
		return fmt.Sprintf("%s has some of its ground from %s to %s.", r.called(o.Key), o.Start.Short(), o.Clear.Short()),
			"Plan the season again, or let the planner move the other."
	}
	return "", ""
}

// inItsPlace is what stands or is pinned on some of a planting's ground while it would.
func (r *Result) inItsPlace(p garden.Planting) (garden.Planting, bool) {
	for _, list := range [][]garden.Planting{r.Garden.Standing, r.Plan.Plantings} {
		for _, o := range list {
			fixed := o.Status == garden.InGround || o.Status == garden.Planned && o.Pinned
			if fixed && o.Key != p.Key && o.Key != p.Partner && o.BedID == p.BedID && o.Place.Meets(p.Place) && o.Start < p.Clear && p.Start < o.Clear {
				return o, true
			}
		}
	}
	return garden.Planting{}, false
}
