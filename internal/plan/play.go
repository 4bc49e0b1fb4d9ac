package plan

import (
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// This file plays a finished plan through every weather year, planting by planting in the order of their starts. It reads the plan as
// it is written, not the search's state. In each year
//
//   - a planting begins on its day when the ground is cleared by then, with the days for preparing it; else as soon as it is, but for
//     mostLate days at the most: then it is given up in that year;
//   - its fate is that of the growth table for the day on which it does begin, in that year;
//   - the ground of what is lifted, pulled or cut whole is free when all of it is out, however late that is. What is picked over
//     weeks is pulled on the day on which its ground is promised, or in a late year when the least picking is done that was worth its
//     ground, and what more could be picked is lost;
//   - what fails is seen to have failed by the promised day, and cleared.
//
// What was put in the ground before the plan has the day it was put in; where no growth table knows that day it stands as told.
// What stands among another's plants waits for the ground that both follow on, not for the other. Source: PLAN-PRACTICE.

// mostLate is how many days after its day a planting is still begun: plants hold in their pots for so long, and seed bought for the day
// is sown. Later in the year one sows something else (estimate). Source: PLAN-PRACTICE.
const mostLate = 21

// Played is what comes of a plan in every weather year.
type Played struct {
	Years     int
	Plantings []PlayedPlanting // in the plan's order
	Wants     []PlayedWant     // in the order of the plan's supply
}

// PlayedPlanting is what comes of a planting.
type PlayedPlanting struct {
	Key      string
	Known    bool          // a growth table knows it; else the rest is empty
	Success  int           // weather years in which it comes to harvest
	Late     int           // weather years in which its ground is not ready on its day
	MostLate int           // days of the latest beginning
	GivenUp  int           // weather years in which it would be begun too late
	Start    garden.Spread // goes in, over the years in which it is begun
	First    garden.Spread // over the years with a harvest
	Last     garden.Spread
}

// PlayedWant is what a want gets.
type PlayedWant struct {
	Want  garden.Want
	Years []quantity.Kilogram // useful harvest in each weather year, rising
}

// Play plays a plan through the weather years of the input that it was made from.
func Play(in Input, p *Plan) (*Played, error) {
	q, err := newProblem(in)
	if err != nil {
		return nil, err
	}
	f, err := newField(q)
	if err != nil {
		return nil, err
	}
	return f.play(p), nil
}

// part is a planting on stage.
type part struct {
	x      *garden.Planting
	o      option
	known  bool
	begun  bool    // it is in the ground already
	lag    int     // days by which shade makes it later
	whole  bool    // taken whole soon after it is ready
	full   float64 // milligrams that a full yield of its ground is
	before []*part // whose ground it follows on
	runs   []run   // by weather year
}

// run is a part in one weather year.
type run struct {
	in, first, last civil.Date // last: the last harvest before the ground is cleared
	clear           civil.Date // from this day on the ground is free
	late            int
	givenUp, ready  bool
	share           float64 // of a full yield, all that is taken
}

func (f *field) play(p *Plan) *Played {
	parts, years := f.cast(p)
	for _, y := range inOrder(parts) {
		for i := range years {
			y.runs = append(y.runs, f.run(y, i))
		}
	}
	out := &Played{Years: years}
	byKey := map[string]*part{}
	for _, y := range parts {
		out.Plantings = append(out.Plantings, y.told())
		byKey[y.x.Key] = y
	}
	for i := range p.Supply {
		if i < len(f.wants) {
			out.Wants = append(out.Wants, PlayedWant{p.Supply[i].Want, f.eaten(&f.wants[i], p.Supply[i].Keys, byKey, years)})
		}
	}
	return out
}

// inOrder is the parts by their start.
func inOrder(parts []*part) []*part {
	order := slices.Clone(parts)
	slices.SortStableFunc(order, func(a, b *part) int { return int(a.x.Start) - int(b.x.Start) })
	return order
}

// cast reads the plantings of a plan.
func (f *field) cast(p *Plan) (parts []*part, years int) {
	for i := range p.Plantings {
		x := &p.Plantings[i]
		y := &part{x: x, begun: x.Status != garden.Planned}
		if o, ok := f.optionUnder(x, x.Protection); ok && !x.Ended() && f.season.Span().Has(x.Start) {
			y.o, y.known, y.lag = o, true, f.lagOf(x, o)
			y.whole = x.Role == garden.Marker || x.Role == garden.Fast && o.crop.Harvest.Manner == crop.Repeated && x.Last.P50-x.First.P50 < briefDays
			years = max(years, o.times.Summary(x.Start).Years)
		}
		parts = append(parts, y)
	}
	for _, y := range parts {
		for _, z := range parts {
			if z.x.BedID == y.x.BedID && z.x.Start < y.x.Start && z.x.Clear <= y.x.Start && z.x.Clear > z.x.Start && z.x.Place.Meets(y.x.Place) {
				y.before = append(y.before, z)
			}
		}
		y.full = f.fullOf(y, years)
	}
	return parts, years
}

// lagOf is how many days later than in full light a planting is harvested in its bed.
func (p *problem) lagOf(x *garden.Planting, o option) int {
	for _, b := range p.garden.Beds {
		if sun, byMonth := p.sunFor(b, o, x.Start); b.ID == x.BedID && byMonth {
			return lateness(o, x.Start, lightShare(sun, o.crop.Light))
		}
	}
	return 0
}

// fullOf is what a full yield of a planting's ground is: as much as makes its expected harvest that of the mean year.
func (f *field) fullOf(y *part, years int) float64 {
	if !y.known || y.x.Expect <= 0 {
		return 0
	}
	mean := 0.0
	for i := range years {
		mean += taken(y, y.o.outcome(y.x.Start, i, y.lag), y.x.Clear).share / float64(years)
	}
	if mean <= 0 {
		return 0
	}
	return float64(y.x.Expect) * 1e6 / mean
}

// run plays one year of a planting whose forerunners have been played.
func (f *field) run(y *part, i int) run {
	if !y.known {
		return run{clear: y.x.Clear}
	}
	start := y.x.Start
	if !y.begun {
		for _, z := range y.before {
			if free := z.runs[i].clear; free > z.x.Clear {
				start = max(start, free.Add(f.settings.TurnDays))
			}
		}
	}
	late := start.Since(y.x.Start)
	if late > mostLate {
		return run{clear: y.x.Clear, late: late, givenUp: true}
	}
	out := taken(y, y.o.outcome(start, i, y.lag), y.x.Clear)
	out.late = late
	return out
}

// taken is what is harvested of an outcome when the ground is promised to be free from a day on.
func taken(y *part, of growth.Outcome, promised civil.Date) run {
	out := run{in: of.In, clear: promised}
	if of.Fate != growth.Ready {
		return out
	}
	c := y.o.crop
	out.ready, out.first, out.last, out.share = true, of.First, of.Last, of.Yield
	switch {
	case c.Perennial:
		return out
	case y.whole:
		out.last = of.First.Add(briefDays - 1)
		if c.Harvest.Manner == crop.Repeated {
			out.share *= cutWhole
		}
	case c.Harvest.Manner == crop.Repeated:
		least := int(math.Ceil(growth.LeastPicked(c)))
		out.last = min(of.Last, max(promised, of.First.Add(least))-1)
		out.share *= float64(out.last-of.First+1) / float64(of.Last-of.First+1)
	}
	out.clear = out.last + 1
	return out
}

// told sums up the years of a part.
func (y *part) told() PlayedPlanting {
	out := PlayedPlanting{Key: y.x.Key, Known: y.known}
	if !y.known {
		return out
	}
	var in, first, last []int
	for _, r := range y.runs {
		if r.late > 0 {
			out.Late++
		}
		if r.givenUp {
			out.GivenUp++
			continue
		}
		out.MostLate = max(out.MostLate, r.late)
		in = append(in, int(r.in))
		if r.ready {
			out.Success++
			first, last = append(first, int(r.first)), append(last, int(r.last))
		}
	}
	out.Start, out.First, out.Last = spreadOf(in), spreadOf(first), spreadOf(last)
	return out
}

// spreadOf is the days by which one, five and nine years of ten have come; it sorts them.
func spreadOf(days []int) garden.Spread {
	if len(days) == 0 {
		return garden.Spread{}
	}
	slices.Sort(days)
	at := func(percent int) civil.Date { return civil.Date(days[max((len(days)*percent+99)/100-1, 0)]) }
	return garden.Spread{P10: at(10), P50: at(50), P90: at(90)}
}

// eaten is what the plantings of a want give in each weather year, rising; of a weekly want only what is eaten.
func (f *field) eaten(d *demand, keys []string, byKey map[string]*part, years int) []quantity.Kilogram {
	standing := demand{weekly: d.weekly, fixed: make([]int64, len(d.fixed))}
	var parts []*part
	for _, key := range keys {
		switch y := byKey[key]; {
		case y == nil:
		case y.full > 0:
			parts = append(parts, y)
		default:
			f.standingHarvest(&standing, *y.x)
		}
	}
	out := make([]quantity.Kilogram, years)
	for i := range out {
		weeks := slices.Clone(standing.fixed)
		for _, y := range parts {
			f.bring(weeks, y, i)
		}
		var sum int64
		if d.weekly == nil {
			for _, mg := range weeks {
				sum += mg
			}
		} else {
			d.useful(weeks, func(_ int, eaten int64) { sum += eaten })
		}
		out[i] = quantity.Kilogram(kg(sum))
	}
	slices.Sort(out)
	return out
}

// bring adds a part's harvest of one weather year to the weeks, evenly from the first to the last day.
func (f *field) bring(weeks []int64, y *part, i int) {
	r := y.runs[i]
	if !r.ready {
		return
	}
	daily := int64(math.Round(r.share * y.full / float64(r.last-r.first+1)))
	for d := r.first; d <= r.last; d++ {
		if w := d.Since(f.season.Start) / 7; w < len(weeks) {
			weeks[w] += daily
		}
	}
}
