package growth

import (
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// curves are everything of the climate that one option needs, by year and day. Options with the same
// figures share them.
type curves struct {
	ground    []cause   // ready, or why nothing goes in on the day
	emerging  []float64 // running sums of EmergenceRate; nil for SetOut
	growing   []float64 // running sums of development in light
	light     []float64 // LightFactor by day, the same in all years
	seedling  toll      // what the nights do, by stage
	growers   toll
	harvested toll
	crowns    toll      // of an established perennial; empty for others
	heat      []float64 // running sums of °C above BoltAbove; nil without limit
	warmth    []float64 // running sums of °C above heatReach below BoltAbove; nil without limit
	setting   []int16   // first day of the next run of days on which fruit sets; nil without limits
	settingIn []int16   // running count of days on which fruit sets
	longDays  []int16   // day that ends the next run of bolting day length, the same in all years; nil without limit
	bulbing   []int16   // next day long enough to bulb, the same in all years; nil without limit
	forced    []int16   // for each day, forcedAfter days past the start of the long days it lies in or that come next
	chill     []float64 // running count of hardened days, or of bulb cold; nil for crops to which winter is nothing
	springs   []int16   // day that ends the next run of spring days, the same in all years; nil unless biennial
	hardening []float32 // the climate's, beside lowest
	freezes   []int16   // next day on which the ground is frozen; nil for all but bare roots
	lowest    []float32 // °C, coldest night of the fortnight from the day
}

// The keys by which curves are shared.
type (
	groundKey struct {
		depth, soil float64
		rests       bool // NeedsWinter, or a bare root
		dry         bool // under a cover that keeps rain off
	}
	emergeKey struct {
		depth, least, most float64
		points             string
	}
	coldKey struct {
		kills, hardened float64
		crown           bool // at rest in the ground
	}
	runKey struct {
		limit float64
		days  int
	}
	setKey struct{ day, night, below float64 }
)

// preparation makes curves and remembers them for the options of one table run.
type preparation struct {
	c       *Climate
	lowest  []float32
	chill   []float64
	cold10  []float64 // as chill, of bulb cold
	soils   map[float64][]float32
	grounds map[groundKey][]cause
	emerge  map[emergeKey][]float64
	grow    map[crop.Cardinal][]float64
	colds   map[coldKey]toll
	heats   map[float64][]float64
	longs   map[runKey][]int16
	sets    map[setKey][2][]int16
	frosts  []int16
}

func prepare(c *Climate) *preparation {
	return &preparation{
		c:       c,
		soils:   map[float64][]float32{},
		grounds: map[groundKey][]cause{},
		emerge:  map[emergeKey][]float64{},
		grow:    map[crop.Cardinal][]float64{},
		colds:   map[coldKey]toll{},
		heats:   map[float64][]float64{},
		longs:   map[runKey][]int16{},
		sets:    map[setKey][2][]int16{},
	}
}

// once is the value under the key, made when it is asked for first.
func once[K comparable, V any](kept map[K]V, key K, make func() V) V {
	v, ok := kept[key]
	if !ok {
		v = make()
		kept[key] = v
	}
	return v
}

// of is the curves of an option.
func (p *preparation) of(o Option) curves {
	m, k := o.method(), o.Crop
	v := curves{
		ground:  p.ground(m, NeedsWinter(o) || bareRoot(o), o.Protection != nil && o.Protection.Dry),
		growing: p.growing(k.Cardinal),
		light:   p.c.light,
	}
	seedling, growing, harvested := colds(k)
	v.seedling, v.growers, v.harvested = p.cold(seedling), p.cold(growing), p.cold(harvested)
	if !k.Perennial || k.Harvest.FirstYear <= 1 {
		v.heat, v.warmth = p.heating(k.Heat)
	}
	if m.Way != crop.SetOut {
		v.emerging = p.emerging(k.Emergence, m.Depth)
	}
	if k.Biennial {
		v.springs = p.long(springHours, springRun)
	}
	switch {
	case k.Biennial:
		v.chill = p.chilled(&p.chill, p.c.hardened)
	case NeedsWinter(o):
		v.chill = p.chilled(&p.cold10, p.c.bulbCold)
	}
	if k.Perennial {
		v.crowns = p.cold(coldKey{kills: float64(min(k.Hardiness.Dormant, k.Hardiness.Established)), crown: sheltered(k)})
	}
	if bareRoot(o) {
		v.freezes = p.freezes()
	}
	if m.AirAtLeast != nil {
		if p.lowest == nil {
			p.lowest = make([]float32, len(p.c.low))
			p.eachYear(func(from, to int) { lowestAhead(p.lowest[from:to], p.c.low[from:to], fortnight) })
		}
		v.lowest, v.hardening = p.lowest, p.c.hardening
	}
	if both := p.setting(k.Heat); both[0] != nil {
		v.setting, v.settingIn = both[0], both[1]
	}
	if limit := k.DayLength.BoltsAbove; limit != nil {
		v.longDays = p.long(float64(*limit), longDayRun)
	}
	if limit := k.DayLength.BulbsAbove; limit != nil {
		v.bulbing = p.long(float64(*limit), 1)
		v.forced = p.forced(p.long(float64(*limit)+forcedOver, 1))
	}
	return v
}

func (p *preparation) eachYear(do func(from, to int)) {
	for y := range p.c.Years {
		do(p.c.year(y))
	}
}

func (p *preparation) soil(depth quantity.Metre) []float32 {
	return once(p.soils, float64(depth), func() []float32 { return p.c.soil(depth) })
}

// ground says for each day whether the ground can be worked and the soil at depth is warm enough, and
// cool enough for a bulb that rests in warm soil.
//
// Workable is a stand-in for ground that is neither wet nor frozen. Under a cover that keeps the rain off, the soil is to be what
// seed or plant needs and no more.
func (p *preparation) ground(m crop.Method, rests, dry bool) []cause {
	return once(p.grounds, groundKey{float64(m.Depth), float64(m.SoilAtLeast), rests, dry}, func() []cause {
		work, deep := p.soil(workableDepth), p.soil(m.Depth)
		out := make([]cause, len(work))
		p.eachYear(func(from, to int) {
			for i := from; i < to; i++ {
				switch {
				case !dry && !workable(work[from:to], i-from):
					out[i] = groundCold
				case threeDays(deep[from:to], i-from) < float64(m.SoilAtLeast):
					out[i] = soilCold
				case rests && threeDays(deep[from:to], i-from) > restingSoil:
					out[i] = soilWarm
				}
			}
		})
		return out
	})
}

// threeDays is the mean of a day and the two before it, as far as they are there.
func threeDays(values []float32, i int) float64 { return daysMean(values, i, 3) }

// daysMean is the mean of so many days up to and with a day, as far as they are there.
func daysMean(values []float32, i, days int) float64 {
	from, sum := max(i-days+1, 0), 0.0
	for _, v := range values[from : i+1] {
		sum += float64(v)
	}
	return sum / float64(i+1-from)
}

// workable says whether the ground can be worked: the mean of the week up to and with the day at workableDepth is warm enough.
func workable(soil []float32, i int) bool { return daysMean(soil, i, workableDays) >= workableSoil }

// runningSums fills, for each year, days+1 sums of the daily rate: the k-th is over the days before k.
func (p *preparation) runningSums(rate func(i int) float64) []float64 {
	n := p.c.days
	out := make([]float64, len(p.c.Years)*(n+1))
	for y := range p.c.Years {
		sums, from := out[y*(n+1):(y+1)*(n+1)], y*n
		for k := range n {
			sums[k+1] = sums[k] + rate(from+k)
		}
	}
	return out
}

func (p *preparation) emerging(e crop.Emergence, depth quantity.Metre) []float64 {
	key := emergeKey{float64(depth), float64(e.Least), float64(e.Most), pointsKey(e.Points)}
	return once(p.emerge, key, func() []float64 {
		soil := p.soil(depth)
		return p.runningSums(func(i int) float64 { return EmergenceRate(e, quantity.Celsius(soil[i])) })
	})
}

func (p *preparation) growing(c crop.Cardinal) []float64 {
	return once(p.grow, c, func() []float64 { return p.sumsOf(c) })
}

func (p *preparation) sumsOf(c crop.Cardinal) []float64 {
	n := p.c.days
	return p.runningSums(func(i int) float64 { return developSamples(c, p.c.swing[i]) * p.c.light[i%n] })
}

// chilled is the running count of the days marked, kept in its place.
func (p *preparation) chilled(kept *[]float64, marked []bool) []float64 {
	if *kept == nil {
		*kept = p.runningSums(func(i int) float64 {
			if marked[i] {
				return 1
			}
			return 0
		})
	}
	return *kept
}

// next fills an index for each year.
func (p *preparation) next(fill func(next []int16, from int)) []int16 {
	out := make([]int16, len(p.c.low))
	p.eachYear(func(from, to int) { fill(out[from:to], from) })
	return out
}

// long is the end of the next run of days longer than the limit, for one year as for all.
func (p *preparation) long(limit float64, days int) []int16 {
	return once(p.longs, runKey{limit, days}, func() []int16 {
		next := make([]int16, p.c.days)
		nextRunEnd(next, days, func(i int) bool { return p.c.hours[i] > limit })
		return next
	})
}

// forced is, for each day, forcedAfter days past the first of the much too long days that the day lies in, or of the
// next ones; next is the next long day. Long days that had begun before the climate's first day count from it.
func (p *preparation) forced(next []int16) []int16 {
	out := make([]int16, len(next))
	for i, long := range next {
		switch {
		case long == never:
			out[i] = never
		case i > 0 && next[i-1] == int16(i-1) && long == int16(i):
			out[i] = out[i-1]
		default:
			out[i] = long + forcedAfter
		}
	}
	return out
}

// setting is the first day of the next run of setting days, and the running count of setting days.
func (p *preparation) setting(h crop.Heat) [2][]int16 {
	if h.SetDayAbove == nil && h.SetNightAbove == nil && h.SetNightBelow == nil {
		return [2][]int16{}
	}
	key := setKey{orElse(h.SetDayAbove, 99), orElse(h.SetNightAbove, 99), orElse(h.SetNightBelow, -99)}
	return once(p.sets, key, func() [2][]int16 {
		sets := func(i int) bool {
			return float64(p.c.high[i]) <= key.day && float64(p.c.low[i]) <= key.night && float64(p.c.low[i]) >= key.below
		}
		start := p.next(func(next []int16, from int) {
			nextRunStart(next, setRun, func(i int) bool { return sets(from + i) })
		})
		count := p.next(func(count []int16, from int) {
			n := int16(0)
			for i := range count {
				count[i] = n // of the days before i
				if sets(from + i) {
					n++
				}
			}
		})
		return [2][]int16{start, count}
	})
}

// freezes is the next day on which the ground is frozen.
func (p *preparation) freezes() []int16 {
	if p.frosts == nil {
		soil := p.soil(workableDepth)
		p.frosts = p.next(func(next []int16, from int) {
			nextRunEnd(next, 1, func(i int) bool { return soil[from+i] < frozenSoil })
		})
	}
	return p.frosts
}

func orElse(limit *quantity.Celsius, absent float64) float64 {
	if limit == nil {
		return absent
	}
	return float64(*limit)
}
