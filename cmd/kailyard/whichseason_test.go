package main

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
)

// A season begins on 1 January north of the equator and on 1 July south of it.
func TestPlansSayTheirSeason(t *testing.T) {
	for _, row := range []struct {
		latitude float64
		year     int
		today    civil.Date
		says     []string
	}{
		{44, 2027, civil.Of(2027, 1, 5), nil},
		{44, 2027, civil.Of(2026, 12, 5), []string{"The season to come", "Fri 1 Jan 2027", "--season 2026"}},
		{44, 2027, civil.Of(2027, 6, 5), []string{"The season under way", "what can still be begun", "Sat 5 Jun 2027", "Sat 1 Jan 2028", "--season 2028"}},
		{44, 2027, civil.Of(2028, 6, 5), []string{"past"}},
		{-35, 2026, civil.Of(2027, 1, 9), []string{"The season under way", "Wed 1 Jul 2026", "Wed 30 Jun 2027", "Sat 9 Jan 2027", "from Thu 1 Jul 2027", "--season 2027"}},
	} {
		r := &season.Result{
			Season: civil.SeasonOf(row.year, row.latitude), Garden: garden.Garden{Site: garden.Site{Latitude: row.latitude}}, Plan: &plan.Plan{From: &row.today},
		}
		got := whichSeason(r, row.today)
		if row.says == nil && got != "" {
			t.Errorf("on %s: %q", row.today, got)
		}
		for _, part := range row.says {
			if !strings.Contains(got, part) {
				t.Errorf("on %s: %q is missing in %q", row.today, part, got)
			}
		}
	}
}

func TestTheDemoSaysItIsWhole(t *testing.T) {
	s := civil.SeasonOf(2027, 44)
	if got := demoSays(s, civil.Of(2027, 5, 10)); !strings.Contains(got, "planned as on Fri 1 Jan 2027, though today is Mon 10 May 2027") {
		t.Errorf("%q", got)
	}
	if got := demoSays(s, civil.Of(2027, 1, 2)); got != "" {
		t.Errorf("%q", got)
	}
}
