package soil

import (
	"math"
	"testing"

	"kailyard/internal/crop"
)

// TestPHFactor: relative yields of seven field crops at pH 4.7, 5.0, 5.7, 6.8 and 7.5, Ohio Agricultural Experiment Station,
// Special Circular 53 (1938), as USDA's soil quality sheet on pH repeats it (from memory), with the ranges extension
// lists give. The rule is one straight line for all, so it is held to a root mean square error of 0.2 and no bias over 0.05.
func TestPHFactor(t *testing.T) {
	at := []float64{4.7, 5.0, 5.7, 6.8, 7.5}
	var square, sum float64
	n := 0.0
	for _, row := range []struct {
		name      string
		low, high float64
		yield     []float64
	}{
		{"corn", 5.8, 7.0, []float64{34, 73, 83, 100, 85}}, {"wheat", 5.5, 7.0, []float64{68, 76, 89, 100, 99}},
		{"oats", 5.0, 7.0, []float64{77, 93, 99, 98, 100}}, {"barley", 6.0, 7.5, []float64{0, 23, 80, 95, 100}},
		{"alfalfa", 6.5, 7.5, []float64{2, 9, 42, 100, 100}}, {"soybean", 6.0, 7.0, []float64{65, 79, 80, 100, 93}},
		{"timothy", 5.5, 7.0, []float64{31, 47, 66, 100, 95}},
	} {
		for i, ph := range at {
			d := PHFactor(crop.Range{Low: row.low, High: row.high}, ph) - row.yield[i]/100
			square, sum, n = square+d*d, sum+d, n+1
		}
	}
	rmse, bias := math.Sqrt(square/n), sum/n
	t.Logf("root mean square error %.3f, bias %+.3f", rmse, bias)
	if rmse > 0.2 || math.Abs(bias) > 0.05 {
		t.Errorf("root mean square error %.3f, bias %+.3f", rmse, bias)
	}
	if PHFactor(crop.Range{}, 4) != 1 || PHFactor(crop.Range{Low: 6, High: 7}, 3) != leastFactor || PHFactor(crop.Range{Low: 6, High: 7}, 6.5) != 1 {
		t.Error("ends")
	}
}
