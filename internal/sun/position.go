package sun

import "math"

const (
	degree = math.Pi / 180
	// The sun's upper edge on the horizon: 34′ of refraction and 16′ of half its disc.
	// Source: NOAA-SOLAR.
	riseAltitude = -0.8333 * degree
)

// J2000 is 1 January 2000, 12 h, counted in days from 1970-01-01 0 h.
const j2000 = 10957.5

// centuries is the time in Julian centuries from J2000. Universal time is used where dynamical time is
// meant; the 70 seconds between them move the sun by less than 0.001°.
//
//	days  from 1970-01-01 0 h universal time
func centuries(days float64) float64 { return (days - j2000) / 36525 }

// elements are the angles, in radians, from which the sun's place follows.
type elements struct {
	meanLongitude, meanAnomaly, eccentricity float64
	longitude                                float64 // apparent, along the ecliptic
	obliquity                                float64 // of the ecliptic, nutation included
}

// elementsAt gives the sun's apparent place to about 0.01° between the years 1800 and 2200.
//
// Source: MEEUS-1998, chapter 25 (low accuracy), as laid out by NOAA-SOLAR.
func elementsAt(t float64) elements {
	var e elements
	e.meanLongitude = math.Mod(280.46646+t*(36000.76983+t*0.0003032), 360) * degree // (25.2)
	e.meanAnomaly = math.Mod(357.52911+t*(35999.05029-t*0.0001537), 360) * degree   // (25.3)
	e.eccentricity = 0.016708634 - t*(0.000042037+t*0.0000001267)                   // (25.4)
	centre := (1.914602-t*(0.004817+t*0.000014))*math.Sin(e.meanAnomaly) +          // equation of the centre
		(0.019993-t*0.000101)*math.Sin(2*e.meanAnomaly) + 0.000289*math.Sin(3*e.meanAnomaly)
	node := (125.04 - 1934.136*t) * degree
	e.longitude = e.meanLongitude + (centre-0.00569-0.00478*math.Sin(node))*degree
	mean := 23 + (26+(21.448-t*(46.8150+t*(0.00059-t*0.001813)))/60)/60 // (22.2)
	e.obliquity = (mean + 0.00256*math.Cos(node)) * degree              // (25.8)
	return e
}

// Declination is how far the sun stands north of the equator.
//
//	days    from 1970-01-01 0 h universal time
//	result  degrees, −23.45 to 23.45
//
// Source: MEEUS-1998, equation 25.7.
func Declination(days float64) float64 { return declination(days) / degree }

func declination(days float64) float64 {
	e := elementsAt(centuries(days))
	return math.Asin(math.Sin(e.obliquity) * math.Sin(e.longitude))
}

// EquationOfTime is by how much the sundial runs ahead of the clock of local mean time.
//
//	days    from 1970-01-01 0 h universal time
//	result  minutes, −14.3 to 16.5
//
// Source: MEEUS-1998, equation 28.3 (Smart), as laid out by NOAA-SOLAR.
func EquationOfTime(days float64) float64 {
	e := elementsAt(centuries(days))
	y := math.Tan(e.obliquity / 2)
	y *= y
	ecc := e.eccentricity
	angle := y*math.Sin(2*e.meanLongitude) - 2*ecc*math.Sin(e.meanAnomaly) +
		4*ecc*y*math.Sin(e.meanAnomaly)*math.Cos(2*e.meanLongitude) -
		y*y/2*math.Sin(4*e.meanLongitude) - 1.25*ecc*ecc*math.Sin(2*e.meanAnomaly)
	return 4 * angle / degree
}
