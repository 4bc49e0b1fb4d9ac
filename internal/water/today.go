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
	return Part{Names: names(all(list), all(others))}.Grows()
}

// Balance is the beds' water as measured days leave it.
type Balance struct {
	Day      civil.Date
	Measured civil.Date // the last day of the record that tells
	Ground   []Thirst   // the thirstiest first; ground that is shared stands here once
	NoRain   int        // days of the last thirty without a reading of rain, which count as dry
	Guessed  int        // days of the record among the last thirty that have no temperature
	Notes    []string

	warm civil.Date // the last day with a temperature
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
// Each piece of ground goes through what held it before what holds it now. A depth that a bed is given falls on all of its ground that is
// held; litres go first to the ground that wants them on that day, and the rest evenly. A planting is watered in as its job says unless a
// watering of its bed is logged with it.
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
	days := measuredDays(q, r, log, max(r.Days[0].Date, day-mornings), day, &out)
	run := balancing{q: q, days: days, log: log, day: day}
	if err := run.beds(&out); err != nil {
		return out, err
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
	if b.Guessed > 0 {
		last := "none has any"
		if b.warm > 0 {
			last = "up to " + b.warm.Short()
		}
		b.Notes = append(b.Notes, fmt.Sprintf("%d of the last 30 days have no temperature: they take the mean evaporation of the last week that has (%s). Give the record again with them, or look at the soil a finger deep.", b.Guessed, last))
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
		b.Notes = append(b.Notes, fmt.Sprintf("No watering is logged on the day that %s went in: it is taken as watered in, as its job says.", Part{Names: run.presumed}.Grows()))
	}
	if !slices.ContainsFunc(run.log, func(g Given) bool { return g.Rain == nil && g.Date > b.Day-30 && g.Date <= b.Day }) {
		b.Notes = append(b.Notes, "No watering is logged in the last 30 days: what was given and not written down is not counted, and the ground then is wetter than told.")
	}
}

// daily is what one measured day brings.
type daily struct {
	date     civil.Date
	et, rain float64
	sun      float64 // of et, what the sun drives
}

func measuredDays(q Question, r *weather.Record, log []Given, from, to civil.Date, out *Balance) []daily {
	own := map[civil.Date]float64{}
	for _, g := range log {
		if g.Rain != nil {
			own[g.Date] += max(0, float64(*g.Rain)) // a gauge emptied twice
		}
	}
	var list []daily
	var recent []daily
	mean := func() (et, sun float64) {
		n := float64(len(recent))
		if n == 0 {
			return 2, 1
		}
		for _, v := range recent {
			et, sun = et+v.et/n, sun+v.sun/n
		}
		return et, sun
	}
	for date := from; date < to; date++ {
		one := daily{date: date}
		one.et, one.sun = mean()
		known, rained := true, false
		if at := int(date - r.Days[0].Date); at < len(r.Days) {
			d := r.Days[at]
			if q.Doubted {
				d.HasRadiation = false
			}
			if known = d.HasTemp; known {
				a, _ := q.Place.air(d)
				one.et, one.sun, out.warm = float64(a.Reference()), a.sunlit(), date
				if recent = append(recent, one); len(recent) > 7 {
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
	days     []daily
	log      []Given
	day      civil.Date
	presumed []string // what went in lately without a watering logged
}

// lately is how many days back the watering-in of a planting still counts for much.
const lately = 21

// piece is a patch on its way through the days.
type piece struct {
	patch
	column Column
	state  State
	flows  Flows
	first  civil.Date
	steps  []step
	lying  step
	now    step
	lately float64 // mm of reference evapotranspiration a day, of the last week
}

// on turns to a day.
func (p *piece) on(day civil.Date) {
	p.now = p.lying
	if n := int(day - p.first); n >= 0 && n < len(p.steps) {
		p.now = p.steps[n]
	}
	if p.now.in {
		p.column.reach(&p.state, p.now.Root)
	}
}

// wants is what the ground wants on the day, mm; 0: nothing yet.
func (p *piece) wants() float64 {
	if p.now.in {
		return p.now.waterIn(p.state)
	}
	return p.now.wants(&p.column, p.state, p.flows.Ready)
}

// beds runs bed after bed, and tells of the ground that is held on the day.
func (b *balancing) beds(out *Balance) error {
	var courses []course
	for _, s := range b.q.Stands {
		courses = append(courses, s.course(b.q.Climate))
	}
	var order []int64
	beds := map[int64][]*piece{}
	deep := b.q.deepest()
	for _, p := range patchesOf(b.q.Stands) {
		soil, _ := b.q.groundsOf(p.bed)
		one := &piece{patch: p, column: Column{Ground: soil, Deep: deep}, state: State{Root: float64(sownDepth)}, lying: step{Asks: bare(b.q.Climate, float64(sownDepth)), nearest: 1}}
		one.first, one.steps = p.steps(b.q.Stands, courses, b.q.Climate)
		if beds[p.bed] == nil {
			order = append(order, p.bed)
		}
		beds[p.bed] = append(beds[p.bed], one)
	}
	for _, bed := range order {
		if err := b.run(bed, beds[bed]); err != nil {
			return err
		}
		for _, p := range beds[bed] {
			if t := b.thirst(p); len(t.Stands) > 0 {
				out.Ground = append(out.Ground, t)
			}
		}
	}
	return nil
}

// run takes a bed's ground through the measured days, and lets in what it was given on the day itself.
func (b *balancing) run(bed int64, pieces []*piece) error {
	for _, d := range b.days {
		for _, p := range pieces {
			p.on(d.date)
		}
		given := b.given(bed, d.date, pieces)
		for i, p := range pieces {
			a := p.now.Asks
			a.Reference, a.Rain, a.Water = b.et(bed, d), d.rain, given[i]
			if p.now.in {
				a.Water += b.wateredIn(p, d.date)
			}
			var err error
			if p.flows, err = p.column.Day(&p.state, d.date, a); err != nil {
				return err
			}
		}
	}
	for _, p := range pieces {
		p.on(b.day)
		p.now.in = false
	}
	recent := b.days[max(0, len(b.days)-7):]
	for i, water := range b.given(bed, b.day, pieces) {
		p := pieces[i]
		for _, d := range recent {
			p.lately += b.et(bed, d) / float64(len(recent))
		}
		p.column.soakToday(&p.state, p.now.Asks, b.log, bed, b.day, water)
	}
	return nil
}

// et is a bed's reference evapotranspiration of a day, by its light.
func (b *balancing) et(bed int64, d daily) float64 {
	if len(b.q.Light) == 0 {
		return d.et
	}
	return shaded(d.et, d.sun, b.q.dark(bed, int(d.date.Month())))
}

// given is what each piece of a bed's ground was given on a day, mm, as it came to the roots.
func (b *balancing) given(bed int64, day civil.Date, pieces []*piece) []float64 {
	var depth, litres float64
	for _, g := range b.log {
		switch {
		case g.BedID != bed || g.Date != day:
		case g.Depth > 0:
			depth += float64(g.Depth)
		case g.Water > 0:
			litres += float64(g.Water)
		}
	}
	out := make([]float64, len(pieces))
	if depth+litres <= 0 {
		return out
	}
	_, reaches := b.q.groundsOf(bed)
	litres *= reaches
	var held, wanted float64
	for i, p := range pieces {
		if p.now.held {
			out[i] = p.wants()
			held, wanted = held+p.area, wanted+out[i]*p.area
		}
	}
	if held <= 0 {
		return make([]float64, len(pieces))
	}
	part := 0.0
	if wanted > 0 {
		part = min(1, litres/wanted)
	}
	for i, p := range pieces {
		if p.now.held {
			out[i] = part*out[i] + (litres-part*wanted)/held + depth*reaches
		}
	}
	return out
}

// wateredIn is what ground is given on the day that something goes in and no watering of the bed is logged with it, mm.
func (b *balancing) wateredIn(p *piece, day civil.Date) float64 {
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
	return p.now.waterIn(p.state)
}

// thirst tells of a piece of ground that has come to the day.
func (b *balancing) thirst(p *piece) Thirst {
	t := Thirst{BedID: p.bed, Area: quantity.SquareMetre(p.area), Stress: p.flows.Stress, Missing: quantity.Millimetre(p.state.Missing), Ready: quantity.Millimetre(p.now.nearest * p.flows.Ready)}
	for _, i := range p.stands {
		if s := b.q.Stands[i]; s.From < b.day && s.To > b.day {
			t.Stands = append(t.Stands, s)
		}
	}
	depth := p.wants()
	t.Now = depth > 0
	if !t.Now {
		depth, t.Days = p.state.Missing, p.ahead()
	}
	_, reaches := b.q.groundsOf(p.bed)
	t.Give = quantity.Litre(depth / reaches * p.area)
	t.Says = t.says(p.now.seedbed && !(p.now.grown && thirsty(p.state, float64(t.Ready))))
	return t
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
func (p piece) ahead() int {
	a := p.now.Asks
	a.Reference = p.lately
	for n := 1; n <= 14; n++ {
		var err error
		if p.flows, err = p.column.Day(&p.state, 0, a); err != nil {
			return 99
		}
		if p.wants() > 0 {
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
