package growth

import (
	"math"
	"testing"
)

// kingston is what the US Climate Reference Network's probes near Kingston, Rhode Island measured on
// each day from 17 March to 8 June 2020: the air's minimum and maximum and the soil's mean at 10 cm,
// °C. The station took no part in fitting the filter. Source: CRN-2020 (US government work, public domain).
var kingston = [][3]float32{
	{0.9, 8.7, 5.1}, {-3.9, 10.3, 5.2}, {5.3, 9, 6}, {5.3, 18, 7}, {-1.4, 17.1, 7.6}, {-2.9, 4.6, 5.4},
	{-0.4, 6.8, 4.4}, {1.1, 10.9, 5.4}, {0.5, 6.2, 5.2}, {1, 12.4, 5.4}, {0.6, 17.8, 6.8}, {-2.7, 10.4, 5.9},
	{5.2, 7.6, 6.4}, {3.3, 8, 6.3}, {-2.1, 8.1, 6.4}, {-2.7, 7.3, 5.4}, {4, 12.3, 5.9}, {5.1, 8.2, 6.3},
	{1.1, 11.1, 6.7}, {3.1, 10.7, 7.2}, {1.1, 15.3, 8.1}, {1.6, 17.1, 8.4}, {2, 10.3, 8.4}, {1.2, 10.9, 7.2},
	{2.9, 10, 6.5}, {-2.2, 11.2, 6.5}, {-4.1, 13.3, 6.6}, {11.1, 15, 8.8}, {6.7, 14.2, 9.6}, {-1.8, 11.5, 9.2},
	{-2.8, 9.1, 7.5}, {-2.1, 8.9, 6.9}, {-1.2, 4.7, 6.6}, {-2.8, 13.3, 6.6}, {-1.7, 11.5, 7.8}, {-3.3, 9.6, 6.4},
	{-0.1, 8.4, 6.1}, {-4.3, 10, 6}, {1.3, 7.2, 6.6}, {-1.6, 16, 7.4}, {3.1, 11.5, 7.8}, {3.3, 6.6, 7.2},
	{0.5, 14, 7.4}, {-1.5, 14.5, 8}, {6.4, 10.5, 8.4}, {8.3, 19.2, 9.9}, {8.3, 21.2, 11}, {10.6, 20.5, 12.3},
	{8.2, 21.9, 12.9}, {4.6, 15.4, 11.9}, {0.3, 12.5, 10.9}, {2.4, 16.6, 10.8}, {5.4, 13, 10.7}, {0.6, 7.9, 9.7},
	{-0.8, 14.7, 9.2}, {2.4, 13.5, 9.9}, {4, 13.8, 10.3}, {1.4, 14.7, 10.3}, {-1.4, 18.1, 10.6}, {9.9, 22.6, 12.8},
	{8.3, 22.9, 14.5}, {9.2, 15.5, 14.5}, {9.7, 19.1, 14.4}, {8.3, 17.7, 14.1}, {3.1, 16.9, 13.8}, {-0.1, 17, 13.2},
	{6.8, 22.8, 14.1}, {7.1, 19.9, 14.9}, {7, 18.5, 14.3}, {10.2, 19.8, 15.1}, {14.2, 23.3, 16.6}, {13.6, 23, 17.5},
	{15.9, 22.9, 17.9}, {16.2, 19.6, 17.7}, {13.5, 25.9, 18.1}, {8.8, 20.4, 17.9}, {2.1, 18, 16}, {4.5, 20.3, 15.5},
	{11.7, 25.9, 17.2}, {13.5, 27.1, 19.3}, {15.7, 24.7, 19.6}, {16.1, 25.6, 20.7}, {9.8, 21.4, 19.9}, {7, 25, 19.2},
}

// TestKingstonProbes: the spring's soil from the spring's air, within the error that simple filters
// reach over a network (2.2 °C), and without leaning warm or cold by more than a degree and a quarter at one place.
func TestKingstonProbes(t *testing.T) {
	low, high := make([]float32, len(kingston)), make([]float32, len(kingston))
	for i, day := range kingston {
		low[i], high[i] = day[0], day[1]
	}
	soil := make([]float32, len(kingston))
	soilTemperature(soil, low, high, 0.10)
	const settling = 14 // days for the filter to forget how it began
	var square, lean float64
	for i := settling; i < len(kingston); i++ {
		miss := float64(soil[i] - kingston[i][2])
		square += miss * miss
		lean += miss
	}
	n := float64(len(kingston) - settling)
	rmse, bias := math.Sqrt(square/n), lean/n
	t.Logf("RMSE %.2f °C, bias %+.2f °C over %.0f days", rmse, bias, n)
	if rmse > 2.2 || math.Abs(bias) > 1.25 {
		t.Errorf("RMSE %.2f °C, bias %+.2f °C", rmse, bias)
	}
}
