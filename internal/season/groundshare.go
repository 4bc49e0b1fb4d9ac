package season

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/soil"
)

// soilDay is the day on which the ground is read for a plan: the day it is made on, else the season's start.
func (in Input) soilDay() civil.Date {
	if in.Before != nil {
		return in.Before.Day
	}
	return in.Season.Start
}

// soilShares is what the ground of each bed does to each crop that a plan chooses from: a pH expected now outside a crop's range lowers
// its yield, raw manure holds its harvest back, and lead or salts that stop the work keep it out. Beds without a pH and without raw manure have none.
func (in Input) soilShares(tables []*growth.Table) map[plan.BedCrop]plan.SoilShare {
	if len(in.Garden.Tests) == 0 && len(in.Garden.Treatments) == 0 {
		return nil
	}
	day := in.soilDay()
	drift := driftOf(GroundInput{Garden: in.Garden, Record: in.Record}).Drift
	shares := map[plan.BedCrop]plan.SoilShare{}
	for _, bed := range in.Garden.Beds {
		ground := soil.GroundOf(in.Garden, bed, nil, in.Season, in.Crops)
		expected, known := soil.ExpectedOf(soil.SourOf(in.Garden, ground, drift, day))
		alarm, stopped := stopOf(in.Garden, bed, in.Season.End())
		for _, t := range tables {
			if t == nil || t.Option.Crop == nil {
				continue
			}
			at := plan.BedCrop{Bed: bed.ID, Crop: t.Option.Crop.ID}
			if _, ok := shares[at]; ok {
				continue
			}
			s := shareOf(t.Option.Crop, bed, expected, known, in.Garden.Treatments, in.Season.Start)
			if s.Stopped = stopped && t.Option.Crop.Group != crop.Cover; s.Stopped {
				s.Reasons = append(s.Reasons, garden.Reason{Says: bed.Name + ": " + alarm.Says, Rule: "stopped by a soil test", Source: alarm.Sources})
			}
			if s.Share < 1 || s.Held != 0 || s.Stopped {
				shares[at] = s
			}
		}
	}
	return shares
}

// stopOf is the reading that stops all growing of food in a bed, if there is one. A test counts from the day it is written down on,
// whatever the day the plan is made for: what it found was there before.
func stopOf(g garden.Garden, bed garden.Bed, day civil.Date) (soil.Alarm, bool) {
	for _, a := range alarmsIn(g, bed, day) {
		if a.Stop {
			return a, true
		}
	}
	return soil.Alarm{}, false
}

// shareOf is what a bed does to a crop from the season's start on.
func shareOf(c *crop.Crop, bed garden.Bed, expected soil.Expected, known bool, treatments []garden.Treatment, from civil.Date) plan.SoilShare {
	s := plan.SoilShare{Share: 1}
	if known && c.PH.High > 0 {
		fit := soil.FitOf(c, expected.PH)
		if fit.Yield < 1 {
			s.Share = fit.Yield
			s.Reasons = append(s.Reasons, garden.Reason{
				Says: fmt.Sprintf("%s has a pH of about %.1f by now (tested on %s), %s for %s, which wants %.1f to %.1f: about %.0f %% of the yield is counted on. How much it takes is an estimate, from trials of field crops.",
					bed.Name, expected.PH, expected.Tested.Long(), fit.Word(), c.Name(), c.PH.Low, c.PH.High, 100*fit.Yield),
				Rule: "pH out of range (estimated)", Source: "OHIO-1938",
			})
		}
	}
	if until, held := soil.FirstHarvest(c, bed.ID, treatments); held != nil && until > from {
		s.Held = until
		s.Reasons = append(s.Reasons, held.Reason)
	}
	return s
}
