package weather

import (
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// The rule for holes. Temperature: up to five missing days in a row are put in on a straight line
// between the days before and after, minimum and maximum apart; a longer hole stays, and the year
// that has it is dropped. Rain: up to three missing days in a row count as dry; a longer hole takes
// the rain of the same days in the nearest year that has them; a record without any rain counts as
// dry throughout and says so. Source: common practice; WMO-1203 (from memory) gives up a monthly mean
// where five days in a row are missing.
const (
	longestTemperatureHole = 5
	longestDryHole         = 3
	mostFilledDays         = 36 // a tenth of a year: with more put in, the year is dropped
)

// series is a record as plain numbers, holes filled by the rule; NaN where a hole stays.
type series struct {
	first          civil.Date
	min, max, rain []float32
	filled         []bool // temperature put in
	rainless       bool
	notes          []Note
}

var nan32 = float32(math.NaN())

// series fills the record's short holes.
func (r *Record) series() *series {
	s := &series{}
	if len(r.Days) == 0 {
		return s
	}
	s.first = r.Days[0].Date
	last := r.Days[len(r.Days)-1].Date
	n := int(last-s.first) + 1
	if n < len(r.Days) || n > 400*366 {
		return s // days out of order or absurd: nothing can be laid over a season
	}
	backing := make([]float32, 3*n)
	s.min, s.max, s.rain, s.filled = backing[:n:n], backing[n:2*n:2*n], backing[2*n:], make([]bool, n)
	for i := range backing {
		backing[i] = nan32
	}
	s.rainless = true
	for _, d := range r.Days {
		i := int(d.Date - s.first)
		if i < 0 || i >= n {
			continue
		}
		if d.HasTemp {
			s.min[i], s.max[i] = float32(d.Min), float32(d.Max)
		}
		if d.HasRain {
			s.rain[i], s.rainless = float32(d.Rain), false
		}
	}
	s.fillTemperature()
	s.fillRain()
	return s
}

// holes calls f for each run of NaN, from the first missing day to the one after the last.
func holes(values []float32, f func(from, to int)) {
	for i := 0; i < len(values); i++ {
		if values[i] == values[i] {
			continue
		}
		from := i
		for i < len(values) && values[i] != values[i] {
			i++
		}
		f(from, i)
	}
}

func (s *series) fillTemperature() {
	days, runs, long, longDays := 0, 0, 0, 0
	var firstFilled, firstLong int
	holes(s.min, func(from, to int) {
		if to-from > longestTemperatureHole || from == 0 || to == len(s.min) {
			if long == 0 {
				firstLong = from
			}
			long++
			longDays += to - from
			return
		}
		if runs == 0 {
			firstFilled = from
		}
		runs++
		days += to - from
		for i := from; i < to; i++ {
			share := float32(i-from+1) / float32(to-from+1)
			s.min[i] = s.min[from-1] + (s.min[to]-s.min[from-1])*share
			s.max[i] = s.max[from-1] + (s.max[to]-s.max[from-1])*share
			s.filled[i] = true
		}
	})
	if runs > 0 {
		s.note("filled", firstFilled, len(s.min)-1, fmt.Sprintf("%s of temperature in %s of at most %d days, first on %s, put in on a straight line between the days around.",
			plural(days, "missing day", "missing days"), plural(runs, "hole", "holes"), longestTemperatureHole, s.first.Add(firstFilled)))
	}
	if long > 0 {
		s.note("hole", firstLong, len(s.min)-1, fmt.Sprintf("%s of temperature in %s longer than %d days or at the record's ends, first from %s, stay empty.",
			plural(longDays, "missing day", "missing days"), plural(long, "hole", "holes"), longestTemperatureHole, s.first.Add(firstLong)))
	}
}

func (s *series) note(kind string, from, to int, says string) {
	s.notes = append(s.notes, Note{Kind: kind, From: s.first.Add(from), To: s.first.Add(to), Says: says})
}

func (s *series) fillRain() {
	n := len(s.rain)
	if s.rainless {
		clear(s.rain)
		s.note("no rain", 0, n-1, "The record has no rain at all: the sums of water are worked out as if none fell.")
		return
	}
	dry, borrowed, never, firstDry, firstBorrowed := 0, 0, 0, -1, -1
	original := append([]float32(nil), s.rain...)
	holes(original, func(from, to int) {
		if to-from <= longestDryHole {
			if firstDry < 0 {
				firstDry = from
			}
			dry += to - from
			clear(s.rain[from:to])
			return
		}
		if firstBorrowed < 0 {
			firstBorrowed = from
		}
		for i := from; i < to; i++ {
			v, ok := s.sameDayElsewhere(original, i)
			if !ok {
				never++
			}
			s.rain[i] = v
			borrowed++
		}
	})
	if dry > 0 {
		s.note("filled", firstDry, n-1, fmt.Sprintf("%s of rain in holes of at most %d days, first on %s, counted as dry.",
			plural(dry, "missing day", "missing days"), longestDryHole, s.first.Add(firstDry)))
	}
	if borrowed > 0 {
		says := fmt.Sprintf("%s of rain in longer holes, first from %s, taken from the same days of the nearest year that has them",
			plural(borrowed, "missing day", "missing days"), s.first.Add(firstBorrowed))
		if never > 0 {
			says += fmt.Sprintf(" (%d of them have none in any year and count as dry)", never)
		}
		s.note("filled", firstBorrowed, n-1, says+".")
	}
}

// sameDayElsewhere is the value on the same month and day of the nearest year, the later one first.
func (s *series) sameDayElsewhere(values []float32, i int) (float32, bool) {
	date := s.first.Add(i)
	year := date.Year()
	for distance := 1; distance <= len(values)/365+1; distance++ {
		for _, y := range [2]int{year + distance, year - distance} {
			if j := int(date.InYear(y) - s.first); j >= 0 && j < len(values) && values[j] == values[j] {
				return values[j], true
			}
		}
	}
	return 0, false
}

// Complete is the record with its short holes filled by the rule, and the notes that tell of it.
// Days in holes that stay keep HasTemp false.
func (r *Record) Complete() (*Record, []Note) {
	s := r.series()
	if len(s.min) == 0 {
		return r, nil
	}
	out := *r
	out.Days = make([]Day, len(s.min))
	for i := range out.Days {
		out.Days[i].Date = s.first.Add(i)
	}
	for _, d := range r.Days {
		out.Days[d.Date-s.first] = d
	}
	for i := range out.Days {
		d := out.Days[i]
		if !d.HasTemp && s.filled[i] {
			d.Min, d.Max, d.HasTemp, d.Filled = quantity.Celsius(s.min[i]), quantity.Celsius(s.max[i]), true, true
		}
		if !d.HasRain && !s.rainless {
			d.Rain, d.HasRain, d.Filled = quantity.Millimetre(s.rain[i]), true, true
		}
		out.Days[i] = d
	}
	return &out, s.notes
}
