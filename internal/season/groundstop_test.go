package season_test

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// TestNoFoodInStoppedGround: where a test of a bed shows more lead than gardens of food may hold (200 mg/kg, EPA 2024 screening level of
// residential ground), or salts that stop the work, the plan sows nothing there, says so of the bed and of the wants.
func TestNoFoodInStoppedGround(t *testing.T) {
	lead, salts := 1500.0, 12.0
	for name, test := range map[string]garden.SoilTest{
		"lead":  {ID: 1, Date: civil.Of(2026, 11, 1), Beds: []int64{1}, Lead: &lead},
		"salts": {ID: 1, Date: civil.Of(2026, 11, 1), Beds: []int64{1}, Salts: &salts, SaltsBy: garden.SaturatedPaste},
	} {
		r, text := planOn(t, []garden.SoilTest{test}, nil)
		var here, elsewhere int
		for _, p := range r.Plan.Plantings {
			if p.BedID == 1 {
				here++
			} else {
				elsewhere++
			}
		}
		if here != 0 || elsewhere == 0 {
			t.Errorf("%s: %d plantings in the stopped bed, %d elsewhere", name, here, elsewhere)
		}
		if !strings.Contains(text, "no food is grown") {
			t.Errorf("%s: the plan does not say why the bed is empty", name)
		}
	}
}

// TestWhatDoesHarmIsNotAskedFor: a bed whose book keeps a choice that would do harm there is given something else, and told why: swine manure
// on food ground; composted poultry manure and mushroom compost on ground of 3 dS/m; composted cattle manure where phosphorus is very high.
func TestWhatDoesHarmIsNotAskedFor(t *testing.T) {
	salts := 3.0
	for _, row := range []struct {
		chosen, given, rule string
		test                garden.SoilTest
	}{
		{"manure-swine-fresh", "compost", "not for food ground", garden.SoilTest{}},
		{"manure-poultry-composted", "compost", "salty ground", garden.SoilTest{Salts: &salts, SaltsBy: garden.SaturatedPaste}},
		{"compost-mushroom", "compost", "salty ground", garden.SoilTest{Salts: &salts, SaltsBy: garden.SaturatedPaste}},
		{"manure-cattle-composted", "leaf-mould", "phosphorus very high", garden.SoilTest{Elements: []garden.Reading{{Element: garden.Phosphorus, Value: 300, Unit: garden.PPM, Extractor: garden.Mehlich3}}}},
	} {
		g := soilGarden(t)
		ph := 6.4
		row.test.ID, row.test.Date, row.test.PH = 9, civil.Of(2026, 11, 1), &ph
		g.Tests, g.Treatments, g.Site.Soil.Organic = []garden.SoilTest{row.test}, nil, row.chosen
		o := groundWithout(t, g, civil.Of(2027, 4, 2)).Beds[0].Organic
		if o == nil || o.Material != row.given || len(o.Stead) != 1 || len(o.Reasons) == 0 || o.Reasons[0].Rule != row.rule {
			t.Errorf("%s: %+v", row.chosen, o)
		}
	}
}

// groundWithout reads the soil book of a garden that has no plan.
func groundWithout(t *testing.T, g garden.Garden, day civil.Date) *season.Ground {
	t.Helper()
	out, err := season.GroundOf(season.GroundInput{Season: civil.SeasonOf(2027, 44), Garden: g, Crops: crop.Default(), Day: day})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
