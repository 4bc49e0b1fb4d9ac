package soil_test

import (
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// 100 sq ft are 9.29 m² and 1 lb is 0.4536 kg by definition. 10 lb of limestone is the most given at once (PSU-HG), 50 lb a heavy liming
// of a whole profile; 90 lb to a square foot is nobody's. Of manure a third of a metre is a hotbed, of soil half a metre a raised bed.
func TestWhatNoGroundIsGiven(t *testing.T) {
	bed := garden.Bed{Length: 3.048, Width: 3.048}
	const lb = 0.45359237
	for _, row := range []struct {
		name   string
		t      garden.Treatment
		refuse bool
	}{
		{"a dressing of lime", garden.Treatment{Material: "limestone-ground", Amount: 10 * lb}, false},
		{"five of them", garden.Treatment{Material: "limestone-ground", Amount: 50 * lb}, false},
		{"9000 lb of lime", garden.Treatment{Material: "limestone-ground", Amount: 9000 * lb}, true},
		{"9000 lb of a fertiliser", garden.Treatment{Material: "blend-10-10-10", Amount: 9000 * lb}, true},
		{"a hotbed", garden.Treatment{Material: "compost", Volume: 3000}, false},
		{"compost to the eaves", garden.Treatment{Material: "compost", Volume: 30000}, true},
		{"five tonnes of compost", garden.Treatment{Material: "compost", Amount: 5000}, true},
	} {
		if got := soil.TooMuch(row.t, bed).Err() != nil; got != row.refuse {
			t.Errorf("%s: refused %v, want %v", row.name, got, row.refuse)
		}
	}
	if soil.TooMuch(garden.Treatment{Material: "limestone-ground", Amount: 1e6}, garden.Bed{}).Err() != nil {
		t.Error("a bed without a size refuses nothing")
	}
}
