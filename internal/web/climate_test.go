package web

import (
	"strings"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// measuredStory is the storybook's weather passed off as measured, a degree warmer each ten years.
func measuredStory(t *testing.T, units quantity.System) *season.Result {
	t.Helper()
	g := storyGarden()
	g.Wants, g.Site.Units = nil, units
	record := storyRecord()
	record.Origin = weather.Measured
	for i := range record.Days {
		d := &record.Days[i]
		add := quantity.Celsius(float64(d.Date.Since(record.Days[0].Date)) / 3652.5)
		d.Min, d.Max = d.Min+add, d.Max+add
		if d.Date >= civil.Of(2003, 7, 4) && d.Date < civil.Of(2003, 7, 7) {
			d.HasTemp = false
		}
	}
	r, err := season.Prepare(season.Input{Season: civil.SeasonOf(2027, g.Site.Latitude), Garden: g, Record: record, Crops: mustStory(t).Crops})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A measured record says how it has moved, in a picture, a table and words, and owns up to its gap.
func TestWeatherPageOfAMeasuredRecord(t *testing.T) {
	for _, units := range []quantity.System{quantity.Metric, quantity.US} {
		now := measuredStory(t, units)
		h, _ := storySite(t, now, storyToday)
		doc := parse(t, get(t, h, "/weather"))
		ids := checkPage(t, "/weather", doc)
		for _, id := range []string{"h-length", "h-light", "h-moved", "h-notes"} {
			if !ids[id] {
				t.Errorf("the page has no %s", id)
			}
		}
		text := words(doc)
		moved, _ := now.Moved()
		for _, m := range moved {
			if says := m.Says(units); !strings.Contains(text, says) {
				t.Errorf("the page does not say of %s: %q", m.Name, says)
			}
		}
		for _, says := range []string{now.WorkableSays(), now.DayLengthSays(), season.LengthSays(now.Frost(0)), "3 days (under 0.1 %) lack temperatures"} {
			if !strings.Contains(text, says) {
				t.Errorf("the page does not say %q", says)
			}
		}
		if n := len(all(doc, atom.Svg)); n != 10 {
			t.Errorf("%d pictures, want 10: two of frost, length, soil, warmth, light and four of how it moved", n)
		}
	}
}

// Generated years say why nothing is said of how they moved.
func TestWeatherPageOfGeneratedYears(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	text := words(parse(t, get(t, h, "/weather")))
	if !strings.Contains(text, "whatever slope they have is chance") || strings.Contains(text, "Mann–Kendall") {
		t.Error("generated years must say why they have no trend, and have none")
	}
}
