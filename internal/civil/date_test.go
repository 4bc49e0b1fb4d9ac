package civil_test

import (
	"encoding/json"
	"testing"
	"time"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
)

// ISO 8601 week dates and ordinal dates: the cases that go wrong, as the standard's own examples and
// Python's datetime (isocalendar, tm_yday) give them. Exact.
func TestISOWeekAndYearDay(t *testing.T) {
	rows := []struct {
		date                         string
		isoYear, week, weekday, yday int
	}{
		{"2005-01-01", 2004, 53, 6, 1},
		{"2005-01-02", 2004, 53, 7, 2},
		{"2005-12-31", 2005, 52, 6, 365},
		{"2006-01-01", 2005, 52, 7, 1},
		{"2007-12-30", 2007, 52, 7, 364},
		{"2008-12-29", 2009, 1, 1, 364},
		{"2010-01-03", 2009, 53, 7, 3},
		{"2024-02-29", 2024, 9, 4, 60},
		{"2024-12-30", 2025, 1, 1, 365},
		{"2026-12-31", 2026, 53, 4, 365},
		{"2000-03-01", 2000, 9, 3, 61},
		{"1900-03-01", 1900, 9, 4, 60},
	}
	for _, r := range rows {
		d, err := civil.Parse(r.date)
		if err != nil {
			t.Fatal(err)
		}
		year, week := d.ISOWeek()
		weekday := (int(d.Weekday())+6)%7 + 1
		if year != r.isoYear || week != r.week || weekday != r.weekday || d.YearDay() != r.yday {
			t.Errorf("%s: got %d-W%02d-%d, day %d", r.date, year, week, weekday, d.YearDay())
		}
		if m := d.Monday(); m.Weekday() != time.Monday || m > d || d.Since(m) > 6 {
			t.Errorf("%s: its Monday is %s", r.date, m)
		}
	}
}

func TestParseRefusesDaysThatDoNotExist(t *testing.T) {
	for _, text := range []string{"", "2027-02-29", "2027-13-01", "2027-04-31", "27-04-01", "2027-4-1", "1 April 2027", "2027-04-15T00:00:00Z", "10000-01-01"} {
		if d, err := civil.Parse(text); err == nil {
			t.Errorf("%q was read as %s", text, d)
		}
	}
	if d, err := civil.Parse("2028-02-29"); err != nil || d != civil.Of(2028, 2, 29) {
		t.Errorf("29 February of a leap year: %v, %v", d, err)
	}
}

// The Gregorian rule: century years are leap only when divisible by 400.
func TestLeap(t *testing.T) {
	for year, want := range map[int]bool{1900: false, 2000: true, 2024: true, 2026: false, 2100: false, 2400: true} {
		if civil.Leap(year) != want {
			t.Errorf("%d: %v", year, !want)
		}
	}
	if got := civil.Of(2028, 2, 29).InYear(2027); got != civil.Of(2027, 2, 28) {
		t.Errorf("29 February laid over 2027: %s", got)
	}
	if got := civil.Of(2027, 2, 28).InYear(2028); got != civil.Of(2028, 2, 28) {
		t.Errorf("28 February laid over 2028: %s", got)
	}
}

func TestOfTimeUsesTheClockOfItsPlace(t *testing.T) {
	east := time.FixedZone("east", 13*3600)
	if got := civil.OfTime(time.Date(2027, 4, 2, 0, 30, 0, 0, east)); got != civil.Of(2027, 4, 2) {
		t.Errorf("got %s", got)
	}
}

// Days are integers: laws that hold on every date from year 1 to 9999.
func TestDateLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := civil.Date(rapid.Int32Range(int32(civil.Of(1, 1, 1)), int32(civil.Of(9998, 12, 31))).Draw(t, "day"))
		n := rapid.IntRange(-400, 400).Draw(t, "n")
		if back, err := civil.Parse(d.String()); err != nil || back != d {
			t.Errorf("%s reads back as %s, %v", d, back, err)
		}
		if civil.Of(d.Year(), int(d.Month()), d.Day()) != d {
			t.Errorf("%s falls apart", d)
		}
		if d.Add(n).Since(d) != n {
			t.Errorf("%s + %d", d, n)
		}
		text, err := json.Marshal(d)
		var back civil.Date
		if err != nil || json.Unmarshal(text, &back) != nil || back != d {
			t.Errorf("%s as JSON is %s", d, text)
		}
		if year := d.InYear(d.Year()); year != d {
			t.Errorf("%s in its own year is %s", d, year)
		}
	})
}
