package soil

import (
	"math"

	"kailyard/internal/crop"
)

// The loss of yield for each pH unit outside a crop's range, and what is left at the worst.
const (
	lossBelow   = 0.55
	lossAbove   = 0.20
	leastFactor = 0.05
)

// PHFactor is the share of a crop's yield that a pH outside its range leaves. Within the range all of it; under it the loss grows
// by 55 % of the whole with each unit, over it by 20 %. The slopes are fitted here, by eye and least squares, to seven field crops
// at five pH values grown at Wooster, Ohio; vegetables were not among them, so the factor is an estimate: it says how
// bad, not how many kilograms.
//
//	range  of the crop, pH in water
//	ph     in water, 3 to 10
//	result 0.05 to 1; 1 where the crop's range is not known
//
// Source: OHIO-1938 (relative yields at pH 4.7, 5.0, 5.7, 6.8 and 7.5; from memory)
func PHFactor(within crop.Range, ph float64) float64 {
	if within.High <= 0 || math.IsNaN(ph) {
		return 1
	}
	loss := lossBelow*math.Max(0, within.Low-ph) + lossAbove*math.Max(0, ph-within.High)
	return math.Max(leastFactor, 1-loss)
}
