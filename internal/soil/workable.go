package soil

import (
	"errors"
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
	"kailyard/internal/weather"
)

// TopLayer is the upper fifteen centimetres of bare ground, as a bucket: what rain fills, what drains and what dries.
// Contents are parts of the soil's volume.
type TopLayer struct {
	Texture    garden.Texture // the one reckoned with
	Wilting    float64
	Capacity   float64 // what stays when it has drained
	Saturation float64
	Drains     float64 // of what is above capacity, in a day, while it is full
	Readily    float64 // mm that the air takes at its full rate
	Limit      float64 // at or below it, the soil crumbles instead of smearing
	Reasons    []garden.Reason
}

// layerDepth is how deep bare soil dries by evaporation, 0.10–0.15 m; the spade's upper half.
//
// Source: FAO56 (chapter 7, Ze)
const layerDepth = 150.0 // mm

// layers are wilting point, field capacity, saturation (m³/m³), saturated conductivity (mm a day), readily evaporable
// water (mm) and clay (per cent, the middle of its class). Peat and muck are estimated.
//
// Source: AQUACROP for all but the clay
var layers = map[garden.Texture]struct{ wilting, capacity, saturation, conducts, readily, clay float64 }{
	garden.Sand:      {0.06, 0.13, 0.36, 3000, 4, 4},
	garden.SandyLoam: {0.10, 0.22, 0.41, 1200, 7, 10},
	garden.Loam:      {0.15, 0.31, 0.46, 500, 9, 18},
	garden.SiltLoam:  {0.13, 0.33, 0.46, 575, 11, 17},
	garden.ClayLoam:  {0.23, 0.39, 0.50, 125, 11, 33},
	garden.Clay:      {0.39, 0.54, 0.55, 35, 14, 50},
	garden.Organic:   {0.20, 0.45, 0.70, 500, 10, 0},
}

// LayerOf is the top layer of a soil.
//
// It can be worked when its water, by weight, is at or below the upper tillage limit, 7.5 + 1.91·(organic matter) + 0.34·(clay)
// per cent, or when it is drained, whichever is the drier: a limit close to where a crumb rolls into a thread. On two soils
// near Berlin stickiness began at 20 and 28 per cent.
//
//	texture  empty: loam, and it says so
//	organic  per cent organic matter, 0: not known, 3 is taken; formula from 1 to about 10
//
// Source: WUR-WORK (formula); MULLER-2011 (check); AQUACROP
func LayerOf(texture garden.Texture, organic float64) TopLayer {
	l := TopLayer{Texture: texture}
	p, ok := layers[texture]
	if !ok {
		l.Texture, p = garden.Loam, layers[garden.Loam]
		l.Reasons = append(l.Reasons, garden.Reason{Says: "The texture is not told, so a loam is reckoned with; clay stays wet for days longer, sand for hours.", Rule: "top layer"})
	}
	if organic <= 0 {
		organic = 3
	}
	l.Wilting, l.Capacity, l.Saturation, l.Readily = p.wilting, p.capacity, p.saturation, p.readily
	l.Drains = math.Min(1, 0.0866*math.Pow(p.conducts, 0.35))
	l.Limit = p.capacity
	if l.Texture != garden.Organic {
		bulk := 2.65 * (1 - p.saturation)
		l.Limit = math.Min(p.capacity, TillageLimit(organic, p.clay)/100*bulk)
	}
	l.Reasons = append(l.Reasons, garden.Reason{
		Says: fmt.Sprintf("%s holds %.0f %% water when it has drained and crumbles at %.0f %% and below; above it smears and sets hard.", title(string(l.Texture)), l.Capacity*100, l.Limit*100),
		Rule: "upper tillage limit", Source: "WUR-WORK; AQUACROP",
	})
	return l
}

// TillageLimit is the most water, per cent of dry weight, at which soil can be worked without harm.
//
//	organic  per cent organic matter
//	clay     per cent
//
// Source: WUR-WORK
func TillageLimit(organic, clay float64) float64 { return 7.5 + 1.91*organic + 0.34*clay }

// evaporable is the water, mm, that the air can take from the layer.
//
// Source: FAO56 eq. 73, TEW = 1000·(θFC − 0.5·θWP)·Ze
func (l TopLayer) evaporable() float64 { return (l.Capacity - 0.5*l.Wilting) * layerDepth }

// DayOfGround is what a morning finds.
type DayOfGround struct {
	Water  float64 // of the layer's volume, at dawn
	Wet    bool    // above the limit
	Rain   bool    // it rains enough to stop work
	Snow   bool
	Frozen bool
	Hard   bool // drier than the wilting point: heavy soil is like stone
}

// Fit says whether the soil can be dug that day.
func (d DayOfGround) Fit() bool { return !d.Wet && !d.Rain && !d.Snow && !d.Frozen }

// Why says in a clause why it cannot be dug, or that it can.
func (d DayOfGround) Why() string {
	switch {
	case d.Snow:
		return "snow lies"
	case d.Frozen:
		return "the ground is frozen"
	case d.Wet:
		return "it is too wet: a handful does not crumble"
	case d.Rain:
		return "it rains"
	case d.Hard:
		return "it is dry enough, and may be hard"
	}
	return "it crumbles"
}

const (
	rainStops    = 2.0   // mm in a day; common practice
	meltPerDay   = 3.0   // mm a day for each °C above 0, from memory of degree-day melting, 2–5
	soilEvap     = 1.10  // bare wet soil over short grass, AQUACROP
	frostAnswers = 0.203 // a day's part of soil 5 cm deep in the air's change, 1/(3.8 + 22.5·z): the form growth fits to probes
)

// bucket is the state from day to day.
type bucket struct {
	water float64 // mm in the layer
	snow  float64 // mm lying
	soil  float64 // °C at 5 cm

	// What went where, mm, since it began: the sum always closes.
	came, dried, drained, ran float64
}

// Through runs the layer through days of weather and tells every morning. It begins drained, without snow.
//
//	latitude   degrees, north positive
//	start      the date of index 0
//	low, high  °C of each day
//	rain       mm of each day
//
// Source: FAO56 eq. 52 and 74 (evaporation), AQUACROP (drainage and the factor 1.10)
func (l TopLayer) Through(latitude float64, start civil.Date, low, high, rain []float32) []DayOfGround {
	return l.through(low, high, rain, dryingOf(latitude, start, low, high))
}

// dryingOf is the reference evapotranspiration of each day, mm.
func dryingOf(latitude float64, start civil.Date, low, high []float32) []float64 {
	et := make([]float64, min(len(low), len(high)))
	var above [367]quantity.MegajoulePerSquareMetre // sunshine above the air, by day of the year: the same in every year
	for i := range et {
		day := start.Add(i).YearDay()
		if above[day] == 0 {
			above[day] = sun.Extraterrestrial(latitude, day)
		}
		et[i] = float64(weather.Hargreaves(quantity.Celsius(low[i]), quantity.Celsius(high[i]), above[day]))
	}
	return et
}

// through runs the layer through days of which the drying, mm, is known.
func (l TopLayer) through(low, high, rain []float32, drying []float64) []DayOfGround {
	n := min(len(low), len(high), len(rain))
	if n == 0 {
		return nil
	}
	b := bucket{water: l.Capacity * layerDepth, soil: float64(low[0]+high[0]) / 2}
	days := make([]DayOfGround, n)
	for i := range n {
		mean := float64(low[i]+high[i]) / 2
		b.soil += frostAnswers * (mean - b.soil)
		days[i] = DayOfGround{
			Water: b.water / layerDepth, Wet: b.water/layerDepth > l.Limit+1e-9, Rain: float64(rain[i]) >= rainStops && mean >= 0,
			Snow: b.snow >= 1 || mean < 0 && float64(rain[i]) >= rainStops, Frozen: b.soil < 0,
			Hard: b.water/layerDepth < l.Wilting && (l.Texture == garden.Clay || l.Texture == garden.ClayLoam || l.Texture == garden.SiltLoam),
		}
		l.day(&b, mean, float64(rain[i]), drying[i])
	}
	return days
}

// day takes the bucket through one day.
func (l TopLayer) day(b *bucket, mean, rain, et float64) {
	b.came += rain
	in := rain
	if mean < 0 {
		b.snow, in = b.snow+rain, 0
	} else if b.snow > 0 {
		melt := math.Min(b.snow, meltPerDay*mean)
		b.snow, in = b.snow-melt, in+melt
	}
	b.water += in
	if full := l.Saturation * layerDepth; b.water > full {
		b.ran += b.water - full
		b.water = full
	}
	down := l.drainage(b.water / layerDepth)
	b.water -= down
	b.drained += down
	if b.snow <= 0 && b.soil >= 0 {
		up := math.Min(b.water, l.dries(l.Capacity*layerDepth-b.water)*soilEvap*et)
		b.water -= up
		b.dried += up
	}
}

// drainage is what runs down in a day, mm, of a layer wetter than field capacity: fast while it is full, slowing as it
// nears capacity.
//
//	Δθ = τ·(θsat − θFC)·(e^(θ−θFC) − 1)/(e^(θsat−θFC) − 1), τ = 0.0866·Ksat^0.35 ≤ 1
//
// Source: AQUACROP
func (l TopLayer) drainage(theta float64) float64 {
	above := theta - l.Capacity
	if above <= 0 {
		return 0
	}
	span := l.Saturation - l.Capacity
	d := l.Drains * span * (math.Exp(above) - 1) / (math.Exp(span) - 1)
	return math.Min(d, above) * layerDepth
}

// dries is how freely bare soil evaporates: fully until the readily evaporable water is gone, then less and less.
//
//	depletion  mm below field capacity; below 0 it is wetter
//	result     0–1
//
// Source: FAO56 eq. 74, Kr = (TEW − De)/(TEW − REW)
func (l TopLayer) dries(depletion float64) float64 {
	all := l.evaporable()
	ready := math.Min(l.Readily, all*0.9)
	if depletion <= ready {
		return 1
	}
	return math.Max(0, (all-depletion)/(all-ready))
}

// lately is how far back a state is reckoned from: the water of the top layer has forgotten what was before.
const lately = 240

// Lately is what the morning of a day finds, from the measured days before it. A day without a reading counts as dry and as warm
// as the day before; holes says how many of the last thirty days were so.
//
//	days  of a record, in order, without gaps of dates
func (l TopLayer) Lately(latitude float64, days []weather.Day, day civil.Date) (state DayOfGround, holes int, err error) {
	if len(days) == 0 {
		return state, 0, errors.New("there is no measured weather to tell the ground's state from")
	}
	first, last := days[0].Date, days[len(days)-1].Date
	if day > last+1 || day <= first {
		return state, 0, fmt.Errorf("the record has the days from %s to %s: the ground's state on %s cannot be told from it; bring the record up to date", first, last, day)
	}
	from := max(0, int(day-first)-lately)
	var low, high, rain []float32
	var a, b float32 = 10, 15
	for _, d := range days[from:int(day-first)] {
		if d.HasTemp {
			a, b = float32(d.Min), float32(d.Max)
		}
		wet := float32(0)
		if d.HasRain {
			wet = float32(d.Rain)
		}
		if (!d.HasTemp || !d.HasRain) && day-d.Date <= 30 {
			holes++
		}
		low, high, rain = append(low, a), append(high, b), append(rain, wet)
	}
	wet := float32(0)
	if today := int(day - first); today < len(days) && days[today].HasRain {
		wet = float32(days[today].Rain)
	}
	run := l.Through(latitude, days[from].Date, append(low, a), append(high, b), append(rain, wet))
	return run[len(run)-1], holes, nil
}
