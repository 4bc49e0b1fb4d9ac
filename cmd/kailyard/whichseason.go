package main

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/season"
)

// begunDays is how long a season must have run for its plan to say so: a season that began last week holds no surprise.
const begunDays = 14

// whichSeason says which season a plan is of, as seen from today: under way, with what of it is still to be done, to
// come or past, and how to ask for the other one. Empty where nobody would ask.
func whichSeason(r *season.Result, today civil.Date) string {
	s := r.Season
	runs := fmt.Sprintf("from %s to %s", s.Start.Long(), s.End().Long())
	now := civil.SeasonHolding(today, r.Garden.Site.Latitude)
	switch {
	case s.End() < today:
		return fmt.Sprintf("A season that is past: it ran %s.", runs)
	case s.Start > today && now.Year() != s.Year():
		return fmt.Sprintf("The season to come, %s. For the one under way: kailyard plan --season %d.", runs, now.Year())
	case int(today-s.Start) < begunDays:
		return ""
	}
	says := fmt.Sprintf("The season under way, %s.", runs)
	if r.Plan.From != nil && *r.Plan.From > s.Start {
		says += fmt.Sprintf(" Planned on %s: below is what stands already and what can still be begun, not the season whole.", r.Plan.From.Long())
	}
	return says + fmt.Sprintf(" For the next one, from %s: kailyard plan --season %d.", s.End().Add(1).Long(), s.Year()+1)
}

// demoSays is what must be known of the demo's plan, which is made as on the first day of its season, whatever the day:
// it is there to show a whole season.
func demoSays(s civil.Season, today civil.Date) string {
	if int(today-s.Start) < begunDays {
		return ""
	}
	return fmt.Sprintf("The demo shows its season whole, planned as on %s, though today is %s: what lies before today was never done. A plan of your own begins nothing in the past.",
		s.Start.Long(), today.Long())
}
