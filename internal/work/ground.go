package work

import (
	"cmp"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// Days of preparing the ground; common practice: dig only what is about to be planted.
const (
	prepareEarly = 5 // days before planting to begin
	oneGo        = 6 // plantings of a bed within so many days are prepared for together
)

// compostDepth is how thick ripe compost is spread before it is worked in; common practice: half an
// inch to an inch a year.
const compostDepth quantity.Metre = 0.02

// patch is ground prepared in one go: plantings of one bed that go in within a few days of each
// other, or share their ground.
type patch []*garden.Planting

// patches gathers the plantings to come into patches, by bed and first day.
func (d *desk) patches() []patch {
	var todo []*garden.Planting
	for i := range d.plantings {
		p := &d.plantings[i]
		if toCome(p) {
			todo = append(todo, p)
		}
	}
	slices.SortStableFunc(todo, func(a, b *garden.Planting) int {
		return cmp.Or(cmp.Compare(a.BedID, b.BedID), cmp.Compare(a.Start, b.Start), cmp.Compare(a.Key, b.Key))
	})
	var out []patch
	for _, p := range todo {
		if d.heldByPartner(p) {
			continue
		}
		if n := len(out) - 1; n >= 0 && d.joins(out[n], p) {
			out[n] = append(out[n], p)
			continue
		}
		out = append(out, patch{p})
	}
	return out
}

// heldByPartner says whether the planting goes into ground a partner already holds, or goes in with
// it on the same day: that ground is prepared once, for the first.
func (d *desk) heldByPartner(p *garden.Planting) bool {
	for _, o := range d.shares(p) {
		if !o.Place.Meets(p.Place) {
			continue
		}
		if o.Start < p.Start || (o.Start == p.Start && (p.Role == garden.Fast || p.Role == garden.Marker)) {
			return true
		}
	}
	return false
}

// joins says whether the planting's ground may be prepared along with a patch: same bed, nearly the
// same day, free by then.
func (d *desk) joins(a patch, p *garden.Planting) bool {
	first := a[0]
	if first.BedID != p.BedID || p.Start.Since(first.Start) > oneGo {
		return false
	}
	if before := d.groundBefore(p); before != nil && before.Clear > d.prepareFrom(a) {
		return false
	}
	return true
}

// prepareFrom is the first day the patch may be worked.
func (d *desk) prepareFrom(a patch) civil.Date { return d.freeFrom(a, prepareEarly) }

// freeFrom is the first day on which the patch may be worked so many days ahead.
func (d *desk) freeFrom(a patch, early int) civil.Date {
	from := a[0].Start.Add(-early)
	for _, p := range a {
		if before := d.groundBefore(p); before != nil {
			from = max(from, before.Clear)
		}
	}
	return min(from, a[0].Start)
}

// ground is the area of a patch; ground that two plantings share counts once.
func (a patch) ground() quantity.SquareMetre {
	var sum quantity.SquareMetre
	for i, p := range a {
		shared := false
		for _, o := range a[:i] {
			shared = shared || o.Place.Meets(p.Place)
		}
		if !shared {
			sum += p.Place.Area()
		}
	}
	return sum
}

// prepare is the job of making a patch ready.
func (d *desk) prepare(a patch) Job {
	p := a[0]
	puts := d.putsOf(a)
	again, whole := d.dugBefore(a) || d.brokenFor(a), true
	rate := digAnHour
	if again {
		rate = loosenAnHour
	}
	hours := effort(float64(a.ground()), rate)
	from := d.digFrom(a, puts, hours)
	j := d.job(p, Prepare, from, max(from, p.Start-1))
	j.Serves, j.Puts, j.Hours = d.served(a), puts, hours
	var names []string
	for _, q := range a {
		if name := d.crop(q).Name(); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if b := d.beds[p.BedID]; b != nil {
		whole = float64(a.ground()) > float64(b.Area())*0.95
	}
	extent := d.area(a.ground())
	if !whole {
		extent += " of it"
	}
	j.Title = fmt.Sprintf("Prepare %s, %s, for %s", d.bedName(p), extent, list(names))
	j.How = d.prepareHow(a, again)
	j.Weather = "soil that crumbles in the hand; not while it sticks to the spade"
	j.Why = d.prepareWhy(a, again)
	j.Cautions = d.groundCautions(a, again)
	j.Conditions = d.fitWords(a, j.Window)
	return j
}

// dugBefore says whether all the patch was dug for a crop before.
func (d *desk) dugBefore(a patch) bool {
	return !slices.ContainsFunc(a, func(p *garden.Planting) bool { return d.groundBefore(p) == nil })
}

// served are the plantings of a patch and those that share its ground later.
func (d *desk) served(a patch) []string {
	var keys []string
	for _, p := range a {
		keys = append(keys, p.Key)
	}
	for _, p := range a {
		for _, o := range d.shares(p) {
			if toCome(o) && o.Place.Meets(p.Place) && !slices.Contains(keys, o.Key) {
				keys = append(keys, o.Key)
			}
		}
	}
	return keys
}

func (d *desk) prepareHow(a patch, again bool) []string {
	p := a[0]
	var how []string
	if len(a) == 1 {
		if w := d.where(p); w != "" {
			how = append(how, w)
		}
	} else {
		for _, q := range a {
			if w := d.where(q); w != "" {
				how = append(how, fmt.Sprintf("For %s: %s", d.crop(q).Name(), w[len("Where: "):]))
			}
		}
	}
	roots, fine := false, false
	for _, q := range a {
		roots = roots || (d.crop(q).Harvest.Part == "root" && q.Role != garden.Marker)
		fine = fine || q.Way == crop.Sow
	}
	switch {
	case again && !d.dugBefore(a):
		how = append(how, fmt.Sprintf("It was broken for this: pull what has come up again, and loosen it %s deep with a fork or hoe.", d.depth(0.10)))
	case again:
		how = append(how, fmt.Sprintf("Pull weeds and what is left of the last crop; loosen %s deep with a fork or hoe. It was dug for that crop: no need to dig again.", d.depth(0.10)))
	default:
		how = append(how,
			fmt.Sprintf("Clear weeds and old stalks; dig one spade deep (about %s) and break each spit. Dig this patch only.", d.depth(0.25)))
	}
	for _, q := range a {
		for _, s := range d.told(d.crop(q), Prepare) {
			how = unless(how, s, s)
		}
	}
	if roots {
		how = append(how, "No fresh manure where roots will grow: it makes them fork. Take out stones.")
	}
	fed, _ := d.putSteps(d.putsOf(a))
	how = append(how, fed...)
	switch {
	case d.compostFor(a, again) == 0:
	case roots:
		how = append(how, fmt.Sprintf("Over the rest work in ripe compost about %s deep (%s), if the soil test does not say otherwise.", d.depth(compostDepth), d.compost(d.compostFor(a, again))))
	default:
		how = append(how, fmt.Sprintf("Work in ripe compost about %s deep over it (%s), if the soil test does not say otherwise.", d.depth(compostDepth), d.compost(d.compostFor(a, again))))
	}
	if fine {
		how = append(how, "Let the surface dry, tread or tap it level and rake to a fine tilth: the finer the seed, the finer the tilth.")
	} else {
		how = append(how, "Rake level; for plants and sets a crumbly surface will do.")
	}
	rate := digAnHour
	if again {
		rate = loosenAnHour
	}
	return append(how, d.inSpells(effort(float64(a.ground()), rate))...)
}

// compostFor is the ripe compost a patch takes by the general rule: compostDepth over ground dug for the season's first
// crop, but not where roots will grow, nor for a green manure, which is compost itself; none where the soil book has the bed.
func (d *desk) compostFor(a patch, again bool) quantity.Litre {
	if again || d.ground[a[0].BedID] != nil {
		return 0
	}
	var fed patch
	for _, p := range a {
		if c := d.crop(p); c.Harvest.Part != "root" && c.Group != crop.Cover {
			fed = append(fed, p)
		}
	}
	return quantity.Litre(float64(fed.ground()) * float64(compostDepth) * 1000)
}

func (d *desk) prepareWhy(a patch, again bool) []garden.Reason {
	p := a[0]
	why := []garden.Reason{{
		Says: fmt.Sprintf("%s goes in on %s: ground dug just before planting has no time to grow weeds or to be beaten flat by rain.", sentence(d.crop(p).Name()), p.Start.Short()),
		Rule: "common practice",
	}}
	if before := d.groundBefore(p); again && before != nil {
		why = append(why, garden.Reason{Says: fmt.Sprintf("It is free of %s from %s.", d.crop(before).Name(), before.Clear.Short())})
	}
	return why
}

// groundCautions are the dangers of digging, of dust, and of raw manure before a harvest.
func (d *desk) groundCautions(a patch, again bool) []string {
	out := []string{"A sharpened spade cuts boots too: feet apart, eyes on the blade, and leave it standing upright, never lying."}
	if !again {
		out = append(out,
			"Lift with the legs, small spits, and change sides; stop before the back tires.",
			"With a powered tiller: stones and people out of the way first, sturdy shoes, and the engine stopped and its spark lead off before anything is cleared from the tines.")
	}
	if g := d.ground[a[0].BedID]; g != nil {
		if g.Stopped != "" {
			out = append([]string{g.Stopped}, out...)
		}
		_, said := d.putSteps(d.putsOf(a))
		out = append(out, said...)
	} else {
		out = append(out, "Lime and fertiliser dust burn eyes and skin: a still day, goggles, gloves and a mask, and no more than the soil test and the label say.")
	}
	return append(out, d.manure(a))
}

// noRawManure is the rule once it is too late for it.
//
// Source: NOP-203.
var noRawManure = fmt.Sprintf("No raw manure now: %d days must lie between it and the harvest of what touches the soil, %d of what hangs clear of it.", soil.DaysTouching, soil.DaysClear)

// manure says how near the harvest is for raw manure.
func (d *desk) manure(a patch) string {
	p := a[0]
	first := d.days(p).first.P10
	for _, q := range a {
		if f := d.days(q).first.P10; f < first {
			p, first = q, f
		}
	}
	needed := soil.DaysBeforeHarvest(d.crop(p))
	last := soil.LastManure(d.crop(p), first)
	if last < d.prepareFrom(a) {
		return noRawManure
	}
	return fmt.Sprintf("Raw manure only if it is dug in by %s: %d days before %s may be eaten (%s).", last.Short(), needed, d.crop(p).Name(), first.Short())
}

// digFrom is the first day a patch may be worked: five days ahead, a week where it is fed and two where the food is of plants or
// animals, and as much earlier, up to three weeks, as it takes to have days on which the ground is likely fit for all its spells.
func (d *desk) digFrom(a patch, puts []Put, hours quantity.Hour) civil.Date {
	early := prepareEarly
	for _, p := range puts {
		if m, ok := d.material(p.Material); ok && m.Family == soil.Fertiliser {
			early = max(early, 7)
			if m.First != nil {
				early = 14
			}
		}
	}
	g := d.ground[a[0].BedID]
	if g == nil || g.Fitness == nil {
		return d.freeFrom(a, early)
	}
	for ; early < mostEarly; early++ {
		from := d.freeFrom(a, early)
		if d.fitDays(g, civil.Span{From: from, To: a[0].Start - 1}) >= float64(spells(hours)) {
			break
		}
	}
	return d.freeFrom(a, early)
}

// mostEarly is how many days ahead ground is dug at the most: beyond that weeds and rain undo it.
const mostEarly = 21

// fitDays is on how many days of a span the ground is likely fit to dig; days outside the season count as fit one in two.
func (d *desk) fitDays(g *BedGround, span civil.Span) float64 {
	days := 0.0
	for day := span.From; day <= span.To; day++ {
		chance, ok := g.Fitness.On(day)
		if !ok {
			chance = 0.5
		}
		days += chance
	}
	return days
}

// fitWords tell how many of a job's days are likely fit to dig on.
func (d *desk) fitWords(a patch, span civil.Span) []garden.Reason {
	g := d.ground[a[0].BedID]
	if g == nil || g.Fitness == nil || !d.season.Span().Has(span.From) {
		return nil
	}
	return []garden.Reason{{
		Says: fmt.Sprintf("Dry enough to dig on about %s of these %d days, in the mean of %d weather years.", figures(d.fitDays(g, span)), span.Days(), g.Fitness.Years),
		Rule: "dry enough to dig", Source: "FAO56; AQUACROP",
	}}
}
