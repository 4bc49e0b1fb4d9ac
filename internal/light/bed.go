package light

import (
	"fmt"
	"math"
	"slices"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// Basis is what a bed's light rests on.
type Basis string

// The bases.
const (
	Seen     Basis = "seen"     // the person saw it in that month
	Near     Basis = "near"     // as they saw it in the nearest month they looked, and nothing is told that throws shade
	Reckoned Basis = "reckoned" // from what is told of shade, slope and skyline
	Lowered  Basis = "lowered"  // reckoned, and lowered because less was seen in a near month than is reckoned for it
	Told     Basis = "told"     // the hours the person gave for the whole season
)

// Bed is the light of a bed by month. Where several things are known of a month, what the person saw there counts before what is
// reckoned, and what is reckoned before the hours told for the season:
//
//   - a month in which the sun was seen has the hours seen;
//   - other months, where any shade, slope or skyline is told, are as reckoned, or lowered by what was seen: see lowered;
//   - where none is, they have the share of the open sky's hours of the nearest month seen;
//   - where nobody looked either, the hours told for the season, longer and shorter as the open day is.
func (y Year) Bed(b garden.Bed) [12]Month {
	var of [12]Month
	reckoned := y.reckoned(b)
	for m := range of {
		of[m] = y.used(b, m, reckoned)
		of[m].Energy = y.energy(reckoned[m], y.Open[m], of[m].Hours, m)
	}
	return of
}

// used is what counts for a month, without its energy.
func (y Year) used(b garden.Bed, m int, reckoned [12]Month) Month {
	if hours, ok := b.SeenIn(time.Month(m + 1)); ok {
		return Month{Hours: hours, Basis: Seen}
	}
	if len(y.Garden.Shades) > 0 || !y.Garden.Site.Lie.Level() {
		return y.lowered(b, m, reckoned)
	}
	if share, ok := y.nearest(b, m); ok {
		return Month{Hours: share * y.Open[m].Hours, Basis: Near}
	}
	season := InSeason(y.Garden.Site.Latitude, y.Open).Hours
	if season == 0 {
		return Month{Basis: Told}
	}
	return Month{Hours: min(y.Open[m].Hours, b.Sun*y.Open[m].Hours/season), Basis: Told}
}

// nearest is the share of the open day's sun in the month nearest to one in which somebody looked.
func (y Year) nearest(b garden.Bed, m int) (share quantity.Hour, ok bool) {
	return nearestSeen(b, m, func(near int, hours quantity.Hour) (quantity.Hour, bool) {
		return min(1, hours/max(y.Open[near].Hours, 1e-9)), y.Open[near].Hours > 0
	})
}

// nearestSeen is the mean of what is made of the hours seen in the month, or the two months equally far, nearest to one.
func nearestSeen(b garden.Bed, m int, of func(near int, hours quantity.Hour) (quantity.Hour, bool)) (mean quantity.Hour, ok bool) {
	for away := 1; away <= 6; away++ {
		sum, n := quantity.Hour(0), 0
		for _, near := range slices.Compact([]int{(m + 12 - away) % 12, (m + away) % 12}) {
			if hours, seen := b.SeenIn(time.Month(near + 1)); seen {
				if made, ok := of(near, hours); ok {
					sum, n = sum+made, n+1
				}
			}
		}
		if n > 0 {
			return sum / quantity.Hour(n), true
		}
	}
	return 0, false
}

// How what was seen in a month lowers what is reckoned for others. Something that is not told stands in the sun's way. What hides
// the sun where it stands high hides it where it stands lower, too: there the share holds fully. Where the sun stands higher it may
// come over: the share holds fully up to likeHeight degrees, and less and less up to otherHeight, from where it does not count.
// Less than looked is what a person who looks to the half hour may be wrong by (estimates).
const (
	likeHeight, otherHeight               = 10., 30.
	looked                  quantity.Hour = 0.5
)

// lowered is what counts for a month in which nobody looked: as reckoned, and where in the nearest month in which somebody did
// less was seen than is reckoned for that, less by the same share.
func (y Year) lowered(b garden.Bed, m int, reckoned [12]Month) Month {
	share, ok := nearestSeen(b, m, func(near int, hours quantity.Hour) (quantity.Hour, bool) {
		if reckoned[near].Hours <= looked { // nothing can be missing
			return 1, reckoned[near].Hours > 0
		}
		if hours > reckoned[near].Hours-looked {
			return 1, true
		}
		higher := noonHeight(y.Garden.Site.Latitude, m) - noonHeight(y.Garden.Site.Latitude, near)
		holds := max(0, min(1, (otherHeight-higher)/(otherHeight-likeHeight)))
		return 1 - quantity.Hour(holds)*(1-hours/reckoned[near].Hours), true
	})
	if !ok || share > 1-1e-9 {
		return reckoned[m]
	}
	return Month{Hours: share * reckoned[m].Hours, Basis: Lowered}
}

// noonHeight is how high the sun of a month stands at noon, degrees.
func noonHeight(latitude float64, m int) float64 {
	d := sun.UsualDay(anyYear, time.Month(m+1))
	return sun.At(latitude, 0, float64(d)+0.5).Altitude
}

// reckoned is the mean over the bed's ground.
func (y Year) reckoned(b garden.Bed) [12]Month {
	if of, ok := y.beds[outlineOf(b)]; ok {
		return of
	}
	return y.bedYear(b, y.hoursOn(b))
}

// energy is what comes with other hours than those reckoned: direct light in proportion, the sky's as it is.
func (y Year) energy(reckoned, open Month, hours quantity.Hour, m int) quantity.MegajoulePerSquareMetre {
	if math.Abs(float64(hours-reckoned.Hours)) < 1e-9 {
		return reckoned.Energy
	}
	if open.Hours == 0 {
		return reckoned.Energy
	}
	beam := y.Sunshine.Global[m] - y.Sunshine.Diffuse[m]
	return max(0, reckoned.Energy+beam*quantity.MegajoulePerSquareMetre((hours-reckoned.Hours)/open.Hours))
}

// aGap is how far what was seen and what is reckoned may be apart before the person is told.
const aGap quantity.Hour = 2

// Differs says where what the person saw on a bed and what is reckoned for it are far apart; empty where they are not.
func (y Year) Differs(b garden.Bed) string {
	if len(y.Garden.Shades) == 0 && y.Garden.Site.Lie.Level() {
		return ""
	}
	reckoned := y.reckoned(b)
	for m := range reckoned {
		month := time.Month(m + 1)
		seen, ok := b.SeenIn(month)
		if !ok {
			continue
		}
		hours := y.Garden.Site.Units.Hours
		switch off := reckoned[m].Hours - seen; {
		case off > aGap:
			return fmt.Sprintf("In %s you saw %s of sun, and %s are reckoned: something that throws shade is not told, or higher than told. What you saw counts, and lowers the other months in the same measure, less where the sun stands higher.", month, hours(seen), hours(reckoned[m].Hours))
		case off < -aGap:
			return fmt.Sprintf("In %s you saw %s of sun, and only %s are reckoned: something is told as higher, nearer or denser than it is. What you saw counts.", month, hours(seen), hours(reckoned[m].Hours))
		}
	}
	return ""
}
