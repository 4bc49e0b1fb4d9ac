package sun

import (
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Arc is the sun's way over one day: from one midnight of the sun to the next, around its noon.
type Arc struct {
	Rise, Noon, Set float64 // days from 1970-01-01 0 h universal time
	Rises, Sets     bool    // else the sun was up already at midnight, or stays up into the next: Rise, Set are the midnights
	Up              bool    // false in the polar night: Rise and Set are then Noon
}

// Hours is the time the sun is up.
func (a Arc) Hours() quantity.Hour { return quantity.Hour((a.Set - a.Rise) * 24) }

// AllDay says whether the sun does not go down.
func (a Arc) AllDay() bool { return a.Up && !a.Rises && !a.Sets }

// ArcOf gives rise, noon and set of the sun's upper edge over a level horizon with mean refraction (its centre at
// −0.833°), on a date of local mean time.
//
//	latitude, longitude  degrees, north and east positive; beyond the poles the pole is taken
//	result               within 20 s of an almanac up to the polar circles, where the sun does not graze the horizon
//
// Source: NOAA-SOLAR for the altitude, MEEUS-1998 for the positions, the moment found by halving.
func ArcOf(latitude, longitude float64, d civil.Date) Arc {
	noon := noonAt(longitude, d)
	for range 3 {
		angle, _ := hourAngleAt(longitude, noon)
		noon -= angle / (2 * math.Pi)
	}
	a := Arc{Rise: noon, Noon: noon, Set: noon}
	height := func(t float64) float64 { return At(latitude, longitude, t).Altitude*degree - riseAltitude }
	if !(height(noon) > 0) {
		return a
	}
	a.Up = true
	a.Rise, a.Rises = crossing(height, noon-0.5, noon)
	a.Set, a.Sets = crossing(height, noon+0.5, noon)
	return a
}

// crossing finds where height comes over 0 between a midnight and noon; the midnight itself where it never is below.
func crossing(height func(float64) float64, midnight, noon float64) (moment float64, found bool) {
	if height(midnight) > 0 {
		return midnight, false
	}
	below, above := midnight, noon
	for math.Abs(above-below) > 1e-7 {
		middle := (below + above) / 2
		if height(middle) > 0 {
			above = middle
		} else {
			below = middle
		}
	}
	return (below + above) / 2, true
}
