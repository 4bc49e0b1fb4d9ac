package weather

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"kailyard/internal/civil"
)

// plainYear is a year of ordinary days in our own form, with some lines replaced by date.
func plainYear(replace map[string]string) string {
	var b strings.Builder
	b.WriteString("date,tmin_c,tmax_c,rain_mm\n")
	for i := range 365 {
		d := civil.Of(2027, 1, 1).Add(i)
		line := fmt.Sprintf("%s,%d,%d,%d", d, 4+i%5, 14+i%7, i%3)
		if r, ok := replace[d.String()]; ok {
			line = d.String() + "," + r
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}

func TestChecksAcrossFields(t *testing.T) {
	for _, c := range []struct {
		name, line, kind, says string
		has                    bool
		low, high              float64
	}{
		{"slightly swapped", "10,9,0", "swapped", "2027-05-05 (line 126) had a minimum up to 2 °C (3.6 °F) above the maximum; the two were exchanged", true, 9, 10},
		{"swapped", "20,9,0", "swapped", "more than 2 °C (3.6 °F) above the maximum; both were left out", false, 0, 0},
		{"too cold", "-95,9,0", "implausible", "below −90 or above 60", false, 0, 0},
		{"too hot", "9,61,0", "implausible", "below −90 or above 60", false, 0, 0},
		{"spike", "4,50,0", "implausible", "25 °C (45 °F) or more away from the days on both sides", false, 0, 0},
		{"dip", "-30,15,0", "implausible", "25 °C (45 °F) or more away from the days on both sides", false, 0, 0},
	} {
		r := read(t, plainYear(map[string]string{"2027-05-05": c.line}))
		d := r.Days[civil.Of(2027, 5, 5)-r.Days[0].Date]
		if d.HasTemp != c.has || float64(d.Min) != c.low || float64(d.Max) != c.high {
			t.Errorf("%s: %+v", c.name, d)
		}
		if said := notesOf(r); !strings.Contains(said, "["+c.kind+"]") || !strings.Contains(said, c.says) {
			t.Errorf("%s: notes %q", c.name, said)
		}
	}
}

func TestChecksOfRain(t *testing.T) {
	r := read(t, plainYear(map[string]string{"2027-05-05": "5,15,-3", "2027-06-05": "5,15,2500"}))
	for _, d := range []civil.Date{civil.Of(2027, 5, 5), civil.Of(2027, 6, 5)} {
		if day := r.Days[d-r.Days[0].Date]; day.HasRain || !day.HasTemp {
			t.Errorf("%+v", day)
		}
	}
	if said := notesOf(r); !strings.Contains(said, "less than no rain") || !strings.Contains(said, "more rain than has ever fallen") {
		t.Error(said)
	}
}

func TestChecksOfDates(t *testing.T) {
	text := plainYear(nil)
	lines := strings.Split(strings.TrimSpace(text), "\n")
	lines = append(lines, "2027-03-03,-8,1,0") // a second time
	lines[10], lines[20] = lines[20], lines[10]
	r := read(t, strings.Join(lines, "\n"))
	if d := r.Days[civil.Of(2027, 3, 3)-r.Days[0].Date]; d.Min == -8 {
		t.Errorf("of two lines for a date the second was kept: %+v", d)
	}
	if said := notesOf(r); !strings.Contains(said, "[out of order]") || !strings.Contains(said, "first 2027-03-03 on line 367") {
		t.Error(said)
	}
	if len(r.Days) != 365 {
		t.Errorf("%d days", len(r.Days))
	}
}

func TestStuckInstrumentIsTold(t *testing.T) {
	replace := map[string]string{}
	for i := range 25 {
		replace[civil.Of(2027, 8, 1).Add(i).String()] = "9.9,19.9,0"
	}
	r := read(t, plainYear(replace))
	if said := notesOf(r); !strings.Contains(said, "stand on 25 days in a row (2027-08-01 to 2027-08-25)") {
		t.Error(said)
	}
}

// The record's own columns give the same figures as the parts they were made of, and NCEI's monthly
// summaries of a station 20 km away (Central Park): January 2014 maximum 1.94, minimum −5.60 °C; February
// 2015 0.08 and −8.90, with 28 days at or below 0 °C; July 2013 30.17 and 22.97. Tolerance 0.7 °C for the distance.
func TestNormalsOfRealMonths(t *testing.T) {
	r := sample(t, "new_york")
	for _, c := range []struct {
		year, month int
		high, low   float64
	}{{2014, 1, 1.94, -5.60}, {2015, 2, 0.08, -8.90}, {2013, 7, 30.17, 22.97}} {
		n := cut(r, c.year, c.year).Normals()[c.month-1]
		if math.Abs(float64(n.Max)-c.high) > 0.7 || math.Abs(float64(n.Min)-c.low) > 0.7 || n.Years != 1 {
			t.Errorf("%d-%02d: %.2f and %.2f, want %.2f and %.2f", c.year, c.month, n.Max, n.Min, c.high, c.low)
		}
	}
	frosts := 0
	for _, d := range cut(r, 2015, 2015).Days {
		if d.Date.Month() == 2 && d.Min <= 0 {
			frosts++
		}
	}
	if frosts != 28 {
		t.Errorf("February 2015: %d days of frost, want 28", frosts)
	}
	// The whole file, summed by another program: January 4.376 and −3.352 °C, 81.98 mm; Seattle's July
	// 25.998 and 14.198 °C, 12.05 mm.
	jan, jul := r.Normals()[0], sample(t, "seattle").Normals()[6]
	for _, c := range [][2]float64{{float64(jan.Max), 4.375806}, {float64(jan.Min), -3.352419}, {float64(jan.Rain), 81.975}, {float64(jul.Max), 25.998387}, {float64(jul.Min), 14.197581}, {float64(jul.Rain), 12.05}} {
		if math.Abs(c[0]-c[1]) > 1e-4 {
			t.Errorf("%.5f, want %.5f", c[0], c[1])
		}
	}
}

func TestNormalsLeaveOutMonthsWithHoles(t *testing.T) {
	r := dated(civil.Of(2001, 1, 1), civil.Of(2004, 12, 31))
	punch(r, civil.Of(2002, 3, 1), 11)
	punch(r, civil.Of(2003, 3, 1), 10)
	n := r.Normals()
	if n[2].Years != 3 || n[3].Years != 4 {
		t.Errorf("March %d years, April %d; want 3 and 4", n[2].Years, n[3].Years)
	}
	if want := (1.0 + 3 + 4) / 3 * 31; math.Abs(float64(n[2].Rain)-want) > 1e-9 {
		t.Errorf("March rain %.2f, want %.2f (a month with ten missing days brought up to 31)", n[2].Rain, want)
	}
	if (&Record{}).Normals()[0].Years != 0 {
		t.Error("a record of no days has normals")
	}
}

// NCEI's 1981–2010 normals of degree days over 50 °F (°F·d a year) and of yearly rain, against the
// daily records of the same stations: degree days by the plain mean within 4.5 %, rain within 3 %.
func TestNormalsAgainstNCEI(t *testing.T) {
	file, err := os.Open(reference(t, "weather", "published", "check_gdd_prcp_1981-2010_ours_vs_NCEI.tsv"))
	if err != nil {
		t.Skip(err)
	}
	defer file.Close()
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		f := strings.Split(lines.Text(), "\t")
		var degreeDays, rain float64
		if len(f) < 7 {
			continue
		}
		if n, _ := fmt.Sscan(f[2]+" "+f[6], &degreeDays, &rain); n != 2 {
			continue
		}
		r := cut(readReference(t, "weather", "records", f[0]+".dly"), 1981, 2010)
		full, _ := r.Complete()
		sum, days, rainfall := 0.0, 0, 0.0
		for _, d := range full.Days {
			if d.HasTemp {
				sum += 1.8 * float64(DegreeDays(d.Min, d.Max, fahrenheit(50), 0))
				days++
			}
		}
		for _, n := range r.Normals() {
			rainfall += float64(n.Rain)
		}
		got := sum / float64(days) * 365.25
		t.Logf("%s: degree days %.0f, published %.0f (%+.1f %%); rain %.0f, published %.0f (%+.1f %%)", f[0], got, degreeDays, 100*(got/degreeDays-1), rainfall, rain, 100*(rainfall/rain-1))
		if math.Abs(got/degreeDays-1) > 0.045 || math.Abs(rainfall/rain-1) > 0.03 {
			t.Errorf("%s: degree days or rain off", f[0])
		}
	}
}
