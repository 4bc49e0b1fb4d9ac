package weather

import (
	"math"

	"kailyard/internal/quantity"
)

// DegreeDays is a day's thermal time by the simple average: the mean of minimum and maximum above
// the base, both first brought to the upper threshold where they pass it (horizontal cut-off).
//
//	low, high  day's minimum and maximum, °C
//	base       temperature below which nothing grows, °C
//	upper      temperature above which more heat adds nothing, °C; at or below base: none
//	result     °C·d, never negative
//
// Source: MCMASTER-1997, method 1.
func DegreeDays(low, high, base, upper quantity.Celsius) quantity.CelsiusDay {
	if upper > base {
		low, high = min(low, upper), min(high, upper)
	}
	return quantity.CelsiusDay(max(0, (low+high)/2-base))
}

// DegreeDaysRaised is the simple average with minimum and maximum first brought into the range from
// base to upper, each for itself: the form used for maize with 50 and 86 °F.
//
// Source: MCMASTER-1997, method 2.
func DegreeDaysRaised(low, high, base, upper quantity.Celsius) quantity.CelsiusDay {
	if upper > base {
		low, high = min(low, upper), min(high, upper)
	}
	return quantity.CelsiusDay((max(low, base)+max(high, base))/2 - base)
}

// DegreeDaysSine is a day's thermal time under a sine curve through minimum and maximum: the area
// above the base, less the area above the upper threshold (horizontal cut-off). Arguments as for
// DegreeDays.
//
// Source: ZALOM-1983, single sine, after BASKERVILLE-1969.
func DegreeDaysSine(low, high, base, upper quantity.Celsius) quantity.CelsiusDay {
	area := sineAbove(float64(low), float64(high), float64(base))
	if upper > base {
		area -= sineAbove(float64(low), float64(high), float64(upper))
	}
	return quantity.CelsiusDay(area)
}

// sineAbove is the mean height above a threshold of a sine curve between low and high.
func sineAbove(low, high, threshold float64) float64 {
	mean, amplitude := (low+high)/2, (high-low)/2
	switch {
	case high <= threshold:
		return 0
	case low >= threshold || amplitude <= 0:
		return mean - threshold
	}
	theta := math.Asin(max(-1, min(1, (threshold-mean)/amplitude))) // where the curve crosses
	return ((mean-threshold)*(math.Pi/2-theta) + amplitude*math.Cos(theta)) / math.Pi
}
