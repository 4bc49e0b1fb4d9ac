package weather

import "math"

// monthLength is the length of each month, February with its mean.
var monthLength = [12]float64{31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// monthStart is the first day of each month in a leap year, from 0; the thirteenth entry is its length.
var monthStart = [13]int{0, 31, 60, 91, 121, 152, 182, 213, 244, 274, 305, 335, 366}

// curve is a smooth yearly course, one value a day, whose mean over each month is the value given.
// Through the middles of the months goes a periodic cubic (each slope from the two neighbours); the
// values it goes through are then moved until the means agree.
func curve(means [12]float64) [366]float64 {
	knots := means
	var out [366]float64
	for range 50 {
		interpolate(&knots, &out)
		worst := 0.0
		for m := range means {
			miss := means[m] - meanOf(&out, m)
			knots[m] += miss
			worst = math.Max(worst, math.Abs(miss))
		}
		if worst < 1e-9 {
			break
		}
	}
	return out
}

func meanOf(values *[366]float64, month int) float64 {
	sum := 0.0
	for d := monthStart[month]; d < monthStart[month+1]; d++ {
		sum += values[d]
	}
	return sum / float64(monthStart[month+1]-monthStart[month])
}

// monthOfLeapDay is the month, from 0, of a day of a leap year, from 0.
func monthOfLeapDay(day int) int {
	for m := 11; ; m-- {
		if day >= monthStart[m] {
			return m
		}
	}
}

func interpolate(knots *[12]float64, out *[366]float64) {
	var at [12]float64
	for m := range at {
		at[m] = float64(monthStart[m]+monthStart[m+1]-1) / 2
	}
	slope := func(m int) float64 {
		before, after := (m+11)%12, (m+1)%12
		gap := at[after] - at[before]
		if gap < 0 {
			gap += 366
		}
		return (knots[after] - knots[before]) / gap
	}
	for m := range knots {
		next := (m + 1) % 12
		gap := at[next] - at[m]
		if gap < 0 {
			gap += 366
		}
		s0, s1 := slope(m)*gap, slope(next)*gap
		for d := int(math.Ceil(at[m])); float64(d) < at[m]+gap; d++ {
			t := (float64(d) - at[m]) / gap
			h := t * t * (3 - 2*t)
			out[d%366] = knots[m]*(1-h) + knots[next]*h + s0*t*(1-t)*(1-t) - s1*t*t*(1-t)
		}
	}
}

// withoutTrend takes the rise of the mean within a month out of the standard deviation of its days.
func withoutTrend(sd float64, means *[366]float64, month int) float64 {
	mean, square := meanOf(means, month), 0.0
	for d := monthStart[month]; d < monthStart[month+1]; d++ {
		square += (means[d] - mean) * (means[d] - mean)
	}
	trend := square / float64(monthStart[month+1]-monthStart[month])
	return math.Sqrt(math.Max(sd*sd-trend, 0.04*sd*sd))
}
