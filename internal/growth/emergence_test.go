package growth

import (
	"math"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// Days from sowing at half an inch to emergence at steady soil temperatures of 0, 5, 10, 15, 20, 25, 30, 35 and
// 40 °C; 0 is "no germination" or "not tested". Source: HM54-UCSC.
var harringtonMinges = map[string][9]float64{
	"asparagus":   {0, 0, 53, 24, 15, 10, 12, 20, 28},
	"lima bean":   {0, 0, 0, 31, 18, 7, 7, 0, 0},
	"snap bean":   {0, 0, 0, 16, 11, 8, 6, 6, 0},
	"beet":        {0, 42, 17, 10, 6, 5, 5, 5, 0},
	"cabbage":     {0, 0, 15, 9, 6, 5, 4, 0, 0},
	"carrot":      {0, 51, 17, 10, 7, 6, 6, 9, 0},
	"cauliflower": {0, 0, 20, 10, 6, 5, 5, 0, 0},
	"celery":      {0, 41, 16, 12, 7, 0, 0, 0, 0},
	"sweet corn":  {0, 0, 22, 12, 7, 4, 4, 3, 0},
	"cucumber":    {0, 0, 0, 13, 6, 4, 3, 3, 0},
	"eggplant":    {0, 0, 0, 0, 13, 8, 5, 0, 0},
	"lettuce":     {49, 15, 7, 4, 3, 2, 3, 0, 0},
	"muskmelon":   {0, 0, 0, 0, 8, 4, 3, 0, 0},
	"okra":        {0, 0, 0, 27, 17, 13, 7, 6, 7},
	"onion":       {136, 31, 13, 7, 5, 4, 4, 13, 0},
	"parsley":     {0, 0, 29, 17, 14, 13, 12, 0, 0},
	"parsnip":     {172, 57, 27, 19, 14, 15, 32, 0, 0},
	"pea":         {0, 36, 14, 9, 8, 6, 6, 0, 0},
	"pepper":      {0, 0, 0, 25, 13, 8, 8, 9, 0},
	"radish":      {0, 29, 11, 6, 4, 4, 3, 0, 0},
	"spinach":     {63, 23, 12, 7, 6, 5, 6, 0, 0},
	"tomato":      {0, 0, 43, 14, 8, 6, 6, 9, 0},
	"turnip":      {0, 0, 5, 3, 2, 1, 1, 1, 3},
	"watermelon":  {0, 0, 0, 0, 12, 5, 4, 3, 0},
}

// emergence is a crop's table from its row, bounded a little outside its points.
func emergence(days [9]float64) crop.Emergence {
	var e crop.Emergence
	for k, d := range days {
		if d > 0 {
			e.Points = append(e.Points, crop.EmergencePoint{Soil: quantity.Celsius(5 * k), Days: d})
		}
	}
	e.Least, e.Most = e.Points[0].Soil-2, e.Points[len(e.Points)-1].Soil+2
	return e
}

// A sowing in soil of steady temperature is up after exactly the printed days, for every crop and column.
func TestEmergenceHarringtonMinges(t *testing.T) {
	for k := range 9 {
		c := steady(float64(5 * k))
		for name, row := range harringtonMinges {
			if row[k] == 0 {
				continue
			}
			sums := prepare(c).emerging(emergence(row), 0.013)
			if up := seek(sums, 0, sums[Lead]+1) - Lead; float64(up) != row[k] {
				t.Errorf("%s at %d °C: up after %d days, the table has %g", name, 5*k, up, row[k])
			}
		}
	}
}

// The same through the whole table run, for the crops of the catalogue: at the temperatures of their own tables
// a sowing is up on the day after that many days, unless it is given up before.
func TestCatalogueComesUpByItsTable(t *testing.T) {
	for _, k := range crop.Default().All() {
		for m := range k.Methods {
			if k.Methods[m].Way != crop.Sow {
				continue
			}
			for _, p := range k.Emergence.Points {
				if p.Soil < max(k.Methods[m].SoilAtLeast, k.Emergence.Least, workableSoil) || p.Soil > k.Emergence.Most || k.Emergence.GiveUp > 0 && p.Days > k.Emergence.GiveUp {
					continue
				}
				c := steady(float64(p.Soil))
				start := c.Season.Start.Add(10)
				out := Tabulate(c, []Option{{Crop: k, Method: m}})[0].Outcome(start, 0)
				if days := float64(out.Emerge.Since(start)); days != math.Ceil(p.Days-1e-6) {
					t.Errorf("%s at %.1f °C: up after %g days (%v), its table has %g", k.ID, p.Soil, days, out.Fate, p.Days)
				}
			}
		}
	}
}

// Between two points the rate, not the days, is linear; outside Least and Most nothing comes up.
func TestEmergenceBetweenAndOutsideThePoints(t *testing.T) {
	e := crop.Emergence{Points: []crop.EmergencePoint{{Soil: 10, Days: 20}, {Soil: 20, Days: 5}}, Least: 6, Most: 30}
	for _, row := range []struct{ soil, rate float64 }{
		{5.9, 0}, {6, 0}, {8, 0.025}, {10, 0.05}, {15, 0.125}, {20, 0.2}, {25, 0.1}, {30, 0}, {31, 0},
	} {
		if got := EmergenceRate(e, quantity.Celsius(row.soil)); math.Abs(got-row.rate) > 1e-12 {
			t.Errorf("at %g °C: %g a day, want %g", row.soil, got, row.rate)
		}
	}
	if got := EmergenceRate(crop.Emergence{Most: 40}, 20); got != 0 {
		t.Errorf("without a table: %g", got)
	}
}
