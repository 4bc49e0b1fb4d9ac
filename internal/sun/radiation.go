package sun

import (
	"math"

	"kailyard/internal/quantity"
)

// Extraterrestrial is the sunshine that falls in a day on level ground above the air: what the season and
// the latitude give, before any cloud.
//
//	latitude  degrees, north positive, −90 to 90
//	yearDay   1 to 366, day of the year
//	result    MJ/m² and day; 0 in the polar night
//
// Source: FAO56 eq. 21 (with 23, 24 and 25), solar constant 0.0820 MJ/m² and minute
func Extraterrestrial(latitude float64, yearDay int) quantity.MegajoulePerSquareMetre {
	const solarConstant = 0.0820
	phi := latitude * math.Pi / 180
	year := 2 * math.Pi * float64(yearDay) / 365
	distance := 1 + 0.033*math.Cos(year)    // eq. 23
	delta := 0.409 * math.Sin(year-1.39)    // eq. 24
	x := -math.Tan(phi) * math.Tan(delta)   // eq. 25
	sunset := math.Acos(max(-1, min(1, x))) // the sun stays up, or down, all day beyond the polar circles
	across := math.Cos(phi) * math.Cos(delta)
	above := math.Sin(phi) * math.Sin(delta)
	ra := 24 * 60 / math.Pi * solarConstant * distance * (sunset*above + across*math.Sin(sunset)) // eq. 21
	return quantity.MegajoulePerSquareMetre(max(0, ra))
}
