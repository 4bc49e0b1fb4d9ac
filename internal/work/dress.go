package work

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// dressing is one part of what a bed is given outside the work on its plantings: lime or sulfur, organic matter in autumn.
type dressing struct {
	put  Put
	span civil.Span
	dose *soil.Dose // nil: organic matter
	part int        // of the dose, from 1
	top  bool       // what stands there cannot be dug about
	wet  bool       // the ground is likely too wet or frozen to dig on those days
	why  []garden.Reason
	says []string // cautions
	how  []string
}

// dressings gathers what the beds are given of one material on days that suit them all into one job: one barrow, one mask, one round.
func (d *desk) dressings() []Job {
	type round struct {
		span civil.Span
		of   []dressing
	}
	var rounds []round
	for _, id := range d.groundIDs() {
		g := d.ground[id]
		for _, s := range append(d.doseParts(g), d.organics(g)...) {
			at := slices.IndexFunc(rounds, func(r round) bool {
				o := r.of[0]
				return o.put.Material == s.put.Material && r.span.Meets(s.span) && !slices.ContainsFunc(r.of, func(x dressing) bool { return x.put.BedID == id })
			})
			if at < 0 {
				rounds = append(rounds, round{s.span, []dressing{s}})
				continue
			}
			r := &rounds[at]
			r.span = civil.Span{From: max(r.span.From, s.span.From), To: min(r.span.To, s.span.To)}
			r.of = append(r.of, s)
		}
	}
	var jobs []Job
	seen := map[string]int{}
	for _, r := range rounds {
		j := d.dressingJob(r.of, r.span)
		if seen[j.Key]++; seen[j.Key] > 1 {
			j.Key += fmt.Sprintf("-%d", seen[j.Key])
		}
		jobs = append(jobs, j)
	}
	return jobs
}

// dressingJob is one round with one material.
func (d *desk) dressingJob(of []dressing, span civil.Span) Job {
	m, _ := d.material(of[0].put.Material)
	j := Job{Key: fmt.Sprintf("dress/%s-%04d-%02d", m.ID, span.From.Year(), span.From.Month()), Kind: Dress, Window: span}
	var names, then []string
	var whole Put
	var ground, dug quantity.SquareMetre
	for _, s := range of {
		bed := d.beds[s.put.BedID]
		names = append(names, bed.Name)
		j.Puts = append(j.Puts, s.put)
		whole.Mass, whole.Volume, whole.Material = whole.Mass+s.put.Mass, whole.Volume+s.put.Volume, s.put.Material
		ground += bed.Area()
		if !s.top {
			dug += bed.Area()
		}
		line := fmt.Sprintf("%s: %s", bed.Name, d.putWords(s.put))
		if n := dosePartsOf(s.dose); n > 1 {
			line += fmt.Sprintf(", part %d of %d", s.part, n)
		}
		line += "; " + d.depthWords(s) + "."
		j.How = append(j.How, line)
		for _, h := range s.how {
			then = unless(then, h, h)
		}
		for _, c := range s.says {
			j.Cautions = unless(j.Cautions, c, c)
		}
		for _, w := range s.why {
			if !slices.Contains(j.Why, w) {
				j.Why = append(j.Why, w)
			}
		}
	}
	if len(of) == 1 {
		j.BedID = of[0].put.BedID
	}
	j.Title = fmt.Sprintf("%s %s: %s of %s", dressVerb(m), list(names), d.totalWords(whole), m.Name)
	if len(names) > 4 {
		j.Title = fmt.Sprintf("%s %s: %s of %s in all", dressVerb(m), count(len(names), "bed", "beds"), d.totalWords(whole), m.Name)
	}
	if m.Family != soil.Organic {
		j.How = append([]string{"Weigh out each bed's lot first and halve it: strew one half walking along, the other across, so that it lies evenly. Two steps back, a hand that swings: no drift on the leaves of what stands near."}, j.How...)
	}
	j.Weather = "a still, dry day; soil that crumbles"
	j.Hours = quarter(setUp + float64(ground)/strewAnHour + float64(dug)/loosenAnHour)
	if whole.Volume > 0 && m.Family == soil.Organic {
		j.Hours = quarter(setUp + float64(whole.Volume)/barrowAnHour + float64(dug)/loosenAnHour)
	}
	j.How = append(append(j.How, then...), d.inSpells(j.Hours)...)
	return j
}

// The time it takes; common practice, from memory.
const (
	strewAnHour  = 90.0  // m² strewn by hand, twice over
	barrowAnHour = 500.0 // litres fetched by barrow and spread
)

func dosePartsOf(d *soil.Dose) int {
	if d == nil {
		return 1
	}
	return len(d.Parts)
}

func dressVerb(m soil.Material) string {
	switch m.Family {
	case soil.Liming:
		return "Lime"
	case soil.Acidifying:
		return "Bring down the pH of"
	}
	return "Dress"
}

// putWords is an amount as it is weighed or measured out: "480 g (1¾ cups)", "136 L (2 barrows)".
func (d *desk) putWords(p Put) string {
	m, _ := d.material(p.Material)
	if p.Volume > 0 {
		return d.compost(p.Volume)
	}
	return fmt.Sprintf("%s (%s)", d.weighs.Mass(p.Mass), soil.ByHand(p.Mass, m, d.weighs, d.bucket))
}

func (d *desk) totalWords(p Put) string {
	if p.Volume > 0 {
		return d.compost(p.Volume)
	}
	return d.weighs.Mass(p.Mass)
}

// depthWords is what is done with it once it lies there.
func (d *desk) depthWords(s dressing) string {
	switch {
	case s.top:
		return "what stands there cannot be dug about, so it is left on top, scratched in lightly and watered"
	case s.put.Depth <= 0:
		return "left on top"
	case s.wet:
		return "strewn on top, not on snow or frozen ground, and worked in " + d.depth(s.put.Depth) + " deep as soon as the soil crumbles"
	}
	return "worked in " + d.depth(s.put.Depth) + " deep"
}

// doseParts are the parts of a bed's lime or sulfur that fall in the season, on ground that is clear and dry enough.
func (d *desk) doseParts(g *BedGround) []dressing {
	if g.Dose == nil || g.Stopped != "" {
		return nil
	}
	var out []dressing
	shift := 0
	for i, part := range g.Dose.Parts {
		span := civil.Span{From: part.From.Add(shift), To: max(part.From, part.To).Add(shift)}
		var top bool
		span, top = d.doseDays(g, span)
		if i == 0 {
			shift = int(span.From - part.From)
		}
		if span.From > d.season.End() {
			break
		}
		s := dressing{
			put:  Put{BedID: g.BedID, Material: g.Dose.Material.ID, Mass: part.Mass, Depth: g.Dose.Depth, Part: i + 1, Parts: len(g.Dose.Parts)},
			span: span, dose: g.Dose, part: i + 1, top: top || g.Dose.Depth <= 0,
			why: append(slices.Clone(g.Why), g.Dose.Reasons...), says: g.Dose.Cautions,
		}
		if top {
			s.put.Depth = 0
		}
		s.wet = s.put.Depth > 0 && g.Breaking == nil && d.tooWet(g, span)
		if s.wet {
			s.span.To = min(span.To, span.From.Add(14)) // before the ground freezes
		}
		s.why = append(s.why, garden.Reason{Says: fmt.Sprintf("%s: %s.", d.beds[g.BedID].Name, part.When), Rule: "days of lime and sulfur", Source: "REACTION-PRACTICE"})
		s.how = d.doseHow(g, span)
		out = append(out, s)
	}
	return out
}

// doseHow is what to know while it is done.
func (d *desk) doseHow(g *BedGround, span civil.Span) []string {
	if b := g.Breaking; b != nil && len(b.Stints) > 0 && span.From <= b.Stints[0].Day {
		return []string{fmt.Sprintf("%s: strew it spell by spell as the ground is broken, so that it is dug in and not raked.", d.beds[g.BedID].Name)}
	}
	if g.Dose.Material.Family == soil.Liming {
		return []string{"Not in the same week as manure or a fertiliser of ammonia: lime drives the ammonia off. Not where potatoes go next, which scab on limed ground."}
	}
	return []string{"It works only in warm, moist ground, over weeks to months: test before any more is given."}
}

// doseDays are the days for a part of a dose: from its own first day on, put off while the ground is wet or frozen and while a crop
// has most of the bed. In spring it must lie its days before what is sown; where there is no such day it waits for autumn.
func (d *desk) doseDays(g *BedGround, span civil.Span) (days civil.Span, top bool) {
	long := max(14, span.To.Since(span.From))
	if g.Dose.Material.Family == soil.Liming {
		span.From = d.afterPotatoes(g.BedID, span.From)
	}
	if b := g.Breaking; b != nil && len(b.Stints) > 0 && span.From <= b.Stints[0].Day {
		return civil.Span{From: b.Stints[0].Day, To: b.Stints[len(b.Stints)-1].Day}, false // strewn as the ground is broken
	}
	lime := g.Dose.Material.Family == soil.Liming
	limit := d.nextIn(g.BedID, span.From).Add(-g.Dose.Before)
	for day := span.From; day <= min(limit, span.From.Add(120)); day++ {
		if d.fitOn(g, day) && d.clear(g, day) {
			return d.whileClear(g, civil.Span{From: day, To: min(day.Add(long), max(day, limit))}), false
		}
	}
	from := span.From
	if lime {
		from = max(from, d.autumn())
	}
	for day := from; day <= from.Add(75); day++ {
		if d.fitOn(g, day) && d.clear(g, day) {
			return d.whileClear(g, civil.Span{From: day, To: day.Add(long)}), false
		}
	}
	return civil.Span{From: from, To: from.Add(long)}, true
}

// clear says whether what is worked in can be worked in on a day: nothing stands in more than a tenth of the bed, catch crops included.
func (d *desk) clear(g *BedGround, day civil.Date) bool {
	if g.Dose.Depth <= 0 {
		return true // it is left on top
	}
	var held quantity.SquareMetre
	for _, p := range d.inBed[g.BedID] {
		if p.Start <= day && p.Clear > day {
			held += p.Place.Area()
		}
	}
	return float64(held) <= 0.1*float64(d.beds[g.BedID].Area())
}

// whileClear ends days with the last on which the ground is clear and fit to work; the first stays.
func (d *desk) whileClear(g *BedGround, span civil.Span) civil.Span {
	if g.Dose.Depth <= 0 {
		return span
	}
	for day := span.From + 1; day <= span.To; day++ {
		if !d.clear(g, day) {
			span.To = day - 1
		}
	}
	last := span.To
	for last > span.From && !d.fitNear(g, last) {
		last--
	}
	if d.fitNear(g, last) {
		span.To = last
	}
	return span
}

// fitNear is fitOn, and outside the season by the same days of it.
func (d *desk) fitNear(g *BedGround, day civil.Date) bool {
	if g != nil && g.Fitness != nil {
		for _, shift := range []int{0, 365, -365} {
			if _, ok := g.Fitness.On(day.Add(shift)); ok {
				return d.fitOn(g, day.Add(shift))
			}
		}
	}
	return true
}

// tooWet says whether no day of a span is likely fit to work the ground.
func (d *desk) tooWet(g *BedGround, span civil.Span) bool {
	for day := span.From; day <= span.To; day++ {
		if d.fitNear(g, day) {
			return false
		}
	}
	return true
}

// afterPotatoes is the day from which a bed may be limed when potatoes come within half a year, which scab on fresh lime: when they are
// lifted. Common practice.
func (d *desk) afterPotatoes(bed int64, from civil.Date) civil.Date {
	for _, p := range d.inBed[bed] {
		if d.crop(p).Kind == "potato" && p.Clear > from && p.Start <= from.Add(180) {
			from = max(from, p.Clear)
		}
	}
	return from
}

// autumn is the middle of the season's September, south of the equator March: ground is limed from then on.
func (d *desk) autumn() civil.Date { return d.season.Start.Add(257) }

// nextIn is the day on which something next goes into a bed.
func (d *desk) nextIn(bed int64, from civil.Date) civil.Date {
	next := d.season.End().Add(60)
	for _, p := range d.inBed[bed] {
		if p.Start >= from {
			next = min(next, p.Start)
		}
	}
	return next
}

// taken says whether crops have most of a bed on a day.
func (d *desk) taken(bed int64, day civil.Date) bool {
	return float64(d.held(bed, day)) > 0.5*float64(d.beds[bed].Area())
}

// held is the ground that crops have on a day.
func (d *desk) held(bed int64, day civil.Date) (held quantity.SquareMetre) {
	for _, p := range d.inBed[bed] {
		if p.Start <= day && p.Clear > day && p.Role != garden.Fast && p.Role != garden.Marker {
			held += p.Place.Area()
		}
	}
	return held
}

// fitOn says whether a bed's ground is dry enough to work on a day, in at least two years of five; where nothing is known it is.
func (d *desk) fitOn(g *BedGround, day civil.Date) bool {
	if g == nil || g.Fitness == nil {
		return true
	}
	chance, ok := g.Fitness.On(day)
	return !ok || chance >= fitChance
}

const fitChance = 0.4

// organics is a bed's organic matter where it is a job of its own: raw manure, and what falls due in mid-season. It goes on in autumn, when
// the ground is clear.
func (d *desk) organics(g *BedGround) []dressing {
	o := g.Organic
	if o == nil || g.Stopped != "" || len(d.inBed[g.BedID]) == 0 || !d.apartly(g) {
		return nil
	}
	m, ok := d.material(o.Material)
	if !ok {
		return nil
	}
	from := max(g.Due, d.autumn())
	const most = 90 // days that it waits for the ground
	for latest := from.Add(most); from < latest && (d.taken(g.BedID, from) || m.Raw && d.held(g.BedID, from) > 0); {
		from++
	}
	span := civil.Span{From: from, To: from.Add(45)}
	if m.Raw {
		if span, ok = d.manureDays(g.BedID, span); !ok {
			return nil
		}
	}
	if span.From > d.season.End() {
		return nil
	}
	s := dressing{
		put: Put{BedID: g.BedID, Material: o.Material, Mass: o.Mass, Volume: o.Loose, Depth: o.Into}, span: span,
		why: slices.Clone(o.Reasons), says: slices.Clone(o.Cautions),
	}
	if d.taken(g.BedID, span.From) {
		s.put.Depth, s.top = 0, true
	}
	s.why = append(s.why, garden.Reason{Says: fmt.Sprintf("%s: in autumn, when the ground is clear; worms and frost do half the work.", d.beds[g.BedID].Name), Rule: "common practice"})
	return []dressing{s}
}

// manureDays cuts a span for raw manure short, so that its days lie between it and every harvest of the bed that is to come; false where
// no day is left.
//
// Source: NOP-203
func (d *desk) manureDays(bed int64, span civil.Span) (civil.Span, bool) {
	for _, p := range d.inBed[bed] {
		c := d.crop(p)
		if d.green(p) || d.days(p).last.P90 < span.From {
			continue
		}
		span.To = min(span.To, soil.LastManure(c, d.days(p).first.P10))
	}
	return span, span.To >= span.From
}

// inSpells says that long work is parted: nobody digs for half a day. Common practice.
func (d *desk) inSpells(h quantity.Hour) []string {
	n := spells(h)
	if n < 2 {
		return nil
	}
	return []string{fmt.Sprintf("In %s of half an hour or so, on different days if you can: stop while it is still a pleasure.", count(n, "spell", "spells"))}
}

// spells is in how many short spells work is done: 40 minutes each, as new ground is dug.
func spells(h quantity.Hour) int { return max(1, int(float64(h)*60/40+0.5)) }

// putSteps are the steps that put on what a piece of ground is given, with its cautions and reasons.
func (d *desk) putSteps(puts []Put) (how, cautions []string) {
	var strewn []string
	for _, p := range puts {
		m, ok := d.material(p.Material)
		if !ok {
			continue
		}
		if p.Volume > 0 {
			text := fmt.Sprintf("Spread %s of %s over it", d.putWords(p), m.Name)
			if p.Depth > 0 {
				text += " and work it in as you dig"
			}
			how = append(how, text+".")
		} else {
			strewn = append(strewn, fmt.Sprintf("%s of %s", d.putWords(p), m.Name))
		}
		for _, c := range m.Cautions {
			c = soil.InUnits(c, d.system)
			cautions = unless(cautions, c, c)
		}
	}
	if len(strewn) > 0 {
		how = append(how, fmt.Sprintf("Strew %s evenly over it, and rake it into the top %s.", list(strewn), d.depth(baseDepth)))
	}
	return how, cautions
}
