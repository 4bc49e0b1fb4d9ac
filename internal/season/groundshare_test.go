package season_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// planOn plans the two beds with tests and treatments.
func planOn(t *testing.T, tests []garden.SoilTest, treatments []garden.Treatment) (*season.Result, string) {
	t.Helper()
	g, err := garden.ReadDescription("ground.toml", strings.NewReader(ground), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	for i := range g.Beds {
		g.Beds[i].ID = int64(i + 1)
	}
	g.Tests, g.Treatments = tests, treatments
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

func phTest(ph float64) []garden.SoilTest {
	return []garden.SoilTest{{ID: 1, Date: civil.Of(2026, 11, 1), PH: &ph}}
}

// TestPHInRange: a pH inside what every crop wants changes nothing, and neither does a test without a pH.
func TestPHInRange(t *testing.T) {
	_, without := planOn(t, nil, nil)
	if _, in := planOn(t, phTest(6.4), nil); in != without {
		t.Error("a pH of 6.4 changed the plan")
	}
	organic := 3.0
	if _, no := planOn(t, []garden.SoilTest{{ID: 1, Date: civil.Of(2026, 11, 1), Organic: &organic}}, nil); no != without {
		t.Error("a test without a pH changed the plan")
	}
	if _, late := planOn(t, []garden.SoilTest{{ID: 1, Date: civil.Of(2027, 5, 1), PH: phTest(4.5)[0].PH}}, nil); late != without {
		t.Error("a test of a day to come changed the plan")
	}
}

// TestPHLowersYield: in ground too acid for it a crop's expected yield on the same ground is less by the stated factor, and the planting
// says why.
func TestPHLowersYield(t *testing.T) {
	full, _ := planOn(t, nil, nil)
	sour, _ := planOn(t, phTest(4.9), nil)
	perArea := func(r *season.Result) map[string]float64 {
		of := map[string]float64{}
		for _, p := range r.Plan.Plantings {
			if p.Role == garden.Alone {
				of[p.CropID+" "+p.Start.String()] = float64(p.Expect) / float64(p.Plants)
			}
		}
		return of
	}
	before, after := perArea(full), perArea(sour)
	met := 0
	for key, was := range before {
		now, ok := after[key]
		if !ok || was == 0 {
			continue
		}
		id, _, _ := strings.Cut(key, " ")
		c, _ := crop.Default().Find(id)
		want := soil.PHFactor(c.PH, 4.9)
		if math.Abs(now/was-want) > 0.03 {
			t.Errorf("%s bears %.2f of what it did; pH 4.9 leaves %.2f of it", key, now/was, want)
		}
		met++
	}
	if met == 0 {
		t.Error("no planting is in both plans")
	}
	for _, p := range sour.Plan.Plantings {
		if !strings.Contains(reasonsOf(p), "pH of about 4.9") {
			t.Errorf("%s (%s) does not say that its ground is too acid: %s", p.Key, p.CropID, reasonsOf(p))
		}
	}
}

func reasonsOf(p garden.Planting) string {
	var all []string
	for _, r := range p.Reasons {
		all = append(all, r.Says)
	}
	return strings.Join(all, " ")
}

// TestManureHoldsHarvest: no harvest of the plan falls within 120 days (90 for what hangs clear) of raw manure.
//
// Source: NOP-203, 7 CFR 205.203(c)(1)
func TestManureHoldsHarvest(t *testing.T) {
	day := civil.Of(2027, 3, 25)
	put := []garden.Treatment{{EntryID: 1, Date: day, BedID: 1, Material: "manure-horse-fresh", Amount: 20}, {EntryID: 2, Date: day, BedID: 2, Material: "manure-horse-fresh", Amount: 20}}
	r, _ := planOn(t, nil, put)
	if len(r.Plan.Plantings) == 0 {
		t.Fatal("nothing is planted")
	}
	for _, p := range r.Plan.Plantings {
		c, _ := crop.Default().Find(p.CropID)
		least := 120
		if c.Practice.Support != "" || c.Group == crop.Corn {
			least = 90
		}
		if p.First.P10.Since(day) < least {
			t.Errorf("%s is harvested from %s, %d days after raw manure; it must be %d", c.Name(), p.First.P10, p.First.P10.Since(day), least)
		}
	}
	clean, _ := planOn(t, nil, nil)
	early := false
	for _, p := range clean.Plan.Plantings {
		early = early || p.First.P10 < day.Add(120)
	}
	if !early {
		t.Error("without manure nothing is harvested early, so this checks nothing")
	}
}
