package light

import (
	"math"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// The rule by hand: a crop that needs 5 h and at least 3 has all from 5 h, 70 % at 3.5, 60 % at its least, which 2.96 h reads as,
// and nothing below. A crop of 80 days with three quarters of its light is half of the missing quarter, ten days, later: a week.
func TestTheRule(t *testing.T) {
	wants := crop.Light{Needs: 5, Least: 3}
	for hours, share := range map[quantity.Hour]float64{12: 1, 5: 1, 4: .8, 3.5: .7, 3: .6, 2.96: .592, 2.9: 0, 0: 0} {
		if got := Share(hours, wants); math.Abs(got-share) > 1e-9 {
			t.Errorf("%v h: %v, wanted %v", hours, got, share)
		}
	}
	if Share(0, crop.Light{}) != 1 {
		t.Error("a crop that needs no sun has none of its yield")
	}
	for _, c := range []struct {
		days  int
		share float64
		weeks int
	}{{80, .75, 1}, {80, 1, 0}, {80, 0, 0}, {100, .6, 3}, {0, .5, 0}} {
		if got := Later(c.days, c.share); got != c.weeks {
			t.Errorf("%d days at %v: %d weeks, wanted %d", c.days, c.share, got, c.weeks)
		}
	}
}

// The verdict of a bed and the catalogue that the plan goes by never part: whatever the hours, what the verdict says will do is
// what some crop of its class has yield from, and with the share told of the class.
func TestVerdictAndCatalogueAgree(t *testing.T) {
	crops := map[Use][]string{
		Fruit: {"tomato-staked", "pepper-sweet", "squash-summer"}, Root: {"carrot", "beet", "potato", "pea-dwarf"},
		Leaf: {"lettuce-romaine", "lettuce-loose-leaf", "spinach", "chard", "kale", "parsley", "chives"},
	}
	for use, ids := range crops {
		for _, id := range ids {
			c, ok := crop.Default().Find(id)
			if !ok {
				t.Fatalf("the catalogue has no %s", id)
			}
			if c.Light != classes[use] {
				t.Errorf("%s wants %+v, its class %+v", id, c.Light, classes[use])
			}
		}
	}
	for tenth := range 140 {
		hours := quantity.Hour(tenth) / 10
		does := map[Use]bool{}
		for use, ids := range crops {
			c, _ := crop.Default().Find(ids[0])
			does[use] = Share(hours, c.Light) > 0
		}
		want := Nothing
		for _, use := range []Use{Leaf, Root, Fruit} {
			if does[use] {
				want = use
			}
		}
		if got := GoodFor(Sun{hours}); got.Use != want {
			t.Errorf("%.1f h are said to be good for %s, the catalogue has %s", float64(hours), got.Use, want)
		}
		well, less := Grows(crop.Default().All(), Sun{hours})
		if (len(well)+len(less) == 0) != (GoodFor(Sun{hours}).Use == Nothing) {
			t.Errorf("%.1f h: %d crops do, and it is said to be good for %s", float64(hours), len(well)+len(less), GoodFor(Sun{hours}).Use)
		}
	}
}
