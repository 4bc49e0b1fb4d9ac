package quantity_test

import (
	"testing"

	"kailyard/internal/quantity"
)

func TestRoughMass(t *testing.T) {
	for _, c := range []struct {
		units quantity.System
		mass  quantity.Kilogram
		want  string
	}{
		{quantity.Metric, 0.147, "150 g"}, {quantity.Metric, 0.996, "1 kg"}, {quantity.Metric, 0.0156, "16 g"}, {quantity.Metric, 1.53, "1.5 kg"},
		{quantity.Metric, 12.6, "13 kg"}, {quantity.Metric, 347, "350 kg"}, {quantity.Metric, 0, "0 g"},
		// A pound is 0.45359237 kg, an ounce its sixteenth, by definition.
		{quantity.US, 1.5, "3.3 lb"}, {quantity.US, 0.1, "3.5 oz"}, {quantity.US, 5.6, "12 lb"},
	} {
		if got := c.units.RoughMass(c.mass); got != c.want {
			t.Errorf("%v in %v: %q, want %q", c.mass, c.units, got, c.want)
		}
	}
}
