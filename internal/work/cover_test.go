package work

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// coveredJobs are the cover's jobs of one planting of a crop, in the generated years of a cold place.
func coveredJobs(t *testing.T, id, cover string, way crop.Way, start civil.Date) map[string]Job {
	t.Helper()
	c, _ := crop.Default().Find(id)
	p, _ := crop.FindProtection(cover)
	place := weather.Climates()[0]
	for _, k := range weather.Climates() {
		if k.ID == "burlington" {
			place = k
		}
	}
	season := civil.SeasonOf(2027, place.Latitude)
	years, _, err := weather.Generate(place, 1990, 35, 7).Scenarios(season, growth.Lead, growth.Tail, 30)
	if err != nil {
		t.Fatal(err)
	}
	climate, err := growth.NewClimate(season, place.Latitude, years)
	if err != nil {
		t.Fatal(err)
	}
	method := 0
	for m := range c.Methods {
		if c.Methods[m].Way == way {
			method = m
		}
	}
	table := growth.Tabulate(climate, []growth.Option{{Crop: c, Method: method, Protection: p}})[0]
	s := table.Summary(start)
	if s.Success == 0 {
		t.Fatalf("%s from %v under %s succeeds in no year", id, start, cover)
	}
	q := garden.Planting{
		Key: "p", BedID: 1, CropID: id, Method: method, Way: way, Protection: p.ID, Place: garden.Place{AlongTo: 3, AcrossTo: 1}, Rows: 2, Plants: 20,
		Start: start, Emerge: s.Emerge, First: s.First, Last: s.Last, Clear: s.Last.P90 + 1, Role: garden.Alone,
	}
	in := Input{
		Plan:   &plan.Plan{Season: season, Settings: plan.DefaultSettings(), Plantings: []garden.Planting{q}},
		Garden: garden.Garden{Beds: []garden.Bed{{ID: 1, Name: "Bed", Length: 3, Width: 1}}},
		Crops:  crop.Default(), Tables: []*growth.Table{table},
		Frost: func(limit quantity.Celsius) weather.Frost { return weather.FrostOf(season, growth.Lead, years, limit) },
	}
	found := map[string]Job{}
	for _, j := range Jobs(in) {
		if j.Kind == Protect {
			found[strings.TrimPrefix(j.Key, "p/protect-")] = j
		}
	}
	return found
}

// A spring salad: the cover warms the ground for a fortnight, is aired while it lies, and comes off as the nights
// warm; fleece for single nights is not asked for beside it.
func TestSpringCover(t *testing.T) {
	start := civil.Of(2027, 4, 14)
	jobs := coveredJobs(t, "lettuce-loose-leaf", "low tunnel", crop.Sow, start)
	on, air, off := jobs["cover-on"], jobs["cover-air"], jobs["cover-off"]
	if on.Window.From != start-14 || on.Window.To != start {
		t.Errorf("put on %v, sown %v", on.Window, start)
	}
	if air.Window.From != start || off.Window.From < start || air.Window.To > off.Window.From {
		t.Errorf("aired %v, taken off %v", air.Window, off.Window)
	}
	if len(on.Cautions) == 0 || len(off.Cautions) == 0 || len(off.Conditions) == 0 {
		t.Error("no caution or no spread")
	}
	if _, ok := jobs["frost"]; ok {
		t.Error("fleece is asked for over a tunnel")
	}
	if _, ok := jobs["cover-bees"]; ok {
		t.Error("lettuce is opened for bees")
	}
	if !strings.Contains(strings.Join(air.How, " "), "16 °C outside") { // PSU-RC: 60 °F
		t.Errorf("no outside temperature to open at in %q", air.How)
	}
}

// An autumn salad sown in warm weather: the cover goes on as the nights turn cold, not at sowing.
func TestAutumnCover(t *testing.T) {
	start := civil.Of(2027, 8, 27)
	jobs := coveredJobs(t, "lettuce-loose-leaf", "row cover", crop.Sow, start)
	on := jobs["cover-on"]
	if on.Window.From < start || on.Window.To < civil.Of(2027, 9, 5) {
		t.Errorf("put on %v, sown %v", on.Window, start)
	}
	if _, ok := jobs["cover-off"]; ok {
		t.Error("it is taken off in autumn")
	}
}

// Cucumbers stand in a high tunnel while they flower: it is opened for the bees, and stays.
func TestCoverOpensForBees(t *testing.T) {
	start := civil.Of(2027, 5, 28)
	jobs := coveredJobs(t, "cucumber", "high tunnel", crop.SetOut, start)
	bees, ok := jobs["cover-bees"]
	if !ok || bees.Window.From <= start {
		t.Errorf("bees %v, %v", ok, bees.Window)
	}
	if off, ok := jobs["cover-off"]; ok && !strings.HasPrefix(off.Title, "Leave the high tunnel open") {
		t.Errorf("a tunnel to walk in: %s", off.Title)
	}
}
