package garden_test

import (
	"math"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func ofNumber(x float64) *float64 { return &x }

// drawShades draws how a plot lies and what stands around it, never on a bed.
func drawShades(t *rapid.T, g *garden.Garden) {
	g.Site.Lie = garden.Lie{
		Slope: rapid.Float64Range(0, 45).Draw(t, "slope"), Aspect: rapid.Float64Range(0, 360).Draw(t, "aspect"), North: rapid.Float64Range(-180, 180).Draw(t, "north"),
	}
	for i := range rapid.IntRange(0, 3).Draw(t, "sights") {
		g.Site.Lie.Horizon = append(g.Site.Lie.Horizon, garden.Sight{Bearing: float64(i) * 31.5, Altitude: rapid.Float64Range(0, 80).Draw(t, "altitude")})
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "shades") {
		s := garden.Shade{
			ID: int64(i + 1), Name: string(rune('a'+i)) + drawText(t, "shade"), Kind: rapid.SampledFrom(garden.ShadeKinds).Draw(t, "kind"),
			X: drawLength(500, 900).Draw(t, "x"), Y: drawLength(-900, 900).Draw(t, "y"), Height: drawLength(1, 100).Draw(t, "height"), Note: drawText(t, "note"),
		}
		if s.Kind == garden.Tree {
			s.Crown = rapid.SampledFrom([]garden.CrownShape{garden.RoundCrown, garden.ConeCrown}).Draw(t, "crown")
			s.Spread, s.CrownBase, s.Trunk = drawLength(1, 50).Draw(t, "spread"), drawLength(0, 0.9).Draw(t, "base"), drawLength(0, 0.9).Draw(t, "trunk")
		} else {
			s.Length, s.Width, s.Bearing = drawLength(0.1, 90).Draw(t, "length"), drawLength(0.1, 9).Draw(t, "width"), rapid.Float64Range(0, 180).Draw(t, "bearing")
		}
		if s.Kind.Grows() && rapid.Bool().Draw(t, "deciduous") {
			s.LeafOn, s.LeafOff, s.Bare = garden.DayOfYear{Month: 4, Day: 25}, garden.DayOfYear{Month: 11, Day: 1}, ofNumber(rapid.Float64Range(0, 100).Draw(t, "bare"))
			if g.Site.Latitude < 0 {
				s.LeafOn, s.LeafOff = s.LeafOff, s.LeafOn
			}
		}
		if s.Kind.Roofed() && rapid.Bool().Draw(t, "ridged") {
			s.Ridge = s.Height + 2
		}
		if rapid.Bool().Draw(t, "gaps") {
			s.Gaps = ofNumber(rapid.Float64Range(0, 100).Draw(t, "gaps of"))
		}
		g.Shades = append(g.Shades, s)
	}
	for i := range g.Beds {
		for range rapid.IntRange(0, 2).Draw(t, "seen") {
			from := rapid.IntRange(360, 1200).Draw(t, "from") // while it is up there
			long := rapid.IntRange(1, 30).Draw(t, "long")
			g.Beds[i].Observed = append(g.Beds[i].Observed, garden.SunSeen{
				// The months in which the sun rises and sets the world over.
				Month: rapid.SampledFrom([]time.Month{time.March, time.September}).Draw(t, "month"),
				From:  quantity.Hour(float64(from/60) + float64(from%60)/60), To: quantity.Hour(float64((from+long)/60) + float64((from+long)%60)/60),
			})
		}
	}
}

func TestShadeFaultsHaveTheirPlace(t *testing.T) {
	site := "[site]\nname = \"A\"\nlatitude = 40\nlongitude = 3\n"
	bed := "[[bed]]\nname = \"B\"\nx = \"5 m\"\ny = \"5 m\"\nlength = \"9 m\"\nwidth = \"1 m\"\nsun_hours = 8\n"
	tree := "[[shade]]\nname = \"cherry\"\nkind = \"tree\"\nx = \"1 m\"\ny = \"2 m\"\nheight = \"6 m\"\nspread = \"4 m\"\n"
	shed := "[[shade]]\nname = \"shed\"\nkind = \"shed\"\nx = \"5 m\"\ny = \"8 m\"\nheight = \"2 m\"\nlength = \"3 m\"\nwidth = \"2 m\"\n"
	for _, r := range []struct{ name, text, holds string }{
		{"negative tree", site + strings.Replace(tree, "6 m", "-6 m", 1), `garden.toml:10:10: shade "cherry": height is -6 m, and must be more than 0; write how high it stands, with its unit`},
		{"kind", site + strings.Replace(tree, `"tree"`, `"tre"`, 1), `garden.toml:7:8: shade "cherry": kind is "tre", which is not known; did you mean tree?`},
		{"on a bed", site + bed + shed, `garden.toml:15:5: shade "shed": it stands on the bed "B"; move one of them: its middle is 5 m east and 8 m north, the bed's 5 m and 5 m`},
		{"high crown", site + tree + "crown_base = \"7 m\"\n", `garden.toml:12:14: shade "cherry": the crown begins 7 m above the ground, of a tree 6 m high`},
		{"ridge under eaves", site + shed + "ridge = \"1 m\"\n", `garden.toml:13:9: shade "shed": the ridge is 1 m high, the eaves 2 m`},
		{"crown of a shed", site + shed + "spread = \"1 m\"\n", `a shed has no crown`},
		{"half a year", site + tree + "leaf_on = \"04-25\"\n", `garden.toml:12:11: shade "cherry": of leaf_on and leaf_off only one is given`},
		{"no such day", site + tree + "leaf_on = \"02-30\"\nleaf_off = \"11-01\"\n", `garden.toml:12:11: shade "cherry": leaf_on: "02-30" is not a day of the year`},
		{"leaves in winter", strings.Replace(site, "40", "52", 1) + tree + "leaf_on = \"11-01\"\nleaf_off = \"04-25\"\n", `garden.toml:12:11: shade "cherry": it is told to stand bare at midsummer and in leaf at midwinter`},
		{"on two beds", site + bed + strings.NewReplacer(`"B"`, `"C"`, `y = "5 m"`, `y = "7 m"`).Replace(bed) + strings.Replace(shed, `width = "2 m"`, `width = "6 m"`, 1), `it stands on the beds "B" and "C"; move it off them: its middle is 5 m east and 8 m north`},
		{"bare", site + tree + "bare_percent = 140\nleaf_on = \"04-25\"\nleaf_off = \"11-01\"\n", `garden.toml:12:16: shade "cherry": bare_percent is 140`},
		{"same name", site + tree + tree, `something else that throws shade is called "cherry" too`},
		{"slope", site + "slope = 50\n", `garden.toml:5:9: site: the slope is 50 degrees`},
		{"horizon", site + "horizon = [[90, 5], 12]\n", `garden.toml:5:21: site: horizon holds 12, where pairs are wanted`},
		{"two heights", site + "horizon = [[0, 5], [360, 7]]\n", `the skyline has two heights at a bearing of 360`},
		{"sun seen", site + bed + "[[bed.sun_seen]]\nmonth = \"Junuary\"\nfrom = \"10\"\nto = \"2\"\n", `garden.toml:13:9: bed "B": month: "Junuary" is not a month`},
		{"more sun than day", site + bed + "[[bed.sun_seen]]\nmonth = \"December\"\nfrom = \"5\"\nto = \"19\"\n", `bed "B": 14.0 hours of sun were seen in December, when the day has at most 9.`},
	} {
		t.Run(r.name, func(t *testing.T) {
			_, err := garden.ReadDescription("garden.toml", strings.NewReader(r.text), invented())
			if err == nil {
				t.Fatalf("it was read:\n%s", r.text)
			}
			if !strings.Contains(err.Error(), r.holds) {
				t.Errorf("got  %v\nwant %s", err, r.holds)
			}
			if strings.Count(err.Error(), "\n") > 0 && r.name != "crown of a shed" {
				t.Errorf("told more than once:\n%v", err)
			}
		})
	}
}

// Leaves from 1 November to 25 April are those of the south's summer; near the equator a tree may shed them in the dry season.
func TestLeavesAt(t *testing.T) {
	tree := garden.Shade{Kind: garden.Tree, LeafOn: garden.DayOfYear{Month: 11, Day: 1}, LeafOff: garden.DayOfYear{Month: 4, Day: 25}}
	for latitude, wrong := range map[float64]bool{52: true, 35: true, 20: false, 0: false, -20: false, -41: false} {
		if got := tree.LeavesAt(latitude).Err() != nil; got != wrong {
			t.Errorf("at %v°: %v", latitude, tree.LeavesAt(latitude))
		}
	}
	tree.LeafOn, tree.LeafOff = tree.LeafOff, tree.LeafOn
	for latitude, wrong := range map[float64]bool{52: false, -41: true} {
		if got := tree.LeavesAt(latitude).Err() != nil; got != wrong {
			t.Errorf("at %v°: %v", latitude, tree.LeavesAt(latitude))
		}
	}
}

func TestSunSeen(t *testing.T) {
	for _, c := range []struct {
		from, to string
		want     garden.SunSeen
	}{
		{"10", "2", garden.SunSeen{From: 10, To: 14}}, {"10:30", "14:15", garden.SunSeen{From: 10.5, To: 14.25}}, {"9 am", "1 p.m.", garden.SunSeen{From: 9, To: 13}},
		{"noon", "6", garden.SunSeen{From: 12, To: 18}}, {"12 am", "12 pm", garden.SunSeen{From: 0, To: 12}}, {"6", "8", garden.SunSeen{From: 6, To: 8}},
	} {
		got, err := garden.ParseSunSeen(time.June, c.from, c.to)
		c.want.Month = time.June
		if err != nil || got != c.want {
			t.Errorf("from %s till %s: %v, %v, want %v", c.from, c.to, got, err, c.want)
		}
	}
	for _, text := range []string{"", "morning", "25", "10:75", "13 pm", "0 am", "-3", "1e2"} {
		if _, err := garden.ParseSunSeen(time.June, text, "12"); err == nil {
			t.Errorf("from %q was taken", text)
		}
	}
	b := garden.Bed{Observed: []garden.SunSeen{{time.June, 16, 18}, {time.June, 10, 14}, {time.June, 13, 15}, {time.May, 1, 2}}}
	if got, ok := b.SeenIn(time.June); !ok || got != 7 {
		t.Errorf("10–15 and 16–18 are %v h, want 7", got)
	}
	if _, ok := b.SeenIn(time.July); ok {
		t.Error("nobody looked in July")
	}
}

// A till before the from is told in the words that were typed.
func TestSunSeenBackwardsIsToldAsTyped(t *testing.T) {
	for _, c := range [][2]string{{"11 pm", "2"}, {"14:00", "10:00 am"}, {"9", "9 am"}} {
		_, err := garden.ParseSunSeen(time.June, c[0], c[1])
		if err == nil || !strings.Contains(err.Error(), c[0]) || !strings.Contains(err.Error(), c[1]) || c[1] == "2" && strings.Contains(strings.ReplaceAll(err.Error(), `"14:00"`, ""), "14") {
			t.Errorf("from %s till %s: %v", c[0], c[1], err)
		}
	}
}

// Sun seen outside the sun's own hours is refused with them: at 45° N the sun rises on 1 December about 7:25 and in the rest of the
// month later, by its own time (USNO's tables have 7:17 by the mean sun's, which the true one is 11 minutes ahead of then). A clock
// may run an hour behind it, or three and a half ahead: summer time in the west of a wide zone.
func TestSunSeenAtNight(t *testing.T) {
	for _, c := range []struct {
		latitude float64
		seen     garden.SunSeen
		says     string
	}{
		{45, garden.SunSeen{Month: time.December, From: 4, To: 9}, "it rises at 07:"}, {45, garden.SunSeen{Month: time.December, From: 15, To: 21}, "sets at 16:"},
		{45, garden.SunSeen{Month: time.December, From: 7, To: 12}, ""}, {45, garden.SunSeen{Month: time.June, From: 6, To: 21.5}, ""},
		{43, garden.SunSeen{Month: time.June, From: 16, To: 22.5}, ""}, {75, garden.SunSeen{Month: time.June, From: 0, To: 24}, ""}, {75, garden.SunSeen{Month: time.December, From: 11, To: 13}, "at most 0"}, {75, garden.SunSeen{Month: time.December, From: 12, To: 12.4}, "does not rise"},
		{-45, garden.SunSeen{Month: time.June, From: 4, To: 9}, "it rises at 07:"}, {0, garden.SunSeen{Month: time.March, From: 3, To: 9}, "it rises at 05:"},
	} {
		ps := garden.Bed{Observed: []garden.SunSeen{c.seen}}.SeenAt(garden.Site{Latitude: c.latitude})
		if (ps.Err() != nil) != (c.says != "") || c.says != "" && !strings.Contains(ps.Err().Error(), c.says) {
			t.Errorf("at %v°, %+v: %v", c.latitude, c.seen, ps.Err())
		}
	}
}

func TestDaysOfTheYear(t *testing.T) {
	for text, want := range map[string]garden.DayOfYear{"04-25": {4, 25}, "25 April": {4, 25}, "April 25": {4, 25}, "Nov. 1": {11, 1}, "2-29": {2, 29}} {
		if got, err := garden.ParseDayOfYear(text); err != nil || got != want {
			t.Errorf("%s: %v, %v", text, got, err)
		}
	}
	if got := (garden.DayOfYear{Month: 2, Day: 29}).In(2027); got != civil.Of(2027, 2, 28) {
		t.Errorf("29 February in 2027 is %s", got)
	}
}

// A tree in leaf from 25 April to 1 November: what comes through by month, from the days of each; the south's over the New Year.
func TestThrough(t *testing.T) {
	s := garden.Shade{Kind: garden.Tree, LeafOn: garden.DayOfYear{Month: 4, Day: 25}, LeafOff: garden.DayOfYear{Month: 11, Day: 1}, Bare: ofNumber(50), Gaps: ofNumber(5)}
	for m, want := range map[time.Month]float64{time.January: 0.5, time.April: (6*0.05 + 24*0.5) / 30, time.July: 0.05, time.October: 0.05, time.November: 0.5} {
		if got := s.Through(m); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %.4f, want %.4f", m, got, want)
		}
	}
	s.LeafOn, s.LeafOff = garden.DayOfYear{Month: 10, Day: 1}, garden.DayOfYear{Month: 5, Day: 1}
	if s.Through(time.January) != 0.05 || s.Through(time.July) != 0.5 {
		t.Error("the south's summer")
	}
	for _, one := range []struct {
		shade garden.Shade
		want  float64
	}{{garden.Shade{Kind: garden.Wall}, 0}, {garden.Shade{Kind: garden.Hedge}, 0.03}, {garden.Shade{Kind: garden.Fence, Gaps: ofNumber(20)}, 0.2}} {
		if got := one.shade.Through(time.January); got != one.want {
			t.Errorf("a %s lets %v through, want %v", one.shade.Kind, got, one.want)
		}
	}
}
