package weather

import (
	"math"

	"kailyard/internal/quantity"
)

// Normal is one month over the years.
type Normal struct {
	Month        int
	Min, Max     quantity.Celsius    // means
	MinSD, MaxSD quantity.Celsius    // of daily values
	Rain         quantity.Millimetre // mean total
	WetDays      float64             // mean days with at least 1 mm
	Years        int
}

// A month counts towards its normal when at most this many of its days are missing.
// Source: WMO-1203 (from memory: eleven or more, or five in a row, and it is not used).
const mostMissingInMonth = 10

// wetMM is the rain from which a day is called wet. Source: WMO-1203.
const wetMM = 1.0

// monthSum gathers one calendar month of one year, or of all of them.
type monthSum struct {
	days, rainDays, wet int
	min, max, rain      float64
	minSquare           float64
	maxSquare           float64
}

// Normals are the monthly figures of a record: means over the years of the monthly means, standard
// deviations of all daily values about the month's mean, and mean totals of rain and of wet days
// (those with holes brought up to the whole month).
func (r *Record) Normals() [12]Normal {
	byMonth := r.monthSums()
	var out [12]Normal
	for m := range out {
		n := &out[m]
		n.Month = m + 1
		var all monthSum
		rainYears := 0
		for _, s := range byMonth[m] {
			length := float64(s.length)
			if s.length-s.days <= mostMissingInMonth {
				n.Years++
				n.Min += quantity.Celsius(s.min / float64(s.days))
				n.Max += quantity.Celsius(s.max / float64(s.days))
				all.add(s.monthSum)
			}
			if s.length-s.rainDays <= mostMissingInMonth {
				rainYears++
				n.Rain += quantity.Millimetre(s.rain * length / float64(s.rainDays))
				n.WetDays += float64(s.wet) * length / float64(s.rainDays)
			}
		}
		if n.Years > 0 {
			n.Min /= quantity.Celsius(n.Years)
			n.Max /= quantity.Celsius(n.Years)
			n.MinSD = deviation(all.min, all.minSquare, all.days)
			n.MaxSD = deviation(all.max, all.maxSquare, all.days)
		}
		if rainYears > 0 {
			n.Rain /= quantity.Millimetre(rainYears)
			n.WetDays /= float64(rainYears)
		}
	}
	return out
}

type oneMonth struct {
	monthSum
	length int
}

func (r *Record) monthSums() [12][]oneMonth {
	var byMonth [12][]oneMonth
	var current *oneMonth
	year, month := 0, 0
	for _, d := range r.Days {
		y, m, _ := d.Date.Time().Date()
		if current == nil || y != year || int(m) != month {
			year, month = y, int(m)
			byMonth[month-1] = append(byMonth[month-1], oneMonth{length: daysIn(year, month)})
			current = &byMonth[month-1][len(byMonth[month-1])-1]
		}
		current.day(d)
	}
	return byMonth
}

func (s *monthSum) day(d Day) {
	if d.HasTemp {
		low, high := float64(d.Min), float64(d.Max)
		s.days++
		s.min += low
		s.max += high
		s.minSquare += low * low
		s.maxSquare += high * high
	}
	if d.HasRain {
		s.rainDays++
		s.rain += float64(d.Rain)
		if d.Rain >= wetMM {
			s.wet++
		}
	}
}

func (s *monthSum) add(o monthSum) {
	s.days += o.days
	s.min += o.min
	s.max += o.max
	s.minSquare += o.minSquare
	s.maxSquare += o.maxSquare
}

// deviation is the sample standard deviation from a sum and a sum of squares.
func deviation(sum, square float64, n int) quantity.Celsius {
	if n < 2 {
		return 0
	}
	variance := (square - sum*sum/float64(n)) / float64(n-1)
	return quantity.Celsius(math.Sqrt(max(0, variance)))
}
