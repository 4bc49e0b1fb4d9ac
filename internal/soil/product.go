package soil

import (
	"errors"
	"fmt"
	"math"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Sieves is what a lime's label gives of its fineness, in per cent of weight that passes. A sieve not told is below 0.
type Sieves struct {
	Pass8, Pass20, Pass30, Pass60, Pass100 float64
}

// NoSieves is a label without fineness.
var NoSieves = Sieves{-1, -1, -1, -1, -1}

// Fineness is the share of a limestone, in per cent, that its grind lets act.
//
// NewYorkFineness counts 0.40 of what passes 20 mesh and stays on 60, 0.80 of what passes 60 and stays on 100, and all
// that passes 100.
//
// Source: CORNELL-ENV
func NewYorkFineness(pass20, pass60, pass100 float64) float64 {
	return 0.40*(pass20-pass60) + 0.80*(pass60-pass100) + pass100
}

// IllinoisFineness counts the shares that act within one year, or within four, of what stays on 8 mesh, passes 8 and stays
// on 30, passes 30 and stays on 60, and passes 60.
//
// Source: ILL-HANDBOOK (one year 0.05, 0.20, 0.50, 1; four years 0.15, 0.45, 1, 1)
func IllinoisFineness(pass8, pass30, pass60 float64, fourYears bool) float64 {
	f := [4]float64{0.05, 0.20, 0.50, 1}
	if fourYears {
		f = [4]float64{0.15, 0.45, 1, 1}
	}
	return f[0]*(100-pass8) + f[1]*(pass8-pass30) + f[2]*(pass30-pass60) + f[3]*pass60
}

// OhioFineness counts 0.2 of what passes 8 mesh and stays on 20, 0.6 of what passes 20 and stays on 60, and all that passes 60,
// within three years.
//
// Source: OHIO-SIEVES
func OhioFineness(pass8, pass20, pass60 float64) float64 {
	return 0.2*(pass8-pass20) + 0.6*(pass20-pass60) + pass60
}

// EffectiveValue is a product's neutralising value that acts, in per cent of pure, fine calcium carbonate.
//
//	cce, fineness, moisture  per cent
//
// Source: MDA-ENP (CCE × fineness × (100 − moisture))
func EffectiveValue(cce, fineness, moisture float64) float64 {
	return cce * fineness / 100 * (100 - moisture) / 100
}

// OfAnotherStone is so much of another stone in place of what was recommended of a typical one.
//
//	recommended  of a stone whose effective value is typical
//
// Source: ILL-HANDBOOK (typical ENV / ENV × recommended)
func OfAnotherStone(recommended, typical, effective float64) (float64, error) {
	if !(effective > 0) {
		return 0, errors.New("a product without neutralising value does not lime: read the CCE or ENV on the label")
	}
	return recommended * typical / effective, nil
}

// FinenessOf is the fineness of a label by the rule that its sieves allow: New York's where 20, 60 and 100 mesh are told, Ohio's
// for 8, 20 and 60, Illinois's four years for 8, 30 and 60.
func (s Sieves) FinenessOf() (percent float64, rule, source string, err error) {
	last := 101.0
	for _, v := range []float64{s.Pass8, s.Pass20, s.Pass30, s.Pass60, s.Pass100} {
		if v < 0 {
			continue
		}
		if v > last || v > 100 || math.IsNaN(v) {
			return 0, "", "", fmt.Errorf("%.3g %% cannot pass a finer sieve than %.3g %% passed: write what passes each mesh, from 0 to 100, falling with finer mesh", v, last)
		}
		last = v
	}
	switch {
	case s.Pass20 >= 0 && s.Pass60 >= 0 && s.Pass100 >= 0:
		return NewYorkFineness(s.Pass20, s.Pass60, s.Pass100), "New York sieve rule", "CORNELL-ENV", nil
	case s.Pass8 >= 0 && s.Pass20 >= 0 && s.Pass60 >= 0:
		return OhioFineness(s.Pass8, s.Pass20, s.Pass60), "Ohio sieve rule", "OHIO-SIEVES", nil
	case s.Pass8 >= 0 && s.Pass30 >= 0 && s.Pass60 >= 0:
		return IllinoisFineness(s.Pass8, s.Pass30, s.Pass60, true), "Illinois sieve rule, four years", "ILL-HANDBOOK", nil
	}
	return 0, "", "", errors.New("the fineness needs what passes three sieves: 20, 60 and 100 mesh, or 8, 20 and 60, or 8, 30 and 60")
}

// Strength is what a product is worth against pure fine calcium carbonate, with why.
type Strength struct {
	Share   float64 // 1: as pure fine calcium carbonate; negative: it acidifies
	Reasons []garden.Reason
}

// StrengthOf is a material's strength by its label where the person gave one, else by its usual figures.
//
// Source: MDA-ENP
func StrengthOf(m Material, label *garden.Package) (Strength, error) {
	if m.CCE == nil {
		return Strength{}, fmt.Errorf("%s has no known effect on pH; choose a liming or an acidifying material", m.Name)
	}
	cce, fine, from := m.CCE.Value, 100.0, "as usual for it"
	if m.Fineness != nil {
		fine = m.Fineness.Value
	}
	if label != nil && label.CCE != nil {
		cce, from = *label.CCE, "by its label"
	}
	if label != nil && label.Fineness != nil {
		fine, from = *label.Fineness, "by its label"
	}
	if math.IsNaN(cce) || cce == 0 || math.Abs(cce) > 320 || !(fine > 0 && fine <= 100) {
		return Strength{}, fmt.Errorf("%s cannot have a neutralising value of %v %% and a fineness of %v %%: write the CCE and the fineness that the label prints", m.Name, cce, fine)
	}
	moisture := 0.0
	if m.Moisture != nil && m.Family == Liming {
		moisture = m.Moisture.Value
	}
	share := EffectiveValue(cce, fine, moisture) / 100
	says := fmt.Sprintf("%s %s: neutralising value %.3g %%, of which %.3g %% is fine enough: %.2f of pure fine lime.", m.Name, from, cce, fine, share)
	if m.Family == Acidifying {
		says = fmt.Sprintf("%s %s: it takes away %.2f times its weight of lime.", m.Name, from, -share)
	}
	return Strength{share, []garden.Reason{{Says: capital(says), Rule: "product strength", Source: "MDA-ENP"}}}, nil
}

// OfProduct is a need of pure lime as a weight of the product.
//
// Source: PSU-HG (recommended × 100 / CCE)
func (s Strength) OfProduct(pure quantity.KilogramPerSquareMetre) quantity.KilogramPerSquareMetre {
	return pure / quantity.KilogramPerSquareMetre(math.Abs(s.Share))
}

func capital(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
