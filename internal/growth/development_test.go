package growth

import (
	"math"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

func TestDevelopmentRateIsATrapezoid(t *testing.T) {
	c := crop.Cardinal{Base: 4, OptLow: 18, OptHigh: 26, Max: 34}
	for _, row := range []struct{ t, rate float64 }{{-10, 0}, {4, 0}, {11, 0.5}, {18, 1}, {22, 1}, {26, 1}, {30, 0.5}, {34, 0}, {50, 0}} {
		if got := DevelopmentRate(c, quantity.Celsius(row.t)); math.Abs(got-row.rate) > 1e-12 {
			t.Errorf("at %g °C: %g, want %g", row.t, got, row.rate)
		}
	}
}

// Degree-days over 55 °F with a horizontal cut-off at 90 °F by the single sine (ZALOM-1983, table 7). Our
// eight samples of the same sine must agree within 0.3 °F·d.
func TestDayDevelopmentZalomTable7(t *testing.T) {
	fahrenheit := func(f float64) quantity.Celsius { return quantity.Celsius((f - 32) / 1.8) }
	c := crop.Cardinal{Base: fahrenheit(55), OptLow: fahrenheit(90), OptHigh: 80, Max: 90}
	for _, row := range []struct{ low, high, days float64 }{
		{96, 110, 35}, {91, 105, 35}, {45, 54, 0}, {38, 50, 0}, {60, 80, 15}, {75, 88, 26.5}, {50, 82, 11.85}, {45, 70, 5.31},
		{60, 100, 22.82}, {75, 95, 28.91}, {50, 101, 18.95}, {48, 95, 16.96},
	} {
		if got := 35 * DayDevelopment(c, fahrenheit(row.low), fahrenheit(row.high)); math.Abs(got-row.days) > 0.3 {
			t.Errorf("%g–%g °F: %.2f °F·d, printed %.2f", row.low, row.high, got, row.days)
		}
	}
}

// The ten-hour rule was found in western Oregon, where days are under ten hours from 6 November to 6 February (daylength
// table of the sources at 45° N, by Spencer's declination): there, and on about those days (tolerance a week),
// growth is at a standstill.
func TestTenHourDays(t *testing.T) {
	c := climateKind{mean: 15, latitude: 45}.climate(1, 1)
	var dark []civil.Date
	for d := civil.Of(2027, 9, 1); d < civil.Of(2028, 4, 1); d++ {
		if i, _ := c.index(d); c.light[i] == darkFactor {
			dark = append(dark, d)
		}
	}
	from, to := dark[0].Since(civil.Of(2027, 11, 6)), dark[len(dark)-1].Since(civil.Of(2028, 2, 6))
	t.Logf("standstill from %v to %v", dark[0], dark[len(dark)-1])
	if from < -7 || from > 7 || to < -7 || to > 7 {
		t.Errorf("standstill from %v to %v", dark[0], dark[len(dark)-1])
	}
	for _, row := range []struct{ sky, factor float64 }{{0, 0.15}, {15, 0.15}, {21.5, 0.575}, {28, 1}, {42, 1}} {
		if got := LightFactor(row.sky); math.Abs(got-row.factor) > 1e-12 {
			t.Errorf("%g MJ/m²: %g, want %g", row.sky, got, row.factor)
		}
	}
}

// FAO56, example 8: 32.2 MJ/m²/d at 20° S on 3 September.
func TestSkyLightOfExample8(t *testing.T) {
	if got := SkyLight(-20, civil.Of(2027, 9, 3)); math.Abs(got-32.2) > 0.05 {
		t.Errorf("%.2f MJ/m²/d, printed 32.2", got)
	}
	if SkyLight(80, civil.Of(2027, 12, 21)) != 0 {
		t.Error("there is light in the polar night")
	}
}

// unbroken is a climate of the same day over and over, with days of twelve hours.
func unbroken(low, high float64) *Climate {
	season := civil.SeasonOf(2027, 0)
	s := weather.Scenario{Year: 2000, Start: season.Start.Add(-Lead)}
	for range Lead + season.Days + Tail {
		s.Min, s.Max = append(s.Min, float32(low)), append(s.Max, float32(high))
	}
	c, err := NewClimate(season, 0, []weather.Scenario{s})
	if err != nil {
		panic(err)
	}
	return c
}

// In the weather for which its days hold, every method of the catalogue takes its mid days, to the day. Sown
// crops may be a day or two early, as soil in the field is a degree above the air.
func TestDaysHoldAtTheReference(t *testing.T) {
	for _, k := range crop.Default().All() {
		for m, method := range k.Methods {
			needs, possible := Requirement(Option{Crop: k, Method: m})
			if !possible {
				t.Errorf("%s by %s: no development at its reference of %g °C", k.ID, method.Way, method.Reference)
				continue
			}
			r := float64(method.Reference)
			days := daysToHarvest(unbroken(r-6, r+6), Option{Crop: k, Method: m})
			early := 1.0
			if method.Way != crop.SetOut {
				soil := EmergenceRate(k.Emergence, method.Reference+0.96)
				early = 2 + math.Abs(1/EmergenceRate(k.Emergence, method.Reference)-1/soil)
				if 1/EmergenceRate(k.Emergence, method.Reference) > method.Days.Mid()/2 {
					continue // the half-above-ground rule
				}
			}
			if off := float64(days) - method.Days.Mid(); off < -early || off > early {
				t.Errorf("%s by %s: %d days at %g °C, its figures say %g (needs %.1f)", k.ID, method.Way, days, r, method.Days.Mid(), needs)
			}
		}
	}
}
