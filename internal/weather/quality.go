package weather

import "kailyard/internal/civil"

// Quality is how whole a record is.
type Quality struct {
	First, Last    civil.Date
	Days           int        // from the first to the last
	NoTemperature  int        // days measured without a minimum and a maximum, after the checks
	NoRain         int        //
	FilledDays     int        // of NoTemperature, put in by the rule for short holes
	LongestHole    int        // days in a row without temperature
	LongestFrom    civil.Date // its first day
	ByYear         []YearQuality
	Swapped, Doubt int // remarks on columns exchanged, and on values left out or doubted
}

// YearQuality is one calendar year of a record.
type YearQuality struct{ Year, Days, NoTemperature, Filled, NoRain int }

// Quality counts what is missing, filled and doubted in a record.
func (r *Record) Quality() Quality {
	var q Quality
	for _, n := range r.Notes {
		switch n.Kind {
		case "swapped":
			q.Swapped++
		case "implausible", "doubtful", "flagged", "repeated":
			q.Doubt++
		}
	}
	s := r.series()
	if len(s.min) == 0 {
		return q
	}
	q.First, q.Last, q.Days = s.first, s.first.Add(len(s.min)-1), len(s.min)
	measured, rained := make([]bool, q.Days), make([]bool, q.Days)
	for _, d := range r.Days {
		measured[d.Date-s.first], rained[d.Date-s.first] = d.HasTemp, d.HasRain
	}
	run := 0
	for i := range measured {
		date := s.first.Add(i)
		if n := len(q.ByYear); n == 0 || q.ByYear[n-1].Year != date.Year() {
			q.ByYear = append(q.ByYear, YearQuality{Year: date.Year()})
		}
		y := &q.ByYear[len(q.ByYear)-1]
		y.Days++
		if !rained[i] {
			y.NoRain++
			q.NoRain++
		}
		if measured[i] {
			run = 0
			continue
		}
		y.NoTemperature++
		q.NoTemperature++
		if s.filled[i] {
			y.Filled++
			q.FilledDays++
		}
		if run++; run > q.LongestHole {
			q.LongestHole, q.LongestFrom = run, date.Add(1-run)
		}
	}
	return q
}
