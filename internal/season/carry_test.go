package season_test

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
)

// TestCarry: what was to be begun before the day stands, with its partner; what the journal ended, or
// the garden already has, does not come twice.
func TestCarry(t *testing.T) {
	day := civil.Of(2027, 6, 1)
	early, raised := civil.Of(2027, 5, 1), civil.Of(2027, 5, 20)
	late := civil.Of(2027, 7, 1)
	kept := &plan.Plan{Plantings: []garden.Planting{
		{Key: "a", Start: early},
		{Key: "b", Start: late, RaiseOn: &raised},
		{Key: "c", Start: late},
		{Key: "d", Start: early, Status: garden.Over},
		{Key: "e", Start: early, Partner: "f", Role: garden.Slow},
		{Key: "f", Start: late, Partner: "e", Role: garden.Fast},
		{Key: "g", Start: early},
	}}
	g := season.Carry(garden.Garden{Standing: []garden.Planting{{Key: "g"}}}, kept, day)
	var keys string
	for _, p := range g.Standing {
		keys += p.Key
	}
	if keys != "gabef" {
		t.Errorf("standing %q, want g, then a, b (raised already), e and its partner f", keys)
	}
	if got := season.Carry(garden.Garden{}, nil, day); len(got.Standing) != 0 {
		t.Error("without a kept plan nothing is carried")
	}
}

// TestReplanInMidSeason: planning again on a day in June keeps every planting begun by then, in the
// same place and time, and begins nothing before the day.
func TestReplanInMidSeason(t *testing.T) {
	record := measured(t, "new_york_2012-2015.csv")
	first := compute(t, record, 40.8)
	day := civil.Of(2027, 6, 10)
	again, err := season.Compute(season.Input{
		Season: first.Season, Garden: season.Carry(first.Garden, first.Plan, day), Record: record,
		Crops: first.Crops, Settings: plan.DefaultSettings(), From: &day,
	})
	if err != nil {
		t.Fatal(err)
	}
	old := map[string]garden.Planting{}
	for _, p := range first.Plan.Plantings {
		old[p.Key] = p
	}
	begun := 0
	for _, p := range again.Plan.Plantings {
		begins := p.Start
		if p.RaiseOn != nil {
			begins = *p.RaiseOn
		}
		if begins >= day {
			continue
		}
		begun++
		if was := old[p.Key]; was.CropID != p.CropID || was.Place != p.Place || was.Start != p.Start {
			t.Errorf("%s changed: %+v, was %+v", p.Key, p, was)
		}
	}
	if begun == 0 {
		t.Error("nothing was begun by June")
	}
}
