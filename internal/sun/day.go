package sun

import (
	"math"
	"time"

	"kailyard/internal/civil"
)

// Faint is the altitude, in degrees, under which the sun is not counted as direct sun: it then shines with less than the
// 120 W/m² on a surface facing it from which the weather services count sunshine.
//
// Source: WMO-8 for the 120 W/m²; that it is reached at about 3° is common practice.
const Faint = 3

// Steps cuts the time that the sun stands higher than an altitude on a day into equal steps, each with the sun as it is
// in its middle.
//
//	latitude, longitude  degrees, north and east positive
//	minutes              the longest a step may be, at least 1
//	altitude             degrees as seen, 0 or more; see Faint
//	result               none where the sun does not come so high
func Steps(latitude, longitude float64, d civil.Date, minutes, altitude float64) []Step {
	noon := ArcOf(latitude, longitude, d).Noon
	height := func(t float64) float64 { return At(latitude, longitude, t).Seen().Altitude - altitude }
	if !(height(noon) > 0) || !(minutes >= 1) {
		return nil
	}
	from, _ := crossing(height, noon-0.5, noon)
	to, _ := crossing(height, noon+0.5, noon)
	n := int(math.Ceil((to-from)*24*60/minutes - 1e-9))
	long := (to - from) / float64(n)
	steps := make([]Step, n)
	for i := range steps {
		at := from + (float64(i)+0.5)*long
		steps[i] = Step{Sun: At(latitude, longitude, at).Seen(), Hours: long * 24, turned: (at - noon) * 2 * math.Pi}
	}
	return steps
}

// usualDays are the days of the months that stand for them.
var usualDays = [12]int{17, 16, 16, 15, 15, 11, 17, 16, 15, 15, 14, 10}

// UsualDay is the day of a month whose sunshine above the air is nearest the month's mean, so that it may stand for the
// whole month.
//
// Source: KLEIN-1977
func UsualDay(year int, m time.Month) civil.Date { return civil.Of(year, int(m), usualDays[m-1]) }
