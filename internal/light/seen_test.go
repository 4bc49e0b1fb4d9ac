package light

import (
	"math"
	"strings"
	"testing"
	"time"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Sun seen in one month lowers the others by the rule as it is stated: fully where the sun stands no more than 10° higher at noon,
// not at all from 30° on. The noon sun stands 90° less the latitude plus the declination high; declinations by KLEIN-1977's days:
// June +23.1, May +18.8, July +21.2, March −2.4, April +9.4, September +2.2, December −23.0.
func TestSunSeenLowersOtherMonths(t *testing.T) {
	at := func(seen ...garden.SunSeen) (Year, [12]Month, [12]Month) {
		g := plot()
		g.Shades = []garden.Shade{{ID: 1, Name: "shed", Kind: garden.Shed, X: 2, Y: 2, Length: 2, Width: 2, Height: 2}} // far off
		g.Beds[0].Observed = seen
		y := Reckon(g, SunshineOf(g.Site, nil))
		return y, y.Bed(g.Beds[0]), y.reckoned(g.Beds[0])
	}
	y, of, reckoned := at(garden.SunSeen{Month: time.June, From: 10, To: 14})
	share := 4 / reckoned[5].Hours
	for m := range of {
		if m == 5 {
			continue
		}
		if of[m].Basis != Lowered || math.Abs(float64(of[m].Hours-share*reckoned[m].Hours)) > 1e-9 { // June's sun is the highest
			t.Errorf("seen in June, month %d: %+v of %.2f h", m+1, of[m], reckoned[m].Hours)
		}
	}
	b := y.Garden.Beds[0]
	if v := y.GoodFor(b); v.Use != Leaf && v.Use != Nothing {
		t.Errorf("with 4 of %.1f h seen in June it is good for %s: %s", reckoned[5].Hours, v.Use, v.Says)
	}
	all := y.Remedies(b)
	if len(all) == 0 || !strings.Contains(all[0].Says, "less than is reckoned") || !strings.Contains(all[0].Says, "tell of it") {
		t.Errorf("remedies: %+v", all)
	}
	if of[4].Energy >= reckoned[4].Energy || of[4].Energy <= y.Sunshine.Diffuse[4] {
		t.Errorf("May's energy %.1f of %.1f MJ/m², the sky's %.1f", of[4].Energy, reckoned[4].Energy, y.Sunshine.Diffuse[4])
	}

	_, of, reckoned = at(garden.SunSeen{Month: time.March, From: 10, To: 14})
	share = 4 / reckoned[2].Hours
	for m, holds := range map[int]quantity.Hour{1: 1, 3: (30 - 11.8) / 20, 5: (30 - 25.5) / 20, 11: 1} {
		if want := reckoned[m].Hours * (1 - holds*(1-share)); math.Abs(float64(of[m].Hours-want)) > 0.35 { // his declinations are up to 0.7° off those of the year
			t.Errorf("seen in March, month %d: %.2f h, by the rule %.2f of %.2f", m+1, of[m].Hours, want, reckoned[m].Hours)
		}
	}
	if _, of, reckoned = at(garden.SunSeen{Month: time.December, From: 11, To: 13}); of[5] != reckoned[5] { // 46° higher
		t.Errorf("seen in December, June: %+v", of[5])
	}
	if _, of, reckoned = at(garden.SunSeen{Month: time.June, From: 4.5, To: 19}); of[4] != reckoned[4] { // 14.5 of 14.7 h
		t.Errorf("seen all day in June, May: %+v and not %+v", of[4], reckoned[4])
	}
}

// Hours above a crop's need do not make up for dark months: by hand, 12, 12, 12, 2, 2 and 2 h are 7 on the mean, and for a crop that
// needs 8 they are 5, for one that needs 6 they are 4.
func TestSpareHoursDoNotCount(t *testing.T) {
	s := Sun{12, 12, 12, 2, 2, 2}
	if math.Abs(float64(s.Mean()-7)) > 1e-9 || math.Abs(float64(s.For(crop.Light{Needs: 8})-5)) > 1e-9 || math.Abs(s.Share(crop.Light{Needs: 6, Least: 4})-4./6) > 1e-9 || s.Share(crop.Light{Needs: 8, Least: 6}) != 0 {
		t.Errorf("%v, %v, %v", s.Mean(), s.For(crop.Light{Needs: 8}), s.Share(crop.Light{Needs: 6, Least: 4}))
	}
	g := plot()
	g.Beds[0].Observed = seenFor(map[time.Month]quantity.Hour{3: 5, 4: 12, 5: 12, 6: 12, 7: 2, 8: 2, 9: 2, 10: 1})
	y := Reckon(g, SunshineOf(g.Site, nil))
	v := y.GoodFor(g.Beds[0])
	if v.Use != Root || v.Full || !strings.Contains(v.Says, "Of its 7 h a day over the season 5 h count for fruiting crops: hours above the 8 h they need") {
		t.Errorf("%+v", v)
	}
	if v.Spell == nil || v.Spell.Use != Fruit || v.Spell.From != time.April || v.Spell.To != time.June {
		t.Errorf("spell %+v", v.Spell)
	}
	even := plot()
	even.Beds[0].Observed = seenFor(map[time.Month]quantity.Hour{4: 7, 5: 7, 6: 7, 7: 7, 8: 7, 9: 7})
	if v := Reckon(even, y.Sunshine).GoodFor(even.Beds[0]); strings.Contains(v.Says, "make up") || v.Use != Fruit {
		t.Errorf("hours alike: %+v", v)
	}
}

// A bed is moved to where a path goes around it: 40 cm off the plot's edge, other beds and what stands there.
func TestMovedBedKeepsItsPaths(t *testing.T) {
	g := plot()
	g.Shades = []garden.Shade{{ID: 3, Name: "hedge", Kind: garden.Hedge, X: 15, Y: 4.5, Length: 26, Width: 1, Bearing: 90, Height: 4}, {ID: 4, Name: "barn", Kind: garden.House, X: 15, Y: 0, Length: 30, Width: 4, Bearing: 90, Height: 7}}
	for i := range 3 {
		g.Beds = append(g.Beds, garden.Bed{ID: int64(i + 2), Name: "Other", X: 4 + 9*quantity.Metre(i), Y: 18, Length: 7, Width: 1.2, Bearing: 90, Sun: 8})
	}
	y := Reckon(g, SunshineOf(g.Site, nil))
	for _, r := range y.Remedies(g.Beds[0]) {
		if r.To == nil {
			continue
		}
		for _, c := range r.To.Corners() {
			if c.East < .4 || c.North < .4 || c.East > 29.6 || c.North > 19.6 {
				t.Errorf("a corner at %.2f, %.2f", c.East, c.North)
			}
		}
		if r.To.Y > 16.4+1e-6 { // the others begin at 17.4, and it is 1.2 m wide
			t.Errorf("%.2f m north, too near the other beds", r.To.Y)
		}
		return
	}
	t.Error("moving is not offered")
}
