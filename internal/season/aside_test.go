package season_test

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
)

const ownGround = ground + `
[[variety]]
name = "the neighbour's early pea"
base = "pea-dwarf"
days = 55
[[want]]
crop = "the neighbour's early pea"
amount = 4
weight = 5
`

// A person's own variety goes the whole street: table, plan, jobs and orders.
func TestAnOwnVarietyGoesTheWholeStreet(t *testing.T) {
	r := computeOwn(t)
	const id = "the-neighbours-early-pea"
	planted, jobs, orders := 0, 0, 0
	for _, p := range r.Plan.Plantings {
		if p.CropID == id {
			planted++
		}
	}
	for _, j := range r.Jobs {
		if j.CropID == id && strings.Contains(j.Title, "the neighbour's early pea") {
			jobs++
		}
	}
	for _, o := range r.Orders {
		if o.CropID == id {
			orders++
		}
	}
	if planted == 0 || jobs == 0 || orders == 0 || r.Table(id, 0) == nil || len(r.Aside) != 0 {
		t.Errorf("%d plantings, %d jobs, %d orders, aside %v", planted, jobs, orders, r.Aside)
	}
}

func computeOwn(t *testing.T) *season.Result {
	t.Helper()
	g, err := garden.ReadDescription("own.toml", strings.NewReader(ownGround), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	crops, aside := g.Catalogue(crop.Default())
	settings := plan.DefaultSettings()
	settings.Rounds = 300
	r, err := season.Compute(season.Input{
		Season: civil.SeasonOf(2027, g.Site.Latitude), Garden: g, Record: measured(t, "new_york_2012-2015.csv"), Crops: crops, Aside: aside, Settings: settings,
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// When an own crop can no longer be read, its want and its plantings are left out with a sentence, and the rest
// of the kept plan stands.
func TestWhatTheCatalogueLacksIsLeftOut(t *testing.T) {
	first := computeOwn(t)
	g := first.Garden
	g.Own.Varieties[0].Base = "a-crop-that-is-gone"
	standing := garden.Planting{Key: "old", BedID: 1, CropID: "the-neighbours-early-pea", Start: civil.Of(2026, 5, 1), Clear: civil.Of(2028, 5, 1), Role: garden.Alone, Status: garden.InGround}
	other := standing
	other.Key, other.CropID, other.Method = "other", "carrot", 7
	g.Standing = []garden.Planting{standing, other}
	crops, aside := g.Catalogue(crop.Default())
	in := season.Input{Season: first.Season, Garden: g, Record: first.Record, Crops: crops, Aside: aside, Settings: first.Plan.Settings, Plan: first.Plan}
	r, err := season.Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	says := strings.Join(r.Aside, "\n")
	for _, want := range []string{
		`The want for "the neighbour's early pea" is left out: your own variety "the neighbour's early pea" is set aside: base: the catalogue has no crop "a-crop-that-is-gone"`,
		`The planting old of "the-neighbours-early-pea" is left out, and its ground counts as free: your own variety`,
		"The planting other is left out, and its ground counts as free: carrot",
	} {
		if !strings.Contains(says, want) {
			t.Errorf("nobody says %s\n%s", want, says)
		}
	}
	left := 0
	for _, p := range first.Plan.Plantings {
		if p.CropID != "the-neighbours-early-pea" {
			left++
		}
	}
	if len(r.Plan.Plantings) != left || left == 0 || len(first.Plan.Plantings) == left {
		t.Errorf("%d plantings are left of %d, want %d", len(r.Plan.Plantings), len(first.Plan.Plantings), left)
	}
	in.Plan, in.Before = nil, &season.Before{Kept: first.Plan, Last: first.Plan, Day: civil.Of(2027, 6, 1)}
	in.Settings.Rounds = 100
	if again, err := season.Compute(in); err != nil || len(again.Aside) == 0 {
		t.Errorf("planning anew: %v", err)
	}
}
