package season

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
)

// Carry is the garden with what a kept plan had begun before a day standing in it: whoever plans
// anew in mid-season has done the old plan's work so far, unless the journal says otherwise. A
// planting is begun when its first work, under cover or in the ground, falls before the day; one
// that shares its ground with a begun one goes with it.
func Carry(g garden.Garden, kept *plan.Plan, day civil.Date) garden.Garden {
	if kept == nil {
		return g
	}
	g.Standing = slices.Clone(g.Standing)
	known := map[string]bool{}
	for _, p := range g.Standing {
		known[p.Key] = true
	}
	begun := map[string]bool{}
	for _, p := range kept.Plantings {
		if first(p) < day {
			begun[p.Key] = true
		}
	}
	for _, p := range kept.Plantings {
		if known[p.Key] || p.Status == garden.Over || p.Status == garden.Lost {
			continue
		}
		if begun[p.Key] || begun[p.Partner] {
			g.Standing = append(g.Standing, p)
		}
	}
	return g
}

// first is the day of a planting's first work.
func first(p garden.Planting) civil.Date {
	if p.RaiseOn != nil {
		return min(*p.RaiseOn, p.Start)
	}
	return p.Start
}
