package weather

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

func climate(t testing.TB, id string) Climate {
	t.Helper()
	c, err := ClimateByID(id)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// A hundred generated years of every place have the monthly means, spreads, rain and wet days they were
// made from. Tolerances are four standard errors of such a mean (some 1500 are compared): for temperature the daily spread over
// the root of 100 months, widened by the persistence (31 days count as about 6); for rain as stated.
func TestGeneratedYearsKeepTheMonthlyFigures(t *testing.T) {
	worstMean, worstSD := 0.0, 0.0
	for _, c := range Climates() {
		r := Generate(c, 2001, 100, 7)
		for m, got := range r.Normals() {
			want := c.Months[m]
			tolerance := 4*float64(want.MaxSD)/math.Sqrt(6*100)*1.2 + 0.12 // 0.12 for minimum pressed below maximum and rounding
			if miss := math.Abs(float64(got.Max - want.Max)); miss > tolerance {
				t.Errorf("%s month %d: mean maximum %.2f, want %.2f ± %.2f", c.ID, m+1, got.Max, want.Max, tolerance)
			}
			tolerance = 4*float64(want.MinSD)/math.Sqrt(6*100)*1.2 + 0.12
			miss := math.Abs(float64(got.Min - want.Min))
			if miss > tolerance {
				t.Errorf("%s month %d: mean minimum %.2f, want %.2f ± %.2f", c.ID, m+1, got.Min, want.Min, tolerance)
			}
			worstMean = max(worstMean, miss)
			for _, sd := range [][2]float64{{float64(got.MaxSD), float64(want.MaxSD)}, {float64(got.MinSD), float64(want.MinSD)}} {
				worstSD = max(worstSD, math.Abs(sd[0]/sd[1]-1))
				if math.Abs(sd[0]/sd[1]-1) > 0.10 {
					t.Errorf("%s month %d: spread %.2f, want %.2f within 10 %%", c.ID, m+1, sd[0], sd[1])
				}
			}
			// Wet days: binomial with persistence 0.2 (variance ×1.5); rain: that and the gamma's spread.
			days := monthLength[m]
			f := want.WetDays / days
			tolerance = 4*math.Sqrt(days*f*(1-f)*1.5/100) + 0.05
			if math.Abs(got.WetDays-want.WetDays) > tolerance {
				t.Errorf("%s month %d: %.2f wet days, want %.2f ± %.2f", c.ID, m+1, got.WetDays, want.WetDays, tolerance)
			}
			perDay := float64(want.Rain) / max(want.WetDays, 0.1)
			tolerance = 4*perDay*math.Sqrt(want.WetDays*(1.5*(1-f)+1/wetShape)/100) + 0.5
			if math.Abs(float64(got.Rain-want.Rain)) > tolerance {
				t.Errorf("%s month %d: %.1f mm, want %.1f ± %.1f", c.ID, m+1, got.Rain, want.Rain, tolerance)
			}
		}
	}
	t.Logf("worst miss of a mean minimum %.2f °C, of a spread %.1f %%", worstMean, 100*worstSD)
}

// Day-to-day persistence: the correlation of daily residuals with those of the day before is that put
// in (0.650, 0.633 and, on a day, 0.578), within 0.05, where the minimum keeps its own course; where the daily
// range is small it follows the maximum more closely (see mix).
func TestGeneratedYearsPersist(t *testing.T) {
	for _, id := range []string{"wagga-wagga", "fort-collins", "davis"} {
		high, low, both := persistence(Generate(climate(t, id), 2001, 100, 3))
		t.Logf("%s: %.3f %.3f %.3f", id, high, low, both)
		if math.Abs(high-lagMaxMax) > 0.05 || math.Abs(low-lagMinMin) > 0.05 || math.Abs(both-maxMin) > 0.05 {
			t.Errorf("%s: lag-1 %.3f and %.3f, same day %.3f; want 0.650, 0.633, 0.578", id, high, low, both)
		}
	}
}

// persistence is the lag-1 correlation of maximum and of minimum, and theirs on a day, of residuals
// from a smooth course.
func persistence(r *Record) (high, low, both float64) {
	var lows, highs, lowSDs, highSDs [12]float64
	for m, n := range r.Normals() {
		lows[m], highs[m], lowSDs[m], highSDs[m] = float64(n.Min), float64(n.Max), float64(n.MinSD), float64(n.MaxSD)
	}
	lowCurve, highCurve := curve(lows), curve(highs)
	for m := range lowSDs {
		lowSDs[m], highSDs[m] = withoutTrend(lowSDs[m], &lowCurve, m), withoutTrend(highSDs[m], &highCurve, m)
	}
	lowSD, highSD := curve(lowSDs), curve(highSDs)
	residual := func(d Day) (float64, float64) {
		i := dayInLeapYear(d.Date)
		return (float64(d.Min) - lowCurve[i]) / lowSD[i], (float64(d.Max) - highCurve[i]) / highSD[i]
	}
	var n, hh, ll, hl, h2, l2 float64
	for i := 1; i < len(r.Days); i++ {
		if !r.Days[i].HasTemp || !r.Days[i-1].HasTemp {
			continue
		}
		l0, h0 := residual(r.Days[i-1])
		l1, h1 := residual(r.Days[i])
		n, hh, ll, hl, h2, l2 = n+1, hh+h0*h1, ll+l0*l1, hl+h1*l1, h2+h1*h1, l2+l1*l1
	}
	return hh / h2, ll / l2, hl / math.Sqrt(h2*l2)
}

// The published spread of last spring frosts: 11.9 to 18.9 days of standard deviation at Colorado
// stations and thresholds (NOAA freeze tables, 1971–2000), 12.0 at Fort Collins 1900–1999 (28 °F).
// Generated years must differ as much: between 7 and 20 days.
func TestGeneratedYearsDiffer(t *testing.T) {
	season := civil.SeasonOf(2027, 45)
	for _, id := range []string{"burlington", "ithaca", "urbana", "morris", "bozeman", "fort-collins", "oxford", "de-bilt"} {
		years, _, err := Generate(climate(t, id), 2001, 100, 5).Scenarios(season, 0, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		f := FrostOf(season, 0, years, 0)
		spring, autumn := spread(f.offsets(f.Spring, 1)), spread(f.offsets(f.Autumn, 1))
		t.Logf("%-13s spring %s ± %.1f  autumn %s ± %.1f", id, f.LaterThan(50).Date.Short(), spring, f.EarlierThan(50).Date.Short(), autumn)
		if spring < 7 || spring > 20 || autumn < 7 || autumn > 20 {
			t.Errorf("%s: frost dates spread by %.1f and %.1f days", id, spring, autumn)
		}
	}
}

func spread(values []float64) float64 {
	sum, square := 0.0, 0.0
	for _, v := range values {
		sum, square = sum+v, square+v*v
	}
	return float64(deviation(sum, square, len(values)))
}

// Where the measured records are at hand: generated years from their own monthly figures have
// frost dates of the same middle (within 8 days) and spread (within a factor of 1.7: thirty measured years give a spread
// with a standard error of an eighth), and lean as the record does. At Corvallis, mild and without a sharp end of winter, the
// middle is two weeks early: the curve has no clear still nights.
func TestGeneratedFrostsAgainstMeasured(t *testing.T) {
	season := civil.SeasonOf(2027, 45)
	for id, station := range map[string]string{"burlington": "USW00014742", "ithaca": "USC00304174", "urbana": "USC00118740", "morris": "USC00215638",
		"bozeman": "USC00241044", "fort-collins": "USC00053005", "corvallis": "USC00351862", "new-york": "USW00094728"} {
		r := cut(readReference(t, "weather", "records", station+".dly"), 1989, 2018)
		measured, _, err := r.Scenarios(season, 0, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		for m, n := range r.Normals() {
			if got := climate(t, id).Months[m].MinSkew; math.Abs(got-n.MinSkew) > 0.006 {
				t.Errorf("%s month %d: skewness %.2f, the record has %.3f", id, m+1, got, n.MinSkew)
			}
		}
		generated, _, _ := Generate(climate(t, id), 2001, 400, 11).Scenarios(season, 0, 0, 0)
		a, b := FrostOf(season, 0, measured, 0), FrostOf(season, 0, generated, 0)
		for _, c := range []struct {
			what string
			a, b []float64
		}{{"spring", a.offsets(a.Spring, 1), b.offsets(b.Spring, 1)}, {"autumn", a.offsets(a.Autumn, 1), b.offsets(b.Autumn, 1)}} {
			middle := c.b[len(c.b)/2] - c.a[len(c.a)/2]
			ratio := spread(c.b) / spread(c.a)
			t.Logf("%-13s %s: generated middle %+.0f days, spread %.1f against %.1f", id, c.what, middle, spread(c.b), spread(c.a))
			limit := 8.0
			if id == "corvallis" {
				limit = 18
			}
			if math.Abs(middle) > limit || ratio > 1.7 || ratio < 1/1.7 {
				t.Errorf("%s %s: middle off by %.0f days, spread by a factor of %.2f", id, c.what, middle, ratio)
			}
		}
	}
}

// The same for Wagga Wagga, New South Wales (SILO, 1979–2008): a normal curve has the middle last frost 18 days too late there,
// for the coldest spring nights lie nearer the mean than the mildest; leaning, it is 9 days late and the first frost of autumn 7
// days early.
func TestGeneratedFrostsOfTheSouth(t *testing.T) {
	text, err := os.ReadFile(reference(t, "weather", "records", "WaggaWagga_NSW_1940-2008.met"))
	if err != nil {
		t.Skipf("%v", err)
	}
	season, record := civil.SeasonOf(2026, -35), &Record{}
	for line := range strings.Lines(string(text)) {
		var year, day int
		var light, high, low float64
		if n, _ := fmt.Sscan(line, &year, &day, &light, &high, &low); n == 5 && year >= 1979 && year <= 2008 {
			record.Days = append(record.Days, Day{Date: civil.Of(year, 1, 1).Add(day - 1), Min: quantity.Celsius(low), Max: quantity.Celsius(high), HasTemp: true})
		}
	}
	measured, _, err := record.Scenarios(season, 0, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	c := climate(t, "wagga-wagga")
	generated, _, _ := Generate(c, 2001, 400, 11).Scenarios(season, 0, 0, 0)
	a, b := FrostOf(season, 0, measured, 0), FrostOf(season, 0, generated, 0)
	late, early := b.LaterThan(50).Date.Since(a.LaterThan(50).Date), b.EarlierThan(50).Date.Since(a.EarlierThan(50).Date)
	t.Logf("last frost %s, generated %+d days; first %s, %+d", a.LaterThan(50).Date.Short(), late, a.EarlierThan(50).Date.Short(), early)
	if late < -10 || late > 10 || early < -10 || early > 10 {
		t.Errorf("the middle last frost is off by %d days, the first by %d", late, early)
	}
	for m, n := range record.Normals() {
		if got := c.Months[m].MinSkew; math.Abs(got-n.MinSkew) > 0.006 {
			t.Errorf("month %d: skewness %.2f, the record has %.3f", m+1, got, n.MinSkew)
		}
	}
}

// Leaning keeps mean 0 and variance 1, gives the skewness asked for and never turns two nights round. The moments are summed
// over the normal density; the skewness of a lognormal is (e^s² + 2) √(e^s² − 1), of an even curve 0.
func TestLeaningHasItsMoments(t *testing.T) {
	for _, skew := range []float64{-1.5, -0.8, -0.2, 0, 0.1, 0.5, 1} {
		shape := leanOf(skew)
		var weight, mean, square, cube float64
		before := math.Inf(-1)
		for z := -9.0; z <= 9; z += 0.001 {
			w, x := math.Exp(-z*z/2), leaning(z, shape)
			weight, mean, square, cube = weight+w, mean+w*x, square+w*x*x, cube+w*x*x*x
			if x < before {
				t.Fatalf("skewness %g: a warmer night becomes a colder one at %g", skew, z)
			}
			before = x
		}
		if math.Abs(mean/weight) > 1e-3 || math.Abs(square/weight-1) > 2e-3 || math.Abs(cube/weight-skew) > 5e-3 {
			t.Errorf("skewness %g: mean %g, variance %g, skewness %g", skew, mean/weight, square/weight, cube/weight)
		}
	}
}

func TestGenerateIsDeterministic(t *testing.T) {
	c := climate(t, "ithaca")
	a, b := Generate(c, 2001, 30, 42), Generate(c, 2001, 30, 42)
	if diff := cmp.Diff(a, b); diff != "" {
		t.Errorf("the same seed gave other days: %s", diff)
	}
	if cmp.Equal(a.Days, Generate(c, 2001, 30, 43).Days) {
		t.Error("another seed gave the same days")
	}
	if a.Origin != Generated || !strings.Contains(a.Source, "generated") || len(a.Notes) == 0 {
		t.Errorf("a generated record does not say so: %q %q", a.Origin, a.Source)
	}
	hash := fnv.New64a()
	for _, d := range a.Days {
		fmt.Fprintln(hash, d.Date, d.Min, d.Max, d.Rain)
	}
	// Not a check of the figures, only that they stay the same on every machine and after every change
	// that does not mean to alter them: plans made from a seed would change without it.
	if got := fmt.Sprintf("%x", hash.Sum64()); got != "2319ef26edd269a3" {
		t.Errorf("the days made from climate ithaca, seed 42 have changed (fingerprint %s)", got)
	}
}

// Wet days are cooler by day and milder by night, as in the records of 22 stations of the United States:
// in July the maximum by 0.63 standard deviations, in January the minimum milder by 0.50; within 0.12.
func TestGeneratedWetDays(t *testing.T) {
	r := Generate(climate(t, "fort-collins"), 2001, 100, 21)
	normals := r.Normals()
	difference := func(month int, value func(Day) quantity.Celsius, sd quantity.Celsius) float64 {
		var sum, n [2]float64
		for _, d := range r.Days {
			if int(d.Date.Month()) == month {
				wet := 0
				if d.Rain >= 1 {
					wet = 1
				}
				sum[wet] += float64(value(d) / sd)
				n[wet]++
			}
		}
		return sum[1]/n[1] - sum[0]/n[0]
	}
	july := difference(7, func(d Day) quantity.Celsius { return d.Max }, normals[6].MaxSD)
	january := difference(1, func(d Day) quantity.Celsius { return d.Min }, normals[0].MinSD)
	if math.Abs(july+0.63) > 0.12 || math.Abs(january-0.50) > 0.12 {
		t.Errorf("July maximum %+.2f, January minimum %+.2f; want -0.63 and +0.50", july, january)
	}
}

// The gamma distribution of shape k and scale 1 has mean k and variance k; 200,000 draws, 2 and 3 %.
func TestGammaMoments(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	for _, shape := range []float64{0.3, wetShape, 1, 4} {
		const n = 200_000
		sum, square := 0.0, 0.0
		for range n {
			v := gamma(random, shape)
			sum, square = sum+v, square+v*v
		}
		mean := sum / n
		if variance := square/n - mean*mean; math.Abs(mean/shape-1) > 0.02 || math.Abs(variance/shape-1) > 0.03 {
			t.Errorf("shape %g: mean %.3f, variance %.3f", shape, mean, variance)
		}
	}
}

// Laws of a generated year for any figures a person may give: every day there, minimum below maximum, no
// negative rain.
func TestGeneratedDaysAreSane(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var c Climate
		for m := range c.Months {
			low := rapid.Float64Range(-40, 30).Draw(t, "low")
			c.Months[m] = Normal{Month: m + 1, Min: quantity.Celsius(low), Max: quantity.Celsius(low + rapid.Float64Range(-1, 20).Draw(t, "range")),
				MinSD: quantity.Celsius(rapid.Float64Range(0, 10).Draw(t, "sd")), MaxSD: quantity.Celsius(rapid.Float64Range(0, 10).Draw(t, "sd")),
				Rain: quantity.Millimetre(rapid.Float64Range(0, 800).Draw(t, "rain")), WetDays: rapid.Float64Range(0, 31).Draw(t, "wet")}
		}
		r := Generate(c, rapid.IntRange(1900, 2100).Draw(t, "year"), 2, rapid.Uint64().Draw(t, "seed"))
		for i, d := range r.Days {
			if d.Date != r.Days[0].Date.Add(i) || !d.HasTemp || !d.HasRain || d.Min > d.Max || d.Rain < 0 || math.IsNaN(float64(d.Min+d.Max)) {
				t.Fatalf("day %d is %+v", i, d)
			}
		}
	})
}

func TestClimates(t *testing.T) {
	list := Climates()
	if len(list) < 14 {
		t.Errorf("%d places, want at least 14", len(list))
	}
	south, seen := 0, map[string]bool{}
	for _, c := range list {
		if seen[c.ID] || c.ID == "" || c.Name == "" || c.Source == "" || c.Note == "" || c.SpreadQuality == "" || c.WetDaysQuality == "" || c.RainQuality == "" {
			t.Errorf("%q is repeated or incomplete", c.ID)
		}
		seen[c.ID] = true
		if c.Latitude < 0 {
			south++
		}
		for _, n := range c.Months {
			if n.Min >= n.Max || n.MinSD <= 0.5 || n.MaxSD <= 0.5 || n.MinSD > 12 || n.MaxSD > 12 || n.Rain < 0 || n.WetDays < 0 || n.WetDays > 31 || n.WetDays > 0 && float64(n.Rain)/n.WetDays < 1 {
				t.Errorf("%s month %d is out of bounds: %+v", c.ID, n.Month, n)
			}
		}
	}
	if south < 3 {
		t.Errorf("%d places in the south", south)
	}
	if _, err := ClimateByID("atlantis"); err == nil || !strings.Contains(err.Error(), "oxford") {
		t.Errorf("an unknown place: %v", err)
	}
}

// Published figures to hold the table against: NCEI 1981–2010 yearly rain (El Paso 247 mm,
// Tallahassee 1504, Burlington 935, New York 1268, Fort Collins 409, Corvallis 1085, Davis 498,
// Bozeman 501, Urbana 1051, Morris 672, Ithaca 947); the table has later years, so within 10 %.
func TestClimatesAgainstPublishedRain(t *testing.T) {
	for id, want := range map[string]float64{"el-paso": 247, "tallahassee": 1504, "burlington": 935, "new-york": 1268, "fort-collins": 409,
		"corvallis": 1085, "davis": 498, "bozeman": 501, "urbana": 1051, "morris": 672, "ithaca": 947, "sapporo": 1146.1} {
		sum := 0.0
		for _, n := range climate(t, id).Months {
			sum += float64(n.Rain)
		}
		if math.Abs(sum/want-1) > 0.10 {
			t.Errorf("%s: %.0f mm a year, published %.0f", id, sum, want)
		}
	}
}

func TestCurveKeepsMonthlyMeans(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var means [12]float64
		for m := range means {
			means[m] = rapid.Float64Range(-30, 40).Draw(t, "mean")
		}
		c := curve(means)
		for m := range means {
			if got := meanOf(&c, m); math.Abs(got-means[m]) > 0.001 {
				t.Fatalf("month %d: mean %.4f, want %.4f", m+1, got, means[m])
			}
		}
	})
}

func BenchmarkGenerate(b *testing.B) {
	c := climate(b, "ithaca")
	for i := range b.N {
		Generate(c, 2001, 30, uint64(i))
	}
}
