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

// Thirst is how one stand is for water on a day.
type Thirst struct {
	Stand   Stand
	Missing quantity.Millimetre // missing from full, within reach of its roots
	Ready   quantity.Millimetre // that may be missing before it suffers
	Now     bool                // it is due for water today
	Days    int                 // until it will, at the evaporation of the last week and without rain; 99: not within a fortnight
	Give    quantity.Litre      // to fill it up now, over its ground
	Stress  float64             // of the last day; 1: none
	Says    string
}

// Balance is the beds' water as measured days leave it.
type Balance struct {
	Day      civil.Date
	Measured civil.Date // the last day of the record that tells
	Stands   []Thirst
	NoRain   int // days of the last thirty without a reading of rain, which count as dry
	Guessed  int // days of the last thirty without a temperature
	Notes    []string
}

// staleDays is how old a record may be for a balance to be told from it.
const staleDays = 14

// mornings are how far back a balance is begun.
const mornings = 120

// Today runs the balance from measured days and logged waterings up to the morning of a day. Days after the record's last take
// its last week's evaporation and no rain but what is logged; a record older than a fortnight is refused.
//
// Each bed's water is shared over its stands by their ground.
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
	beds := map[int64]quantity.SquareMetre{}
	for _, s := range q.Stands {
		if s.From < day && s.To > day {
			beds[s.BedID] += s.Area
		}
	}
	deep := 0.6
	for _, s := range q.Stands {
		deep = max(deep, float64(s.Crop.Root))
	}
	for _, s := range q.Stands {
		if s.From >= day || s.To <= day {
			continue
		}
		t, err := thirst(q, s, days, log, beds[s.BedID], deep, day)
		if err != nil {
			return out, err
		}
		out.Stands = append(out.Stands, t)
	}
	slices.SortStableFunc(out.Stands, func(a, b Thirst) int { return a.Days - b.Days })
	if out.NoRain > 3 {
		out.Notes = append(out.Notes, fmt.Sprintf("%d of the last 30 days have no reading of rain and count as dry: log what fell.", out.NoRain))
	}
	if late := int(day - 1 - out.Measured); late > 0 {
		out.Notes = append(out.Notes, fmt.Sprintf("The record ends on %s: the %d days since take its last week's evaporation and only the rain you logged.", out.Measured, late))
	}
	return out, nil
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

func thirst(q Question, s Stand, days []daily, log []Given, area quantity.SquareMetre, deep float64, day civil.Date) (Thirst, error) {
	ground, known := q.Grounds[s.BedID]
	if !known {
		ground = GroundOf("")
	}
	reaches := q.Reaches[s.BedID]
	if !(reaches > 0.1 && reaches <= 1) {
		reaches = 0.9
	}
	c, st, t := Column{Ground: ground, Deep: deep}, State{Root: float64(s.Crop.Sown)}, Thirst{Stand: s, Stress: 1}
	course := s.course(q.Climate)
	var last Asks
	var f Flows
	for _, d := range days {
		a := bare(q.Climate, float64(s.Crop.Sown))
		if n := int(d.date - s.From); n >= 0 && n < len(course) {
			a = course[n]
			if n == 0 {
				st.Missing = 0 // it is watered in
			}
			a.Water = given(log, s.BedID, d.date, area, reaches)
		}
		a.Reference, a.Rain = d.et, d.rain
		var err error
		if f, err = c.Day(&st, d.date, a); err != nil {
			return t, err
		}
		last = a
	}
	c.soakToday(&st, last, log, s.BedID, day, given(log, s.BedID, day, area, reaches))
	t.Missing, t.Ready, t.Stress = quantity.Millimetre(st.Missing), quantity.Millimetre(f.Ready), f.Stress
	seedbed := s.Up > s.From && day < s.Up
	wants := func(st State, f Flows) bool {
		if seedbed {
			return st.Dry >= keepsMoist*ground.Ready
		}
		return thirsty(st, f.Ready)
	}
	t.Now = wants(st, f)
	depth := st.Missing
	if seedbed {
		depth = max(leastGiven, st.Dry)
	}
	t.Give = quantity.Litre(depth / reaches * float64(s.Area))
	if t.Days = 0; !t.Now {
		t.Days = ahead(&c, st, last, wants)
	}
	t.Says = t.says(seedbed)
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
func ahead(c *Column, st State, a Asks, wants func(State, Flows) bool) int {
	a.Rain, a.Water = 0, 0
	for n := 1; n <= 14; n++ {
		f, err := c.Day(&st, 0, a)
		if err != nil {
			return 99
		}
		if wants(st, f) {
			return n
		}
	}
	return 99
}

// given is the depth that was given to a bed on a day, mm, as it came to the roots.
func given(log []Given, bed int64, date civil.Date, area quantity.SquareMetre, reaches float64) (mm float64) {
	for _, g := range log {
		if g.BedID != bed || g.Date != date {
			continue
		}
		switch {
		case g.Depth > 0:
			mm += float64(g.Depth) * reaches
		case g.Water > 0 && area > 0:
			mm += float64(g.Water) / float64(area) * reaches
		}
	}
	return mm
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
