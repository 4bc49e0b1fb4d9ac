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
	Hours    quantity.Hour // the mean, short days evened to the season's
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
	latitude, months := y.Garden.Site.Latitude, y.Bed(b)
	v := GoodFor(InSeason(latitude, months).Hours)
	if y.toldOnly(months) {
		return v
	}
	for _, want := range spellMonths {
		if want.use == v.Use {
			break
		}
		s := y.spell(months, want.months)
		share := Share(s.Hours, classes[want.use])
		if share == 0 {
			continue
		}
		s.Use, v.Spell = want.use, &s
		from, counted := fmt.Sprintf("From %s to %s, with %s a day,", s.From, s.To, y.Garden.Site.Units.Hours(s.Hours)), "their whole yield is counted on"
		if share < 1 {
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

// spell is the run of so many months with the most sun, of the season with a month on either side.
func (y Year) spell(of [12]Month, long int) (best Spell) {
	season, even := Season(y.Garden.Site.Latitude), y.Even()
	for i := -1; i+long <= len(season)+1; i++ {
		first := (int(season[0]) - 1 + i + 12) % 12
		sum := quantity.Hour(0)
		for k := range long {
			m := (first + k) % 12
			sum += of[m].Hours * quantity.Hour(even[m]) / quantity.Hour(long)
		}
		if sum > best.Hours {
			best = Spell{From: time.Month(first + 1), To: time.Month((first+long-1)%12 + 1), Hours: sum}
		}
	}
	return best
}

// InSpell names the kinds of crops for which a bed has too little light over the season and enough in its spell, with the share of
// the yield that is counted on then.
func (v Verdict) InSpell(crops []*crop.Crop, season quantity.Hour) []string {
	if v.Spell == nil {
		return nil
	}
	var then []*crop.Crop
	for _, c := range crops {
		if Share(season, c.Light) == 0 && Share(v.Spell.Hours, c.Light) > 0 {
			then = append(then, c)
		}
	}
	return LessOf(then, v.Spell.Hours)
}
