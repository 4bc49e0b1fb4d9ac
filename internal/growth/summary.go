package growth

import (
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// Summary sums up a start day.
func (t *Table) Summary(start civil.Date) Summary {
	s := Summary{Start: start, Years: len(t.Climate.Years)}
	var up, first, last []int
	for _, p := range t.of(start) {
		fate := fates[p.cause]
		s.Fates[fate]++
		s.Losses.count(p.cause)
		if p.emerge >= 0 {
			up = append(up, int(p.emerge))
		}
		if fate == Ready {
			first = append(first, int(p.first))
			last = append(last, int(p.last))
			s.Yield += float64(p.yield) / 255
		}
	}
	s.Success = len(first)
	s.Yield /= float64(s.Years)
	s.Emerge, s.First, s.Last = spread(start, up), spread(start, first), spread(start, last)
	if len(first) > 0 {
		s.Days = [3]int{quantile(first, 10), quantile(first, 50), quantile(first, 90)}
	}
	return s
}

// Lack is why no start day of the season will do, where none does.
func (t *Table) Lack() Lack {
	var l Lack
	for d := t.Climate.Season.Start; d <= t.Climate.Season.End(); d++ {
		l.Look(t.Option, t.Summary(d))
	}
	return l
}

// spread is the dates by which a share of the years have come so far; it sorts the days. Zero without years.
func spread(start civil.Date, days []int) garden.Spread {
	if len(days) == 0 {
		return garden.Spread{}
	}
	slices.Sort(days)
	return garden.Spread{P10: start.Add(quantile(days, 10)), P50: start.Add(quantile(days, 50)), P90: start.Add(quantile(days, 90))}
}

// quantile is the smallest of the sorted values that at least percent of them do not exceed.
func quantile[T any](sorted []T, percent int) T {
	return sorted[max((len(sorted)*percent+99)/100-1, 0)]
}

// Harvest is the mean share of the full yield taken in each week of the season and the year after
// (index 0 is the season's first week), from a start day. A harvest is spread evenly from first to last.
func (t *Table) Harvest(start civil.Date) []float64 {
	c := t.Climate
	weeks := make([]float64, (c.Season.Days+Tail+6)/7)
	s := start.Since(c.Season.Start)
	for _, p := range t.of(start) {
		if p.cause != ready || p.yield == 0 {
			continue
		}
		daily := float64(p.yield) / 255 / float64(p.last-p.first+1) / float64(len(c.Years))
		for day := s + int(p.first); day <= s+int(p.last); day++ {
			if w := day / 7; w < len(weeks) {
				weeks[w] += daily
			}
		}
	}
	return weeks
}

// chance is the share of years that succeed from a start day.
func (t *Table) chance(start civil.Date) float64 {
	n := 0
	for _, p := range t.of(start) {
		if p.cause == ready {
			n++
		}
	}
	return float64(n) / math.Max(float64(len(t.Climate.Years)), 1)
}
