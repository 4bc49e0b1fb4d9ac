package season

import (
	"math"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
	"kailyard/internal/weather"
)

// A bed behind a house wants less water than the same bed in the open, by no more than the share of the sky's energy that it lacks; the page
// says so with the bed and the share. A tree besides: its roots are named as not reckoned.
func TestShadedBedWantsLess(t *testing.T) {
	open := tomatoBed(t, "urbana")
	day := civil.Of(2027, 7, 1)
	bright, err := open.Water(day, nil)
	if err != nil {
		t.Fatal(err)
	}
	if says := strings.Join(bright.Basis, " "); strings.Contains(says, "Shaded") || open.waterQuestion().Light != nil {
		t.Errorf("an open bed is shaded: %q", says)
	}
	// The same plan, with a house to the south of it from then on.
	g := open.Garden
	g.Shades = []garden.Shade{{Kind: garden.House, Name: "house", X: 5, Y: 4, Length: 10, Width: 5, Height: 7}}
	dark := &Result{Season: open.Season, Garden: g, Record: open.Record, Years: open.Years, Climate: open.Climate, Crops: open.Crops, Plan: open.Plan, extra: open.extra}
	dim, err := dark.Water(day, nil)
	if err != nil {
		t.Fatal(err)
	}
	share := dark.waterQuestion().Light[1]
	part := float64(dim.Needs.Beds[0].Demand / bright.Needs.Beds[0].Demand)
	t.Logf("energy in July %.2f, draws %.2f of the open bed's", share[6], part)
	if !(share[6] > 0.2 && share[6] < 0.95) || part >= 0.99 || part < share[6]-0.15 {
		t.Errorf("energy in July %.2f, draws %.2f of the open bed's", share[6], part)
	}
	if says := strings.Join(dim.Basis, " "); !strings.Contains(says, "Shaded beds evaporate less") || strings.Contains(says, "roots") {
		t.Error(says)
	}
	dark.Garden.Shades = append(dark.Garden.Shades, garden.Shade{Kind: garden.Tree})
	if says := strings.Join(dark.shadeSays(), " "); !strings.Contains(says, "What roots of trees and hedges take from a bed is not reckoned") {
		t.Error(says)
	}
	for m, s := range share {
		if math.IsNaN(s) || s < 0 || s > 1.01 {
			t.Errorf("month %d: %.3f of the open sky's energy", m+1, s)
		}
	}
}

// Radiation in another unit is left out of the light too: the energy is that of the record without it.
func TestDoubtedRadiationIsNoLight(t *testing.T) {
	r := tomatoBed(t, "urbana")
	g := r.Garden
	g.Shades = []garden.Shade{{Kind: garden.House, Name: "house", X: 5, Y: 4, Length: 10, Width: 5, Height: 7}}
	record := func(factor float64) *weather.Record {
		one := *r.Record
		one.Origin, one.Days = weather.Measured, slices.Clone(r.Record.Days)
		for i := range one.Days {
			d := &one.Days[i]
			clear := float64(sun.ClearSky(sun.Extraterrestrial(g.Site.Latitude, d.Date.YearDay()), g.Site.Elevation))
			d.HasRadiation, d.Radiation = factor > 0, quantity.MegajoulePerSquareMetre(factor*clear*[]float64{1, 0.35, 0.7, 0.98, 0.5}[i%5])
		}
		return &one
	}
	july := func(factor float64) float64 { return float64(LightYearOf(g, record(factor)).Open[6].Energy) }
	none, right := july(0), july(1)
	for _, factor := range []float64{1 / 3.6, 1.6} {
		if got := july(factor); got != none {
			t.Errorf("×%.2f: %.2f MJ/m² in July, without radiation %.2f", factor, got, none)
		}
	}
	if right == none {
		t.Error("believed radiation is not used")
	}
}
