package light

import (
	"strings"
	"testing"
	"time"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func seenFor(hours map[time.Month]quantity.Hour) (seen []garden.SunSeen) {
	for m := time.January; m <= time.December; m++ {
		if h, ok := hours[m]; ok {
			seen = append(seen, garden.SunSeen{Month: m, From: 12 - h/2, To: 12 + h/2})
		}
	}
	return seen
}

// A bed under a tree that comes into leaf in June: over the season it has (5 + 5 + 4 × 1.5) / 6 = 2.7 h and is too dark; in April
// and May it has 5 h and is good for leaf crops. A bed that the sun reaches over a roof in high summer only is good for fruit then.
func TestSpells(t *testing.T) {
	bed := func(hours map[time.Month]quantity.Hour) (Year, Verdict) {
		g := plot()
		g.Beds[0].Observed = seenFor(hours)
		y := Reckon(g, SunshineOf(g.Site, nil))
		return y, y.GoodFor(g.Beds[0])
	}
	dark := map[time.Month]quantity.Hour{1: 1, 2: 1, 3: 1, 4: 5, 5: 5, 6: 1.5, 7: 1.5, 8: 1.5, 9: 1.5, 10: 1, 11: 1, 12: 1}
	_, v := bed(dark)
	if v.Use != Nothing || v.Spell == nil || v.Spell.From != time.April || v.Spell.To != time.May || v.Spell.Use != Leaf || v.Spell.Hours < 5 || v.Spell.Hours > 5.3 {
		t.Errorf("before the leaves: %+v %+v", v, v.Spell)
	}
	if !strings.Contains(v.Says, "From April to May, with 5") || strings.Contains(v.Says, "whatever care") {
		t.Errorf("it says %q", v.Says)
	}
	lettuce, _ := crop.Default().Find("lettuce-romaine")
	tomato, _ := crop.Default().Find("tomato-staked")
	if names := v.InSpell([]*crop.Crop{lettuce, tomato}, Sun{2.7}); len(names) != 1 || !strings.HasPrefix(names[0], "lettuce (") {
		t.Errorf("in the spell there grow %v", names)
	}
	_, v = bed(map[time.Month]quantity.Hour{1: 1, 2: 1, 3: 3, 4: 4, 5: 5, 6: 8, 7: 8, 8: 8, 9: 2, 10: 1, 11: 1, 12: 1}) // 5.8 h over the season
	if v.Use != Root || v.Spell == nil || v.Spell.Use != Fruit || v.Spell.From != time.June || v.Spell.To != time.August {
		t.Errorf("over the roof: %+v %+v", v, v.Spell)
	}
	_, v = bed(map[time.Month]quantity.Hour{1: 2, 2: 2, 3: 2, 4: 2, 5: 2, 6: 2, 7: 2, 8: 2, 9: 2, 10: 2, 11: 2, 12: 2})
	if v.Use != Nothing || v.Spell != nil || !strings.Contains(v.Says, "will not do here") {
		t.Errorf("dark all year: %+v", v)
	}
	g := plot() // 7.5 h told for the season, the longest months longer: the plan takes 7.5 for all, and so does the verdict
	g.Beds[0].Sun = 7.5
	if v := Reckon(g, SunshineOf(g.Site, nil)).GoodFor(g.Beds[0]); v.Spell != nil || v.Full {
		t.Errorf("hours told for the season: %+v %+v", v, v.Spell)
	}
}

// South of the equator the season is October to March, and its spells go over the New Year.
func TestSpellInTheSouth(t *testing.T) {
	g := plot()
	g.Site.Latitude = -45
	g.Beds[0].Observed = seenFor(map[time.Month]quantity.Hour{1: 8, 2: 8, 3: 2, 4: 1, 5: 1, 6: 1, 7: 1, 8: 1, 9: 1, 10: 2, 11: 3, 12: 8})
	v := Reckon(g, SunshineOf(g.Site, nil)).GoodFor(g.Beds[0])
	if v.Spell == nil || v.Spell.From != time.December || v.Spell.To != time.February || v.Spell.Use != Fruit {
		t.Errorf("%+v %+v", v, v.Spell)
	}
}
