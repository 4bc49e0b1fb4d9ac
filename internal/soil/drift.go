package soil

import (
	"fmt"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
	"kailyard/internal/weather"
)

// Evaporation is the reference evapotranspiration of each month, in mm, from the months' mean temperatures and the sunshine
// above the air on the month's fifteenth day.
//
// Source: FAO56 eq. 52 and eq. 21
func Evaporation(latitude float64, months [12]weather.Normal) [12]quantity.Millimetre {
	lengths := [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	var out [12]quantity.Millimetre
	before := 0
	for m, n := range months {
		out[m] = weather.Hargreaves(n.Min, n.Max, sun.Extraterrestrial(latitude, before+15)) * quantity.Millimetre(lengths[m])
		before += lengths[m]
	}
	return out
}

// Leaching is how the water of a climate's year goes: what falls, what could evaporate, and what is over in the months
// with more rain than evaporation, which carries lime away downwards.
type Leaching struct {
	Rain, Evaporation, Surplus quantity.Millimetre // a year
	Drift                      garden.Drift
	Quality                    string // how sure the drift is: "published" where the rule decides plainly, else "estimated"
	Reasons                    []garden.Reason
}

// Ratio is rain to evaporation.
func (l Leaching) Ratio() float64 {
	if l.Evaporation <= 0 {
		return 0
	}
	return float64(l.Rain / l.Evaporation)
}

// The bounds of the rule. Source: SLESSAREV-2016 (acid where rain exceeds potential evaporation, alkaline where it falls short; the
// change is abrupt about even); UNEP-1992 (0.65 parts the dry from the humid lands).
const (
	leachingRatio = 0.90 // and above: acid
	dryRatio      = 0.65 // and below: lime gathers
	leachingRain  = 150  // mm of surplus in the wet months that leaches even where the year as a whole is in between
)

// DriftOf is which way the ground of a climate goes when it is left alone. Rain in excess of evaporation carries lime away and
// the ground sours; where evaporation takes all the rain, lime stays and gathers. In between the surplus of the wet months
// decides. The rule is about climates: chalk below, hard water from the hose, sea salt or an old liming can turn it, so a test
// stands before it.
//
//	latitude  degrees, north positive
//	months    twelve, with rain
//	units     in which it is said
//
// Source: SLESSAREV-2016; UNEP-1992; FAO56 eq. 52
func DriftOf(latitude float64, months [12]weather.Normal, units quantity.System) Leaching {
	var l Leaching
	for m, mm := range Evaporation(latitude, months) {
		l.Evaporation += mm
		l.Rain += months[m].Rain
		l.Surplus += max(0, months[m].Rain-mm)
	}
	ratio := l.Ratio()
	l.Quality = "estimated"
	switch {
	case ratio >= leachingRatio:
		l.Drift = garden.TowardsAcid
		if ratio >= 1.1 {
			l.Quality = "published"
		}
	case ratio < dryRatio:
		l.Drift = garden.TowardsAlkaline
		if ratio < 0.5 {
			l.Quality = "published"
		}
	case l.Surplus >= leachingRain:
		l.Drift = garden.TowardsAcid
	default:
		l.Drift = garden.Neither
	}
	goes := map[garden.Drift]string{garden.TowardsAcid: "rain carries lime away, so the ground turns acid in time",
		garden.TowardsAlkaline: "little rain goes through, so lime stays and the ground tends to be alkaline",
		garden.Neither:         "rain and evaporation are near enough even, so the ground keeps about where it is"}[l.Drift]
	l.Reasons = []garden.Reason{{Says: fmt.Sprintf("In a usual year %s of rain falls against %s that could evaporate, and %s is over in the wet months: %s. A test of this ground stands before this rule.",
		yearly(l.Rain, units), yearly(l.Evaporation, units), yearly(l.Surplus, units), goes), Rule: "drift of the ground by rain and evaporation (" + l.Quality + ")", Source: "SLESSAREV-2016"}}
	return l
}

// yearly is the rain of a year in whole units.
func yearly(mm quantity.Millimetre, units quantity.System) string {
	if units == quantity.US {
		return fmt.Sprintf("%.0f in", float64(mm)/(1000*quantity.MetresPerInch))
	}
	return fmt.Sprintf("%.0f mm", float64(mm))
}
