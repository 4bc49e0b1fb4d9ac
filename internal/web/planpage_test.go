package web

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
)

// The plan's page tells how near it comes to what any plan could and where the rest goes; garden and beds say the first and lead there.
// A plan that does not know says nothing on them.
func TestWhereTheRestGoesIsShown(t *testing.T) {
	now := mustStory(t)
	h, _ := storySite(t, now, storyToday)
	page := get(t, h, "/plan").Body.String()
	for _, says := range []string{"This plan reaches at least ", "Of everything wanted, ", `<svg`, "May be left in the plan", "Rotation", "Season"} {
		if !strings.Contains(page, says) {
			t.Errorf("/plan does not say %q", says)
		}
	}
	for _, path := range []string{"/beds", "/garden"} {
		if body := get(t, h, path).Body.String(); !strings.Contains(body, "This plan reaches at least ") || !strings.Contains(body, `href="/plan"`) {
			t.Errorf("%s does not say what the plan reaches", path)
		}
	}
	old := *now.Plan
	old.Bound = 0
	crops, _ := now.Garden.Catalogue(crop.Default())
	before, err := season.Compute(season.Input{Season: now.Season, Garden: now.Garden, Record: now.Record, Crops: crops, Settings: old.Settings, Plan: &old})
	if err != nil {
		t.Fatal(err)
	}
	h, _ = storySite(t, before, storyToday)
	if body := get(t, h, "/plan").Body.String(); strings.Contains(body, "reaches") || !strings.Contains(body, "Plan again to be told") {
		t.Error("/plan tells of a plan that does not know")
	}
	for _, path := range []string{"/beds", "/garden"} {
		if body := get(t, h, path).Body.String(); strings.Contains(body, "reaches at least") {
			t.Errorf("%s tells what an old plan reaches", path)
		}
	}
}

// What would help is reckoned only when it is asked for; then each thing is told with where one does it.
func TestWhatWouldHelpIsShown(t *testing.T) {
	g := garden.Garden{
		Site:  garden.Site{Name: "Two beds", Latitude: 43.5, Longitude: -72.3, Household: 2, Invented: true},
		Beds:  []garden.Bed{{ID: 1, Name: "Front", Length: 4, Width: 1.2, Sun: 8}, {ID: 2, Name: "Back", X: 6, Length: 4, Width: 1.2, Sun: 5}},
		Wants: []garden.Want{{ID: 7, Crop: "tomato", Basis: garden.Total, Amount: 30, Unit: "kg", Weight: 3}, {ID: 8, Crop: "carrot", Basis: garden.Total, Amount: 20, Unit: "kg", Weight: 3}},
	}
	settings := plan.DefaultSettings()
	settings.Rounds = 12000
	now, err := season.Compute(season.Input{Season: civil.SeasonOf(2027, 43.5), Garden: g, Record: storyRecord(), Crops: crop.Default(), Settings: settings})
	if err != nil {
		t.Fatal(err)
	}
	h, _ := storySite(t, now, storyToday)
	if body := get(t, h, "/plan/helps").Body.String(); !strings.Contains(body, "Plan them through") || strings.Contains(body, "Another bed of") {
		t.Error("what would help is reckoned though nobody asked")
	}
	body := get(t, h, "/plan/helps?reckon=yes").Body.String()
	for _, says := range []string{"Another bed of 4\u00a0m × 1.2\u00a0m in full sun", "\u00a0kg more ", `href="/bed/new"`, "A shorter rotation is never advised"} {
		if !strings.Contains(body, says) {
			t.Errorf("what would help does not say %q", says)
		}
	}
	if again := get(t, h, "/plan/helps").Body.String(); !strings.Contains(again, "Another bed of") {
		t.Error("what was reckoned is not kept")
	}
}
