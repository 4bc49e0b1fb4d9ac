package plan

import (
	"math"
	"slices"
	"sort"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
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
	brief   bool // taken whole as soon as it is ready, from among a slow crop's plants or its drill
	wait    int  // weeks of harvest away from the best time for its want
	early   bool // its harvest begins in the first third of the weeks that can serve its want
	late    bool // or in the last
	unusual bool // by another method than the crop's usual one
	lag     int  // days by which it is later than in full light: for the beds that shade makes so late
	idle    bool // under a cover that it would not need: only for a want that asks for it
}

// hold is the first day the ground must be free for preparation.
func (s *sowing) hold(turn int) int { return s.start - turn }

// horizonWeeks is the length of every weekly figure: the season and the year after.
func horizonWeeks(season civil.Season) int { return season.Weeks() + 53 }

// overwinterWeeks is how late in its window a crop that stands over winter is planted: the last
// weeks before the ground is closed (common practice: no top growth to speak of before winter). Source: PLAN-PRACTICE.
const overwinterWeeks = 6

// briefDays is how long after it is ready a marker may stay in the slow drill, and a leaf crop that is
// cut whole between slow plants.
const briefDays = 7

// cutWhole is the share of a cut-and-come-again crop's yield that one cut of the whole plant gives
// (estimate). Source: PLAN-PRACTICE.
const cutWhole = 0.5

// sowings are the start days of an option that succeed in at least the asked share of years: one
// in each week of the season (its first day) and the best day of each window.
func (p *problem) sowings(index, family int) []sowing {
	o := p.options[index]
	if o.cover != nil && !p.mayCover(o) {
		return nil
	}
	windows := o.times.Windows(p.settings.Share)
	var out []sowing
	days := append(p.startDays(windows), p.oldStarts(o)...)
	slices.Sort(days)
	for _, d := range slices.Compact(days) {
		idle := p.coverIdle(o, d)
		if outgrown(o, d) || idle && !p.asksFor(o) {
			continue
		}
		for _, lag := range p.lags(o, d) {
			s, ok := p.sowing(index, family, d, lag)
			s.idle = idle
			if !ok || p.nextSeason(&s) || p.tooSoonForWinter(windows, &s) || runsToSeed(o.crop, &s) {
				continue
			}
			out = append(out, s)
		}
	}
	return p.setInAutumn(o, out)
}

// startDays are the days on which an option with such windows may be begun, in order.
func (p *problem) startDays(windows []growth.Window) []civil.Date {
	var days []civil.Date
	for w := 0; w < p.season.Weeks(); w++ {
		days = append(days, p.season.WeekStart(w))
	}
	for _, w := range windows {
		days = append(days, w.Best)
	}
	days = slices.DeleteFunc(days, func(d civil.Date) bool { return !p.season.Span().Has(d) })
	slices.Sort(days)
	return slices.Compact(days)
}

// runsToSeed says whether a root, stem or head would go through a winter half grown: in spring it
// flowers instead of filling out (common practice). Source: PLAN-PRACTICE.
func runsToSeed(c *crop.Crop, s *sowing) bool {
	const halfYear = 200
	switch c.Harvest.Part {
	case "root", "head", "stem":
		return !c.Perennial && s.sum.Days[1] > halfYear
	}
	return false
}

// winterStand is the least days from start to harvest of what stands over a winter: what is ready
// sooner has met none. Source: PLAN-PRACTICE.
const winterStand = 100

// nextSeason says whether a sowing is food for the next season only: it begins to bear after this
// one's end without having to stand over a winter first.
func (p *problem) nextSeason(s *sowing) bool {
	o := p.options[s.option]
	if s.sum.First.P50 <= p.season.End() || o.crop.Perennial {
		return false
	}
	return !o.crop.Hardiness.Overwinters || s.sum.Days[1] < winterStand
}

// setInAutumn keeps only the autumn settings of a bulb that stands a hard winter, where there are
// any: garlic and its like make small bulbs without a winter behind them (common practice).
// Source: PLAN-PRACTICE.
func (p *problem) setInAutumn(o option, all []sowing) []sowing {
	const hardWinter = -17 // °C
	if o.how().Way != crop.Set || o.crop.Harvest.Part != "bulb" || !o.crop.Hardiness.Overwinters || o.crop.Hardiness.Dormant > hardWinter {
		return all
	}
	autumn := slices.DeleteFunc(slices.Clone(all), func(s sowing) bool { return s.sum.First.P50 <= p.season.End() })
	if len(autumn) == 0 {
		return all
	}
	return autumn
}

// tooSoonForWinter says whether a sowing first harvested after the season could wait: its window
// stays open for more than overwinterWeeks.
func (p *problem) tooSoonForWinter(windows []growth.Window, s *sowing) bool {
	if s.sum.First.P50 <= p.season.End() || p.options[s.option].crop.Perennial {
		return false
	}
	for _, w := range windows {
		if w.Has(s.sum.Start) {
			return w.To-s.sum.Start > 7*overwinterWeeks
		}
	}
	return false
}

// markersFor are the sowings of a quick option to mark slow drills with: one for each day on which
// a slow row may be sown.
func (f *field) markersFor(index, family int) []sowing {
	if o := f.options[index]; o.cover != nil || !o.crop.Practice.Marker || o.how().Way != crop.Sow {
		return nil
	}
	var days []int
	for i := range f.sows {
		o := f.options[f.sows[i].option]
		if o.crop.Practice.SlowRow && o.how().Way == crop.Sow && !slices.Contains(days, f.sows[i].start) {
			days = append(days, f.sows[i].start)
		}
	}
	sort.Ints(days)
	var out []sowing
	for _, day := range days {
		start := f.season.Start.Add(day)
		for _, lag := range f.lags(f.options[index], start) {
			if s, ok := f.sowing(index, family, start, lag); ok {
				if m, ok := f.takenWhole(s, start); ok {
					out = append(out, m)
				}
			}
		}
	}
	return out
}

// cutsFor are the sowings of a leaf crop counted by the head but picked for weeks, cut whole as soon as it
// is ready: so it may stand between slow plants.
func (f *field) cutsFor(index int) []sowing {
	if c := f.options[index].crop; c.Harvest.Manner != crop.Repeated || c.Harvest.Part != "leaf" || c.Harvest.Unit != "head" || c.Perennial {
		return nil
	}
	var out []sowing
	for _, s := range f.sows {
		if s.option != index || s.brief {
			continue
		}
		if cut, ok := f.takenWhole(s, s.sum.Start); ok {
			out = append(out, cut)
		}
	}
	return out
}

// takenWhole is the same sowing taken whole within briefDays of being ready.
func (p *problem) takenWhole(s sowing, start civil.Date) (sowing, bool) {
	o := p.options[s.option]
	s.brief = true
	share := 1.0
	if o.crop.Harvest.Manner == crop.Repeated {
		share = cutWhole
	}
	weeks := make([]float64, horizonWeeks(p.season))
	var out []int
	for i := 0; i < s.sum.Years; i++ {
		y := o.outcome(start, i, s.lag)
		if y.Fate != growth.Ready {
			continue
		}
		first := y.First.Since(p.season.Start)
		out = append(out, first+briefDays)
		for day := first; day < first+briefDays; day++ {
			if w := day / 7; w < len(weeks) {
				weeks[w] += share * y.Yield / briefDays / float64(s.sum.Years)
			}
		}
	}
	s.clear = p.quantile(out)
	s.yield, s.total = nil, 0
	s.setYield(weeks, float64(o.crop.Harvest.Yield)*1e6, len(weeks))
	for _, d := range []struct{ last, first *civil.Date }{{&s.sum.Last.P10, &s.sum.First.P10}, {&s.sum.Last.P50, &s.sum.First.P50}, {&s.sum.Last.P90, &s.sum.First.P90}} {
		*d.last = d.first.Add(briefDays - 1)
	}
	return s, s.total > 0
}

// begun is the day on which an option's first work for a start day falls: the sowing under cover
// of what is set out, else the start day itself.
func begun(o option, start civil.Date) civil.Date {
	if m := o.how(); m.Way == crop.SetOut {
		return raised(m, start)
	}
	return start
}

// sowing reads one start day from the option's table, its harvest a delay later; ok is false when too few years succeed.
func (p *problem) sowing(index, family int, start civil.Date, lag int) (sowing, bool) {
	o := p.options[index]
	if begun(o, start) < p.from {
		return sowing{}, false
	}
	sum := o.summary(start, lag)
	if !enough(sum, p.settings.Share) {
		return sowing{}, false
	}
	s := sowing{option: index, family: family, start: start.Since(p.season.Start), sum: sum, lag: lag}
	s.clear = p.clearDay(o, start, sum, lag)
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
	s.setYield(untilCleared(o.harvest(start, lag), s.clear), float64(o.crop.Harvest.Yield)*1e6, horizonWeeks(p.season))
	return s, s.total > 0
}

// untilCleared is a harvest by week without the weeks after the ground is promised to the next crop: in
// a year in which more could be picked then it is not.
func untilCleared(share []float64, clear int) []float64 {
	return share[:min(len(share), (clear+6)/7)]
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
func (p *problem) clearDay(o option, start civil.Date, sum growth.Summary, lag int) int {
	var last []int
	for i := 0; i < sum.Years; i++ {
		if out := o.outcome(start, i, lag); out.Fate == growth.Ready {
			last = append(last, out.Last.Since(p.season.Start))
		}
	}
	if len(last) == 0 {
		return 0
	}
	return p.quantile(last) + 1
}

// quantile is the day by which the asked share of the days have come.
func (p *problem) quantile(days []int) int {
	sort.Ints(days)
	i := int(math.Ceil(p.settings.Share*float64(len(days))-1e-9)) - 1
	return days[max(i, 0)]
}

// weigh counts how far the harvest of each sowing of a want is from the best time. Fresh food, and what one
// sowing a year serves, is wanted early; roots and heads for the store are wanted late. A season's
// total that can be picked over many weeks is wanted at both ends of them, a part each, but for what one planting bears through. A method
// other than the crop's usual one is a little more trouble.
func (f *field) weigh(d *demand) {
	first, last := f.weeksOf(d.sowings)
	store := slices.ContainsFunc(d.crops, func(c *crop.Crop) bool {
		return c.Harvest.StoreDays >= storeDays && c.Practice.Succession > 0
	})
	for _, k := range append(slices.Clone(d.sowings), d.brief...) {
		s := &f.sows[k]
		c := f.options[s.option].crop
		w := f.firstWeek(k)
		switch {
		case d.weekly != nil:
		case store:
			s.wait = min(last-w, longWait)
		default:
			s.wait = min(max(w-first, 0), longWait)
		}
		if d.weekly == nil && last-first >= manyWeeks && !c.Perennial && !bearsOn(c) {
			s.early, s.late = w <= first+(last-first)/3, w >= last-(last-first)/3
		}
		s.unusual = f.options[s.option].method > 0
	}
}

// bearsOn says whether one planting of a crop bears for weeks, so that nobody plants it again for either end of a season's total: tomatoes,
// peppers, pole beans (common practice). What is sown in succession is. Source: PLAN-PRACTICE.
func bearsOn(c *crop.Crop) bool {
	part := c.Harvest.Part
	return c.Harvest.Manner == crop.Repeated && c.Practice.Succession == 0 && (part == "fruit" || part == "pod")
}

// thisSeason leaves a season's total those sowings that begin to bear in the season, where there are
// any: what stands over the winter is then the next season's.
func (f *field) thisSeason(d *demand) {
	if d.weekly != nil {
		return
	}
	inTime := slices.DeleteFunc(slices.Clone(d.sowings), func(k int) bool {
		s := &f.sows[k]
		return s.sum.First.P50 > f.season.End() && !f.options[s.option].crop.Perennial
	})
	if len(inTime) > 0 {
		d.sowings = inTime
	}
}

// weeksOf is the first and the last week in which the harvest of some sowings begins.
func (f *field) weeksOf(sowings []int) (first, last int) {
	first, last = 1<<30, 0
	for _, k := range sowings {
		w := f.firstWeek(k)
		first, last = min(first, w), max(last, w)
	}
	return first, last
}

// longWait is the most weeks that count against a harvest away from its best time: beyond a
// quarter of the year it is another season's food, not a later one. manyWeeks is how far the first and
// the last possible harvest of a total lie apart before a part is wanted at either end.
const (
	longWait  = 13
	manyWeeks = 12
)

// storeDays is how long a harvest keeps that is grown for the store.
const storeDays = 60

// firstWeek is the week of the first harvest; a perennial's is that of its planting.
func (f *field) firstWeek(k int) int {
	s := &f.sows[k]
	if len(s.yield) == 0 {
		return s.start / 7
	}
	return s.week
}
