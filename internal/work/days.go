package work

import (
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// days are the days a planting's jobs hang on, put in order even where the plan's spread is empty
// (a planting that never succeeded, a kept planting without a forecast).
type days struct {
	raise, harden civil.Date // SetOut only
	start         civil.Date
	emerge        garden.Spread // start itself for plants set out
	first, last   garden.Spread
	clear         civil.Date // first day the ground is free
}

// Days used where the crop or the plan gives none; common practice.
const (
	usualHardening = 7 // days
	usualWeeks     = 6 // weeks from seed to setting out
)

func (d *desk) days(p *garden.Planting) days {
	m := d.method(p)
	t := days{start: p.Start, emerge: p.Emerge, first: p.First, last: p.Last, clear: p.Clear}
	if p.Way == crop.SetOut || t.emerge.P50 < p.Start {
		t.emerge = garden.Spread{P10: p.Start, P50: p.Start, P90: p.Start}
	}
	if t.first.P50 <= t.emerge.P50 {
		guess := max(p.Start.Add(max(14, int(m.Days.Mid()))), t.emerge.P50+7)
		t.first = garden.Spread{P10: guess, P50: guess, P90: guess}
	}
	t.first.P10 = max(min(t.first.P10, t.first.P50), t.start+2)
	t.first.P90 = max(t.first.P90, t.first.P50)
	t.last.P50 = max(t.last.P50, t.first.P50)
	t.last.P10 = max(min(t.last.P10, t.last.P50), t.first.P10)
	t.last.P90 = max(t.last.P90, t.last.P50, t.first.P90)
	t.clear = max(t.clear, t.first.P10+2)
	if p.Way == crop.SetOut {
		t.harden = p.Start.Add(-hardening(m))
		t.raise = t.harden - 14
		if p.RaiseOn != nil && *p.RaiseOn < t.harden {
			t.raise = *p.RaiseOn
		} else if w := m.WeeksIndoors.Mid(); w > 0 {
			t.raise = min(t.harden-7, p.Start.Add(-int(w*7)))
		}
	}
	return t
}

func hardening(m crop.Method) int {
	if m.Hardening > 0 {
		return m.Hardening
	}
	return usualHardening
}

// firstUse is the day its seed, sets or plants are first needed.
func (d *desk) firstUse(p *garden.Planting) civil.Date {
	if p.Way == crop.SetOut {
		return d.days(p).raise
	}
	return p.Start
}

// lastToGoIn is the last day the planting still serves when it is put off: at most a week past its
// day, not past its window, and a third of the way to the next sowing of a succession.
func (d *desk) lastToGoIn(p *garden.Planting) civil.Date {
	last := p.Start + 7
	if n := d.crop(p).Practice.Succession; n > 0 {
		last = min(last, p.Start.Add(max(2, n/3)))
	}
	if w, ok := d.window(p); ok {
		last = min(last, max(w.To, p.Start))
	}
	return min(last, max(p.Start, d.days(p).first.P10-2))
}

// window is the planting's span of good start days, from its growth table.
func (d *desk) window(p *garden.Planting) (span civil.Span, ok bool) {
	key := option{p.CropID, p.Method, p.Protection}
	t := d.tables[key]
	if t == nil || t.Climate == nil || d.success <= 0 {
		return civil.Span{}, false
	}
	windows, ok := d.windows[key]
	if !ok {
		windows = t.Windows(d.success)
		d.windows[key] = windows
	}
	for _, w := range windows {
		if w.Has(p.Start) {
			return w.Span, true
		}
	}
	return civil.Span{}, false
}

// groundNext is the planting that uses the ground next after this one; nil when none in the plan does.
func (d *desk) groundNext(p *garden.Planting) *garden.Planting {
	var who *garden.Planting
	for _, o := range d.inBed[p.BedID] {
		if o.Key != p.Key && o.Start >= p.Clear && (who == nil || o.Start < who.Start) && o.Place.Meets(p.Place) {
			who = o
		}
	}
	return who
}

// groundBefore is the planting that held the ground last before this one; nil when none in the plan did.
func (d *desk) groundBefore(p *garden.Planting) *garden.Planting {
	var who *garden.Planting
	for _, o := range d.inBed[p.BedID] {
		if o.Key != p.Key && o.Clear <= p.Start && o.Place.Meets(p.Place) && (who == nil || o.Clear > who.Clear) {
			who = o
		}
	}
	ended := d.ended[p.BedID]
	for i := range ended {
		o := &ended[i]
		if o.Clear > o.Start && o.Clear <= p.Start && o.Place.Meets(p.Place) && (who == nil || o.Clear > who.Clear) {
			who = o
		}
	}
	return who
}
