package civil_test

import (
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
)

func TestSpan(t *testing.T) {
	april := civil.Span{From: civil.Of(2027, 4, 1), To: civil.Of(2027, 4, 30)}
	empty := civil.Span{From: april.To, To: april.From}
	if april.Days() != 30 || empty.Days() != 0 {
		t.Errorf("days: %d and %d", april.Days(), empty.Days())
	}
	if !april.Has(april.From) || !april.Has(april.To) || april.Has(april.To+1) || empty.Has(april.From) {
		t.Error("a span holds its ends and nothing outside")
	}
	if april.Meets(empty) || empty.Meets(april) || !april.Meets(civil.Span{From: april.To, To: april.To}) {
		t.Error("a span meets what shares a day with it")
	}
	if april.Meets(civil.Span{From: april.To + 1, To: april.To + 9}) {
		t.Error("neighbours do not meet")
	}
}

// Northern seasons are calendar years, southern ones cross New Year and hold 29 February of their second year.
func TestSeasonOfBothHemispheres(t *testing.T) {
	rows := []struct {
		year     int
		latitude float64
		start    civil.Date
		days     int
		name     string
	}{
		{2027, 42.4, civil.Of(2027, 1, 1), 365, "2027"},
		{2028, 42.4, civil.Of(2028, 1, 1), 366, "2028"},
		{2027, 0, civil.Of(2027, 1, 1), 365, "2027"},
		{2027, -35, civil.Of(2027, 7, 1), 366, "2027/28"},
		{2028, -35, civil.Of(2028, 7, 1), 365, "2028/29"},
		{2099, -35, civil.Of(2099, 7, 1), 365, "2099/00"},
	}
	for _, r := range rows {
		s := civil.SeasonOf(r.year, r.latitude)
		if s.Start != r.start || s.Days != r.days || s.String() != r.name || s.Year() != r.year {
			t.Errorf("%d at %v°: got %+v %s", r.year, r.latitude, s, s)
		}
		if s.Span().Days() != s.Days || s.Weeks() != 53 {
			t.Errorf("%s: %d days, %d weeks", s, s.Span().Days(), s.Weeks())
		}
	}
}

func TestSeasonLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := civil.Date(rapid.Int32Range(int32(civil.Of(1900, 1, 1)), int32(civil.Of(2200, 1, 1))).Draw(t, "day"))
		latitude := rapid.Float64Range(-90, 90).Draw(t, "latitude")
		s := civil.SeasonHolding(d, latitude)
		if !s.Span().Has(d) {
			t.Errorf("%s is not in its own season %s", d, s)
		}
		next := civil.SeasonOf(s.Year()+1, latitude)
		if next.Start != s.End()+1 {
			t.Errorf("%s ends %s, the next starts %s", s, s.End(), next.Start)
		}
		week := s.Week(d)
		if from := s.WeekStart(week); d < from || d >= from+7 || week < 0 || week >= s.Weeks() {
			t.Errorf("%s is in week %d from %s", d, week, from)
		}
		before := s.Start - 1 - civil.Date(rapid.IntRange(0, 30).Draw(t, "before"))
		if w := s.Week(before); w >= 0 || before < s.WeekStart(w) || before >= s.WeekStart(w+1) {
			t.Errorf("%s before %s is week %d", before, s, w)
		}
	})
}
