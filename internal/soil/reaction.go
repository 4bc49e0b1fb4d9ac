package soil

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Dose is a material to put on a bed.
type Dose struct {
	Material  Material
	Rate      quantity.KilogramPerSquareMetre // in all
	Low, High quantity.KilogramPerSquareMetre // what the sources span, of this material
	Mass      quantity.Kilogram               // on the bed
	Volume    quantity.Litre                  // loose, for a measured bucket
	Depth     quantity.Metre                  // worked in to; 0: left on top
	Parts     []Part
	Before    int // days before sowing that it should lie at least
	Reasons   []garden.Reason
	Cautions  []string
}

// Part is one of a dose's applications.
type Part struct {
	Rate quantity.KilogramPerSquareMetre
	Mass quantity.Kilogram
	From civil.Date // not before
	To   civil.Date // best by
	When string     // in words
}

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

// leastLime is the least pure lime worth spreading: half a pound to 100 square feet.
const leastLime = 0.5 * 10 * PoundPer1000SquareFeet

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

// latestHazards are the newest readings of lead and of salts that stand for the bed.
func latestHazards(s Sour) garden.SoilTest {
	var out garden.SoilTest
	var lead, salts civil.Date
	for _, t := range s.Tests {
		if t.Date > s.Today || len(t.Beds) > 0 && !slices.Contains(t.Beds, s.BedID) {
			continue
		}
		if t.Lead != nil && (out.Lead == nil || t.Date >= lead) {
			out.Lead, lead = t.Lead, t.Date
		}
		if t.Salts != nil && (out.Salts == nil || t.Date >= salts) {
			out.Salts, out.SaltsBy, salts = t.Salts, t.SaltsBy, t.Date
		}
	}
	out.Texture = s.Soil.Texture
	return out
}

// BedAlarms are the lead and the salts that the newest tests of a bed tell of, up to a day.
func BedAlarms(tests []garden.SoilTest, bed int64, texture garden.Texture, today civil.Date) []Alarm {
	return AlarmsOf(latestHazards(Sour{BedID: bed, Tests: tests, Soil: garden.Soil{Texture: texture}, Today: today}))
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
	if m, ok := Find(s.Lime); ok && m.Family == Liming {
		return m, garden.Reason{Says: capital(m.Name) + " is what you chose.", Rule: "choice of lime"}
	}
	if m, ok := ownLime(s.Lime, s.Packages); ok {
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

const ashID = "wood-ash"

// ashOfAYear is what one year may have of wood ash, not within a year of the last.
//
// Source: ASH-EXT (20 lb to 1,000 square feet in a year)
func (d *Dose) ashOfAYear(s Sour) {
	whole := d.Rate
	d.Rate, d.Low, d.High = min(d.Rate, d.Material.Most), min(d.Low, d.Material.Most), min(d.High, d.Material.Most)
	if whole > d.Rate {
		d.Reasons = append(d.Reasons, garden.Reason{Says: fmt.Sprintf("Of wood ash no more than %s goes on in a year, of the %s wanted: give the rest as ground limestone, or ash again in a year after a test.", s.Units.Rate(d.Material.Most), s.Units.Rate(whole)), Rule: "most in a year", Source: "ASH-EXT"})
	}
	d.finish(s, 1, 365)
	last := civil.Date(0)
	for _, t := range s.Treatments {
		if t.Material == ashID && t.Date <= s.Today && t.Date > last {
			last = t.Date
		}
	}
	if again := last.Add(365); last != 0 && d.Parts[0].From < again {
		d.Parts[0].From, d.Parts[0].To = again, again.Add(45)
		d.Parts[0].When = fmt.Sprintf("not before %s: ash was given on %s", dated(again), dated(last))
	}
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

// finish weighs the parts and sets their days.
func (d *Dose) finish(s Sour, parts, apart int) {
	d.Cautions = allInUnits(d.Cautions, s.Units)
	d.Mass = quantity.Kilogram(d.Rate) * quantity.Kilogram(s.Area)
	if d.Material.Density != nil && d.Material.Density.Value > 0 {
		d.Volume = quantity.Litre(float64(d.Mass) / d.Material.Density.Value)
	}
	from, when := d.opens(s)
	if last := lastGiven(s.Treatments, d.Material.Family); last != 0 && last <= s.Today && from < last.Add(apart) && apart < 365 {
		from, when = last.Add(apart), fmt.Sprintf("not before %s: some was given on %s", dated(last.Add(apart)), dated(last))
	}
	for i := range parts {
		at := from.Add(i * apart)
		words := when
		if i > 0 {
			words = fmt.Sprintf("%d months after the part before", int(math.Round(float64(apart)/30.4)))
			if apart < 90 {
				words = fmt.Sprintf("%d weeks after the part before", int(math.Ceil(float64(apart)/7)))
			}
		}
		d.Parts = append(d.Parts, Part{Rate: d.Rate / quantity.KilogramPerSquareMetre(parts), Mass: d.Mass / quantity.Kilogram(parts), From: at, To: at.Add(45), When: words})
	}
}

// opens is the day the first part goes on: in autumn where that can be waited for, else now when it lies long enough before sowing,
// else after the crop.
//
// Source: REACTION-PRACTICE (autumn preferred)
func (d *Dose) opens(s Sour) (civil.Date, string) {
	autumn := autumnFrom(s.Today, s.South)
	if d.Material.Family == Acidifying {
		return warmSoil(s.Today, s.South), "in warm, moist ground: late spring to early autumn"
	}
	switch {
	case autumn <= s.Today:
		return s.Today, "now, in autumn: it works all winter"
	case s.Sowing != 0 && s.Sowing > s.Today && s.Sowing.Since(s.Today) >= d.Before && s.Sowing < autumn:
		return s.Today, fmt.Sprintf("now, at least %s before sowing; autumn would have been better", quantity.Plural(float64(d.Before), "day"))
	}
	return autumn, "in autumn, when the bed is clear"
}

// autumnFrom is the first day of this autumn when it is now, else of the next: 15 September to the end of November, half a year
// later in the south.
func autumnFrom(today civil.Date, south bool) civil.Date {
	month, last := 9, 11
	if south {
		month, last = 3, 5
	}
	start := civil.Of(today.Year(), month, 15)
	if today > civil.Of(today.Year(), last, 30) {
		start = civil.Of(today.Year()+1, month, 15)
	}
	return start
}

// warmSoil is today in the warm half of the year, else its beginning.
func warmSoil(today civil.Date, south bool) civil.Date {
	from, to := civil.Of(today.Year(), 5, 1), civil.Of(today.Year(), 9, 15)
	if south {
		from, to = civil.Of(today.Year(), 11, 1), civil.Of(today.Year()+1, 3, 15)
		if today < civil.Of(today.Year(), 3, 15) {
			from, to = civil.Of(today.Year()-1, 11, 1), civil.Of(today.Year(), 3, 15)
		}
	}
	switch {
	case today < from:
		return from
	case today <= to:
		return today
	}
	return from.InYear(from.Year() + 1)
}

// woodAsh offers ash in place of the stone, within its limit: 20 lb to 1,000 square feet in a year, the lower of the two limits met with.
//
// Source: ASH-EXT (twice the weight of limestone; 20 lb to 1,000 square feet; not at pH 7.0 and above, not for potatoes)
func (r *Reaction) woodAsh(s Sour) {
	ash, ok := Find("wood-ash")
	if !ok || r.Requirement.Lime <= 0 || slices.ContainsFunc(s.Crops, func(c *crop.Crop) bool { return c != nil && c.Kind == "potato" }) {
		return
	}
	strength, err := StrengthOf(ash, labelOf(s, ash.ID))
	if err != nil {
		return
	}
	if r.Dose != nil && r.Dose.Material.ID == ashID {
		return
	}
	whole := strength.OfProduct(r.Requirement.Lime)
	d := Dose{Material: ash, Rate: min(whole, ash.Most), Depth: r.Requirement.Depth, Before: 21, Cautions: slices.Clone(ash.Cautions)}
	d.Low, d.High = d.Rate, d.Rate
	says := fmt.Sprintf("Wood ash does about half of what limestone does: %s would be needed", s.Units.Rate(whole))
	if whole > ash.Most {
		says += fmt.Sprintf(", but no more than %s in a year is given (another source allows %s), so ash does %.0f %% of it this year and stone the rest", s.Units.Rate(ash.Most), s.Units.Rate(50*PoundPer1000SquareFeet), 100*float64(ash.Most/whole))
	}
	d.Reasons = append(strength.Reasons, garden.Reason{Says: says + ".", Rule: "wood ash for lime", Source: "ASH-EXT; ASH-MF"})
	d.finish(s, 1, 365)
	r.Others = append(r.Others, d)
}

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

func partsWord(n int) string {
	if n == 1 {
		return "one part"
	}
	return fmt.Sprintf("%d parts", n)
}

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
