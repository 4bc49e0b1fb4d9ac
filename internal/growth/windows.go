package growth

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
)

const (
	bridgedDays  = 3    // a gap so short does not part a window
	bridgedNear  = 14   // nor one so short on whose days the share is nearly met
	nearlyMet    = 0.1  // by how much less
	strayDays    = 3    // a window so short is left out beside longer ones
	nearlyBest   = 0.05 // share of the years by which a day may be less sure than the surest and still be the best
	lookedBeyond = 7    // days past a window's end whose failures give the reason
)

// Windows are the spans of start days on which at least share (0–1) of the years succeed.
//
// Some thirty years tell a share to about a tenth, and so two rules keep chance out of them. Gaps of up to three days
// are bridged, and gaps of up to a fortnight on whose days the share is missed by no more than a tenth. Strays of one to
// three days are left out where the option has a longer window.
//
// Source: estimate.
func (t *Table) Windows(share float64) []Window {
	spans := withoutStrays(t.spans(share))
	windows := make([]Window, len(spans))
	for k, span := range spans {
		best := t.best(span)
		windows[k] = Window{
			Span: span, Best: best, Days: t.Summary(best).Days,
			Opens: t.opens(span, share), Closes: t.closes(span, share),
		}
	}
	return windows
}

// spans are the runs of start days on which the share is met, gaps bridged.
func (t *Table) spans(share float64) (spans []civil.Span) {
	season := t.Climate.Season
	near := true // all days since the last that met the share nearly did
	for d := season.Start; d <= season.End(); d++ {
		chance := t.chance(d)
		if chance < share-1e-9 {
			near = near && chance >= share-nearlyMet-1e-9
			continue
		}
		bridged := bridgedDays
		if near {
			bridged = bridgedNear
		}
		if n := len(spans); n > 0 && int(d-spans[n-1].To) <= bridged+1 {
			spans[n-1].To = d
		} else {
			spans = append(spans, civil.Span{From: d, To: d})
		}
		near = true
	}
	return spans
}

// withoutStrays leaves out the spans of one to three days where there are longer ones.
func withoutStrays(spans []civil.Span) []civil.Span {
	stray := func(s civil.Span) bool { return int(s.To-s.From) < strayDays }
	if !slices.ContainsFunc(spans, func(s civil.Span) bool { return !stray(s) }) {
		return spans
	}
	return slices.DeleteFunc(spans, stray)
}

// best is the middle of the earliest run of good days: days on which nearly as many years succeed as on the surest of the span
// and which yield, over all years, nine tenths of what the best of those do. A day later in the year that is better by less is no reason
// to wait for it.
func (t *Table) best(span civil.Span) civil.Date {
	surest, most := 0, 0
	for d := span.From; d <= span.To; d++ {
		n, _ := t.worth(d)
		surest = max(surest, n)
	}
	sure := func(d civil.Date) (bool, int) {
		n, yield := t.worth(d)
		return float64(n) >= float64(surest)-nearlyBest*float64(len(t.Climate.Years))-1e-9, yield
	}
	for d := span.From; d <= span.To; d++ {
		if ok, yield := sure(d); ok {
			most = max(most, yield)
		}
	}
	good := func(d civil.Date) bool {
		ok, yield := sure(d)
		return ok && 10*yield >= 9*most
	}
	from := span.From
	for from < span.To && !good(from) {
		from++
	}
	to := from
	for d := from; d <= span.To && int(d-to) <= bridgedDays+1; d++ {
		if good(d) {
			to = d
		}
	}
	middle := from + (to-from)/2
	for middle > from && !good(middle) {
		middle--
	}
	return middle
}

// worth is the years that succeed from a start day, and what all of them yield together, in 255ths.
func (t *Table) worth(start civil.Date) (years, yield int) {
	for _, p := range t.of(start) {
		if p.cause == ready {
			years, yield = years+1, yield+int(p.yield)
		}
	}
	return years, yield
}

// opens says what keeps the days before the span out of it.
func (t *Table) opens(span civil.Span, share float64) Edge {
	if span.From == t.Climate.Season.Start {
		return Edge{opening: true}
	}
	return Edge{option: t.Option, why: t.commonest(span.From.Add(-lookedBeyond), span.From-1), opening: true, share: share}
}

// closes says what keeps the days after the span out of it.
func (t *Table) closes(span civil.Span, share float64) Edge {
	if span.To == t.Climate.Season.End() {
		return Edge{}
	}
	return Edge{option: t.Option, why: t.commonest(span.To+1, span.To.Add(lookedBeyond)), share: share}
}

// commonest is the commonest cause of failure of the start days from one to another.
func (t *Table) commonest(from, to civil.Date) cause {
	var count [len(fates)]int
	for d := from; d <= to; d++ {
		for _, p := range t.of(d) {
			count[p.cause]++
		}
	}
	most := outOfYear
	for why := ready + 1; int(why) < len(count); why++ {
		if count[why] > count[most] {
			most = why
		}
	}
	return most
}

// yearsOfTen is a share of years in words: "8 years of 10".
func yearsOfTen(share float64) string {
	if tenth := share * 10; math.Abs(tenth-math.Round(tenth)) < 1e-9 {
		return fmt.Sprintf("%.0f years of 10", tenth)
	}
	return fmt.Sprintf("%.0f %% of the years", share*100)
}
