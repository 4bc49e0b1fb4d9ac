package soil

import (
	"fmt"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The cautious dressings without a test, as the trade has them.
//
// Source: REACTION-PRACTICE
const (
	untestedLimeLow, untestedLimeHigh     = 3.5 * 10 * PoundPer1000SquareFeet, 5 * 10 * PoundPer1000SquareFeet
	untestedSulfurLow, untestedSulfurHigh = 1 * 10 * PoundPer1000SquareFeet, 2 * 10 * PoundPer1000SquareFeet
	untestedEvery                         = 1278 // days: three and a half years
)

// untestedLime is the dressing of ground limestone as the lime at hand, by what each is worth.
func untestedLime(s Sour, m Material, why garden.Reason, rate quantity.KilogramPerSquareMetre, depth quantity.Metre) (*Dose, error) {
	stone, _ := Find("limestone-ground")
	usual, err := StrengthOf(stone, nil)
	if err != nil {
		return nil, err
	}
	pure := quantity.KilogramPerSquareMetre(usual.Share)
	r := Reaction{Requirement: Requirement{Lime: rate * pure, Low: untestedLimeLow * pure, High: untestedLimeHigh * pure, Depth: depth}}
	return r.limeDose(s, m, why)
}

// untested is the cautious rule where no pH was ever measured, always with the advice to test.
//
// Source: REACTION-PRACTICE
func (r *Reaction) untested(s Sour, depth quantity.Metre) error {
	r.Advice = append(r.Advice, "This ground was never tested: a test costs less than the lime, and only it tells the need. Ask the local extension office or a laboratory.")
	if s.Established {
		depth = 0
	}
	limed := LastLimed(s.Treatments)
	share := quantity.KilogramPerSquareMetre(map[coarseness]float64{coarse: 0, middling: 0.5, fine: 1}[coarsenessOf(s.Soil.Texture)])
	switch {
	case r.Target.AcidBed:
		r.Reasons = append(r.Reasons, garden.Reason{Says: "Acid-loving crops: no lime, and no sulfur before a test.", Rule: "untested ground", Source: "REACTION-PRACTICE"})
	case s.Drift == garden.TowardsAcid && len(r.Target.Sour) > 0:
		r.Reasons = append(r.Reasons, noLimeFor(r.Target.Sour))
	case s.Drift == garden.TowardsAcid && r.Target.PH < vegetableLow:
		r.Reasons = append(r.Reasons, garden.Reason{Says: "Potatoes without a test: no lime.", Rule: "untested ground", Source: "REACTION-PRACTICE"})
	case s.Drift == garden.TowardsAcid && limed != 0 && s.Today.Since(limed) < untestedEvery:
		r.Reasons = append(r.Reasons, garden.Reason{Says: fmt.Sprintf("Limed on %s, less than three and a half years ago: nothing without a test.", dated(limed)), Rule: "untested ground", Source: "REACTION-PRACTICE"})
	case s.Drift == garden.TowardsAcid:
		rate := untestedLimeLow + (untestedLimeHigh-untestedLimeLow)*share
		says := "Rain leaches this region and the bed was not limed for three and a half years"
		if limed == 0 {
			says = "Rain leaches this region and no lime is on record here"
		}
		r.Reasons = append(r.Reasons, garden.Reason{Says: fmt.Sprintf("%s: without a test, the trade's cautious dressing is %s of ground limestone, %s here by the kind of soil.", says, rates(s.Units, untestedLimeLow, untestedLimeHigh), s.Units.Rate(rate)), Rule: "untested ground in an acid region", Source: "REACTION-PRACTICE"})
		m, why := limingMaterial(s)
		d, err := untestedLime(s, m, why, rate, depth)
		if err != nil {
			return err
		}
		r.Verdict, r.Dose = GiveLime, d
	case s.Drift == garden.TowardsAlkaline && lastGiven(s.Treatments, Acidifying) != 0 && s.Today.Since(lastGiven(s.Treatments, Acidifying)) < untestedEvery:
		r.Reasons = append(r.Reasons, garden.Reason{Says: fmt.Sprintf("Sulfur was given on %s: no more without a test.", dated(lastGiven(s.Treatments, Acidifying))), Rule: "untested ground", Source: "REACTION-PRACTICE"})
		r.Advice = append(r.Advice, AlkalineAdvice...)
	case s.Drift == garden.TowardsAlkaline:
		rate := untestedSulfurLow + (untestedSulfurHigh-untestedSulfurLow)*share
		r.Reasons = append(r.Reasons, garden.Reason{Says: fmt.Sprintf("Little rain goes through the ground of this region: without a test, the trade's cautious dressing is %s of ground sulfur, %s here by the kind of soil. First drop vinegar on dry earth: if it fizzes, leave it.", rates(s.Units, untestedSulfurLow, untestedSulfurHigh), s.Units.Rate(rate)), Rule: "untested ground in an alkaline region", Source: "REACTION-PRACTICE"})
		m, _ := Find("sulfur-ground")
		d := &Dose{Material: m, Rate: rate, Low: untestedSulfurLow, High: untestedSulfurHigh, Depth: depth, Before: 60, Cautions: slices.Clone(m.Cautions)}
		d.finish(s, 1, 75)
		// Dug in with the autumn digging, as the trade does; it begins to work when the ground warms.
		d.Parts[0].From = max(s.Today, autumnFrom(s.Today, s.South))
		d.Parts[0].To, d.Parts[0].When = d.Parts[0].From.Add(45), "in autumn, when the bed is clear; it works when the ground is warm again"
		r.Verdict, r.Dose = GiveSulfur, d
		r.Advice = append(r.Advice, AlkalineAdvice...)
	default:
		r.Reasons = append(r.Reasons, garden.Reason{Says: "Which way this ground drifts is not known: nothing is given without a test.", Rule: "untested ground", Source: "REACTION-PRACTICE"})
	}
	return nil
}
