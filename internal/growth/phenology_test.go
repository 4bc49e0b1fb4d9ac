package growth

import (
	"encoding/json"
	"math"
	"os"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/weather"
)

// plantingCase is one planting of the record with its weather.
type plantingCase struct {
	ID, Crop, Cultivar string
	Site               struct{ Lat float64 }
	Planting           struct {
		Date civil.Date
		Kind string
	}
	Observed []struct {
		Event string
		Days  int `json:"days_from_planting"`
	}
	Daily struct {
		Low  []float32 `json:"tmin_c"`
		High []float32 `json:"tmax_c"`
	} `json:"daily_from_planting"`
}

// climate lays the case's weather over a season that starts with it; before and after it stand the means
// of its first and last fortnights, as nothing else is recorded.
func (p plantingCase) climate(t *testing.T) *Climate {
	t.Helper()
	season := civil.Season{Start: p.Planting.Date, Days: 365}
	s := weather.Scenario{Year: p.Planting.Date.Year(), Start: season.Start.Add(-Lead)}
	low, high := p.Daily.Low, p.Daily.High
	mean := func(v []float32) (m float32) {
		for _, x := range v {
			m += x / float32(len(v))
		}
		return m
	}
	for i := -Lead; i < season.Days+Tail; i++ {
		switch {
		case i < 0:
			s.Min, s.Max = append(s.Min, mean(low[:14])), append(s.Max, mean(high[:14]))
		case i < len(low):
			s.Min, s.Max = append(s.Min, low[i]), append(s.Max, high[i])
		default:
			s.Min, s.Max = append(s.Min, mean(low[len(low)-14:])), append(s.Max, mean(high[len(high)-14:]))
		}
	}
	c, err := NewClimate(season, p.Site.Lat, []weather.Scenario{s})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Observed planting and harvest dates with their weather (DSSAT-DATA: dates are facts; the weather is not
// shipped). Tolerances: sweet corn and snap bean 6 days, cabbage 12, each as a mean over its plantings.
func TestPlantingToHarvestRecords(t *testing.T) {
	text, err := os.ReadFile(reference(t, "examples", "10_phenology.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []plantingCase }
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	kinds := map[string]struct {
		id        string
		way       crop.Way
		tolerance float64
	}{
		"snap bean":  {"bean-bush", crop.Sow, 6},
		"sweet corn": {"sweet-corn-early", crop.Sow, 6},
		"cabbage":    {"cabbage-early", crop.SetOut, 12},
		// A storage cabbage stands ripe until the cold: the record is later than the first possible harvest.
		"cabbage, late": {"cabbage-late", crop.SetOut, math.Inf(1)},
		// Of tomatoes (field sorts, bushes) the last harvest is recorded: the first must come before it.
		"tomato": {"tomato-early", crop.SetOut, math.Inf(1)},
	}
	sum, worst, count := map[string]float64{}, map[string]float64{}, map[string]int{}
	for _, p := range file.Cases {
		kind, ok := kinds[p.Crop+late(p.Cultivar)]
		if !ok {
			continue
		}
		k, ok := crop.Default().Find(kind.id)
		if !ok {
			t.Fatalf("no crop %s", kind.id)
		}
		for m := range k.Methods {
			if k.Methods[m].Way != kind.way {
				continue
			}
			c := p.climate(t)
			days := daysToHarvest(c, Option{Crop: k, Method: m})
			want := p.Observed[0].Days
			for _, o := range p.Observed {
				if o.Event == "fresh-market pod harvest" {
					want = o.Days
				}
			}
			t.Logf("%s %-34s %s observed %3d days, ours %3d (%+d)", p.ID, p.Crop, p.Planting.Date, want, days, days-want)
			if p.Crop == "tomato" && days > want {
				t.Errorf("%s: our first tomatoes come after %d days, the last of the record after %d", p.ID, days, want)
			}
			off := math.Abs(float64(days - want))
			sum[kind.id] += off
			worst[kind.id] = max(worst[kind.id], off)
			count[kind.id]++
			break
		}
	}
	for _, kind := range kinds {
		if count[kind.id] == 0 {
			t.Errorf("%s: no planting of the record was run", kind.id)
			continue
		}
		if mean := sum[kind.id] / float64(count[kind.id]); mean > kind.tolerance {
			t.Errorf("%s: mean error %.1f days, more than %.0f", kind.id, mean, kind.tolerance)
		}
	}
	for id := range sum {
		t.Logf("%s: mean error %.1f days, worst %.0f, over %d plantings", id, sum[id]/float64(count[id]), worst[id], count[id])
	}
}

// daysToHarvest is the days from the season's first day to first harvest by temperature and light alone.
func daysToHarvest(c *Climate, o Option) int {
	p := prepare(c)
	v := p.of(o)
	needs, _ := Requirement(o)
	up := Lead
	if v.emerging != nil {
		up = seek(v.emerging[:c.days+1], up, v.emerging[Lead]+1)
	}
	return seek(v.growing[:c.days+1], up, v.growing[up]+needs) - Lead
}

func late(cultivar string) string {
	if strings.Contains(cultivar, "late") {
		return ", late"
	}
	return ""
}
