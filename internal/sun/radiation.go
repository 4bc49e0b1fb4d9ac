package sun

import (
	"math"

	"kailyard/internal/civil"
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
	distance := 1 + 0.033*math.Cos(year) // eq. 23
	delta := 0.409 * math.Sin(year-1.39) // eq. 24
	sunset := sunsetAngle(phi, delta)    // eq. 25
	across := math.Cos(phi) * math.Cos(delta)
	above := math.Sin(phi) * math.Sin(delta)
	ra := 24 * 60 / math.Pi * solarConstant * distance * (sunset*above + across*math.Sin(sunset)) // eq. 21
	return quantity.MegajoulePerSquareMetre(max(0, ra))
}

// sunsetAngle is how far the sun turns from noon to a level horizon without refraction, radians: 0 where it stays down
// all day, π where it stays up.
//
// Source: FAO56 eq. 25
func sunsetAngle(phi, delta float64) float64 {
	return math.Acos(max(-1, min(1, -math.Tan(phi)*math.Tan(delta))))
}

// ClearSky is the sunshine of a day without a cloud on level ground.
//
//	ra         MJ/m² and day, sunshine above the air
//	elevation  metres above the sea
//	result     MJ/m² and day
//
// Source: FAO56 eq. 37
func ClearSky(ra quantity.MegajoulePerSquareMetre, elevation quantity.Metre) quantity.MegajoulePerSquareMetre {
	return ra * quantity.MegajoulePerSquareMetre(0.75+2e-5*float64(elevation))
}

// The constants of FromRange.
const (
	Inland  = 0.16 // where land masses dominate
	Coastal = 0.19 // on or near the shore of a large water
)

// FromRange is the sunshine of a day (or of a month's mean day) told from how far the nights are cooler than the days:
// under clouds they are little cooler. A month's mean is good to about a tenth; single days much worse.
//
//	low, high  °C; a day with high below low counts as without range
//	ra         MJ/m² and day, sunshine above the air
//	elevation  metres above the sea: not more comes than on a clear day
//	constant   Inland or Coastal
//	result     MJ/m² and day
//
// Source: FAO56 eq. 50 (Hargreaves)
func FromRange(low, high quantity.Celsius, ra quantity.MegajoulePerSquareMetre, elevation quantity.Metre, constant float64) quantity.MegajoulePerSquareMetre {
	spread := math.Sqrt(max(0, float64(high-low)))
	return min(ClearSky(ra, elevation), ra*quantity.MegajoulePerSquareMetre(constant*spread)) // eq. 50
}

// DiffuseShare is how much of a mean day's sunshine in a month comes from the whole sky, not from the sun itself.
//
//	clearness  sunshine on level ground as a share of that above the air; the source holds from 0.3 to 0.8, and its ends
//	           stand for what lies beyond
//	latitude   degrees
//	yearDay    1 to 366: the day that stands for the month
//	result     0 to 1
//
// Source: DUFFIE-2013, equation 2.12.1 (Erbs and others 1982)
func DiffuseShare(clearness, latitude float64, yearDay int) float64 {
	k := max(0.3, min(0.8, clearness))
	year := 2 * math.Pi * float64(yearDay) / 365
	if sunsetAngle(latitude*degree, 0.409*math.Sin(year-1.39)) <= 81.4*degree {
		return 1.391 - k*(3.560-k*(4.189-k*2.137))
	}
	return 1.311 - k*(3.022-k*(3.427-k*1.821))
}

// WithLight gives each step of a day its part of the day's direct light, so that the steps together have all of it: by
// how a day's sunshine is spread over its hours, less the sky's part.
//
//	steps             of one day, as Steps gives them
//	latitude          degrees
//	d                 the day
//	global, diffuse   MJ/m², on level open ground in the day: all, and from the sky
//
// Source: DUFFIE-2013, equations 2.13.2 (Collares-Pereira and Rabl) and 2.13.4 (Liu and Jordan)
func WithLight(steps []Step, latitude float64, d civil.Date, global, diffuse quantity.MegajoulePerSquareMetre) []Step {
	sunset := sunsetAngle(latitude*degree, declination(float64(d)+0.5))
	sin := math.Sin(sunset - math.Pi/3)
	a, b := 0.409+0.5016*sin, 0.6609-0.4767*sin
	out := append([]Step(nil), steps...)
	sum := 0.0
	for i := range out {
		// Both shares have π/24·(cos ω − cos ωs)/(sin ωs − ωs·cos ωs) before them; the first a + b·cos ω besides.
		at := math.Cos(out[i].turned)
		above := max(0, at-math.Cos(sunset))
		out[i].Beam = out[i].Hours * above * max(0, (a+b*at)*float64(global)-float64(diffuse))
		sum += out[i].Beam
	}
	for i := range out {
		if sum > 0 {
			out[i].Beam *= float64(global-diffuse) / sum
		}
	}
	return out
}
