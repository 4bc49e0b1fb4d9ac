package water

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func radish(t testing.TB, place garden.Place) Stand {
	return Stand{Key: "2027-09", Name: "radish", BedID: 1, Area: place.Area(), Place: place, Crop: CropOf(catalogue(t, "radish")), From: civil.Of(2027, 5, 24), To: civil.Of(2027, 6, 28), Up: civil.Of(2027, 5, 30), Wets: 0.5, Waters: true}
}

// Ground that two crops share is watered once: for no less than the thirstier asks alone, and for far less than both side by side. Rows
// that end and begin within a week stand on the same ground.
func TestSharedGroundIsWateredOnce(t *testing.T) {
	whole := garden.Place{AlongTo: 5, AcrossTo: 1.2}
	q := question(t, 4)
	q.Stands[0].Place = whole
	alone := mustReckon(t, q)
	q.Stands = append(q.Stands, radish(t, whole))
	shared := mustReckon(t, q)
	q.Stands[1].BedID = 2
	apart := mustReckon(t, q)
	in := func(n Needs) (sum float64) {
		for _, b := range n.Beds {
			sum += float64(b.Typical)
		}
		return sum
	}
	one, both, two := in(alone), in(shared), in(apart)
	t.Logf("tomato alone %.0f L, with radish between %.0f L, side by side %.0f L", one, both, two)
	if both < one || both-one > 0.75*(two-one) {
		t.Errorf("tomato alone %.0f L, with radish between %.0f L, side by side %.0f L", one, both, two)
	}
	q = question(t, 4)
	q.Stands[0].Place, q.Stands[0].From = whole, civil.Of(2027, 6, 30)
	q.Stands = append(q.Stands, radish(t, whole)) // is out on Monday, tomatoes go in on Wednesday
	for _, w := range mustReckon(t, q).Beds[0].Weeks {
		if w.Area > whole.Area()+1e-9 {
			t.Errorf("the week of %s holds %.1f m² of a bed of 6", w.From, float64(w.Area))
		}
	}
}

// Whatever lies over whatever, and whenever: no week's litres exceed the bed's ground times the depth told, no ground stands in two parts,
// the weeks begin on Mondays, and, in a single year, they sum to the season. The ground is counted a second time with a fine net of points.
func TestNoGroundTwice(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 19))
	crops := []string{"tomato-staked", "radish", "kale", "lettuce-romaine", "carrot", "bean-bush"}
	for range 12 {
		q := question(t, 6)
		q.Years, q.Stands = q.Years[:1+random.IntN(6)], nil
		for k := range 2 + random.IntN(9) {
			along, across := 0.25*float64(random.IntN(16)), 0.3*float64(random.IntN(3))
			p := garden.Place{AlongFrom: quantity.Metre(along), AlongTo: quantity.Metre(min(5, along+0.5+0.25*float64(random.IntN(12)))), AcrossFrom: quantity.Metre(across), AcrossTo: quantity.Metre(min(1.2, across+0.3+0.3*float64(random.IntN(4))))}
			from := q.Season.Start.Add(70 + random.IntN(180))
			q.Stands = append(q.Stands, Stand{Key: string(rune('a' + k)), Name: crops[k%6], BedID: 1, Area: p.Area(), Place: p, Crop: CropOf(catalogue(t, crops[k%6])), From: from, To: from.Add(25 + random.IntN(90)), Up: from.Add(6 * random.IntN(2)), Plants: 4, Wets: 0.5, Waters: true})
		}
		n := mustReckon(t, q)
		sum := 0.0
		for _, w := range n.Beds[0].Weeks {
			if w.From.Weekday() != time.Monday {
				t.Fatalf("a week from %s", w.From.Long())
			}
			if net := netted(q.Stands, w.From); math.Abs(net-float64(w.Area)) > 1e-6 {
				t.Errorf("the week of %s holds %.3f m², the net %.3f", w.From, float64(w.Area), net)
			}
			parts := quantity.SquareMetre(0)
			for _, p := range w.Parts {
				parts += p.Area
			}
			for _, a := range []Amount{w.Typical, w.Dry} {
				if w.Area > 6+1e-9 || parts > w.Area+1e-9 || float64(a.Water) > 6*float64(a.Depth)+1e-6 {
					t.Errorf("the week of %s: %.2f m², in parts %.2f, %.1f L, %.1f mm", w.From, float64(w.Area), float64(parts), float64(a.Water), float64(a.Depth))
				}
			}
			sum += float64(w.Typical.Water + w.In)
		}
		if len(q.Years) == 1 && math.Abs(sum-float64(n.Typical)) > 0.01*sum+0.1 {
			t.Errorf("weeks of %.1f L in a season of %.1f", sum, float64(n.Typical))
		}
	}
}

// netted counts the ground that is held at some time of a week with points a twentieth of a metre apart.
func netted(stands []Stand, from civil.Date) (area float64) {
	const step = 0.05
	for x := step / 2; x < 6; x += step {
		for y := step / 2; y < 1.3; y += step {
			if slices.ContainsFunc(stands, func(s Stand) bool {
				return s.From < from+7 && s.To > from && float64(s.Place.AlongFrom) < x && x < float64(s.Place.AlongTo) && float64(s.Place.AcrossFrom) < y && y < float64(s.Place.AcrossTo)
			}) {
				area += step * step
			}
		}
	}
	return area
}

// Under the same sun day after day and without rain, a grown crop is given each week what it draws in a week, whatever day its waterings
// fall on: what it would draw, from the same equations, over what comes to the roots. And every so many days: what it may miss over what
// it draws in a day.
func TestWeeksAreEven(t *testing.T) {
	q := question(t, 0)
	q.Stands[0].Place = garden.Place{AlongTo: 5, AcrossTo: 1.2}
	q.Stands[0].Crop.Stages = [4]float64{10, 20, 100, 4} // full grown through July and August
	for y := range q.Years {
		for i := range q.Years[y].Min {
			q.Years[y].Min[i], q.Years[y].Max[i] = 14, 28
		}
	}
	n := mustReckon(t, q)
	for _, w := range n.Beds[0].Weeks {
		if w.From < civil.Of(2027, 7, 5) || w.From > civil.Of(2027, 8, 23) {
			continue
		}
		draws := 0.0 // over a week, at the full coefficient and a tenth of bare ground's
		for d := range 7 {
			draws += float64(q.Place.OfTemperature(14, 28, w.From.Add(d).YearDay()))
		}
		for _, a := range []Amount{w.Typical, w.Dry} {
			if per := 0.9 * float64(a.Depth) / draws; per < 1.05 || per > 1.3 {
				t.Errorf("the week of %s: %.1f mm given, reference %.1f", w.From, float64(a.Depth), draws)
			}
			each := 0.9 * float64(a.Depth) / a.Times
			if each < inch || each > inch+8 || math.Abs(a.Every()-7*each/(0.9*float64(a.Depth))) > 1e-9 {
				t.Errorf("the week of %s: every %.1f days %.1f mm", w.From, a.Every(), each)
			}
		}
	}
}

// A week in words: how often and how much each time; which plantings want it where not all do; a watering that is not due in every week is
// told all the same.
func TestTellWeek(t *testing.T) {
	supply, can := garden.Supply{Can: 9}, garden.Watering{By: garden.ByCan}
	week := WeekNeed{Area: 4.5, Parts: []Part{{Names: []string{"kale"}, Area: 4.5, Typical: Amount{Water: 22.5, Depth: 5, Times: 0.25}, Dry: Amount{Water: 90, Depth: 20, Times: 2}}}}
	says := func(n WeekNeed) (list []string) {
		for _, p := range TellParts(n, can, supply, quantity.Metric) {
			list = append(list, p.Says())
		}
		return list
	}
	if got := says(week); len(got) != 1 || got[0] != "5 mm a week, every 4 weeks: each time 20 mm, 90 L: 10 cans; in a dry year 20 mm a week, every 3 to 4 days: each time 10 mm, 45 L: 5 cans" {
		t.Errorf("%q", got)
	}
	got := says(WeekNeed{Area: 9, Parts: []Part{
		{Names: []string{"kale"}, Area: 4.5, Typical: Amount{Water: 45, Depth: 10, Times: 1}, Dry: Amount{Water: 45, Depth: 10, Times: 1}},
		{Names: []string{"beet", "leek", "onion", "carrot"}, Area: 2, Dry: Amount{Water: 2, Depth: 1, Times: 0.1}}, {Names: []string{"pea"}, Area: 1}}})
	if len(got) != 2 || got[0] != "kale (4.5 m²): once a week: 10 mm, 45 L: 5 cans" || got[1] != "beet, leek and 2 more (2 m²): no watering; in a dry year hardly any: 1 mm a week" {
		t.Errorf("%q", got)
	}
	if got := says(WeekNeed{Area: 3}); len(got) != 0 {
		t.Errorf("%q", got)
	}
	if in := TellIn(WeekNeed{In: 12.3, GoesIn: []string{"kale", "beet"}}, quantity.Metric); in != "about 12 L to water in kale and beet" || TellIn(WeekNeed{}, quantity.Metric) != "" {
		t.Error(in)
	}
	us := TellParts(WeekNeed{Area: 9, Parts: []Part{{Names: []string{"kale"}, Area: 4.6451520, Dry: Amount{Water: quantity.Litre(25.4 * 4.645152), Depth: 25.4, Times: 1}}}}, garden.Watering{By: garden.BySprinkler, Rain: 12.7}, garden.Supply{}, quantity.US)
	if us[0].Ground != "kale (50 sq ft)" || us[0].Dry != "once a week: 1 in, 31 gal: 2.0 hours of the sprinkler" { // 0.623 gal to the inch and square foot; half an inch an hour
		t.Errorf("%q", us)
	}
	var apart []string
	for _, w := range mustReckon(t, twoLettuces(t)).Beds[0].Weeks {
		for _, p := range w.Parts {
			apart = append(apart, p.Names...)
		}
	}
	if !slices.Contains(apart, "lettuce of 1 May") || !slices.Contains(apart, "lettuce") || strings.Contains(strings.Join(apart, ""), "of 20 May of") {
		t.Errorf("%q", apart)
	}
}

// twoLettuces are an old and a young planting side by side.
func twoLettuces(t testing.TB) Question {
	q := question(t, 2)
	lettuce := CropOf(catalogue(t, "lettuce-romaine"))
	q.Stands = []Stand{
		{Key: "a", Name: "lettuce", BedID: 1, Area: 3, Place: garden.Place{AlongTo: 3, AcrossTo: 1}, Crop: lettuce, From: civil.Of(2027, 5, 1), To: civil.Of(2027, 7, 1), Plants: 12, Wets: 0.5, Waters: true},
		{Key: "b", Name: "lettuce", BedID: 1, Area: 2, Place: garden.Place{AlongFrom: 3, AlongTo: 5, AcrossTo: 1}, Crop: lettuce, From: civil.Of(2027, 6, 10), To: civil.Of(2027, 8, 10), Up: civil.Of(2027, 6, 18), Plants: 12, Wets: 0.5, Waters: true},
	}
	return q
}
