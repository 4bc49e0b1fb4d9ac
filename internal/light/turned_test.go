package light

import (
	"math"
	"testing"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// A ridged roof turned by its bearing: whatever the bearing, the sun on a bed beside it is that by rays to each minute's sun, the
// house cut in 24 slabs along its slopes, each a box as high as the roof in its middle.
func TestRoofsTurnedByBearing(t *testing.T) {
	for _, bearing := range []float64{0, 35, 140} {
		house := garden.Shade{ID: 1, Name: "house", Kind: garden.House, X: 14, Y: 6, Length: 9, Width: 6, Bearing: bearing, Height: 3, Ridge: 6}
		bed := garden.Bed{X: 15, Y: 13.5, Length: 4, Width: 1.2, Bearing: 60}
		g := garden.Garden{Site: garden.Site{Latitude: 48, Width: 30, Depth: 20}, Beds: []garden.Bed{bed}, Shades: []garden.Shade{house}}
		slabs := g
		slabs.Shades = nil
		sin, cos := math.Sincos(bearing * math.Pi / 180)
		for i := range 24 {
			across := (float64(i)+0.5)/24*6 - 3
			slab := house
			slab.X, slab.Y = house.X+quantity.Metre(across*cos), house.Y-quantity.Metre(across*sin)
			slab.Width, slab.Height, slab.Ridge = 6./24, house.Height+quantity.Metre(3*(1-math.Abs(across)/3)), 0
			slabs.Shades = append(slabs.Shades, slab)
		}
		y := Reckon(g, SunshineOf(g.Site, nil))
		for _, m := range []time.Month{time.April} {
			got, want := float64(y.reckoned(bed)[m-1].Hours), byTheMinute(slabs, bed, m)
			if math.Abs(got-want) > 0.015*want {
				t.Errorf("bearing %v°, %s: %.2f h, by slabs %.2f", bearing, m, got, want)
			}
		}
	}
}

// Leaf on and off by a hand sum: a hedge in leaf from 21 April to 10 November with 10 % coming through then and 60 % before. April has 20 days bare and
// 10 in leaf: 0.6 × 20/30 + 0.1 × 10/30 = 0.433 comes through; November 9 in leaf, 21 bare: 0.45. What the hedge takes of a day
// when nothing comes through is the rest's measure.
func TestLeavesByHand(t *testing.T) {
	ten, sixty, none := 10., 60., 0.
	hedge := garden.Shade{ID: 1, Name: "hedge", Kind: garden.Hedge, X: 15, Y: 4, Length: 20, Width: 1, Bearing: 90, Height: 3, LeafOn: garden.DayOfYear{Month: 4, Day: 21}, LeafOff: garden.DayOfYear{Month: 11, Day: 10}, Gaps: &ten, Bare: &sixty}
	dense := hedge
	dense.LeafOn, dense.LeafOff, dense.Gaps, dense.Bare = garden.DayOfYear{}, garden.DayOfYear{}, &none, &none
	with := func(s garden.Shade) Year {
		g := plot()
		g.Shades = []garden.Shade{s}
		return Reckon(g, SunshineOf(g.Site, nil))
	}
	leafy, shut := with(hedge), with(dense)
	bed := leafy.Garden.Beds[0]
	for m, comes := range map[int]quantity.Hour{0: 0.6, 3: 0.6*20/30 + 0.1*10/30, 6: 0.1, 10: 0.1*9/30 + 0.6*21/30} {
		takes := shut.Open[m].Hours - shut.reckoned(bed)[m].Hours
		if want := shut.reckoned(bed)[m].Hours + comes*takes; takes < 0.05 && m != 6 || math.Abs(float64(leafy.reckoned(bed)[m].Hours-want)) > 0.02 {
			t.Errorf("month %d: %.3f h, by hand %.3f of which %.3f through the hedge", m+1, leafy.reckoned(bed)[m].Hours, want, comes*takes)
		}
	}
}

// Beyond the polar circle: at 70° N (ArcOf against almanacs in package sun) the midsummer sun goes all around, so a fence on the north side takes
// hours too, and in December there are none, of anything; a bed there is told so, and every remedy can be asked for.
func TestPolarGarden(t *testing.T) {
	g := plot()
	g.Site.Latitude = 70
	g.Shades = []garden.Shade{{ID: 1, Name: "fence", Kind: garden.Fence, X: 15, Y: 7.2, Length: 30, Width: 0.1, Bearing: 90, Height: 2}}
	y := Reckon(g, SunshineOf(g.Site, nil))
	b := g.Beds[0]
	of := y.Bed(b)
	if of[11].Hours != 0 || of[11].Energy != 0 || y.Open[11].Hours != 0 {
		t.Errorf("December %+v", of[11])
	}
	// The sun on 11 June at 70° N stands from 3.1° to 43.1° high: it counts all day.
	if y.Open[5].Hours < 23.5 || of[5].Hours > y.Open[5].Hours-4 || of[5].Hours < 12 {
		t.Errorf("June %+v of %.2f h", of[5], y.Open[5].Hours)
	}
	if v := y.GoodFor(b); v.Says == "" {
		t.Error("nothing is said")
	}
	y.Remedies(b)
	want := byTheMinute(g, b, time.June)
	if math.Abs(float64(of[5].Hours)-want) > 0.01*want {
		t.Errorf("June %.2f h, by the minute %.2f", of[5].Hours, want)
	}
}

// The energy of a bed on open ground is what the record measured, month by month: means of its days by hand, of invented years in
// which no two days are alike.
func TestEnergyIsTheRecords(t *testing.T) {
	r := invented(1)
	var sum, days [12]float64
	for i := range r.Days {
		d := &r.Days[i]
		m := int(d.Date.Month()) - 1
		d.Radiation = quantity.MegajoulePerSquareMetre([]float64{4, 6, 10, 14, 18, 20, 19, 16, 12, 8, 5, 3}[m] * (0.5 + 0.013*float64(i%37)))
		sum[m], days[m] = sum[m]+float64(d.Radiation), days[m]+1
	}
	g := plot()
	y := Reckon(g, SunshineOf(g.Site, r))
	for m, of := range y.reckoned(g.Beds[0]) {
		if want := sum[m] / days[m]; math.Abs(float64(of.Energy)/want-1) > 0.003 {
			t.Errorf("month %d: %.2f MJ/m² a day, the record's mean %.2f", m+1, of.Energy, want)
		}
	}
}
