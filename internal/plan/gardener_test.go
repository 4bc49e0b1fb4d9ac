package plan

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// This file holds plans to what a practised gardener looks for (common practice, from memory).

// oneBed is a garden of one bed with wants, on generated years of an invented climate.
func oneBed(t *testing.T, climate string, length, width float64, wants ...garden.Want) Input {
	t.Helper()
	place := inventedClimates[climate]
	g := garden.Garden{Site: garden.Site{Name: "Invented", Invented: true}}
	g.Beds = []garden.Bed{{ID: 1, Name: "Bed", Length: quantity.Metre(length), Width: quantity.Metre(width), Sun: 8}}
	for i := range wants {
		wants[i].ID = int64(i + 1)
	}
	g.Wants = wants
	in := gardenOn(t, g, weather.Generate(place, 1990, 35, 7), place.Latitude)
	in.Settings.Rounds = 30_000
	return in
}

func made(t *testing.T, in Input) *Plan {
	t.Helper()
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range Check(in, p) {
		t.Error(fault)
	}
	return p
}

// The classical pair: cauliflower and cabbage about 18 in apart with lettuce between them, the
// lettuce out before the heads close over it. A small bed in June: there is no ground for both but together.
func TestLettuceStandsBetweenCauliflowers(t *testing.T) {
	from, to := civil.Of(2027, 7, 10), civil.Of(2027, 8, 20)
	in := oneBed(t, "mild", 4, 1.2,
		garden.Want{Crop: "cauliflower", Basis: garden.Total, Amount: 8, Unit: "kg", Weight: 4},
		garden.Want{Crop: "cabbage-early", Basis: garden.Total, Amount: 8, Unit: "kg", Weight: 4},
		garden.Want{Crop: "lettuce", Basis: garden.Weekly, Amount: 3, Unit: "head", Weight: 4, From: &from, To: &to})
	june := civil.Of(2027, 6, 1)
	in.From = &june
	p := made(t, in)
	among := 0
	for _, x := range p.Plantings {
		if c, _ := in.Crops.Find(x.CropID); c.Kind != "lettuce" || x.Role != garden.Fast {
			continue
		}
		for _, slow := range p.Plantings {
			c, _ := in.Crops.Find(slow.CropID)
			if slow.Key != x.Partner || (c.Kind != "cauliflower" && c.Kind != "cabbage") {
				continue
			}
			among++
			wide := canopyOf(t, in, &slow, x.Clear-1) + canopyOf(t, in, &x, x.Clear-1)
			if apart := math.Hypot(float64(c.Spacing.InRow), float64(c.Spacing.BetweenRows)); wide > apart+1e-6 {
				t.Errorf("%s and %s together are %.2f m across where they stand %.2f m apart", slow.CropID, x.CropID, wide/2, apart/2)
			}
		}
	}
	if among == 0 {
		t.Error("no lettuce stands between cauliflowers or cabbages")
		printPlan(in, p)
	}
}

func canopyOf(t *testing.T, in Input, x *garden.Planting, on civil.Date) float64 {
	t.Helper()
	for _, table := range in.Tables {
		if table.Option.Crop.ID == x.CropID && table.Option.Method == x.Method {
			_, _, p90 := table.Canopy(x.Start, on)
			if on < x.Start {
				return 0
			}
			return float64(p90)
		}
	}
	t.Fatalf("no table for %s", x.CropID)
	return 0
}

// Food for a season is harvested in it: what first bears after its end has stood over the winter.
func TestHarvestFallsInItsSeason(t *testing.T) {
	for _, climate := range []string{"warm", "south", "wagga-wagga"} {
		in := inClimate(t, climate)
		in.Settings.Rounds = 10_000
		for _, x := range made(t, in).Plantings {
			c, _ := in.Crops.Find(x.CropID)
			if x.First.P50 <= in.Season.End() || c.Perennial {
				continue
			}
			if !c.Hardiness.Overwinters || x.First.P50-x.Start < 100 {
				t.Errorf("%s: %s, begun on %s, first bears on %s, after the season", climate, c.Name(), x.Start, x.First.P50)
			}
		}
	}
}

// A marker marks its drill from end to end.
func TestMarkerMarksTheWholeDrill(t *testing.T) {
	in := household(t)
	in.Settings.Rounds = 20_000
	p := made(t, in)
	markers := 0
	for _, x := range p.Plantings {
		if x.Role != garden.Marker {
			continue
		}
		markers++
		for _, slow := range p.Plantings {
			if slow.Key == x.Partner && slow.Place != x.Place {
				t.Errorf("%s marks %v of the drills at %v", x.Key, x.Place, slow.Place)
			}
		}
	}
	if markers == 0 {
		t.Error("no drill is marked")
	}
}

// Nobody treads on what grows: on wide ground no close rows are more than 1.5 m across, and
// neighbours side by side leave a foot of path.
func TestWideGroundCanBeReached(t *testing.T) {
	in := oneBed(t, "mild", 6, 4,
		garden.Want{Crop: "carrot", Basis: garden.Total, Amount: 20, Unit: "kg", Weight: 4},
		garden.Want{Crop: "onion", Basis: garden.Total, Amount: 15, Unit: "kg", Weight: 4},
		garden.Want{Crop: "beet", Basis: garden.Total, Amount: 10, Unit: "kg", Weight: 3},
		garden.Want{Crop: "sweet corn", Basis: garden.Total, Amount: 6, Unit: "kg", Weight: 3})
	p := made(t, in)
	if len(p.Plantings) < 3 {
		t.Fatalf("only %d plantings", len(p.Plantings))
	}
	for i, x := range p.Plantings {
		c, _ := in.Crops.Find(x.CropID)
		if x.Place.AcrossTo-x.Place.AcrossFrom > 1.501 && c.Spacing.BetweenRows < 0.6 && x.Role != garden.Fast {
			t.Errorf("%s is %.2f m across", x.CropID, float64(x.Place.AcrossTo-x.Place.AcrossFrom))
		}
		for _, y := range p.Plantings[:i] {
			if x.Partner == y.Key || x.Start >= y.Clear || y.Start >= x.Clear ||
				x.Place.AlongFrom >= y.Place.AlongTo-1e-3 || y.Place.AlongFrom >= x.Place.AlongTo-1e-3 {
				continue
			}
			if gap := max(x.Place.AcrossFrom-y.Place.AcrossTo, y.Place.AcrossFrom-x.Place.AcrossTo); gap < 0.299 {
				t.Errorf("%s and %s leave %.2f m between them", x.CropID, y.CropID, float64(gap))
			}
		}
	}
}

// Vines stand where they can run out of the bed, and the plan says so.
func TestVinesStandAtTheEnd(t *testing.T) {
	in := oneBed(t, "warm", 6, 1.2,
		garden.Want{Crop: "squash-winter", Basis: garden.Total, Amount: 6, Unit: "kg", Weight: 3},
		garden.Want{Crop: "bean-bush", Basis: garden.Total, Amount: 4, Unit: "kg", Weight: 4},
		garden.Want{Crop: "cucumber", Basis: garden.Total, Amount: 4, Unit: "kg", Weight: 4})
	found := false
	for _, x := range made(t, in).Plantings {
		if x.CropID != "squash-winter" {
			continue
		}
		found = true
		if x.Place.AlongFrom > 1e-3 && x.Place.AlongTo < 6-1e-3 {
			t.Errorf("winter squash stands amid the bed, at %v", x.Place)
		}
		if !strings.Contains(says(x.Reasons), "lead the vines out") {
			t.Errorf("it does not say where the vines go: %s", says(x.Reasons))
		}
	}
	if !found {
		t.Error("no winter squash is planted")
	}
}

// With light ground free, none of the potatoes go where light is short.
func TestPotatoesInTheLightFirst(t *testing.T) {
	in := oneBed(t, "mild", 6, 1.2, garden.Want{Crop: "potato", Basis: garden.Total, Amount: 8, Unit: "kg", Weight: 4})
	in.Garden.Beds = append([]garden.Bed{{ID: 2, Name: "Shade", Length: 6, Width: 1.2, Sun: 4.5}}, in.Garden.Beds...)
	p := made(t, in)
	if len(p.Plantings) == 0 {
		t.Fatal("no potatoes")
	}
	for _, x := range p.Plantings {
		if x.BedID != 1 {
			t.Errorf("%s stands in the shade while bed 1 has room", x.CropID)
		}
	}
}

// Carrots for the store with some to pull in summer; in the long drills where there are any.
func TestCarrotsEarlyAndLate(t *testing.T) {
	in := oneBed(t, "mild", 9, 0.6, garden.Want{Crop: "carrot", Basis: garden.Total, Amount: 12, Unit: "kg", Weight: 4})
	in.Garden.Beds = append(in.Garden.Beds, garden.Bed{ID: 2, Name: "Block", Length: 4, Width: 1.2, Sun: 8})
	p := made(t, in)
	first, last := civil.Date(math.MaxInt32), civil.Date(0)
	drills := 0
	for _, x := range p.Plantings {
		first, last = min(first, x.First.P50), max(last, x.First.P50)
		if x.BedID == 1 {
			drills++
		}
	}
	if first > civil.Of(2027, 8, 7) || last < civil.Of(2027, 8, 31) {
		t.Errorf("carrots are first pulled on %s and the last begin on %s", first, last)
	}
	if drills == 0 {
		t.Error("no carrots stand in the long drills")
	}
}

// A plan made in summer says of a crop whose days are over that they are past.
func TestPastDaysAreCalledPast(t *testing.T) {
	in := oneBed(t, "cold", 6, 1.2, garden.Want{Crop: "tomato", Basis: garden.Total, Amount: 8, Unit: "kg", Weight: 4})
	from := civil.Of(2027, 8, 20)
	in.From = &from
	p := made(t, in)
	if text := says(p.Supply[0].Short); !strings.Contains(text, "past for this season") || !strings.Contains(text, "20 Aug") {
		t.Errorf("it says %q", text)
	}
}

// What the plan says of the ground left is so: no want that is short is told that no ground is
// free when some would hold it.
func TestWhatIsSaidOfTheGroundIsTrue(t *testing.T) {
	tr := newTrial()
	tr.grow(plainCrop("first", "A", 0.3, 0.3, 3), steadyTimes{from: 90, to: 120, days: 100, span: 10, good: 10})
	tr.grow(plainCrop("second", "B", 0.3, 0.3, 3), steadyTimes{from: 90, to: 120, days: 100, span: 10, good: 10})
	tr.bed(3, 1.2)
	tr.want("first", garden.Total, 30, 5)
	tr.want("second", garden.Total, 30, 1)
	p := mustPlan(t, tr)
	if text := says(p.Supply[1].Short); !strings.Contains(text, "On none of its days") || !strings.Contains(text, "first holds") {
		t.Errorf("with a full bed it says %q", text)
	}
	tr = newTrial()
	tr.grow(plainCrop("poor", "A", 0.3, 0.3, 0.001), steadyTimes{from: 90, to: 120, days: 100, span: 10, good: 10})
	tr.bed(3, 1.2)
	tr.want("poor", garden.Total, 30, 1)
	if text := says(mustPlan(t, tr).Supply[0].Short); !strings.Contains(text, "would gain less than the work") {
		t.Errorf("with an empty bed it says %q", text)
	}
}
