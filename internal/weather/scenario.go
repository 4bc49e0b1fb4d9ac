package weather

import (
	"errors"
	"fmt"
	"strings"

	"kailyard/internal/civil"
)

const (
	fewestYears = 3  // with fewer usable years there are no chances to speak of
	coarseYears = 10 // with fewer, the chances are coarse
)

// ErrTooShort is a record with fewer than three usable years.
var ErrTooShort = errors.New("too few usable years")

// Scenarios lays every usable recorded year over a season: index 0 is lead days before the
// season's start and the run is lead + season.Days + tail days long. Short holes are filled by the
// stated rule (holes.go); a year whose season still has a hole, or in which more than 36 days had to
// be put in, is dropped; both are told in notes. At most limit years, the latest; 0 means all.
//
// A recorded day lies on the same month and day of the season. Where the season has a 29 February
// and the recorded year has none, 28 February is used twice; where only the recorded year has one, it
// is passed over.
//
// The days before the season's start and after its end come from the recorded years before and
// after. Where such a stretch is missing, or lies beyond the record, it is taken from the next recorded
// year that has the same calendar days, beginning again at the first used year after the last: so
// no year is lost for want of a follower.
func (r *Record) Scenarios(season civil.Season, lead, tail, limit int) (years []Scenario, notes []Note, err error) {
	if season.Days < 1 || season.Days > 366 || lead < 0 || tail < 0 || lead > 3660 || tail > 3660 {
		return nil, nil, fmt.Errorf("a season of %d days with %d before and %d after cannot be laid over a record; give 1–366 days and at most ten years around", season.Days, lead, tail)
	}
	s := r.series()
	notes = s.notes
	l := newLaying(s, season, lead, tail)
	usable, dropped := l.usableYears()
	if len(dropped) > 0 {
		notes = append(notes, droppedNote(season, dropped))
	}
	if limit > 0 && len(usable) > limit {
		usable = usable[len(usable)-limit:]
	}
	if len(usable) < fewestYears {
		return nil, notes, fmt.Errorf("%w: the record of %s has %s without a hole longer than %d days, and at least %d are needed; get a longer record, or use a built-in climate",
			ErrTooShort, r.stationName(), plural(len(usable), "year", "years"), longestTemperatureHole, fewestYears)
	}
	if len(usable) < coarseYears {
		notes = append(notes, Note{Kind: "few years", From: s.first, To: s.first.Add(len(s.min) - 1),
			Says: fmt.Sprintf("Only %d usable years: the chances are coarse (each year counts for %d %%). Ten years are a fair record, thirty a good one.", len(usable), 100/len(usable))})
	}
	years = make([]Scenario, len(usable))
	var borrowed []string
	for i, year := range usable {
		var from string
		years[i], from = l.lay(year, usable)
		if from != "" {
			borrowed = append(borrowed, from)
		}
	}
	if len(borrowed) > 0 {
		notes = append(notes, Note{Kind: "continued", From: s.first, To: s.first.Add(len(s.min) - 1),
			Says: "Where the record has no days before or after a year, another year's same days stand in: " + strings.Join(borrowed[:min(len(borrowed), 6)], "; ") + andMore(len(borrowed)-6) + "."})
	}
	return years, notes, nil
}

func andMore(n int) string {
	if n <= 0 {
		return ""
	}
	return fmt.Sprintf("; and %d more", n)
}

func (r *Record) stationName() string {
	for _, name := range []string{r.Station.Name, r.Station.ID} {
		if name != "" {
			return name
		}
	}
	return "this station"
}

func droppedNote(season civil.Season, dropped []int) Note {
	names := make([]string, len(dropped))
	for i, y := range dropped {
		names[i] = civil.Season{Start: season.Start.InYear(y), Days: season.Days}.String()
	}
	return Note{Kind: "year dropped", From: season.Start.InYear(dropped[0]), To: season.Start.InYear(dropped[len(dropped)-1]).Add(season.Days - 1),
		Says: fmt.Sprintf("%s not used because more than %d days in a row, or more than %d in all, have no temperature: %s.",
			plural(len(dropped), "year is", "years are"), longestTemperatureHole, mostFilledDays, strings.Join(names, ", "))}
}

// laying is the map from the days of a run to the days of a recorded year.
type laying struct {
	s        *series
	season   civil.Season
	start    civil.Date // of index 0
	pieces   []piece
	core     piece
	newYears map[int]int // index of 1 January in the series, by year; may lie outside it
	firstY   int
	lastY    int
}

// piece is a stretch of the run that lies in one recorded season: years is how many seasons after
// (or, negative, before) the one planned; yearOf and dayOf give for each day how many calendar
// years after the season's start year it lies and its day in a leap year (0–365).
type piece struct {
	from, to, years int
	yearOf          []int8
	dayOf           []int16
}

const leapDay = 59 // 29 February, counted from 0 in a leap year

func newLaying(s *series, season civil.Season, lead, tail int) *laying {
	l := &laying{s: s, season: season, start: season.Start.Add(-lead), newYears: map[int]int{}}
	total := lead + season.Days + tail
	for from := 0; from < total; {
		years, end := l.seasonOf(l.start.Add(from))
		to := min(total, int(end-l.start))
		p := piece{from: from, to: to, years: years, yearOf: make([]int8, to-from), dayOf: make([]int16, to-from)}
		for i := range p.dayOf {
			date := l.start.Add(from + i)
			p.yearOf[i] = int8(date.Year() - season.Year() - years)
			p.dayOf[i] = int16(dayInLeapYear(date))
		}
		if years == 0 {
			l.core = p
		} else {
			l.pieces = append(l.pieces, p)
		}
		from = to
	}
	if len(s.min) > 0 {
		l.firstY, l.lastY = s.first.Year(), s.first.Add(len(s.min)-1).Year()
		for y := l.firstY - 12; y <= l.lastY+12; y++ {
			l.newYears[y] = int(civil.Of(y, 1, 1) - s.first)
		}
	}
	return l
}

// seasonOf counts seasons from the planned one to the one that holds a date, and says when the next begins.
func (l *laying) seasonOf(date civil.Date) (years int, end civil.Date) {
	if l.season.Span().Has(date) {
		return 0, l.season.Start.Add(l.season.Days)
	}
	begin := func(years int) civil.Date { return l.season.Start.InYear(l.season.Year() + years) }
	if date > l.season.Start {
		for years = 1; begin(years+1) <= date; years++ {
		}
		return years, begin(years + 1)
	}
	for years = -1; begin(years) > date; years-- {
	}
	return years, begin(years + 1)
}

func dayInLeapYear(date civil.Date) int {
	n := date.YearDay() - 1
	if !civil.Leap(date.Year()) && n >= leapDay {
		n++
	}
	return n
}

// index is the place in the series of a day of a piece laid on a recorded season; −1 where the
// record does not reach.
func (l *laying) index(p *piece, i, year int) int {
	y := year + int(p.yearOf[i])
	newYear, known := l.newYears[y]
	if !known {
		return -1
	}
	n := int(p.dayOf[i])
	if n >= leapDay && !civil.Leap(y) {
		n--
	}
	if n += newYear; n < 0 || n >= len(l.s.min) {
		return -1
	}
	return n
}

// has says whether every day of a piece is there in a recorded season.
func (l *laying) has(p *piece, year int) bool {
	filled := 0
	for i := range p.dayOf {
		n := l.index(p, i, year)
		if n < 0 || l.s.min[n] != l.s.min[n] {
			return false
		}
		if l.s.filled[n] {
			filled++
		}
	}
	return filled <= mostFilledDays
}

// usableYears are the recorded seasons that are whole, and those dropped though the record reaches over them.
func (l *laying) usableYears() (usable, dropped []int) {
	if len(l.s.min) == 0 {
		return nil, nil
	}
	for y := l.firstY - 1; y <= l.lastY; y++ {
		switch {
		case l.has(&l.core, y):
			usable = append(usable, y)
		case l.index(&l.core, 0, y) >= 0 && l.index(&l.core, len(l.core.dayOf)-1, y) >= 0:
			dropped = append(dropped, y)
		}
	}
	return usable, dropped
}

// lay makes one scenario, and says where a stretch comes from another year than it should.
func (l *laying) lay(year int, usable []int) (Scenario, string) {
	n := l.core.to - l.core.from
	for _, p := range l.pieces {
		n += p.to - p.from
	}
	backing := make([]float32, 3*n)
	c := Scenario{Year: year, Start: l.start, Min: backing[:n:n], Max: backing[n : 2*n : 2*n], Rain: backing[2*n:]}
	l.copy(&c, &l.core, year)
	borrowed := ""
	for i := range l.pieces {
		p := &l.pieces[i]
		from := l.follower(p, year+p.years, usable)
		if from != year+p.years && borrowed == "" {
			side := "after"
			if p.years < 0 {
				side = "before"
			}
			borrowed = fmt.Sprintf("%s %d stands %d", side, year, from)
		}
		l.copy(&c, p, from)
	}
	return c, borrowed
}

// follower is the recorded season a piece is taken from: the one asked for if it is whole, else the
// next that is, beginning again at the first used year.
func (l *laying) follower(p *piece, wanted int, usable []int) int {
	first, last := usable[0], usable[len(usable)-1]
	for y := wanted; y <= last+1; y++ {
		if l.has(p, y) {
			return y
		}
	}
	for y := first; y < wanted && y <= last; y++ {
		if l.has(p, y) {
			return y
		}
	}
	return first // a used year is whole, so this cannot be reached unless the piece outlasts a season
}

func (l *laying) copy(c *Scenario, p *piece, year int) {
	for i := range p.dayOf {
		if n := l.index(p, i, year); n >= 0 {
			c.Min[p.from+i], c.Max[p.from+i], c.Rain[p.from+i] = l.s.min[n], l.s.max[n], l.s.rain[n]
		}
	}
}
