package web

import (
	"net/http"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// A garden in the south, read in feet and pounds: its season runs from July over New Year, and every
// page is made of it.
func TestPagesOfASouthernGardenInFeet(t *testing.T) {
	g := storyGarden()
	g.Site.Latitude, g.Site.Longitude, g.Site.Units = -35.2, 147.5, quantity.US
	g.Beds, g.History, g.Wants, g.Standing = g.Beds[:3], nil, nil, nil
	for i, word := range []string{"carrot", "lettuce", "garlic", "tomato"} {
		g.Wants = append(g.Wants, garden.Want{ID: int64(i + 1), Crop: word, Basis: garden.Total, Amount: 4, Unit: "lb", Weight: 3})
	}
	var record *weather.Record
	for _, c := range weather.Climates() {
		if c.ID == "wagga-wagga" {
			record = weather.Generate(c, 2010, 12, 3)
		}
	}
	if record == nil {
		t.Fatal("the built-in place is gone")
	}
	settings := plan.DefaultSettings()
	settings.Rounds = 500
	now, err := season.Compute(season.Input{Season: civil.SeasonOf(2027, g.Site.Latitude), Garden: g, Record: record, Crops: crop.Default(), Settings: settings})
	if err != nil {
		t.Fatal(err)
	}
	h, _ := storySite(t, now, "2027-11-20")
	for _, path := range []string{"/", "/plot", "/plot?day=2028-01-15", "/beds", "/bed/1", "/jobs", "/orders", "/weather", "/crops", "/crop/carrot", "/garden", "/bed/2/edit"} {
		w := get(t, h, path)
		body := w.Body.String()
		if w.Code != http.StatusOK {
			t.Errorf("%s: status %d", path, w.Code)
		}
		if path == "/" && !strings.Contains(body, "season 2027/28") {
			t.Error("the season over New Year is not named")
		}
		if path == "/bed/1" && !strings.Contains(body, " ft") || path == "/weather" && !strings.Contains(body, "°F") {
			t.Errorf("%s is not in the person's units", path)
		}
		checkPage(t, path, parse(t, w))
	}
}
