package season_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/light"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// two beds, one behind the other, in full sun as they are told.
const lit = `[site]
name = "Two beds (invented)"
latitude = 44.5
longitude = -73.2
invented = true
width = "10 m"
depth = "10 m"
[[bed]]
name = "South"
x = "5 m"
y = "4 m"
length = "6 m"
width = "1.2 m"
bearing = 90
sun_hours = 8
[[bed]]
name = "North"
x = "5 m"
y = "5.8 m"
length = "6 m"
width = "1.2 m"
bearing = 90
sun_hours = 8
[[want]]
crop = "carrot"
amount = 8
unit = "kg"
[[want]]
crop = "sweet corn"
amount = 5
unit = "kg"
`

func planInLight(t *testing.T, change func(*garden.Garden)) (*season.Result, string) {
	t.Helper()
	g, err := garden.ReadDescription("lit.toml", strings.NewReader(lit), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	change(&g)
	r, err := season.Compute(season.Input{Season: civil.SeasonOf(2027, 44), Garden: g, Record: measured(t, "new_york_2012-2015.csv"), Crops: crop.Default(), Settings: plan.DefaultSettings()})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(r.Plan)
	if err != nil {
		t.Fatal(err)
	}
	return r, string(text)
}

// TestTypedHoursStay: with nothing told of shade, lie or sun seen, the plan goes by the hours typed in, and a north of its own or an aspect
// without a slope change nothing in it.
func TestTypedHoursStay(t *testing.T) {
	r, typed := planInLight(t, func(*garden.Garden) {})
	if season.LightKnown(r.Garden) {
		t.Error("light is taken to be known where nothing is told")
	}
	if _, turned := planInLight(t, func(g *garden.Garden) { g.Site.Lie.North, g.Site.Lie.Aspect = 20, 90 }); turned != typed {
		t.Error("a level plot turned round has another plan")
	}
	for _, p := range r.Plan.Plantings {
		if strings.Contains(p.Reasons[0].Says, "while it grows") || !strings.Contains(p.Reasons[0].Says, "8 h of direct sun") {
			t.Errorf("the reason of %s does not go by the hours typed in: %s", p.CropID, p.Reasons[0].Says)
		}
	}
}

// TestSunSeenRulesThePlan: four hours seen in every month of the season keep corn, whose least is more, out of both beds, and say so.
func TestSunSeenRulesThePlan(t *testing.T) {
	r, _ := planInLight(t, func(g *garden.Garden) {
		for i := range g.Beds {
			for m := time.March; m <= time.October; m++ {
				g.Beds[i].Observed = append(g.Beds[i].Observed, garden.SunSeen{Month: m, From: 10, To: 14})
			}
		}
	})
	for _, p := range r.Plan.Plantings {
		if p.CropID != "carrot" && strings.HasPrefix(p.CropID, "sweet-corn") {
			t.Errorf("%s stands in four hours of sun", p.CropID)
		}
		if !strings.Contains(p.Reasons[0].Says, "seen") {
			t.Errorf("the reason does not tell that the sun was seen: %s", p.Reasons[0].Says)
		}
	}
	corn := r.Plan.Supply[1]
	if len(corn.Short) == 0 || !strings.Contains(corn.Short[0].Says, "too little light") {
		t.Errorf("what is short does not say light: %+v", corn.Short)
	}
}

// TestPartShadeIsToldAlike: where the page of light says that leaf crops do with 70 % of their yield, the plan grows them and counts
// on 70 %, in the same words; where it says that no vegetable will do, the plan grows none.
func TestPartShadeIsToldAlike(t *testing.T) {
	for hours, grows := range map[quantity.Hour]bool{3.5: true, 2.5: false} {
		r, _ := planInLight(t, func(g *garden.Garden) {
			for i := range g.Beds {
				g.Beds[i].Sun = hours
			}
			g.Wants = []garden.Want{{ID: 1, Crop: "lettuce, romaine", Basis: garden.Total, Amount: 10, Unit: "head", Weight: 3}, {ID: 2, Crop: "carrot", Basis: garden.Total, Amount: 5, Unit: "kg", Weight: 3}}
		})
		verdict := r.LightYear().GoodFor(r.Garden.Beds[0])
		if grows != (verdict.Use == light.Leaf) || grows != (len(r.Plan.Plantings) > 0) {
			t.Errorf("%v h are said to be good for %s, and the plan has %d plantings", hours, verdict.Use, len(r.Plan.Plantings))
		}
		for _, p := range r.Plan.Plantings {
			const words = "about 70 % of the yield is counted on"
			if p.CropID != "lettuce-romaine" || !strings.Contains(p.Reasons[0].Says, words) || !strings.Contains(verdict.Says, words) {
				t.Errorf("%s: %q, and the verdict %q", p.CropID, p.Reasons[0].Says, verdict.Says)
			}
		}
	}
}

// TestASpringBeforeTheLeavesIsToldAlike: a bed that has five hours in spring and hardly any once the tree above is in leaf is told
// as good for leaf crops in spring; the plan grows lettuce there then, and no carrots.
func TestASpringBeforeTheLeavesIsToldAlike(t *testing.T) {
	r, _ := planInLight(t, func(g *garden.Garden) {
		for i := range g.Beds {
			for m := time.January; m <= time.December; m++ {
				to := quantity.Hour(11)
				if m == time.April || m == time.May {
					to = 15
				}
				g.Beds[i].Observed = append(g.Beds[i].Observed, garden.SunSeen{Month: m, From: 10, To: to})
			}
		}
		g.Wants = []garden.Want{{ID: 1, Crop: "lettuce, romaine", Basis: garden.Total, Amount: 10, Unit: "head", Weight: 3}, {ID: 2, Crop: "carrot", Basis: garden.Total, Amount: 5, Unit: "kg", Weight: 3}}
	})
	v := r.LightYear().GoodFor(r.Garden.Beds[0])
	if v.Use != light.Nothing || v.Spell == nil || v.Spell.Use != light.Leaf {
		t.Fatalf("it is said to be good for %s, %+v", v.Use, v.Spell)
	}
	if len(r.Plan.Plantings) == 0 {
		t.Error("no lettuce is planned for the spring")
	}
	for _, p := range r.Plan.Plantings {
		if p.CropID != "lettuce-romaine" || p.Start.Month() > time.May {
			t.Errorf("%s is planned from %s", p.CropID, p.Start.Short())
		}
	}
}

// TestAWallTakesYieldAndTime: a high wall close south of a bed leaves it fewer hours, and what grows there less and later.
func TestAWallTakesYieldAndTime(t *testing.T) {
	wall := garden.Shade{ID: 1, Name: "wall", Kind: garden.Wall, X: 5, Y: 2.6, Length: 14, Bearing: 90, Height: 3}
	r, _ := planInLight(t, func(g *garden.Garden) { g.Shades = []garden.Shade{wall} })
	south, north := season.SunOf(r.Garden, r.Record, r.Garden.Beds[0]), season.SunOf(r.Garden, r.Record, r.Garden.Beds[1])
	if south >= north || south > 9 {
		t.Errorf("behind the wall %.1f h, further off %.1f h", float64(south), float64(north))
	}
	if !season.LightKnown(r.Garden) {
		t.Error("light is not taken to be known")
	}
	for _, p := range r.Plan.Plantings {
		if !strings.Contains(p.Reasons[0].Says, "(reckoned)") {
			t.Errorf("the reason does not tell that the sun is reckoned: %s", p.Reasons[0].Says)
		}
	}
}

// TestLightIsReckonedAnewWhenTheGroundChanges: the year kept is that of the same ground only.
func TestLightIsReckonedAnewWhenTheGroundChanges(t *testing.T) {
	g, err := garden.ReadDescription("lit.toml", strings.NewReader(lit), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	open := season.LightYearOf(g, nil).Bed(g.Beds[0])[5].Hours
	g.Shades = []garden.Shade{{ID: 1, Name: "wall", Kind: garden.Wall, X: 5, Y: 2.6, Length: 14, Bearing: 90, Height: 5}}
	walled := season.LightYearOf(g, nil).Bed(g.Beds[0])[5].Hours
	g.Shades[0].Height = 1
	low := season.LightYearOf(g, nil).Bed(g.Beds[0])[5].Hours
	g.Shades = nil
	if again := season.LightYearOf(g, nil).Bed(g.Beds[0])[5].Hours; again != open || !(walled < low) {
		t.Errorf("open %.1f h, behind 5 m %.1f h, behind 1 m %.1f h, open again %.1f h", float64(open), float64(walled), float64(low), float64(again))
	}
}

// TestLightIsKeptForARecordReadAnew: the same days in another record are the same sunshine, and nothing is reckoned anew; other
// radiation is other energy.
func TestLightIsKeptForARecordReadAnew(t *testing.T) {
	g, err := garden.ReadDescription("lit.toml", strings.NewReader(lit), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	first := season.LightYearOf(g, measured(t, "new_york_2012-2015.csv"))
	again := season.LightYearOf(g, measured(t, "new_york_2012-2015.csv"))
	if &first.Hours[5][0] != &again.Hours[5][0] {
		t.Error("the light is reckoned anew for a record read again")
	}
	if open := season.LightYearOf(g, nil); open.Bed(g.Beds[0])[5].Energy == first.Bed(g.Beds[0])[5].Energy {
		t.Error("the energy under a clear sky is that of the record")
	}
}
