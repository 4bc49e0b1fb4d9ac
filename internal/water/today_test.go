package water

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// showers is an invented measured record from 1 March to 19 July: rain every fourth day until July, then none.
func showers() *weather.Record {
	r := invented(0)
	r.Origin, r.Days = weather.Measured, nil
	for day := civil.Of(2027, 3, 1); day < civil.Of(2027, 7, 20); day++ {
		wet := 0.0
		if day < civil.Of(2027, 7, 1) && day%4 == 0 {
			wet = 8
		}
		r.Days = append(r.Days, weather.Day{Date: day, Min: 13, Max: 27, HasTemp: true, Rain: quantity.Millimetre(wet), HasRain: true})
	}
	return r
}

func mustToday(t *testing.T, q Question, r *weather.Record, log ...Given) Balance {
	t.Helper()
	b, err := Today(q, r, log, civil.Of(2027, 7, 20))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What goes in finds the ground as the measured days and the crop before it left it: after a thirsty crop it is drier than after bare
// ground; a watering-in that is presumed is said; one that is logged counts as logged, the smaller the drier.
func TestTodayGoesOnFromMeasuredDays(t *testing.T) {
	place := garden.Place{AlongTo: 5, AcrossTo: 1.2}
	q := question(t, 0)
	kale := Stand{Key: "k", Name: "kale", BedID: 1, Area: 6, Place: place, Crop: CropOf(catalogue(t, "kale")), From: civil.Of(2027, 7, 12), To: civil.Of(2027, 11, 1), Plants: 12, Wets: 0.5, Waters: true}
	q.Stands = []Stand{kale}
	bare := mustToday(t, q, showers())
	pea := Stand{Key: "p", Name: "pea", BedID: 1, Area: 6, Place: place, Crop: CropOf(catalogue(t, "pea-tall")), From: civil.Of(2027, 4, 1), To: civil.Of(2027, 7, 10), Wets: 0.5, Waters: true}
	q.Stands = []Stand{pea, kale}
	after := mustToday(t, q, showers())
	if len(after.Ground) != 1 || after.Ground[0].Missing <= bare.Ground[0].Missing+2 {
		t.Errorf("after peas %.1f mm are missing, after bare ground %.1f", float64(after.Ground[0].Missing), float64(bare.Ground[0].Missing))
	}
	notes := strings.Join(after.Notes, "\n")
	for _, want := range []string{"the day that kale went in: it is taken as watered in", "record begins on 2027-03-01", "No watering is logged in the last 30 days"} {
		if !strings.Contains(notes, want) {
			t.Errorf("%q is not in %q", want, notes)
		}
	}
	given := func(mm quantity.Millimetre) Balance {
		return mustToday(t, q, showers(), Given{Date: kale.From, BedID: 1, Depth: mm})
	}
	little, much := given(1), given(60)
	if little.Ground[0].Missing < much.Ground[0].Missing+15 || strings.Contains(strings.Join(much.Notes, ""), "went in") || strings.Contains(strings.Join(much.Notes, ""), "No watering") {
		t.Errorf("watered in with 1 mm %.1f mm are missing, with 60 mm %.1f; %q", float64(little.Ground[0].Missing), float64(much.Ground[0].Missing), much.Notes)
	}
}

// Ground that two crops share is told once; litres go to the ground that wanted them, not to the rest of the bed.
func TestTodayBySharedGround(t *testing.T) {
	q := question(t, 0)
	left, right := garden.Place{AlongTo: 3, AcrossTo: 1.2}, garden.Place{AlongFrom: 3, AlongTo: 5, AcrossTo: 1.2}
	q.Stands[0].Place, q.Stands[0].Area = left, left.Area()
	r := radish(t, left)
	r.From, r.Up, r.To = civil.Of(2027, 6, 14), civil.Of(2027, 6, 20), civil.Of(2027, 8, 1)
	late := Stand{Key: "l", Name: "leek", BedID: 1, Area: right.Area(), Place: right, Crop: CropOf(catalogue(t, "leek")), From: civil.Of(2027, 7, 18), To: civil.Of(2027, 12, 1), Plants: 30, Wets: 0.5, Waters: true}
	q.Stands = append(q.Stands, r, late)
	dry := mustToday(t, q, showers())
	if len(dry.Ground) != 2 || !dry.Ground[0].Now || dry.Ground[1].Now || len(dry.Ground[0].Stands) != 2 || dry.Ground[0].Area < 3.6-1e-9 || dry.Ground[0].Area > 3.6+1e-9 {
		t.Fatalf("%+v", dry.Ground)
	}
	if says := Grows(dry.Ground[:1], dry.Ground[1:]); says != "tomato and radish" {
		t.Error(says)
	}
	wet := mustToday(t, q, showers(), Given{Date: civil.Of(2027, 7, 20), BedID: 1, Water: dry.Ground[0].Give})
	if len(wet.Ground) != 2 {
		t.Fatalf("%+v", wet.Ground)
	}
	for _, g := range wet.Ground {
		missing := g.Missing
		if g.Stands[0].Name == "leek" {
			missing -= dry.Ground[1].Missing
		}
		if missing > 0.01 || missing < -0.01 {
			t.Errorf("%s: %.2f mm from what it should be", g.Stands[0].Name, float64(missing))
		}
	}
}
