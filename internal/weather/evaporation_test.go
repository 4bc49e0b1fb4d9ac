package weather

import (
	"math"
	"testing"

	"kailyard/internal/sun"
)

// TestHargreaves: FAO Irrigation and Drainage Paper 56 (Allen et al., 1998), example 20: Lyon in July, 26.6 and 14.8 °C,
// Ra 40.55 MJ/m²: 5.0 mm a day.
func TestHargreaves(t *testing.T) {
	ra := sun.Extraterrestrial(45.72, 196)
	if got := float64(Hargreaves(14.8, 26.6, ra)); math.Abs(got-5.0) > 0.05 {
		t.Errorf("%.3f mm, want 5.0", got)
	}
	if Hargreaves(20, 10, ra) != 0 || Hargreaves(-30, -20, ra) != 0 {
		t.Error("a day without range, or of great cold, evaporates nothing")
	}
}
