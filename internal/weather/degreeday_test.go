package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/quantity"
)

func fahrenheit(f float64) quantity.Celsius { return quantity.Celsius((f - 32) / 1.8) }

// Zalom and others, Degree-Days: The Calculation and Use of Heat Units in Pest Management, University
// of California Leaflet 21373 (1983), Table 7: single sine, lower 55 °F, upper 90 °F, horizontal
// cut-off. Printed to 0.01 °F·day.
func TestDegreeDaysSineAgainstZalomTable7(t *testing.T) {
	for _, c := range []struct{ low, high, want float64 }{
		{96, 110, 35}, {91, 105, 35}, {45, 54, 0}, {38, 50, 0}, {60, 80, 15}, {75, 88, 26.5},
		{50, 82, 11.85}, {45, 70, 5.31}, {60, 100, 22.82}, {75, 95, 28.91}, {50, 101, 18.95}, {48, 95, 16.96},
	} {
		got := float64(DegreeDaysSine(fahrenheit(c.low), fahrenheit(c.high), fahrenheit(55), fahrenheit(90))) * 1.8
		if math.Abs(got-c.want) > 0.01 {
			t.Errorf("%g to %g °F: %.3f, table has %.2f", c.low, c.high, got, c.want)
		}
	}
}

// Further single-sine values: 7 to 14 °C over 12 °C, 0.47 °C·day (TrenchR's test value); a station at
// Esparto, 2020, thresholds 55 and 93.9 °F (degday's worked example).
func TestDegreeDaysSineExamples(t *testing.T) {
	if got := float64(DegreeDaysSine(7, 14, 12, 33)); math.Abs(got-0.47) > 0.006 {
		t.Errorf("7 to 14 °C over 12: %.3f, want 0.47", got)
	}
	for _, c := range []struct{ low, high, want float64 }{{38, 55, 0}, {36, 67, 3.31}, {33, 59, 0.68}, {37, 59, 0.74}, {38, 63, 1.99}, {36, 58, 0.48}} {
		got := float64(DegreeDaysSine(fahrenheit(c.low), fahrenheit(c.high), fahrenheit(55), fahrenheit(93.9))) * 1.8
		if math.Abs(got-c.want) > 0.006 {
			t.Errorf("%g to %g °F: %.3f, want %.2f", c.low, c.high, got, c.want)
		}
	}
}

// McMaster and Wilhelm, Agricultural and Forest Meteorology 87 (1997) 291–300, Table 1, base 0 °C.
func TestDegreeDaysAgainstMcMasterTable1(t *testing.T) {
	for _, c := range []struct{ high, low, method1, method2 quantity.Celsius }{
		{20, 10, 15, 15}, {10, 1, 5.5, 5.5}, {8, -2, 3, 4}, {6, 0, 3, 3}, {10, 5, 7.5, 7.5},
		{5, -5, 0, 2.5}, {-2, -7, 0, 0}, {-5, -10, 0, 0}, {10, -2, 4, 5}, {15, 2, 8.5, 8.5},
	} {
		if got := DegreeDays(c.low, c.high, 0, 0); math.Abs(float64(got)-float64(c.method1)) > 1e-9 {
			t.Errorf("method 1, %g to %g: %g, want %g", c.low, c.high, got, c.method1)
		}
		if got := DegreeDaysRaised(c.low, c.high, 0, 0); math.Abs(float64(got)-float64(c.method2)) > 1e-9 {
			t.Errorf("method 2, %g to %g: %g, want %g", c.low, c.high, got, c.method2)
		}
	}
}

// Worked examples of extension services, °F. Simple average: Iowa State Agron 541 (70/50 over 50: 10).
// With 86 and 50 °F: Iowa State (95/86: 36), Ohio State 2023 (87/63: 24.5), Wisconsin, Waushara County 2018
// (90/65: 25.5, 72/46: 11, 63/42: 6.5; three days 43).
func TestDegreeDaysExtensionExamples(t *testing.T) {
	near := func(got quantity.CelsiusDay, want float64) bool { return math.Abs(float64(got)*1.8-want) < 1e-6 }
	if got := DegreeDays(fahrenheit(50), fahrenheit(70), fahrenheit(50), fahrenheit(50)); !near(got, 10) {
		t.Errorf("70/50: %g", got*1.8)
	}
	sum := quantity.CelsiusDay(0)
	for i, c := range []struct{ low, high, want float64 }{{65, 90, 25.5}, {46, 72, 11}, {42, 63, 6.5}, {86, 95, 36}, {63, 87, 24.5}} {
		got := DegreeDaysRaised(fahrenheit(c.low), fahrenheit(c.high), fahrenheit(50), fahrenheit(86))
		if !near(got, c.want) {
			t.Errorf("%g/%g: %g, want %g", c.high, c.low, got*1.8, c.want)
		}
		if i < 3 {
			sum += got
		}
	}
	if !near(sum, 43) {
		t.Errorf("three days: %g, want 43", sum*1.8)
	}
}

// Laws: never negative, never above the upper limit less the base, more heat never gives less; the sine
// agrees with the plain mean where the whole day lies between base and upper.
func TestDegreeDayLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := quantity.Celsius(rapid.Float64Range(-30, 40).Draw(t, "low"))
		high := low + quantity.Celsius(rapid.Float64Range(0, 25).Draw(t, "range"))
		base := quantity.Celsius(rapid.Float64Range(-2, 15).Draw(t, "base"))
		upper := base + quantity.Celsius(rapid.Float64Range(1, 30).Draw(t, "upper"))
		for _, f := range []func(a, b, c, d quantity.Celsius) quantity.CelsiusDay{DegreeDays, DegreeDaysRaised, DegreeDaysSine} {
			got := f(low, high, base, upper)
			if got < -1e-9 || got > quantity.CelsiusDay(upper-base)+1e-9 || f(low+1, high+1, base, upper) < got-1e-9 {
				t.Fatalf("%g", got)
			}
		}
		if low >= base && high <= upper && math.Abs(float64(DegreeDaysSine(low, high, base, upper)-DegreeDays(low, high, base, upper))) > 1e-9 {
			t.Fatal("the sine differs from the mean though no threshold is crossed")
		}
	})
}
