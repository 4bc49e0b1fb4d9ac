package season

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/water"
	"kailyard/internal/weather"
	"kailyard/internal/work"
)

// Water is what a season's beds want of water, and how they stand for it on a day.
type Water struct {
	Day     civil.Date
	Season  civil.Season
	Site    garden.Site
	Needs   water.Needs
	Store   water.Store // without weeks where there is no tank under a roof
	Says    []string    // the season, its peak, tap and tank
	Exceeds string      // how far the peak week exceeds what tap or tank can supply; empty: it does not, or nothing is known of them
	Beds    []BedWater  // in the garden's order
	Today   water.Balance
	Untold  string // why the day's balance is not told, else empty
	Basis   []string
	Rests   []string // of Basis, what the day's balance rests on too
	Care    []string
}

// BedWater is one bed's.
type BedWater struct {
	Bed    garden.Bed
	Way    garden.Watering
	Need   water.BedNeed  // without weeks where nothing grows
	Ground []water.Thirst // on the day, the thirstiest first
	Now    bool           // something in it is due for water today
	Give   water.Told     // how much, where it is due
	Says   string         // of the day, in a sentence; empty where nothing stands or nothing is told
}

// Week is the week of the season that holds a day; false outside the season and where nothing grows.
func (b BedWater) Week(day civil.Date) (water.WeekNeed, bool) {
	for _, w := range b.Need.Weeks {
		if day >= w.From && day < w.From+7 {
			return w, true
		}
	}
	return water.WeekNeed{}, false
}

// Bed is a bed's water.
func (w *Water) Bed(id int64) (BedWater, bool) {
	i := slices.IndexFunc(w.Beds, func(b BedWater) bool { return b.Bed.ID == id })
	if i < 0 {
		return BedWater{}, false
	}
	return w.Beds[i], true
}

// Due are the beds that want water on the day.
func (w *Water) Due() []BedWater {
	return slices.DeleteFunc(slices.Clone(w.Beds), func(b BedWater) bool { return !b.Now })
}

// InWeek is what the beds want in the seven days from a Monday, part by part.
func (w *Water) InWeek(monday civil.Date) []work.BedWater {
	var list []work.BedWater
	for _, b := range w.Beds {
		week, ok := b.Week(monday)
		if !ok {
			continue
		}
		for _, p := range water.TellParts(week, b.Way, w.Site.Supply, w.Site.Units) {
			bed := b.Bed.Name
			if p.Ground != "" {
				bed += ", " + p.Ground
			}
			list = append(list, work.BedWater{Bed: bed, Typical: p.Typical, Dry: p.Dry})
		}
	}
	return list
}

// watered is the season's water, reckoned on the first request.
type watered struct {
	once     sync.Once
	question water.Question
	planted  map[string]garden.Planting
	asked    sync.Once
	needs    water.Needs
	store    water.Store
	err      error
}

// waterQuestion is what the season's watering is reckoned from.
func (r *Result) waterQuestion() water.Question {
	r.water.asked.Do(func() {
		var all []garden.Planting
		seen := map[string]garden.Planting{}
		lists := [][]garden.Planting{r.Garden.Standing}
		if r.Plan != nil {
			lists = [][]garden.Planting{r.Plan.Plantings, r.Garden.Standing}
		}
		for _, list := range lists {
			for _, p := range list {
				if _, twice := seen[p.Key]; !twice {
					seen[p.Key] = p
					all = append(all, p)
				}
			}
		}
		r.water.planted = seen
		r.water.question = water.QuestionOf(r.textured(), all, r.Crops, r.Season, r.Record, r.Years)
		for i := range r.water.question.Stands {
			s := &r.water.question.Stands[i]
			s.Canopy = r.canopyOf(seen[s.Key], *s)
		}
		r.water.question.Light = r.bedEnergy()
	})
	return r.water.question
}

// Water tells what every bed wants of water by week, in a typical year and in a dry one of ten, whether tap and tank can supply it, and, from
// measured days and what the journal has of rain and waterings, which bed wants water on a day.
func (r *Result) Water(day civil.Date, journal []garden.Entry) (*Water, error) {
	needs, store, err := r.waterNeeds()
	if err != nil {
		return nil, err
	}
	site := r.Garden.Site
	w := &Water{Day: day, Season: r.Season, Site: site, Needs: needs, Store: store, Care: water.Cautions(site.Supply)}
	w.Says = water.TellSeason(w.Needs, w.Store, site.Supply, site.Units)
	w.Exceeds = exceeds(w.Needs, w.Store, site)
	w.today(r, journal)
	log := water.Logged(journal)
	for _, b := range r.Garden.Beds {
		w.Beds = append(w.Beds, w.bed(r.Garden, b, log))
	}
	w.Rests = append(slices.Clone(r.waterQuestion().Rests), r.shadeSays()...)
	w.Basis = append(slices.Clone(w.Rests), fmt.Sprintf("Typical is the middle of %d weather years; dry is what nine of ten stay under. A planting counts from the day the plan has it go in.", w.Needs.Years))
	if r.Generated() {
		w.Basis = append(w.Basis, "The weather years are generated from monthly figures and have nothing but temperature and rain: sunshine is told from the day's range of temperature, humidity from the night's minimum, wind as 2 m/s (4.5 mph). Give the garden a measured record to go by its own.")
	}
	return w, nil
}

// mostTap is how long a tap may run in a week before it is no supply: as water tells it.
const mostTap = quantity.Hour(28)

// exceeds says how the peak week exceeds the supply; empty where it does not, or nothing is known of the supply.
func exceeds(n water.Needs, store water.Store, site garden.Site) string {
	s, u := site.Supply, site.Units
	if n.Dry < 1 || n.Peak < 1 {
		return ""
	}
	hours := water.TapHours(n.Peak, s.Tap)
	switch {
	case hours > mostTap:
		return fmt.Sprintf("The peak week of a dry year, from %s, wants %s: the tap would run %.0f hours, more than a garden's should. Mulch, grow less that is thirsty then, or find a second source.", n.PeakWeek.Short(), water.Rough(n.Peak, u), math.Ceil(float64(hours)))
	case hours > 0 || s.Tank <= 0 || s.Roof <= 0:
		return ""
	}
	for _, w := range store.Weeks {
		if w.From == n.PeakWeek && w.Chance < 0.9 {
			return fmt.Sprintf("The peak week of a dry year, from %s, wants %s; the tank meets that week in %.0f years of ten and is %s short in a dry one, and no tap is told. Mulch, a larger tank, or tell the tap.", n.PeakWeek.Short(), water.Rough(n.Peak, u), math.Floor(10*w.Chance+1e-9), water.Rough(w.DryShort, u))
		}
	}
	return ""
}

func (w *Water) bed(g garden.Garden, b garden.Bed, log []water.Given) BedWater {
	out := BedWater{Bed: b, Way: g.WateredBy(b)}
	if i := slices.IndexFunc(w.Needs.Beds, func(n water.BedNeed) bool { return n.BedID == b.ID }); i >= 0 {
		out.Need = w.Needs.Beds[i]
	}
	var due, others []water.Thirst
	for _, t := range w.Today.Ground {
		if t.BedID != b.ID {
			continue
		}
		out.Ground = append(out.Ground, t)
		if t.Now && t.Waters() {
			due = append(due, t)
		} else {
			others = append(others, t)
		}
	}
	switch {
	case len(out.Ground) == 0:
	case len(due) > 0:
		w.due(&out, due, others, log)
	default:
		out.Says = out.Ground[0].Says
	}
	return out
}

// due tells a bed what it is due for: what one watering can bring, and the rest where that is worth a second.
func (w *Water) due(out *BedWater, due, others []water.Thirst, log []water.Given) {
	var area, dry quantity.SquareMetre
	var give, rest quantity.Litre
	for _, t := range due {
		most := min(t.Give, quantity.Litre(water.MostAtOnce*float64(t.Area)))
		area, give = area+t.Area, give+most
		if left := t.Give - most; float64(left) >= water.LeastRest*float64(t.Area) { // less waits for the next watering
			dry, rest = dry+t.Area, rest+left
		}
	}
	told := func(v quantity.Litre, area quantity.SquareMetre) string {
		return water.Tell(v, area, out.Way, w.Site.Supply, w.Site.Units).Says
	}
	if last, soaked := w.soaked(out.Bed.ID, area, give, log); soaked {
		out.Says = fmt.Sprintf("It was watered on %s and lacks little: give nothing today.", last.Short())
		if lacks := give + rest; float64(lacks) >= water.LeastRest*float64(area) {
			out.Says = fmt.Sprintf("It was watered on %s and still lacks %s; give the rest from %s on.", last.Short(), told(lacks, area), last.Add(rests).Short())
		}
		return
	}
	out.Now, out.Give = true, water.Tell(give, area, out.Way, w.Site.Supply, w.Site.Units)
	to := ""
	if len(others) > 0 {
		to = fmt.Sprintf(" to %s (%s)", water.Grows(due, others), w.Site.Units.Area(area))
	}
	out.Says = fmt.Sprintf("%s Give %s%s.", due[0].Says, out.Give.Says, to)
	if rest <= 0 {
		return
	}
	when := "two or three days later"
	if more := math.Ceil(float64(rest) / float64(dry) / water.MostAtOnce); more > 1 {
		when = fmt.Sprintf("in %.0f waterings two or three days apart", more)
	}
	out.Says += fmt.Sprintf(" It lacks more than one watering can bring; the rest is %s, %s, unless it rains.", told(rest, dry), when)
}

// rests is how many days a bed rests from a good watering to the next. Source: common practice
const rests = 2

// soaked says whether a bed was given a good half of what it is due for, today or yesterday.
func (w *Water) soaked(bed int64, area quantity.SquareMetre, give quantity.Litre, log []water.Given) (last civil.Date, ok bool) {
	var had quantity.Litre
	for _, g := range log {
		if g.BedID == bed && g.Date > w.Day-rests && g.Date <= w.Day {
			had, last = had+g.Water+quantity.Litre(float64(g.Depth)*float64(area)), max(last, g.Date)
		}
	}
	return last, had > 0 && had >= give/2
}

// today runs the balance up to the day. A record that does not reach it is led on by the usual temperatures of the time of year, where the journal
// tells what fell or was given.
func (w *Water) today(r *Result, journal []garden.Entry) {
	log := water.Logged(journal)
	q, unsaid := stood(r.waterQuestion(), r.water.planted, journal, w.Day)
	defer func() {
		if len(unsaid) > 0 && len(w.Today.Ground) > 0 {
			w.Today.Notes = append(w.Today.Notes, "Not written down as sown or set out, and counted from the plan's day: "+water.Part{Names: unsaid}.Grows()+".")
		}
	}()
	balance, err := water.Today(q, r.Record, log, w.Day)
	if err == nil {
		w.Today = balance
		return
	}
	w.Untold = upper(strings.TrimSuffix(err.Error(), ".")) + "."
	first := w.Day + 1 // the person's first entry
	for _, g := range log {
		if g.Date > w.Day-led {
			first = min(first, g.Date)
		}
	}
	if !slices.ContainsFunc(log, func(g water.Given) bool { return g.Date > w.Day-30 && g.Date <= w.Day }) {
		return
	}
	led := r.ledOn(w.Day, first)
	if led == nil {
		return
	}
	balance, err = water.Today(q, led, log, w.Day)
	if err != nil {
		return
	}
	if balance.NoRain > 3 {
		balance.Notes = balance.Notes[1:] // the next sentence says it
	}
	balance.Notes = append([]string{"The weather record does not reach this day. Evaporation is the usual one of the time of year, and rain is what you logged, from your first entry on: look a finger deep before you trust it."}, balance.Notes...)
	w.Today, w.Untold = balance, ""
}

// led is how many days before a day the balance looks at.
const led = 367

// ledOn is a record of the days before a day: measured ones where there are any, else the mean temperatures of the weather years. Until the person began to
// log, the mean rain of the years falls; from then on what they log.
func (r *Result) ledOn(day, first civil.Date) *weather.Record {
	out := &weather.Record{Origin: weather.Measured, Source: "the usual temperatures of the time of year"}
	for d := day - led; d < day; d++ {
		one := weather.Day{Date: d}
		if n := len(r.Record.Days); !r.Generated() && n > 0 && d >= r.Record.Days[0].Date && d <= r.Record.Days[n-1].Date {
			one = r.Record.Days[d-r.Record.Days[0].Date]
		} else {
			one = r.usual(d)
			one.HasRain = d < first
		}
		if !one.HasTemp && len(out.Days) == 0 {
			continue
		}
		out.Days = append(out.Days, one)
	}
	if len(out.Days) < 8 {
		return nil
	}
	return out
}

// usual is a date's mean day over the weather years.
func (r *Result) usual(d civil.Date) weather.Day {
	var low, high, rain float64
	n := 0.0
	for _, y := range r.Years {
		at := int(d - y.Start)
		if at < 0 || at >= len(y.Min) || at >= len(y.Rain) {
			continue
		}
		low, high, rain, n = low+float64(y.Min[at]), high+float64(y.Max[at]), rain+float64(y.Rain[at]), n+1
	}
	if n == 0 {
		return weather.Day{Date: d}
	}
	return weather.Day{Date: d, Min: quantity.Celsius(low / n), Max: quantity.Celsius(high / n), HasTemp: true, Rain: quantity.Millimetre(rain / n)}
}

// goingIn is how the season's plantings find the ground when they go in, for their jobs; one that cannot be told has none.
func (r *Result) goingIn() map[string]water.GoingIn {
	list, err := water.GoIn(r.waterQuestion())
	if err != nil {
		r.Aside = append(r.Aside, "No job speaks of the ground's moisture: "+strings.TrimSuffix(err.Error(), ".")+".")
		return nil
	}
	out := make(map[string]water.GoingIn, len(list))
	for _, g := range list {
		out[g.Key] = g
	}
	return out
}
