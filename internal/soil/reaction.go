package soil

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Verdict is what a bed's reaction asks for.
type Verdict string

// The verdicts.
const (
	GiveLime   Verdict = "lime"
	GiveSulfur Verdict = "sulfur"
	LeaveIt    Verdict = "leave"        // in range, or not to be changed
	LiveWithIt Verdict = "live with it" // alkaline by free lime: not practical to change
	AskFirst   Verdict = "ask first"    // lead or salt: a local office first
)

// Sour is all that the reaction of a bed is worked out from.
type Sour struct {
	BedID       int64
	Area        quantity.SquareMetre
	Soil        garden.Soil        // of the bed, with the site's where the bed says nothing
	Tests       []garden.SoilTest  // of any bed
	Treatments  []garden.Treatment // of this bed
	Crops       []*crop.Crop       // planned here
	Drift       garden.Drift       // told or inferred; empty: not known
	Today       civil.Date
	Sowing      civil.Date       // the first planting of the coming season; 0: not planned
	South       bool             // of the equator: autumn is in March
	Established bool             // plants stand that cannot be dug about: everything goes on top
	Lime        string           // ID of the liming material wanted; empty: by the magnesium test
	Packages    []garden.Package // labels of what the person can buy
	Units       quantity.System  // in which it is said
	// Beside is the pure lime that organic matter going into the bed takes up (peat), or brings (negative: mushroom compost).
	Beside quantity.KilogramPerSquareMetre

	labelled bool // Treatments are reckoned by their labels already
}

// Reaction is what to do about a bed's pH, and why.
type Reaction struct {
	BedID       int64
	PH          float64 // expected now; 0: never tested
	Tested      civil.Date
	Expected    Expected
	Target      PHTarget
	Fits        []Fit // of each crop planned, at the pH expected
	Verdict     Verdict
	Dose        *Dose
	Others      []Dose // in place of it
	Requirement Requirement
	Due         civil.Date // lime to be thought of again, 0: not known
	Alarms      []Alarm
	Reasons     []garden.Reason
	Advice      []string
}

// usualDepth is how deep a garden bed is worked with a spade when nothing is told: six to eight inches.
//
// Source: PSU-HG
const usualDepth quantity.Metre = 7 * inch

// ReactionOf works out what a bed's pH asks for.
//
// Source: REACTION-PRACTICE; PSU-HG
func ReactionOf(s Sour) (Reaction, error) {
	if !(s.Area > 0) {
		return Reaction{}, fmt.Errorf("a bed of %.2f m² takes nothing: give its size first", float64(s.Area))
	}
	s = s.byLabel()
	r := Reaction{BedID: s.BedID, Target: PHTargetOf(s.Crops), Verdict: LeaveIt}
	test, tested := LatestPH(s.Tests, s.BedID, s.Today)
	if texture, organic := textureOf(s, test); texture == garden.Organic || organic > 20 {
		r.Target = r.Target.onPeat()
	}
	r.Reasons = append(r.Reasons, r.Target.Reasons...)
	depth := s.worked()
	texture, _ := textureOf(s, test)
	r.Alarms = BedAlarms(s.Tests, s.BedID, texture, s.Today)
	var due garden.Reason
	if r.Due, due = LimeDue(texture, LastLimed(s.Treatments), test.Date, s.Drift); r.Due != 0 {
		r.Reasons = append(r.Reasons, due)
	}
	var err error
	if !tested {
		err = r.untested(s, depth)
	} else {
		err = r.byTest(s, test, depth)
	}
	if err != nil {
		return Reaction{}, err
	}
	if slices.ContainsFunc(r.Alarms, func(a Alarm) bool { return a.Stop }) {
		r.Verdict = AskFirst
	}
	return r, nil
}

// worked is how deep the bed is worked.
func (s Sour) worked() quantity.Metre {
	if s.Soil.Tilled > 0 {
		return s.Soil.Tilled
	}
	return usualDepth
}

// ExpectedOf is the pH that a bed should have by now, by its latest test and what was done since; false where it has none.
func ExpectedOf(s Sour) (Expected, bool) {
	s = s.byLabel()
	test, ok := LatestPH(s.Tests, s.BedID, s.Today)
	if !ok {
		return Expected{}, false
	}
	texture, organic := textureOf(s, test)
	return reactionPast{texture, organic, s.worked(), s.Drift, s.Area}.expectedAt(test, s.Treatments, s.Today)
}

// byTest is the reaction of a bed with a pH.
func (r *Reaction) byTest(s Sour, test garden.SoilTest, depth quantity.Metre) error {
	texture, organic := textureOf(s, test)
	r.Expected, _ = ExpectedOf(s)
	r.PH, r.Tested = r.Expected.PH, test.Date
	r.Reasons = append(r.Reasons, r.Expected.Reasons...)
	if test.Salt {
		r.Reasons = append(r.Reasons, garden.Reason{Says: fmt.Sprintf("pH was measured in calcium chloride; %.1f is added for pH in water.", saltStep), Rule: "pH in calcium chloride", Source: "UGA-PH"})
	}
	if float64(s.Today.Since(test.Date)) > 3.5*365.25 {
		r.Advice = append(r.Advice, "The test is over three years old: take a new one before giving much.")
	}
	for _, c := range s.Crops {
		if c != nil && c.PH.High > 0 {
			r.Fits = append(r.Fits, FitOf(c, r.PH))
		}
	}
	switch {
	case r.PH < r.Target.Low-0.05 && len(r.Target.Sour) > 0 && !r.Target.AcidBed:
		r.Reasons = append(r.Reasons, noLimeFor(r.Target.Sour))
		r.Advice = append(r.Advice, "Give what wants sweeter ground another bed; lime would harm what wants it sour for years.")
		return nil
	case r.PH < r.Target.Low-0.05 && !r.Target.AcidBed:
		return r.lime(s, test, texture, organic, depth)
	case r.PH > r.Target.High+0.25:
		return r.acidify(s, &test, texture, depth)
	}
	r.Reasons = append(r.Reasons, garden.Reason{Says: fmt.Sprintf("pH %.1f (%s) suits what is planned: nothing is given.", r.PH, PHWord(r.PH)), Rule: "pH in range", Source: "REACTION-PRACTICE"})
	if r.Target.AcidBed && r.PH < r.Target.Low {
		r.Advice = append(r.Advice, "Even sourer than these crops want; still no lime, but compost rather than sulfate of ammonia.")
	}
	return nil
}

// noLimeFor says that a bed is not limed while crops that want it sour stand or are planned in it.
func noLimeFor(sour []*crop.Crop) garden.Reason {
	return garden.Reason{Says: names(sour) + " want it sour: no lime here, whatever grows beside.", Rule: "acid-loving crops", Source: "REACTION-PRACTICE"}
}

func textureOf(s Sour, test garden.SoilTest) (garden.Texture, float64) {
	texture, organic := s.Soil.Texture, 0.0
	if test.Texture != "" {
		texture = test.Texture
	}
	if test.Organic != nil {
		organic = *test.Organic
	}
	return texture, organic
}
