package growth

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"kailyard/internal/quantity"
)

// dampingDepth is the depth, m, at which a temperature wave is damped to 1/e by conduction, for a thermal
// diffusivity in m²/s and a period in days: the yardstick for the filter.
// Source: HILLEL, as printed by the soil physics toolkit of Oklahoma State.
func dampingDepth(diffusivity, period float64) float64 {
	return math.Sqrt(2 * diffusivity / (2 * math.Pi / (period * 86400)))
}

// The printed depths (HILLEL) and the daily factors of KANG-2000, exp(−z·√(π/(k·p))), which are the same law.
func TestYardstickOfHillelAndKang(t *testing.T) {
	for _, row := range []struct{ diffusivity, annual, daily float64 }{{5e-7, 2.24, 0.1173}, {3e-7, 1.735, 0.0908}, {8e-7, 2.834, 0.1483}} {
		if d := dampingDepth(row.diffusivity, 365.25); math.Abs(d-row.annual) > 0.002 {
			t.Errorf("annual wave at %g m²/s: %.3f m, printed %.3f", row.diffusivity, d, row.annual)
		}
		if d := dampingDepth(row.diffusivity, 1); math.Abs(d-row.daily) > 0.002 {
			t.Errorf("daily wave at %g m²/s: %.4f m, printed %.4f", row.diffusivity, d, row.daily)
		}
	}
	for _, row := range []struct{ z, k, factor float64 }{{0.1, 5e-7, 0.4262}, {0.05, 5e-7, 0.6529}, {0.1, 2.5e-7, 0.2994}} {
		if f := math.Exp(-row.z / dampingDepth(row.k, 1)); math.Abs(f-row.factor) > 0.0005 {
			t.Errorf("factor at %g m, %g m²/s: %.4f, printed %.4f", row.z, row.k, f, row.factor)
		}
	}
}

// wave is the soil's amplitude (as a share of the air's) and lag in days under an air wave.
func wave(depth quantity.Metre, period float64) (gain, lag float64) {
	n := 6000
	air, soil := make([]float32, n), make([]float32, n)
	for i := range air {
		air[i] = float32(15 + 5*math.Sin(2*math.Pi*float64(i)/period))
	}
	soilTemperature(soil, air, air, depth)
	var c, s float64
	cycles := math.Floor(4000 / period)
	last := int(cycles * period)
	for i := n - last; i < n; i++ {
		c += float64(soil[i]-15) * math.Cos(2*math.Pi*float64(i)/period) * 2 / float64(last)
		s += float64(soil[i]-15) * math.Sin(2*math.Pi*float64(i)/period) * 2 / float64(last)
	}
	return math.Hypot(c, s) / 5, math.Atan2(-c, s) * period / (2 * math.Pi)
}

// A first-order filter answers a sine with gain a/|1 − (1−a)·e^(−iω)| and the lag of that ratio's angle.
func TestSoilAnswersASineAsTheFilterMust(t *testing.T) {
	for _, depth := range []quantity.Metre{0.01, 0.05, 0.10, 0.20} {
		for _, period := range []float64{10, 40, 400} {
			a, w := SoilResponse(depth), 2*math.Pi/period
			re, im := 1-(1-a)*math.Cos(w), (1-a)*math.Sin(w)
			wantGain, wantLag := a/math.Hypot(re, im), math.Atan2(im, re)/w
			gain, lag := wave(depth, period)
			if math.Abs(gain-wantGain) > 0.002 || math.Abs(lag-wantLag) > 0.05 {
				t.Errorf("%g m, %g d: gain %.3f lag %.2f d; the filter's are %.3f and %.2f", depth, period, gain, lag, wantGain, wantLag)
			}
		}
	}
}

// Between 5 and 20 cm the filter damps and delays as conduction does (diffusivity 5·10⁻⁷ m²/s): a ten-day wave
// by exp(−Δz/d), the yearly wave by Δz/d radians.
func TestSoilDampsWithDepthAsConductionDoes(t *testing.T) {
	const apart = 0.15
	shallow, _ := wave(0.05, 10)
	deep, _ := wave(0.20, 10)
	if want := math.Exp(-apart / dampingDepth(5e-7, 10)); math.Abs(deep/shallow-want) > 0.08 {
		t.Errorf("a ten-day wave falls to %.2f from 5 to 20 cm; by conduction to %.2f", deep/shallow, want)
	}
	_, early := wave(0.05, 365)
	_, late := wave(0.20, 365)
	if want := apart / dampingDepth(5e-7, 365) * 365 / (2 * math.Pi); math.Abs(late-early-want) > 1 {
		t.Errorf("the yearly wave comes %.1f d later at 20 than at 5 cm; by conduction %.1f", late-early, want)
	}
}

// Under steady air the soil stands at the air's mean and the daily range's warmth, at every depth.
func TestSteadyAir(t *testing.T) {
	low, high, soil := make([]float32, 200), make([]float32, 200), make([]float32, 200)
	for i := range low {
		low[i], high[i] = 9, 21
	}
	for _, depth := range []quantity.Metre{0, 0.05, 0.20} {
		soilTemperature(soil, low, high, depth)
		if got := float64(soil[199]); math.Abs(got-(15+0.08*12)) > 1e-4 {
			t.Errorf("at %g m: %.3f °C, want 15.96", depth, got)
		}
	}
}

// probes is a station of the US Climate Reference Network in 2020; missing days are null.
type probes struct {
	Name   string
	Low    []*float32 `json:"tmin_c"`
	High   []*float32 `json:"tmax_c"`
	Soil5  []*float64 `json:"soil5_c"`
	Soil10 []*float64 `json:"soil10_c"`
	Soil20 []*float64 `json:"soil20_c"`
}

// misses is the root-mean-square and mean error of the model over day indices 90–299 (31 March – 26 October).
func (p probes) misses(depth quantity.Metre, observed []*float64) (rmse, bias float64, ok bool) {
	low, high, soil := fill(p.Low), fill(p.High), make([]float32, len(p.Low))
	soilTemperature(soil, low, high, depth)
	n := 0.0
	for i := 90; i < 300; i++ {
		if observed[i] != nil {
			miss := float64(soil[i]) - *observed[i]
			rmse, bias, n = rmse+miss*miss, bias+miss, n+1
		}
	}
	if n < 100 {
		return 0, 0, false
	}
	return math.Sqrt(rmse / n), bias / n, true
}

// fill carries the last value over missing days.
func fill(values []*float32) []float32 {
	out := make([]float32, len(values))
	last := float32(0)
	for i, v := range values {
		if v != nil {
			last = *v
		}
		out[i] = last
	}
	return out
}

// The constants were fitted on every second station by name; both halves are held to the same limits:
// mean RMSE at most 2.2 °C, mean bias within 0.7 °C at 10 cm (CRN-2020).
func TestClimateReferenceNetwork(t *testing.T) {
	text, err := os.ReadFile(reference(t, "examples", "06_soil_temperature.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Stations []probes }
	if err := json.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	stations := file.Stations
	slices.SortFunc(stations, func(a, b probes) int {
		if a.Name < b.Name {
			return -1
		}
		return 1
	})
	for _, half := range []struct {
		name string
		rest int
	}{{"fitted", 0}, {"not seen in the fit", 1}} {
		for _, depth := range []quantity.Metre{0.05, 0.10, 0.20} {
			var rmse, bias, worst, n float64
			for k, s := range stations {
				observed := map[quantity.Metre][]*float64{0.05: s.Soil5, 0.10: s.Soil10, 0.20: s.Soil20}[depth]
				if r, b, ok := s.misses(depth, observed); ok && k%2 == half.rest {
					rmse, bias, worst, n = rmse+r, bias+b, max(worst, r), n+1
				}
			}
			rmse, bias = rmse/n, bias/n
			t.Logf("%-20s %2.0f cm: RMSE %.2f °C, bias %+.2f °C, worst station %.1f °C (%.0f stations)", half.name, float64(depth)*100, rmse, bias, worst, n)
			if rmse > 2.2 || math.Abs(bias) > 0.7 {
				t.Errorf("%s stations at %g m: RMSE %.2f, bias %+.2f", half.name, depth, rmse, bias)
			}
		}
	}
}
