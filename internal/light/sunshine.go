package light

import (
	"fmt"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
	"kailyard/internal/weather"
)

// Way is how the sunshine of a place was found.
type Way string

// The ways, the best first.
const (
	Measured  Way = "measured"          // the record's radiation
	FromRange Way = "temperature range" // by how much cooler the nights are than the days
	ClearSky  Way = "clear sky"         // as if no cloud ever came
)

// Sunshine is what falls on level open ground on a month's mean day.
type Sunshine struct {
	Global  [12]quantity.MegajoulePerSquareMetre // all, by month
	Diffuse [12]quantity.MegajoulePerSquareMetre // of that, from the sky
	Way     [12]Way
	Says    string // a sentence for the person: what it rests on, and what was left out
}

// fewestDays is how many days of a month, of all years together, make a mean of it.
const fewestDays = 28

// SunshineOf tells the sunshine of a site from a record (nil: none): its radiation where there are days enough of a month,
// else from the temperature range as inland, else as under a clear sky. Radiation higher than above the air, or below
// nothing, is left out.
func SunshineOf(site garden.Site, r *weather.Record) Sunshine {
	var s Sunshine
	var radiation, ranged [12]struct {
		sum float64
		n   int
	}
	wrong := 0
	if r != nil {
		for _, d := range r.Days {
			m := d.Date.Month() - 1
			above := sun.Extraterrestrial(site.Latitude, d.Date.YearDay())
			switch {
			case !d.HasRadiation || d.Filled:
			case d.Radiation < 0 || d.Radiation > above:
				wrong++
			default:
				radiation[m].sum, radiation[m].n = radiation[m].sum+float64(d.Radiation), radiation[m].n+1
			}
			if d.HasTemp {
				ranged[m].sum += float64(sun.FromRange(d.Min, d.Max, above, site.Elevation, sun.Inland))
				ranged[m].n++
			}
		}
	}
	for m := range s.Global {
		day := sun.UsualDay(2027, time.Month(m+1)).YearDay()
		above := sun.Extraterrestrial(site.Latitude, day)
		switch {
		case radiation[m].n >= fewestDays:
			s.Global[m], s.Way[m] = quantity.MegajoulePerSquareMetre(radiation[m].sum/float64(radiation[m].n)), Measured
		case ranged[m].n >= fewestDays:
			s.Global[m], s.Way[m] = quantity.MegajoulePerSquareMetre(ranged[m].sum/float64(ranged[m].n)), FromRange
		default:
			s.Global[m], s.Way[m] = sun.ClearSky(above, site.Elevation), ClearSky
		}
		if above > 0 {
			s.Diffuse[m] = s.Global[m] * quantity.MegajoulePerSquareMetre(sun.DiffuseShare(float64(s.Global[m]/above), site.Latitude, day))
		}
	}
	s.Says = s.words(wrong)
	return s
}

// words say what the sunshine rests on.
func (s Sunshine) words(wrong int) string {
	says := map[Way]string{
		Measured:  "The sun's energy is the mean of the radiation measured in the record.",
		FromRange: "The record has no radiation that can be gone by, so the sun's energy is told from how much cooler its nights are than its days, as inland; under the winter clouds of coasts there may be a third less.",
		ClearSky:  "Without a record the sun's energy is that of days without a cloud: more than there is.",
	}[s.Way[0]]
	for _, w := range s.Way {
		if w != s.Way[0] {
			says = "The sun's energy is the radiation of the record where months have enough of it, and told from temperatures or a clear sky in the others."
		}
	}
	if wrong > 0 {
		says += fmt.Sprintf(" %d %s of radiation stronger than above the air, or below nothing, left out: check its unit (megajoules on a square metre in a day).",
			wrong, map[bool]string{true: "day was", false: "days were"}[wrong == 1])
	}
	return says
}
