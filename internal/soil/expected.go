package soil

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Capacity is the pure lime that moves a pH unit about pH 6, in a layer of ground: how well it holds against lime and acid.
//
//	depth   m of the layer
//	result  kg/m² for a unit
//
// Source: LIME-100; LIME-1000; LIME-UNIT; USDA-AH18 (lower middle of 5.5 to 6.5)
func Capacity(texture garden.Texture, organic float64, depth quantity.Metre) quantity.KilogramPerSquareMetre {
	if organic > 20 {
		texture = garden.Organic
	}
	var r Requirement
	_, _, pounds, _ := r.span(texture, 5.5, 6.5)
	return quantity.KilogramPerSquareMetre(pounds) * 10 * PoundPer1000SquareFeet * quantity.KilogramPerSquareMetre(depth/furrowSlice)
}

// Reacted is the share of a dressing worked into the ground that has done its work.
//
//	years   since, 0 and up
//	result  0 to 1: 1 − exp(−years / pace); pace 0.7 years for ground stone, 0.15 for hydrated lime and ash, 0.5 for sulfur
//
// The paces are estimated here: ground stone so that three quarters of what acts in four years has acted in one, as the
// Illinois figures for a usual stone have it (47.78 of 66.64 %), which also puts the top of the pH in the second year.
//
// Source: ILL-HANDBOOK; MALLARINO-2018 (highest pH in the second year, plainly lower in the fourth)
func Reacted(m Material, years float64) float64 {
	pace := 0.7
	switch {
	case m.ID == "lime-hydrated" || m.ID == "lime-burnt" || m.ID == "wood-ash" || m.ID == "iron-sulfate" || m.ID == "aluminium-sulfate":
		pace = 0.15
	case m.Family == Acidifying || m.Family == Fertiliser:
		pace = 0.5
	}
	return 1 - math.Exp(-math.Max(0, years)/pace)
}

// driftPace is how far the pH moves in a year by the climate alone and ordinary feeding: a tenth to the acid side on middling ground
// where rain leaches, half as much again on sand, less on clay and peat; a third of that to the alkaline side where lime gathers.
// Estimated: trials and long practice (lime every three to four years for about half a unit) give 0.1 to 0.2 on light ground.
//
// Source: MALLARINO-2018; REACTION-PRACTICE
func driftPace(texture garden.Texture, drift garden.Drift) float64 {
	pace := 0.10
	switch coarsenessOf(texture) {
	case coarse:
		pace = 0.15
	case fine:
		pace = 0.07
	}
	switch drift {
	case garden.TowardsAcid:
		return -pace
	case garden.TowardsAlkaline:
		return pace / 3
	}
	return -pace / 3
}

// The pH at which drift comes to rest: humid ground unlimed for long, and limy ground.
const (
	acidRest     = 4.8
	alkalineRest = 8.2
)

// Expected is the pH that ground should have by now.
type Expected struct {
	PH        float64
	Low, High float64
	Tested    civil.Date
	Reasons   []garden.Reason
}

// History of a bed's reaction.
type reactionPast struct {
	texture garden.Texture
	organic float64
	depth   quantity.Metre
	drift   garden.Drift
	area    quantity.SquareMetre
}

// expectedAt carries a test's pH forward to a day: the climate's drift, and what lime, ash, sulfur and fertiliser given since (or so
// shortly before that it had still to act) have done. The uncertainty grows by a twentieth of a unit with each year and by a third
// of what the treatments did.
func (p reactionPast) expectedAt(test garden.SoilTest, treatments []garden.Treatment, day civil.Date) (Expected, bool) {
	ph, ok := InWater(test)
	if !ok {
		return Expected{}, false
	}
	years := math.Max(0, float64(day.Since(test.Date))/365.25)
	drift := driftPace(p.texture, p.drift) * years
	rested := ph + drift
	if drift < 0 && rested < acidRest {
		rested = math.Min(ph, acidRest)
	}
	if drift > 0 && rested > alkalineRest {
		rested = math.Max(ph, alkalineRest)
	}
	moved := 0.0
	var what []string
	for _, t := range treatments {
		m, known := Find(t.Material)
		if !known || t.Date > day || m.CCE == nil || p.area <= 0 {
			continue
		}
		acted := Reacted(m, float64(day.Since(t.Date))/365.25) - Reacted(m, math.Max(0, float64(test.Date.Since(t.Date))/365.25))
		if acted <= 0.01 {
			continue
		}
		step := float64(pureLime(m, t)) * acted / float64(p.area) / float64(Capacity(p.texture, p.organic, p.depth))
		if math.Abs(step) < 0.005 {
			continue
		}
		moved += step
		what = append(what, fmt.Sprintf("%s of %s", m.Name, dated(t.Date)))
	}
	e := Expected{PH: math.Round(10*math.Min(8.4, math.Max(3.5, rested+moved))) / 10, Tested: test.Date}
	spread := 0.1 + 0.05*years + math.Abs(moved)/3
	if test.Kit {
		spread += 0.4
	}
	e.Low, e.High = math.Round(10*(e.PH-spread))/10, math.Round(10*(e.PH+spread))/10
	says := fmt.Sprintf("pH %.1f tested on %s", ph, dated(test.Date))
	if years >= 0.5 {
		says += fmt.Sprintf("; %s of drift %s %+.1f", quantity.Plural(years, "year"), verb(math.Abs(years-1) < 0.05, "counts", "count"), rested-ph)
	}
	if len(what) > 0 {
		given := fmt.Sprintf("%d treatments (the last: %s) count", len(what), what[len(what)-1])
		if len(what) == 1 {
			given = what[0] + " counts"
		}
		says += fmt.Sprintf("; %s %+.1f", given, moved)
	}
	says += fmt.Sprintf(": about %.1f now, between %.1f and %.1f. A test is better than this reckoning.", e.PH, e.Low, e.High)
	e.Reasons = []garden.Reason{{Says: says, Rule: "expected pH (estimated)", Source: "MALLARINO-2018"}}
	return e, true
}

// pureLime is what a treatment counts as pure lime, in kilograms on the bed; negative where it acidifies.
func pureLime(m Material, t garden.Treatment) quantity.Kilogram {
	mass := t.Amount
	if mass == 0 && m.Density != nil {
		mass = quantity.Kilogram(float64(t.Volume) * m.Density.Value)
	}
	s, err := StrengthOf(m, nil)
	if err != nil {
		return 0
	}
	return mass * quantity.Kilogram(s.Share)
}

// pending is the pure lime a square metre that what was given up to a day has still to do; negative where sulfur waits to turn.
func pending(treatments []garden.Treatment, area quantity.SquareMetre, day civil.Date) quantity.KilogramPerSquareMetre {
	var sum quantity.Kilogram
	for _, t := range treatments {
		if m, ok := Find(t.Material); ok && m.CCE != nil && t.Date <= day {
			sum += pureLime(m, t) * quantity.Kilogram(1-Reacted(m, float64(day.Since(t.Date))/365.25))
		}
	}
	return quantity.KilogramPerSquareMetre(sum) / quantity.KilogramPerSquareMetre(area)
}

// less is a requirement with something taken off.
func (r Requirement) less(given quantity.KilogramPerSquareMetre, says, rule string, units quantity.System) Requirement {
	if given <= 0 {
		return r
	}
	r.Lime, r.Low, r.High = max(0, r.Lime-given), max(0, r.Low-given), max(0, r.High-given)
	r.Reasons = append(slices.Clone(r.Reasons), garden.Reason{Says: fmt.Sprintf(says, units.Rate(given)), Rule: rule, Source: "NCDA-BUF"})
	return r
}

// beside is a requirement with the lime that organic matter going in takes up, or brings where negative.
func (r Requirement) beside(takes quantity.KilogramPerSquareMetre, units quantity.System) Requirement {
	if takes <= 0 {
		return r.less(-takes, "The organic matter that goes in brings %s of pure lime, which is taken off.", "lime in organic matter", units)
	}
	r.Lime, r.Low, r.High = r.Lime+takes, r.Low+takes, r.High+takes
	r.Reasons = append(slices.Clone(r.Reasons), garden.Reason{Says: fmt.Sprintf("The organic matter that goes in is sour and takes up %s of pure lime, which is added.", units.Rate(takes)), Rule: "acid of organic matter", Source: "NORGANICS-ACID"})
	return r
}

// LimeDue is when lime is due to be thought of again, and why: three years after the last on sand, four on clay, half way between on
// the rest, earlier when the pH expected falls under what the crops want, and never before a test when one is newer than the lime.
//
//	limed   the day of the last lime; 0: none known
//	tested  the day of the newest pH; 0: none. A test since the lime says what is wanted, and its word lasts as long
//
// Source: REACTION-PRACTICE (every three to four years unless a test says otherwise)
func LimeDue(texture garden.Texture, limed, tested civil.Date, drift garden.Drift) (due civil.Date, reason garden.Reason) {
	if limed == 0 || drift == garden.TowardsAlkaline {
		return 0, garden.Reason{}
	}
	years := 3.5
	switch coarsenessOf(texture) {
	case coarse:
		years = 3
	case fine:
		years = 4
	}
	due = limed.Add(int(math.Round(years * 365.25)))
	if tested > limed {
		due = tested.Add(int(math.Round(years * 365.25)))
		return due, garden.Reason{Says: fmt.Sprintf("Limed on %s and tested since, on %s: the test says what is wanted; on this ground lime is thought of again after about %g years, on %s.", dated(limed), dated(tested), years, dated(due)), Rule: "lime again", Source: "REACTION-PRACTICE"}
	}
	return due, garden.Reason{Says: fmt.Sprintf("Limed on %s; on this ground lime is due again after about %g years, on %s, unless a test says otherwise.", dated(limed), years, dated(due)), Rule: "lime again", Source: "REACTION-PRACTICE"}
}

// LastLimed is the day lime was last given, 0 when never.
func LastLimed(treatments []garden.Treatment) civil.Date { return lastGiven(treatments, Liming) }

// lastGiven is the day a material of a family was last given, 0 when never.
func lastGiven(treatments []garden.Treatment, family Family) civil.Date {
	var last civil.Date
	for _, t := range treatments {
		if m, ok := Find(t.Material); ok && m.Family == family && t.Date > last {
			last = t.Date
		}
	}
	return last
}

// LatestPH is the newest test with a pH that stands for a bed, up to a day; one of the bed's own before one of the whole garden's of
// the same day.
func LatestPH(tests []garden.SoilTest, bedID int64, upTo civil.Date) (garden.SoilTest, bool) {
	var best garden.SoilTest
	found := false
	for _, t := range tests {
		if t.PH == nil || t.Date > upTo || len(t.Beds) > 0 && !slices.Contains(t.Beds, bedID) {
			continue
		}
		if !found || t.Date > best.Date || t.Date == best.Date && len(t.Beds) > 0 {
			best, found = t, true
		}
	}
	return best, found
}
