package soil

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// The days from raw manure, dug in, to the harvest of what is eaten: where that part touches the soil or is splashed by it, and
// where it hangs clear.
//
// Source: NOP-203, 7 CFR 205.203(c)(1)(ii)–(iii)
const (
	DaysTouching = 120
	DaysClear    = 90
)

// TouchesSoil says whether the part eaten of a crop touches the soil. Only what grows on supports, and corn, hangs clear; a fruit on the
// ground, a leaf or a root does not.
func TouchesSoil(c *crop.Crop) bool {
	return c == nil || c.Practice.Support == "" && c.Group != crop.Corn
}

// DaysBeforeHarvest is how long before its harvest raw manure must be dug in for a crop; for no crop, the longer time.
func DaysBeforeHarvest(c *crop.Crop) int {
	if TouchesSoil(c) {
		return DaysTouching
	}
	return DaysClear
}

// LastManure is the last day on which raw manure may be dug in for a harvest.
func LastManure(c *crop.Crop, harvest civil.Date) civil.Date {
	return harvest.Add(-DaysBeforeHarvest(c))
}

// Held is a treatment with raw manure that a crop's harvest must wait for.
type Held struct {
	Treatment garden.Treatment
	Until     civil.Date // the first day on which the crop may be eaten
	Reason    garden.Reason
}

// FirstHarvest is the first day on which a crop of a bed may be harvested for the raw manure that was put there, and what
// holds it; 0 and nil where nothing does. A plan must not count on a harvest before it, and a job must not call for one.
func FirstHarvest(c *crop.Crop, bedID int64, treatments []garden.Treatment) (civil.Date, *Held) {
	var held *Held
	for _, t := range treatments {
		m, ok := Find(t.Material)
		if t.BedID != bedID || !ok || !m.Raw {
			continue
		}
		until := t.Date.Add(DaysBeforeHarvest(c))
		if held != nil && until <= held.Until {
			continue
		}
		name := "the crop"
		where := "touches the soil"
		if c != nil {
			name = c.Name()
		}
		if !TouchesSoil(c) {
			where = "hangs clear of the soil"
		}
		held = &Held{Treatment: t, Until: until, Reason: garden.Reason{
			Says: fmt.Sprintf("%s went on the bed on %s: what is eaten of %s %s, so none of it before %s, %d days after.", title(m.Name), t.Date.Short(), name, where, until.Short(), DaysBeforeHarvest(c)),
			Rule: "raw manure before harvest", Source: "NOP-203",
		}}
	}
	if held == nil {
		return 0, nil
	}
	return held.Until, held
}
