package weather

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// dated makes a record whose values tell their date: the minimum is the day of the month plus the
// month in hundredths, the maximum the same plus 20, the rain the year less 2000 in tenths.
func dated(from, to civil.Date) *Record {
	r := &Record{Station: Station{Name: "test"}, Origin: Measured}
	for d := from; d <= to; d++ {
		low := quantity.Celsius(float64(d.Day()) + float64(d.Month())/100)
		r.Days = append(r.Days, Day{Date: d, Min: low, Max: low + 20, HasTemp: true, Rain: quantity.Millimetre(d.Year() - 2000), HasRain: true})
	}
	return r
}

func value(d civil.Date) float32 { return float32(float64(d.Day()) + float64(d.Month())/100) }

// A recorded day lies on its own month and day, in leap years and others, north and south.
func TestScenariosLayDaysOnTheirDate(t *testing.T) {
	r := dated(civil.Of(2001, 1, 1), civil.Of(2012, 12, 31))
	for _, season := range []civil.Season{civil.SeasonOf(2027, 50), civil.SeasonOf(2028, 50), civil.SeasonOf(2027, -35), civil.SeasonOf(2026, -35), {Start: civil.Of(2028, 3, 10), Days: 365}} {
		years, notes, err := r.Scenarios(season, 60, 200, 0)
		if err != nil {
			t.Fatal(err)
		}
		wantYears := 12
		if season.Start.Month() != 1 {
			wantYears = 11 // twelve calendar years hold eleven whole ones that cross New Year
		}
		if len(years) != wantYears {
			t.Fatalf("%s: %d years, want %d", season, len(years), wantYears)
		}
		for _, y := range years {
			if y.Start != season.Start.Add(-60) || len(y.Min) != 60+season.Days+200 || len(y.Max) != len(y.Min) || len(y.Rain) != len(y.Min) {
				t.Fatalf("%s: run of %d days from %s", season, len(y.Min), y.Start)
			}
			for i := range y.Min {
				d := y.Start.Add(i)
				want := value(d)
				if d.Month() == 2 && d.Day() == 29 && y.Min[i] != want {
					want = value(d - 1) // the recorded year has none: the 28th twice
				}
				if y.Min[i] != want || y.Max[i]-want < 19.99 || y.Max[i]-want > 20.01 {
					t.Fatalf("%s, year %d: %s holds %v, want %v", season, y.Year, d, y.Min[i], want)
				}
			}
			if got := int(y.Rain[60]); got != y.Year-2000 {
				t.Fatalf("%s: the scenario of %d begins with a day of %d", season, y.Year, 2000+got)
			}
		}
		if season.Start.Month() == 3 {
			continue // the record reaches on beyond the last whole year
		}
		last := years[len(years)-1]
		if got := 2000 + int(last.Rain[len(last.Rain)-1]); got != years[0].Year+1 && got != years[0].Year {
			t.Errorf("%s: the last year goes on with a day of %d, want the first year again", season, got)
		}
		if !strings.Contains(fmt.Sprint(notes), "another year's same days stand in") {
			t.Errorf("%s: no note that the record's end was continued: %v", season, notes)
		}
	}
}

// In the middle of a record, what follows is what followed.
func TestScenariosGoOnIntoTheNextYear(t *testing.T) {
	r := dated(civil.Of(2001, 1, 1), civil.Of(2012, 12, 31))
	years, _, err := r.Scenarios(civil.SeasonOf(2027, 50), 40, 500, 0)
	if err != nil {
		t.Fatal(err)
	}
	y := years[4]
	for i, want := range map[int]int{0: 2004, 39: 2004, 40: 2005, 404: 2005, 405: 2006, 769: 2006, 771: 2007, 900: 2007} {
		if got := 2000 + int(y.Rain[i]); got != want {
			t.Errorf("year %d, %s: day of %d, want %d", y.Year, y.Start.Add(i), got, want)
		}
	}
}

func TestScenariosLimitTakesTheLatest(t *testing.T) {
	r := dated(civil.Of(2001, 1, 1), civil.Of(2012, 12, 31))
	years, _, err := r.Scenarios(civil.SeasonOf(2027, 50), 0, 0, 5)
	if err != nil || len(years) != 5 || years[0].Year != 2008 || years[4].Year != 2012 {
		t.Fatalf("%d years: %v", len(years), err)
	}
}

func punch(r *Record, from civil.Date, days int) {
	for i := range r.Days {
		if d := &r.Days[i]; d.Date >= from && d.Date < from.Add(days) {
			d.HasTemp, d.HasRain = false, false
		}
	}
}

// Five days are filled on a straight line, six drop the year, both are told.
func TestScenariosHoles(t *testing.T) {
	season := civil.SeasonOf(2027, 50)
	r := dated(civil.Of(2001, 1, 1), civil.Of(2012, 12, 31))
	punch(r, civil.Of(2003, 5, 11), 5)
	punch(r, civil.Of(2005, 5, 11), 6)
	years, notes, err := r.Scenarios(season, 0, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(years) != 11 {
		t.Errorf("%d years, want 11", len(years))
	}
	for _, y := range years {
		if y.Year == 2005 {
			t.Error("the year with a hole of six days was used")
		}
		if y.Year == 2003 {
			i := civil.Of(2027, 5, 13).Since(season.Start)
			if got, want := y.Min[i], float32(13.05); got < want-0.001 || got > want+0.001 {
				t.Errorf("13 May filled with %v, want %v on the line from the 10th to the 16th", got, want)
			}
			if y.Rain[i] != 3 && y.Rain[i] != 2 && y.Rain[i] != 4 {
				t.Errorf("rain of 13 May taken from %v, want the nearest year's", y.Rain[i])
			}
		}
	}
	said := fmt.Sprint(notes)
	for _, want := range []string{"5 missing days of temperature in 1 hole", "1 year is not used", "2005", "rain in longer holes"} {
		if !strings.Contains(said, want) {
			t.Errorf("the notes do not say %q: %s", want, said)
		}
	}
}

// A year whose follower is missing goes on with the next whole one, and is not lost.
func TestScenariosBorrowAMissingFollower(t *testing.T) {
	r := dated(civil.Of(2001, 1, 1), civil.Of(2012, 12, 31))
	punch(r, civil.Of(2006, 2, 1), 20)
	years, notes, err := r.Scenarios(civil.SeasonOf(2027, 50), 0, 100, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, y := range years {
		if y.Year == 2005 && int(y.Rain[400]) != 7 {
			t.Errorf("2005 goes on with 20%02d, want 2007", int(y.Rain[400]))
		}
	}
	if len(years) != 11 || !strings.Contains(fmt.Sprint(notes), "after 2005 stands 2007") {
		t.Errorf("%d years; %v", len(years), notes)
	}
}

func TestScenariosShortRecords(t *testing.T) {
	season := civil.SeasonOf(2027, 50)
	_, _, err := dated(civil.Of(2001, 1, 1), civil.Of(2002, 12, 31)).Scenarios(season, 0, 0, 0)
	if !errors.Is(err, ErrTooShort) || !strings.Contains(err.Error(), "2 years") || !strings.Contains(err.Error(), "built-in climate") {
		t.Errorf("two years: %v", err)
	}
	years, notes, err := dated(civil.Of(2001, 1, 1), civil.Of(2003, 12, 31)).Scenarios(season, 100, 400, 30)
	if err != nil || len(years) != 3 || !strings.Contains(fmt.Sprint(notes), "chances are coarse") {
		t.Errorf("three years: %d, %v, %v", len(years), notes, err)
	}
	if _, _, err := (&Record{}).Scenarios(season, 0, 0, 0); !errors.Is(err, ErrTooShort) {
		t.Errorf("no days: %v", err)
	}
	if _, _, err := dated(civil.Of(2001, 1, 1), civil.Of(2012, 12, 31)).Scenarios(civil.Season{Start: season.Start}, 0, 0, 0); err == nil {
		t.Error("a season of no days was accepted")
	}
}

func TestScenariosWithoutRainSaySo(t *testing.T) {
	r := dated(civil.Of(2001, 1, 1), civil.Of(2012, 12, 31))
	for i := range r.Days {
		r.Days[i].HasRain = false
	}
	years, notes, err := r.Scenarios(civil.SeasonOf(2027, 50), 0, 0, 0)
	if err != nil || years[0].Rain[100] != 0 || !strings.Contains(fmt.Sprint(notes), "no rain at all") {
		t.Errorf("%v %v", notes, err)
	}
}

// Laws, for any record with any holes: every run is whole, as long as asked, and every value in it was
// recorded on that month and day or stands in a short hole.
func TestScenariosAreAlwaysWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := dated(civil.Of(2000, rapid.IntRange(1, 12).Draw(t, "month"), 1), civil.Of(2000+rapid.IntRange(3, 9).Draw(t, "years"), 12, 31))
		for range rapid.IntRange(0, 5).Draw(t, "holes") {
			punch(r, r.Days[rapid.IntRange(0, len(r.Days)-1).Draw(t, "at")].Date, rapid.IntRange(1, 40).Draw(t, "days"))
		}
		latitude := rapid.SampledFrom([]float64{50, -50}).Draw(t, "latitude")
		season := civil.SeasonOf(rapid.IntRange(2026, 2029).Draw(t, "season"), latitude)
		lead, tail := rapid.IntRange(0, 500).Draw(t, "lead"), rapid.IntRange(0, 800).Draw(t, "tail")
		years, _, err := r.Scenarios(season, lead, tail, rapid.IntRange(0, 6).Draw(t, "limit"))
		if err != nil {
			if !errors.Is(err, ErrTooShort) {
				t.Fatal(err)
			}
			return
		}
		for _, y := range years {
			if len(y.Min) != lead+season.Days+tail {
				t.Fatalf("%d days", len(y.Min))
			}
			for i := range y.Min {
				if !(y.Min[i] >= 1 && y.Min[i] < 32 && y.Max[i] > y.Min[i] && y.Rain[i] >= 0) {
					t.Fatalf("year %d, %s: %v %v %v", y.Year, y.Start.Add(i), y.Min[i], y.Max[i], y.Rain[i])
				}
			}
		}
	})
}

func TestCompleteFillsAndMarks(t *testing.T) {
	r := dated(civil.Of(2001, 1, 1), civil.Of(2004, 12, 31))
	punch(r, civil.Of(2002, 3, 5), 2)
	punch(r, civil.Of(2003, 3, 5), 9)
	full, notes := r.Complete()
	filled, left := 0, 0
	for _, d := range full.Days {
		if d.Filled && d.HasTemp {
			filled++
		}
		if !d.HasTemp {
			left++
		}
	}
	if left != 9 || filled != 2 || len(notes) == 0 || r.Days[428].HasTemp {
		t.Errorf("%d filled, %d left, %v", filled, left, notes)
	}
}

func BenchmarkScenarios(b *testing.B) {
	r := Generate(climate(b, "ithaca"), 1981, 40, 1)
	season := civil.SeasonOf(2027, 42)
	b.ResetTimer()
	for b.Loop() {
		if _, _, err := r.Scenarios(season, 120, 400, 0); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkReadDLY40Years(b *testing.B) {
	r := Generate(climate(b, "ithaca"), 1981, 40, 1)
	var text strings.Builder
	for i := 0; i < len(r.Days); {
		month := r.Days[i:min(i+daysIn(r.Days[i].Date.Year(), int(r.Days[i].Date.Month())), len(r.Days))]
		var low, high, rain []string
		for _, d := range month {
			low = append(low, fmt.Sprintf("%5.0f  0", d.Min*10))
			high = append(high, fmt.Sprintf("%5.0f  0", d.Max*10))
			rain = append(rain, fmt.Sprintf("%5.0f  0", d.Rain*10))
		}
		year, m := month[0].Date.Year(), int(month[0].Date.Month())
		text.WriteString(lineDLY("USC00000000", year, m, "TMAX", high...) + lineDLY("USC00000000", year, m, "TMIN", low...) + lineDLY("USC00000000", year, m, "PRCP", rain...))
		i += len(month)
	}
	b.SetBytes(int64(text.Len()))
	b.ResetTimer()
	for b.Loop() {
		back, err := Read("bench.dly", strings.NewReader(text.String()))
		if err != nil || len(back.Days) != len(r.Days) {
			b.Fatal(err)
		}
	}
}
