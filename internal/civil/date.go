// Package civil is dates without a clock: day of year, week, season, horizon.
package civil

import (
	"fmt"
	"time"
)

// Date is a day of the proleptic Gregorian calendar, counted from 1970-01-01 as day 0.
// Two dates compare and subtract as integers; the zero value is 1970-01-01, so a field that may
// be absent is a pointer or stands beside a flag.
type Date int32

// Of makes the date of a year, month (1–12) and day. Days outside the month roll over as in
// time.Date: Of(2027, 2, 29) is 1 March 2027.
func Of(year, month, day int) Date {
	return Date(time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC).Unix() / 86400)
}

// OfTime is the date shown by the clock of t's own location.
func OfTime(t time.Time) Date { return Of(t.Year(), int(t.Month()), t.Day()) }

// Parse reads an ISO 8601 calendar date, YYYY-MM-DD, and refuses days that do not exist.
func Parse(text string) (Date, error) {
	t, err := time.Parse("2006-01-02", text)
	if err != nil {
		return 0, fmt.Errorf("%q is not a date; write it as year-month-day, for example 2027-04-15", text)
	}
	return OfTime(t), nil
}

// Time is midnight UTC of the day.
func (d Date) Time() time.Time { return time.Unix(int64(d)*86400, 0).UTC() }

// Year is the calendar year.
func (d Date) Year() int { return d.Time().Year() }

// Month is the calendar month.
func (d Date) Month() time.Month { return d.Time().Month() }

// Day is the day of the month, 1–31.
func (d Date) Day() int { return d.Time().Day() }

// YearDay is the day of the year, 1–366.
func (d Date) YearDay() int { return d.Time().YearDay() }

// Weekday is the day of the week.
func (d Date) Weekday() time.Weekday { return d.Time().Weekday() }

// ISOWeek is the ISO 8601 year and week number.
func (d Date) ISOWeek() (year, week int) { return d.Time().ISOWeek() }

// Monday is the first day of the ISO week that holds d.
func (d Date) Monday() Date { return d - Date((int(d.Weekday())+6)%7) }

// Add is d moved by n days.
func (d Date) Add(n int) Date { return d + Date(n) }

// Since is the number of days from other to d.
func (d Date) Since(other Date) int { return int(d - other) }

// InYear is the same month and day in another year; 29 February becomes 28 February where there is none.
func (d Date) InYear(year int) Date {
	_, m, day := d.Time().Date()
	if m == time.February && day == 29 && !Leap(year) {
		day = 28
	}
	return Of(year, int(m), day)
}

// Leap says whether a year has 29 February.
func Leap(year int) bool { return year%4 == 0 && (year%100 != 0 || year%400 == 0) }

// String is the ISO 8601 form, YYYY-MM-DD.
func (d Date) String() string { return d.Time().Format("2006-01-02") }

// Short is the form for people, without the year: "3 Apr".
func (d Date) Short() string { return d.Time().Format("2 Jan") }

// Long is the form for people, with weekday and year: "Sat 3 Apr 2027".
func (d Date) Long() string { return d.Time().Format("Mon 2 Jan 2006") }

// MarshalText writes the ISO form, so that JSON and TOML carry dates as text.
func (d Date) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads the ISO form.
func (d *Date) UnmarshalText(text []byte) error {
	v, err := Parse(string(text))
	if err != nil {
		return err
	}
	*d = v
	return nil
}
