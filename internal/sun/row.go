package sun

import (
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Row is a row of tall plants, or vines on a fence: upright, as thin as a screen, on level ground.
type Row struct {
	Height  quantity.Metre
	Length  quantity.Metre // 0: so long that its ends do not matter
	Bearing float64        // degrees clockwise from true north, of the row's run
	Passes  float64        // share of direct light let through, 0–1
}

// Costs is how many hours of direct sun the row takes on a day from a spot beside its middle.
//
//	latitude  degrees
//	distance  metres from the row, at right angles to it
//	side      degrees clockwise from true north: a direction from the row to the spot; of the two sides of the row the one
//	          that lies more that way is meant
//	result    hours, 0 where the shadow never comes so far
func (r Row) Costs(latitude float64, d civil.Date, distance quantity.Metre, side float64) quantity.Hour {
	// The direction from the spot straight back to the row.
	back := r.Bearing + 90
	if math.Cos((back-side)*degree) > 0 {
		back += 180
	}
	lost := 0.0
	for _, step := range Steps(latitude, 0, d, 1, Faint) {
		sin, cos := math.Sincos((step.Sun.Azimuth - back) * degree)
		if cos <= 0 {
			continue // the sun is on the spot's own side
		}
		way := float64(distance) / cos // along the ground to the row, towards the sun
		high := way * math.Tan(step.Sun.Altitude*degree)
		beside := math.Abs(way * sin)
		if high < float64(r.Height) && (r.Length == 0 || beside < float64(r.Length)/2) {
			lost += step.Hours * (1 - max(0, min(1, r.Passes)))
		}
	}
	return quantity.Hour(lost)
}
