package growth

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/weather"
)

// NewClimate refuses what it cannot use in a sentence that names the place.
func TestNewClimateRefuses(t *testing.T) {
	season := civil.SeasonOf(2027, 42)
	good := coldWinters.scenarios(season, 1, 1)[0]
	late, short, swapped := good, good, good
	late.Start = season.Start.Add(-Lead + 1)
	short.Min = good.Min[:len(good.Min)-1]
	swapped.Min = append([]float32(nil), good.Min...)
	swapped.Min[70] = good.Max[70] + 1
	for _, row := range []struct {
		years []weather.Scenario
		says  string
	}{
		{nil, "no weather years"},
		{[]weather.Scenario{late}, "must start by 2026-11-02"},
		{[]weather.Scenario{short}, "it needs"},
		{[]weather.Scenario{swapped}, "2027-01-11"},
	} {
		if _, err := NewClimate(season, 42, row.years); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("got %v, want a sentence with %q", err, row.says)
		}
	}
	for _, latitude := range []float64{-91, 90.1} {
		if _, err := NewClimate(season, latitude, []weather.Scenario{good}); err == nil {
			t.Errorf("latitude %v was taken", latitude)
		}
	}
	early := good // a scenario that starts before the lead is cut to it
	early.Start = good.Start.Add(-10)
	early.Min = append(make([]float32, 10), good.Min...)
	early.Max = append(make([]float32, 10), good.Max...)
	a, err := NewClimate(season, 42, []weather.Scenario{early})
	if err != nil {
		t.Fatal(err)
	}
	if a.low[0] != good.Min[0] {
		t.Errorf("the first day is %v, want %v", a.low[0], good.Min[0])
	}
}

// A season that crosses New Year, one of 366 days, and a start on their last day, all have outcomes whose dates
// go forward.
func TestSeasonsOfAllShapes(t *testing.T) {
	for _, kind := range []climateKind{coldWinters, {mean: 14, amplitude: 8, daily: 10, noise: 2, latitude: -35}} {
		for _, year := range []int{2027, 2028} {
			season := civil.SeasonOf(year, kind.latitude)
			c, err := NewClimate(season, kind.latitude, kind.scenarios(season, 3, 2))
			if err != nil {
				t.Fatal(err)
			}
			for _, table := range Tabulate(c, testOptions()) {
				for d := season.Start; d <= season.End(); d++ {
					for i := range c.Years {
						out := table.Outcome(d, i)
						if out.Fate == Ready && (out.Emerge < d || out.First < out.Emerge || out.Last < out.First || out.Yield < 0 || out.Yield > 1) {
							t.Fatalf("%s from %v: %+v", table.Option.Crop.ID, d, out)
						}
					}
				}
			}
			if year == 2028 && kind.latitude > 0 {
				leap := Tabulate(c, testOptions()[:1])[0].Summary(civil.Of(2028, 2, 29))
				if leap.Years != 3 || leap.Start.Day() != 29 {
					t.Errorf("29 February: %+v", leap)
				}
			}
		}
	}
}

// What is not there is OutOfTime, zero or empty, never a panic.
func TestOutsideTheTable(t *testing.T) {
	c := coldWinters.climate(2, 1)
	table := Tabulate(c, testOptions()[:1])[0]
	for _, d := range []civil.Date{c.Season.Start - 1, c.Season.End() + 1, 0} {
		if out := table.Outcome(d, 0); out.Fate != OutOfTime {
			t.Errorf("outcome from %v: %+v", d, out)
		}
		if s := table.Summary(d); s.Success != 0 || s.Years != 2 {
			t.Errorf("summary from %v: %+v", d, s)
		}
		if a, b, e := table.Canopy(d, d+50); a != 0 || b != 0 || e != 0 {
			t.Errorf("canopy from %v: %v %v %v", d, a, b, e)
		}
		c.SoilAt(0.05, d)
		c.AirOn(d)
	}
	if table.Outcome(c.Season.Start, -1).Fate != OutOfTime || table.Outcome(c.Season.Start, 2).Fate != OutOfTime {
		t.Error("a weather year that is not there has an outcome")
	}
	if len(Tabulate(c, nil)) != 0 {
		t.Error("no options make tables")
	}
	impossible := lettuce()
	impossible.Methods[0].Reference = -20
	if s := Tabulate(c, []Option{{Crop: impossible}})[0].Summary(c.Season.Start.Add(150)); s.Success != 0 {
		t.Errorf("a crop without development at its reference: %+v", s)
	}
}

// Frost on the very day a tender plant goes in, or comes up, kills it; a degree less does not.
func TestFrostOnDayOne(t *testing.T) {
	c := bean()
	c.Methods = []crop.Method{{Way: crop.SetOut, Days: crop.Range{Low: 30, High: 30}, Reference: 21, Depth: 0.05}}
	climate := unbroken(15, 27)
	day := climate.Season.Start.Add(40)
	i, _ := climate.index(day)
	for _, row := range []struct {
		low  float32
		fate Fate
	}{{-0.5, Frozen}, {0.5, Ready}} {
		climate.low[i] = row.low
		if out := Tabulate(climate, []Option{{Crop: c}})[0].Outcome(day, 0); out.Fate != row.fate {
			t.Errorf("a night of %g °C on the day it is set out: fate %d, want %d", row.low, out.Fate, row.fate)
		}
	}
}
