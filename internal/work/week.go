package work

import (
	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Week is seven days of work, Monday to Sunday. Nothing is levelled: each job counts in the week
// its best day falls in.
type Week struct {
	Span  civil.Span
	Begin []Job         // whose best day falls in the week, in order
	Going []Job         // begun before and still to be done, or going on, as a harvest
	Hours quantity.Hour // of Begin; a harvest counts by its share of weeks, in Going too
}

// Weeks is the work of every week that has any, from the first to the last.
func Weeks(jobs []Job) []Week {
	if len(jobs) == 0 {
		return nil
	}
	first, last := jobs[0].Window.From, jobs[0].Window.To
	for _, j := range jobs {
		first, last = min(first, j.Window.From), max(last, j.Window.To)
	}
	var out []Week
	for from := first.Monday(); from <= last; from += 7 {
		if w := WeekOf(jobs, from); len(w.Begin)+len(w.Going) > 0 {
			out = append(out, w)
		}
	}
	return out
}

// WeekOf is the work of the week that holds a day.
func WeekOf(jobs []Job, day civil.Date) Week {
	w := Week{Span: civil.Span{From: day.Monday(), To: day.Monday() + 6}}
	for _, j := range jobs {
		if !j.Window.Meets(w.Span) {
			continue
		}
		begins := w.Span.Has(j.Window.From)
		if begins {
			w.Begin = append(w.Begin, j)
		} else {
			w.Going = append(w.Going, j)
		}
		switch {
		case j.Kind == Harvest:
			both := civil.Span{From: max(j.Window.From, w.Span.From), To: min(j.Window.To, w.Span.To)}
			w.Hours += j.Hours * quantity.Hour(both.Days()) / quantity.Hour(j.Window.Days())
		case begins:
			w.Hours += j.Hours
		}
	}
	return w
}
