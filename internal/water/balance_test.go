package water

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// TestCoefficients: FAO-56 examples 27, 28, 29, box 15 and equation 68's own case, and the ten-day coefficients of figure 36
// (dry bean at Kimberly); half a unit of the last printed digit.
func TestCoefficients(t *testing.T) {
	kimberly := Climate{Wind: 2.2, HumidityMin: 30}
	bean := Stages{25, 25, 30, 20}
	kc := [3]float64{0.15, 1.19, 0.35}
	rows := []printed{
		{"example 27, Taipei", Climate{1.3, 75}.Adjust(1.2, 2), 1.07, 0.005},
		{"example 27, Mocha", Climate{4.6, 44}.Adjust(1.2, 2), 1.30, 0.005},
		{"box 15", kimberly.Adjust(1.15, 0.4), 1.19, 0.005},
		{"example 29", kimberly.Adjust(1.10, 0.4), 1.14, 0.005},
		{"example 28, day 20", bean.At(kc, 20), 0.15, 0.005},
		{"example 28, day 40", bean.At(kc, 40), 0.77, 0.005},
		{"example 28, day 70", bean.At(kc, 70), 1.19, 0.005},
		{"example 28, day 95", bean.At(kc, 95), 0.56, 0.005},
	}
	for i, want := range []float64{0.15, 0.15, 0, 0.57, 0.98, 1.19, 1.19, 1.19, 0.98, 0.56} {
		if i != 2 { // the third ten days are told by halves
			rows = append(rows, printed{"figure 36", bean.At(kc, float64(10*i+5)), want, 0.006})
		}
	}
	rows = append(rows, printed{"figure 36, third", (bean.At(kc, 22.5) + bean.At(kc, 27.5)) / 2, 0.20, 0.006})
	compare(t, rows)
}

// silt and others are the soils of FAO-56's examples.
func exampleSoil(capacity, wilting float64) Ground {
	return Ground{Capacity: capacity, Wilting: wilting, Ready: 8, Curve: 71}
}

// TestAvailable: example 36, whole mm.
func TestAvailable(t *testing.T) {
	soils := map[string]Ground{"loamy sand": exampleSoil(0.15, 0.06), "silt": exampleSoil(0.32, 0.15), "silty clay": exampleSoil(0.35, 0.23)}
	for _, c := range []struct {
		soil       string
		root       quantity.Metre
		share      float64
		all, ready float64
	}{
		{"loamy sand", 0.4, 0.30, 36, 11}, {"silt", 0.4, 0.30, 68, 20}, {"silty clay", 0.4, 0.30, 48, 14},
		{"loamy sand", 0.8, 0.40, 72, 29}, {"silt", 0.8, 0.40, 136, 54}, {"silty clay", 0.8, 0.40, 96, 38},
		{"loamy sand", 1.2, 0.55, 108, 59}, {"silt", 1.2, 0.55, 204, 112}, {"silty clay", 1.2, 0.55, 144, 79},
	} {
		all := float64(soils[c.soil].Available(c.root))
		compare(t, []printed{{c.soil, all, c.all, 0.5}, {c.soil + ", readily", all * c.share, c.ready, 0.5}})
	}
	compare(t, []printed{
		{"share at 5 mm", ShareAt(0.45, 5), 0.45, 0.0005}, {"at 3 mm", ShareAt(0.45, 3), 0.53, 0.0005}, {"at 8 mm", ShareAt(0.45, 8), 0.33, 0.0005},
		{"never under a tenth", ShareAt(0.3, 10), 0.1, 0.0005}, {"never over 0.8", ShareAt(0.65, 1), 0.8, 0.0005},
	})
}

// TestStress: example 37, ten days of a tomato on silt, 0.06 mm and 0.006.
func TestStress(t *testing.T) {
	missing := 55.0
	for _, want := range []struct{ stress, drawn, end float64 }{
		{1, 6, 61}, {1, 6, 67}, {0.97, 5.8, 72.8}, {0.91, 5.4, 78.3}, {0.85, 5.1, 83.4}, {0.80, 4.8, 88.2}, {0.75, 4.5, 92.6}, {0.70, 4.2, 96.9}, {0.66, 3.9, 100.8}, {0.62, 3.7, 104.5},
	} {
		stress := Stress(missing, 160, 0.4)
		drawn := stress * 1.2 * 5
		missing += drawn
		compare(t, []printed{{"stress", stress, want.stress, 0.006}, {"drawn", drawn, want.drawn, 0.06}, {"missing", missing, want.end, 0.06}})
	}
}

var exampleReference = []float64{4.5, 5.0, 3.9, 4.2, 4.8, 2.7, 5.8, 5.1, 4.7, 5.2}

// TestBareSurface: example 35, ten days after a watering of 40 mm that wets 0.8 of the ground. The paper goes on from whole
// mm and rounded factors, and its rows 3 and 4 do not agree with themselves (Kc 1.04 where 0.32 + 0.62 are printed), so
// coefficients are asked for within 0.05 and depths within 0.7 mm, and those two rows not.
func TestBareSurface(t *testing.T) {
	c := Column{Ground: exampleSoil(0.23, 0.10), Deep: 1}
	s := State{Root: 0.3, Missing: 23, Dry: 18}
	want := []struct{ coefficient, demand, dry float64 }{
		{1.21, 5.5, 5}, {1.21, 6.1, 11}, {0.94, 3.7, 14}, {0.68, 2.9, 16}, {0.52, 2.5, 17}, {1.00, 2.7, 13}, {0.82, 4.7, 16}, {0.55, 2.8, 17}, {0.47, 2.2, 18}, {0.44, 2.3, 18},
	}
	for i, w := range want {
		a := Asks{Reference: exampleReference[i], Basal: 0.30 + 0.1*float64(i)/9, Most: 1.21, Cover: 0.08 + 0.06*float64(i)/9, Root: 0.3, Share: 0.6, Wets: 0.8}
		if i == 0 {
			a.Water = 40
		}
		if i == 5 {
			a.Rain = 6
		}
		f, err := c.Day(&s, civil.Date(i), a)
		if err != nil {
			t.Fatal(err)
		}
		if i == 2 || i == 3 {
			continue
		}
		compare(t, []printed{
			{"coefficient", f.Wanted / a.Reference, w.coefficient, 0.05}, {"demand", f.Wanted, w.demand, 0.15}, {"dry", s.Dry, w.dry, 0.7},
		})
	}
}

// TestSchedule: example 38, ten days with the printed coefficients, 1 mm (they carry two decimals).
func TestSchedule(t *testing.T) {
	c := Column{Ground: exampleSoil(0.23, 0.10), Deep: 0.35}
	s := State{Root: 0.3, Missing: 23}
	kc := []float64{1.21, 1.21, 1.04, 0.70, 0.52, 1.00, 0.82, 0.55, 0.47, 1.21}
	for i, w := range []struct{ demand, drained, end float64 }{
		{5.5, 17, 5}, {6.1, 0, 12}, {4.0, 0, 16}, {2.9, 0, 18}, {2.5, 0, 21}, {2.7, 0, 18}, {4.7, 0, 22}, {2.8, 0, 25}, {2.2, 0, 27}, {6.3, 0, 6},
	} {
		a := Asks{Reference: exampleReference[i], Basal: kc[i], Most: kc[i], Root: 0.3 + 0.05*float64(i)/9, Share: 0.6}
		switch i {
		case 0:
			a.Water = 40
		case 5:
			a.Rain = 6
		case 9:
			a.Water = 27
		}
		f, err := c.Day(&s, civil.Date(i), a)
		if err != nil {
			t.Fatal(err)
		}
		compare(t, []printed{{"demand", f.Wanted, w.demand, 0.1}, {"drained", f.Drained, w.drained, 1}, {"missing", s.Missing, w.end, 1}})
	}
}

// TestHolding: the water a texture holds lies within what FAO-56 table 19 prints (from memory), m³/m³.
func TestHolding(t *testing.T) {
	for texture, span := range map[garden.Texture][2]float64{
		garden.Sand: {0.05, 0.11}, garden.SandyLoam: {0.11, 0.15}, garden.Loam: {0.13, 0.18}, garden.SiltLoam: {0.13, 0.20}, garden.ClayLoam: {0.13, 0.18}, garden.Clay: {0.12, 0.20},
	} {
		g := GroundOf(texture)
		if held := g.Capacity - g.Wilting; held < span[0]-1e-9 || held > span[1]+1e-9 {
			t.Errorf("%s holds %.3f, table 19 prints %v", texture, held, span)
		}
		if g.Texture != texture {
			t.Errorf("%s: %v", texture, g)
		}
	}
	if g := GroundOf(""); g.Texture != garden.Loam {
		t.Error("an untold texture is not told of")
	}
}

// TestRunoff: the curve-number equation by hand: 100 mm on curve number 80 (S = 63.5 mm) gives (100−12.7)²/(100+50.8) = 50.5 mm.
func TestRunoff(t *testing.T) {
	g := Ground{Curve: 80}
	compare(t, []printed{{"100 mm", g.Runoff(100), 50.5, 0.05}, {"a shower", g.Runoff(12), 0, 0}})
	for rain := 0.0; rain < 400; rain += 7 {
		if r := g.Runoff(rain); r < 0 || r > rain {
			t.Errorf("%g mm: %g run off", rain, r)
		}
	}
}

// TestBalanceCloses: whatever comes over whatever ground, each day closes, nothing falls below nothing, and a crop never
// draws more than it wants.
func TestBalanceCloses(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 11))
	for _, texture := range garden.Textures {
		c := Column{Ground: GroundOf(texture), Deep: 1.2}
		var s State
		for day := range 3000 {
			a := Asks{Reference: random.Float64() * 11, Basal: 0.15 + random.Float64(), Most: 1.2 + 0.1*random.Float64(), Cover: random.Float64() * 0.99, Share: 0.1 + 0.7*random.Float64(),
				Mulch: append(garden.Mulches, garden.NoMulch)[random.IntN(3)], Wets: random.Float64()}
			a.Root = 0.15 + 1.2*random.Float64()
			if day%7 != 0 {
				a.Root = s.Root
			}
			if random.IntN(3) == 0 {
				a.Rain = random.ExpFloat64() * 9
			}
			if random.IntN(9) == 0 {
				a.Water = random.Float64() * 40
			}
			before := s
			f, err := c.Day(&s, civil.Date(day), a)
			if err != nil {
				t.Fatal(err)
			}
			gained := before.Missing + before.Below - s.Missing - s.Below
			if open := f.Rain + f.Water - f.Runoff - f.Drained - f.Drawn - f.Lost - gained; math.Abs(open) > 1e-9 {
				t.Fatalf("%s, day %d: open by %g mm", texture, day, open)
			}
			if f.Drawn < 0 || f.Lost < 0 || f.Drained < 0 || f.Runoff < 0 || s.Missing < -1e-9 || s.Below < -1e-9 || s.Dry < 0 || f.Drawn+f.Lost > f.Wanted+1e-9 || f.Stress < 0 || f.Stress > 1 {
				t.Fatalf("%s, day %d: %+v after %+v", texture, day, f, s)
			}
		}
	}
}

// A day that does not close is told with its date.
func TestOpenBalanceIsTold(t *testing.T) {
	c := Column{Ground: GroundOf(garden.Loam), Deep: 1}
	_, err := c.Day(&State{}, civil.Of(2027, 6, 3), Asks{Reference: math.NaN(), Basal: 1, Most: 1.2, Root: 0.3, Share: 0.4})
	var open *OpenError
	if !errors.As(err, &open) || open.Day != civil.Of(2027, 6, 3) {
		t.Errorf("%v", err)
	}
}

// Every crop of the catalogue stands in the table, its coefficients under the catalogue's single ones (FAO-56 tables 12 and 17:
// the basal coefficient leaves out the wet ground), and its roots as deep as the catalogue's.
func TestEveryCropDraws(t *testing.T) {
	if _, err := Rows(); err != nil {
		t.Fatal(err)
	}
	for _, c := range crop.Default().All() {
		w := CropOf(c)
		if w.Row == "" {
			t.Errorf("%s stands in no row", c.ID)
		}
		if w.Basal[1] > c.Water.KcMid+1e-9 || w.Basal[2] > c.Water.KcEnd+1e-9 {
			t.Errorf("%s: basal %v over the single %v", c.ID, w.Basal, c.Water)
		}
		if w.Root != c.Plant.Root || w.Share < 0.2 || w.Share > 0.65 {
			t.Errorf("%s: %+v", c.ID, w)
		}
	}
	own := CropOf(&crop.Crop{ID: "own-thing", Water: crop.Water{KcInitial: 0.5, KcMid: 1.1, KcEnd: 0.9}, Plant: crop.Plant{Height: 0.5, Root: 0.6}})
	if own.Basal != [3]float64{0.15, 1.0, 0.8} || own.Quality != Estimated || own.Note == "" {
		t.Errorf("%+v", own)
	}
}

// Printed rows of FAO-56 tables 17 and 22, typed a second time.
func TestPrintedRows(t *testing.T) {
	for id, want := range map[string]struct {
		basal [3]float64
		p     float64
	}{
		"tomato-staked": {[3]float64{0.15, 1.10, 0.70}, 0.40}, "lettuce-romaine": {[3]float64{0.15, 0.90, 0.90}, 0.30}, "potato": {[3]float64{0.15, 1.10, 0.65}, 0.35},
		"sweet-corn-main": {[3]float64{0.15, 1.10, 1.00}, 0.50}, "strawberry": {[3]float64{0.30, 0.80, 0.70}, 0.20}, "sweet-potato": {[3]float64{0.15, 1.10, 0.55}, 0.65},
	} {
		c, _ := crop.Default().Find(id)
		if c == nil {
			t.Fatal(id)
		}
		if w := CropOf(c); w.Basal != want.basal || w.Share != want.p || w.Quality != Published {
			t.Errorf("%s: %+v", id, w)
		}
	}
}
