package season

import (
	"cmp"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
	"kailyard/internal/weather"
)

// GroundInput is what the soil book of a garden is read from.
type GroundInput struct {
	Season  civil.Season
	Garden  garden.Garden // with its tests, treatments, packages and heaps
	Crops   *crop.Catalogue
	Record  *weather.Record    // nil: none, so the drift and the days fit to work are not told
	Years   []weather.Scenario // the record laid over the season; nil: laid here
	Plan    *plan.Plan         // nil: none, so beds count as mixed vegetables
	Journal []garden.Entry     // what happened; digging tells that new ground is broken
	Day     civil.Date
	Choice  GroundChoice // for this once, before what the garden keeps
	// Whole reckons the feeding of the whole season, as jobs are made from it: what was given since Day does not lessen it, and beds in
	// which nothing grows are not fed.
	Whole bool
}

// GroundChoice is what the person will have put on their ground.
type GroundChoice struct {
	Natural bool   // plant foods from plants, animals or rock only
	Lime    string // ID of the liming material; empty: by the magnesium test
	Organic string // ID of the organic matter; empty: compost
}

// before is a choice for once before the one that is kept.
func (c GroundChoice) before(kept garden.Soil) GroundChoice {
	return GroundChoice{Natural: c.Natural || kept.Natural, Lime: cmp.Or(c.Lime, kept.Lime), Organic: cmp.Or(c.Organic, kept.Organic)}
}

// Ground is the soil book read on a day: each bed's state and what it asks for, and what to buy for all of them.
type Ground struct {
	Day    civil.Date
	Season civil.Season
	Site   garden.Site
	Weighs quantity.System // in which weights and rates are said
	Drift  DriftFound
	Beds   []BedGround // in the garden's order
	Alarms []GroundAlarm
	Buy    BuyingList
	Heaps  []HeapGround
	Weeks  string   // why the days fit to work are not told, else empty
	Advice []string // to test, above all
}

// DriftFound is which way the ground goes when it is left alone, and how that is known.
type DriftFound struct {
	Drift    garden.Drift   // reckoned with; empty: not known
	Told     bool           // it is the person's own word
	Leaching *soil.Leaching // from the weather record; nil without one
	Reasons  []garden.Reason
}

// GroundAlarm is a reading that has to stop the work or make it wary, with the beds it stands for.
type GroundAlarm struct {
	soil.Alarm
	Beds []int64
}

// HeapGround is a compost heap as it stands on the day.
type HeapGround struct {
	Heap  garden.Heap
	State soil.HeapState
}

// Bed is the ground of a bed, by its ID.
func (g *Ground) Bed(id int64) (BedGround, bool) {
	for _, b := range g.Beds {
		if b.Bed.ID == id {
			return b, true
		}
	}
	return BedGround{}, false
}

// Ground reads the soil book of the season's garden on a day.
func (r *Result) Ground(day civil.Date, journal []garden.Entry, choice GroundChoice) (*Ground, error) {
	return GroundOf(GroundInput{Season: r.Season, Garden: r.Garden, Crops: r.Crops, Record: r.Record, Years: r.Years,
		Plan: r.Plan, Journal: journal, Day: day, Choice: choice})
}

// GroundOf reads the soil book of a garden on a day. It asks for no record and no plan: what they tell is left out where they are not.
func GroundOf(in GroundInput) (*Ground, error) {
	in.Choice = in.Choice.before(in.Garden.Site.Soil)
	g := &Ground{Day: in.Day, Season: in.Season, Site: in.Garden.Site, Weighs: in.Garden.Site.Soil.Weighs}
	g.Drift = driftOf(in)
	for _, h := range in.Garden.Heaps {
		g.Heaps = append(g.Heaps, HeapGround{h, soil.HeapOn(h, in.Day, g.Site.Units)})
	}
	years, why := in.years()
	g.Weeks = why
	reader := bedReader{in: in, ground: g, told: len(years) > 0, all: in.plantings(), fitness: map[layerKey]*soil.Fitness{},
		drying: soil.DryingOf(in.Garden.Site.Latitude, in.Season, growth.Lead, years)}
	grounds := make([]soil.Ground, len(in.Garden.Beds))
	for i, bed := range in.Garden.Beds {
		grounds[i] = soil.GroundOf(in.Garden, bed, reader.all, in.Season, in.Crops)
		b, err := reader.read(grounds[i])
		if err != nil {
			return nil, fmt.Errorf("%s: %w", bed.Name, err)
		}
		g.Beds = append(g.Beds, b)
	}
	if err := reader.feed(grounds); err != nil {
		return nil, err
	}
	for _, b := range g.Beds {
		g.Alarms = gathered(g.Alarms, b.Bed.ID, b.Reaction.Alarms)
	}
	gravestFirst(g.Alarms)
	if err := g.list(in); err != nil {
		return nil, err
	}
	g.advise()
	return g, nil
}

// driftOf is the person's own word on the drift, else what the weather tells.
func driftOf(in GroundInput) DriftFound {
	d := DriftFound{Drift: in.Garden.Site.Soil.Drift}
	if in.Record != nil {
		l := soil.DriftOf(in.Garden.Site.Latitude, in.Record.Normals(), in.Garden.Site.Units)
		d.Leaching, d.Reasons = &l, l.Reasons
		if d.Drift == "" {
			d.Drift = l.Drift
		}
	}
	if in.Garden.Site.Soil.Drift != "" {
		d.Told = true
		says := fmt.Sprintf("You said which way the ground goes here: %s. That stands.", driftWords[d.Drift])
		if d.Leaching != nil && d.Leaching.Drift != d.Drift {
			says = fmt.Sprintf("You said which way the ground goes here: %s. That stands, though by the weather alone it would be: %s.", driftWords[d.Drift], driftWords[d.Leaching.Drift])
		}
		d.Reasons = append([]garden.Reason{{Says: says, Rule: "drift as told"}}, d.Reasons...)
	}
	if d.Drift == "" {
		d.Reasons = []garden.Reason{{Says: "Which way the ground goes is not known: give the garden a weather record, or say it yourself.", Rule: "drift"}}
	}
	return d
}

var driftWords = map[garden.Drift]string{
	garden.TowardsAcid: "it turns acid in time", garden.TowardsAlkaline: "it tends to be alkaline", garden.Neither: "it keeps about where it is",
}

// years are the weather years of the season, or why there are none.
func (in GroundInput) years() (years []weather.Scenario, why string) {
	switch {
	case len(in.Years) > 0:
		return in.Years, ""
	case in.Record == nil:
		return nil, "When the ground is dry enough to dig is not told: the garden has no weather record yet."
	}
	years, _, err := in.Record.Scenarios(in.Season, growth.Lead, growth.Tail, YearsUsed)
	if err != nil {
		return nil, "When the ground is dry enough to dig is not told: " + err.Error() + "."
	}
	return years, ""
}

// plantings are those of the plan and those standing, each once, by key.
func (in GroundInput) plantings() []garden.Planting {
	var all []garden.Planting
	seen := map[string]bool{}
	add := func(list []garden.Planting) {
		for _, p := range list {
			if p.Key != "" && seen[p.Key] {
				continue
			}
			seen[p.Key] = true
			all = append(all, p)
		}
	}
	if in.Plan != nil {
		add(in.Plan.Plantings)
	}
	add(in.Garden.Standing)
	return all
}

// alarmsIn are the lead and the salts of one bed, by the texture tested or told.
func alarmsIn(g garden.Garden, bed garden.Bed, day civil.Date) []soil.Alarm {
	texture, _ := soil.TextureOf(g, bed)
	return soil.BedAlarms(g.Tests, bed.ID, texture, day)
}

// AlarmsOf is the lead and the salts of a garden's beds on a day, which every list of work has to tell of.
func AlarmsOf(g garden.Garden, day civil.Date) (all []GroundAlarm) {
	if len(g.Tests) == 0 {
		return nil
	}
	for _, b := range g.Beds {
		all = gathered(all, b.ID, alarmsIn(g, b, day))
	}
	gravestFirst(all)
	return all
}

// gathered puts a bed's alarms to the list: every alarm once, with the beds it stands for.
func gathered(all []GroundAlarm, bed int64, alarms []soil.Alarm) []GroundAlarm {
	for _, a := range alarms {
		i := slices.IndexFunc(all, func(o GroundAlarm) bool { return o.Alarm == a })
		if i < 0 {
			i, all = len(all), append(all, GroundAlarm{Alarm: a})
		}
		all[i].Beds = append(all[i].Beds, bed)
	}
	return all
}

// gravestFirst puts those that stop the work before the others.
func gravestFirst(all []GroundAlarm) {
	slices.SortStableFunc(all, func(a, b GroundAlarm) int { return cmp.Compare(rank(b.Stop), rank(a.Stop)) })
}

func rank(stop bool) int {
	if stop {
		return 1
	}
	return 0
}

// advise says above all which beds to test.
func (g *Ground) advise() {
	var never, old []string
	for _, b := range g.Beds {
		switch {
		case b.Reaction.Tested == 0:
			never = append(never, b.Bed.Name)
		case g.Day.Since(b.Reaction.Tested) > testYears*365:
			old = append(old, b.Bed.Name)
		}
	}
	if len(never) > 0 {
		g.Advice = append(g.Advice, fmt.Sprintf("Never tested: %s. Take ten to fifteen small spadefuls from all over a bed to the depth you dig, mix them, and send a cupful to a laboratory or the extension office; one sample may stand for beds of like ground and past.", listed(never)))
	}
	if len(old) > 0 {
		g.Advice = append(g.Advice, fmt.Sprintf("Tested more than %d years ago: %s. Test again before much is given.", testYears, listed(old)))
	}
}

// testYears is how long a test is good for.
//
// Source: REACTION-PRACTICE
const testYears = 3

// listed is names in a sentence: "North, South and 5 more".
func listed(names []string) string {
	const most = 6
	if len(names) > most {
		names = append(slices.Clone(names[:most-1]), fmt.Sprintf("%d more", len(names)-most+1))
	}
	switch n := len(names); n {
	case 0:
		return ""
	case 1:
		return names[0]
	default:
		text := names[0]
		for _, name := range names[1 : n-1] {
			text += ", " + name
		}
		return text + " and " + names[n-1]
	}
}
