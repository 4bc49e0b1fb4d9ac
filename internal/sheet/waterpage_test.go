package sheet

import (
	"strings"
	"testing"

	"kailyard/internal/quantity"
	"kailyard/internal/work"
)

// A week without a job has its water on paper, part by part.
func TestWaterWithoutJobs(t *testing.T) {
	week := sampleWeek(quantity.Metric, 0)
	week.Water = []work.BedWater{{Bed: "Long drill, kale (3 m²)", Typical: "no watering", Dry: "once a week: 20 mm, 60 L: 6 cans"}, {Bed: "Long drill, leek (2 m²)", Typical: "no watering", Dry: "no watering"}}
	says := wording(layWeek(week))
	for _, want := range []string{"Nothingtodothisweek.", "Waterthisweek", "Longdrill,kale(3m²):nowatering;inadryyearonceaweek:20mm,60L:6cans.", "Longdrill,leek(2m²):nowatering."} {
		if !strings.Contains(says, want) {
			t.Errorf("%q is not on the sheet", want)
		}
	}
}
