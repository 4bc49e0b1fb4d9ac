package season_test

import (
	"encoding/json"
	"testing"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// TestLightSince: a plan is of another light as soon as shade, sun seen, hours told or the lie change it for a bed, only for that
// bed, and no more once what was changed is taken back. It is so after the plan was written down and read again.
func TestLightSince(t *testing.T) {
	r, text := planInLight(t, func(*garden.Garden) {})
	var kept plan.Plan
	if err := json.Unmarshal([]byte(text), &kept); err != nil {
		t.Fatal(err)
	}
	if changed := r.LightSince(); len(changed) != 0 {
		t.Errorf("a plan just made is of another light for %d beds", len(changed))
	}
	since := func(change func(g *garden.Garden)) (names string) {
		g := r.Garden
		g.Beds = append([]garden.Bed(nil), g.Beds...)
		change(&g)
		for _, b := range season.LightSince(g, r.Record, &kept) {
			names += b.Name + " "
		}
		return names
	}
	for _, c := range []struct {
		what   string
		change func(g *garden.Garden)
		beds   string
	}{
		{"nothing", func(*garden.Garden) {}, ""},
		{"a name, which is no light", func(g *garden.Garden) { g.Beds[0].Note = "moved the can" }, ""},
		{"hours told", func(g *garden.Garden) { g.Beds[0].Sun = 5 }, "South "},
		{"sun seen", func(g *garden.Garden) { g.Beds[1].Observed = []garden.SunSeen{{Month: time.June, From: 10, To: 14}} }, "North "},
		{"a slope", func(g *garden.Garden) { g.Site.Lie = garden.Lie{Slope: 10, Aspect: 0} }, "South North "},
		{"a wall", func(g *garden.Garden) {
			g.Shades = []garden.Shade{{ID: 1, Name: "wall", Kind: garden.Wall, X: 5, Y: 2.6, Length: 14, Bearing: 90, Height: 3}}
		}, "South North "},
		{"a bed the plan knows nothing of", func(g *garden.Garden) {
			g.Beds = append(g.Beds, garden.Bed{ID: 9, Name: "New", Length: 2, Width: 1, Sun: 3})
		}, ""},
		{"a bed less", func(g *garden.Garden) { g.Beds = g.Beds[:1] }, ""},
	} {
		if got := since(c.change); got != c.beds {
			t.Errorf("%s: changed are %q, wanted %q", c.what, got, c.beds)
		}
	}
	for _, c := range []struct {
		latitude float64
		month    int
		by       quantity.Hour
		told     bool
	}{{60, 12, .5, false}, {60, 6, .5, true}, {60, 6, .05, false}, {-60, 6, .5, false}, {-60, 12, .5, true}} { // in the dark of the year nothing grows
		g, was := r.Garden, kept
		g.Site.Latitude = c.latitude
		was.Sun = append([]plan.BedSun(nil), kept.Sun...)
		was.Sun[0].Hours[c.month-1] += c.by
		if told := len(season.LightSince(g, r.Record, &was)) > 0; told != c.told {
			t.Errorf("%v h more in month %d at %v°: told %v", c.by, c.month, c.latitude, told)
		}
	}
	kept.Sun = nil // as plans were kept before
	if got := since(func(g *garden.Garden) { g.Beds[0].Sun = 1 }); got != "" {
		t.Errorf("of a plan that keeps no light it is said that it changed: %s", got)
	}
}
