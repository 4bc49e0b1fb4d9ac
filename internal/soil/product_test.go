package soil

import (
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// TestIllinoisLimestone: Illinois Agronomy Handbook, limestone quality: 13.1 % stays on 8 mesh, 40.4 passes 8 and stays on 30,
// 14.9 passes 30 and stays on 60, 31.6 passes 60; CCE 86.88. One year: fineness 47.78, ENV 41.51, 3.35 ton in place of 3 of a
// typical 46.35. Four years: 66.64, 57.9, 3.5 in place of 3 of 67.5. Printed digits (the source truncates the second decimal).
func TestIllinoisLimestone(t *testing.T) {
	pass60 := 31.6
	pass30 := pass60 + 14.9
	pass8 := pass30 + 40.4
	for _, c := range []struct {
		four                         bool
		fineness, env, typical, tons float64
		withinEnv                    float64
	}{{false, 47.78, 41.51, 46.35, 3.35, 0.02}, {true, 66.64, 57.9, 67.5, 3.5, 0.05}} {
		fine := IllinoisFineness(pass8, pass30, pass60, c.four)
		near(t, "fineness", fine, c.fineness, 0.02)
		env := EffectiveValue(86.88, fine, 0)
		near(t, "ENV", env, c.env, c.withinEnv)
		tons, err := OfAnotherStone(3, c.typical, env)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "tons", tons, c.tons, 0.01)
	}
}

// TestNewYorkENV: Cornell University, soil fertility objective 41: 0.40, 0.80 and 1.00; the stones are ours, worked by hand:
// 98, 70 and 55 % through 20, 60 and 100 mesh, CCE 90: 78.2 and 70.38; with 50 % through 100: 77.2 and 69.5.
func TestNewYorkENV(t *testing.T) {
	fine := NewYorkFineness(98, 70, 55)
	near(t, "fineness", fine, 78.2, 0.005)
	near(t, "ENV", EffectiveValue(90, fine, 0), 70.38, 0.005)
	fine = NewYorkFineness(98, 70, 50)
	near(t, "fineness", fine, 77.2, 0.05)
	near(t, "ENV", EffectiveValue(90, fine, 0), 69.5, 0.05)
}

// TestOhioSieves: British Columbia Ministry of Agriculture, Evaluation of Agricultural Limestone (2015): limestone A passes 78.8 %
// through 60, 10.0 between 20 and 60, 2.4 between 8 and 20: rated 85.28; limestone B 90.0, 6.0, 4.0: 94.46 (the sheet's 0.8 makes 94.40).
func TestOhioSieves(t *testing.T) {
	near(t, "A", OhioFineness(78.8+10+2.4, 78.8+10, 78.8), 85.28, 0.005)
	near(t, "B", OhioFineness(100, 96, 90), 94.46, 0.065)
}

// TestPennStateProduct: Penn State, Home Garden notes: 5 lb to 100 square feet of a product of CCE 70 becomes 7 lb (7.14 printed whole).
func TestPennStateProduct(t *testing.T) {
	cce, fine := 70.0, 100.0
	stone, _ := Find("limestone-ground")
	s, err := StrengthOf(stone, &garden.Package{CCE: &cce, Fineness: &fine})
	if err != nil {
		t.Fatal(err)
	}
	pound := quantity.KilogramPerSquareMetre(10 * PoundPer1000SquareFeet)
	near(t, "lb/100 sq ft", float64(s.OfProduct(5*pound)/pound), 7, 0.2)
}

// TestBadProducts: labels that cannot be.
func TestBadProducts(t *testing.T) {
	stone, _ := Find("limestone-ground")
	zero, much, fine := 0.0, 900.0, 120.0
	for _, p := range []*garden.Package{{CCE: &zero}, {CCE: &much}, {Fineness: &fine}, {Fineness: &zero}} {
		if _, err := StrengthOf(stone, p); err == nil {
			t.Errorf("%+v passes", p)
		}
	}
	blend, _ := Find("blend-5-10-5")
	if _, err := StrengthOf(blend, nil); err == nil {
		t.Error("a blend without effect on pH passes as lime")
	}
	if _, err := OfAnotherStone(3, 60, 0); err == nil {
		t.Error("a stone without value passes")
	}
	for _, s := range []Sieves{NoSieves, {Pass8: -1, Pass20: 60, Pass30: -1, Pass60: 90, Pass100: 50}, {Pass8: 101, Pass20: 60, Pass30: -1, Pass60: 50, Pass100: -1}} {
		if _, _, _, err := s.FinenessOf(); err == nil {
			t.Errorf("%+v passes", s)
		}
	}
	if f, rule, _, err := (Sieves{Pass8: 90, Pass20: -1, Pass30: 60, Pass60: 40, Pass100: -1}).FinenessOf(); err != nil || rule == "" || f <= 40 {
		t.Error(f, rule, err)
	}
}
