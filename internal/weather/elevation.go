package weather

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/quantity"
)

// lapseRate is how much colder the air is for every metre of height, °C/m, from the sea to 11 km.
// Source: ICAO-7488, table of the layers: 6.5 °C a geopotential kilometre.
const lapseRate = 6.5 / 1000

// SmallStep is a difference of height that is not worth correcting: at 50 m it is 0.3 °C, less than
// what a wall or a hollow makes.
const SmallStep quantity.Metre = 50

// AtElevation gives the record as it would have been taken at another height: every minimum and
// maximum is moved by the lapse rate of the standard atmosphere, all days alike. That is a mean of
// the free air: on clear, still nights cold air gathers in hollows, and minima do not follow it. A
// note says what was done. A difference below least is told and left; a record that does not say
// how high it was taken comes back as it is.
//
//	site   m, the height wanted, −430–6000
//	least  m, the smallest difference that is corrected
//
// Source: ICAO-7488, temperature of the standard atmosphere below 11 km.
func (r *Record) AtElevation(site, least quantity.Metre, units quantity.System) *Record {
	above := r.Station.Elevation - site // of the station above the site
	if !r.Station.Levelled || math.Abs(float64(above)) < 1 || len(r.Days) == 0 {
		return r
	}
	out := *r
	out.Notes = slices.Clone(r.Notes)
	higher, warmed := "higher", "raised"
	if above < 0 {
		higher, warmed = "lower", "lowered"
	}
	taken := nameOf(r) + " was taken"
	if r.Origin == Generated {
		taken = "The climate of " + r.Station.Name + " is that of a place"
	}
	says := fmt.Sprintf("%s %s %s than the garden (%s against %s above the sea)", taken, units.Height(max(above, -above)), higher, units.Height(r.Station.Elevation), units.Height(site))
	note := func(text string) {
		out.Notes = append(out.Notes, Note{Kind: "elevation", From: r.Days[0].Date, To: r.Days[len(r.Days)-1].Date, Says: says + text})
	}
	if math.Abs(float64(above)) < float64(least) {
		note(": too little to correct its temperatures.")
		return &out
	}
	shift := quantity.Celsius(lapseRate * float64(above))
	out.Days = slices.Clone(r.Days)
	for i := range out.Days {
		if d := &out.Days[i]; d.HasTemp {
			d.Min += shift
			d.Max += shift
		}
	}
	out.Station.Elevation = site // what the temperatures now stand for
	by, rate := fmt.Sprintf("%.1f °C", math.Abs(float64(shift))), LapseWords(units)
	if units == quantity.US {
		by = fmt.Sprintf("%.1f °F", 1.8*math.Abs(float64(shift)))
	}
	note(fmt.Sprintf(": its temperatures were %s by %s, %s (the standard atmosphere). On clear, still nights a hollow is colder than this says.", warmed, by, rate))
	return &out
}

// LapseWords is how much colder it grows with height: "6.5 °C a kilometre", "3.6 °F a thousand feet".
func LapseWords(units quantity.System) string {
	if units == quantity.US {
		return fmt.Sprintf("%.1f °F a thousand feet", 1.8*1000*quantity.MetresPerFoot*lapseRate)
	}
	return fmt.Sprintf("%.1f °C a kilometre", 1000*lapseRate)
}

// Distance is how far a station lies from a place, in km along a great circle of a sphere of the
// Earth's mean radius; false where the station does not say where it is.
func (s Station) Distance(latitude, longitude float64) (km float64, ok bool) {
	const meanRadiusKM = 6371
	rad := math.Pi / 180
	half := func(a, b float64) float64 { x := math.Sin((b - a) * rad / 2); return x * x }
	h := half(s.Latitude, latitude) + math.Cos(s.Latitude*rad)*math.Cos(latitude*rad)*half(s.Longitude, longitude)
	return 2 * meanRadiusKM * math.Asin(math.Sqrt(min(1, h))), s.Located
}
