package growth

import (
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// DevelopmentRate is the speed of development at a temperature, as a share of full speed.
//
// None below Base and above Max, full between OptLow and OptHigh, linear between: the cardinal
// temperatures of crop physiology.
//
//	t       °C, air temperature at a moment
//	result  0–1; one at full speed for a day is one full-speed day
//
// Source: ECOCROP and DSSAT for the form and most figures.
func DevelopmentRate(c crop.Cardinal, t quantity.Celsius) float64 {
	switch {
	case t <= c.Base || t >= c.Max:
		return 0
	case t < c.OptLow:
		return float64((t - c.Base) / (c.OptLow - c.Base))
	case t <= c.OptHigh:
		return 1
	}
	return float64((c.Max - t) / (c.Max - c.OptHigh))
}

// The sines of 22.5° and 67.5°: a full wave sampled at eight even phases takes each of ±these twice.
const sineInner, sineOuter = 0.3826834323650898, 0.9238795325112867

// daySamples are the temperatures of a day at four phases of a sine between its minimum and maximum;
// their equal-weighted mean is the eight-point midpoint rule over the day.
func daySamples(low, high float32) [4]float32 {
	m, a := (low+high)/2, (high-low)/2
	return [4]float32{m - a*sineOuter, m - a*sineInner, m + a*sineInner, m + a*sineOuter}
}

// DayDevelopment is a day's development in full-speed days: the mean of DevelopmentRate over a sine between
// the minimum and the maximum, so that a cool mean with warm afternoons still counts for something.
//
// Source: the sine between minimum and maximum after BASKERVILLE-1969, here by eight samples.
func DayDevelopment(c crop.Cardinal, low, high quantity.Celsius) float64 {
	return developSamples(c, daySamples(float32(low), float32(high)))
}

func developSamples(c crop.Cardinal, samples [4]float32) float64 {
	sum := 0.0
	for _, t := range samples {
		sum += DevelopmentRate(c, quantity.Celsius(t))
	}
	return sum / 4
}

// usualSwing is the daily range of air temperature, °C, of the fields in which days to harvest are
// recorded: 11–13 °C from March to June at most stations of CRN-2020.
const usualSwing = 12.0

// Requirement is the development from emergence (or setting out) to first harvest in full-speed days,
// such that in steady days of mean temperature Reference and the usual daily range of 12 °C, and in long days,
// the method takes exactly its mid Days. For Sow and Set the days include the emergence at a soil
// temperature equal to Reference; a crop is taken to be at least half of its days above ground. possible
// is false when the figures contradict each other: no development at the Reference temperature.
func Requirement(o Option) (full float64, possible bool) {
	m := o.method()
	days := m.Days.Mid()
	if m.Way != crop.SetOut {
		if rate := EmergenceRate(o.Crop.Emergence, m.Reference); rate > 0 {
			days = max(days-1/rate, days/2)
		}
	}
	full = days * referenceSpeed(o)
	return full, full > 0
}

// referenceSpeed is a day's development in the weather for which the method's Days hold.
func referenceSpeed(o Option) float64 {
	reference := o.method().Reference
	return DayDevelopment(o.Crop.Cardinal, reference-usualSwing/2, reference+usualSwing/2)
}
