package growth

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/crop"
)

// vary is a variety of a crop whose packet says so many days.
func vary(t interface{ Fatal(...any) }, base *crop.Crop, from crop.Way, days int) *crop.Crop {
	c, err := crop.New(base).Vary(crop.Variety{ID: "own", Name: "own", Base: base.ID, From: from, Days: fmt.Sprint(days)})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The packet's days hold, as the type's do, in steady weather of the type's reference temperature: there the
// variety takes exactly its own days, whatever the type takes.
func TestAVarietyTakesItsPacketsDaysAtTheTypesReference(t *testing.T) {
	for _, base := range []*crop.Crop{lettuce(), cold(lettuce())} {
		for m, method := range base.Methods {
			for _, days := range []int{30, 41, 60, 80} {
				own := vary(t, base, method.Way, days)
				o := Option{Crop: own, Method: m}
				needs, possible := Requirement(o)
				came := 0.0
				if method.Way == crop.Sow {
					came = min(1/EmergenceRate(base.Emergence, method.Reference), float64(days)/2)
				}
				speed := DayDevelopment(base.Cardinal, method.Reference-usualSwing/2, method.Reference+usualSwing/2)
				if got := came + needs/speed; !possible || math.Abs(got-float64(days)) > 1e-9 {
					t.Errorf("%s: a packet of %d d takes %g d in steady days of %v °C", method.Way, days, got, method.Reference)
				}
			}
		}
	}
}

// Fewer days on the packet are an earlier harvest: in every weather year and from every day on which both come to
// harvest, the quicker one is never later, by either way of growing; and it comes to harvest from later days.
func TestFewerDaysAreAnEarlierHarvestInEveryYear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.SampledFrom([]*crop.Crop{lettuce(), spinach(), cold(lettuce())}).Draw(t, "crop")
		way := base.Methods[rapid.IntRange(0, len(base.Methods)-1).Draw(t, "from")].Way
		slow := rapid.IntRange(35, 90).Draw(t, "days")
		quick := rapid.IntRange(25, slow-5).Draw(t, "fewer days")
		a, b := vary(t, base, way, slow), vary(t, base, way, quick)
		c := drawClimate(t).climate(2, rapid.Uint64().Draw(t, "seed"))
		for m := range base.Methods {
			tables := Tabulate(c, []Option{{Crop: a, Method: m}, {Crop: b, Method: m}})
			both, earlier := 0, 0
			for y := range c.Years {
				for d := c.Season.Start; d <= c.Season.End(); d++ {
					x, z := tables[0].Outcome(d, y), tables[1].Outcome(d, y)
					if x.Fate != Ready || z.Fate != Ready {
						continue
					}
					both++
					if z.First > x.First {
						t.Fatalf("%s %s on %v: of %d d it is ready %v, of %d d %v", base.ID, base.Methods[m].Way, d, slow, x.First, quick, z.First)
					}
					if z.First < x.First {
						earlier++
					}
				}
			}
			if both > 30 && earlier < both*9/10 {
				t.Fatalf("%s %s: earlier on %d of %d days", base.ID, base.Methods[m].Way, earlier, both)
			}
		}
	})
}

// The catalogue's bush bean where summers are short: a variety of 45 days may be sown weeks longer than one of
// 70, is ready sooner from its best day, and both windows open when the ground is warm.
func TestAQuickVarietyHasALongerWindow(t *testing.T) {
	base, ok := crop.Default().Find("bean-bush")
	if !ok {
		t.Fatal("no bush bean")
	}
	c := coldWinters.climate(20, 4)
	slow, quick := Option{Crop: vary(t, base, crop.Sow, 70)}, Option{Crop: vary(t, base, crop.Sow, 45)}
	tables := Tabulate(c, []Option{slow, quick})
	late, soon := tables[0].Windows(0.8), tables[1].Windows(0.8)
	if len(late) != 1 || len(soon) != 1 {
		t.Fatalf("windows of 70 d %v, of 45 d %v", late, soon)
	}
	if more := soon[0].To.Since(late[0].To); more < 14 {
		t.Errorf("sown to %v it takes 70 d, to %v 45 d: only %d days more", late[0].To, soon[0].To, more)
	}
	if off := soon[0].From.Since(late[0].From); off < -7 || off > 7 {
		t.Errorf("they open %v and %v", late[0].From, soon[0].From)
	}
	if a, b := late[0].Days[1], soon[0].Days[1]; a-b < 12 {
		t.Errorf("from their best days they take %d and %d days", a, b)
	}
}

// The law over the whole catalogue: a variety with an eighth fewer days, of any crop and by any of its methods, is
// never later than its type in the same year, from any day on which both come to harvest.
func TestFewerDaysAreEarlierForEveryCrop(t *testing.T) {
	c := mildWinters.climate(6, 4)
	for _, base := range crop.Default().All() {
		if base.Perennial {
			continue // its days count to a year, not to a day
		}
		days := int(base.Methods[0].Days.Mid() * 7 / 8)
		own, err := crop.Default().Vary(crop.Variety{ID: "own", Name: "own", Base: base.ID, Days: fmt.Sprint(days)})
		if err != nil {
			t.Fatal(err)
		}
		for m := range base.Methods {
			tables := Tabulate(c, []Option{{Crop: base, Method: m}, {Crop: own, Method: m}})
			for d := c.Season.Start; d <= c.Season.End(); d++ {
				for y := range c.Years {
					x, z := tables[0].Outcome(d, y), tables[1].Outcome(d, y)
					if underground(base) && x.Yield < 1 {
						continue // frost took the tops of the slower ones, and they were lifted small
					}
					if x.Fate == Ready && z.Fate == Ready && z.First > x.First {
						t.Fatalf("%s %s on %v: the type is ready %v, the quicker variety %v", base.ID, base.Methods[m].Way, d, x.First, z.First)
					}
				}
			}
		}
	}
}
