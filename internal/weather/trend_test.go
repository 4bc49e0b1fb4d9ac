package weather

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The worked example of SEN-1968: seven points, slope 4, and at 93 % confidence 26/7 to 35/8. (The paper's own
// list of slopes has slips; these limits are those that SciPy's theilslopes test and R's deming::thielsen
// test give for the same data. Exact.)
func TestTrendOfSensExample(t *testing.T) {
	x := []int{1, 2, 3, 4, 10, 12, 18}
	y := []float64{9, 15, 19, 20, 45, 55, 78}
	var readings []Reading
	for i := range x {
		readings = append(readings, Reading{Year: x[i], Value: y[i]})
	}
	got, ok := TrendOf(readings, 0.93)
	if !ok || !near(got.Slope, 4, 1e-12) || !near(got.Low, 26.0/7, 1e-12) || !near(got.High, 35.0/8, 1e-12) {
		t.Errorf("slope %v, %v to %v", got.Slope, got.Low, got.High)
	}
	if intercept := got.Middle - got.Slope*got.MidYear; !near(intercept, 6, 1e-12) {
		t.Errorf("intercept %v; the median of y − 4x is 6", intercept)
	}
	if got.Sum != 21 {
		t.Errorf("every pair rises: S = 21, got %d", got.Sum)
	}
}

// The Mann–Kendall example with ties of EPA-G9S, p. 109: S = 22, var S = 155.33, z = 1.685.
// Printed digits.
func TestTrendOfEPAExample(t *testing.T) {
	values := []float64{10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15}
	var readings []Reading
	for i, v := range values {
		readings = append(readings, Reading{Year: 2000 + i, Value: v})
	}
	got, _ := TrendOf(readings, 0.95)
	if got.Sum != 22 || !near(got.Variance, 155.33, 0.005) || !near(got.Score, 1.685, 0.0005) {
		t.Errorf("S %d, variance %v, z %v", got.Sum, got.Variance, got.Score)
	}
	// Two-sided normal probability of 1.685: twice 0.0460 (NIST/SEMATECH table of the normal, 1.68: .0465, 1.69: .0455).
	if got.Chance < 2*0.0455 || got.Chance > 2*0.0465 || got.Plain() {
		t.Errorf("chance %v", got.Chance)
	}
}

// Laws: shifting the years or the values moves nothing but the level; turning time round turns the sign;
// a straight line is found exactly and its interval is a point; scaling scales.
func TestTrendLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 40).Draw(t, "n")
		slope := float64(rapid.IntRange(-20, 20).Draw(t, "slope"))
		var line, cloud, moved, back []Reading
		for i := range n {
			v := float64(rapid.IntRange(-50, 50).Draw(t, "v"))
			line = append(line, Reading{Year: 1990 + i, Value: 3 + slope*float64(i)})
			cloud = append(cloud, Reading{Year: 1990 + i, Value: v})
			moved = append(moved, Reading{Year: 2190 + i, Value: 2*v + 7})
			back = append(back, Reading{Year: -i, Value: v})
		}
		a, _ := TrendOf(line, 0.95)
		if !near(a.Slope, slope, 1e-9) || a.Bounded && (!near(a.Low, slope, 1e-9) || !near(a.High, slope, 1e-9)) {
			t.Errorf("a line of slope %v has %+v", slope, a)
		}
		b, _ := TrendOf(cloud, 0.95)
		c, _ := TrendOf(moved, 0.95)
		d, _ := TrendOf(back, 0.95)
		if c.Sum != b.Sum || !near(c.Slope, 2*b.Slope, 1e-9) || !near(c.High, 2*b.High, 1e-9) || !near(c.Chance, b.Chance, 1e-12) {
			t.Errorf("moved and doubled: %+v and %+v", b, c)
		}
		if d.Sum != -b.Sum || !near(d.Slope, -b.Slope, 1e-9) || !near(d.Low, -b.High, 1e-9) {
			t.Errorf("turned round: %+v and %+v", b, d)
		}
		if b.Bounded && !(b.Low <= b.Slope && b.Slope <= b.High) {
			t.Errorf("the slope lies outside its interval: %+v", b)
		}
		if b.Chance < 0 || b.Chance > 1 {
			t.Errorf("a chance of %v", b.Chance)
		}
	})
}

func TestTrendEdges(t *testing.T) {
	if _, ok := TrendOf(nil, 0.95); ok {
		t.Error("no readings have a trend")
	}
	same := []Reading{{Year: 2001, Value: 4}, {Year: 2001, Value: 5}}
	if _, ok := TrendOf(same, 0.95); ok {
		t.Error("one year has a trend")
	}
	var flat []Reading
	for y := range 30 {
		flat = append(flat, Reading{Year: y, Value: 7})
	}
	if got, ok := TrendOf(flat, 0.95); !ok || got.Slope != 0 || got.Chance != 1 || got.Plain() {
		t.Errorf("a level record: %+v", got)
	}
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }
