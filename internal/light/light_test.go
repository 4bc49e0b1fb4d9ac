package light

import (
	"math"
	"strings"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// plot is an invented garden of 30 × 20 m at 45° north, nothing on it but a bed.
func plot() garden.Garden {
	return garden.Garden{
		Site: garden.Site{Name: "A plot (invented)", Latitude: 45, Longitude: 5, Width: 30, Depth: 20, Invented: true},
		Beds: []garden.Bed{{ID: 1, Name: "Long drill", X: 15, Y: 6, Length: 8, Width: 1.2, Bearing: 90, Sun: 7}},
	}
}

func cherry() garden.Shade {
	return garden.Shade{
		ID: 1, Name: "cherry", Kind: garden.Tree, X: 15, Y: 2, Height: 8, Crown: garden.RoundCrown, Spread: 7, CrownBase: 1,
		LeafOn: garden.DayOfYear{Month: 4, Day: 25}, LeafOff: garden.DayOfYear{Month: 11, Day: 1},
	}
}

func house() garden.Shade {
	return garden.Shade{ID: 2, Name: "house", Kind: garden.House, X: 15, Y: -5, Length: 12, Width: 8, Bearing: 90, Height: 5, Ridge: 8}
}

// Open ground: a bed has the open day's hours, and the whole of the mean day's energy, to the rounding of weights.
func TestOpenGround(t *testing.T) {
	g := plot()
	s := SunshineOf(g.Site, nil)
	y := Reckon(g, s)
	reckoned := y.reckoned(g.Beds[0])
	for m := range 12 {
		if math.Abs(float64(reckoned[m].Hours-y.Open[m].Hours)) > 0.01 {
			t.Errorf("month %d: %.3f h, the open day has %.3f", m+1, reckoned[m].Hours, y.Open[m].Hours)
		}
		if math.Abs(float64(reckoned[m].Energy/s.Global[m])-1) > 0.003 {
			t.Errorf("month %d: %.3f MJ/m², the open ground has %.3f", m+1, reckoned[m].Energy, s.Global[m])
		}
	}
}

// A house south of the bed takes the winter's sun and leaves the summer's: at noon on 21 December at 45° the ridge 8 m up throws
// its shade 8 × tan 68.4° = 20 m, on 21 June 3.1 m, and the bed lies 11 m north of the ridge and 7 m of the wall.
func TestHouseInTheSouth(t *testing.T) {
	g := plot()
	g.Shades = []garden.Shade{house()}
	y := Reckon(g, SunshineOf(g.Site, nil))
	of := y.Bed(g.Beds[0])
	if of[11].Hours > 0.4*y.Open[11].Hours || of[5].Hours < 0.98*y.Open[5].Hours {
		t.Errorf("December %.2f of %.2f h, June %.2f of %.2f h", of[11].Hours, y.Open[11].Hours, of[5].Hours, y.Open[5].Hours)
	}
	if of[11].Energy >= y.Open[11].Energy || of[11].Energy < quantity.MegajoulePerSquareMetre(0.6)*y.Sunshine.Diffuse[11] {
		t.Errorf("December's energy %.2f of %.2f MJ/m², of which the sky's %.2f", of[11].Energy, y.Open[11].Energy, y.Sunshine.Diffuse[11])
	}
}

// What counts for a month.
func TestWhichIsUsed(t *testing.T) {
	g := plot()
	seen := []garden.SunSeen{{Month: time.June, From: 10, To: 14}}
	bases := func(g garden.Garden) (y Year, of [12]Month) {
		y = Reckon(g, SunshineOf(g.Site, nil))
		return y, y.Bed(g.Beds[0])
	}
	y, of := bases(g)
	season := InSeason(45, of)
	if of[0].Basis != Told || season.Basis != Told || math.Abs(float64(season.Hours-7)) > 0.01 || of[11].Hours >= of[5].Hours {
		t.Errorf("7 h told for the season are %.2f h, December %.2f, June %.2f by %q", season.Hours, of[11].Hours, of[5].Hours, of[0].Basis)
	}
	g.Beds[0].Observed = seen
	y, of = bases(g)
	if of[5].Basis != Seen || of[5].Hours != 4 || of[0].Basis != Near || math.Abs(float64(of[0].Hours/y.Open[0].Hours-4/y.Open[5].Hours)) > 1e-9 {
		t.Errorf("June %+v, January %+v", of[5], of[0])
	}
	if of[5].Energy >= y.Open[5].Energy || of[5].Energy <= y.Sunshine.Diffuse[5] {
		t.Errorf("4 h of sun bring %.1f MJ/m², the open day %.1f, the sky %.1f", of[5].Energy, y.Open[5].Energy, y.Sunshine.Diffuse[5])
	}
	g.Shades = []garden.Shade{house()}
	y, of = bases(g)
	if of[5].Basis != Seen || of[0].Basis != Lowered {
		t.Errorf("June %+v, January %+v", of[5], of[0])
	}
	if says := y.Differs(g.Beds[0]); !strings.Contains(says, "In June you saw 4 h of sun, and") || !strings.Contains(says, "not told") {
		t.Errorf("differs: %q", says)
	}
	g.Beds[0].Observed = nil
	if says := y.Differs(g.Beds[0]); says != "" {
		t.Errorf("nobody looked: %q", says)
	}
}

// A cherry close by to the south: thinning it and moving the bed are offered, with the caution; the sums hold when done.
func TestRemedies(t *testing.T) {
	g := plot()
	g.Shades = []garden.Shade{cherry(), {ID: 3, Name: "hedge", Kind: garden.Hedge, X: 15, Y: 0.5, Length: 26, Width: 1, Bearing: 90, Height: 4}}
	g.Beds[0].Y, g.Shades[0].Y = 3.2, 1.8
	y := Reckon(g, SunshineOf(g.Site, nil))
	now := InSeason(45, y.Bed(g.Beds[0])).Hours
	all := y.Remedies(g.Beds[0])
	var cut, moved bool
	for _, r := range all {
		if r.Shade == 1 {
			cut = true
			if r.Caution == "" || !strings.Contains(r.Caution, "power line") || !strings.Contains(r.Says, `tree "cherry"`) {
				t.Errorf("the cherry: %+v", r)
			}
			without := g
			without.Shades = g.Shades[1:]
			then := InSeason(45, Reckon(without, y.Sunshine).Bed(g.Beds[0])).Hours
			if math.Abs(float64(then-now-r.Gains)) > 0.1 {
				t.Errorf("cutting it is said to bring %.2f h, and brings %.2f", r.Gains, then-now)
			}
		}
		if r.To != nil {
			moved = true
			there := g
			there.Beds = []garden.Bed{*r.To}
			then := InSeason(45, Reckon(there, y.Sunshine).Bed(*r.To)).Hours
			if math.Abs(float64(then-now-r.Gains)) > 0.3 {
				t.Errorf("moving the bed is said to bring %.2f h, and brings %.2f", r.Gains, then-now)
			}
		}
	}
	if !cut || !moved {
		t.Errorf("%.2f h now; remedies: %+v", now, all)
	}
	open := plot()
	open.Beds[0].Sun = 8.5
	if len(Reckon(open, y.Sunshine).Remedies(open.Beds[0])) != 0 {
		t.Error("remedies for a bed in full sun")
	}
	if all := Reckon(plot(), y.Sunshine).Remedies(plot().Beds[0]); len(all) != 1 || !strings.Contains(all[0].Says, "Nothing is told that throws shade") {
		t.Errorf("a bed of 7 h by what the person told, and no shade: %+v", all)
	}
}

// The bounds of printed tables: TOH-SUN has 8–10 h for fruiting crops, 5–7 for roots and 4–6 for leaves; ASKEXT-SUN has fruiting
// crops from 6 h; SHADE-VEG has roots, peas and cabbages from 4 to 5 h, lettuce, spinach, chard, kale and herbs from 3 to 4.
func TestGoodFor(t *testing.T) {
	for hours, want := range map[quantity.Hour]Use{
		14: Fruit, 8: Fruit, 6.5: Fruit, 5.96: Fruit, 5.9: Root, 5: Root, 4.9: Root, 4: Root, 3.9: Leaf, 3.5: Leaf, 3: Leaf, 2.9: Nothing, 2: Nothing, 1: Nothing, 0: Nothing,
	} {
		if got := GoodFor(Sun{hours}); got.Use != want || got.Says == "" {
			t.Errorf("%v h: %+v, want %s", hours, got, want)
		}
	}
	if !strings.Contains(GoodFor(Sun{1.5}).Says, "will not do") {
		t.Error("one or two hours are not told plainly")
	}
	if says := GoodFor(Sun{3.5}).Says; !strings.Contains(says, "lettuce") || !strings.Contains(says, "about 70 % of the yield is counted on") { // 3.5 of 5 h
		t.Errorf("part shade: %s", says)
	}
	if GoodFor(Sun{7}).Full || !GoodFor(Sun{9}).Full {
		t.Error("7 h are not full sun, 9 are")
	}
}

// The catalogue and the verdict say the same: where no vegetable will do, no crop does; where leaves do, lettuce does and
// tomatoes do not; in full sun all do well.
func TestGrows(t *testing.T) {
	all := crop.Default().All()
	if well, less := Grows(all, Sun{2.9}); len(well)+len(less) != 0 {
		t.Errorf("with 2.9 h %d crops do", len(well)+len(less))
	}
	does := map[string]bool{}
	well, less := Grows(all, Sun{4.2})
	for _, c := range append(well, less...) {
		does[c.ID] = true
	}
	if !does["lettuce-loose-leaf"] || !does["kale"] || does["tomato-staked"] || does["cucumber"] {
		t.Errorf("with 4.2 h there grow %v", does)
	}
	if _, ok := crop.Default().Find("tomato-staked"); !ok {
		t.Error("the catalogue has no such tomato")
	}
	if well, _ := Grows(all, Sun{10}); len(well) != len(all) {
		t.Errorf("in full sun %d of %d crops do well", len(well), len(all))
	}
}

// invented is a record of days all alike: 10–24 °C, and radiation if asked.
func invented(radiation float64) *weather.Record {
	r := &weather.Record{}
	for d := civil.Of(2024, 1, 1); d <= civil.Of(2025, 12, 31); d++ {
		r.Days = append(r.Days, weather.Day{Date: d, Min: 10, Max: 24, HasTemp: true, Radiation: quantity.MegajoulePerSquareMetre(radiation), HasRadiation: radiation != 0})
	}
	return r
}

func TestSunshine(t *testing.T) {
	site := plot().Site
	if s := SunshineOf(site, invented(3)); s.Way[0] != Measured || s.Global[6] != 3 || !strings.Contains(s.Says, "measured") {
		t.Errorf("%+v", s)
	}
	if s := SunshineOf(site, invented(0)); s.Way[0] != FromRange || s.Global[6] < 15 || s.Global[6] > 30 || s.Diffuse[6] >= s.Global[6] {
		t.Errorf("%+v", s)
	}
	if s := SunshineOf(site, nil); s.Way[0] != ClearSky || s.Global[6] < 25 {
		t.Errorf("%+v", s)
	}
	s := SunshineOf(site, invented(300)) // in another unit
	if s.Way[0] != FromRange || !strings.Contains(s.Says, "731 days were of radiation stronger than above the air") {
		t.Errorf("%+v", s)
	}
}

// A crown is raised to a third of the height at most and by a third of the living crown, by length and bulk (USFS-PRUNE: living
// branches on the upper two thirds; a tree of 36 ft keeps its upper 24).
func TestRaisedCrownKeepsTwoThirds(t *testing.T) {
	feet := func(f float64) quantity.Metre { return quantity.Metre(f * .3048) }
	tall := garden.Shade{Kind: garden.Tree, Height: feet(36), Crown: garden.RoundCrown, Spread: 6}
	if raised, ok := Raised(tall); !ok || raised.CrownBase > feet(12) || raised.CrownBase < feet(12)-.1 || raised.Spread != 6 {
		t.Errorf("a tree of 36 ft is raised to %.2f m", float64(raised.CrownBase))
	}
	tall.CrownBase = feet(6)
	if raised, ok := Raised(tall); !ok || raised.CrownBase > feet(12)+1e-9 || raised.CrownBase <= feet(6) {
		t.Errorf("one with its crown from 6 ft is raised to %.2f m", float64(raised.CrownBase))
	}
	tall.CrownBase = feet(12)
	if _, ok := Raised(tall); ok {
		t.Error("a tree whose crown begins at a third of its height is raised further")
	}
	fir := garden.Shade{Kind: garden.Tree, Height: 12, CrownBase: .5, Crown: garden.ConeCrown, Spread: 4}
	raised, ok := Raised(fir)
	bulk := func(s garden.Shade) float64 { return float64((s.Height - s.CrownBase) * s.Spread * s.Spread) }
	if left := bulk(raised) / bulk(fir); !ok || left < 2./3-1e-9 || left > .7 {
		t.Errorf("of a fir %.3f of its crown is left", left)
	}
	if _, ok := Raised(garden.Shade{Kind: garden.Hedge, Height: 3}); ok {
		t.Error("the crown of a hedge is raised")
	}
	g := plot()
	g.Shades = []garden.Shade{cherry()}
	g.Shades[0].Height, g.Shades[0].CrownBase, g.Beds[0].Y = 10, .2, 3.4
	told := false
	for _, r := range Reckon(g, SunshineOf(g.Site, nil)).Remedies(g.Beds[0]) {
		if r.Shade != 0 && strings.Contains(r.Says, "lowest branches") {
			told = true
			if !strings.Contains(r.Says, "over three years or more") || !strings.Contains(r.Says, "a quarter of the living crown") || r.Source != "USFS-PRUNE" || !strings.Contains(r.Says, "up to 3.3 m") || !strings.Contains(r.Caution, "ladder") {
				t.Errorf("%+v", r)
			}
		}
	}
	if !told {
		t.Error("raising the crown is not offered")
	}
}

// At the edges nothing breaks: the pole, no plot, a bed off the plot, a slope to the north in winter.
func TestEdges(t *testing.T) {
	for name, change := range map[string]func(*garden.Garden){
		"the pole": func(g *garden.Garden) { g.Site.Latitude = 90 }, "the southern winter": func(g *garden.Garden) { g.Site.Latitude = -70 },
		"no plot": func(g *garden.Garden) { g.Site.Width, g.Site.Depth, g.Beds = 0, 0, nil }, "large land": func(g *garden.Garden) { g.Site.Width, g.Site.Depth = 5000, 5000 },
		"a northern slope": func(g *garden.Garden) { g.Site.Lie = garden.Lie{Slope: 45, Aspect: 0} },
	} {
		g := plot()
		g.Shades = []garden.Shade{cherry(), house()}
		change(&g)
		y := Reckon(g, SunshineOf(g.Site, nil))
		for _, b := range plot().Beds {
			for m, of := range y.Bed(b) {
				if math.IsNaN(float64(of.Hours)) || of.Hours < 0 || of.Hours > 24 || math.IsNaN(float64(of.Energy)) || of.Energy < 0 {
					t.Errorf("%s, month %d: %+v", name, m+1, of)
				}
			}
			y.Remedies(b)
		}
	}
}

// BenchmarkReckon is what a page asks when something that throws shade was moved: the whole plot, a year, hours and energy.
func BenchmarkReckon(b *testing.B) {
	g := plot()
	for i := range 6 {
		tree, box := cherry(), house()
		tree.X, box.X = quantity.Metre(5*i), quantity.Metre(6*i)
		g.Shades = append(g.Shades, tree, box)
	}
	s := SunshineOf(g.Site, nil)
	b.ResetTimer()
	for range b.N {
		Reckon(g, s)
	}
}

func BenchmarkRemedies(b *testing.B) {
	g := plot()
	g.Shades = []garden.Shade{cherry(), house()}
	g.Beds[0].Y = 3.2
	y := Reckon(g, SunshineOf(g.Site, nil))
	b.ResetTimer()
	for range b.N {
		y.Remedies(g.Beds[0])
	}
}

// BenchmarkBed is what the beds of a plot ask beside its cells: here one under twelve things.
func BenchmarkBed(b *testing.B) {
	g := plot()
	for i := range 6 {
		tree, box := cherry(), house()
		tree.X, box.X = quantity.Metre(5*i), quantity.Metre(6*i)
		g.Shades = append(g.Shades, tree, box)
	}
	y := Reckon(g, SunshineOf(g.Site, nil))
	b.ResetTimer()
	for range b.N {
		y.hoursOn(g.Beds[0])
	}
}
