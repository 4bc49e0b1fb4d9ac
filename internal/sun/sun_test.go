package sun

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
)

// Day lengths computed with the astronomy-engine library 2.1.19 (MIT), cross-checked with PyEphem
// 4.1.4, the NREL SPA and the Swiss Ephemeris (within 1 s of time); sun's centre at −0.8333°.
// Tolerance: 0.02 h (72 s) as advised there.
func TestDayLengthAtAgainstAlmanac(t *testing.T) {
	for _, c := range []struct {
		name                string
		latitude, longitude float64
		date                string
		hours               float64
	}{
		{"rs-01", 0, 0, "2024-03-20", 12.1083},
		{"rs-02", 0, 0, "2024-06-20", 12.1226},
		{"rs-03", 0, 0, "2024-12-21", 12.1249},
		{"rs-05", 10, 20, "2024-06-20", 12.7095},
		{"rs-06", 10, 20, "2024-12-21", 11.5423},
		{"rs-07", -15, 28, "2024-03-20", 12.1080},
		{"rs-08", -15, 28, "2024-06-20", 11.2380},
		{"rs-09", -15, 28, "2024-12-21", 13.0199},
		{"rs-10", 25, -80.5, "2024-03-20", 12.1345},
		{"rs-11", 25, -80.5, "2024-06-20", 13.6934},
		{"rs-12", 25, -80.5, "2024-12-21", 10.5844},
		{"rs-13", 30, 31.2, "2024-03-20", 12.1342},
		{"rs-14", 30, 31.2, "2024-06-20", 14.0791},
		{"rs-15", 30, 31.2, "2024-12-21", 10.2145},
		{"rs-18", -33.9, 151.2, "2024-12-21", 14.4157},
		{"rs-19", 35.5, -97.5, "2024-03-20", 12.1579},
		{"rs-20", 35.5, -97.5, "2024-06-20", 14.5604},
		{"rs-21", 35.5, -97.5, "2024-12-21", 9.7571},
		{"rs-22", 40, -105, "2024-03-20", 12.1716},
		{"rs-25", -45, 170, "2024-03-20", 12.1593},
		{"rs-26", -45, 170, "2024-06-20", 8.7646},
		{"rs-27", -45, 170, "2024-12-21", 15.6215},
		{"rs-28", 44.95, -93.1, "2024-03-20", 12.1874},
		{"rs-29", 44.95, -93.1, "2024-06-20", 15.6119},
		{"rs-30", 44.95, -93.1, "2024-12-21", 8.7721},
		{"rs-32", 48.5, 2.3, "2024-06-20", 16.1252},
		{"rs-33", 48.5, 2.3, "2024-12-21", 8.2981},
		{"rs-36", 52.2, 0.1, "2024-12-21", 7.7071},
		{"rs-38", 55.7, 12.5, "2024-06-20", 17.5455},
		{"rs-43", 60.2, 24.9, "2024-03-20", 12.2487},
		{"rs-44", 60.2, 24.9, "2024-06-20", 18.9454},
		{"rs-45", 60.2, 24.9, "2024-12-21", 5.8040},
		{"rs-49", 40, -105, "2025-02-01", 10.1925},
		{"rs-50", 40, -105, "2025-08-15", 13.7344},
		{"rs-57", 44.95, -93.1, "2024-02-29", 11.1410},
		{"rs-59", 65.8, 24.1, "2025-12-21", 2.9567},
	} {
		d, err := civil.Parse(c.date)
		if err != nil {
			t.Fatal(err)
		}
		got := float64(DayLengthAt(c.latitude, c.longitude, d))
		if math.Abs(got-c.hours) > 0.02 {
			t.Errorf("%s: day length at %g° on %s is %.4f h, want %.4f", c.name, c.latitude, c.date, got, c.hours)
		}
		t.Logf("%s off by %+.0f s", c.name, (got-c.hours)*3600)
		limit := 0.02 + 0.0005*math.Abs(c.longitude) // DayLength reckons with the day at Greenwich
		if got := float64(DayLength(c.latitude, d)); math.Abs(got-c.hours) > limit {
			t.Errorf("%s: DayLength off by %.4f h", c.name, got-c.hours)
		}
	}
}

// The same source; days near the beginning and end of the midnight sun and the polar night.
func TestDayLengthInPolarLatitudes(t *testing.T) {
	for _, c := range []struct {
		date                string
		latitude, longitude float64
		hours, tolerance    float64
	}{
		{"2025-06-21", 69.65, 18.96, 24, 0},
		{"2025-12-21", 69.65, 18.96, 0, 0},
		{"2025-05-15", 69.65, 18.96, 22.179, 0.05},
		{"2025-05-25", 69.65, 18.96, 24, 0},
		{"2025-11-26", 69.65, 18.96, 0.99, 0.05},
		{"2025-08-20", 78.22, 15.65, 24, 0},
		{"2025-08-28", 78.22, 15.65, 20.173, 0.05},
		{"2025-06-21", 66.56, 25, 24, 0},
		{"2025-12-21", 66.56, 25, 2.164, 0.05},
		{"2025-06-21", 90, 0, 24, 0},
		{"2025-12-21", 90, 0, 0, 0},
		{"2025-12-21", -90, 0, 24, 0},
	} {
		d, _ := civil.Parse(c.date)
		if got := float64(DayLengthAt(c.latitude, c.longitude, d)); math.Abs(got-c.hours) > c.tolerance {
			t.Errorf("day length at %g° on %s is %.3f h, want %.3f", c.latitude, c.date, got, c.hours)
		}
	}
}

// First day of at least ten hours after midwinter and first below them in autumn, 2025, longitude 0,
// from the same source; a day's tolerance.
func TestTenHourDays(t *testing.T) {
	for _, c := range []struct {
		latitude        float64
		rising, falling string
	}{
		{38, "2025-01-22", "2025-11-20"},
		{40, "2025-01-27", "2025-11-15"},
		{45, "2025-02-06", "2025-11-05"},
	} {
		rising, _ := civil.Parse(c.rising)
		falling, _ := civil.Parse(c.falling)
		first := civil.Of(2025, 1, 1)
		for DayLength(c.latitude, first) < 10 {
			first++
		}
		last := civil.Of(2025, 12, 15)
		for DayLength(c.latitude, last-1) < 10 {
			last--
		}
		if n := first.Since(rising); n < -1 || n > 1 {
			t.Errorf("%g°: ten hours from %s, want %s", c.latitude, first, rising)
		}
		if n := last.Since(falling); n < -1 || n > 1 {
			t.Errorf("%g°: below ten hours from %s, want %s", c.latitude, last, falling)
		}
	}
}

// Declination at the equinoxes and solstices of 2024 (20 Mar 03:06, 20 Jun 20:51, 22 Sep 12:44,
// 21 Dec 09:20 UT, from published almanacs) is 0 and ±23.436°; the equation of time's extremes are
// about −14.2 min on 11 February and +16.4 min on 3 November (MEEUS-1998, chapter 28).
func TestDeclinationAndEquationOfTime(t *testing.T) {
	at := func(year, month, day int, hour float64) float64 { return float64(civil.Of(year, month, day)) + hour/24 }
	for _, c := range []struct{ days, want float64 }{
		{at(2024, 3, 20, 3.1), 0}, {at(2024, 6, 20, 20.85), 23.436}, {at(2024, 9, 22, 12.73), 0}, {at(2024, 12, 21, 9.33), -23.436},
	} {
		if got := Declination(c.days); math.Abs(got-c.want) > 0.01 {
			t.Errorf("declination %.4f°, want %.3f", got, c.want)
		}
	}
	for _, c := range []struct{ days, want float64 }{{at(2024, 2, 11, 12), -14.2}, {at(2024, 11, 3, 12), 16.45}} {
		if got := EquationOfTime(c.days); math.Abs(got-c.want) > 0.1 {
			t.Errorf("equation of time %.2f min, want %.2f", got, c.want)
		}
	}
}

// Meeus, Astronomical Algorithms, 2nd edition, example 25.a: 1992 October 13, 0 h TD, apparent
// declination by the low-accuracy method −7.78507°.
func TestMeeusExample25a(t *testing.T) {
	if got := Declination(float64(civil.Of(1992, 10, 13))); math.Abs(got+7.78507) > 0.0005 {
		t.Errorf("declination %.5f°, want -7.78507", got)
	}
}

// Meeus, example 28.b: the same moment, equation of time +13 m 42.7 s by Smart's series.
func TestMeeusExample28b(t *testing.T) {
	want := 13 + 42.7/60
	if got := EquationOfTime(float64(civil.Of(1992, 10, 13))); math.Abs(got-want) > 0.02 {
		t.Errorf("equation of time %.3f min, want %.3f", got, want)
	}
}

// A law: what the north has in June the south has in December, within what the ellipse and the
// days' fraction allow; the day is never shorter than none nor longer than 24 hours.
func TestMirroredHemispheres(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		latitude := rapid.Float64Range(-90, 90).Draw(t, "latitude")
		d := civil.Date(rapid.IntRange(-80000, 80000).Draw(t, "day"))
		hours := float64(DayLength(latitude, d))
		if math.IsNaN(hours) || hours < 0 || hours > 24 {
			t.Fatalf("%g h", hours)
		}
		if math.Abs(latitude) > 60 {
			return
		}
		// North and south on the same day: together 24 hours and twice the gain by refraction and the sun's
		// half disc, 0.833° at each end of both days. The sun crosses a degree of height in
		// 1/(15 cos φ cos δ sin H) hours, slowest at 60° on the shortest day: 1/(15·0.5·0.917·0.66),
		// which makes 0.73 h, and a little more because it slows on the way.
		both := hours + float64(DayLength(-latitude, d))
		if both < 24 || both > 24.8 {
			t.Fatalf("day at %g° and %g° together %g h", latitude, -latitude, both)
		}
	})
}

func TestDayLengthEdges(t *testing.T) {
	leap := civil.Of(2024, 2, 29)
	if a, b, c := DayLength(50, leap-1), DayLength(50, leap), DayLength(50, leap+1); !(a < b && b < c) {
		t.Errorf("28 February to 1 March at 50°: %v %v %v, want growing days", a, b, c)
	}
	if got := DayLength(95, civil.Of(2025, 6, 21)); got != 24 {
		t.Errorf("beyond the pole: %v, want the pole's 24", got)
	}
	if got := float64(DayLength(math.NaN(), leap)); !math.IsNaN(got) {
		t.Errorf("no latitude: %v, want NaN", got)
	}
}

func BenchmarkDayLength(b *testing.B) {
	for i := range b.N {
		DayLength(50, civil.Date(20000+i%366))
	}
}
