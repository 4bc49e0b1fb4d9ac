package plan

import (
	"cmp"
	"slices"

	"kailyard/internal/allot"
)

// This file bounds a plan that is valued by the weather years. Worth is concave, so that the mean of a want's worths over some years
// does not exceed the worth of its mean harvest in them: taken span by span, poor years, middling and good ones, the bound lies
// nearer than by the mean of all. Whatever years are put together it holds.

// span is weather years taken together, and their share of all; no years stand for the mean that the search goes by.
type span struct {
	years []int
	share float64
}

// spansOfYears is how many a want's years are put into. Source: PLAN-PRACTICE.
const spansOfYears = 3

// part is what a span's share of pieces is worth.
func (s span) part(pieces []allot.Piece) []allot.Piece {
	out := slices.Clone(pieces)
	for i := range out {
		out[i].ValuePerKilogram *= s.share
	}
	return out
}

// spans are the years each want is valued by: all as one where their mean counts; the poorest tenth; or a third of the years each. A
// want's years go by what its sowings yield in them.
func (f *field) spans(risk int) [][]span {
	out := make([][]span, len(f.wants))
	years := 0
	if risk != byMeanHarvest {
		years = f.weatherYears()
	}
	if years > 0 && f.yearlies == nil {
		f.yearlies = make([]*yearly, len(f.sows))
	}
	for i := range out {
		switch order := f.poorestFirst(i, years); {
		case years == 0:
			out[i] = []span{{nil, 1}}
		case risk == byPoorestTenth:
			out[i] = []span{{order[:max(1, years/10)], 1}}
		default:
			for k := range spansOfYears {
				these := order[k*years/spansOfYears : (k+1)*years/spansOfYears]
				out[i] = append(out[i], span{these, float64(len(these)) / float64(years)})
			}
			out[i] = slices.DeleteFunc(out[i], func(s span) bool { return len(s.years) == 0 })
		}
	}
	return out
}

// poorestFirst is the weather years by what a want's sowings yield in them.
func (f *field) poorestFirst(want, years int) []int {
	sum := make([]float64, years)
	order := make([]int, years)
	for i := range order {
		order[i] = i
	}
	if years == 0 {
		return nil
	}
	for _, sow := range f.wants[want].sowings {
		for i, mg := range f.byYear(sow, years).total {
			sum[i] += mg
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(sum[a], sum[b]) })
	return order
}

// meanIn is what a sowing yields by week, and in all, in the mean of a span's years.
func (f *field) meanIn(sow int, of span) (weeks []float64, total float64) {
	s := &f.sows[sow]
	if of.years == nil {
		return s.yield, s.total
	}
	y := f.byYear(sow, f.weatherYears())
	weeks = make([]float64, y.weeks)
	for _, i := range of.years {
		for w, mg := range y.mg[i*y.weeks : (i+1)*y.weeks] {
			weeks[w] += mg / float64(len(of.years))
		}
		total += y.total[i] / float64(len(of.years))
	}
	return weeks, total
}

// extra is the supply of a want's promise; those of drills marked and of ground covered among its plants follow.
func (m *market) extra(want int) int { return m.ends[want] + 2*len(m.spans[want]) }
