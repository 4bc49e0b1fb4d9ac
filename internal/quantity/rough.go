package quantity

import "math"

// RoughMass is a mass to two figures, as what is strewn by hand is measured out: "150 g", "1 kg", "3.3 lb".
func (s System) RoughMass(k Kilogram) string {
	unit := Kilogram(1)
	if s == US {
		if unit = KilogramsPerPound; k < unit {
			unit /= 16
		}
	}
	return s.Mass(Kilogram(TwoFigures(float64(k/unit))) * unit)
}

// TwoFigures is a number above 0 to two figures; others stay.
func TwoFigures(v float64) float64 {
	if !(v > 0) || math.IsInf(v, 0) {
		return v
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return math.Round(v/step) * step
}
