package weather

import (
	"math"

	"kailyard/internal/quantity"
)

// Hargreaves is the reference evapotranspiration (short grass, well watered) where only temperature is measured.
// It answers within about a fifth over a month; wet windy places and single days worse.
//
//	low, high  °C of the day, or of a month's mean day; a day with high below low counts as without range
//	ra         MJ/m² and day, sunshine above the air
//	result     mm a day, never negative
//
// Source: FAO56 eq. 52, with 0.408 mm of water to a MJ/m²
func Hargreaves(low, high quantity.Celsius, ra quantity.MegajoulePerSquareMetre) quantity.Millimetre {
	mean := float64(low+high) / 2
	spread := math.Max(0, float64(high-low))
	return quantity.Millimetre(math.Max(0, 0.0023*(mean+17.8)*math.Sqrt(spread)*0.408*float64(ra)))
}
