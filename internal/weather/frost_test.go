package weather

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Quantiles of the standard normal distribution, from printed tables.
var normalTable = map[int]float64{10: 1.2816, 20: 0.8416, 30: 0.5244, 40: 0.2533, 50: 0, 60: -0.2533, 70: -0.5244, 80: -0.8416, 90: -1.2816}

// normalFrost is a frost whose spring dates are many years of a normal distribution: the i-th of n at
// the quantile (i − ½)/n; and share of all years with a frost at all.
func normalFrost(season civil.Season, mean, sd, share float64) Frost {
	const n = 4000
	f := Frost{Season: season, Years: int(math.Round(n / share))}
	for i := range n {
		z := math.Sqrt2 * math.Erfinv(2*(float64(i)+0.5)/n-1)
		day := civil.Date(math.Round(mean + sd*z - 1)) // mean is a day of the year, from 1
		f.Spring = append(f.Spring, season.Start+day)
		f.Autumn = append(f.Autumn, season.Start+day)
	}
	f.SpringNone, f.AutumnNone = f.Years-n, f.Years-n
	return f
}

// NOAA's freeze tables for 1971–2000, last spring dates at Colorado stations for 10, 20 … 90 % chance of a
// later one. Each row is a normal distribution with the mean (day of the year) and deviation given;
// tolerance one day.
func TestLaterThanRunsAsInThePublishedTables(t *testing.T) {
	season := civil.SeasonOf(2027, 40)
	for _, c := range []struct {
		name     string
		mean, sd float64
		dates    [9][2]int // month, day
	}{
		{"Kremmling 20 °F", 125.22, 13.0, [9][2]int{{5, 22}, {5, 16}, {5, 12}, {5, 9}, {5, 5}, {5, 2}, {4, 28}, {4, 24}, {4, 19}}},
		{"Green Mountain Dam 16 °F", 106.33, 11.91, [9][2]int{{5, 2}, {4, 26}, {4, 23}, {4, 19}, {4, 16}, {4, 13}, {4, 10}, {4, 7}, {4, 1}}},
		{"Blue Mesa Lake 28 °F", 149.89, 16.42, [9][2]int{{6, 20}, {6, 13}, {6, 7}, {6, 3}, {5, 30}, {5, 26}, {5, 21}, {5, 16}, {5, 9}}},
		{"Rico 32 °F", 184.22, 15.79, [9][2]int{{7, 23}, {7, 17}, {7, 12}, {7, 7}, {7, 3}, {6, 29}, {6, 25}, {6, 20}, {6, 13}}},
		{"Rico 24 °F", 146.0, 18.86, [9][2]int{{6, 19}, {6, 11}, {6, 5}, {5, 31}, {5, 26}, {5, 21}, {5, 16}, {5, 10}, {5, 2}}},
	} {
		f := normalFrost(season, c.mean, c.sd, 1)
		for i, d := range c.dates {
			percent := 10 * (i + 1)
			got := f.LaterThan(float64(percent))
			if miss := got.Date.Since(civil.Of(2027, d[0], d[1])); got.None || miss < -1 || miss > 1 || got.Percent != percent {
				t.Errorf("%s, %d %%: %s, published %d-%02d", c.name, percent, got.Date.Short(), d[0], d[1])
			}
			// The autumn runs the other way: the early date is the one few years undercut.
			if early := f.EarlierThan(float64(percent)); early.Date.Since(civil.Date(math.Round(c.mean-1-c.sd*normalTable[percent]))+season.Start) < -1 {
				t.Errorf("%s, %d %%: autumn %s", c.name, percent, early.Date.Short())
			}
		}
	}
}

// Thom's mixed distribution (Monthly Weather Review 87, 1959): chance after a date = p·(1 − F).
// Worked with normal tables: p = 0.8, mean day 110, deviation 12: 10 % on day 123.8, 50 % on day
// 106.2; p = 0.4: no 50 % date. And forwards: p = 0.8, day 95: 0.7155; 125: 0.0845.
func TestMixedDistribution(t *testing.T) {
	season := civil.SeasonOf(2027, 40)
	f := normalFrost(season, 110, 12, 0.8)
	for percent, want := range map[float64]float64{10: 123.8, 50: 106.18} {
		got := f.LaterThan(percent)
		if day := float64(got.Date.YearDay()); got.None || math.Abs(day-want) > 0.9 {
			t.Errorf("%.0f %%: day %.0f, want %.1f", percent, day, want)
		}
	}
	for day, want := range map[int]float64{95: 0.7155, 110: 0.4, 125: 0.0845} {
		// Dates are whole days: the chance after a day lies between those of its middle and its end.
		if got := f.ChanceLater(season.Start.Add(day - 1)); math.Abs(got-want) > 0.02 {
			t.Errorf("after day %d: %.4f, want %.4f", day, got, want)
		}
	}
	if c := normalFrost(season, 110, 12, 0.4).LaterThan(50); !c.None {
		t.Errorf("frost in 4 years of 10 has a 50 %% date, %s", c.Date)
	}
}

// Fort Collins 1970–1999, last day at or below 28 °F in spring and first in autumn, from the daily
// record (Colorado Climate Center; data set of Katz, Parlange & Naveau 2002). The empirical quantiles
// computed elsewhere, by two plotting rules, 10 % later: day 122.4 and 125.6; 50 %: 107.0; 90 %:
// 95.8 and 94.2; autumn 10 % earlier: 265.0; 50 %: 284.0; 90 %: 301.0; tolerance half a day beyond.
func TestFortCollins(t *testing.T) {
	season := civil.SeasonOf(2027, 40)
	f := Frost{Season: season, Years: 30}
	for _, day := range []int{430, 407, 502, 416, 416, 418, 404, 404, 509, 510, 417, 406, 506, 418, 428, 408, 415, 414, 423, 413, 406, 413, 401, 420, 428, 427, 429, 414, 417, 417} {
		f.Spring = append(f.Spring, civil.Of(2027, day/100, day%100))
	}
	for _, day := range []int{1007, 919, 1029, 1027, 1031, 1015, 1007, 1011, 1014, 1022, 1017, 1019, 1011, 920, 928, 928, 1011, 1010, 1028, 1019, 1009, 1028, 1008, 1009, 922, 922, 927, 1013, 1021, 929} {
		f.Autumn = append(f.Autumn, civil.Of(2027, day/100, day%100))
	}
	slices.Sort(f.Spring)
	slices.Sort(f.Autumn)
	for _, c := range []struct {
		got       Chance
		low, high float64
	}{
		{f.LaterThan(10), 122.4, 125.6}, {f.LaterThan(50), 107, 107}, {f.LaterThan(90), 94.2, 95.8},
		{f.EarlierThan(10), 265, 265}, {f.EarlierThan(50), 284, 284}, {f.EarlierThan(90), 301, 301},
	} {
		if day := float64(c.got.Date.YearDay()); day < c.low-0.6 || day > c.high+0.6 {
			t.Errorf("%d %%: day %.0f, want %.1f to %.1f", c.got.Percent, day, c.low, c.high)
		}
	}
	if got := f.LaterThanFitted(10).Date.YearDay(); got < 122 || got > 123 { // normal: 122.2
		t.Errorf("fitted 10 %%: day %d, want 122.2", got)
	}
	if got := f.EarlierThanFitted(10).Date.YearDay(); got < 267 || got > 269 { // normal: 268.0
		t.Errorf("fitted autumn 10 %%: day %d, want 268.0", got)
	}
}

// New York and Seattle 2012–2015 (NOAA; see testdata): last and first day at or below 0 °C of each
// year, picked from the file with another program.
func TestFrostDatesOfRealYears(t *testing.T) {
	for name, want := range map[string]struct{ spring, autumn []int }{
		"new_york": {[]int{327, 329, 404, 416}, []int{1106, 1112, 1115, 1124}},
		"seattle":  {[]int{209, 304, 304, 319}, []int{1110, 1112, 1121, 1123}},
	} {
		season := civil.SeasonOf(2027, 45)
		years, _, err := sample(t, name).Scenarios(season, 30, 30, 0)
		if err != nil {
			t.Fatal(err)
		}
		f := FrostOf(season, 30, years, 0)
		if got := monthDays(f.Spring); !slices.Equal(got, want.spring) {
			t.Errorf("%s: last in spring %v, want %v", name, got, want.spring)
		}
		if got := monthDays(f.Autumn); !slices.Equal(got, want.autumn) {
			t.Errorf("%s: first in autumn %v, want %v", name, got, want.autumn)
		}
	}
}

func monthDays(dates []civil.Date) []int {
	var out []int
	for _, d := range dates {
		out = append(out, int(d.Month())*100+d.Day())
	}
	return out
}

// 28 °F read in whole degrees is stored as −2.2 °C, which must count as at or below 28 °F (−2.222…).
func TestThresholdsInTenths(t *testing.T) {
	season := civil.SeasonOf(2027, 45)
	year := Scenario{Min: make([]float32, season.Days)}
	for i := range year.Min {
		year.Min[i] = 5
	}
	year.Min[100] = -2.2
	for _, c := range []struct {
		threshold quantity.Celsius
		frosts    int
	}{{(28.0 - 32) / 1.8, 1}, {-2.2, 1}, {-2.3, 0}, {0, 1}} {
		if f := FrostOf(season, 0, []Scenario{year}, c.threshold); len(f.Spring) != c.frosts || f.SpringNone != 1-c.frosts {
			t.Errorf("at %.3f °C: %d frosts, want %d", c.threshold, len(f.Spring), c.frosts)
		}
	}
}

func TestFrostEdges(t *testing.T) {
	season := civil.SeasonOf(2027, 45)
	if Midsummer(season) != civil.Of(2027, 7, 24) || Midsummer(civil.SeasonOf(2027, -45)) != civil.Of(2028, 1, 24) {
		t.Errorf("midsummer %s and %s", Midsummer(season), Midsummer(civil.SeasonOf(2027, -45)))
	}
	warm := Scenario{Min: make([]float32, season.Days)}
	for i := range warm.Min {
		warm.Min[i] = 10
	}
	f := FrostOf(season, 0, []Scenario{warm, warm}, 0)
	if !f.LaterThan(10).None || !f.EarlierThan(10).None || f.SpringNone != 2 || f.FreeAtLeast(50) != season.Days {
		t.Errorf("a place without frost: %+v", f)
	}
	first, last := warm, warm
	first.Min, last.Min = slices.Clone(warm.Min), slices.Clone(warm.Min)
	first.Min[0], last.Min[season.Days-1] = -1, -1
	f = FrostOf(season, 0, []Scenario{first, last}, 0)
	if f.Spring[0] != season.Start || f.Autumn[0] != season.End() || f.SpringNone != 1 || f.FreeDays[0] != season.Days-1 {
		t.Errorf("frost on the first and on the last day: %+v", f)
	}
	if c := FrostOf(season, 0, nil, 0).LaterThan(50); !c.None {
		t.Error("no years have a frost date")
	}
}

// Laws: the higher the chance of a later frost, the earlier the date; a warmer threshold never makes
// the spring shorter; the dates lie among those seen.
func TestFrostLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		season := civil.SeasonOf(2027, rapid.SampledFrom([]float64{45, -45}).Draw(t, "latitude"))
		var years []Scenario
		for range rapid.IntRange(3, 12).Draw(t, "years") {
			y := Scenario{Min: make([]float32, season.Days)}
			shift := rapid.Float64Range(-6, 12).Draw(t, "shift")
			for i := range y.Min {
				y.Min[i] = float32(shift - 9*math.Cos(2*math.Pi*float64(i)/365))
			}
			years = append(years, y)
		}
		cold, warm := FrostOf(season, 0, years, -2), FrostOf(season, 0, years, 0)
		before, beforeAutumn := Chance{Date: math.MaxInt32}, Chance{Date: math.MinInt32}
		for percent := 1.0; percent <= 99; percent++ {
			spring, autumn := warm.LaterThan(percent), warm.EarlierThan(percent)
			if !spring.None && (spring.Date > before.Date || before.None) || !autumn.None && (autumn.Date < beforeAutumn.Date || beforeAutumn.None) {
				t.Fatalf("%.0f %%: %v after %v, %v after %v", percent, spring, before, autumn, beforeAutumn)
			}
			if !spring.None && (spring.Date < warm.Spring[0] || spring.Date > warm.Spring[len(warm.Spring)-1]) {
				t.Fatalf("%.0f %%: %s is not among %v", percent, spring.Date, warm.Spring)
			}
			// Where fewer years have the harder frost, the last of their dates stands for the rest of its step.
			if c := cold.LaterThan(percent); !c.None && (spring.None || len(cold.Spring) == len(warm.Spring) && c.Date > spring.Date) {
				t.Fatalf("%.0f %%: −2 °C comes later (%s) than 0 °C (%s)", percent, c.Date, spring.Date)
			}
			before, beforeAutumn = spring, autumn
		}
		if cold.FreeAtLeast(50) < warm.FreeAtLeast(50) {
			t.Fatal("fewer days free of the harder frost")
		}
	})
}

// A law: a record moved by half a year to the other hemisphere has the same frost-free days and
// frost dates moved by half a year (within a day of leap and the two midsummers).
func TestMirroredHemisphere(t *testing.T) {
	north := Generate(climate(t, "urbana"), 2001, 20, 4)
	south := *north
	south.Days = slices.Clone(north.Days)
	for i := range south.Days {
		south.Days[i].Date = civil.Of(2001, 7, 1).Add(i)
	}
	n, s := civil.SeasonOf(2027, 40), civil.SeasonOf(2027, -40)
	a, _, err1 := north.Scenarios(n, 0, 0, 0)
	b, _, err2 := south.Scenarios(s, 0, 0, 0)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	fa, fb := FrostOf(n, 0, a, 0), FrostOf(s, 0, b, 0)
	for _, percent := range []float64{10, 50, 90} {
		for _, c := range [][2]Chance{{fa.LaterThan(percent), fb.LaterThan(percent)}, {fa.EarlierThan(percent), fb.EarlierThan(percent)}} {
			da, db := c[0].Date.Since(n.Start), c[1].Date.Since(s.Start)
			if da-db < -3 || da-db > 3 {
				t.Errorf("%.0f %%: day %d in the north, %d in the south", percent, da, db)
			}
		}
	}
}
