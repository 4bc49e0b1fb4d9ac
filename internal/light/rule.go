package light

import (
	"fmt"
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// This file is the one rule of what a crop makes of its hours of sun: the pages of light and the plan both read it here.
//
// A crop has its full yield from the hours it needs, below them the yield in proportion, and below its least nothing that is
// worth the ground. What yields less for want of light is later too, by half the missing share of its time.
// Source: PLAN-PRACTICE (estimates).

// slowness is how much later a crop is for a share of its light that is missing, as a share of its time.
const slowness = 0.5

// asWritten is how far below its least a crop is still taken to have it: hours are told to the tenth, and 6.0 reads as 6.
const asWritten quantity.Hour = 0.05

// Share is the share of its full yield that a crop makes.
//
//	hours  of direct sun a day while it grows, 0–24
//	wants  the hours of full yield and the least, of the catalogue
//
// Source: PLAN-PRACTICE (estimate).
func Share(hours quantity.Hour, wants crop.Light) float64 {
	switch {
	case hours+asWritten < wants.Least:
		return 0
	case hours >= wants.Needs || wants.Needs <= 0:
		return 1
	}
	return float64(hours / wants.Needs)
}

// Later is how many whole weeks later than in full light a crop is ready that has a share of its yield.
//
//	days   from its start to its first harvest in full light
//	share  as of Share; none of a crop that does not grow, or has all it needs
//
// Source: PLAN-PRACTICE (estimate).
func Later(days int, share float64) (weeks int) {
	if share <= 0 || share >= 1 {
		return 0
	}
	return int(math.Round(slowness * (1 - share) * float64(days) / 7))
}

// CountedOn says what a share of the yield comes to, in the words of pages and plan.
func CountedOn(share float64) string {
	return fmt.Sprintf("about %.0f %% of the yield is counted on", 100*share)
}
