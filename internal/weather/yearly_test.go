package weather

import (
	"os"
	"strconv"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// byMonth is a record of whole years whose every day has the temperatures of its month, and what change adds.
func byMonth(first, years int, change func(d civil.Date, day *Day)) *Record {
	r := &Record{Origin: Measured}
	for d := civil.Of(first, 1, 1); d < civil.Of(first+years, 1, 1); d++ {
		v := float64(d.Month())
		day := Day{Date: d, Min: quantity.Celsius(v - 4), Max: quantity.Celsius(v + 4), HasTemp: true, HasRain: true}
		if change != nil {
			change(d, &day)
		}
		r.Days = append(r.Days, day)
	}
	return r
}

// Months of 1 to 12 °C: December to February is (31·12 + 31·1 + 28·2)/90, and so on; by hand, to 1e-4.
func TestQuarterMeansByHand(t *testing.T) {
	got := byMonth(2001, 3, nil).QuarterMeans(2001, 2003)
	for q, want := range []float64{(31*12 + 31*1 + 28*2) / 90.0, (31*3 + 30*4 + 31*5) / 92.0, (30*6 + 31*7 + 31*8) / 92.0, (30*9 + 31*10 + 30*11) / 91.0} {
		years := 3
		if q == 0 {
			years = 2 // the December before 2001 is not there
		}
		if len(got[q]) != years {
			t.Errorf("quarter %d has %d years", q, len(got[q]))
		}
		for _, r := range got[q] {
			if !near(r.Value, want, 1e-4) {
				t.Errorf("quarter %d of %d: %v, want %v", q, r.Year, r.Value, want)
			}
		}
	}
}

// Nine missing days in a quarter are borne, ten are not; a hole of five days is filled first.
func TestQuarterMeansWithHoles(t *testing.T) {
	hole := func(days int) *Record {
		return byMonth(2001, 2, func(d civil.Date, day *Day) {
			if i := d.Since(civil.Of(2002, 7, 1)); i >= 0 && i < days {
				day.HasTemp = false
			}
		})
	}
	for days, years := range map[int]int{5: 2, 9: 2, 10: 1} {
		if got := hole(days).QuarterMeans(2001, 2002)[2]; len(got) != years {
			t.Errorf("with %d days missing %d summers count, want %d", days, len(got), years)
		}
	}
}

func TestYearMeansByHand(t *testing.T) {
	season := civil.SeasonOf(2027, 45)
	years, _, err := byMonth(2001, 4, nil).Scenarios(season, 10, 20, 0)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for m := 1; m <= 12; m++ {
		sum += float64(m * civil.Of(2027, m+1, 1).Since(civil.Of(2027, m, 1)))
	}
	for _, r := range YearMeans(season, 10, years) {
		if !near(r.Value, sum/365, 1e-4) {
			t.Errorf("%d: %v, want %v", r.Year, r.Value, sum/365)
		}
	}
}

func TestQualityCounts(t *testing.T) {
	r := byMonth(2001, 2, func(d civil.Date, day *Day) {
		short, long := d.Since(civil.Of(2001, 3, 10)), d.Since(civil.Of(2002, 6, 1))
		if short >= 0 && short < 4 || long >= 0 && long < 12 {
			day.HasTemp = false
		}
		day.HasRain = d.Month() != 8
	})
	q := r.Quality()
	if q.Days != 730 || q.NoTemperature != 16 || q.FilledDays != 4 || q.LongestHole != 12 || q.LongestFrom != civil.Of(2002, 6, 1) || q.NoRain != 62 {
		t.Errorf("%+v", q)
	}
	if len(q.ByYear) != 2 || q.ByYear[0].Filled != 4 || q.ByYear[1].NoTemperature != 12 || q.ByYear[1].Days != 365 {
		t.Errorf("%+v", q.ByYear)
	}
	if q := (&Record{}).Quality(); q.Days != 0 {
		t.Errorf("an empty record: %+v", q)
	}
}

// De Bilt's mean of 1991 to 2019 is 10.4 °C and it warmed by 0.1 to 0.7 °C each ten years (KNMI: 10.5 °C for
// 1991–2020, and about 0.4 °C each ten years; from memory). Read where the reference folder is at hand.
func TestTrendOfDeBilt(t *testing.T) {
	text, err := os.ReadFile(reference(t, "weather", "records", "DeBilt_NL_1980-2019.txt"))
	if err != nil {
		t.Fatal(err)
	}
	r := &Record{Origin: Measured}
	for line := range strings.Lines(string(text)) {
		var f [15]int
		fields := strings.Split(line, ",")
		for i := range f {
			if i < len(fields) {
				f[i], _ = strconv.Atoi(strings.TrimSpace(fields[i]))
			}
		}
		if f[0] != 260 || f[1] < 19910101 {
			continue
		}
		r.Days = append(r.Days, Day{
			Date: civil.Of(f[1]/10000, f[1]/100%100, f[1]%100), Min: quantity.Celsius(float64(f[12]) / 10), Max: quantity.Celsius(float64(f[14]) / 10), HasTemp: true,
		})
	}
	season := civil.SeasonOf(2027, 52)
	years, _, err := r.Scenarios(season, 60, 365, 30)
	if err != nil {
		t.Fatal(err)
	}
	means := YearMeans(season, 60, years)
	sum := 0.0
	for _, m := range means {
		sum += m.Value / float64(len(means))
	}
	got, _ := TrendOf(means, .95)
	if ten := 10 * got.Slope; ten < .1 || ten > .7 || got.Years != 29 {
		t.Errorf("%v °C each ten years over %d years (chance %v)", ten, got.Years, got.Chance)
	}
	if !near(sum, 10.4, .3) { // the mean of the extremes is not quite the mean of the hours
		t.Errorf("mean %.2f °C", sum)
	}
	t.Logf("De Bilt: %.2f °C; %.2f °C each ten years (%.2f to %.2f), chance %.3f", sum, 10*got.Slope, 10*got.Low, 10*got.High, got.Chance)
}
