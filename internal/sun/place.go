package sun

import "math"

// Position is a direction in the sky.
type Position struct {
	Altitude float64 // degrees above the level horizon, −90 to 90
	Azimuth  float64 // degrees clockwise from true north, 0 to 360
}

// terrestrial is how far the even time of the planets' motion runs ahead of the earth's own turning: 69 s in 2020,
// 64 s in 2000; that it changes moves the sun by less than 0.001° between 1950 and 2100.
//
// Source: MEEUS-1998, chapter 10.
const terrestrial = 69.0 / 86400 // days

// apparent is the sun's place among the stars to 0.003°: the low-accuracy elements with the pull of the planets and
// the moon on the earth, and nutation in full to 0.0002°.
//
//	days    from 1970-01-01 0 h universal time, good between the years 1950 and 2100
//	result  right ascension and declination, and the nutation in right ascension, radians
//
// Source: MEEUS-1998, chapters 22 and 25; MEEUS-1985, chapter 18, for the perturbations.
func apparent(days float64) (ascension, declination, nutation float64) {
	t := centuries(days + terrestrial)
	e := elementsAt(t)
	node := (125.04452 - 1934.136261*t) * degree                                                      // chapter 22, Ω
	sun2, moon2 := 2*e.meanLongitude, 2*(218.3165+481267.8813*t)*degree                               // 2L, 2L′
	psi := -17.20*math.Sin(node) - 1.32*math.Sin(sun2) - 0.23*math.Sin(moon2) + 0.21*math.Sin(2*node) // Δψ, seconds of arc
	eps := 9.20*math.Cos(node) + 0.57*math.Cos(sun2) + 0.10*math.Cos(moon2) - 0.09*math.Cos(2*node)   // Δε
	rough := (125.04 - 1934.136*t) * degree                                                           // the elements' own nutation, to be replaced
	longitude := e.longitude + (0.00478*math.Sin(rough)+psi/3600+perturbation(days))*degree
	obliquity := e.obliquity + (eps/3600-0.00256*math.Cos(rough))*degree
	ascension = math.Atan2(math.Cos(obliquity)*math.Sin(longitude), math.Cos(longitude)) // (25.6)
	declination = math.Asin(math.Sin(obliquity) * math.Sin(longitude))                   // (25.7)
	return ascension, declination, psi / 3600 * math.Cos(obliquity) * degree
}

// perturbation is what Venus (two terms), Jupiter, the moon and a slow term of 1800 years add to the sun's longitude.
//
//	result  degrees, −0.009 to 0.009
//
// Source: MEEUS-1985, chapter 18; centuries from 1900 January 0.5.
func perturbation(days float64) float64 {
	t := (days + terrestrial + 25567.5) / 36525
	return 0.00134*math.Cos((153.23+22518.7541*t)*degree) +
		0.00154*math.Cos((216.57+45037.5082*t)*degree) +
		0.00200*math.Cos((312.69+32964.3577*t)*degree) +
		0.00179*math.Sin((350.74+445267.1142*t-0.00144*t*t)*degree) +
		0.00178*math.Sin((231.19+20.20*t)*degree)
}

// hourAngleAt is how far the sun has turned past the south (or north) meridian, radians.
//
// Source: MEEUS-1998, equation 12.4.
func hourAngleAt(longitude, days float64) (angle, declination float64) {
	ascension, declination, nutation := apparent(days)
	d := days - j2000
	t := d / 36525
	sidereal := 280.46061837 + 360.98564736629*d + t*t*(0.000387933-t/38710000) // (12.4)
	return math.Remainder((sidereal+longitude)*degree+nutation-ascension, 2*math.Pi), declination
}

// parallax is by how much the sun stands lower seen from the ground than from the middle of the earth, at the horizon.
// Source: MEEUS-1998, chapter 40.
const parallax = 8.794 / 3600 * degree

// At is where the sun's centre stands seen from the ground, without the air's refraction.
//
//	latitude, longitude  degrees, north and east positive
//	days                 from 1970-01-01 0 h universal time
//	result               within 0.004° between the years 1950 and 2100; NaN where the place is not a number
//
// Source: MEEUS-1998, equations 13.5 and 13.6, and 40.2 for the parallax.
func At(latitude, longitude, days float64) Position {
	angle, declination := hourAngleAt(longitude, days)
	phi := max(-90, min(90, latitude)) * degree
	sinPhi, cosPhi := math.Sincos(phi)
	sinDelta, cosDelta := math.Sincos(declination)
	sinHour, cosHour := math.Sincos(angle)
	sinAltitude := sinPhi*sinDelta + cosPhi*cosDelta*cosHour                                   // (13.6)
	azimuth := math.Atan2(sinHour*cosDelta, cosHour*sinPhi*cosDelta-sinDelta*cosPhi) + math.Pi // (13.5), from the north
	altitude := math.Asin(max(-1, min(1, sinAltitude)))
	altitude -= parallax * math.Cos(altitude)
	return Position{altitude / degree, math.Mod(azimuth/degree+360, 360)}
}

// The air that refraction is usually given for.
const (
	UsualPressure    = 1010.0 // hPa
	UsualTemperature = 10.0   // °C
)

// Refraction is by how much the air lifts the sun.
//
//	altitude     degrees, without refraction; below −1° the sun is not seen, and the result fades to nothing
//	pressure     hPa, at the place itself
//	temperature  °C
//	result       degrees, 0.5 at the horizon; good to 0.002°
//
// Source: MEEUS-1998, equation 16.4 (Sæmundsson).
func Refraction(altitude, pressure, temperature float64) float64 {
	h := max(-1, altitude)
	lift := 1.02 / math.Tan((h+10.3/(h+5.11))*degree) / 60 // (16.4)
	if altitude < -1 {
		lift *= (altitude + 90) / 89
	}
	return max(0, lift*pressure/1010*283/(273+temperature))
}

// Seen is the position as the air shows it, in the usual air.
func (p Position) Seen() Position {
	p.Altitude += Refraction(p.Altitude, UsualPressure, UsualTemperature)
	return p
}

// Incidence is the angle between the sun and the upright on a sloping plane.
//
//	slope   degrees from level, 0 to 90
//	aspect  degrees clockwise from true north, where the slope falls to
//	result  degrees, 0 to 180; over 90 the sun is behind the slope
//
// Source: NREL-SPA, equation 47.
func (p Position) Incidence(slope, aspect float64) float64 {
	sinAltitude, cosAltitude := math.Sincos(p.Altitude * degree)
	sinSlope, cosSlope := math.Sincos(slope * degree)
	cos := sinAltitude*cosSlope + cosAltitude*sinSlope*math.Cos((p.Azimuth-aspect)*degree)
	return math.Acos(max(-1, min(1, cos))) / degree
}
