package season

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/water"
)

// stood puts the day that the journal has in place of the plan's where it tells when a planting went in or was cleared, and names what has
// gone in by the plan alone.
//
//	plantings  by key
func stood(q water.Question, plantings map[string]garden.Planting, journal []garden.Entry, day civil.Date) (water.Question, []string) {
	var unsaid []string
	q.Stands = slices.Clone(q.Stands)
	for i := range q.Stands {
		s := &q.Stands[i]
		p, known := plantings[s.Key]
		if !known || s.Settled {
			continue
		}
		in, said := firstEntry(journal, s.Key, wentIn(p.Way))
		if said && in < s.To {
			if s.Up > s.From {
				s.Up += in - s.From
			}
			s.From = in
		}
		out, cleared := firstEntry(journal, s.Key, func(k garden.EntryKind) bool { return k == garden.Cleared || k == garden.Failed })
		switch {
		case cleared && out >= s.From:
			s.To = min(s.To, out)
		case p.Ended():
			s.To = max(s.From, min(s.To, day))
		}
		if !said && p.Status != garden.InGround && s.From < day && s.To > day && !slices.Contains(unsaid, s.Name) {
			unsaid = append(unsaid, s.Name)
		}
	}
	return q, unsaid
}

// wentIn are the entries that tell of a planting's going into the ground.
func wentIn(way crop.Way) func(garden.EntryKind) bool {
	return func(k garden.EntryKind) bool { return k == garden.SetOut || k == garden.Sowed && way != crop.SetOut }
}

// firstEntry is the day of the first entry of some kinds about a planting.
func firstEntry(journal []garden.Entry, key string, of func(garden.EntryKind) bool) (day civil.Date, ok bool) {
	for _, e := range journal {
		if e.Planting == key && of(e.Kind) && (!ok || e.Date < day) {
			day, ok = e.Date, true
		}
	}
	return day, ok
}
