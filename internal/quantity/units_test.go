package quantity_test

import (
	"math"
	"testing"

	"kailyard/internal/quantity"
)

// Exact definitions: the international yard and pound (Federal Register notice of 1 July 1959, as
// tabulated in NIST Handbook 44 Appendix C, "Units of Length/Mass … exact"): 1 yd = 0.9144 m,
// 1 lb = 0.453 592 37 kg, 1 oz = 28.349 523 125 g; 1 US gallon = 231 in³, 1 acre = 43 560 ft².
func TestExactDefinitions(t *testing.T) {
	const tolerance = 1e-15 // relative: the last bit of a float64
	rows := []struct {
		name      string
		got, want float64
	}{
		{"3 ft = 0.9144 m", 3 * quantity.MetresPerFoot, 0.9144},
		{"12 in = 1 ft", 12 * quantity.MetresPerInch, quantity.MetresPerFoot},
		{"16 oz = 1 lb", 16 * quantity.GramsPerOunce / 1000, quantity.KilogramsPerPound},
		{"1 gal = 231 in³", quantity.LitresPerGallon, 231 * math.Pow(quantity.MetresPerInch*10, 3)},
		{"1 sq ft = 0.09290304 m²", quantity.SquareMetresPerFoot, 0.09290304},
	}
	for _, r := range rows {
		if math.Abs(r.got-r.want) > tolerance*math.Abs(r.want)*4 {
			t.Errorf("%s: got %.17g, want %.17g", r.name, r.got, r.want)
		}
	}
}

// Factors as printed to seven figures in NIST SP 811 (2008 edition) appendix B.8, "Factors for units
// listed alphabetically"; typed from memory of that table, and each agrees with the exact
// definitions above. Tolerance: half a unit of the seventh figure.
func TestFactorsOfNISTSP811(t *testing.T) {
	rows := []struct {
		text  string
		want  float64
		parse func(string) (float64, error)
	}{
		{"1 acre", 4046.856, area}, // the international acre; SP 811 prints 4 046.873 for the survey acre
		{"1 ft", 0.3048, length},
		{"1 in", 0.0254, length},
		{"1 yd", 0.9144, length},
		{"1 sq ft", 0.09290304, area},
		{"1 sq yd", 0.8361274, area},
		{"1 lb", 0.4535924, mass},
		{"1 oz", 0.02834952, mass},
		{"1 gal", 3.785412, volume},
		{"1 qt", 0.9463529, volume},
		{"1 pt", 0.4731765, volume},
		{"1 cu ft", 28.31685, volume},
		{"1 cu yd", 764.5549, volume},
		{"1 lb/sq ft", 4.882428, rate},
		{"1 oz/sq yd", 0.03390575, rate},
		{"1 lb/acre", 1.120851e-4, rate},
	}
	for _, r := range rows {
		got, err := r.parse(r.text)
		if err != nil {
			t.Errorf("%s: %v", r.text, err)
			continue
		}
		exponent := math.Floor(math.Log10(r.want)) - 6
		if math.Abs(got-r.want) > 0.5000001*math.Pow(10, exponent) {
			t.Errorf("%s: got %.9g, want %.7g", r.text, got, r.want)
		}
	}
}

// NIST SP 811 appendix B.8 and Handbook 44 Appendix C give t/°C = (t/°F − 32)/1.8; the fixed points are the freezing and
// boiling of water, the crossing at −40, and the two frost thresholds NCEI tabulates to 0.1 °C.
func TestTemperatureFixedPoints(t *testing.T) {
	rows := []struct {
		text string
		want quantity.Celsius
		tol  float64
	}{
		{"32 °F", 0, 0},
		{"212 F", 100, 1e-12},
		{"-40f", -40, 1e-12},
		{"59 °F", 15, 1e-12},
		{"28F", -2.2, 0.05},
		{"36 °F", 2.2, 0.05},
		{"−2.2 °C", -2.2, 0},
		{"15 degrees C", 15, 0},
		{"15", 15, 0},
	}
	for _, r := range rows {
		got, err := quantity.ParseTemperature(r.text, quantity.Metric)
		if err != nil || math.Abs(float64(got-r.want)) > r.tol {
			t.Errorf("%s: got %v, %v, want %v", r.text, got, err, r.want)
		}
	}
	if got, err := quantity.ParseTemperature("59", quantity.US); err != nil || math.Abs(float64(got-15)) > 1e-12 {
		t.Errorf("59 in the US system: got %v, %v", got, err)
	}
	if got, err := quantity.ParseTemperatureChange("9 °F", quantity.Metric); err != nil || got != 5 {
		t.Errorf("a change of 9 °F: got %v, %v", got, err)
	}
	if _, err := quantity.ParseTemperature("-300 C", quantity.Metric); err == nil {
		t.Error("−300 °C was read")
	}
}

func length(s string) (float64, error) {
	v, err := quantity.ParseLength(s, quantity.Metric)
	return float64(v), err
}

func area(s string) (float64, error) {
	v, err := quantity.ParseArea(s, quantity.Metric)
	return float64(v), err
}

func mass(s string) (float64, error) {
	v, err := quantity.ParseMass(s, quantity.Metric)
	return float64(v), err
}

func volume(s string) (float64, error) {
	v, err := quantity.ParseVolume(s, quantity.Metric)
	return float64(v), err
}

func rate(s string) (float64, error) {
	v, err := quantity.ParseRate(s, quantity.Metric)
	return float64(v), err
}
