package work

import (
	"fmt"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"

	"pgregory.net/rapid"
)

// drawPlan makes a season of plantings in strips of one bed, one after another in each strip.
func drawPlan(t *rapid.T) Input {
	crops := []*crop.Crop{carrot(), radish(), cabbage(), lettuce(), pea(), potato(), leek()}
	latitude := rapid.SampledFrom([]float64{45, -35}).Draw(t, "latitude")
	season := civil.SeasonOf(rapid.IntRange(2026, 2029).Draw(t, "year"), latitude)
	bed := garden.Bed{ID: 1, Name: "Strip", Length: 10, Width: 3, Bearing: float64(rapid.IntRange(0, 179).Draw(t, "bearing")), RowsAcross: rapid.Bool().Draw(t, "across")}
	in := Input{
		Plan: &plan.Plan{Season: season}, Crops: crop.New(crops...),
		Garden: garden.Garden{Site: garden.Site{Units: rapid.SampledFrom([]quantity.System{quantity.Metric, quantity.US}).Draw(t, "units")}, Beds: []garden.Bed{bed}},
		Frost:  kitchen().Frost,
	}
	for strip := range rapid.IntRange(1, 3).Draw(t, "strips") {
		free := season.Start.Add(rapid.IntRange(0, 120).Draw(t, "free"))
		for free < season.End() {
			c := rapid.SampledFrom(crops).Draw(t, "crop")
			method := rapid.IntRange(0, len(c.Methods)-1).Draw(t, "method")
			p := drawPlanting(t, c, method, free)
			p.Key = fmt.Sprintf("%d-%02d", season.Year(), len(in.Plan.Plantings)+1)
			p.BedID = 1
			p.Place = garden.Place{AlongTo: 10, AcrossFrom: quantity.Metre(strip), AcrossTo: quantity.Metre(strip + 1)}
			if p.Start > season.End() {
				break
			}
			in.Plan.Plantings = append(in.Plan.Plantings, p)
			free = p.Clear
			if p.Way == crop.SetOut && rapid.Bool().Draw(t, "shared") {
				if fast, ok := drawFast(t, p, lettuce()); ok {
					fast.Key = p.Key + "f"
					in.Plan.Plantings[len(in.Plan.Plantings)-1].Partner = fast.Key
					in.Plan.Plantings[len(in.Plan.Plantings)-1].Role = garden.Slow
					in.Plan.Plantings = append(in.Plan.Plantings, fast)
				}
			}
		}
	}
	return in
}

func drawPlanting(t *rapid.T, c *crop.Crop, method int, free civil.Date) garden.Planting {
	m := c.Methods[method]
	start := free.Add(rapid.IntRange(0, 30).Draw(t, "turn"))
	p := garden.Planting{
		CropID: c.ID, Method: method, Way: m.Way, Start: start, Role: garden.Alone,
		Rows: rapid.IntRange(1, 4).Draw(t, "rows"), Plants: rapid.IntRange(1, 300).Draw(t, "plants"),
		Years: 30, Success: rapid.IntRange(20, 30).Draw(t, "success"), Expect: 3,
	}
	up := start
	if m.Way != crop.SetOut {
		up = start.Add(rapid.IntRange(3, 35).Draw(t, "up"))
		p.Emerge = garden.Spread{P10: up.Add(-rapid.IntRange(0, 2).Draw(t, "early")), P50: up, P90: up.Add(rapid.IntRange(0, 12).Draw(t, "late"))}
	} else if rapid.Bool().Draw(t, "raise known") {
		raise := start.Add(-rapid.IntRange(25, 80).Draw(t, "raise"))
		p.RaiseOn = &raise
	}
	first := max(up, p.Emerge.P90) + civil.Date(rapid.IntRange(12, 120).Draw(t, "grow"))
	p.First = garden.Spread{P10: first.Add(-rapid.IntRange(0, 9).Draw(t, "f10")), P50: first, P90: first.Add(rapid.IntRange(0, 15).Draw(t, "f90"))}
	last := first.Add(rapid.IntRange(1, 60).Draw(t, "span"))
	p.Last = garden.Spread{P10: last.Add(-rapid.IntRange(0, 1).Draw(t, "l10")), P50: last, P90: last.Add(rapid.IntRange(0, 15).Draw(t, "l90"))}
	p.Clear = last.Add(rapid.IntRange(1, 16).Draw(t, "clear"))
	return p
}

func drawFast(t *rapid.T, slow garden.Planting, c *crop.Crop) (garden.Planting, bool) {
	p := drawPlanting(t, c, 0, slow.Start)
	p.BedID, p.Place, p.Role, p.Partner = slow.BedID, slow.Place, garden.Fast, slow.Key
	return p, p.Clear <= slow.Clear
}

// A job never comes before what it depends on; each has its own key; every planting has its jobs;
// none lies outside the season with its lead and tail.
func TestLawsOfJobs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawPlan(t)
		jobs := Jobs(in)
		season := in.Plan.Season
		reach := civil.Span{From: season.Start.Add(-Before), To: season.End().Add(growth.Tail)}
		keys := map[string]bool{}
		of := map[string]map[Kind]Job{}
		served := map[string]map[Kind]Job{}
		note := func(m map[string]map[Kind]Job, key string, j Job) {
			if m[key] == nil {
				m[key] = map[Kind]Job{}
			}
			if _, ok := m[key][j.Kind]; !ok {
				m[key][j.Kind] = j
			}
		}
		for i, j := range jobs {
			if keys[j.Key] {
				t.Fatalf("two jobs %q", j.Key)
			}
			keys[j.Key] = true
			if j.Window.Days() == 0 || !reach.Has(j.Window.From) || !reach.Has(j.Window.To) {
				t.Fatalf("%s on %v", j.Key, j.Window)
			}
			if i > 0 && j.Window.From < jobs[i-1].Window.From {
				t.Fatalf("%s not in order", j.Key)
			}
			if j.Title == "" || len(j.How) == 0 || j.Weather == "" || len(j.Why) == 0 {
				t.Fatalf("%s lacks a title, steps, weather or reason: %+v", j.Key, j)
			}
			note(of, j.Planting, j)
			for _, key := range j.Serves {
				note(served, key, j)
			}
		}
		for _, p := range in.Plan.Plantings {
			for _, next := range in.Plan.Plantings {
				if c, ok := of[p.Key][Clear]; ok && next.Start >= p.Clear && next.Place.Meets(p.Place) && next.BedID == p.BedID && c.Window.To >= p.Clear {
					t.Fatalf("%s is cleared by %s, and %s is promised its ground free from %s", p.Key, c.Window.To, next.Key, p.Clear)
				}
			}
			checkPlanting(t, p, of[p.Key], served[p.Key], reach)
		}
	})
}

func checkPlanting(t *rapid.T, p garden.Planting, own, served map[Kind]Job, reach civil.Span) {
	into := map[crop.Way]Kind{crop.Sow: Sow, crop.SetOut: SetOut, crop.Set: Plant}[p.Way]
	has := func(m map[Kind]Job, k Kind) Job {
		j, ok := m[k]
		if !ok {
			t.Fatalf("%s has no %q", p.Key, k)
		}
		return j
	}
	before := func(a, b Job, strictly bool) {
		if a.Window.From > b.Window.From || (strictly && a.Window.From == b.Window.From) {
			t.Fatalf("%s from %v comes after %s from %v", a.Key, a.Window.From, b.Key, b.Window.From)
		}
	}
	in := has(own, into)
	before(has(served, OrderSeed), in, true)
	ground := has(served, Prepare)
	before(ground, in, false)
	if ground.Window.To > in.Window.To {
		t.Fatalf("%s may be done after %s", ground.Key, in.Key)
	}
	if p.Way == crop.SetOut {
		raise, harden := has(served, Raise), has(served, HardenOff)
		before(has(served, OrderSeed), raise, true)
		before(raise, harden, true)
		before(harden, in, true)
		if raise.Window.To >= harden.Window.From || harden.Window.To >= in.Window.From {
			t.Fatalf("%s %v, %v, %v overlap", p.Key, raise.Window, harden.Window, in.Window)
		}
	}
	if p.First.P10 > reach.To-1 || p.Clear > reach.To {
		return // harvested beyond the weather years: cut off there
	}
	pick, end := has(own, Harvest), has(own, Clear)
	before(in, pick, true)
	before(pick, end, false)
	if pick.Window.To > end.Window.To {
		t.Fatalf("%s picked till %v, cleared by %v", p.Key, pick.Window.To, end.Window.To)
	}
	if thin, ok := own[Thin]; ok {
		before(in, thin, true)
		before(thin, pick, true)
		if thin.Window.To >= pick.Window.From {
			t.Fatalf("%s thinned till %v, picked from %v", p.Key, thin.Window.To, pick.Window.From)
		}
	}
	for _, k := range []Kind{FillIn, EarthUp, Feed} {
		if j, ok := served[k]; ok {
			before(in, j, true)
			before(j, pick, false)
		}
	}
	if up, ok := own[EarthUp]; ok {
		if thin, ok := own[Thin]; ok && up.Window.From <= thin.Window.To {
			t.Fatalf("%s earthed up on %v, while it is thinned till %v", p.Key, up.Window.From, thin.Window.To)
		}
	}
}

// The order list buys at least a seed, or a set, for every plant, and names every planting to come.
func TestLawsOfOrders(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		in := drawPlan(t)
		named := map[string]civil.Date{}
		bought, planted := map[string]int{}, map[string]int{}
		for _, o := range Orders(in) {
			bought[o.CropID] += o.Count
			if supply(o) {
				if o.Volume <= 0 && o.Length <= 0 && o.Area <= 0 && o.Count <= 0 {
					t.Fatalf("none of %+v", o)
				}
				continue
			}
			if o.Count <= 0 || o.Spare < 0 {
				t.Fatalf("%+v", o)
			}
			for _, key := range o.For {
				named[key] = o.By
			}
		}
		for _, p := range in.Plan.Plantings {
			by, ok := named[p.Key]
			if !ok || by >= p.Start {
				t.Fatalf("%s: in the house by %v, goes in %v (%v)", p.Key, by, p.Start, ok)
			}
			if p.Way != crop.Sow {
				planted[p.CropID] += p.Plants
			}
		}
		for id, n := range planted {
			if bought[id] < n {
				t.Fatalf("%s: %d bought for %d plants", id, bought[id], n)
			}
		}
	})
}
