package water

import (
	"math"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Rain before a planting never dries the ground it goes into; 40 mm the day before leave none of it dry; dry weeks leave none moist.
func TestGoingInAfterRain(t *testing.T) {
	season, list := years(6, 10)
	g := garden.Garden{Site: garden.Site{Latitude: 45}, Beds: []garden.Bed{{ID: 4, Length: 5, Width: 1.2}}}
	from := civil.Of(2027, 6, 20)
	plantings := []garden.Planting{
		{Key: "sown", BedID: 4, CropID: "carrot", Way: crop.Sow, Place: garden.Place{AlongTo: 2, AcrossTo: 1.2}, Start: from, Clear: from + 90, Emerge: garden.Spread{P50: from + 10}},
		{Key: "set", BedID: 4, CropID: "kale", Way: crop.SetOut, Place: garden.Place{AlongFrom: 2, AlongTo: 5, AcrossTo: 1.2}, Start: from, Clear: from + 90, Plants: 8},
	}
	told := func(days int, rain float32) []GoingIn {
		t.Helper()
		for y := range list {
			for k := range days {
				list[y].Rain[int(from-list[y].Start)-1-k] = rain
			}
		}
		out, err := GoIn(QuestionOf(g, plantings, crop.Default(), season, nil, list))
		if err != nil || len(out) != 2 {
			t.Fatalf("%v: %+v", err, out)
		}
		return out
	}
	dry, wet := told(45, 0), told(1, 40)
	for i := range dry {
		if d, w := dry[i], wet[i]; d.Dry != d.Years || w.Dry != 0 || w.Water > d.Water || w.Most > d.Most || d.Water <= 0 {
			t.Errorf("dry %+v, wet %+v", d, w)
		}
	}
}

// What a bed was given in the person's own terms: by hand, from the rates.
func TestParseGiven(t *testing.T) {
	supply := garden.Supply{Tap: 600, Can: 10}
	drip, spray, hose, can := garden.Watering{By: garden.ByDrip, Drip: 36}, garden.Watering{By: garden.BySprinkler, Rain: 12}, garden.Watering{By: garden.ByHose}, garden.Watering{By: garden.ByCan}
	for _, c := range []struct {
		text   string
		way    garden.Watering
		units  quantity.System
		litres float64
		mm     float64
	}{
		{"30 L", can, quantity.Metric, 30, 0}, {"8 gal", can, quantity.US, 8 * 3.785411784, 0}, {"12 mm", can, quantity.Metric, 0, 12}, {"0.5 in", can, quantity.US, 0, 12.7},
		{"4 cans", can, quantity.Metric, 40, 0}, {"½ can", can, quantity.Metric, 5, 0}, {"25 min", drip, quantity.Metric, 15, 0}, {"1,5 hours", drip, quantity.Metric, 54, 0},
		{"30 min", spray, quantity.Metric, 0, 6}, {"3 min", hose, quantity.Metric, 30, 0},
	} {
		volume, depth, err := ParseGiven(c.text, c.way, supply, c.units)
		if err != nil || math.Abs(float64(volume)-c.litres) > 1e-9 || math.Abs(1000*float64(depth)-c.mm) > 1e-9 {
			t.Errorf("%q: %v L, %v mm, %v", c.text, float64(volume), 1000*float64(depth), err)
		}
	}
	for _, c := range []struct {
		text string
		way  garden.Watering
		from garden.Supply
	}{
		{"", can, supply}, {"much", can, supply}, {"-3 L", can, supply}, {"0 L", can, supply}, {"0 min", drip, supply}, {"10 min", can, supply}, {"2 cans", can, garden.Supply{}},
		{"10 min", garden.Watering{By: garden.ByDrip}, supply}, {"10 min", garden.Watering{By: garden.BySprinkler}, supply}, {"10 min", hose, garden.Supply{}}, {"NaN L", can, supply},
	} {
		if volume, depth, err := ParseGiven(c.text, c.way, c.from, quantity.Metric); err == nil {
			t.Errorf("%q is taken as %v L, %v m", c.text, float64(volume), float64(depth))
		}
	}
}

// Rain and waterings that cannot be meant are asked back with what they come to; great ones that happen are taken.
func TestBelievable(t *testing.T) {
	rain := func(mm float64) garden.Entry {
		return garden.Entry{Kind: garden.Rained, Depth: quantity.Metre(mm / 1000)}
	}
	inches := garden.Entry{Kind: garden.Watered, Depth: 20 * 0.0254}
	for _, c := range []struct {
		e    garden.Entry
		area quantity.SquareMetre
		asks bool
	}{
		{rain(12), 0, false}, {rain(300), 0, false}, {rain(900), 0, true}, {inches, 6, true}, {inches, 0, true},
		{garden.Entry{Kind: garden.Watered, Depth: 0.05}, 6, false}, {garden.Entry{Kind: garden.Watered, Volume: 300}, 6, false},
		{garden.Entry{Kind: garden.Watered, Volume: 3000}, 6, true}, {garden.Entry{Kind: garden.Watered, Volume: 3000}, 0, false}, {garden.Entry{Kind: garden.Sowed}, 6, false},
	} {
		if err := Believable(c.e, c.area, quantity.Metric); (err != nil) != c.asks {
			t.Errorf("%+v: %v", c.e, err)
		}
	}
	if err := Believable(inches, 6, quantity.US); err == nil || err.Error()[:5] != "20 in" {
		t.Error(err)
	}
}
