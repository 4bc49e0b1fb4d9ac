package season_test

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// warming is an invented measured record: generated weather of a place with so many degrees added each ten years.
func warming(t *testing.T, id string, years int, perDecade float64) *season.Result {
	t.Helper()
	climate, err := weather.ClimateByID(id)
	if err != nil {
		t.Fatal(err)
	}
	record := weather.Generate(climate, 1991, years, 7)
	record.Origin = weather.Measured
	for i := range record.Days {
		d := &record.Days[i]
		add := quantity.Celsius(perDecade / 10 * float64(d.Date.Since(civil.Of(1991, 1, 1))) / 365.25)
		d.Min, d.Max = d.Min+add, d.Max+add
	}
	r, err := season.Prepare(season.Input{
		Season: civil.SeasonOf(2027, climate.Latitude), Garden: garden.Garden{Site: garden.Site{Latitude: climate.Latitude}},
		Record: record, Crops: crop.Default(),
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What was put in is found: a degree and a half each ten years warms the year and every quarter, lengthens the
// season, and the interval holds the truth; the frosts move the way they must.
func TestMovedFindsWhatWasPutIn(t *testing.T) {
	list, why := warming(t, "ithaca", 30, 1.5).Moved()
	if why != "" || len(list) != 8 {
		t.Fatalf("%d figures; %s", len(list), why)
	}
	for _, m := range list {
		if m.Untold != "" {
			t.Errorf("%s: %s", m.Name, m.Untold)
			continue
		}
		if m.Of == season.OfTemperature && (10*m.Trend.Low > 1.5 || 10*m.Trend.High < 1.5 || !m.Trend.Plain()) {
			t.Errorf("%s: %v to %v each ten years; 1.5 was put in", m.Name, 10*m.Trend.Low, 10*m.Trend.High)
		}
	}
	for i, sign := range []float64{-1, 1, 1} {
		if math.Signbit(list[i].Trend.Slope) != math.Signbit(sign) {
			t.Errorf("%s moves by %v a year", list[i].Name, list[i].Trend.Slope)
		}
	}
	if says := list[3].Says(quantity.Metric); !strings.Contains(says, "warmer each ten years (between") || !strings.Contains(says, "less than 1 %") {
		t.Errorf("the year says %q", says)
	}
	if says := list[3].Says(quantity.US); !strings.Contains(says, "°F warmer") {
		t.Errorf("in US units the year says %q", says)
	}
}

// Where nothing was put in, few figures look as if they moved, and generated or few years say nothing at all.
func TestMovedSaysNothingWhereNothingCanBeSaid(t *testing.T) {
	list, _ := warming(t, "ithaca", 30, 0).Moved()
	plain := 0
	for _, m := range list {
		if m.Trend.Plain() {
			plain++
		} else if says := m.Says(quantity.Metric); !strings.Contains(says, "chance") {
			t.Errorf("%s says %q", m.Name, says)
		}
	}
	if plain > 2 {
		t.Errorf("%d of %d figures of an unmoving climate look moved", plain, len(list))
	}
	if list, why := builtIn(t, "ithaca", 2027).Moved(); len(list) != 0 || !strings.Contains(why, "not measured") {
		t.Errorf("generated years: %d figures, %q", len(list), why)
	}
	if list, why := warming(t, "ithaca", 8, 1).Moved(); len(list) != 0 || !strings.Contains(why, "too few") {
		t.Errorf("eight years: %d figures, %q", len(list), why)
	}
}

// Where it hardly ever freezes the frosts have no trend, and the seasons have the names of their hemisphere.
func TestMovedWhereItHardlyFreezes(t *testing.T) {
	list, _ := warming(t, "gatton", 30, 0).Moved()
	names := map[string]bool{}
	for _, m := range list {
		names[m.Name] = true
	}
	if !names["Summer, December to February"] || !names["Winter, June to August"] {
		t.Errorf("the seasons of the south: %v", names)
	}
	list, _ = warming(t, "nairobi", 30, 0).Moved()
	if list[0].Untold == "" || list[1].Untold == "" || list[2].Untold == "" || list[3].Untold != "" {
		t.Errorf("Nairobi: %q, %q, %q, %q", list[0].Untold, list[1].Untold, list[2].Untold, list[3].Untold)
	}
}

// Every sentence of the climate, in places that strain it.
func TestClimateSentences(t *testing.T) {
	for _, id := range []string{"ithaca", "wagga-wagga", "nairobi", "fairbanks", "camborne"} {
		r := builtIn(t, id, 2027)
		says := append([]string{season.LengthSays(r.Frost(0)), r.WorkableSays(), r.DayLengthSays()}, r.QualitySays()...)
		for _, s := range says {
			if !strings.HasSuffix(s, ".") || strings.Contains(s, "%!") || strings.Contains(s, "1970") {
				t.Errorf("%s: %q", id, s)
			}
		}
	}
	if says := builtIn(t, "nairobi", 2027).WorkableSays(); !strings.Contains(says, "in every weather year") {
		t.Errorf("Nairobi: %s", says)
	}
	if says := builtIn(t, "nairobi", 2027).DayLengthSays(); !strings.Contains(says, "No day is so short") {
		t.Errorf("Nairobi: %s", says)
	}
	if says := season.LengthSays(builtIn(t, "nairobi", 2027).Frost(0)); !strings.Contains(says, "never freezes") {
		t.Errorf("Nairobi: %s", says)
	}
}
