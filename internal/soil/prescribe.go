package soil

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Prescription is how a bed is fed in a season.
type Prescription struct {
	BedID     int64
	Need      Need
	Credits   []Credit
	Net       Mass // what is still to be brought: the need less the credits and the scraps
	Scraps    Mass // wanting too, but too little to strew
	Surplus   Mass // credits over the need
	Mix       Mix  // for a square metre of the planted ground
	Dressings []Dressing
	Starters  []Starter
	Reasons   []garden.Reason
	Cautions  []string
}

// Dressing is one going over of the bed, or of one planting, with fertiliser.
type Dressing struct {
	Stage    string     // "before planting"
	Date     civil.Date // 0: by the stage alone
	Planting string     // key; empty: the whole planted ground
	Crop     string
	Area     quantity.SquareMetre
	Nitrogen quantity.Kilogram // that the crops find of it
	Parts    []DressingPart
	How      string
	Reasons  []garden.Reason
}

// DressingPart is what is strewn of one material.
type DressingPart struct {
	Offer    Offer
	Mass     quantity.Kilogram
	ByHand   Measure
	PerRow   quantity.Kilogram // on a metre of row; 0 for the whole bed
	PerPlant quantity.Kilogram // 0 for the whole bed
}

// Limits of one dressing.
//
// Source: CSU-711 (a side-dressing of 0.1 lb of nitrogen on 100 sq ft); LA-SIDE (at most 1 lb of ammonium nitrate on
// 100 ft of row); the most at one time, 2–3 lb of nitrogen on 1000 sq ft, is from memory
const (
	mostNitrogen      = 3 * PoundPer1000SquareFeet
	mostNitrogenSand  = 2 * PoundPer1000SquareFeet
	mostNitrogenOfRow = 0.34 * quantity.KilogramsPerPound / (100 * quantity.MetresPerFoot) // kg on a metre

	// SaltAtOnce: the salt of three pounds of nitrogen as sodium nitrate (16 per cent) on 1000 sq ft. Estimated: it
	// is the burn limit told in the measure of the salt index.
	SaltAtOnce = mostNitrogen / 0.16
)

// By how much a need may be exceeded. The trade's own step between classes is 50 lb an acre; little of it is used.
const (
	overN    = 0.05 // of the need
	overPK   = 0.15 // of the need, where the soil has not enough yet
	overFree = 10   // lb an acre of phosphate and potash on top, there
)

// Prescribe reckons how a bed is fed from a choice of offers: need, credits, the cheapest mix, and when and how it is
// given. pH and salts come from the bed's newest test.
func Prescribe(g Ground, offers []Offer, units quantity.System, bucket quantity.Litre) (Prescription, error) {
	p := reckon(g)
	mix, err := Blend(p.target(g), offers)
	if err != nil {
		return p, err
	}
	p.settle(g, mix, units, bucket)
	return p, nil
}

// reckon is everything before materials are chosen.
func reckon(g Ground) Prescription {
	p := Prescription{BedID: g.Bed.ID, Need: NeedOf(g)}
	p.Credits = CreditsOf(g, p.Need)
	p.Net, p.Surplus = p.Need.Total.Less(SumOf(p.Credits))
	p.leaveScraps(g.Units)
	p.Reasons, p.Cautions = slices.Clone(p.Need.Reasons), slices.Clone(p.Need.Cautions)
	for _, c := range p.Credits {
		p.Reasons = append(p.Reasons, c.Reasons...)
	}
	p.Cautions = append(p.Cautions, g.alarms()...)
	for i, v := range p.Surplus.values() {
		if v > 0.01*max(1e-3, p.Need.Total.values()[i]) {
			p.Reasons = append(p.Reasons, garden.Reason{Says: fmt.Sprintf("The ground has more %s already than these crops ask for: none is bought.", foodNames[i]), Rule: "credit over need"})
		}
	}
	return p
}

// leastRate is the least of a plant food that is brought to a square metre: less is finer than the tables, whose rates of nitrogen span
// three times as much to either side and more, and no hand strews it evenly. Common practice.
const leastRate quantity.KilogramPerSquareMetre = 0.001

// leaveScraps takes what is too little to strew out of what is brought.
func (p *Prescription) leaveScraps(units quantity.System) {
	var left []string
	for _, one := range []struct {
		net, scrap *quantity.Kilogram
		name       string
	}{{&p.Net.N, &p.Scraps.N, foodNames[0]}, {&p.Net.P2O5, &p.Scraps.P2O5, foodNames[1]}, {&p.Net.K2O, &p.Scraps.K2O, foodNames[2]}} {
		if *one.net > 0 && *one.net < quantity.Kilogram(leastRate)*quantity.Kilogram(p.Need.Planted) {
			*one.scrap, *one.net = *one.net, 0
			left = append(left, one.name)
		}
	}
	if len(left) > 0 {
		says := fmt.Sprintf("A little %s is wanting, less than %s: it is left out, for the tables are no finer and no hand strews it evenly.", strings.Join(left, " and "), units.Rate(leastRate))
		p.Reasons = append(p.Reasons, garden.Reason{Says: says, Rule: "too little to strew"})
	}
}

// alarms are the sentences of the bed's newest test of lead, where it bids to stop.
func (g Ground) alarms() (says []string) {
	var newest *garden.SoilTest
	for i, t := range g.Tests {
		if t.Lead != nil && t.Date <= g.To && (len(t.Beds) == 0 || slices.Contains(t.Beds, g.Bed.ID)) && (newest == nil || t.Date >= newest.Date) {
			newest = &g.Tests[i]
		}
	}
	if newest == nil {
		return nil
	}
	for _, a := range AlarmsOf(*newest) {
		if a.Stop {
			says = append(says, a.Says)
		}
	}
	return says
}

// target is what the mix is to bring to a square metre of planted ground.
func (p *Prescription) target(g Ground) Demand {
	t := Demand{Need: p.Net.On(p.Need.Planted), Salt: g.saltLimit()}
	t.Salty = t.Salt < SaltAtOnce
	t.Over = Supply{N: overN * t.Need.N, P2O5: overOf(t.Need.P2O5, p.Need.Phosphorus.Class), K2O: overOf(t.Need.K2O, p.Need.Potash.Class)}
	schedule := p.schedule(g)
	for _, s := range schedule {
		t.Later += quantity.KilogramPerSquareMetre(s.nitrogen) / quantity.KilogramPerSquareMetre(max(p.Need.Planted, 1e-9))
	}
	t.Later = min(t.Later, t.Need.N)
	t.Times = max(1, timesOn(schedule))
	return t
}

// overOf is how far phosphate or potash may go over: not at all where the soil tests high.
func overOf(need quantity.KilogramPerSquareMetre, class garden.TestClass) quantity.KilogramPerSquareMetre {
	if classIndex(class) >= classIndex(garden.High) {
		return 0
	}
	return overPK*need + perAcre(overFree)
}

// saltLimit is the most salt at one time: half where the soil tests salty, none where it is too salty to sow.
//
// Source: NCSU-SALT (classes of saturated-paste conductivity: from memory)
func (g Ground) saltLimit() quantity.KilogramPerSquareMetre {
	ec, ok := g.conductivity()
	switch {
	case ok && ec > 4:
		return 0
	case ok && ec > 2:
		return SaltAtOnce / 2
	}
	return SaltAtOnce
}

// conductivity is the newest, as of a saturated paste.
func (g Ground) conductivity() (dS float64, ok bool) {
	var when civil.Date
	for _, t := range g.Tests {
		if t.Salts == nil || t.Date > g.To || t.Date < when || len(t.Beds) > 0 && !slices.Contains(t.Beds, g.Bed.ID) {
			continue
		}
		dS, ok, when = PasteSalts(*t.Salts, t.SaltsBy, g.Texture), true, t.Date
	}
	return dS, ok
}

// later is nitrogen that one planting is given after the bed was dressed.
type later struct {
	part     PlantingNeed
	planting garden.Planting
	feeding  Feeding
	nitrogen quantity.Kilogram
	row      SideDressing
}

// schedule is what is given after the first dressing of the bed: side-dressings by crop and stage, and the whole
// nitrogen of crops that follow on the same ground. Credits lessen every part alike.
func (p *Prescription) schedule(g Ground) []later {
	if !(p.Need.Total.N > 0) {
		return nil
	}
	still := p.Net.N / p.Need.Total.N
	var all []later
	for _, part := range p.Need.Parts {
		i := slices.IndexFunc(g.Plantings, func(q garden.Planting) bool { return q.Key == part.Key })
		if i < 0 || !(part.Mass.N > 0) {
			continue
		}
		planting := g.Plantings[i]
		side, n := p.sided(g, planting, part, still*part.Mass.N)
		if part.Follows {
			all = append(all, later{part, planting, Feeding{"before it is planted", planting.Start}, still*part.Mass.N - n, SideDressing{}})
		}
		all = append(all, side...)
	}
	all = folded(all)
	first := p.Net.N
	for _, l := range all {
		first -= max(0, l.nitrogen)
	}
	if l, ok := p.excess(g, first); ok {
		all = append(all, l)
	}
	slices.SortStableFunc(all, func(a, b later) int { return int(a.feeding.Date - b.feeding.Date) })
	return slices.DeleteFunc(all, func(l later) bool { return l.nitrogen <= 0 })
}

// leastNitrogen is the least given to a planting at one time: a level teaspoon of ammonium sulfate, two of a 10-10-10. Common practice.
const leastNitrogen quantity.Kilogram = 0.001

// folded puts what is less than that to the planting's next dressing, at the end to the one before; where there is no other it is given
// with the first dressing of the bed.
func folded(all []later) []later {
	slices.SortStableFunc(all, func(a, b later) int { return int(a.feeding.Date - b.feeding.Date) })
	carried, kept := map[string]quantity.Kilogram{}, map[string]int{}
	var out []later
	for _, l := range all {
		l.nitrogen += carried[l.part.Key]
		carried[l.part.Key] = 0
		if l.nitrogen < leastNitrogen {
			carried[l.part.Key] = l.nitrogen
			continue
		}
		out = append(out, l)
		kept[l.part.Key] = len(out)
	}
	for key, n := range carried {
		if at := kept[key]; at > 0 {
			out[at-1].nitrogen += n
		}
	}
	return out
}

// sided is a planting's side-dressings with their nitrogen, and the sum. No one dressing is more than a row or the
// ground bears; what that leaves over is given at planting.
func (p *Prescription) sided(g Ground, q garden.Planting, part PlantingNeed, nitrogen quantity.Kilogram) (all []later, total quantity.Kilogram) {
	c := g.crop(q.CropID)
	if c == nil {
		return nil, 0
	}
	row, ok := SideDressed(c, g.Texture)
	if !ok {
		return nil, 0
	}
	times := row.For(q)
	times = slices.DeleteFunc(times, func(f Feeding) bool { return f.Date > 0 && (f.Date < g.From || f.Date > g.To) })
	if len(times) == 0 || row.Share == 0 {
		return nil, 0
	}
	each := nitrogen * quantity.Kilogram(row.Share) / quantity.Kilogram(len(times))
	each = min(each, quantity.Kilogram(mostNitrogenSand)*quantity.Kilogram(part.Area))
	if length := RowLength(g.Bed, q); length > 0 {
		each = min(each, quantity.Kilogram(mostNitrogenOfRow)*quantity.Kilogram(length))
	}
	for _, f := range times {
		all = append(all, later{part, q, f, each, row})
		total += each
	}
	return all, total
}

// RowLength is the length of all rows of a planting.
func RowLength(b garden.Bed, p garden.Planting) quantity.Metre {
	if b.RowsAcross {
		return (p.Place.AcrossTo - p.Place.AcrossFrom) * quantity.Metre(p.Rows)
	}
	return (p.Place.AlongTo - p.Place.AlongFrom) * quantity.Metre(p.Rows)
}

// timesOn is the greatest number of later dressings of one planting.
func timesOn(schedule []later) int {
	count, most := map[string]int{}, 0
	for _, s := range schedule {
		count[s.part.Key]++
		most = max(most, count[s.part.Key])
	}
	return most
}
