package soil

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// leastLime is the least pure lime worth spreading: half a pound to 100 square feet.
const leastLime = 0.5 * 10 * PoundPer1000SquareFeet

// lime works the requirement out: by the report's buffer, else by its exchangeable acidity, else by the kind of soil, from
// the pH tested; what has been given since is taken off.
func (r *Reaction) lime(s Sour, test garden.SoilTest, texture garden.Texture, organic float64, depth quantity.Metre) error {
	ph := r.PH
	measured, _ := InWater(test)
	need := TextureRequirement(texture, organic, ph, r.Target.PH, s.Units)
	need = need.less(pending(s.Treatments, s.Area, s.Today)*quantity.KilogramPerSquareMetre(need.Depth/depth),
		"Of what was given, %s of pure lime has still to act and is taken off.", "lime still to act (estimated)", s.Units)
	switch {
	case (texture == garden.Organic || organic > 20) && (test.Method == garden.SMP || test.Method == garden.Sikora) && measured < r.Target.PH:
		lime, layer := SMPOrganicRequirement(measured)
		n := Requirement{Lime: lime, Low: lime * 2 / 3, High: lime * 4 / 3, Depth: layer, Target: 5.3, Method: "pH of peat", Reasons: []garden.Reason{{
			Says: fmt.Sprintf("On peat and muck the three states about the Great Lakes take the lime from the pH itself: %s of pure lime.", s.Units.Rate(lime)), Rule: "lime on peat", Source: "MSU-E2567"}}}
		need = r.since(s, test, n, texture, organic, depth)
	case test.Buffer != nil && measured < r.Target.PH:
		n, err := BufferRequirement(test.Method, measured, *test.Buffer, r.Target.PH, s.Units)
		if err != nil {
			return err
		}
		need = r.since(s, test, n, texture, organic, depth)
	case test.Acidity != nil && measured < r.Target.PH:
		lime, layer := ExchangeableRequirement(*test.Acidity, measured, r.Target.PH)
		n := Requirement{Lime: lime, Low: lime * 3 / 4, High: lime * 5 / 4, Depth: layer, Target: r.Target.PH, Method: "exchangeable acidity", Reasons: []garden.Reason{{
			Says: fmt.Sprintf("Exchangeable acidity of %.1f meq takes %s of pure lime.", *test.Acidity, s.Units.Rate(lime)), Rule: "lime by exchangeable acidity", Source: "PSU-TURF; PSU-840"}}}
		need = r.since(s, test, n, texture, organic, depth)
	}
	r.Requirement = need.DepthScaled(depth, s.Units).beside(s.Beside, s.Units)
	r.Reasons = append(r.Reasons, r.Requirement.Reasons...)
	if r.Requirement.Lime < leastLime {
		r.Reasons = append(r.Reasons, garden.Reason{Says: "The need is small, or what was given since the test covers it: nothing now; test again in a year.", Rule: "too little to spread", Source: "REACTION-PRACTICE"})
		return nil
	}
	m, why := limingMaterial(s)
	dose, err := r.limeDose(s, m, why)
	if err != nil {
		return err
	}
	r.Verdict, r.Dose = GiveLime, dose
	r.woodAsh(s)
	r.Advice = append(r.Advice, "Test again a year after the last part: lime comes slowly, and it is easier given than taken back.")
	return nil
}

// since moves a requirement from the day of the test to now: what has drifted away is added, what was given since is taken off.
func (r *Reaction) since(s Sour, test garden.SoilTest, need Requirement, texture garden.Texture, organic float64, depth quantity.Metre) Requirement {
	given := 0.0
	for _, t := range s.Treatments {
		if m, ok := Find(t.Material); ok && m.CCE != nil && m.Family == Liming && t.Date > test.Date && t.Date <= s.Today {
			given += float64(pureLime(m, t)) / float64(s.Area) * float64(need.Depth/depth)
		}
	}
	// What lime of before the test had still to do on its day, the buffer did not see.
	waiting := math.Max(0, float64(pending(s.Treatments, s.Area, test.Date))*float64(need.Depth/depth))
	years := math.Max(0, float64(s.Today.Since(test.Date))/365.25)
	lost := math.Max(0, -driftPace(texture, s.Drift)*years) * float64(Capacity(texture, organic, need.Depth))
	if waiting > 0 {
		need = need.less(quantity.KilogramPerSquareMetre(waiting), "Of the lime of before the test %s had still to act on its day and is taken off.", "lime still to act (estimated)", s.Units)
	}
	if given == 0 && years < 1 {
		return need
	}
	change := quantity.KilogramPerSquareMetre(lost - given)
	need.Lime, need.Low, need.High = max(0, need.Lime+change), max(0, need.Low+change), max(0, need.High+change)
	need.Reasons = append(slices.Clone(need.Reasons), garden.Reason{
		Says: fmt.Sprintf("Since the test %s of pure lime was given and about %s drifted away.", s.Units.Rate(quantity.KilogramPerSquareMetre(given)), s.Units.Rate(quantity.KilogramPerSquareMetre(lost))), Rule: "lime since the test (estimated)", Source: "NCDA-BUF"})
	return need
}

// limingMaterial is the stone: the one asked for, else dolomitic where magnesium tests low, else ground limestone.
//
// Source: CORNELL-FS7 (dolomitic stone brings magnesium)
func limingMaterial(s Sour) (Material, garden.Reason) {
	if m, ok := LimeOf(s.Lime, s.Packages); ok {
		return m, garden.Reason{Says: capital(m.Name) + " is what you chose.", Rule: "choice of lime"}
	}
	id, says := "limestone-ground", "Magnesium is not known to be short: ground limestone without it will do."
	if _, reading, ok := LatestReading(s.Tests, s.BedID, garden.Magnesium, s.Today); ok {
		if c, err := Class(reading); err == nil {
			switch c.Class {
			case garden.VeryLow, garden.Low:
				id, says = "limestone-dolomitic", "Magnesium tests "+string(c.Class)+": dolomitic limestone brings it."
			default:
				says = "Magnesium tests " + string(c.Class) + ": limestone without it, because too much hardens the ground."
			}
		}
	}
	m, _ := Find(id)
	return m, garden.Reason{Says: says, Rule: "calcitic or dolomitic", Source: "CORNELL-FS7"}
}

// labelOf is the label of a material that the person can buy and that is reckoned with, if any.
func labelOf(s Sour, id string) *garden.Package { return labelAmong(s.Packages, id) }

// limeDose is the requirement as a weight of the product in its parts.
func (r *Reaction) limeDose(s Sour, m Material, why garden.Reason) (*Dose, error) {
	strength, err := StrengthOf(m, labelOf(s, m.ID))
	if err != nil {
		return nil, err
	}
	if strength.Share < 0 {
		return nil, fmt.Errorf("%s does not lime; choose a liming material", m.Name)
	}
	d := &Dose{Material: m, Rate: strength.OfProduct(r.Requirement.Lime), Low: strength.OfProduct(r.Requirement.Low), High: strength.OfProduct(r.Requirement.High),
		Depth: r.Requirement.Depth, Before: 21, Cautions: append(slices.Clone(m.Cautions), lightLoads)}
	if m.ID == "lime-hydrated" {
		d.Before = 14
	}
	d.Reasons = append(d.Reasons, why)
	d.Reasons = append(d.Reasons, strength.Reasons...)
	if s.Established {
		d.Depth = 0
	}
	if m.ID == ashID {
		d.ashOfAYear(s)
		return d, nil
	}
	parts, reason := limeParts(d.Rate, m, s.Established, s.Units)
	d.Reasons = append(d.Reasons, reason)
	d.finish(s, parts, 182)
	return d, nil
}

// limeParts is in how many applications lime goes on, half a year apart.
//
//	rate  of product
//	top   left on the surface: at most 5 lb to 100 square feet at once
//
// Source: PSU-HG (11 to 20 lb in two, 21 and more in three); NCDA-INT (50 lb to 1,000 square feet on the surface)
func limeParts(rate quantity.KilogramPerSquareMetre, m Material, top bool, units quantity.System) (int, garden.Reason) {
	const pound = 10 * PoundPer1000SquareFeet // to a hundred square feet
	pounds := float64(rate / pound)
	switch {
	case top && pounds > 5:
		n := int(math.Ceil(pounds/5 - 1e-9))
		return n, garden.Reason{Says: fmt.Sprintf("Left on top, at most %s at once: in %d parts, half a year apart, with a test between.", units.Rate(5*pound), n), Rule: "lime on the surface", Source: "NCDA-INT"}
	case m.Most > 0 && m.ID != "limestone-ground" && m.Family == Liming && m.Most < mostByTexture && rate > m.Most:
		n := int(math.Ceil(float64(rate/m.Most) - 1e-9))
		return n, garden.Reason{Says: fmt.Sprintf("Of %s no more than %s at once: in %d parts.", m.Name, units.Rate(m.Most), n), Rule: "most at one time", Source: "REACTION-PRACTICE"}
	case pounds >= 20.5:
		return 3, garden.Reason{Says: fmt.Sprintf("Over %s: in three parts, half a year apart.", units.Rate(20*pound)), Rule: "lime in parts", Source: "PSU-HG"}
	case pounds >= 10.5:
		return 2, garden.Reason{Says: fmt.Sprintf("Over %s: in two parts, half a year apart.", units.Rate(10*pound)), Rule: "lime in parts", Source: "PSU-HG"}
	}
	return 1, garden.Reason{Says: fmt.Sprintf("%s or less: all at once, worked in.", units.Rate(10*pound)), Rule: "lime in parts", Source: "PSU-HG"}
}
