package plan

import (
	"testing"

	"kailyard/internal/garden"
)

// Who asks for more than any garden could bear gets no less than who asks for much.
func TestAskingForTooMuchGivesMuch(t *testing.T) {
	got := map[float64]float64{}
	for _, kilograms := range []float64{15, 60, 500, 5000} {
		tr := newTrial()
		tr.grow(plainCrop("root", "A", 0.05, 0.3, 4), steadyTimes{from: 90, to: 130, days: 80, span: 20, good: 9})
		tr.bed(4, 1.2)
		tr.want("root", garden.Total, kilograms, 3)
		out := mustPlan(t, tr)
		got[kilograms] = float64(out.Supply[0].Expected)
	}
	// 4.8 m² bear 4 kg each in nine years of ten.
	if got[500] < 14 || got[5000] < 14 || got[60] < 14 {
		t.Errorf("kilograms asked and expected: %v", got)
	}
}

// What was lost may be sown again at once in its bed, and throws out none of its kin.
func TestWhatWasLostIsSownAgain(t *testing.T) {
	tr := newTrial()
	tr.grow(plainCrop("leaf", "A", 0.25, 0.3, 2), steadyTimes{from: 90, to: 200, days: 50, span: 20, good: 9})
	tr.bed(3, 1.2)
	tr.want("leaf", garden.Total, 4, 5)
	lost := garden.Planting{Key: "1", BedID: 1, CropID: "leaf", Start: tr.season.Start + 95, Clear: tr.season.Start + 120, Status: garden.Lost, Place: garden.Place{AlongTo: 3, AcrossTo: 1.2}}
	tr.garden.Standing = []garden.Planting{lost}
	tr.from = tr.season.Start + 120
	out := mustPlan(t, tr)
	if len(out.Plantings) < 2 || out.Supply[0].Expected < 3 {
		t.Fatalf("%d plantings, %.1f kg: %s", len(out.Plantings), float64(out.Supply[0].Expected), says(out.Supply[0].Short))
	}
	over := newTrial()
	over.grow(plainCrop("leaf", "A", 0.25, 0.3, 2), steadyTimes{from: 90, to: 200, days: 50, span: 20, good: 9})
	over.bed(3, 1.2)
	over.want("leaf", garden.Total, 4, 5)
	lost.Status = garden.Over
	over.garden.Standing = []garden.Planting{lost}
	over.from = tr.from
	if out := mustPlan(t, over); len(out.Plantings) != 1 {
		t.Errorf("what was grown and cleared is followed by its kin")
	}
}
