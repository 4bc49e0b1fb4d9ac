package growth

import (
	"math"

	"kailyard/internal/civil"
)

// The daily light of the light rule, MJ/m²/d above the air.
const (
	darkLight   = 15.0 // at or below: near standstill; the days of 9 h 45 min at 45° of latitude
	brightLight = 28.0 // at or above: full speed; a day of 12 h at 42°
	darkFactor  = 0.15 // what near standstill is
)

// SkyLight is the sun's radiation on a level square metre above the air in a day, MJ/m²/d.
//
//	latitude  °  −90–90
//	result       0–46
//
// Source: FAO56, equations 21–25, its own declination included.
func SkyLight(latitude float64, on civil.Date) float64 {
	const solarConstant = 0.0820 // MJ/m²/min
	year := 2 * math.Pi * float64(on.YearDay()) / 365
	nearness := 1 + 0.033*math.Cos(year)
	declination := 0.409 * math.Sin(year-1.39)
	phi := latitude * math.Pi / 180
	sunset := math.Acos(min(max(-math.Tan(phi)*math.Tan(declination), -1), 1))
	return 24 * 60 / math.Pi * solarConstant * nearness *
		(sunset*math.Sin(phi)*math.Sin(declination) + math.Cos(phi)*math.Cos(declination)*math.Sin(sunset))
}

// LightFactor is the share of full speed left by the light of short days: near standstill at 15 MJ/m²/d above the air
// and less, full from 28, linear between.
//
// The rule of the ten-hour day, below which winter vegetables stand still, was found in Oregon, where such days
// carry about 15 MJ/m². Days of ten hours further south, as at midwinter in Florida, carry a third more, and crops are
// grown through them; further north less. So the rule is told in light instead of hours.
//
// Source: OSU-10H for the ten-hour rule; the ramp and the 0.15 are estimates.
func LightFactor(sky float64) float64 {
	switch {
	case sky <= darkLight:
		return darkFactor
	case sky < brightLight:
		return between(darkLight, darkFactor, brightLight, 1, sky)
	}
	return 1
}
