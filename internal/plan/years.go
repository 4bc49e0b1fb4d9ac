package plan

import (
	"math"
	"math/rand/v2"
	"slices"

	"kailyard/internal/crop"
	"kailyard/internal/growth"
)

// This file values a plan by the weather years and not by their mean, where the person asks for that. A want's harvest is told apart by
// year, what it is worth is reckoned in each, and the want counts with the mean of those worths over all years, or over the poorest
// tenth of its years. The search first goes by the mean harvest, which is quick to reckon; what that finds is then valued by every
// year and fitted to them.
//
// Worth is concave in the harvest: what a year has too much brings less than what another lacks takes away. So the mean of the worths
// does not exceed the worth of the mean harvest, nor the mean over the poorest years that over all; and what bounds the first, as the
// relaxation does, bounds all three.

// How the weather years count, by the setting risk.
const (
	byMeanHarvest  = 0 // a good year makes up for a poor one
	byEveryYear    = 1
	byPoorestTenth = 2
)

// yearly is what a sowing yields in each weather year.
type yearly struct {
	weeks int       // in a year
	mg    []float64 // per m² of ground at full light, year by year, from the sowing's first week on
	total []float64 // by year
}

// weatherYears is the number of weather years of the tables.
func (p *problem) weatherYears() int {
	if p.ofYears == 0 {
		for _, o := range p.options {
			p.ofYears = max(p.ofYears, o.times.Summary(p.season.Start).Years)
		}
	}
	return p.ofYears
}

// byYear is what a sowing yields in each weather year, read once. In each week it comes to the mean that the search goes by.
func (f *field) byYear(sow, years int) *yearly {
	if y := f.yearlies[sow]; y != nil {
		return y
	}
	s := &f.sows[sow]
	o, n := f.options[s.option], len(s.yield)
	y := &yearly{weeks: n, mg: make([]float64, n*years), total: make([]float64, years)}
	for i := range years {
		of := o.outcome(s.sum.Start, i, s.lag)
		if of.Fate != growth.Ready {
			continue
		}
		last, share := of.Last, of.Yield
		if s.brief {
			last = of.First.Add(briefDays - 1)
			if o.crop.Harvest.Manner == crop.Repeated {
				share *= cutWhole
			}
		}
		daily := share * float64(o.crop.Harvest.Yield) * 1e6 / float64(last-of.First+1)
		for d := of.First; d <= last; d++ {
			if w := d.Since(f.season.Start)/7 - s.week; w >= 0 && w < n {
				y.mg[i*n+w] += daily
			}
		}
	}
	for w, asked := range s.yield {
		sum := 0.0
		for i := range years {
			sum += y.mg[i*n+w]
		}
		for i := range years {
			if mg := &y.mg[i*n+w]; sum > 0 {
				*mg = math.Floor(*mg * asked * float64(years) / sum)
			} else {
				*mg = math.Floor(asked)
			}
			y.total[i] += y.mg[i*n+w]
		}
	}
	f.yearlies[sow] = y
	return y
}

// harvests are a want's harvest by year, and in it by week.
type harvests struct {
	weeks []int64 // of a weekly want: year by year
	total []int64 // of a season's total, by year
	ends  []ends
}

// onEveryYear lets a state value its plan by weather year from now on, where the person asks for that.
func (s *state) onEveryYear() {
	if s.settings.Risk == byMeanHarvest || s.years > 0 {
		return
	}
	if s.years = s.weatherYears(); s.years == 0 {
		return
	}
	if s.yearlies == nil {
		s.yearlies = make([]*yearly, len(s.sows))
	}
	s.inYear, s.byWorth = make([]harvests, len(s.wants)), make([]int64, s.years)
	longest := 0
	for i := range s.wants {
		d := &s.wants[i]
		s.inYear[i] = harvests{total: make([]int64, s.years), ends: make([]ends, s.years)}
		var fixed int64
		for _, mg := range d.fixed {
			fixed += mg
		}
		for y := range s.years {
			s.inYear[i].total[y] = fixed
			if d.weekly != nil {
				s.inYear[i].weeks = append(s.inYear[i].weeks, d.fixed...)
			}
		}
		longest = max(longest, len(s.inYear[i].weeks))
	}
	s.trialYear = harvests{make([]int64, longest), make([]int64, s.years), make([]ends, s.years)}
	for slot := range s.slots {
		if x := &s.slots[slot]; x.live && !x.fixed {
			s.reapYears(&s.inYear[x.want], x, 1)
		}
	}
	for i := range s.wants {
		s.reckon(i)
	}
}

// reapYears adds (sign 1) or takes away (−1) a planting's harvest in each year.
func (s *state) reapYears(c *harvests, x *placed, sign int64) {
	sow := &s.sows[x.sow]
	y := s.byYear(x.sow, s.years)
	if s.wants[x.want].weekly == nil {
		for i, total := range y.total {
			mg := sign * int64(total*x.full)
			c.total[i] += mg
			c.ends[i].add(sow, mg)
		}
		return
	}
	n := len(c.weeks) / s.years
	for i := range s.years {
		at := c.weeks[i*n+sow.week:]
		for w, mg := range y.mg[i*y.weeks : (i+1)*y.weeks] {
			at[w] += sign * int64(mg*x.full)
		}
	}
}

// worthOver is what harvests by year are worth to a want, as the person minds the poor years.
func (s *state) worthOver(want int, c *harvests, promise int64) int64 {
	d := &s.wants[want]
	n := len(c.weeks) / s.years
	var sum int64
	for i := range s.years {
		var weeks []int64
		if n > 0 {
			weeks = c.weeks[i*n : (i+1)*n]
		}
		v := d.value(weeks, c.total[i], promise, c.ends[i], s.scratch)
		s.byWorth[i] = v
		sum += v
	}
	if s.settings.Risk == byEveryYear {
		return sum / int64(s.years)
	}
	slices.Sort(s.byWorth)
	few, poor := max(1, s.years/10), int64(0)
	for _, v := range s.byWorth[:few] {
		poor += v
	}
	return poor / int64(few)
}

// gainOver is gain, by year.
func (s *state) gainOver(x *placed) int64 {
	t := s.trialYear
	have := &s.inYear[x.want]
	t.weeks = t.weeks[:len(have.weeks)]
	copy(t.weeks, have.weeks)
	copy(t.total, have.total)
	copy(t.ends, have.ends)
	s.reapYears(&t, x, 1)
	promise := s.promise[x.want] + int64(s.sows[x.sow].promise*x.full)
	return s.worthOver(x.want, &t, promise) - s.worth[x.want] + s.markGain(x) - s.cost(x)
}

// fitToYears fits a plan that was found by the mean harvest to the weather years.
func (s *state) fitToYears() {
	if s.onEveryYear(); s.years == 0 {
		return
	}
	s.tidy()
	s.fill()
	s.climb(s.settings.Rounds / climbShare)
	s.tidy()
	s.fill()
}

// climbShare: a plan is fitted to the weather years by so many times fewer changes than it was sought with; each takes longer.
const climbShare = 20

// climb makes random changes and keeps those that lose nothing.
func (s *state) climb(rounds int) {
	if len(s.sows) == 0 || len(s.plots) == 0 {
		return
	}
	m := &mover{state: s, r: rand.New(rand.NewPCG(uint64(s.settings.Seed), 0x79656172))}
	for range rounds {
		s.log = s.log[:0]
		before := s.value
		if m.move(); s.value < before {
			s.undo(0)
		}
	}
	s.log = s.log[:0]
}
