package growth

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
)

const (
	bridgedDays  = 3   // a gap so short does not part a window
	bridgedNear  = 14  // nor one so short on whose days the share is nearly met
	nearlyMet    = 0.1 // by how much less
	strayDays    = 3   // a window so short is left out beside longer ones
	lookedBeyond = 7   // days past a window's end whose failures give the reason
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

// best is the start day of the span with the highest chance; of equals that with the higher mean yield, then
// the earliest.
func (t *Table) best(span civil.Span) civil.Date {
	best, chance, yield := span.From, -1, -1
	for d := span.From; d <= span.To; d++ {
		c, y := 0, 0
		for _, p := range t.of(d) {
			if p.cause == ready {
				c, y = c+1, y+int(p.yield)
			}
		}
		if c > chance || c == chance && y > yield {
			best, chance, yield = d, c, y
		}
	}
	return best
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
