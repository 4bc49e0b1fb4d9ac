package soil

import (
	"fmt"
	"math"

	"kailyard/internal/quantity"
)

// What the rates of the trade are in kilograms on a square metre, and the oxides that labels count in.
//
// Source: NIST-HB44-C (acre of 43 560 square feet, pound); oxides from the atomic masses of P, K and O.
const (
	squareFeetPerAcre = 43560

	// PoundPerAcre is one pound on an acre.
	PoundPerAcre quantity.KilogramPerSquareMetre = quantity.KilogramsPerPound / (squareFeetPerAcre * quantity.SquareMetresPerFoot)
	// PoundPer1000SquareFeet is one pound on a thousand square feet.
	PoundPer1000SquareFeet quantity.KilogramPerSquareMetre = quantity.KilogramsPerPound / (1000 * quantity.SquareMetresPerFoot)

	// PhosphatePerPhosphorus is P2O5 for one of P, PotashPerPotassium K2O for one of K.
	PhosphatePerPhosphorus = 2.29137
	PotashPerPotassium     = 1.20459
)

// plantFoods is how many plant foods are reckoned with.
const plantFoods = 3

// Supply is an amount of the three plant foods on the ground, phosphorus and potassium as the oxides that
// labels and tables count in.
type Supply struct {
	N, P2O5, K2O quantity.KilogramPerSquareMetre
}

// foodNames are the plant foods in the order of a label.
var foodNames = [plantFoods]string{"nitrogen", "phosphate", "potash"}

func (s Supply) values() [plantFoods]float64 {
	return [plantFoods]float64{float64(s.N), float64(s.P2O5), float64(s.K2O)}
}

func supplyOf(v [plantFoods]float64) Supply {
	return Supply{quantity.KilogramPerSquareMetre(v[0]), quantity.KilogramPerSquareMetre(v[1]), quantity.KilogramPerSquareMetre(v[2])}
}

// Plus is both together.
func (s Supply) Plus(o Supply) Supply { return Supply{s.N + o.N, s.P2O5 + o.P2O5, s.K2O + o.K2O} }

// Times is the supply that many times over.
func (s Supply) Times(x float64) Supply {
	f := quantity.KilogramPerSquareMetre(x)
	return Supply{s.N * f, s.P2O5 * f, s.K2O * f}
}

// Less is what is left of s after o, never below zero, and what of o is over.
func (s Supply) Less(o Supply) (left, over Supply) {
	a, b := s.values(), o.values()
	var l, v [plantFoods]float64
	for i := range a {
		l[i], v[i] = math.Max(0, a[i]-b[i]), math.Max(0, b[i]-a[i])
	}
	return supplyOf(l), supplyOf(v)
}

// Over is the supply's mass on an area.
func (s Supply) Over(area quantity.SquareMetre) Mass {
	f := quantity.Kilogram(area)
	return Mass{quantity.Kilogram(s.N) * f, quantity.Kilogram(s.P2O5) * f, quantity.Kilogram(s.K2O) * f}
}

// None says whether there is nothing worth weighing in it.
func (s Supply) None() bool {
	for _, v := range s.values() {
		if v > 1e-6 { // a thousandth of a gram on a square metre
			return false
		}
	}
	return true
}

// Mass is a mass of the three plant foods.
type Mass struct {
	N, P2O5, K2O quantity.Kilogram
}

// Grade is what a label gives: the three plant foods in per cent of weight.
type Grade struct{ N, P2O5, K2O float64 }

// String is the grade as a label prints it: "5-10-10".
func (g Grade) String() string { return fmt.Sprintf("%g-%g-%g", g.N, g.P2O5, g.K2O) }

// Validate says what is wrong with a grade.
func (g Grade) Validate() error {
	for i, v := range [plantFoods]float64{g.N, g.P2O5, g.K2O} {
		if math.IsNaN(v) || v < 0 || v > 100 {
			return fmt.Errorf("a label cannot have %v per cent of %s: write the three numbers as the bag prints them, each from 0 to 100", v, foodNames[i])
		}
	}
	if g.N+g.P2O5+g.K2O > 100 {
		return fmt.Errorf("a label of %s adds up to more than the whole bag: write the three numbers as the bag prints them", g)
	}
	return nil
}

// Holds is what a mass of a product of this grade holds.
//
//	mass   kg
//	result kg of N, P2O5 and K2O: mass × per cent / 100
//
// Source: UMAINE-2287 (a bag's pounds of plant food); UMN-LAWN Table 7.3
func (g Grade) Holds(mass quantity.Kilogram) Mass {
	f := mass / 100
	return Mass{quantity.Kilogram(g.N) * f, quantity.Kilogram(g.P2O5) * f, quantity.Kilogram(g.K2O) * f}
}

// Instead is the mass of another product that brings as much nitrogen, for those whose sack has other numbers
// than the recipe.
//
//	recipe kg of a product with nitrogen rather per cent
//	have   per cent nitrogen of the sack at hand, above 0
//
// Source: UMAINE-2287 (changing grades)
func Instead(recipe quantity.Kilogram, rather, have float64) (quantity.Kilogram, error) {
	if !(have > 0) || !(rather >= 0) {
		return 0, fmt.Errorf("a product with %v per cent nitrogen cannot stand in for one with %v: choose one whose first number is above 0", have, rather)
	}
	return recipe * quantity.Kilogram(rather/have), nil
}

// Elemental is a mass of plant foods counted as the elements themselves, phosphorus P and potassium K.
//
// Source: UMN-LAWN Table 7.4
func (m Mass) Elemental() (n, p, k quantity.Kilogram) {
	return m.N, m.P2O5 / PhosphatePerPhosphorus, m.K2O / PotashPerPotassium
}

// perAcre is a rate printed in pounds an acre.
func perAcre(pounds float64) quantity.KilogramPerSquareMetre {
	return quantity.KilogramPerSquareMetre(pounds) * PoundPerAcre
}

// Plus is both together.
func (m Mass) Plus(o Mass) Mass { return Mass{m.N + o.N, m.P2O5 + o.P2O5, m.K2O + o.K2O} }

func (m Mass) values() [plantFoods]float64 {
	return [plantFoods]float64{float64(m.N), float64(m.P2O5), float64(m.K2O)}
}

func massOf(v [plantFoods]float64) Mass {
	return Mass{quantity.Kilogram(v[0]), quantity.Kilogram(v[1]), quantity.Kilogram(v[2])}
}

// On is the mass spread over an area; nothing on none.
func (m Mass) On(area quantity.SquareMetre) Supply {
	if !(area > 0) {
		return Supply{}
	}
	v := m.values()
	for i := range v {
		v[i] /= float64(area)
	}
	return supplyOf(v)
}

// Less is what is left of m after o, never below zero, and what of o is over.
func (m Mass) Less(o Mass) (left, over Mass) {
	l, v := supplyOf(m.values()).Less(supplyOf(o.values()))
	return massOf(l.values()), massOf(v.values())
}
