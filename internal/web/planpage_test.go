package web

import (
	"strings"
	"testing"

	"kailyard/internal/crop"
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
