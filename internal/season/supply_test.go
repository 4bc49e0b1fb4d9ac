package season_test

import (
	"fmt"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// A plan's notes tell the weeks in which a trickle of a tap, or a butt alone, does not do: as many as the water's own figures make;
// a good tap, or none told, is no matter for them.
func TestThePlanTellsOfScarceWater(t *testing.T) {
	g, err := garden.ReadDescription("ground.toml", strings.NewReader(ground), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	climate, err := weather.ClimateByID("burlington")
	if err != nil {
		t.Fatal(err)
	}
	record := weather.Generate(climate, 1996, 30, 1)
	settings := plan.DefaultSettings()
	settings.Rounds = 2000
	note := func(s garden.Supply) (string, *season.Result) {
		g.Site.Supply = s
		r, err := season.Compute(season.Input{Season: civil.SeasonOf(2027, 44), Garden: g, Crops: crop.Default(), Record: record, Years: 20, Settings: settings})
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range r.Plan.Notes {
			if n.Rule == "water" {
				return n.Says, r
			}
		}
		return "", r
	}
	for _, fine := range []garden.Supply{{}, {Tap: 900}, {Can: 10}} {
		if says, _ := note(fine); says != "" {
			t.Errorf("with %+v it says %s", fine, says)
		}
	}
	says, r := note(garden.Supply{Tap: 2})
	w, err := r.Water(r.Season.Start, nil)
	if err != nil {
		t.Fatal(err)
	}
	weeks := 0
	for _, one := range w.Needs.Weeks {
		if float64(one.Dry) > 2*28 { // L a week at 2 L/h and 28 hours
			weeks++
		}
	}
	if weeks == 0 || !strings.Contains(says, fmt.Sprintf("more water than the tap gives in 28 hours in %d week", weeks)) {
		t.Errorf("%d weeks want more than 56 L: %s", weeks, says)
	}
	if says, _ := note(garden.Supply{Roof: 1, Tank: 20}); !strings.Contains(says, "than the tank has in ") || !strings.Contains(says, "no tap is told") {
		t.Errorf("a butt of 20 L: %s", says)
	}
}
