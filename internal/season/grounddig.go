package season

import (
	"cmp"
	"fmt"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// Ground is taken as fit on a day on which it is so in half of the weather years; where no day before a planting is, in a quarter.
const fitChance, poorChance = 0.5, 0.25

// dig is how a bed is made ready for its next planting: new ground is broken, other ground is dug, in short spells on days fit for it.
func (r *bedReader) dig(b BedGround, ground soil.Ground) (*NewGround, error) {
	told := r.in.Garden.SoilOf(b.Bed)
	broken := told.State != garden.Sod && told.State != garden.Neglected
	if !broken && r.wasBroken(b.Bed.ID) {
		broken, told.State = true, garden.Cultivated
	}
	var plant civil.Date
	standing := false
	for _, p := range ground.Plantings {
		if p.Start > r.in.Day && (plant == 0 || p.Start < plant) {
			plant = p.Start
		}
		standing = standing || p.Start <= r.in.Day && p.Clear > r.in.Day
	}
	if broken && (plant == 0 || standing) {
		return nil, nil // nothing to dig for, or something stands in it
	}
	breaking, err := soil.Break(b.Bed.Area(), told, r.in.Garden.Site.Units)
	if err != nil {
		return nil, err
	}
	n := &NewGround{Breaking: breaking, Broken: broken, Toil: breaking.By(told.Spit), From: r.in.Day, Plant: plant, Planned: plant != 0}
	if !n.Planned {
		return n, nil
	}
	n.stint(b.Fitness)
	return n, nil
}

// stint plans the spells: before the planting by as long as turned sod must lie, on days fit to work.
func (n *NewGround) stint(f *soil.Fitness) {
	by := n.Plant.Add(-n.Wait)
	const ahead = 120 // days before planting that digging may begin
	n.From = max(n.From, by.Add(-ahead))
	for _, chance := range []float64{fitChance, poorChance} {
		fit := func(d civil.Date) bool {
			if f == nil {
				return true
			}
			p, ok := f.On(d)
			return !ok || p >= chance
		}
		n.Stints, n.Left = soil.Stints(n.Toil.Hours, n.Area, n.From, by, fit)
		if n.Left <= 0 {
			return
		}
	}
}

// waitForGround moves what is worked in to the first day on which the ground is likely to be fit for it: not while it is frozen or sodden.
func (b *BedGround) waitForGround() {
	d := b.Reaction.Dose
	if d == nil || d.Depth == 0 || b.Fitness == nil {
		return
	}
	for i := range d.Parts {
		p := &d.Parts[i]
		on := p.From
		for chance, told := b.Fitness.On(on); told && chance < poorChance; chance, told = b.Fitness.On(on) {
			on++
		}
		if on == p.From {
			b.endWithFit(p)
			continue
		}
		if _, told := b.Fitness.On(on); !told {
			continue // no such day in the season
		}
		p.From, p.To = on, max(p.To, on+14)
		p.When = "as soon as the ground can be worked; autumn would have been better"
	}
}

// endWithFit ends the days of what is worked in with the last on which the ground is likely fit; where there is none, it says to strew it
// on top. Days outside the season are taken as the same days of it.
func (b *BedGround) endWithFit(p *soil.Part) {
	fit := func(d civil.Date) bool {
		for _, shift := range []int{0, 365, -365} {
			if chance, told := b.Fitness.On(d.Add(shift)); told {
				return chance >= poorChance
			}
		}
		return true
	}
	last := p.To
	for last > p.From && !fit(last) {
		last--
	}
	if p.To = last; !fit(last) {
		p.To = p.From.Add(14) // before the ground freezes
		p.When += "; the ground is likely too wet to dig, so strew it on top, not on snow or frozen ground, and work it in as soon as the soil crumbles"
	}
}

// wasBroken says whether the journal tells that a bed was dug.
func (r *bedReader) wasBroken(bed int64) bool {
	for _, e := range r.in.Journal {
		if e.Kind == garden.Dug && e.BedID == bed && e.Date <= r.in.Day {
			return true
		}
	}
	return false
}

// enrich is the organic matter of a bed: the first thick layer where none is on record and no test shows any, a thin one a year after that.
func (r *bedReader) enrich(b BedGround, sour soil.Sour) (*OrganicGround, error) {
	id := cmp.Or(r.in.Choice.Organic, "compost")
	m, ok := soil.Find(id)
	if !ok || m.Family != soil.Organic {
		return nil, &garden.Problem{Field: "organic", Says: id + " is no organic matter known here", Remedy: "write one of those that `kailyard soil materials` lists as organic"}
	}
	salty := r.saltyGround(b)
	m, why := r.standsIn(b, m, salty)
	o := &OrganicGround{Name: m.Name, Due: r.in.Day}
	for _, t := range sour.Treatments {
		if put, ok := soil.Find(t.Material); ok && put.Family == soil.Organic && t.Date <= r.in.Day {
			o.Last = max(o.Last, t.Date)
		}
	}
	patch := soil.Patch{Area: b.Bed.Area(), Texture: b.Texture, Dug: sour.Soil.Tilled, Salty: salty}
	patch.First = o.Last == 0 && !sour.Established && !r.grewBefore(b) && !rich(b.Tests)
	if o.Last != 0 {
		o.Due = o.Last.InYear(o.Last.Year() + 1)
	}
	e, err := soil.Enrich(patch, m, 0, r.ground.Weighs)
	if err != nil {
		return nil, err
	}
	if sour.Established {
		e.Into = 0
	}
	for _, w := range why {
		o.Stead = append(o.Stead, w.Says)
	}
	e.Reasons = append(why, e.Reasons...)
	o.Enrichment = e
	o.Loads = soil.Loads(e.Loose, m, r.in.Garden.Packages, r.ground.Weighs, r.in.Garden.Site.Soil.Bucket)
	return o, nil
}

// saltyGround says whether the latest test of a bed's salts shows as much as hurts what is sensitive: 2 dS/m of the saturated paste.
func (r *bedReader) saltyGround(b BedGround) bool {
	for _, t := range b.Tests {
		if t.Test.Salts != nil {
			return soil.PasteSalts(*t.Test.Salts, t.Test.SaltsBy, b.Texture) >= 2
		}
	}
	return false
}

// standsIn is what a bed is given in place of what was chosen, with why, where that would do harm: what is not for food ground, manure and
// salty composts on salty ground, what holds phosphate where there is too much of it.
func (r *bedReader) standsIn(b BedGround, m soil.Material, salty bool) (soil.Material, []garden.Reason) {
	var all []garden.Reason
	if why := soil.NotForFood(m); why != "" {
		m, all = r.instead(m, "compost", "not for food ground", why+": %s stands in its place.", all)
	}
	if salty && (soil.Salty(m) || m.Raw) {
		m, all = r.instead(m, "compost", "salty ground", "The soil test shows salts, and "+m.Name+" would bring more: %s stands in its place.", all)
	}
	poor, why := r.poorInPhosphorus(b, m)
	if why != nil {
		all = append(all, *why)
	}
	return poor, all
}

// instead is another material with the sentence that says so.
func (r *bedReader) instead(m soil.Material, id, rule, says string, all []garden.Reason) (soil.Material, []garden.Reason) {
	other, ok := soil.Find(id)
	if !ok {
		return m, all
	}
	return other, append(all, garden.Reason{Says: strings.ToUpper(says[:1]) + fmt.Sprintf(says[1:], other.Name), Rule: rule})
}

// poorInPhosphorus is leaf mould in place of what holds phosphate, where a test shows that there is far too much of it already.
//
// Source: UMN-COMPOST
func (r *bedReader) poorInPhosphorus(b BedGround, m soil.Material) (soil.Material, *garden.Reason) {
	_, reading, ok := soil.LatestReading(r.in.Garden.Tests, b.Bed.ID, garden.Phosphorus, r.in.Day)
	if !ok || m.P2O5 == nil || m.P2O5.Value < richInPhosphate {
		return m, nil
	}
	if class, err := soil.Class(reading); err != nil || class.Class != garden.VeryHigh {
		return m, nil
	}
	mould, ok := soil.Find("leaf-mould")
	if !ok {
		return m, nil
	}
	return mould, &garden.Reason{
		Says: fmt.Sprintf("Phosphorus tests very high here, and %s would bring more of it: %s stands in its place for some years, until a test shows less.", m.Name, mould.Name),
		Rule: "phosphorus very high", Source: "UMN-COMPOST",
	}
}

// richInPhosphate is the phosphate, per cent, of what builds phosphorus up; common practice.
const richInPhosphate = 0.25

// rich says whether a test shows as much organic matter as a garden has that was given it for years; common practice.
func rich(tests []TestRead) bool {
	for _, t := range tests {
		if t.Test.Organic != nil {
			return *t.Test.Organic >= 4
		}
	}
	return false
}

// grewBefore says whether the book knows of crops in the bed in years before: ground that was gardened is not without organic matter.
func (r *bedReader) grewBefore(b BedGround) bool {
	for _, p := range r.in.Garden.History {
		if p.BedID == b.Bed.ID && p.Year < r.in.Season.Year() && strings.TrimSpace(p.CropID+p.Family) != "" {
			return true
		}
	}
	for _, p := range r.all {
		if p.BedID == b.Bed.ID && p.Start < r.in.Season.Start {
			return true
		}
	}
	return false
}

// Spells is the number of days with digging.
func (n *NewGround) Spells() (days int) {
	var last civil.Date
	for _, s := range n.Stints {
		if s.Day != last {
			days, last = days+1, s.Day
		}
	}
	return days
}

// Dug is the ground of all spells.
func (n *NewGround) Dug() (area quantity.SquareMetre) {
	for _, s := range n.Stints {
		area += s.Area
	}
	return area
}
