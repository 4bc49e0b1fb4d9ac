package soil

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// acidify works sulfur out, or says why not.
func (r *Reaction) acidify(s Sour, test *garden.SoilTest, texture garden.Texture, depth quantity.Metre) error {
	free, why := FreeLime(test, r.PH)
	if free {
		r.Verdict = LiveWithIt
		r.Reasons = append(r.Reasons, why)
		r.Advice = append(r.Advice, AlkalineAdvice...)
		return nil
	}
	if !r.Target.AcidBed && r.PH < 7.5 {
		r.Reasons = append(r.Reasons, garden.Reason{Says: fmt.Sprintf("pH %.1f is a little over what is planned wants; compost and time bring it down, and sulfur is not worth its trouble below 7.5.", r.PH), Rule: "a little alkaline", Source: "REACTION-PRACTICE"})
		r.Advice = append(r.Advice, "No lime, wood ash or mushroom compost here until a test reads below 6.5.")
		return nil
	}
	to := r.Target.PH
	if !r.Target.AcidBed {
		to = math.Max(to, 6.5)
	}
	waiting := -pending(s.Treatments, s.Area, s.Today) / quantity.KilogramPerSquareMetre(LimeTakenBySulfur(1))
	r.Requirement = SulfurRequirement(texture, r.PH, to, s.Units).DepthScaled(depth, s.Units).less(waiting,
		"Of the sulfur given, %s has still to turn and is taken off.", "sulfur still to act (estimated)", s.Units)
	r.Reasons = append(r.Reasons, r.Requirement.Reasons...)
	if r.Requirement.Lime < leastLime/3 {
		r.Reasons = append(r.Reasons, garden.Reason{Says: "The need is small, or what was given covers it: wait two to three months of warm weather and test again.", Rule: "too little to spread", Source: "REACTION-PRACTICE"})
		return nil
	}
	dose, err := sulfurDose(s, r.Requirement)
	if err != nil {
		return err
	}
	r.Verdict, r.Dose = GiveSulfur, dose
	iron, _ := Find("iron-sulfate")
	other := Dose{Material: iron, Rate: IronSulfate(r.Requirement.Lime), Low: IronSulfate(r.Requirement.Low), High: IronSulfate(r.Requirement.High), Depth: dose.Depth, Before: 30,
		Cautions: slices.Clone(iron.Cautions), Reasons: []garden.Reason{{Says: "Iron sulfate works within weeks and takes eight times the weight of sulfur.", Rule: "iron sulfate for sulfur", Source: "RHS-S"}}}
	n := int(math.Ceil(float64(other.Rate/iron.Most) - 1e-9))
	other.finish(s, max(1, n), 75)
	r.Others = append(r.Others, other)
	r.Advice = append(r.Advice, "Acid peat worked in helps as well; wait two to three months and test before each further part, for it is easy to overdo.")
	return nil
}

// sulfurDose is sulfur in parts of at most 2 lb to 100 square feet, two and a half months apart, in warm ground.
//
// Source: REACTION-PRACTICE; CLEMSON-SULFUR (again no sooner than two to three months)
func sulfurDose(s Sour, need Requirement) (*Dose, error) {
	m, _ := Find("sulfur-ground")
	d := &Dose{Material: m, Rate: need.Lime, Low: need.Low, High: need.High, Depth: need.Depth, Before: 60, Cautions: slices.Clone(m.Cautions)}
	if s.Established {
		d.Depth = 0
	}
	n := max(1, int(math.Ceil(float64(d.Rate/m.Most)-1e-9)))
	d.Reasons = []garden.Reason{{Says: fmt.Sprintf("At most %s at once: in %s, two to three months apart. It works through living ground above about %s, over weeks to months.", s.Units.Rate(m.Most), partsWord(n), s.Units.Temperature(13)), Rule: "sulfur in parts", Source: "REACTION-PRACTICE; CLEMSON-SULFUR"}}
	d.finish(s, n, 75)
	return d, nil
}
