package season_test

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
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
