package weather

import (
	"time"

	"kailyard/internal/civil"
)

// YearMeans are the mean air temperatures, °C, of the season's days in each recorded year; a day's mean is that
// of its minimum and maximum. The days of the season itself are never borrowed from another year.
func YearMeans(season civil.Season, lead int, years []Scenario) []Reading {
	var out []Reading
	for _, y := range years {
		sum := 0.0
		for i := lead; i < lead+season.Days; i++ {
			sum += (float64(y.Min[i]) + float64(y.Max[i])) / 2
		}
		out = append(out, Reading{y.Year, sum / float64(season.Days)})
	}
	return out
}

// A quarter of the year counts when at most this many of its days have no temperature, after short holes are filled.
const mostMissingInQuarter = 9

// QuarterMeans are the mean air temperatures, °C, of December to February, March to May, June to August and
// September to November, year by year from the first to the last given. December belongs to the quarter of
// the January after it.
func (r *Record) QuarterMeans(first, last int) [4][]Reading {
	complete, _ := r.Complete()
	type sum struct {
		days int
		mean float64
	}
	sums := map[[2]int]sum{}
	for _, d := range complete.Days {
		if !d.HasTemp {
			continue
		}
		year, month, _ := d.Date.Time().Date()
		if month == time.December {
			year++
		}
		key := [2]int{year, int(month) % 12 / 3}
		s := sums[key]
		s.days++
		s.mean += (float64(d.Min) + float64(d.Max)) / 2
		sums[key] = s
	}
	var out [4][]Reading
	for q := range out {
		for year := first; year <= last; year++ {
			if s := sums[[2]int{year, q}]; s.days >= quarterDays(year, q)-mostMissingInQuarter {
				out[q] = append(out[q], Reading{year, s.mean / float64(s.days)})
			}
		}
	}
	return out
}

func quarterDays(year, quarter int) int {
	from := civil.Of(year, 3*quarter, 1) // month 0 is the December before
	return int(civil.Of(year, 3*quarter+3, 1) - from)
}
