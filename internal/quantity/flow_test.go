package quantity

import (
	"math"
	"testing"
)

// The US liquid gallon is 3.785411784 L, the inch 25.4 mm (definitions of 1959).
func TestFlow(t *testing.T) {
	for text, want := range map[string]float64{"12 L/min": 720, "24 L/h": 24, "3 gal/min": 681.37412, "2 gph": 7.570824, "0.5 gpm": 113.56235, "10": 600} {
		if got, err := ParseFlow(text, Metric); err != nil || math.Abs(float64(got)-want) > 1e-4 {
			t.Errorf("%q is %v L/h, %v; want %v", text, float64(got), err, want)
		}
	}
	if got, err := ParseFlow("3", US); err != nil || math.Abs(float64(got)-681.37412) > 1e-4 {
		t.Errorf("3 in US units is %v, %v", got, err)
	}
	for _, text := range []string{"", "12 L", "-3 L/min", "3 furlongs"} {
		if _, err := ParseFlow(text, Metric); err == nil {
			t.Errorf("%q was read", text)
		}
	}
	if got, err := ParseSpray("0.5 in/h", Metric); err != nil || math.Abs(float64(got)-12.7) > 1e-9 {
		t.Errorf("half an inch an hour is %v mm, %v", got, err)
	}
	for got, want := range map[string]string{Metric.Flow(24): "24 L/h", Metric.Flow(720): "12 L/min", US.Flow(720): "3.2 gal/min", Metric.Spray(12): "12 mm/h", US.Spray(12.7): "0.5 in/h"} {
		if got != want {
			t.Errorf("printed %q, want %q", got, want)
		}
	}
	if got := US.ExactFlow(3 * 60 * LitresPerGallon); got != "3 gal/min" {
		t.Errorf("written %q", got)
	}
	if got := US.ExactArea(260 * SquareMetresPerFoot); got != "260 sq ft" {
		t.Errorf("written %q", got)
	}
	for _, s := range []System{Metric, US} {
		for _, v := range []LitrePerHour{0.1, 13, 681.374} {
			if back, err := ParseFlow(s.ExactFlow(v), s); err != nil || back != v {
				t.Errorf("%v comes back as %v, %v", v, back, err)
			}
		}
	}
}
