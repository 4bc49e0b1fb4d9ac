package season

import (
	"math"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/water"
	"kailyard/internal/weather"
)

// Areas of circles and strips, by hand.
func TestCoverOf(t *testing.T) {
	bed := garden.Place{AlongTo: 4, AcrossTo: 1.2}
	for _, c := range []struct {
		plants, rows int
		wide         quantity.Metre
		want         float64
	}{
		{1, 0, 1, math.Pi / 4 / 4.8},              // one disc
		{8, 1, 0.4, 8 * math.Pi / 4 * 0.16 / 4.8}, // discs that do not meet
		{8, 1, 0.6, 0.6 * 4 * math.Pi / 4 / 4.8 * 8 * 0.6 / 4},
		{8, 1, 0.9, 0.9 * 4 / 4.8}, // they meet, and are a strip along the bed
		{16, 2, 0.9, 0.99},         // two strips close
		{0, 1, 0.9, 0},
	} {
		want := min(c.want, 0.99)
		if got := coverOf(garden.Planting{Plants: c.plants, Rows: c.rows, Place: bed}, c.wide); math.Abs(got-want) > 1e-9 {
			t.Errorf("%d plants of %g m in %d rows: %.4f, want %.4f", c.plants, float64(c.wide), c.rows, got, want)
		}
	}
	if coverOf(garden.Planting{Plants: 3}, 1) != 0 {
		t.Error("no ground, and it is shaded")
	}
}

// tomatoBed is one bed of staked tomatoes, planned in a built-in climate.
func tomatoBed(t testing.TB, place string, shades ...garden.Shade) *Result {
	t.Helper()
	climate, err := weather.ClimateByID(place)
	if err != nil {
		t.Fatal(err)
	}
	record := weather.Generate(climate, 1996, 20, 1)
	g := garden.Garden{Site: garden.Site{Latitude: record.Station.Latitude, Elevation: record.Station.Elevation, Width: 20, Depth: 20, Soil: garden.Soil{Texture: garden.Loam}, Watering: garden.Watering{By: garden.ByCan}},
		Beds:  []garden.Bed{{ID: 1, Name: "Bed", X: 10, Y: 10, Length: 5, Width: 1.2, Sun: 8}},
		Wants: []garden.Want{{Crop: "tomato-staked", Amount: 200, Unit: "kg", Basis: garden.Total, Weight: 3}}, Shades: shades}
	r, err := Compute(Input{Season: civil.SeasonOf(2027, record.Station.Latitude), Garden: g, Crops: crop.Default(), Record: record, Settings: plan.DefaultSettings()})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// A bed of tomatoes draws over its time what FAO gives for them, 400 to 800 mm (training manual 3, from memory), and in midsummer it has with the rain
// an inch to two a week (25–51 mm, the common rule of leaflets). A tenth is let pass.
func TestTomatoesDrawAsPublished(t *testing.T) {
	for _, place := range []string{"burlington", "urbana", "davis"} {
		r := tomatoBed(t, place)
		if len(r.Plan.Plantings) == 0 {
			t.Fatalf("%s: nothing is planned", place)
		}
		q := r.waterQuestion()
		w, err := r.Water(civil.Of(2027, 7, 1), nil)
		if err != nil {
			t.Fatal(err)
		}
		n := w.Needs.Beds[0]
		covered := float32(0)
		for _, c := range q.Stands[0].Canopy {
			covered = max(covered, c)
		}
		depth := float64(n.Demand) / float64(n.Area)
		p := r.Plan.Plantings[0]
		sum, weeks := 0.0, 0.0
		for _, week := range n.Weeks {
			if week.From >= civil.Of(2027, 7, 5) && week.From < civil.Of(2027, 8, 16) && week.Area > 0 {
				rain := 0.0
				for _, y := range r.Years {
					for d := range 7 {
						rain += float64(y.Rain[int(week.From-y.Start)+d]) / float64(len(r.Years))
					}
				}
				sum, weeks = sum+0.9*float64(week.Typical.Depth)+rain, weeks+1
			}
		}
		t.Logf("%s: %s to %s, %d plants on %.1f m², covers %.2f; %.0f mm; midsummer %.0f mm a week with the rain", place, p.Start, p.Clear, p.Plants, float64(p.Place.Area()), covered, depth, sum/weeks)
		if covered < 0.25 || covered > 0.9 || depth < 360 || depth > 880 {
			t.Errorf("%s: covers %.2f, draws %.0f mm", place, covered, depth)
		}
		if mean := sum / weeks; mean < 25 || mean > 56 {
			t.Errorf("%s: midsummer %.0f mm a week", place, mean)
		}
	}
}

// A quarter of the plants on all of the bed's ground is given less, by what they cover, for all that bare ground loses (below it stands a bed that never
// covers any); a bed of them has no more than the tables' full stand, within a tenth.
func TestOneRowDrawsByItsCover(t *testing.T) {
	r := tomatoBed(t, "urbana")
	p := r.Plan.Plantings[0]
	q := r.waterQuestion()
	full := q.Stands[0]
	row := p
	row.Plants, row.Rows = max(1, p.Plants/4), 1
	thin := full
	thin.Canopy = r.canopyOf(row, full)
	given := func(s water.Stand) float64 {
		one := q
		one.Stands = []water.Stand{s}
		n, err := water.Reckon(one)
		if err != nil {
			t.Fatal(err)
		}
		return float64(n.Beds[0].Typical) / float64(n.Beds[0].Area)
	}
	bare := full
	bare.Canopy = make([]float32, len(full.Canopy))
	table := full
	table.Canopy = nil
	none, few, all, tables := given(bare), given(thin), given(full), given(table)
	t.Logf("bare %.0f, a row %.0f, the bed full %.0f, the table's full stand %.0f mm", none, few, all, tables)
	if few > 0.8*all || few < none || all > 1.1*tables {
		t.Errorf("bare %.0f, a row %.0f, the bed full %.0f, the table's full stand %.0f mm", none, few, all, tables)
	}
}

// What a planting's canopy takes: 200 of them should stay far under the 0.3 s of a garden's water.
func BenchmarkCanopyOf(b *testing.B) {
	r := tomatoBed(b, "urbana")
	s, p := r.waterQuestion().Stands[0], r.Plan.Plantings[0]
	for b.Loop() {
		r.canopyOf(p, s)
	}
}
