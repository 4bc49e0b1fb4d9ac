// Package sun is where the sun stands, how long the day is, what shades the ground.
package sun

import (
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// DayLength is the time from sunrise to sunset, the sun's upper edge on a flat horizon with mean
// refraction (altitude −0.833°). 0 in the polar night, 24 under the midnight sun. It is reckoned for
// the day at Greenwich; elsewhere the sun has moved on by at most half a day, which matters by up to
// 20 seconds of day length at 40° of latitude, 40 at 55° and 2 minutes at 65°: see DayLengthAt.
//
//	latitude  degrees, north positive; beyond ±90 the pole is taken
func DayLength(latitude float64, d civil.Date) quantity.Hour { return DayLengthAt(latitude, 0, d) }

// DayLengthAt is DayLength at a longitude (degrees, east positive), for the day around the sun's noon there.
//
// Source: NOAA-SOLAR (equations of MEEUS-1998), with the declination taken at sunrise and at sunset.
func DayLengthAt(latitude, longitude float64, d civil.Date) quantity.Hour {
	if math.IsNaN(latitude) || math.IsInf(longitude, 0) || math.IsNaN(longitude) {
		return quantity.Hour(math.NaN())
	}
	noon := noonAt(longitude, d)
	morning := halfDay(latitude, noon, -1)
	evening := halfDay(latitude, noon, 1)
	return quantity.Hour((morning + evening) * 24)
}

// noonAt is the moment of the sun's noon on the date of local mean time, in days from 1970-01-01 0 h
// universal time.
func noonAt(longitude float64, d civil.Date) float64 {
	middle := float64(d) + 0.5 - longitude/360
	return middle - EquationOfTime(middle)/(24*60)
}

// halfDay is the time from noon back to sunrise (side −1) or on to sunset (side 1), in days, 0 to ½.
// The declination is that of the moment itself, found by repeating the step.
func halfDay(latitude, noon, side float64) float64 {
	half := 0.25
	for range 6 {
		next := hourAngle(latitude, declination(noon+side*half)) / (2 * math.Pi)
		if math.Abs(next-half) < 1e-6 {
			return next
		}
		half = next
	}
	return half
}

// hourAngle is the angle, 0 to π, that the sun turns between noon and the horizon.
//
//	cos H = (sin h₀ − sin φ sin δ) / (cos φ cos δ)
//
// Source: MEEUS-1998, equation 15.1.
func hourAngle(latitude, declination float64) float64 {
	phi := max(-90, min(90, latitude)) * degree
	above := math.Sin(riseAltitude) - math.Sin(phi)*math.Sin(declination)
	across := math.Cos(phi) * math.Cos(declination)
	switch {
	case above >= across:
		return 0 // the sun stays below the horizon
	case above <= -across:
		return math.Pi // the sun stays above it
	}
	return math.Acos(above / across)
}
