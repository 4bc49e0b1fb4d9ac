package sun

import (
	"math"
	"testing"

	"kailyard/internal/civil"
)

// TestExtraterrestrial: FAO Irrigation and Drainage Paper 56 (Allen et al., 1998), examples 8, 10, 15, 16 and 18, and
// annex 2 table 2.6 at the poles' night; printed digits, half a unit of the last (example 10 prints 25.1 from a table).
func TestExtraterrestrial(t *testing.T) {
	for _, c := range []struct {
		example      string
		latitude     float64
		yearDay      int
		want, within float64
	}{
		{"example 8, 3 September at 20° S", -20, 246, 32.2, 0.05},
		{"example 10, 15 May at 22.9° S", -22.9, 135, 25.1, 0.06},
		{"example 15, 15 July at 45.72° N", 45.72, 196, 40.6, 0.05},
		{"example 16, 15 April at 13.73° N", 13.7333, 105, 38.06, 0.005},
		{"example 18, 6 July at 50.8° N", 50.8, 187, 41.09, 0.02},
		{"polar night", 80, 355, 0, 0},
	} {
		if got := float64(Extraterrestrial(c.latitude, c.yearDay)); math.Abs(got-c.want) > c.within {
			t.Errorf("%s: %.3f MJ/m², want %g", c.example, got, c.want)
		}
	}
}

// TestClearSkyAndRange: FAO56 eq. 37 as example 18 has it (Uccle,
// 6 July, 100 m: Ra 41.09, Rso 30.90 with 0.75 + 2·10⁻⁵·100) and eq. 50 as example 15 has it (Lyon, 45.72° N, 200 m,
// July: 26.6 and 14.8 °C, Ra 40.6, inland: Rs 22.3).
func TestClearSkyAndRange(t *testing.T) {
	if got := float64(ClearSky(41.09, 100)); math.Abs(got-30.90) > 0.005 {
		t.Errorf("clear sky at Uccle %.3f, want 30.90", got)
	}
	if got := float64(FromRange(14.8, 26.6, 40.6, 200, Inland)); math.Abs(got-22.3) > 0.05 {
		t.Errorf("from the range at Lyon %.2f, want 22.3", got)
	}
	if got := float64(FromRange(0, 40, 40, 0, Inland)); got != 30 {
		t.Errorf("never more than a clear sky: %g, want 30", got)
	}
	if got := float64(FromRange(20, 10, 40, 0, Inland)); got != 0 {
		t.Errorf("low above high: %g, want 0", got)
	}
}

// TestDiffuseShare: Duffie and Beckman, example 2.12.1 (from memory): Madison, 43° N, June, clearness 0.55: 0.38. At both
// seasons' ends the curves stay between 0.1 and 0.8, and a clearer month has less from the sky.
func TestDiffuseShare(t *testing.T) {
	if got := DiffuseShare(0.55, 43, 162); math.Abs(got-0.38) > 0.005 {
		t.Errorf("share from the sky %.4f, want 0.38", got)
	}
	for _, day := range []int{15, 162} {
		last := 1.0
		for k := 0.3; k < 0.8; k += 0.02 {
			got := DiffuseShare(k, 45, day)
			if got >= last || got < 0.1 || got > 0.8 {
				t.Errorf("day %d, clearness %.2f: %.3f after %.3f", day, k, got, last)
			}
			last = got
		}
	}
	if DiffuseShare(0.1, 45, 15) != DiffuseShare(0.3, 45, 15) || DiffuseShare(1, 45, 15) != DiffuseShare(0.8, 45, 15) {
		t.Error("the ends stand for what lies beyond")
	}
}

// TestLightAddsUp: on open level ground the steps' direct light comes to all of the day's, and the sky's to the whole sky.
func TestLightAddsUp(t *testing.T) {
	g := Grid{Cell: 1, Columns: 3, Rows: 2}
	for _, latitude := range []float64{-40, 0, 35, 60} {
		d := civil.Of(2027, 5, 15)
		steps := WithLight(Steps(latitude, 0, d, 5, Faint), latitude, d, 20, 7)
		got := Scene{}.Shine(g, [][]Step{steps})
		for cell := range g.Cells() {
			if beam := float64(got.Beam[0][cell]); math.Abs(beam-13) > 0.01 {
				t.Errorf("%g°: direct light %.3f MJ/m², want 13", latitude, beam)
			}
		}
	}
}

// TestSkyClosedForms: an open slope sees (1 + cos slope)/2 of the sky; level ground beside a long wall whose top stands γ
// high (1 + cos γ)/2; ground ringed by a skyline of γ sees cos² γ.
func TestSkyClosedForms(t *testing.T) {
	one := Grid{SouthWest: Spot{-0.05, 0.95}, Cell: 0.1, Columns: 1, Rows: 1} // its middle a metre north of the wall's face
	for _, c := range []struct {
		name         string
		scene        Scene
		want, within float64
	}{
		{"open", Scene{}, 1, 0.002},
		{"a slope of 20°", Scene{Slope: 20, Aspect: 77}, (1 + math.Cos(20*degree)) / 2, 0.003},
		{"a slope of 40°", Scene{Slope: 40, Aspect: 200}, (1 + math.Cos(40*degree)) / 2, 0.003},
		{"a wall 45° high", Scene{Things: []Thing{{Shape: box(0, -0.05, 1e4, 0.1, 90, 1, 0)}}}, (1 + math.Cos(45*degree)) / 2, 0.01},
		{"a wall 60° high", Scene{Things: []Thing{{Shape: box(0, -0.05, 1e4, 0.1, 90, math.Sqrt(3), 0)}}}, (1 + math.Cos(60*degree)) / 2, 0.01},
		{"a wall that lets half through", Scene{Things: []Thing{{box(0, -0.05, 1e4, 0.1, 90, 1, 0), []float64{0.5}}}}, 1 - (1-math.Cos(45*degree))/4, 0.01},
		{"a skyline of 30°", Scene{Horizon: Horizon{{0, 30}}}, math.Pow(math.Cos(30*degree), 2), 0.01},
	} {
		if got := float64(c.scene.Sky(one, 1)[0][0]); math.Abs(got-c.want) > c.within {
			t.Errorf("%s: %.4f of the sky, want %.4f", c.name, got, c.want)
		}
	}
}

// TestSlopeClosedForm: sunshine above the air on ground that falls towards the equator by β is that on level ground β nearer
// the equator, for the hours that both see the sun (DUFFIE-2013, equation 2.19.3): summed over the steps of a day.
func TestSlopeClosedForm(t *testing.T) {
	for _, c := range []struct{ latitude, slope float64 }{{45, 0}, {45, 15}, {45, 30}, {-35, 20}, {60, 25}} {
		for _, d := range []civil.Date{civil.Of(2025, 1, 17), civil.Of(2025, 4, 15), civil.Of(2025, 6, 11), civil.Of(2025, 10, 15)} {
			steps := Steps(c.latitude, 0, d, 5, 0)
			for i := range steps {
				steps[i].Beam = steps[i].Hours * math.Sin(steps[i].Sun.Altitude*degree)
			}
			aspect, nearer := 180.0, c.latitude-c.slope
			if c.latitude < 0 {
				aspect, nearer = 0, c.latitude+c.slope
			}
			got := Scene{Slope: c.slope, Aspect: aspect}.Shine(Grid{Cell: 1, Columns: 1, Rows: 1}, [][]Step{steps}).Beam[0][0]
			delta := declination(float64(d) + 0.5)
			sunset := min(sunsetAngle(c.latitude*degree, delta), sunsetAngle(nearer*degree, delta))
			sin, cos := math.Sincos(nearer * degree)
			want := 24 / math.Pi * (cos*math.Cos(delta)*math.Sin(sunset) + sunset*sin*math.Sin(delta))
			within := 0.005*want + 0.01
			if d.Month() == 1 { // the air lifts the low sun onto the slope for longer
				within += 0.08
			}
			if math.Abs(float64(got)-want) > within {
				t.Errorf("%g° with a slope of %g° on %s: %.4f, want %.4f", c.latitude, c.slope, d, got, want)
			}
		}
	}
}
