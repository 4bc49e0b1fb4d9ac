package soil

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Common practice: with topsoil to spare the sod is stripped and stacked, else turned under.
func TestBreakingGround(t *testing.T) {
	area := quantity.SquareMetre(200 * squareFoot)
	of := func(s garden.Soil) Breaking {
		b, err := Break(area, s, quantity.Metric)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	deep, thin, unknown := of(garden.Soil{State: garden.Sod, Topsoil: 0.25}), of(garden.Soil{State: garden.Sod, Topsoil: 0.1}), of(garden.Soil{State: garden.Sod})
	if deep.Way != StripAndStack || deep.Wait != 0 || deep.Heap == nil || thin.Way != TurnUnder || thin.Wait < 21 || thin.Heap != nil || unknown.Way != TurnUnder || !strings.Contains(unknown.Reasons[0].Says, "dig one hole") {
		t.Errorf("deep %+v\nthin %+v\nunknown %+v", deep, thin, unknown)
	}
	// 200 sq ft of sod 1¾ in thick are 29.2 cu ft; worked by hand. The heap knows the stuff.
	if got := float64(deep.Sod / cubicFoot); math.Abs(got-200*1.75/12) > 1e-6 {
		t.Errorf("%v cu ft of sod", got)
	}
	if _, ok := FindFeedstock(deep.Heap.Feedstock); !ok {
		t.Error("the heap does not know sod")
	}
	dug := of(garden.Soil{})
	if dug.Way != DigOver || of(garden.Soil{State: garden.Neglected}).Way != ForkOver {
		t.Errorf("dug ground: %s", dug.Way)
	}
	// Double digging sod takes a practised hand 6 to 12 hours for 100 sq ft, single digging of garden ground one to two (common practice).
	if h := float64(dug.By(garden.ForkAndSpade).Hours) / 2; h < 0.7 || h > 3 {
		t.Errorf("100 sq ft of garden ground take %v hours", h)
	}
	for _, b := range []Breaking{deep, thin, dug} {
		hand, tiller := b.By(garden.ForkAndSpade), b.By(garden.Tiller)
		if !(hand.Low < hand.Hours && hand.Hours < hand.High) || len(tiller.Passes) == 0 || hand.Hours <= 0 || len(b.Cautions) < 4 {
			t.Errorf("%s: %+v", b.Way, b.Toils)
		}
		if b.By("").Tool != garden.ForkAndSpade {
			t.Error("without a tool told it is fork and spade")
		}
	}
	if clay := of(garden.Soil{Texture: garden.Clay}); clay.By("").Hours <= dug.By("").Hours {
		t.Error("clay is not slower")
	}
	// One big plot is the tiller's, a small bed the spade's.
	small, _ := Break(3, garden.Soil{}, quantity.US)
	large, _ := Break(300, garden.Soil{}, quantity.US)
	if small.By(garden.Tiller).Hours < small.By("").Hours || large.By(garden.Tiller).Hours > large.By("").Hours {
		t.Error("tiller and spade change places")
	}
	for _, bad := range []quantity.SquareMetre{0, -1, quantity.SquareMetre(math.NaN()), quantity.SquareMetre(math.Inf(1))} {
		if _, err := Break(bad, garden.Soil{}, quantity.US); err == nil {
			t.Errorf("%v m² were broken", bad)
		}
	}
}

// Short spells, never a whole day, on fit days before planting, and all the ground is dug or told as left.
func TestStints(t *testing.T) {
	plant := civil.Of(2027, 5, 1)
	got, left := Stints(4, 30, plant-20, plant, nil) // 240 minutes: six of 40
	if len(got) != 6 || left > 1e-9 || got[5].Day != plant-1 || got[0].Day != plant-6 || got[0].Minutes != 40 || math.Abs(float64(got[0].Area)-5) > 1e-9 {
		t.Errorf("%+v, %v left", got, left)
	}
	rapid.Check(t, func(t *rapid.T) {
		hours, area := quantity.Hour(rapid.Float64Range(0.1, 60).Draw(t, "hours")), quantity.SquareMetre(rapid.Float64Range(0.1, 400).Draw(t, "area"))
		span := rapid.IntRange(0, 40).Draw(t, "days")
		odd := rapid.IntRange(1, 4).Draw(t, "fit every")
		fit := func(d civil.Date) bool { return int(d)%odd == 0 }
		stints, left := Stints(hours, area, plant.Add(-span), plant, fit)
		day := map[civil.Date]int{}
		sum := left
		for _, s := range stints {
			day[s.Day] += s.Minutes
			sum += s.Area
			if s.Minutes > 45 || s.Day >= plant || s.Day < plant.Add(-span) || !fit(s.Day) {
				t.Errorf("%+v", s)
			}
		}
		for d, minutes := range day {
			if minutes > 90 {
				t.Errorf("%d minutes on %s", minutes, d)
			}
		}
		if math.Abs(float64(sum-area)) > 1e-6 || left < -1e-9 || !slices.IsSortedFunc(stints, func(a, b Stint) int { return int(a.Day - b.Day) }) {
			t.Errorf("%v of %v", sum, area)
		}
	})
	if s, _ := Stints(0, 3, 0, plant, nil); s != nil {
		t.Error("no work has stints")
	}
}
