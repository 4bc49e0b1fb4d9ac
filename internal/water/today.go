package water

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Given is a watering, or rain of the person's own gauge, on a day.
type Given struct {
	Date  civil.Date
	BedID int64               // 0, with rain: the whole garden
	Water quantity.Litre      // given to the bed
	Depth quantity.Millimetre // or its depth, where that was told
	Rain  *quantity.Millimetre
}

// Thirst is how a piece of ground is for water on a day.
type Thirst struct {
	BedID   int64
	Stands  []Stand // that hold it, together
	Area    quantity.SquareMetre
	Missing quantity.Millimetre // missing from full, within reach of the roots
	Ready   quantity.Millimetre // that may be missing before one of them suffers
	Now     bool                // it is due for water today
	Days    int                 // until it will, at the evaporation of the last week and without rain; 99: not within a fortnight
	Give    quantity.Litre      // to fill it up now
	Stress  float64             // of the last day; 1: none
	Says    string
}

// Waters says whether the ground is watered at all.
func (t Thirst) Waters() bool {
	return slices.ContainsFunc(t.Stands, func(s Stand) bool { return s.Waters })
}

// Grows names what holds some pieces of a bed's ground, apart from the others: "beet and kale".
func Grows(list, others []Thirst) string {
	all := func(list []Thirst) (stands []Stand) {
		for _, t := range list {
			stands = append(stands, t.Stands...)
		}
		return stands
	}
	return Part{Names: names(all(list), all(others))}.grows()
}

// Balance is the beds' water as measured days leave it.
type Balance struct {
	Day      civil.Date
	Measured civil.Date // the last day of the record that tells
	Ground   []Thirst   // the thirstiest first; ground that is shared stands here once
	NoRain   int        // days of the last thirty without a reading of rain, which count as dry
	Guessed  int        // days of the last thirty without a temperature
	Notes    []string
}

// staleDays is how old a record may be for a balance to be told from it.
const staleDays = 14

// mornings are how far back a balance is begun: a winter lies between, and leaves the ground full.
const mornings = 366

// winterless is how many days before the day a record may begin that has no winter in it to fill the ground.
const winterless = 150

// Today runs the balance from measured days and logged waterings up to the morning of a day. Days after the record's last take
// its last week's evaporation and no rain but what is logged; a record older than a fortnight is refused.
//
// Each piece of ground goes through what held it before what holds it now. What a bed is given is shared over the ground that is held in
// it. A planting is watered in as its job says unless a watering of its bed is logged with it.
func Today(q Question, r *weather.Record, log []Given, day civil.Date) (Balance, error) {
	out := Balance{Day: day}
	if r == nil || len(r.Days) == 0 {
		return out, fmt.Errorf("there is no measured weather to tell from; give the garden a weather record first")
	}
	out.Measured = r.Days[len(r.Days)-1].Date
	if r.Origin == weather.Generated {
		return out, fmt.Errorf("the weather record is generated, so it cannot tell what fell; give a measured one, or log rain and waterings and look at the soil a finger deep")
	}
	if day < r.Days[0].Date+7 || day > out.Measured+staleDays {
		return out, fmt.Errorf("the record has the days from %s to %s: what is dry on %s cannot be told from it; bring the record up to date", r.Days[0].Date, out.Measured, day)
	}
	if q.Climate == (Climate{}) {
		q.Climate = Middling
	}
	days := measuredDays(q.Place, r, log, max(r.Days[0].Date, day-mornings), day, &out)
	run := balancing{q: q, days: days, log: log, day: day, deep: q.deepest(), patches: patchesOf(q.Stands)}
	for _, s := range q.Stands {
		run.courses = append(run.courses, s.course(q.Climate))
	}
	for _, p := range run.patches {
		if !p.held(q.Stands, day, day) {
			continue
		}
		t, err := run.thirst(p)
		if err != nil {
			return out, err
		}
		if len(t.Stands) > 0 {
			out.Ground = append(out.Ground, t)
		}
	}
	slices.SortStableFunc(out.Ground, func(a, b Thirst) int { return a.Days - b.Days })
	out.notes(r, run)
	return out, nil
}

// notes say what the balance rests on where that is thin.
func (b *Balance) notes(r *weather.Record, run balancing) {
	if b.NoRain > 3 {
		b.Notes = append(b.Notes, fmt.Sprintf("%d of the last 30 days have no reading of rain and count as dry: log what fell.", b.NoRain))
	}
	if late := int(b.Day - 1 - b.Measured); late > 0 {
		b.Notes = append(b.Notes, fmt.Sprintf("The record ends on %s: the %d days since take its last week's evaporation and only the rain you logged.", b.Measured, late))
	}
	if first := run.days[0].date; b.Day-first < winterless {
		b.Notes = append(b.Notes, fmt.Sprintf("The record begins on %s: how wet the ground was then is not known, and it is taken as full.", first))
	}
	if len(b.Ground) == 0 {
		return
	}
	if len(run.presumed) > 0 {
		b.Notes = append(b.Notes, fmt.Sprintf("No watering is logged on the day that %s went in: it is taken as watered in, as its job says.", Part{Names: run.presumed}.grows()))
	}
	if !slices.ContainsFunc(run.log, func(g Given) bool { return g.Rain == nil && g.Date > b.Day-30 && g.Date <= b.Day }) {
		b.Notes = append(b.Notes, "No watering is logged in the last 30 days: what was given and not written down is not counted, and the ground then is wetter than told.")
	}
}

// daily is what one measured day brings.
type daily struct {
	date     civil.Date
	et, rain float64
}

func measuredDays(p Place, r *weather.Record, log []Given, from, to civil.Date, out *Balance) []daily {
	own := map[civil.Date]float64{}
	for _, g := range log {
		if g.Rain != nil {
			own[g.Date] += max(0, float64(*g.Rain)) // a gauge emptied twice
		}
	}
	var list []daily
	var recent []float64
	mean := func() float64 {
		if len(recent) == 0 {
			return 2
		}
		sum := 0.0
		for _, v := range recent {
			sum += v
		}
		return sum / float64(len(recent))
	}
	for date := from; date < to; date++ {
		one := daily{date: date, et: mean()}
		known, rained := false, false
		if at := int(date - r.Days[0].Date); at < len(r.Days) {
			d := r.Days[at]
			if et, _, ok := p.OfDay(d); ok {
				one.et, known = float64(et), true
				if recent = append(recent, one.et); len(recent) > 7 {
					recent = recent[1:]
				}
			}
			one.rain, rained = float64(d.Rain), d.HasRain
		}
		if fell, told := own[date]; told {
			one.rain, rained = fell, true
		}
		if date >= to-30 {
			if !rained {
				out.NoRain++
			}
			if !known {
				out.Guessed++
			}
		}
		list = append(list, one)
	}
	return list
}

// balancing is what a balance of all ground needs.
type balancing struct {
	q        Question
	patches  []patch
	courses  []course
	days     []daily
	log      []Given
	day      civil.Date
	deep     float64
	presumed []string // what went in lately without a watering logged
}

// lately is how many days back the watering-in of a planting still counts for much.
const lately = 21

// holds is the ground of a bed that is held on a day, m².
func (b *balancing) holds(bed int64, day civil.Date) (area float64) {
	for _, p := range b.patches {
		if p.bed == bed && p.held(b.q.Stands, day, day) {
			area += p.area
		}
	}
	return area
}

// given is the depth that a bed was given on a day, mm, as it came to the roots of what holds its ground.
func (b *balancing) given(bed int64, day civil.Date, reaches float64) (mm float64) {
	for _, g := range b.log {
		if g.BedID != bed || g.Date != day {
			continue
		}
		if g.Depth > 0 {
			mm += float64(g.Depth) * reaches
		} else if area := b.holds(bed, day); g.Water > 0 && area > 0 {
			mm += float64(g.Water) / area * reaches
		}
	}
	return mm
}

// wateredIn is what ground is given on the day that something goes in, mm: what is logged with it, else what its job says.
func (b *balancing) wateredIn(p patch, t *step, st State, day civil.Date) float64 {
	for _, g := range b.log {
		if g.Rain == nil && g.BedID == p.bed && g.Date >= day-1 && g.Date <= day+1 {
			return 0
		}
	}
	if day >= b.day-lately {
		for _, i := range p.stands {
			if s := b.q.Stands[i]; s.From == day && s.Name != "" && !slices.Contains(b.presumed, s.Name) {
				b.presumed = append(b.presumed, s.Name)
			}
		}
	}
	return t.waterIn(st)
}

// thirst runs the balance of one patch.
func (b *balancing) thirst(p patch) (Thirst, error) {
	ground, reaches := b.q.groundsOf(p.bed)
	c, st, t := Column{Ground: ground, Deep: b.deep}, State{Root: float64(sownDepth)}, Thirst{BedID: p.bed, Area: quantity.SquareMetre(p.area), Stress: 1}
	first, steps := p.steps(b.q.Stands, b.courses, b.q.Climate)
	lying := step{Asks: bare(b.q.Climate, float64(sownDepth)), nearest: 1}
	last := lying
	var f Flows
	for _, d := range b.days {
		now := lying
		if n := int(d.date - first); n >= 0 && n < len(steps) {
			now = steps[n]
		}
		a := now.Asks
		a.Water = b.given(p.bed, d.date, reaches)
		if now.in {
			c.reach(&st, a.Root)
			a.Water += b.wateredIn(p, &now, st, d.date)
		}
		a.Reference, a.Rain = d.et, d.rain
		var err error
		if f, err = c.Day(&st, d.date, a); err != nil {
			return t, err
		}
		last = now
		last.Asks = a
	}
	for _, i := range p.stands {
		if s := b.q.Stands[i]; s.From < b.day && s.To > b.day {
			t.Stands = append(t.Stands, s)
		}
	}
	c.soakToday(&st, last.Asks, b.log, p.bed, b.day, b.given(p.bed, b.day, reaches))
	if n := int(b.day - first); n >= 0 && n < len(steps) { // what is up by today
		last.seedbed, last.grown = steps[n].seedbed, steps[n].grown
	}
	t.Missing, t.Ready, t.Stress = quantity.Millimetre(st.Missing), quantity.Millimetre(last.nearest*f.Ready), f.Stress
	depth := last.wants(&c, st, f.Ready)
	t.Now = depth > 0
	if !t.Now && !last.seedbed {
		depth = st.Missing
	}
	t.Give = quantity.Litre(depth / reaches * p.area)
	if !t.Now {
		t.Days = ahead(&c, st, last)
	}
	t.Says = t.says(last.seedbed && !(last.grown && thirsty(st, last.nearest*f.Ready)))
	return t, nil
}

// soakToday lets in what came on the day itself, before anything is said of it.
func (c *Column) soakToday(st *State, a Asks, log []Given, bed int64, day civil.Date, water float64) {
	rain := 0.0
	for _, g := range log {
		if g.Rain != nil && g.Date == day && (g.BedID == 0 || g.BedID == bed) {
			rain += max(0, float64(*g.Rain))
		}
	}
	if rain -= c.Ground.Runoff(rain); rain+water <= 0 {
		return
	}
	a.Water = water
	c.soak(st, a, rain+water, rain)
}

// ahead counts days without rain until water is wanted.
func ahead(c *Column, st State, last step) int {
	a := last.Asks
	a.Rain, a.Water = 0, 0
	for n := 1; n <= 14; n++ {
		f, err := c.Day(&st, 0, a)
		if err != nil {
			return 99
		}
		if last.wants(c, st, f.Ready) > 0 {
			return n
		}
	}
	return 99
}

func (t Thirst) says(seedbed bool) string {
	switch {
	case t.Now && seedbed:
		return "The seedbed is drying: sprinkle it today."
	case t.Now && t.Stress < 0.9:
		return "It suffers: water it today."
	case t.Now:
		return "It wants water today."
	case t.Days == 1:
		return "It wants water tomorrow unless it rains."
	case t.Days < 99:
		return fmt.Sprintf("It has water for %d days without rain.", t.Days)
	}
	return "It has water for a fortnight."
}

// Logged are the waterings that journal entries tell, by volume or by depth, and the rain of the person's own gauge.
func Logged(entries []garden.Entry) (log []Given) {
	for _, e := range entries {
		if e.Kind == garden.Rained && e.Depth > 0 {
			rain := quantity.Millimetre(1000 * e.Depth)
			log = append(log, Given{Date: e.Date, Rain: &rain})
		}
		if e.Kind == garden.Watered && e.BedID != 0 && (e.Volume > 0 || e.Depth > 0) {
			log = append(log, Given{Date: e.Date, BedID: e.BedID, Water: e.Volume, Depth: quantity.Millimetre(1000 * e.Depth)})
		}
	}
	return log
}
