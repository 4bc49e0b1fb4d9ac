package water

import (
	"fmt"
	"slices"

	"kailyard/internal/weather"
)

// A column of radiation is told to be in another unit when more than mostAbove of it lies above the clear sky, or when the
// sunniest twentieth of at least dimDays days lies below dimShare of it: even a wet country has clear days. Source: common practice
const (
	dimDays  = 90
	dimShare = 0.45
)

// RadiationDoubt tells, when a record comes in, of radiation that cannot be at a place: on how many days more was written
// down than a sky without a cloud lets through, with a tenth and 0.5 MJ/m² of tolerance, which is the first and where it stands, and
// what to do. And of radiation that never comes near a clear sky's. Nothing is changed; false: nothing to tell.
//
// Source: FAO56 eq. 37
func RadiationDoubt(p Place, r *weather.Record) (n weather.Note, doubted bool) {
	skies := newSkies(p)
	var shares []float64
	first, last, above, days := 0, 0, 0, 0
	for i, d := range r.Days {
		s := skies.at(d.Date.YearDay())
		if !d.HasRadiation || d.Filled {
			continue
		}
		days++
		if s.clear > 1 {
			shares = append(shares, float64(d.Radiation/s.clear))
		}
		if d.Radiation > s.most() {
			if above == 0 {
				first = i
			}
			last = i
			above++
		}
	}
	slices.Sort(shares)
	sunny := 0.0
	if len(shares) > 0 {
		sunny = shares[len(shares)*19/20]
	}
	switch {
	case above > 0:
		n = weather.Note{Kind: weather.AboveClearSky, From: r.Days[first].Date, To: r.Days[last].Date}
		d := r.Days[first]
		s := skies.at(d.Date.YearDay())
		n.Says = fmt.Sprintf("Radiation is above what a sky without a cloud lets through on %d of %d days that have it, first on %s%s: %.1f MJ/m², where at %s no more than %.1f comes (%.1f with the tolerance of a tenth and 0.5). ",
			above, days, d.Date, r.Line(first), float64(d.Radiation), latitudeWords(p.Latitude), float64(s.clear), float64(s.most()))
		if above >= 10 && float64(above) > mostAbove*float64(days) {
			n.Kind = weather.WrongUnit
			n.Says += "So many days are no slips but another unit, or another place: "
			n.Says += "radiation is left out where water is reckoned. " + unitRemedy(p)
			break
		}
		n.Says += "A clear sky's is taken for such a day. Look at the line: was a digit mistyped, or two days put into one? If it is so on many days, put the right unit into the column's name; then give the record again."
	case len(shares) >= dimDays && sunny < dimShare:
		n.Kind, n.From, n.To = weather.WrongUnit, r.Days[0].Date, r.Days[len(r.Days)-1].Date
		n.Says = fmt.Sprintf("Radiation never comes near that of a clear sky: on the sunniest twentieth of %d days it begins at %.0f %% of it. Clear days come everywhere, so it seems to be in another unit, or the instrument was shaded or dirty: it is left out where water is reckoned. %s",
			len(shares), 100*sunny, unitRemedy(p))
	default:
		return weather.Note{}, false
	}
	return n, true
}

// wrongUnit is RadiationDoubt where nothing of the column is to be believed.
func wrongUnit(p Place, r *weather.Record) (n weather.Note, doubted bool) {
	if r == nil {
		return n, false
	}
	n, doubted = RadiationDoubt(p, r)
	return n, doubted && n.Kind == weather.WrongUnit
}

// Believed is a record without radiation that RadiationDoubt holds to be in another unit; any other is returned as it is.
func Believed(p Place, r *weather.Record) *weather.Record {
	if _, doubted := wrongUnit(p, r); !doubted {
		return r
	}
	out := *r
	out.Days = slices.Clone(r.Days)
	for i := range out.Days {
		out.Days[i].HasRadiation, out.Days[i].Radiation = false, 0
	}
	return &out
}

func unitRemedy(p Place) string {
	return fmt.Sprintf("Put the unit into the column's name (%s), check the latitude (%s), and give the record again.", weather.RadiationColumns(), latitudeWords(p.Latitude))
}

// latitudeWords is "41.1° north".
func latitudeWords(latitude float64) string {
	if latitude < 0 {
		return fmt.Sprintf("%.1f° south", -latitude)
	}
	return fmt.Sprintf("%.1f° north", latitude)
}
