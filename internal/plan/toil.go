package plan

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// This file counts the hours of work of each week, at the pace of crop's figures: raising, preparing the ground, sowing or setting
// out, thinning, earthing up, supports, tending by area and week, picking by weight, clearing. Where the person told how many hours
// a week they can give, each hour beyond costs; it is dear, not forbidden. Times are whole seconds, so that adding and taking away
// leaves nothing behind. Source: PLAN-PRACTICE.

// workOver is what an hour of work beyond those that can be given in its week costs (estimate).
const workOver = 12 * point

// workTold is the share by which a week must exceed what can be given to be told.
const workTold = 0.1

// newBusy is the work of what stands already, in seconds by week; nil where nobody told how much can be given.
func (f *field) newBusy() []int64 {
	if f.garden.Site.HoursAWeek <= 0 {
		return nil
	}
	busy := make([]int64, beforeSeason+horizonWeeks(f.season)+1)
	for _, p := range f.standing() {
		c, ok := f.crops.Find(p.CropID)
		if !ok || p.Status == garden.Over || p.Status == garden.Lost {
			continue
		}
		t := spell{weeks: busy}
		f.standingWork(&t, c, &p)
	}
	return busy
}

// spell gathers work by week.
type spell struct {
	weeks    []int64
	from, to int // the weeks touched are from ≤ w < to
}

// add adds hours of work in the week of a day.
func (t *spell) add(day int, hours float64) {
	if hours <= 0 {
		return
	}
	w := min(weekAt(day), len(t.weeks)-1)
	t.weeks[w] += int64(math.Round(3600 * hours))
	if t.to == 0 {
		t.from = w
	}
	t.from, t.to = min(t.from, w), max(t.to, w+1)
}

// job adds so much at a pace, with the setting up.
func (t *spell) job(day int, amount, anHour float64) {
	if amount > 0 {
		t.add(day, crop.SetUpHours+amount/anHour)
	}
}

// tended adds the weekly tending of ground.
func (t *spell) tended(from, to int, area float64) {
	for day := from; day < to; day += 7 {
		t.add(day, area/crop.TendAnHour)
	}
}

// goesIn adds going in: raising and setting out, sowing and thinning, or setting; and supports.
func (t *spell) goesIn(c *crop.Crop, m crop.Method, raise, start, plants int, metres float64) {
	switch m.Way {
	case crop.SetOut:
		harden := m.Hardening
		if harden <= 0 {
			harden = usualHardening
		}
		t.job(raise, 1.1*float64(plants), crop.CellsAnHour)
		t.add(start-harden, float64(harden)*crop.HardeningDayMin/60)
		t.job(start, float64(plants), crop.SetOutAnHour)
	case crop.Set:
		pace := crop.SetsAnHour
		if c.Harvest.Part == "tuber" {
			pace = crop.TubersAnHour
		}
		t.job(start, float64(plants), pace)
	default:
		t.job(start, metres, crop.DrillAnHour)
		if c.Practice.Thin {
			t.job(start+thinAfter, metres, crop.ThinAnHour)
		}
	}
	if c.Practice.EarthUp {
		t.job(start+earthUpAfter, metres, crop.EarthUpAnHour)
	}
	switch c.Practice.Support {
	case "":
	case "stakes", "cage":
		t.job(start, float64(plants), crop.StakesAnHour)
	default:
		t.job(start, metres, crop.TrellisAnHour)
	}
}

// Days after going in on which drills are thinned and rows earthed up, in the middle of what is usual; common practice.
const (
	thinAfter    = 28
	earthUpAfter = 42
)

// work puts a planting's work by week into the scratch weeks, which are empty but for what it says it touched.
func (s *state) work(x *placed) spell {
	t := spell{weeks: s.stint}
	sow, pl := &s.sows[x.sow], &s.plots[x.bed]
	o := s.options[sow.option]
	long := float64(x.r.a1-x.r.a0) * pl.cell
	if pl.bed.RowsAcross {
		long = float64(x.r.l1-x.r.l0) * pl.lane
	}
	start := s.season.Start.Add(x.start)
	if x.mode == apart {
		t.job(x.start-1, x.area, crop.LoosenAnHour)
		t.tended(x.start, min(x.clear, 7*horizonWeeks(s.season)), x.area)
	}
	raise := x.start
	if o.how().Way == crop.SetOut {
		raise = raised(o.how(), start).Since(s.season.Start)
	}
	t.goesIn(o.crop, o.how(), raise, x.start, x.plants, long*float64(x.rows))
	for i, y := range sow.yield {
		t.add(7*(sow.week+i), y*x.full/1e6/crop.PickAnHour(o.crop.Harvest.Part))
	}
	if x.mode == apart && x.clear < 7*horizonWeeks(s.season) {
		t.job(x.clear-1, x.area, crop.ClearAnHour)
	}
	return t
}

// standingWork is the work of what stands already or is pinned: of what is in the ground the tending, picking and clearing only.
func (f *field) standingWork(t *spell, c *crop.Crop, p *garden.Planting) {
	start, clear := p.Start.Since(f.season.Start), p.Clear.Since(f.season.Start)
	end := 7 * horizonWeeks(f.season)
	area := float64(p.Place.Area())
	alone := p.Role != garden.Fast && p.Role != garden.Marker
	if p.Status == garden.Planned && p.Method >= 0 && p.Method < len(c.Methods) {
		long := float64(p.Place.AlongTo - p.Place.AlongFrom)
		if b, ok := f.garden.Bed(p.BedID); ok && b.RowsAcross {
			long = float64(p.Place.AcrossTo - p.Place.AcrossFrom)
		}
		raise := start
		if p.RaiseOn != nil {
			raise = p.RaiseOn.Since(f.season.Start)
		}
		if alone {
			t.job(start-1, area, crop.LoosenAnHour)
		}
		t.goesIn(c, c.Methods[p.Method], raise, start, p.Plants, long*float64(p.Rows))
	}
	if alone {
		t.tended(max(start, 0), min(clear, end), area)
		if clear > 0 && clear < end {
			t.job(clear-1, area, crop.ClearAnHour)
		}
	}
	first, last := max(0, p.First.P50.Since(f.season.Start)), min(end, p.Last.P50.Since(f.season.Start))
	if weeks := (last-first)/7 + 1; p.Expect > 0 && last >= first {
		for k := range weeks {
			t.add(first+7*k, float64(p.Expect)/float64(weeks)/crop.PickAnHour(c.Harvest.Part))
		}
	}
}

// over is what a week's work costs beyond what can be given.
func (s *state) over(seconds int64) int64 {
	if most := int64(3600 * float64(s.garden.Site.HoursAWeek)); seconds > most {
		return dear((seconds-most)*(workOver/3600), s.settings.Work)
	}
	return 0
}

// toil takes a planting's work into the weeks, or out of them, and counts what that changes in the value.
func (s *state) toil(x *placed, sign int64) {
	if s.busy == nil || x.sow < 0 {
		return
	}
	t := s.work(x)
	for w := t.from; w < t.to; w++ {
		if t.weeks[w] == 0 {
			continue
		}
		before := s.over(s.busy[w])
		s.busy[w] += sign * t.weeks[w]
		s.value -= s.over(s.busy[w]) - before
		t.weeks[w] = 0
	}
}

// toilOf is what a planting's work would cost by the weeks that it takes beyond what can be given.
func (s *state) toilOf(x *placed) (cost int64) {
	if s.busy == nil {
		return 0
	}
	t := s.work(x)
	for w := t.from; w < t.to; w++ {
		if t.weeks[w] != 0 {
			cost += s.over(s.busy[w]+t.weeks[w]) - s.over(s.busy[w])
			t.weeks[w] = 0
		}
	}
	return cost
}

// toilNotes tell which weeks ask for more hours than can be given.
func (w *writer) toilNotes() []garden.Reason {
	if w.busy == nil {
		return nil
	}
	type week struct {
		at    int
		hours float64
	}
	give := float64(w.garden.Site.HoursAWeek)
	var all []week
	fullest := week{}
	for at, seconds := range w.busy {
		one := week{at, float64(seconds) / 3600}
		if one.hours > fullest.hours {
			fullest = one
		}
		if one.hours > give*(1+workTold) {
			all = append(all, one)
		}
	}
	u := w.units()
	when := func(at int) string { return w.day(7 * (at - beforeSeason)).Short() }
	if len(all) == 0 {
		return []garden.Reason{{Rule: "hours", Source: practice, Says: fmt.Sprintf("No week asks for more than about the %s you can give; the fullest, from %s, asks for %s.", u.Hours(w.garden.Site.HoursAWeek), when(fullest.at), u.Hours(quantity.Hour(fullest.hours)))}}
	}
	slices.SortStableFunc(all, func(a, b week) int { return cmp.Compare(b.hours, a.hours) })
	worst := slices.Clone(all[:min(4, len(all))])
	slices.SortFunc(worst, func(a, b week) int { return cmp.Compare(a.at, b.at) })
	var says []string
	for _, one := range worst {
		says = append(says, fmt.Sprintf("%s from %s", u.Hours(quantity.Hour(one.hours)), when(one.at)))
	}
	lead := "One week asks"
	if len(all) > 1 {
		lead = fmt.Sprintf("%d weeks ask", len(all))
	}
	most := ": "
	if len(all) > len(worst) {
		most = "; the fullest, for "
	}
	return []garden.Reason{{Rule: "hours", Source: practice, Says: fmt.Sprintf("%s for more than the %s you can give%s%s. Digging, sowing, tending and picking are counted at the pace of common practice.",
		lead, u.Hours(w.garden.Site.HoursAWeek), most, strings.Join(says, ", "))}}
}
