package season

import (
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

const (
	longestStand = 400 // d, from the earliest start that is looked at to the day
	bridged      = 3   // d, a gap so short does not part a span of start days (as in growth's windows)
)

// Ready answers "ready by": one way of growing a crop, and on which days it must go in to be ready on a day.
type Ready struct {
	Crop   *crop.Crop
	Method crop.Method
	Option growth.Option
	Units  quantity.System // in which it says what it says
	Day    civil.Date
	Share  float64 // 0–1, of the weather years, that was asked for
	Today  civil.Date
	Starts []growth.Readiness // day by day up to the day
	Fresh  Answer             // picked on the day
	Stored *Answer            // picked or from the store; nil for what does not keep
	Never  string             // why the question has no answer for this crop, else empty
}

// Answer is what the start days come to.
type Answer struct {
	Spans []civil.Span     // start days on which the share is reached, gaps of up to three days bridged
	Best  growth.Readiness // the surest start day: the middle of the longest run of equals
	Alone string           // when there is no span: what is in the way
}

// Can says whether the asked share is reached on any day.
func (a Answer) Can() bool { return len(a.Spans) > 0 }

// Earliest and Latest are the first and the last start day that reach the share.
func (a Answer) Earliest() civil.Date { return a.Spans[0].From }

// Latest is the last start day that reaches the share.
func (a Answer) Latest() civil.Date { return a.Spans[len(a.Spans)-1].To }

// Open is the spans from a day on: what can still be done.
func (a Answer) Open(from civil.Date) []civil.Span {
	var out []civil.Span
	for _, s := range a.Spans {
		if s.To >= from {
			out = append(out, civil.Span{From: max(s.From, from), To: s.To})
		}
	}
	return out
}

// Raised is the day on which plants for a start day are sown under cover; the day itself for what is not raised.
func (r Ready) Raised(start civil.Date) civil.Date {
	if r.Method.Way != crop.SetOut {
		return start
	}
	return start.Add(-int(math.Round(7 * r.Method.WeeksIndoors.Mid())))
}

// In is the same garden and record laid over another season, without its plan; the result is kept.
func (r *Result) In(s civil.Season) (*Result, error) {
	if s == r.Season {
		return r, nil
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if other, ok := r.others[s]; ok {
		return other, nil
	}
	g := r.Garden
	g.Wants, g.Standing = nil, nil
	other, err := Prepare(Input{Season: s, Garden: g, Record: r.Record, Crops: r.Crops, Years: r.limit})
	if err != nil {
		return nil, err
	}
	if r.others == nil {
		r.others = map[civil.Season]*Result{}
	}
	r.others[s] = other
	return other, nil
}

// Ready works back from a day: for every way of growing a crop, the start days from which it is ready on
// the day in a share of the weather years. The days may lie in several seasons, the one that holds the day
// and those before it; each is run through the weather years as it falls.
func (r *Result) Ready(c *crop.Crop, day civil.Date, share float64, today civil.Date) ([]Ready, error) {
	return r.ready(c, day, share, today, func(in *Result, m int) *growth.Table { return in.Table(c.ID, m) })
}

// ReadyAll is Ready for the whole catalogue: what can be on the table on a day. Its tables are not kept.
func (r *Result) ReadyAll(day civil.Date, share float64, today civil.Date) ([]Ready, error) {
	var out []Ready
	for _, c := range r.Crops.All() {
		if c.Group == crop.Cover {
			continue // nobody eats it
		}
		list, err := r.ready(c, day, share, today, func(in *Result, m int) *growth.Table {
			return growth.Tabulate(in.Climate, []growth.Option{{Crop: c, Method: m}})[0]
		})
		if err != nil {
			return nil, err
		}
		out = append(out, list...)
	}
	return out, nil
}

func (r *Result) ready(c *crop.Crop, day civil.Date, share float64, today civil.Date, table func(in *Result, method int) *growth.Table) ([]Ready, error) {
	var out []Ready
	keeps := c.Harvest.StoreDays
	for m := range c.Methods {
		a := Ready{
			Crop: c, Method: c.Methods[m], Option: growth.Option{Crop: c, Method: m}, Units: r.Garden.Site.Units,
			Day: day, Share: share, Today: today,
		}
		if c.BearsLater() {
			a.Never = fmt.Sprintf("It bears fully in year %d after planting, and then at its own time each year: no start day can be chosen for a single day.", c.Harvest.FirstYear)
			out = append(out, a)
			continue
		}
		for d := day.Add(-longestStand - keeps); d <= day; {
			in, err := r.In(civil.SeasonHolding(d, r.Garden.Site.Latitude))
			if err != nil {
				return nil, err
			}
			t := table(in, m)
			if t == nil {
				return nil, fmt.Errorf("the catalogue has no crop %q", c.ID)
			}
			for ; d <= min(day, in.Season.End()); d++ {
				a.Starts = append(a.Starts, t.ReadyOn(d, day, keeps))
			}
		}
		a.Fresh = a.answer(growth.Readiness.Chance)
		if keeps > 0 {
			s := a.answer(growth.Readiness.ChanceKept)
			a.Stored = &s
		}
		out = append(out, a)
	}
	return out, nil
}

// answer finds the spans and the surest day by one of the two chances.
func (r Ready) answer(chance func(growth.Readiness) float64) Answer {
	var a Answer
	var run civil.Span
	best, longest := -1.0, civil.Span{To: -1}
	for _, s := range r.Starts {
		c := chance(s)
		if c >= r.Share-1e-9 && c > 0 {
			if n := len(a.Spans); n > 0 && s.Start.Since(a.Spans[n-1].To) <= bridged+1 {
				a.Spans[n-1].To = s.Start
			} else {
				a.Spans = append(a.Spans, civil.Span{From: s.Start, To: s.Start})
			}
		}
		switch {
		case c > best+1e-9:
			best, run, longest = c, civil.Span{From: s.Start, To: s.Start}, civil.Span{From: s.Start, To: s.Start}
		case c > best-1e-9:
			if s.Start.Since(run.To) == 1 {
				run.To = s.Start
			} else {
				run = civil.Span{From: s.Start, To: s.Start}
			}
			if run.Days() > longest.Days() {
				longest = run
			}
		}
	}
	if len(r.Starts) == 0 {
		return a
	}
	middle := longest.From.Add((longest.Days() - 1) / 2)
	a.Best = r.Starts[middle.Since(r.Starts[0].Start)]
	if !a.Can() {
		a.Alone = r.inTheWay(a.Best, longest, chance)
	}
	return a
}
