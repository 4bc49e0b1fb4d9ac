package web

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/work"
)

// undated says whether no weather year dates a planting's harvest: so it is with perennials that
// stand from years before.
func undated(p *garden.Planting) bool { return p.First == (garden.Spread{}) }

// inSeason says whether a planting's harvest is dated by its job alone, without a spread.
func inSeason(p *garden.Planting) bool {
	return !undated(p) && p.First.P10 == p.First.P90 && p.Last.P10 == p.Last.P90
}

// harvests are the days on which the season's jobs harvest each planting, by its key.
func harvests(jobs []work.Job) map[string]civil.Span {
	days := map[string]civil.Span{}
	for _, j := range jobs {
		if j.Kind != work.Harvest {
			continue
		}
		for _, key := range append(slices.Clone(j.Serves), j.Planting) {
			if d, ok := days[key]; ok {
				days[key] = civil.Span{From: min(d.From, j.Window.From), To: max(d.To, j.Window.To)}
			} else {
				days[key] = j.Window
			}
		}
	}
	return days
}

// dated is a planting with its harvest taken from the season's jobs where no weather year dates it,
// so that no page says otherwise than the jobs do.
func dated(p *garden.Planting, days map[string]civil.Span) *garden.Planting {
	if p.Status == garden.Lost {
		q := p.AsItStands()
		return &q
	}
	d, ok := days[p.Key]
	if !undated(p) || !ok {
		return p
	}
	q := *p
	q.First = garden.Spread{P10: d.From, P50: d.From, P90: d.From}
	q.Last = garden.Spread{P10: d.To, P50: d.To, P90: d.To}
	return &q
}

// plantingOf is the planting with a key, its harvest dated as well as can be.
func plantingOf(now *season.Result, key string) (*garden.Planting, bool) {
	p, ok := now.Planting(key)
	if !ok {
		return nil, false
	}
	return dated(&p, harvests(now.Jobs)), true
}
