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

// SoilBook is what the soil book of a garden asks for in the season: what the jobs on its ground are made from. Where a bed is not in
// it, the general rules stand.
type SoilBook struct {
	Day  civil.Date  // it was read on; what the journal tells to have been given since closes jobs
	Beds []BedGround // by bed
}

// BedGround is what the soil book has of a bed.
type BedGround struct {
	BedID    int64
	Read     []string           // what the bed's tests say, in words
	Advice   []string           // to test, above all
	Stopped  string             // why nothing is given here: lead, or salts; else empty
	Dose     *soil.Dose         // lime or sulfur; nil: none
	Why      []garden.Reason    // of the pH and the dose
	Feeding  *soil.Prescription // plant foods; nil: not reckoned, so the general rule stands
	Organic  *soil.Enrichment   // nil: none asked for in the season
	Due      civil.Date         // the organic matter is not given before this day
	Breaking *Breaking          // nil: it is dug ground, or nothing is to be planted in it
	Holes    map[string]Hole    // by planting, of perennials
	Fitness  *soil.Fitness      // when it is dry enough to dig; nil: not known
}

// Breaking is how wild ground is broken for its next planting, in short spells.
type Breaking struct {
	soil.Breaking
	Toil   soil.Toil
	Plant  civil.Date
	Stints []soil.Stint
	Left   quantity.SquareMetre // what cannot be dug in time
}

// Hole is the holes of a perennial planting.
type Hole struct {
	soil.Hole
	Digging soil.Digging
}

// Put is so much of a material that a job puts on a bed.
type Put struct {
	BedID    int64
	Material string            // ID of a soil material
	Called   string            // by the label of its package, where it is a product of the person's own
	Mass     quantity.Kilogram // 0 where it cannot be weighed
	Volume   quantity.Litre    // loose; 0 where it is weighed out
	Depth    quantity.Metre    // worked in to; 0: left on top
	Given    quantity.Kilogram // of Mass, by the book
	Part     int               // of a dose in Parts parts, from 1; 0: it is no dose
	Parts    int
}

// Left is what is still to be put on.
func (p Put) Left() quantity.Kilogram { return max(0, p.Mass-p.Given) }

// enough: of an amount, as much as nobody would go out again for.
const enough = 0.9

// Full says whether the book has it as given, but for a scrap.
func (p Put) Full() bool { return p.Mass > 0 && p.Given >= p.Mass*enough }

// grounds makes the soil book ready: what each patch and each standing planting is given of what its bed is given as a whole.
func (d *desk) grounds(in Input) {
	d.ground, d.fed = map[int64]*BedGround{}, map[string][]Put{}
	d.weighs, d.bucket = in.Garden.Site.Soil.Weighs, in.Garden.Site.Soil.Bucket
	d.treatments, d.packages = in.Garden.Treatments, in.Garden.Packages
	if in.Soil == nil {
		return
	}
	d.soil = in.Soil
	for i := range in.Soil.Beds {
		if b := &in.Soil.Beds[i]; d.beds[b.BedID] != nil {
			d.ground[b.BedID] = b
		}
	}
	for _, id := range d.groundIDs() {
		d.share(id)
	}
}

// groundIDs are the beds of the soil book, in order.
func (d *desk) groundIDs() []int64 {
	var ids []int64
	for id := range d.ground {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// taker is a piece of a bed's ground that is fed in one go: a patch that is prepared, or what stands in it.
type taker struct {
	key  string // of the planting whose job it is; empty: it is over, and had its share
	on   civil.Date
	area quantity.SquareMetre
}

// takers are the pieces of a bed's ground, each once: where it is prepared for its first crop that is fed, and where something
// stands already. Ground for a green manure is left out, which is food itself.
func (d *desk) takers(bed int64) []taker {
	var all []taker
	for _, a := range d.patches() {
		if a[0].BedID == bed && d.fedFirst(a) {
			all = append(all, taker{a[0].Key, a[0].Start, a.fed(d).ground()})
		}
	}
	for _, p := range d.inBed[bed] {
		if !toCome(p) && !d.green(p) && p.Role != garden.Marker && p.Role != garden.Fast {
			all = append(all, taker{p.Key, p.Start, p.Place.Area()})
		}
	}
	for i := range d.ended[bed] {
		if p := &d.ended[bed][i]; p.Start >= d.season.Start && !d.green(p) && p.Role != garden.Marker && p.Role != garden.Fast {
			all = append(all, taker{"", p.Start, p.Place.Area()})
		}
	}
	slices.SortStableFunc(all, func(a, b taker) int { return cmp.Or(cmp.Compare(a.on, b.on), cmp.Compare(a.key, b.key)) })
	return all
}

func (d *desk) green(p *garden.Planting) bool { return d.crop(p).Group == crop.Cover }

// fed is the part of a patch that is not for a green manure.
func (a patch) fed(d *desk) patch {
	return slices.DeleteFunc(slices.Clone(a), d.green)
}

// fedFirst says whether a patch is the first of its ground to be fed in the season.
func (d *desk) fedFirst(a patch) bool {
	fed := a.fed(d)
	return len(fed) > 0 && slices.ContainsFunc(fed, func(p *garden.Planting) bool {
		before := d.groundBefore(p)
		for before != nil && d.green(before) {
			before = d.groundBefore(before)
		}
		return before == nil
	})
}

// share parts what a bed is given before planting, and its organic matter, among its pieces of ground by their size.
func (d *desk) share(bed int64) {
	g := d.ground[bed]
	pieces := d.takers(bed)
	var whole quantity.SquareMetre
	for _, t := range pieces {
		whole += t.area
	}
	if !(whole > 0) {
		return
	}
	for _, t := range pieces {
		part := quantity.Kilogram(t.area / whole)
		if base, ok := g.base(); ok {
			for _, one := range base.Parts {
				d.fed[t.key] = append(d.fed[t.key], Put{BedID: bed, Material: one.Offer.Material.ID, Mass: one.Mass * part, Depth: baseDepth})
			}
		}
		if o := g.Organic; o != nil && !d.apartly(g) {
			put := Put{BedID: bed, Material: o.Material, Mass: o.Mass * part, Volume: o.Loose * quantity.Litre(part), Depth: o.Into}
			d.fed[t.key] = append(d.fed[t.key], put)
		}
	}
}

// baseDepth is how deep plant foods are worked in before planting: the top 4 to 6 in. Source: CSU-711.
const baseDepth quantity.Metre = 0.15

// beforePlanting is the stage of a dressing of ground, not of what grows on it.
const (
	beforePlanting = "before planting"
	beforeNext     = "before it is planted" // of a crop that follows another
)

// base is the dressing of the whole planted ground.
func (g *BedGround) base() (soil.Dressing, bool) {
	if g == nil || g.Feeding == nil {
		return soil.Dressing{}, false
	}
	i := slices.IndexFunc(g.Feeding.Dressings, func(s soil.Dressing) bool { return s.Stage == beforePlanting })
	if i < 0 {
		return soil.Dressing{}, false
	}
	return g.Feeding.Dressings[i], true
}

// apartly says whether a bed's organic matter is a job of its own and not part of making ground ready: raw manure, which must lie for months,
// what would rob the crops of nitrogen, which is a mulch and not raked in before a sowing, and what is due only when the season is under way.
func (d *desk) apartly(g *BedGround) bool {
	m, _ := d.material(g.Organic.Material)
	return m.Raw || soil.Robs(m) || g.Due > d.season.Start && g.Due > d.soil.Day && g.Due > d.firstIn(g.BedID)
}

// firstIn is the first day on which anything to come goes into a bed.
func (d *desk) firstIn(bed int64) civil.Date {
	first := d.season.End()
	for _, p := range d.inBed[bed] {
		if toCome(p) {
			first = min(first, p.Start)
		}
	}
	return first
}

// putsOf is what a patch is given when it is made ready: its share of the bed's, and the nitrogen of crops that follow others.
func (d *desk) putsOf(a patch) []Put {
	puts := slices.Clone(d.fed[a[0].Key])
	g := d.ground[a[0].BedID]
	if g == nil || g.Feeding == nil {
		return puts
	}
	for _, s := range g.Feeding.Dressings {
		if s.Stage == beforeNext && slices.ContainsFunc(a, func(p *garden.Planting) bool { return p.Key == s.Planting }) {
			for _, one := range s.Parts {
				puts = append(puts, Put{BedID: g.BedID, Material: one.Offer.Material.ID, Mass: one.Mass, Depth: baseDepth})
			}
		}
	}
	for i := range g.Feeding.Dressings {
		s := &g.Feeding.Dressings[i]
		if scrap(s) && slices.ContainsFunc(a, func(p *garden.Planting) bool { return p.Key == s.Planting }) {
			for _, one := range s.Parts {
				puts = append(puts, Put{BedID: g.BedID, Material: one.Offer.Material.ID, Mass: one.Mass, Depth: baseDepth})
			}
		}
	}
	return joined(puts)
}

// scrap says whether a side-dressing is too little to go out for: it is given with what the ground is given before planting.
func scrap(s *soil.Dressing) bool {
	var sum quantity.Kilogram
	for _, one := range s.Parts {
		sum += one.Mass
	}
	return s.Planting != "" && s.Stage != beforeNext && sum < 0.015
}

// joined adds up what is put of one material on one bed.
func joined(puts []Put) []Put {
	var out []Put
	for _, p := range puts {
		i := slices.IndexFunc(out, func(o Put) bool { return o.BedID == p.BedID && o.Material == p.Material && o.Depth == p.Depth })
		if i < 0 {
			out = append(out, p)
			continue
		}
		out[i].Mass, out[i].Volume = out[i].Mass+p.Mass, out[i].Volume+p.Volume
	}
	return out
}

// near is how many days before and after a job's own days something given is taken as given for it.
const near = 14

// given closes jobs by what the book tells to have been put on since it was read: material by material and bed by bed, to the jobs of
// those days first, and what is over to the earliest. Ground whose crop is over had its share, as far as it was given.
func (d *desk) given(jobs []Job) {
	if d.soil == nil {
		return
	}
	gone := Job{Window: civil.Span{From: d.season.Start, To: d.season.End()}, Puts: slices.Clone(d.fed[""])}
	last := map[*Put]civil.Date{}
	for _, t := range d.treatments {
		left, ok := weightOf(t)
		if !ok || t.Date <= d.soil.Day {
			continue
		}
		fill := func(puts []Put) {
			for k := range puts {
				if p := &puts[k]; p.BedID == t.BedID && p.Material == t.Material && left > 0 && !p.Full() {
					more := min(p.Left(), left)
					p.Given, left = p.Given+more, left-more
					last[p] = max(last[p], t.Date)
				}
			}
		}
		for _, close := range []bool{true, false} {
			for i := range jobs {
				w := jobs[i].Window
				if !close || w.From.Add(-near) <= t.Date && t.Date <= w.To.Add(near) {
					fill(jobs[i].Puts)
				}
			}
			fill(gone.Puts)
		}
	}
	for i := range jobs {
		j := &jobs[i]
		full, day := len(j.Puts) > 0, civil.Date(0)
		for k := range j.Puts {
			p := &j.Puts[k]
			full, day = full && p.Full(), max(day, last[p])
		}
		if full && (j.Kind == Dress || j.Kind == Feed) {
			j.Given = day
		}
		for k := range j.Puts {
			if says := d.givenWords(j, j.Puts[k], last[&j.Puts[k]]); says != "" {
				j.How = append(j.How, says)
			}
		}
	}
}

// givenWords tell what of a put the book has as given, last on a day, and what is left of it; empty where nothing is.
func (d *desk) givenWords(j *Job, p Put, day civil.Date) string {
	if p.Given <= 0 || p.Mass <= 0 {
		return ""
	}
	m, _ := d.material(p.Material)
	what := "the " + m.Name
	if b := d.beds[p.BedID]; b != nil && b.Name != "" && slices.ContainsFunc(j.Puts, func(o Put) bool { return o.BedID != p.BedID }) {
		what += " in " + b.Name
	}
	if p.Full() {
		return fmt.Sprintf("%s is given already, by the book, on %s.", sentence(what), day.Short())
	}
	part := func(kg quantity.Kilogram) string {
		return d.totalWords(Put{Mass: kg, Volume: p.Volume * quantity.Litre(kg/p.Mass)})
	}
	return fmt.Sprintf("Of %s the book has %s as given, last on %s: %s is left to give.", what, part(p.Given), day.Short(), part(p.Left()))
}

// call gives the products of the person's own the names on their packages.
func (d *desk) call(jobs []Job) {
	for i := range jobs {
		for k := range jobs[i].Puts {
			put := &jobs[i].Puts[k]
			if _, listed := soil.Find(put.Material); listed {
				continue
			}
			if m, ok := d.material(put.Material); ok {
				put.Called = m.Name
			}
		}
	}
}

// stop puts the warning of ground whose lead or salts forbid growing food first among the cautions of every job done in it.
func (d *desk) stop(jobs []Job) {
	for i := range jobs {
		j := &jobs[i]
		if g := d.ground[j.BedID]; g != nil && g.Stopped != "" && !slices.Contains(j.Cautions, g.Stopped) {
			j.Cautions = append([]string{g.Stopped}, j.Cautions...)
		}
	}
}

// weightOf is what a treatment weighed, by its volume where it was measured so; false for a material not known here.
func weightOf(t garden.Treatment) (quantity.Kilogram, bool) {
	m, ok := soil.Find(t.Material)
	if t.Amount == 0 && m.Density != nil {
		return quantity.Kilogram(float64(t.Volume) * m.Density.Value), ok
	}
	return t.Amount, ok
}
