package season_test

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
)

func keysOf(list []garden.Planting) string {
	var keys []string
	for _, p := range list {
		keys = append(keys, p.Key)
	}
	return strings.Join(keys, " ")
}

// TestCarry: what was to be begun before the day stands, with its partner; what is over stands to the
// day the journal ended it; what the garden already has does not come twice.
func TestCarry(t *testing.T) {
	s := civil.SeasonOf(2027, 44)
	day := civil.Of(2027, 6, 1)
	early, raised, late, clear := civil.Of(2027, 5, 1), civil.Of(2027, 5, 20), civil.Of(2027, 7, 1), civil.Of(2027, 9, 1)
	kept := &plan.Plan{Plantings: []garden.Planting{
		{Key: "a", BedID: 1, Start: early, Clear: clear},
		{Key: "b", BedID: 1, Start: late, Clear: clear, RaiseOn: &raised},
		{Key: "c", BedID: 1, Start: late, Clear: clear},
		{Key: "d", BedID: 1, Start: early, Clear: clear, Status: garden.Over},
		{Key: "e", BedID: 1, Start: early, Clear: clear, Partner: "f", Role: garden.Slow},
		{Key: "f", BedID: 1, Start: late, Clear: clear, Partner: "e", Role: garden.Fast},
		{Key: "g", BedID: 1, Start: early, Clear: clear},
		{Key: "h", BedID: 9, Start: early, Clear: clear},
		{Key: "i", BedID: 1, Start: early, Clear: clear, Place: garden.Place{AlongFrom: 3, AlongTo: 5, AcrossTo: 1}},
	}}
	last := &plan.Plan{Plantings: []garden.Planting{
		{Key: "x", BedID: 1, Start: civil.Of(2026, 10, 9), Clear: civil.Of(2027, 8, 1)},
		{Key: "y", BedID: 1, Start: civil.Of(2026, 5, 9), Clear: civil.Of(2026, 8, 1)},
		{Key: "z", BedID: 1, CropID: "rhubarb", Start: civil.Of(2025, 5, 9), Clear: civil.Of(2026, 12, 31)},
	}}
	g := garden.Garden{Beds: []garden.Bed{{ID: 1, Name: "A", Length: 4, Width: 1}}, Standing: []garden.Planting{{Key: "g", BedID: 1}}}
	got, notes := season.Carry(g, s, crop.Default(), season.Before{
		Last: last, Kept: kept, Day: day,
		Journal: []garden.Entry{
			{Date: civil.Of(2027, 5, 28), Kind: garden.Cleared, Planting: "d"},
			{Date: civil.Of(2027, 5, 29), Kind: garden.Failed, Planting: "x"},
		},
	})
	if keys := keysOf(got.Standing); keys != "a b d e f g i x z" {
		t.Errorf("standing %q", keys)
	}
	for _, p := range got.Standing {
		switch {
		case p.Key == "d" && p.Clear != civil.Of(2027, 5, 28):
			t.Errorf("d was cleared on 28 May, and its ground is free from %s", p.Clear)
		case p.Key == "x" && (p.Status != garden.Lost || p.Clear != civil.Of(2027, 5, 29)):
			t.Errorf("x failed on 29 May, and is %s till %s", p.Status, p.Clear)
		case p.Key == "z" && p.Clear <= s.End():
			t.Errorf("rhubarb leaves the ground on %s", p.Clear)
		case p.Key == "i" && p.Place.AlongTo != 4:
			t.Errorf("i reaches to %v m in a bed of 4 m", p.Place.AlongTo)
		}
	}
	if len(notes) != 2 { // h has no bed, i is cut
		t.Errorf("notes %v", notes)
	}
}

// TestReplanInMidSeason: planning again on a day in June keeps every planting begun by then, in the
// same place and time, and begins nothing before the day; the journal's keys are nobody else's.
func TestReplanInMidSeason(t *testing.T) {
	record := measured(t, "new_york_2012-2015.csv")
	first := compute(t, record, 40.8)
	day := civil.Of(2027, 6, 10)
	var ended garden.Planting
	for i, p := range first.Plan.Plantings {
		if p.Start < day && p.Partner == "" && p.RaiseOn == nil {
			first.Plan.Plantings[i].Status = garden.Lost
			ended = p
			break
		}
	}
	if ended.Key == "" {
		t.Fatal("nothing was sown by June")
	}
	journal := []garden.Entry{{Date: ended.Start + 9, Kind: garden.Failed, Planting: ended.Key}, {Date: day - 1, Kind: garden.Noted, Planting: "2027-99"}}
	again, err := season.Compute(season.Input{
		Season: first.Season, Garden: first.Garden, Record: record, Crops: first.Crops, Settings: plan.DefaultSettings(),
		Before: &season.Before{Kept: first.Plan, Journal: journal, Day: day},
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
		was, had := old[p.Key]
		if had && (was.CropID != p.CropID || was.Place != p.Place || was.Start != p.Start) {
			t.Errorf("%s was %+v and is %+v: a key means one planting for good", p.Key, was, p)
		}
		if p.Key == "2027-99" {
			t.Error("a key of the journal went to a new planting")
		}
		begins := p.Start
		if p.RaiseOn != nil {
			begins = *p.RaiseOn
		}
		if begins < day {
			begun++
			if !had {
				t.Errorf("%s is begun on %s, before the day", p.Key, begins)
			}
		}
		if p.Key == ended.Key && p.Clear != ended.Start+9 {
			t.Errorf("%s was lost on %s and holds its ground to %s", p.Key, ended.Start+9, p.Clear)
		}
	}
	if begun == 0 {
		t.Error("nothing was begun by June")
	}
}
