package weather

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// residualsOf are a record's distances from its smooth means of the day, in °C, and their normal scores: by rank within
// the calendar month, (i − ½)/n. Days without temperatures are NaN.
func residualsOf(r *Record, of func(Day) float64, means func(Normal) float64) (away, scores []float64, byMonth [12][]float64) {
	var monthly [12]float64
	for m, n := range r.Normals() {
		monthly[m] = means(n)
	}
	course := curve(monthly)
	away, scores = make([]float64, len(r.Days)), make([]float64, len(r.Days))
	var days [12][]int
	for i, d := range r.Days {
		away[i], scores[i] = math.NaN(), math.NaN()
		if d.HasTemp {
			away[i] = of(d) - course[dayInLeapYear(d.Date)]
			m := int(d.Date.Month()) - 1
			days[m] = append(days[m], i)
		}
	}
	for m, list := range days {
		slices.SortStableFunc(list, func(a, b int) int { return int(math.Copysign(1, away[a]-away[b])) })
		for k, i := range list {
			scores[i] = math.Sqrt2 * math.Erfinv(2*(float64(k)+0.5)/float64(len(list))-1)
			byMonth[m] = append(byMonth[m], away[i])
		}
	}
	return away, scores, byMonth
}

func minOf(d Day) float64 { return float64(d.Min) }
func maxOf(d Day) float64 { return float64(d.Max) }

// measuredShape is the shape of a record, as the figures of shapes.toml were computed.
func measuredShape(r *Record) *Shape {
	s := &Shape{}
	_, lows, lowMonths := residualsOf(r, minOf, func(n Normal) float64 { return float64(n.Min) })
	_, highs, highMonths := residualsOf(r, maxOf, func(n Normal) float64 { return float64(n.Max) })
	for m := range 12 {
		for k := range knots {
			s.Min[k][m], s.Max[k][m] = knotOf(lowMonths[m], k), knotOf(highMonths[m], k)
		}
		in := func(d Day) bool { return int(d.Date.Month())-1 == m }
		s.Links[m] = links{correlation(r, highs, lows, 0, in), correlation(r, highs, highs, 1, in), correlation(r, highs, lows, 1, in),
			correlation(r, lows, highs, 1, in), correlation(r, lows, lows, 1, in)}
	}
	always := func(Day) bool { return true }
	for _, scores := range [][]float64{lows, highs} { // what is left of the correlation where the fast part has none
		s.SlowShare += (correlation(r, scores, scores, 20, always) + correlation(r, scores, scores, 30, always)) / (math.Exp(-20/slowDays) + math.Exp(-30/slowDays)) / 2
	}
	s.SlowShare = max(0.01, s.SlowShare)
	return s
}

// knotOf is the value of an ascending list at a knot: straight between the plotting positions (i − ½)/n.
func knotOf(values []float64, k int) float64 {
	last := float64(len(values) - 1)
	at := float64(len(values))*math.Erfc(-knotScores[k]/math.Sqrt2)/2 - 0.5
	switch k {
	case 0:
		at = 0
	case knots - 1:
		at = last
	}
	at = max(0, min(last, at))
	i := min(int(at), len(values)-2)
	return values[i] + (at-float64(i))*(values[i+1]-values[i])
}

// correlation is that of a day's scores with others of so many days before, over the days asked for.
func correlation(r *Record, a, before []float64, lag int, in func(Day) bool) float64 {
	var ab, aa, bb float64
	for i := lag; i < len(a); i++ {
		x, y := a[i], before[i-lag]
		if !in(r.Days[i]) || math.IsNaN(x) || math.IsNaN(y) || r.Days[i].Date.Since(r.Days[i-lag].Date) != lag {
			continue
		}
		ab, aa, bb = ab+x*y, aa+x*x, bb+y*y
	}
	return ab / math.Sqrt(aa*bb)
}

// Laws of a course: its mean over a standard normal score is 0 (summed over the density), it never falls with the score, and
// beyond the outermost knots it stays at the lowest and highest of its months.
func TestCourseHasItsLaws(t *testing.T) {
	for _, place := range Climates() {
		if place.Shape == nil {
			continue
		}
		for _, monthly := range [][knots][12]float64{place.Shape.Min, place.Shape.Max} {
			c := courseOf(monthly)
			for d := 0; d < 366; d += 7 {
				weight, mean, before := 0.0, 0.0, math.Inf(-1)
				for z := -6.0; z <= 6; z += 0.005 {
					w, x := math.Exp(-z*z/2), c.at(d, z)
					weight, mean = weight+w, mean+w*x
					if x < before {
						t.Fatalf("%s day %d: falls at %g", place.ID, d, z)
					}
					before = x
				}
				if math.Abs(mean/weight) > 1e-3 {
					t.Errorf("%s day %d: mean %g", place.ID, d, mean/weight)
				}
				if c.at(d, -9) != c.at(d, -widestScore) || c.at(d, 9) != c.at(d, widestScore) {
					t.Errorf("%s day %d: goes on beyond what was measured", place.ID, d)
				}
			}
		}
	}
}

// The scores of the knots are those of printed tables of the normal distribution.
func TestKnotScores(t *testing.T) {
	for k, share := range map[int]float64{1: 0.01, 2: 0.05, 3: 0.25, 4: 0.5, 5: 0.75, 6: 0.95, 7: 0.99} {
		if got := math.Erfc(-knotScores[k]/math.Sqrt2) / 2; math.Abs(got-share) > 1e-5 {
			t.Errorf("knot %d stands at %.5f", k, got)
		}
	}
}

// Shapes that cannot be are refused with the place and the reason.
func TestShapesAreChecked(t *testing.T) {
	for text, says := range map[string]string{
		"[[shape]]\nid = \"atlantis\"":                                                      "no place",
		"[[shape]]\nid = \"oxford\"\nlike = \"braemar\"":                                    "which has none",
		"[[shape]]\nid = \"oxford\"\nmin_c = [[1.0]]":                                       "1 rows",
		strings.Replace(shapesText, "same_day = [0.", "same_day = [1.", 1):                  "no weather has",
		strings.Replace(shapesText, "id = \"burlington\"", "id = \"burlington\"\nx = 1", 1): "",
	} {
		places := Climates()
		for i := range places {
			places[i].Shape = nil
		}
		if err := giveShapes(places, text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%.60q: %v", text, err)
		}
	}
}
