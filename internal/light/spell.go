package light

import (
	"fmt"
	"time"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Spell is a part of the year in which a bed is good for more than over the season as a whole: before a tree is in leaf, while the
// sun stands high over a house.
type Spell struct {
	From, To time.Month
	Sun      Sun           // by month, short days evened to the season's
	Hours    quantity.Hour // its mean
	Use      Use
}

// spellMonths is how long a use wants its light: leaf crops are picked two months after they are sown, roots, peas and fruiting
// crops take three in the open ground and more (common practice).
var spellMonths = []struct {
	use    Use
	months int
	crops  string
}{{Fruit, 3, "fruiting crops do that bear in these months"}, {Root, 3, "roots and peas do that grow in these months"}, {Leaf, 2, "leaf crops do that are picked by then"}}

// Even is by how much the hours of months with short days count for more, so that they are as in the season.
func (y Year) Even() (even [12]float64) {
	open := InSeason(y.Garden.Site.Latitude, y.Open).Hours
	for m := range even {
		even[m] = 1
		if h := y.Open[m].Hours; h > 0 && h < open {
			even[m] = float64(open / h)
		}
	}
	return even
}

// GoodFor tells what a bed is good for over the season, and in which part of the year it is good for more, by the months that
// the plan goes by too.
func (y Year) GoodFor(b garden.Bed) Verdict {
	months := y.Bed(b)
	v := GoodFor(y.Sun(b))
	if y.toldOnly(months) {
		return v
	}
	v.Says += spare(y.Sun(b), y.Garden.Site.Units.Hours)
	for _, want := range spellMonths {
		if want.use == v.Use {
			break
		}
		s := y.spell(months, want.months, classes[want.use])
		share := s.Sun.Share(classes[want.use])
		if share == 0 {
			continue
		}
		s.Use, v.Spell = want.use, &s
		from, counted := fmt.Sprintf("From %s to %s, with %s a day,", s.From, s.To, y.Garden.Site.Units.Hours(s.Hours)), "their whole yield is counted on"
		if counts := s.Sun.For(classes[want.use]); min(s.Hours, classes[want.use].Needs)-counts >= 0.05 {
			from = fmt.Sprintf("From %s to %s, with %s a day of which %s count,", s.From, s.To, y.Garden.Site.Units.Hours(s.Hours), y.Garden.Site.Units.Hours(counts))
		}
		if share < 1-nearlyAll {
			counted = CountedOn(share)
		}
		if v.Use == Nothing {
			v.Says, v.Source = "Over the season as a whole vegetables will not do here.", ""
		}
		v.Says += fmt.Sprintf(" %s %s: %s.", from, want.crops, counted)
		break
	}
	return v
}

// toldOnly says whether nothing is known but the hours told for the season, which the plan takes for every month.
func (y Year) toldOnly(of [12]Month) bool {
	for _, m := range of {
		if m.Basis != Told {
			return false
		}
	}
	return true
}

// Sun is the direct sun on a bed by the months of the season; where the hours told for the season are all that is known, those.
func (y Year) Sun(b garden.Bed) Sun {
	months := y.Bed(b)
	if y.toldOnly(months) {
		return Sun{InSeason(y.Garden.Site.Latitude, months).Hours}
	}
	return sunOf(y.Garden.Site.Latitude, months)
}

func sunOf(latitude float64, months [12]Month) (sun Sun) {
	for _, m := range Season(latitude) {
		sun = append(sun, months[m-1].Hours)
	}
	return sun
}

// spell is the run of so many months with the most sun for what grows there, of the season with a month on either side.
func (y Year) spell(of [12]Month, long int, wants crop.Light) (best Spell) {
	season, even := Season(y.Garden.Site.Latitude), y.Even()
	for i := -1; i+long <= len(season)+1; i++ {
		first := (int(season[0]) - 1 + i + 12) % 12
		sun := make(Sun, long)
		for k := range sun {
			m := (first + k) % 12
			sun[k] = of[m].Hours * quantity.Hour(even[m])
		}
		if counts := sun.For(wants); best.Sun == nil || counts > best.Sun.For(wants)+1e-9 || counts > best.Sun.For(wants)-1e-9 && sun.Mean() > best.Hours {
			best = Spell{From: time.Month(first + 1), To: time.Month((first+long-1)%12 + 1), Sun: sun, Hours: sun.Mean()}
		}
	}
	return best
}

// InSpell names the kinds of crops for which a bed has too little light over the season and enough in its spell, with the share of
// the yield that is counted on then.
func (v Verdict) InSpell(crops []*crop.Crop, season Sun) []string {
	if v.Spell == nil {
		return nil
	}
	var then []*crop.Crop
	for _, c := range crops {
		if season.Share(c.Light) == 0 && v.Spell.Sun.Share(c.Light) > 0 {
			then = append(then, c)
		}
	}
	return LessOf(then, v.Spell.Sun)
}
