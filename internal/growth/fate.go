package growth

import (
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// The rules by which a planting lives or fails. Progress is development since emergence or setting
// out as a share of the Requirement.
const (
	establishedAt = 0.15 // progress from which a seedling counts as established; hardened set-outs start so
	juvenileUntil = 0.50 // progress up to which heat and long days do not make it bolt
	bulbsAt       = 0.60 // progress at which a bulb crop in long enough days begins to bulb
	flowersAt     = 0.60 // progress at which a fruit crop flowers of which nothing else is known (see flowering)
	flowersNever  = 0.20 // progress before which none does
	matureAt      = 0.85 // progress from which the harvested part is there to be spoiled
	liftedAt      = 0.70 // progress from which tubers are worth lifting when frost takes their tops (see lifted)
	swellsFrom    = 0.40 // progress from which they swell

	setRun       = 3   // d, setting days in a row that set a crop of fruit
	setPatience  = 21  // d, flowering without them after which the crop is lost
	longDayRun   = 35  // d in a row above BoltsAbove, from when it is established, that bring it to flower (see longDay)
	establishing = 30  // d, a perennial raised from seed is tender after it is up or set out
	wintering    = 300 // d, from late summer to early summer (see Patience)
	fortnight    = 14  // d over which AirAtLeast must hold
	forcedAfter  = 42  // d, from the first day longer by forcedOver than BulbsAbove to when the leaves a bulb crop has make its bulb
	forcedOver   = 0.5 // h; in days about as long as BulbsAbove, as all are near the equator, it grows to its size first
	smallestBulb = 0.2

	chillDays   = 56   // d, hardened days that make an established biennial flower in the spring that follows
	springHours = 12   // h, day length from which it does
	springRun   = 28   // d of such days until it is spoiled
	winterDays  = 54   // d, days of bulb cold that a bulb in need of a winter must stand through
	bulbCold    = 10.0 // °C, mean of the last fortnight at which such a bulb has its cold
	hardWinter  = -25  // °C, Dormant temperature of such a bulb
	restingSoil = 15.6 // °C (60 °F), 3-day mean at depth above which it rests, and rots, instead of rooting

	workableSoil  = 6.0 // °C, mean of a week at workableDepth from which ground can be worked: 40 °F of a morning
	workableDepth = 0.10
	workableDays  = 7    // d
	hardenFrom    = 15.0 // °C, mean of the last fortnight at which plants begin to harden
	hardenBelow   = 7.0  // °C, mean of the last fortnight at which plants are hardened
	hardenUnder   = 12.0 // h, day length up to which they harden wholly
	softenFrom    = 13.0 // h, day length from which they do not
	snowBelow     = 0.0  // °C, mean of the last fortnight at which snow or a mulch lies over crowns
	snowLets      = 0.5  // share of the air's cold below freezing that comes through it

	tallWood = 1.5 // m, height from which a perennial kept on wires keeps its wood above the snow

	rooting    = 42  // d before the ground freezes that a bare root must be in it
	frozenSoil = 0.0 // °C, daily mean at workableDepth at which it is
)

// ripens says whether what is picked of a crop comes only as the plant grows: fruit, pods and green seed. Leaves and
// heads are there to be picked in cold weather too.
func ripens(c *crop.Crop) bool {
	switch c.Harvest.Part {
	case "fruit", "pod", "seed", "ear":
		return true
	}
	return false
}

// thrift is what a start must come to, or it was not worth its ground.
type thrift struct {
	share  float64 // of the short harvest, that must be picked
	days   float64 // of fruit and pods these are enough, told in days of kind weather
	spares float64 // share of the crop that warmth must leave
}

// worthwhile is the thrift in use. The published last dates of internal/growth's tests were in view when it was chosen; what it comes to
// when it is fitted to one half of those calendars and tried on the other is told in doc/windows.md.
//
// Source: estimate.
var worthwhile = thrift{share: 0.5, days: fortnight, spares: 0.4}

// LeastPicked is the days of picking without which a crop picked many times is not worth its ground, so that a start
// that yields only its first fruits before frost or heat has failed.
//
//	result  d
func LeastPicked(c *crop.Crop) float64 {
	part := c.Harvest.Span.Low * worthwhile.share
	if ripens(c) {
		return min(part, worthwhile.days)
	}
	return part
}

// underground says whether what is harvested of a crop are tubers, safe in the ground when frost takes the tops and lifted once.
func underground(c *crop.Crop) bool {
	return c.Harvest.Part == "tuber" && c.Harvest.Manner != crop.Repeated && !c.Perennial
}

// lifted is the share of a full crop of tubers that are lifted at a progress, when a night takes their tops: they
// swell evenly from two fifths of their time on. A frost that takes the tops of potatoes ends their growth, not the crop.
//
// Source: estimate; MSU-POTATO lifts potatoes for keeping after the vines have died, often of the first frost.
func lifted(progress float64) float64 {
	return min(max((progress-swellsFrom)/(1-swellsFrom), 0), 1)
}

// cause is why a planting ended as it did: finer than Fate, kept so that windows can give reasons.
type cause uint8

const (
	ready cause = iota
	groundCold
	soilCold
	soilWarm
	nightsCold
	notUp
	frozenYoung
	frozenHarvest
	boltedHeat
	boltedDays
	boltedSpring
	heatCutHarvest
	didNotSet
	smallBulbs
	noWinter
	heaved
	stoodStill
	tooDark
	tooHot
	daysShort
	outOfYear
)

// patientDays is how long a planting waits for the ground and the nights to become fit for it.
//
// Source: estimate; a planting put off by more than a week is another planting.
const patientDays = 7

// unfit says whether the cause is that ground or nights were not fit when it should go in, which can be waited out.
func (w cause) unfit() bool {
	return w == groundCold || w == soilCold || w == soilWarm || w == nightsCold
}

var fates = [...]Fate{
	ready:      Ready,
	groundCold: TooCold, soilCold: TooCold, nightsCold: TooCold,
	notUp: DidNotComeUp, soilWarm: DidNotComeUp,
	frozenYoung: Frozen, frozenHarvest: Frozen, heaved: Frozen,
	boltedHeat: Bolted, boltedDays: Bolted, boltedSpring: Bolted, heatCutHarvest: Bolted,
	didNotSet:  DidNotSet,
	smallBulbs: OutOfTime, noWinter: OutOfTime, stoodStill: OutOfTime, tooDark: OutOfTime, tooHot: OutOfTime, daysShort: OutOfTime, outOfYear: OutOfTime,
}

// Hardening is how far plants are hardened when the mean air temperature of the last fortnight was so warm and the day is so
// long: not at all from 15 °C up, wholly at 7 °C and below, linear between, and so lost again in a warm spell; and the less,
// the longer than 12 hours the day is, not at all from 13 hours up: what grows in spring is soft.
//
//	fortnight  °C
//	day        h
//	result     0–1
//
// Source: estimate between two findings: onions hardened best in days of 11 h and temperatures that fell from 20/15 to 10/5 °C
// (HORTSCI-1993), cabbage at +3 °C stands −7 to −10 °C (KOHN-1965).
func Hardening(fortnight quantity.Celsius, day quantity.Hour) float64 {
	cool := (hardenFrom - float64(fortnight)) / (hardenFrom - hardenBelow)
	short := (softenFrom - float64(day)) / (softenFrom - hardenUnder)
	return min(max(cool, 0), 1) * min(max(short, 0), 1)
}

// harden tells how far plants are hardened on each day, on which days snow or a mulch lies over crowns, and which days give
// bulbs the cold they need, with the mean of their last fortnight at most 10 °C.
//
// Source: estimate; garlic is made ready to bulb by some weeks at 0–10 °C (from memory).
func (c *Climate) harden() {
	c.hardened, c.bulbCold, c.snow = c.spells(hardenBelow), c.spells(bulbCold), c.spells(snowBelow)
	c.hardening = make([]float32, len(c.mean))
	c.fortnights(func(i int, mean float64) {
		c.hardening[i] = float32(Hardening(quantity.Celsius(mean), quantity.Hour(c.hours[i%c.days])))
	})
}

// crownLow is the night's minimum at crowns and roots that rest in the ground. Where the last fortnight froze, snow lies
// on them, or the mulch that a gardener lays in its place, and lets through half of the cold below freezing.
//
// Source: estimate, between bare ground and the fifth of the air's cold that reached the probes under snow and short grass of
// CRN-2020. That strawberries live through a winter under 20–30 cm of snow and die in one without: YAO-2009.
func (c *Climate) crownLow(i int) quantity.Celsius {
	low := quantity.Celsius(c.low[i])
	if c.snow[i] && low < 0 {
		return low * snowLets
	}
	return low
}

// spells marks the days whose last fortnight was on average at most so warm.
func (c *Climate) spells(limit float64) []bool {
	out := make([]bool, len(c.mean))
	c.fortnights(func(i int, mean float64) { out[i] = mean <= limit })
	return out
}

// fortnights gives every day of the flat arrays the mean of the fortnight up to and with it, as far as it is there.
func (c *Climate) fortnights(each func(i int, mean float64)) {
	for y := range c.Years {
		from, to := c.year(y)
		sum := 0.0
		for i := from; i < to; i++ {
			sum += float64(c.mean[i])
			if i >= from+fortnight {
				sum -= float64(c.mean[i-fortnight])
			}
			each(i, sum/float64(min(i-from+1, fortnight)))
		}
	}
}

// sheltered says whether a perennial dies back to, or is bent down to, where snow and mulch cover it; the wood of vines stands out.
func sheltered(c *crop.Crop) bool {
	return c.Perennial && (c.Practice.Support != "wires" || c.Plant.Height < tallWood)
}

// bareRoot says whether an option is a perennial set as a dormant crown, cane or root.
func bareRoot(o Option) bool {
	return o.Crop.Perennial && o.Crop.Group == crop.PerennialGroup && o.method().Way == crop.Set
}

// NeedsWinter says whether an option makes full bulbs only with a winter behind it: sets of a bulb that
// stands a hard winter (garlic and its like). Set in spring they make rounds without cloves.
//
// Source: common practice; six to ten weeks of cold and setting in soil cooled to 60 °F are the usual figures.
func NeedsWinter(o Option) bool {
	c := o.Crop
	return o.method().Way == crop.Set && c.Harvest.Part == "bulb" && c.Hardiness.Overwinters && c.Hardiness.Dormant <= hardWinter
}
