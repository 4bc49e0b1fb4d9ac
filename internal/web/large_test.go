package web

import (
	"fmt"
	"net/http"
	"sync"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
)

// large is a market garden of a hundred beds and five hundred plantings, laid out by rule.
var large = sync.OnceValues(func() (*season.Result, error) {
	g := storyGarden()
	g.Beds, g.Wants, g.Standing = nil, g.Wants[:6], nil
	for i := range 100 {
		b := garden.Bed{ID: int64(i + 1), Name: fmt.Sprintf("Bed %d", i+1), Length: 10, Width: 1.2, Bearing: 90, Sun: 8}
		b.X, b.Y = metres(6+12*float64(i%10)), metres(1+2*float64(i/10))
		g.Beds = append(g.Beds, b)
	}
	g.Site.Width, g.Site.Depth = 122, 22
	s := civil.SeasonOf(2027, g.Site.Latitude)
	in := season.Input{Season: s, Garden: g, Record: storyRecord(), Crops: crop.Default(), Settings: plan.DefaultSettings()}
	kept := &plan.Plan{Season: s, Settings: in.Settings}
	ids := []string{"carrot", "lettuce-loose-leaf", "cabbage-early", "beet", "bean-bush", "leek", "spinach", "kale"}
	for i := range 500 {
		c, ok := in.Crops.Find(ids[i%len(ids)])
		if !ok {
			return nil, fmt.Errorf("no crop %s", ids[i%len(ids)])
		}
		start := s.Start.Add(100 + i%40)
		along := metres(2 * float64(i%5))
		p := garden.Planting{
			Key: fmt.Sprintf("2027-%03d", i+1), Season: 2027, BedID: int64(i/5 + 1), CropID: c.ID, Way: c.Methods[0].Way,
			Place: garden.Place{AlongFrom: along, AlongTo: along + 2, AcrossTo: 1.2}, Rows: 3, Plants: 30 + i%60,
			Start: start, Emerge: spreadOf(start, 8, 12, 16), First: spreadOf(start, 60, 66, 75), Last: spreadOf(start, 80, 90, 100), Clear: start + 98,
			Role: garden.Alone, Success: 27, Years: 30, Expect: 5, Status: garden.Planned,
		}
		for k := range 5 {
			p.Reasons = append(p.Reasons, garden.Reason{Says: fmt.Sprintf("Reason %d of the planting in a sentence of a usual length for the person.", k+1), Rule: "rule", Source: "KEY"})
		}
		kept.Plantings = append(kept.Plantings, p)
	}
	for _, w := range g.Wants {
		kept.Supply = append(kept.Supply, plan.Supply{Want: w, Asked: 10, Expected: 8})
	}
	in.Plan = kept
	return season.Compute(in)
})

func mustLarge(tb testing.TB) *season.Result {
	tb.Helper()
	r, err := large()
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

func spreadOf(d civil.Date, a, b, c int) garden.Spread {
	return garden.Spread{P10: d.Add(a), P50: d.Add(b), P90: d.Add(c)}
}

var largePaths = []string{"/", "/plot", "/plot?day=2027-07-20", "/beds", "/bed/7", "/jobs", "/orders", "/weather", "/crops", "/crop/carrot", "/planting/2027-250", "/journal", "/garden", "/site", "/history", "/soil", "/soil/bed/7", "/soil/shopping", "/soil/dig"}

// Each page is to be made in under 30 ms for a garden of 500 plantings (a figure of the project's own).
// What a page takes is measured here and never by a test with a clock, which would fail on a busy
// machine.
func BenchmarkPages(b *testing.B) {
	h, _ := storySite(b, mustLarge(b), storyToday)
	for _, path := range largePaths {
		b.Run(path, func(b *testing.B) { ask(b, path, func() http.Handler { return h }) })
	}
}

// The same for the first request after a change of the garden: nothing is kept from one before.
func BenchmarkFirstRequest(b *testing.B) {
	r := mustLarge(b)
	for _, path := range largePaths {
		b.Run(path, func(b *testing.B) {
			ask(b, path, func() http.Handler { h, _ := storySite(b, r, storyToday); return h })
		})
	}
}

// ask requests a page over and over, each time from the site given, which is made off the clock.
func ask(b *testing.B, path string, from func() http.Handler) {
	b.ReportAllocs()
	size := 0
	for b.Loop() {
		b.StopTimer()
		h := from()
		b.StartTimer()
		w := get(b, h, path)
		if w.Code != http.StatusOK {
			b.Fatalf("%s: status %d", path, w.Code)
		}
		size = w.Body.Len()
	}
	b.ReportMetric(float64(size)/1024, "kB/page")
}

// Every page of a large garden is made.
func TestPagesOfALargeGarden(t *testing.T) {
	h, _ := storySite(t, mustLarge(t), storyToday)
	for _, path := range largePaths {
		if w := get(t, h, path); w.Code != http.StatusOK {
			t.Errorf("%s: status %d", path, w.Code)
		}
	}
}
