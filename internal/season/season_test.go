package season_test

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// measured reads four measured years of a city: NOAA daily observations, public domain, as carried
// by the open data package named in the files' headers.
func measured(t testing.TB, name string) *weather.Record {
	t.Helper()
	path := filepath.Join("..", "weather", "testdata", name)
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r, err := weather.Read(name, f)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// ground is an invented garden.
const ground = `
[site]
name = "Two beds (invented)"
latitude = 44.0
longitude = -90.0
[[bed]]
name = "A"
length = "6 m"
width = "1.2 m"
sun_hours = 9
[[bed]]
name = "B"
x = "5 m"
length = "6 m"
width = "1.2 m"
sun_hours = 9
[[want]]
crop = "pea"
amount = 3
[[want]]
crop = "tomato"
amount = 10
[[want]]
crop = "carrot"
amount = 5
[[want]]
crop = "lettuce"
basis = "weekly"
amount = 2
unit = "head"
`

func compute(t *testing.T, record *weather.Record, latitude float64) *season.Result {
	t.Helper()
	g, err := garden.ReadDescription("ground.toml", strings.NewReader(ground), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	g.Site.Latitude = latitude
	for i := range g.Beds {
		g.Beds[i].ID = int64(i + 1)
	}
	r, err := season.Compute(season.Input{
		Season: civil.SeasonOf(2027, latitude), Garden: g, Record: record, Crops: crop.Default(), Settings: plan.DefaultSettings(),
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestAnotherRecordAnotherPlan: windows, dates and plan come from the record given. Seattle's mild
// springs and New York's hot summers are the contrast: both measured by the same service in the
// same years.
func TestAnotherRecordAnotherPlan(t *testing.T) {
	seattle := compute(t, measured(t, "seattle_2012-2015.csv"), 47.6)
	newYork := compute(t, measured(t, "new_york_2012-2015.csv"), 40.8)

	// Climates differ as anybody knows: Seattle's springs open earlier and its summers are cooler.
	peaWest, peaEast := opening(t, seattle, "pea-dwarf"), opening(t, newYork, "pea-dwarf")
	if peaWest >= peaEast {
		t.Errorf("dwarf peas open on %s in Seattle and %s in New York; the mild coast should be first", peaWest, peaEast)
	}
	tomatoWest, tomatoEast := firstFruit(t, seattle), firstFruit(t, newYork)
	if tomatoWest <= tomatoEast {
		t.Errorf("tomatoes set out on 1 June are first ripe on %s in Seattle and %s in New York; the hot summer should be first", tomatoWest, tomatoEast)
	}
	a, b := text(t, seattle), text(t, newYork)
	if a == b {
		t.Error("two contrasting records gave the same plan")
	}
	if again := text(t, compute(t, measured(t, "seattle_2012-2015.csv"), 47.6)); again != a {
		t.Error("the same record gave two plans")
	}
}

func opening(t *testing.T, r *season.Result, id string) civil.Date {
	t.Helper()
	w := r.Table(id, 0).Windows(0.75)
	if len(w) == 0 {
		t.Fatalf("%s has no window at %s", id, r.Record.Station.Name)
	}
	return w[0].From
}

func firstFruit(t *testing.T, r *season.Result) civil.Date {
	t.Helper()
	s := r.Table("tomato-early", 0).Summary(civil.Of(2027, 6, 1))
	if s.Success == 0 {
		t.Fatalf("early tomatoes never ripen at %s", r.Record.Station.Name)
	}
	return s.First.P50
}

func text(t *testing.T, r *season.Result) string {
	t.Helper()
	b, err := json.Marshal(r.Plan)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// TestKeptPlanIsKept: computing around a kept plan changes nothing in it.
func TestKeptPlanIsKept(t *testing.T) {
	record := measured(t, "new_york_2012-2015.csv")
	r := compute(t, record, 40.8)
	kept, err := season.Compute(season.Input{
		Season: r.Season, Garden: r.Garden, Record: record, Crops: r.Crops, Settings: plan.DefaultSettings(), Plan: r.Plan,
	})
	if err != nil {
		t.Fatal(err)
	}
	if text(t, kept) != text(t, r) || len(kept.Jobs) != len(r.Jobs) {
		t.Error("the kept plan changed")
	}
}

func TestUnknownCropNamesNearOnes(t *testing.T) {
	g := garden.Garden{Wants: []garden.Want{{Crop: "carot", Amount: 1}}}
	if _, err := season.Options(g, nil, crop.Default()); err == nil || !strings.Contains(err.Error(), "carrot") {
		t.Errorf("an unknown crop should be told with near names; got %v", err)
	}
}
