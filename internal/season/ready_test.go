package season_test

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// builtIn is thirty generated years of a built-in place, no plan, at its latitude.
func builtIn(t *testing.T, id string, year int) *season.Result {
	t.Helper()
	climate, err := weather.ClimateByID(id)
	if err != nil {
		t.Fatal(err)
	}
	r, err := season.Prepare(season.Input{
		Season: civil.SeasonOf(year, climate.Latitude), Garden: garden.Garden{Site: garden.Site{Latitude: climate.Latitude}},
		Record: weather.Generate(climate, 1991, 31, 7), Crops: crop.Default(),
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func ready(t *testing.T, r *season.Result, id string, day civil.Date, share float64) []season.Ready {
	t.Helper()
	c, ok := r.Crops.Find(id)
	if !ok {
		t.Fatalf("no crop %s", id)
	}
	list, err := r.Ready(c, day, share, r.Season.Start)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// What is counted is what the growth tables of each season say, whichever season the start day falls in.
func TestReadyReadsEverySeasonsTable(t *testing.T) {
	for _, place := range []string{"ithaca", "wagga-wagga"} {
		r := builtIn(t, place, 2027)
		day := r.Season.Start.Add(20) // so early that most start days lie in the season before
		for _, id := range []string{"kale", "leek", "carrot"} {
			a := ready(t, r, id, day, .8)[0]
			c, _ := r.Crops.Find(id)
			if last := a.Starts[len(a.Starts)-1].Start; last != day {
				t.Errorf("%s: the last start day is %s", place, last)
			}
			for k := 0; k < len(a.Starts); k += 11 {
				s := a.Starts[k]
				in, err := r.In(civil.SeasonHolding(s.Start, r.Garden.Site.Latitude))
				if err != nil {
					t.Fatal(err)
				}
				n, kept := 0, 0
				for y := range in.Years {
					o := in.Table(id, 0).Outcome(s.Start, y)
					if o.Yield > 0 && o.First <= day && day <= o.Last {
						n++
					} else if o.Yield > 0 && o.Last < day && day <= o.Last.Add(c.Harvest.StoreDays) {
						kept++
					}
				}
				if n != s.Ready || kept != s.Kept || s.Years != len(in.Years) {
					t.Errorf("%s, %s on %s: %d and %d kept of %d; counted %d and %d", place, id, s.Start, s.Ready, s.Kept, s.Years, n, kept)
				}
			}
		}
	}
}

// The spans hold what they promise, the surest day is the surest, and a smaller share asks for no less.
func TestReadyLaws(t *testing.T) {
	r := builtIn(t, "ithaca", 2027)
	for _, id := range []string{"lettuce-loose-leaf", "tomato-early", "carrot", "bean-bush", "garlic"} {
		for _, day := range []civil.Date{civil.Of(2027, 6, 24), civil.Of(2027, 9, 1), civil.Of(2027, 11, 25), civil.Of(2028, 1, 10)} {
			strict, loose := ready(t, r, id, day, .9), ready(t, r, id, day, .5)
			for m, a := range strict {
				best := 0.0
				for _, s := range a.Starts {
					best = max(best, s.Chance())
					inside := false
					for _, span := range a.Fresh.Spans {
						inside = inside || span.Has(s.Start)
					}
					if s.Chance() >= .9 && !inside {
						t.Errorf("%s by %s: %s reaches the share and is in no span", id, day, s.Start)
					}
				}
				if a.Fresh.Best.Chance() < best {
					t.Errorf("%s by %s: the surest day has %v, another %v", id, day, a.Fresh.Best.Chance(), best)
				}
				if a.Fresh.Can() && (a.Fresh.Earliest() < loose[m].Fresh.Earliest() || a.Fresh.Latest() > loose[m].Fresh.Latest()) {
					t.Errorf("%s by %s: asking for more opens more days", id, day)
				}
				if a.Fresh.Can() == (a.Fresh.Alone != "") {
					t.Errorf("%s by %s: a reason without need, or none where there is need: %q", id, day, a.Fresh.Alone)
				}
				if text := strings.Join(a.Says(), " "); text == "" || strings.Contains(text, "%!") || strings.Contains(text, "..") {
					t.Errorf("%s by %s says %q", id, day, text)
				}
			}
		}
	}
}

// Trade lore that any seed list prints: pumpkins for Halloween are sown from late May to the first days of
// July from the north to the deep south of the United States (University of Illinois Extension, from memory);
// New York lies in the north of that range.
func TestPumpkinsForHalloween(t *testing.T) {
	r := compute(t, measured(t, "new_york_2012-2015.csv"), 40.8)
	halloween := civil.Of(2027, 10, 31)
	for _, a := range ready(t, r, "pumpkin", halloween, .75) {
		if a.Method.Way != crop.Sow {
			continue
		}
		if !a.Stored.Can() {
			t.Fatalf("no day to sow: %s", a.Says())
		}
		for _, d := range []civil.Date{civil.Of(2027, 5, 25), civil.Of(2027, 6, 10)} {
			inside := false
			for _, s := range a.Stored.Spans {
				inside = inside || s.Has(d)
			}
			if !inside {
				t.Errorf("%s should do: %s", d, a.Says())
			}
		}
		if latest := a.Stored.Latest(); latest > civil.Of(2027, 7, 20) {
			t.Errorf("pumpkins sown on %s for Halloween at New York", latest)
		}
	}
}

// In the south the end of January is high summer: tomatoes for it go out in spring, September to early December
// (common practice in inland New South Wales), though the day lies after New Year; in the north nobody picks a
// ripe tomato outdoors at Christmas.
func TestTomatoesAcrossNewYearInBothHemispheres(t *testing.T) {
	for _, a := range ready(t, builtIn(t, "wagga-wagga", 2027), "tomato-early", civil.Of(2028, 1, 31), .6) {
		if a.Method.Way != crop.SetOut {
			continue
		}
		if !a.Fresh.Can() {
			t.Fatalf("Wagga Wagga: %s", a.Says())
		}
		if a.Fresh.Earliest() < civil.Of(2027, 9, 1) || a.Fresh.Latest() > civil.Of(2027, 12, 10) {
			t.Errorf("Wagga Wagga: %s", a.Says())
		}
		if raised := a.Raised(a.Fresh.Latest()); a.Fresh.Latest().Since(raised) < 28 {
			t.Errorf("plants for %s are sown under cover on %s", a.Fresh.Latest(), raised)
		}
	}
	for _, a := range ready(t, builtIn(t, "ithaca", 2027), "tomato-early", civil.Of(2027, 12, 25), .1) {
		if a.Fresh.Can() {
			t.Errorf("Ithaca: %s", a.Says())
		}
	}
}

// What is past is said: after the last start day, after the last day to raise plants, after the day itself.
func TestReadySaysWhatIsTooLate(t *testing.T) {
	r := builtIn(t, "ithaca", 2027)
	c, _ := r.Crops.Find("tomato-early")
	day := civil.Of(2027, 9, 1)
	says := func(today civil.Date) string {
		list, err := r.Ready(c, day, .8, today)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range list {
			if a.Method.Way == crop.SetOut {
				return strings.Join(a.Says(), " ")
			}
		}
		return ""
	}
	first := ready(t, r, "tomato-early", day, .8)
	latest := first[0].Fresh.Latest()
	for _, row := range []struct {
		today civil.Date
		says  string
	}{
		{civil.Of(2027, 1, 1), ""}, {latest - 7, "bought plants"}, {latest + 1, "too late for that"}, {day + 1, "1 Sep 2027 is past"},
	} {
		got := says(row.today)
		if row.says == "" && strings.Contains(got, "late") || !strings.Contains(got, row.says) {
			t.Errorf("on %s: %s", row.today, got)
		}
	}
}

// A past day is called past where it could not have been met either, and what the store adds is told once.
func TestReadySaysOnce(t *testing.T) {
	r := builtIn(t, "ithaca", 2027)
	for _, id := range []string{"spinach", "radish", "lettuce-loose-leaf", "tomato-early", "carrot"} {
		c, _ := r.Crops.Find(id)
		for _, day := range []civil.Date{civil.Of(2026, 1, 1), civil.Of(2026, 11, 25), civil.Of(2026, 12, 24)} {
			list, err := r.Ready(c, day, .8, civil.Of(2027, 1, 9))
			if err != nil {
				t.Fatal(err)
			}
			for _, a := range list {
				text := strings.Join(a.Says(), " ")
				if n := strings.Count(text, "is past"); n != 1 || !strings.HasPrefix(text, season.Dated(day)+" is past") {
					t.Errorf("%s by %s: past %d times: %s", id, day, n, text)
				}
				if n := strings.Count(text, "more from the store"); n > 1 {
					t.Errorf("%s by %s tells the store %d times: %s", id, day, n, text)
				}
			}
		}
	}
}

func TestPerennialsHaveNoStartDay(t *testing.T) {
	for _, a := range ready(t, builtIn(t, "ithaca", 2027), "asparagus", civil.Of(2027, 5, 20), .8) {
		if a.Never == "" || a.Fresh.Can() || len(a.Says()) != 1 {
			t.Errorf("asparagus: %s", a.Says())
		}
	}
}
