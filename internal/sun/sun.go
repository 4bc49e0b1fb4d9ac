// Package sun is where the sun stands, how long the day is, what shades the ground.
package sun

import (
	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// DayLength is the time from sunrise to sunset, the sun's upper edge on a flat horizon with mean
// refraction (altitude −0.833°). 0 in the polar night, 24 under the midnight sun.
func DayLength(latitude float64, d civil.Date) quantity.Hour { panic("weather helper writes this") }
