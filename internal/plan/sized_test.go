package plan

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// sized is an invented garden of so many beds and wants from a seed, on the invented cold climate: each want a share of what the
// ground could bear, so that the beds are full whatever their number.
func sized(t testing.TB, beds, wants int, seed uint64) Input {
	key := fmt.Sprint("sized", beds, wants, seed)
	if in, ok := climates.Load(key); ok {
		return in.(Input)
	}
	place := inventedClimates["cold"]
	in := gardenOn(t, sizedGarden(beds, wants, seed), weather.Generate(place, 1990, 35, 7), place.Latitude)
	climates.Store(key, in)
	return in
}

func sizedGarden(beds, wants int, seed uint64) garden.Garden {
	r := rand.New(rand.NewPCG(seed, 77))
	g := garden.Garden{Site: garden.Site{Name: "Invented ground", Units: quantity.Metric, Household: 4, Invented: true}}
	crops := crop.Default().All()
	ground := 0.0
	for i := range beds {
		b := garden.Bed{ID: int64(i + 1), Name: fmt.Sprint("Bed ", i+1), Length: quantity.Metre(3 + float64(r.IntN(13))/2), Width: quantity.Metre([]float64{0.8, 1, 1.2}[r.IntN(3)]), Sun: quantity.Hour([]float64{5, 6, 8, 8, 9}[r.IntN(5)])}
		ground += float64(b.Area())
		g.Beds = append(g.Beds, b)
		g.History = append(g.History, garden.Past{BedID: b.ID, Year: 2026, CropID: crops[r.IntN(len(crops))].ID})
	}
	kinds := map[string]bool{}
	for _, k := range r.Perm(len(crops)) {
		c := crops[k]
		if c.Perennial || kinds[c.Kind] || len(g.Wants) == wants {
			continue
		}
		kinds[c.Kind] = true
		w := garden.Want{ID: int64(len(g.Wants) + 1), Crop: c.ID, Basis: garden.Total, Unit: "kg", Weight: 1 + r.IntN(5)}
		w.Amount = float64(c.Harvest.Yield) * ground * 2.5 / float64(wants) * (0.5 + r.Float64())
		if c.Practice.Succession > 0 && r.IntN(2) == 0 {
			w.Basis, w.Amount = garden.Weekly, w.Amount/16
		}
		g.Wants = append(g.Wants, w)
	}
	return g
}

// sizes are the gardens whose cost is shown side by side.
var sizes = []struct{ beds, wants int }{{4, 12}, {12, 30}, {40, 45}, {200, 60}}

// BenchmarkFirstPlan is the time to the first plan, before the search improves it, by size of the garden.
func BenchmarkFirstPlan(b *testing.B) {
	benchmarkSizes(b, 0)
}

// BenchmarkPlan is the time to the plan that the person gets, by size of the garden.
func BenchmarkPlan(b *testing.B) {
	benchmarkSizes(b, DefaultSettings().Rounds)
}

func benchmarkSizes(b *testing.B, rounds int) {
	for _, size := range sizes {
		b.Run(fmt.Sprintf("%d beds of %d wants", size.beds, size.wants), func(b *testing.B) {
			in := sized(b, size.beds, size.wants, 1)
			in.Settings.Rounds = rounds
			b.ResetTimer()
			for b.Loop() {
				p, err := newProblem(in)
				if err != nil {
					b.Fatal(err)
				}
				f, err := newField(p)
				if err != nil {
					b.Fatal(err)
				}
				s := search(f)
				b.ReportMetric(float64(s.value)/float64(point), "points")
				b.ReportMetric(100*float64(s.value)/float64(point)/f.relax(byNothing).bound(stepsToBound), "%ofbound")
			}
		})
	}
}
