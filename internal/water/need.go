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
}

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
	From         civil.Date
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

// WeekNeed is one week of a bed. A depth is over the ground that crops hold in it.
type WeekNeed struct {
	From         civil.Date
	Area         quantity.SquareMetre
	Typical, Dry Amount
	In           quantity.Litre // for watering in, mean
}

// Amount is a week's watering in a kind of year.
type Amount struct {
	Water quantity.Litre
	Depth quantity.Millimetre
	Times float64 // waterings
}

// Every is the days from one watering to the next; 0: none.
func (a Amount) Every() float64 {
	if a.Times < 0.5 {
		return 0
	}
	return 7 / a.Times
}

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
	r := newReckoning(q)
	order, err := standsInOrder(q.Stands)
	if err != nil {
		return out, err
	}
	for y := range q.Years {
		if err := r.year(y, order); err != nil {
			return out, fmt.Errorf("in the weather year %d: %w", q.Years[y].Year, err)
		}
	}
	r.gather(&out)
	return out, nil
}

// standsInOrder puts each stand behind the one before it on its ground.
func standsInOrder(stands []Stand) ([]int, error) {
	order := make([]int, len(stands))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return int(stands[a].From - stands[b].From) })
	for _, i := range order {
		s := stands[i]
		if s.After >= len(stands) || s.After >= 0 && (s.After == i || stands[s.After].From >= s.From) {
			return nil, fmt.Errorf("the planting %s is told to follow one that does not go in before it", s.Key)
		}
		if s.To < s.From || !(s.Area >= 0) {
			return nil, fmt.Errorf("the planting %s ends before it begins, or has no ground", s.Key)
		}
	}
	return order, nil
}

// reckoning holds what a run needs.
type reckoning struct {
	q       Question
	courses []course
	deep    float64
	weeks   int
	beds    []int64 // in the order of their first stand
	bedOf   []int   // by stand
	et      []float32
	rain    []float32
	start   int // index of the season's first day in the weather year
	ends    []State
	water   [][]float32 // by bed and year: L by week, then times by week, then L of watering in by week
	short   []float64   // by bed: wanted and drawn, summed
	daily   [][]float32
	sums    [2]float64 // rain and reference over the season
}

// fallow is how many days the ground lies bare before a stand without one before it; by then it has what the weather gave it.
const fallow = 45

func newReckoning(q Question) *reckoning {
	r := &reckoning{q: q, weeks: (q.Season.Days + 6) / 7, deep: 0.6, ends: make([]State, len(q.Stands))}
	for _, s := range q.Stands {
		r.courses = append(r.courses, s.course(q.Climate))
		r.deep = max(r.deep, float64(s.Crop.Root))
		at := slices.Index(r.beds, s.BedID)
		if at < 0 {
			at = len(r.beds)
			r.beds = append(r.beds, s.BedID)
		}
		r.bedOf = append(r.bedOf, at)
	}
	r.water = make([][]float32, len(r.beds)*len(q.Years))
	for i := range r.water {
		r.water[i] = make([]float32, 3*r.weeks)
	}
	r.short = make([]float64, 2*len(r.beds))
	for range q.Years {
		r.daily = append(r.daily, make([]float32, q.Season.Days))
	}
	return r
}

// year runs one weather year.
func (r *reckoning) year(y int, order []int) error {
	w := r.q.Years[y]
	r.et, r.rain, r.start = r.q.Place.OfYear(w, r.q.Factors), w.Rain, int(r.q.Season.Start-w.Start)
	if r.start < 0 || r.start+r.q.Season.Days > len(r.et) || len(r.rain) < len(r.et) {
		return fmt.Errorf("the weather does not reach over the season from %s", r.q.Season.Start)
	}
	for i := range r.q.Season.Days {
		r.sums[0] += float64(r.rain[r.start+i])
		r.sums[1] += float64(r.et[r.start+i])
	}
	for _, i := range order {
		if err := r.stand(y, i); err != nil {
			return err
		}
	}
	return nil
}

// stand runs one stand through one year.
func (r *reckoning) stand(y, i int) error {
	s := &r.q.Stands[i]
	ground, known := r.q.Grounds[s.BedID]
	if !known {
		ground = GroundOf("")
	}
	c := Column{Ground: ground, Deep: r.deep}
	st := State{Root: float64(s.Crop.Sown)}
	first := s.From.Add(-fallow)
	if s.After >= 0 {
		st, first = r.ends[s.After], r.q.Stands[s.After].To
	}
	w := r.q.Years[y]
	lying := bare(r.q.Climate, float64(s.Crop.Sown))
	for day := max(first, w.Start); day < s.From; day++ {
		at := int(day - w.Start)
		if at >= len(r.et) {
			break
		}
		lying.Reference, lying.Rain = float64(r.et[at]), float64(r.rain[at])
		if _, err := c.Day(&st, day, lying); err != nil {
			return err
		}
	}
	reaches := r.q.Reaches[s.BedID]
	if !(reaches > 0.1 && reaches <= 1) {
		reaches = 0.9
	}
	since, ready := restsDays, 0.0
	sums := r.water[r.bedOf[i]*len(r.q.Years)+y]
	short := r.short[2*r.bedOf[i]:]
	for n := range r.courses[i] {
		day := s.From.Add(n)
		at := int(day - w.Start)
		if at < 0 {
			continue
		}
		if at >= len(r.et) {
			break
		}
		a := r.courses[i][n]
		a.Reference, a.Rain = float64(r.et[at]), float64(r.rain[at])
		since++
		if in := s.given(&c, st, n, since, ready); in > 0 && a.Rain < in/2 { // a wet day waters itself
			a.Water, since = in, 0
			if k := at - r.start; k >= 0 && k < r.q.Season.Days {
				litres := float32(in / reaches * float64(s.Area))
				sums[k/7] += litres
				if n == 0 {
					sums[2*r.weeks+k/7] += litres
				}
				sums[r.weeks+k/7] += float32(s.Area)
				r.daily[y][k] += litres
			}
		}
		f, err := c.Day(&st, day, a)
		if err != nil {
			return err
		}
		ready = f.Ready
		short[0] += f.Wanted * float64(s.Area)
		short[1] += (f.Drawn + f.Lost) * float64(s.Area)
	}
	r.ends[i] = st
	return nil
}

// gather turns sums into the answer.
func (r *reckoning) gather(out *Needs) {
	years := float64(len(r.q.Years))
	out.Rain, out.ET = quantity.Millimetre(r.sums[0]/years), quantity.Millimetre(r.sums[1]/years)
	totals := make([]float64, len(r.q.Years))
	var wanted, got float64
	for b, id := range r.beds {
		bed := r.bed(b, id, totals)
		wanted, got = wanted+r.short[2*b], got+r.short[2*b+1]
		out.Beds = append(out.Beds, bed)
	}
	if wanted > 0 {
		out.Short = 1 - got/wanted
	}
	out.Typical, out.Dry = quantity.Litre(quantile(totals, 0.5)), quantity.Litre(quantile(totals, 0.9))
	out.daily = r.daily
	for w := range r.weeks {
		values := make([]float64, len(r.daily))
		for y, days := range r.daily {
			for k := 7 * w; k < min(7*w+7, len(days)); k++ {
				values[y] += float64(days[k])
			}
		}
		week := GardenWeek{out.Season.Start.Add(7 * w), quantity.Litre(quantile(values, 0.5)), quantity.Litre(quantile(values, 0.9))}
		out.Weeks = append(out.Weeks, week)
		if week.Dry > out.Peak {
			out.Peak, out.PeakWeek = week.Dry, week.From
		}
	}
}

func (r *reckoning) bed(b int, id int64, totals []float64) BedNeed {
	bed := BedNeed{BedID: id}
	years := len(r.q.Years)
	own := make([]float64, years)
	var in float64
	for w := range r.weeks {
		week := WeekNeed{From: r.q.Season.Start.Add(7 * w), Area: r.area(id, r.q.Season.Start.Add(7*w))}
		bed.Area = max(bed.Area, week.Area)
		litres, times := make([]float64, years), make([]float64, years)
		ins := 0.0
		for y := range years {
			sums := r.water[b*years+y]
			litres[y] = float64(sums[w])
			if week.Area > 0 {
				times[y] = float64(sums[r.weeks+w]) / float64(week.Area)
			}
			own[y] += litres[y]
			ins += float64(sums[2*r.weeks+w]) / float64(years)
		}
		week.In = quantity.Litre(ins)
		in += ins
		week.Typical, week.Dry = amount(litres, times, 0.5, week.Area), amount(litres, times, 0.9, week.Area)
		bed.Weeks = append(bed.Weeks, week)
	}
	for y := range own {
		totals[y] += own[y]
	}
	bed.WateringIn = quantity.Litre(in)
	bed.Typical, bed.Dry = quantity.Litre(quantile(own, 0.5)), quantity.Litre(quantile(own, 0.9))
	if wanted := r.short[2*b]; wanted > 0 {
		bed.Short = 1 - r.short[2*b+1]/wanted
		bed.Demand = quantity.Litre(wanted / float64(years))
	}
	return bed
}

// area is the ground of a bed that crops hold at some time of a week.
func (r *reckoning) area(id int64, from civil.Date) (sum quantity.SquareMetre) {
	for _, s := range r.q.Stands {
		if s.BedID == id && s.From < from+7 && s.To > from {
			sum += s.Area
		}
	}
	return sum
}

func amount(litres, times []float64, share float64, area quantity.SquareMetre) Amount {
	a := Amount{Water: quantity.Litre(quantile(litres, share)), Times: quantile(times, share)}
	if area > 0 {
		a.Depth = quantity.Millimetre(float64(a.Water) / float64(area))
	}
	return a
}

// quantile is the value that a share of the years stays under, on a straight line between neighbours.
func quantile(values []float64, share float64) float64 {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Clone(values)
	slices.Sort(sorted)
	at := share * float64(len(sorted)-1)
	low := int(at)
	if low+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[low] + (sorted[low+1]-sorted[low])*(at-float64(low))
}

// WayOf is a bed's watering as Stand and Question ask for it.
func WayOf(w garden.Watering) (wets, reaches float64, waters bool) {
	wets, reaches = Wetted(w.By)
	return wets, reaches, w.By != garden.Unwatered
}
