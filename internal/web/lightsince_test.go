package web

import (
	"slices"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/season"
)

const changedLight = "has been changed since this plan was made"

// TestAPlanOlderThanItsLightSaysSo: the pages of plan and bed tell of the bed whose light has been changed, and of no other, with
// the button that plans again; a plan of today's light, and one that keeps no light, say nothing.
func TestAPlanOlderThanItsLightSaysSo(t *testing.T) {
	was := mustStory(t)
	g := was.Garden
	g.Beds = slices.Clone(g.Beds)
	g.Beds[2].Sun = 5
	crops, _ := g.Catalogue(crop.Default())
	kept := *was.Plan
	now, err := season.Compute(season.Input{Season: was.Season, Garden: g, Record: was.Record, Crops: crops, Settings: kept.Settings, Plan: &kept})
	if err != nil {
		t.Fatal(err)
	}
	h, _ := storySite(t, now, storyToday)
	name := g.Beds[2].Name
	for _, page := range []string{"/", "/beds", "/garden", "/bed/3"} {
		body := get(t, h, page).Body.String()
		if !strings.Contains(body, changedLight) || !strings.Contains(body, name) || !strings.Contains(body, `action="/replan"`) {
			t.Errorf("%s does not tell that the light of %s was changed", page, name)
		}
	}
	if strings.Contains(get(t, h, "/bed/2").Body.String(), changedLight) {
		t.Error("a bed whose light is as it was tells of a change")
	}
	for _, p := range now.Plan.Plantings {
		if told := strings.Contains(get(t, h, "/planting/"+p.Key).Body.String(), changedLight); told != (p.BedID == 3) {
			t.Errorf("the planting %s in bed %d: told %v", p.Key, p.BedID, told)
		}
	}
	late, _ := storySite(t, now, "2029-06-15")
	if strings.Contains(get(t, late, "/beds").Body.String(), changedLight) {
		t.Error("a plan of a season long over asks to be made again")
	}
	kept.Sun = nil
	for _, page := range []string{"/", "/beds", "/garden", "/bed/3"} {
		if strings.Contains(get(t, h, page).Body.String(), changedLight) {
			t.Errorf("%s tells of a change of a plan that keeps no light", page)
		}
	}
	same, _ := storySite(t, was, storyToday)
	if strings.Contains(get(t, same, "/beds").Body.String(), changedLight) {
		t.Error("the light of a plan just made has been changed")
	}
}
