package plan

import (
	"math"
	"sort"

	"kailyard/internal/civil"
	"kailyard/internal/growth"
)

// sowing is one option begun on one day: what the search needs to know of it, taken from its
// growth table once. Days are counted from the season's start.
type sowing struct {
	option  int       // index into problem.options
	start   int       // goes into the ground
	clear   int       // the ground is free from this day in the planner's share of years
	family  int       // index of the crop's family
	week    int       // the first week with a harvest
	yield   []float64 // mg per m² of ground at full light in each week from week on
	total   float64   // their sum
	promise float64   // mg per m² that a perennial will bear when grown, not in this season
	sum     growth.Summary
	best    bool // the best day of a window
}

// hold is the first day the ground must be free for preparation.
func (s *sowing) hold(turn int) int { return s.start - turn }

// horizonWeeks is the length of every weekly figure: the season and the year after.
func horizonWeeks(season civil.Season) int { return season.Weeks() + 53 }

// sowings are the start days of an option that succeed in at least the asked share of years: one
// in each week of the season (its first day) and the best day of each window.
func (p *problem) sowings(index, family int) []sowing {
	o := p.options[index]
	starts := map[civil.Date]bool{}
	for w := 0; w < p.season.Weeks(); w++ {
		starts[p.season.WeekStart(w)] = false
	}
	for _, w := range o.times.Windows(p.settings.Share) {
		starts[w.Best] = true
	}
	days := make([]civil.Date, 0, len(starts))
	for d := range starts {
		if p.season.Span().Has(d) {
			days = append(days, d)
		}
	}
	sort.Slice(days, func(i, j int) bool { return days[i] < days[j] })
	var out []sowing
	for _, d := range days {
		if s, ok := p.sowing(index, family, d); ok {
			s.best = starts[d]
			out = append(out, s)
		}
	}
	return out
}

// sowing reads one start day from the option's table; ok is false when too few years succeed.
func (p *problem) sowing(index, family int, start civil.Date) (sowing, bool) {
	o := p.options[index]
	sum := o.times.Summary(start)
	if !enough(sum, p.settings.Share) {
		return sowing{}, false
	}
	s := sowing{option: index, family: family, start: start.Since(p.season.Start), sum: sum}
	s.clear = p.clearDay(o, start, sum)
	if o.crop.Perennial {
		s.clear = 7 * horizonWeeks(p.season)
		if o.crop.Harvest.FirstYear > 1 {
			s.promise = float64(o.crop.Harvest.Yield) * 1e6 * float64(sum.Success) / float64(sum.Years)
			return s, true
		}
	}
	if s.clear <= s.start {
		return sowing{}, false
	}
	s.setYield(o.times.Harvest(start), float64(o.crop.Harvest.Yield)*1e6, horizonWeeks(p.season))
	return s, s.total > 0
}

// setYield keeps the run of weeks that bear.
func (s *sowing) setYield(share []float64, fullMG float64, weeks int) {
	first, last := -1, -1
	for w := 0; w < len(share) && w < weeks; w++ {
		if share[w] > 0 {
			if first < 0 {
				first = w
			}
			last = w
		}
	}
	if first < 0 {
		return
	}
	s.week = first
	s.yield = make([]float64, last-first+1)
	for i := range s.yield {
		s.yield[i] = math.Round(share[first+i] * fullMG)
		s.total += s.yield[i]
	}
}

// enough says whether a start day succeeds in the asked share of years.
func enough(s growth.Summary, share float64) bool {
	return s.Years > 0 && s.Success > 0 && float64(s.Success) >= share*float64(s.Years)-1e-9
}

// clearDay is the day after the last harvest in the asked share of the years that end with one,
// counted from the season's start: the promise to the next crop.
func (p *problem) clearDay(o option, start civil.Date, sum growth.Summary) int {
	var last []int
	for i := 0; i < sum.Years; i++ {
		if out := o.times.Outcome(start, i); out.Fate == growth.Ready {
			last = append(last, out.Last.Since(p.season.Start))
		}
	}
	if len(last) == 0 {
		return 0
	}
	sort.Ints(last)
	i := int(math.Ceil(p.settings.Share*float64(len(last))-1e-9)) - 1
	return last[max(i, 0)] + 1
}
