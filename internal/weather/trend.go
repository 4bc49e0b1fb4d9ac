package weather

import (
	"math"
	"slices"
)

// Reading is one year's value of a figure.
type Reading struct {
	Year  int
	Value float64
}

// Trend is how a figure moves over the years.
type Trend struct {
	Years     int     // readings it rests on
	Slope     float64 // per year: the median of the slopes of all pairs of years
	Low, High float64 // the slope's confidence interval
	Bounded   bool    // whether there are enough years for that interval
	Middle    float64 // the line's value in the middle of the years: the median of value − slope·(year − mid)
	MidYear   float64
	Sum       int     // Kendall's S: pairs of years that rise less pairs that fall
	Variance  float64 // of S, ties allowed for
	Score     float64 // S in standard deviations, brought one nearer to zero
	Chance    float64 // 0–1, of an |S| as large where nothing moves
}

// fewestReadings is where the normal approximation of S begins to hold. Source: GILBERT-1987 (more than ten).
const fewestReadings = 11

// TrendOf is the Theil–Sen slope of yearly readings, its interval from the ranks of Kendall's S, and the
// Mann–Kendall test. Neither asks for a normal spread, and one odd year hardly moves them. Both take the
// years as independent of each other. The years need not follow each other without a gap.
//
// The interval runs from the k-th smallest to the k-th largest of the N pair slopes, with
// k = ⌊(N − z·√var S)/2⌋; rounding down never makes it narrower than asked.
//
//	readings    any order, each year once
//	confidence  0–1, of the interval; 0.95 is customary
//	result      units of the readings per year; false with fewer than two readings
//
// Source: SEN-1968; MANN-1945 and KENDALL-1975 for S, its variance with ties and its score; GILBERT-1987 ch. 16
// for the ranks. Below eleven readings the chance and the interval are rough.
func TrendOf(readings []Reading, confidence float64) (Trend, bool) {
	list := slices.Clone(readings)
	slices.SortFunc(list, func(a, b Reading) int { return a.Year - b.Year })
	t := Trend{Years: len(list)}
	var slopes []float64
	for i, a := range list {
		for _, b := range list[i+1:] {
			if a.Year == b.Year {
				continue
			}
			slopes = append(slopes, (b.Value-a.Value)/float64(b.Year-a.Year))
			t.Sum += sign(b.Value - a.Value)
		}
	}
	if len(slopes) == 0 {
		return t, false
	}
	slices.Sort(slopes)
	t.Slope = median(slopes)
	t.Variance = kendallVariance(list)
	if t.Variance > 0 {
		t.Score = float64(t.Sum-sign(float64(t.Sum))) / math.Sqrt(t.Variance)
	}
	t.Chance = math.Erfc(math.Abs(t.Score) / math.Sqrt2)
	reach := math.Sqrt2 * math.Erfinv(min(max(confidence, 0), 1)) * math.Sqrt(t.Variance)
	if k := int(math.Floor((float64(len(slopes)) - reach) / 2)); k >= 1 {
		t.Low, t.High, t.Bounded = slopes[k-1], slopes[len(slopes)-k], true
	}
	t.MidYear = float64(list[0].Year+list[len(list)-1].Year) / 2
	levels := make([]float64, len(list))
	for i, r := range list {
		levels[i] = r.Value - t.Slope*(float64(r.Year)-t.MidYear)
	}
	slices.Sort(levels)
	t.Middle = median(levels)
	return t, true
}

// Enough says whether there are years enough to speak of a trend at all.
func (t Trend) Enough() bool { return t.Years >= fewestReadings && t.Bounded }

// Plain says whether chance alone would give so steady a movement in fewer than one of twenty records.
func (t Trend) Plain() bool { return t.Enough() && t.Chance < 0.05 }

// kendallVariance is the variance of S for readings some of which are equal.
func kendallVariance(list []Reading) float64 {
	part := func(n int) float64 { return float64(n) * float64(n-1) * float64(2*n+5) }
	count := map[float64]int{}
	for _, r := range list {
		count[r.Value]++
	}
	v := part(len(list))
	for _, tied := range count {
		v -= part(tied)
	}
	return v / 18
}

// median of sorted values, the mean of the middle two where their number is even.
func median(sorted []float64) float64 {
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

func sign(v float64) int {
	switch {
	case v > 0:
		return 1
	case v < 0:
		return -1
	}
	return 0
}
