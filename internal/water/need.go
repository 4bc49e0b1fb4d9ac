package water

import (
	"errors"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Question is what a season's watering is asked for.
type Question struct {
	Season  civil.Season
	Place   Place
	Climate Climate
	Factors [12]float64        // Evaporation.Factors; zero: 1
	Years   []weather.Scenario // that begin before the season or with it
	Grounds map[int64]Ground   // by bed
	Reaches map[int64]float64  // what of the water given comes to the roots, by bed; absent: 0.9
	Stands  []Stand
	// Light is the share of the open sky's energy that a bed gets, by month, 0–1.5; absent: all. The sun's part of reference
	// evapotranspiration goes by it; warm, dry, moving air reaches every bed alike.
	//
	// Source: FAO56 eq. 6 and 38, with the bed's own radiation
	Light map[int64][12]float64
	// Rests says what the evaporation and the ground rest on: what was measured, how the rest was told, what was left out.
	Rests   []string
	Doubted bool // the record's radiation is in another unit, and is left out
}

// dark is what of the open sky's energy a bed lacks in a month; less than nothing where it leans to the sun.
func (q *Question) dark(bed int64, month int) float64 {
	light, known := q.Light[bed]
	if !known {
		return 0
	}
	return 1 - max(0, min(1.5, light[month-1]))
}

// shaded is the reference evapotranspiration of ground that lacks light.
//
//	et      mm of the day in the open; sun is the part of it that the sun drives
//	dark    share of the open sky's energy that the ground lacks
//	result  mm, never under nothing
func shaded(et, sun, dark float64) float64 { return max(0, et-dark*sun) }

// Needs is the answer.
type Needs struct {
	Season   civil.Season
	Beds     []BedNeed
	Weeks    []GardenWeek
	Typical  quantity.Litre // of all beds over the season, in the middle year
	Dry      quantity.Litre // in the year that nine of ten stay under
	PeakWeek civil.Date     // of the dry year
	Peak     quantity.Litre // given in it
	Years    int
	Short    float64             // share of what the crops would have drawn that they did not, mean of the years
	Rain     quantity.Millimetre // mean of the season
	ET       quantity.Millimetre // reference, mean of the season

	daily [][]float32 // by year, L of all beds by day of the season
}

// GardenWeek is what all beds want in a week, in the middle year and in the one that nine of ten stay under.
type GardenWeek struct {
	From         civil.Date // a Monday
	Typical, Dry quantity.Litre
}

// BedNeed is one bed's.
type BedNeed struct {
	BedID        int64
	Area         quantity.SquareMetre // of the ground under crops at most
	Weeks        []WeekNeed
	Typical, Dry quantity.Litre
	WateringIn   quantity.Litre // of that, at sowing and setting out, mean
	Demand       quantity.Litre // what its crops would draw and its ground lose without thirst, rain or not, mean
	Short        float64
}

// WeekNeed is one week of a bed. A depth is over the ground that crops hold in it, shared ground once.
type WeekNeed struct {
	From         civil.Date // a Monday
	Area         quantity.SquareMetre
	Typical, Dry Amount
	Parts        []Part         // the ground that wants water, by what grows on it, the largest first
	In           quantity.Litre // besides, for watering in, mean
	GoesIn       []string       // what is watered in with it
}

// Part is ground of a bed that wants the like in a week.
type Part struct {
	Names        []string // of what grows there
	Area         quantity.SquareMetre
	Typical, Dry Amount
}

// Amount is a week's watering in a kind of year: what ground is given when it is watered, spread evenly over the days since it was last
// full, so that a week is not all or nothing by the day that a watering falls on. What is given to water in is apart.
type Amount struct {
	Water quantity.Litre
	Depth quantity.Millimetre
	Times float64 // waterings; half a one: it is watered every fortnight
	Days  float64 // of the week, on which the ground is held and not watered in; 0: all seven
}

// Every is the days from one watering to the next; 0: none.
func (a Amount) Every() float64 {
	if a.Times <= 0 {
		return 0
	}
	return a.Held() / a.Times
}

// Held are the days of the week that it is for.
func (a Amount) Held() float64 {
	if a.Days <= 0 {
		return week
	}
	return a.Days
}

// week is its days.
const week = 7.0

// Reckon runs every stand through every weather year and gathers what was given by bed and week. A balance that does not
// close ends it with the day told.
func Reckon(q Question) (Needs, error) {
	out := Needs{Season: q.Season, Years: len(q.Years)}
	if len(q.Years) == 0 || q.Season.Days < 1 {
		return out, errors.New("there are no weather years to tell from; give the garden a weather record first")
	}
	if q.Climate == (Climate{}) {
		q.Climate = Middling
	}
	for m := range q.Factors {
		if q.Factors[m] == 0 {
			q.Factors[m] = 1
		}
	}
	for _, s := range q.Stands {
		if s.To < s.From || !(s.Area >= 0) {
			return out, fmt.Errorf("the planting %s ends before it begins, or has no ground", s.Key)
		}
	}
	r := newReckoning(q)
	for y := range q.Years {
		if err := r.year(y); err != nil {
			return out, fmt.Errorf("in the weather year %d: %w", q.Years[y].Year, err)
		}
	}
	r.gather(&out)
	return out, nil
}

// reckoning holds what a run needs.
type reckoning struct {
	q       Question
	patches []ground
	deep    float64
	beds    []int64 // in the order of their first stand
	monday  civil.Date
	weeks   int
	et, sun []float32 // sun: only where a bed's light is known
	rain    []float32
	start   int         // index of the season's first day in the weather year
	short   []float64   // by bed: wanted and drawn, summed
	daily   [][]float32 // by year: L of all beds by day of the season, as it is given
	sums    [2]float64  // rain and reference over the season
}

// ground is a patch with what it asks and is given.
type ground struct {
	patch
	at    int // index of its bed
	first civil.Date
	steps []step
	years []weekly
	held  []float64 // days of each week on which something stands and nothing goes in
}

// weekly is what a patch is given in a weather year, by week.
type weekly struct {
	depth []float32 // mm, each watering spread over the days since the ground was last full
	times []float32 // waterings, spread alike
	in    []float32 // mm for watering in
}

// fallow is how many days the ground lies bare before a stand without one before it; by then it has what the weather gave it.
const fallow = 45

func newReckoning(q Question) *reckoning {
	r := &reckoning{q: q, monday: q.Season.Start.Monday(), deep: q.deepest()}
	r.weeks = int(q.Season.End()-r.monday)/7 + 1
	courses := make([]course, len(q.Stands))
	for i, s := range q.Stands {
		courses[i] = s.course(q.Climate)
		if !slices.Contains(r.beds, s.BedID) {
			r.beds = append(r.beds, s.BedID)
		}
	}
	for _, p := range patchesOf(q.Stands) {
		g := ground{patch: p, at: slices.Index(r.beds, p.bed), years: make([]weekly, len(q.Years))}
		g.first, g.steps = p.steps(q.Stands, courses, q.Climate)
		g.held = r.heldDays(g)
		r.darken(g)
		all := make([]float32, 3*r.weeks*len(q.Years))
		for y := range g.years {
			own := all[3*r.weeks*y : 3*r.weeks*(y+1)]
			g.years[y] = weekly{own[:r.weeks], own[r.weeks : 2*r.weeks], own[2*r.weeks:]}
		}
		r.patches = append(r.patches, g)
	}
	r.short = make([]float64, 2*len(r.beds))
	for range q.Years {
		r.daily = append(r.daily, make([]float32, q.Season.Days))
	}
	return r
}

// darken writes down on each of a patch's days what light its bed lacks.
func (r *reckoning) darken(g ground) {
	if _, known := r.q.Light[g.bed]; !known {
		return
	}
	for n := range g.steps {
		g.steps[n].dark = r.q.dark(g.bed, int(g.first.Add(n).Month()))
	}
}

// heldDays counts the days of each week on which a patch can be watered, besides what it is watered in with.
func (r *reckoning) heldDays(g ground) []float64 {
	held := make([]float64, r.weeks)
	for n, t := range g.steps {
		if day := g.first.Add(n); t.held && !t.in && day >= r.q.Season.Start && day <= r.q.Season.End() {
			held[int(day-r.monday)/7]++
		}
	}
	return held
}

// year runs one weather year.
func (r *reckoning) year(y int) error {
	w := r.q.Years[y]
	r.et, r.sun = r.q.Place.year(w, r.q.Factors, len(r.q.Light) > 0)
	r.rain, r.start = w.Rain, int(r.q.Season.Start-w.Start)
	if r.start < 0 || r.start+r.q.Season.Days > len(r.et) || len(r.rain) < len(r.et) {
		return fmt.Errorf("the weather does not reach over the season from %s", r.q.Season.Start)
	}
	for i := range r.q.Season.Days {
		r.sums[0] += float64(r.rain[r.start+i])
		r.sums[1] += float64(r.et[r.start+i])
	}
	for i := range r.patches {
		if err := r.patch(y, &r.patches[i]); err != nil {
			return err
		}
	}
	return nil
}

// patch runs one patch through one year.
func (r *reckoning) patch(y int, g *ground) error {
	soil, reaches := r.q.groundsOf(g.bed)
	c := Column{Ground: soil, Deep: r.deep}
	st := State{Root: float64(sownDepth)}
	w, short := r.q.Years[y], r.short[2*g.at:2*g.at+2]
	since, ready, full := restsDays, 0.0, max(0, int(g.first-w.Start))
	for n := range g.steps {
		t := &g.steps[n]
		day := g.first.Add(n)
		at := int(day - w.Start)
		if at < 0 {
			continue
		}
		if at >= len(r.et) {
			break
		}
		a := t.Asks
		a.Reference, a.Rain = float64(r.et[at]), float64(r.rain[at])
		if t.dark != 0 {
			a.Reference = shaded(a.Reference, float64(r.sun[at]), t.dark)
		}
		since++
		if t.in {
			c.reach(&st, a.Root)
		}
		if in := t.given(&c, st, since, ready); in > 0 && a.Rain < in/2 { // a wet day waters itself
			a.Water, since = in, 0
			r.gave(y, g, full, at, in/reaches, t.in)
			full = at
		} else if t.in {
			full = at
		}
		f, err := c.Day(&st, day, a)
		if err != nil {
			return err
		}
		if ready = f.Ready; f.Drained > 0 {
			full = at
		}
		if t.held {
			short[0] += f.Wanted * g.area
			short[1] += (f.Drawn + f.Lost) * g.area
		}
	}
	return nil
}

// gave writes a watering down: in litres on its day, and as a depth over the days since the ground was last full.
//
//	full, at  days of the weather year
func (r *reckoning) gave(y int, g *ground, full, at int, mm float64, in bool) {
	week := func(at int) int { return int(r.q.Years[y].Start.Add(at)-r.monday) / 7 }
	k := at - r.start
	if k < 0 || k >= r.q.Season.Days {
		return
	}
	r.daily[y][k] += float32(mm * g.area)
	own := g.years[y]
	if in {
		own.in[week(at)] += float32(mm)
		return
	}
	from := min(at, max(r.start, full+1))
	days := float32(at - from + 1)
	for one := from; one <= at; one++ {
		own.depth[week(one)] += float32(mm) / days
		own.times[week(one)] += 1 / days
	}
}

// gather turns sums into the answer.
func (r *reckoning) gather(out *Needs) {
	years := float64(len(r.q.Years))
	out.Rain, out.ET = quantity.Millimetre(r.sums[0]/years), quantity.Millimetre(r.sums[1]/years)
	totals := make([]float64, len(r.q.Years))
	values := make([][]float64, r.weeks) // by week and year
	for w := range values {
		values[w] = make([]float64, len(r.q.Years))
	}
	var wanted, got float64
	for b, id := range r.beds {
		bed := r.bed(b, id, totals, values)
		wanted, got = wanted+r.short[2*b], got+r.short[2*b+1]
		out.Beds = append(out.Beds, bed)
	}
	if wanted > 0 {
		out.Short = 1 - got/wanted
	}
	out.Typical, out.Dry = quantity.Litre(quantile(totals, 0.5)), quantity.Litre(quantile(totals, 0.9))
	out.daily = r.daily
	for w := range r.weeks {
		week := GardenWeek{r.monday.Add(7 * w), quantity.Litre(quantile(values[w], 0.5)), quantity.Litre(quantile(values[w], 0.9))}
		out.Weeks = append(out.Weeks, week)
		if week.Dry > out.Peak {
			out.Peak, out.PeakWeek = week.Dry, week.From
		}
	}
}

// bed gathers one bed, and adds its litres to the garden's years and weeks.
func (r *reckoning) bed(b int, id int64, totals []float64, values [][]float64) BedNeed {
	bed := BedNeed{BedID: id}
	var patches []*ground
	for i := range r.patches {
		if r.patches[i].at == b {
			patches = append(patches, &r.patches[i])
		}
	}
	years := float64(len(r.q.Years))
	own := make([]float64, len(r.q.Years))
	for w := range r.weeks {
		week := r.week(patches, w)
		for y := range own {
			litres := 0.0
			for _, g := range patches {
				litres += float64(g.years[y].depth[w]+g.years[y].in[w]) * g.area
				week.In += quantity.Litre(float64(g.years[y].in[w]) * g.area / years)
			}
			own[y] += litres
			values[w][y] += litres
		}
		bed.Area = max(bed.Area, week.Area)
		bed.WateringIn += week.In
		bed.Weeks = append(bed.Weeks, week)
	}
	for y := range own {
		totals[y] += own[y]
	}
	bed.Typical, bed.Dry = quantity.Litre(quantile(own, 0.5)), quantity.Litre(quantile(own, 0.9))
	if wanted := r.short[2*b]; wanted > 0 {
		bed.Short = 1 - r.short[2*b+1]/wanted
		bed.Demand = quantity.Litre(wanted / years)
	}
	return bed
}

// quantile is the value that a share of the years stays under, on a straight line between neighbours.
func quantile(values []float64, share float64) float64 {
	ordered := slices.Clone(values)
	slices.Sort(ordered)
	return sorted(ordered, share)
}

// sorted is the quantile of values in order.
func sorted(values []float64, share float64) float64 {
	if len(values) == 0 {
		return 0
	}
	at := share * float64(len(values)-1)
	low := int(at)
	if low+1 >= len(values) {
		return values[len(values)-1]
	}
	return values[low] + (values[low+1]-values[low])*(at-float64(low))
}

// WayOf is a bed's watering as Stand and Question ask for it.
func WayOf(w garden.Watering) (wets, reaches float64, waters bool) {
	wets, reaches = Wetted(w.By)
	return wets, reaches, w.By != garden.Unwatered
}
