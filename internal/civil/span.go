package civil

import "fmt"

// Span is a run of days, both ends included. A span whose To is before its From is empty.
type Span struct {
	From Date `json:"from"`
	To   Date `json:"to"`
}

// Days is the number of days in the span, 0 when it is empty.
func (s Span) Days() int {
	if s.To < s.From {
		return 0
	}
	return int(s.To-s.From) + 1
}

// Has says whether d lies in the span.
func (s Span) Has(d Date) bool { return s.From <= d && d <= s.To }

// Meets says whether two spans share a day.
func (s Span) Meets(o Span) bool {
	return s.Days() > 0 && o.Days() > 0 && s.From <= o.To && o.From <= s.To
}

// String is "3 Apr – 20 Jun".
func (s Span) String() string { return s.From.Short() + " – " + s.To.Short() }

// Season is the year of work a plan covers: 365 or 366 days from Start. It begins in the dead of
// the site's winter, so that it need not begin on New Year's Day: 1 January in the northern
// hemisphere, 1 July in the southern. Its name is the calendar year of its start.
type Season struct {
	Start Date `json:"start"`
	Days  int  `json:"days"`
}

// SeasonOf is the season that begins in the given year at a latitude (degrees, north positive).
func SeasonOf(year int, latitude float64) Season {
	month := 1
	if latitude < 0 {
		month = 7
	}
	start := Of(year, month, 1)
	return Season{Start: start, Days: int(Of(year+1, month, 1) - start)}
}

// SeasonHolding is the season that a date falls in at a latitude.
func SeasonHolding(d Date, latitude float64) Season {
	s := SeasonOf(d.Year(), latitude)
	if d < s.Start {
		s = SeasonOf(d.Year()-1, latitude)
	}
	return s
}

// Year is the calendar year in which the season starts.
func (s Season) Year() int { return s.Start.Year() }

// End is the last day of the season.
func (s Season) End() Date { return s.Start.Add(s.Days - 1) }

// Span is the season as a span of days.
func (s Season) Span() Span { return Span{From: s.Start, To: s.End()} }

// Weeks is the number of seven-day weeks that the season touches, counted from its start (53).
func (s Season) Weeks() int { return (s.Days + 6) / 7 }

// Week is the zero-based week of the season that d falls in; negative before it starts.
func (s Season) Week(d Date) int {
	n := int(d - s.Start)
	if n < 0 {
		return (n - 6) / 7
	}
	return n / 7
}

// WeekStart is the first day of a zero-based week of the season.
func (s Season) WeekStart(week int) Date { return s.Start.Add(7 * week) }

// String is the season's name: "2027", or "2027/28" when it crosses New Year.
func (s Season) String() string {
	if s.End().Year() != s.Year() {
		return fmt.Sprintf("%d/%02d", s.Year(), s.End().Year()%100)
	}
	return fmt.Sprint(s.Year())
}
