package soil

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Days before planting at which the ground is dressed: grains settle in a week, meals begin to feed in two.
const (
	daysBefore        = 7
	daysBeforeOrganic = 14
	daysToSecond      = 28
)

// settle writes a chosen mix out as dressings, with reasons and cautions.
func (p *Prescription) settle(g Ground, mix Mix, units quantity.System, bucket quantity.Litre) {
	p.Mix = mix
	p.Dressings = nil
	if base, ok := p.base(g, units, bucket); ok {
		p.Dressings = append(p.Dressings, base)
	}
	schedule := p.schedule(g)
	var all quantity.Kilogram
	for _, s := range schedule {
		all += s.nitrogen
	}
	for _, s := range schedule {
		if d, ok := p.again(g, s, float64(s.nitrogen/all), units, bucket); ok {
			p.Dressings = append(p.Dressings, d)
		}
	}
	p.Starters = p.starters(g, units)
	p.tell(g, units)
}

// base is the dressing of the whole planted ground before its first planting; it has no day where none is known.
func (p *Prescription) base(g Ground, units quantity.System, bucket quantity.Litre) (Dressing, bool) {
	d := Dressing{Stage: "before planting", Area: p.Need.Planted, How: "strew it evenly over the ground and work it into the top " + lengths(units, 0.10, 0.15)}
	days := daysBefore
	for _, part := range p.Mix.Parts {
		if part.Now <= 0 {
			continue
		}
		mass := quantity.Kilogram(part.Now) * quantity.Kilogram(d.Area)
		d.Parts = append(d.Parts, DressingPart{Offer: part.Offer, Mass: mass, ByHand: ByHand(mass, part.Offer.Material, units, bucket)})
		d.Nitrogen += mass * quantity.Kilogram(part.Offer.found()[0])
		if part.Offer.Material.First != nil {
			days = daysBeforeOrganic
		}
	}
	if len(g.Plantings) > 0 { // else nobody knows the day
		d.Date = g.firstPlanting().Add(-days)
	}
	d.Reasons = []garden.Reason{{Says: "Phosphate and potash do not move in the ground, so all of them go in before planting, with the first part of the nitrogen.", Rule: "before planting", Source: "UDEL-COLE"}}
	return d, len(d.Parts) > 0
}

// again is one later dressing: its share of the later part of the mix.
func (p *Prescription) again(g Ground, s later, share float64, units quantity.System, bucket quantity.Litre) (Dressing, bool) {
	stage := inUnits(s.feeding.Stage, units)
	d := Dressing{Stage: stage, Date: s.feeding.Date, Planting: s.part.Key, Crop: s.part.Crop, Area: s.part.Area,
		How: "in a band " + lengths(units, 0.10, 0.15) + " from the stems, never on wet leaves; scratch it in and water"}
	switch {
	case s.part.Key == "":
		d.Area = p.Need.Planted
	case s.row.Name == "":
		d.How = "strew it evenly over the ground and work it into the top " + lengths(units, 0.05, 0.10)
	default:
		d.Reasons = append(d.Reasons, garden.Reason{Says: fmt.Sprintf("%s is fed again %s.", s.part.Crop, stage), Rule: "side-dressing of " + s.row.Name, Source: s.row.Source})
	}
	for _, part := range p.Mix.Parts {
		mass := quantity.Kilogram(float64(part.Later) * float64(p.Need.Planted) * share)
		if mass <= 0 {
			continue
		}
		one := DressingPart{Offer: part.Offer, Mass: mass, ByHand: ByHand(mass, part.Offer.Material, units, bucket)}
		if length := RowLength(g.Bed, s.planting); length > 0 && s.row.Name != "" {
			one.PerRow = mass / quantity.Kilogram(length)
		}
		if s.planting.Plants > 0 && s.row.Name != "" {
			one.PerPlant = mass / quantity.Kilogram(s.planting.Plants)
		}
		d.Parts = append(d.Parts, one)
		d.Nitrogen += mass * quantity.Kilogram(part.Offer.found()[0])
	}
	return d, len(d.Parts) > 0
}

// excess is the nitrogen that the first dressing cannot bear at once, given to the whole ground four weeks on.
func (p *Prescription) excess(g Ground, first quantity.Kilogram) (later, bool) {
	most := mostNitrogen
	if g.Texture == garden.Sand || g.Texture == garden.SandyLoam {
		most = mostNitrogenSand
	}
	over := first - quantity.Kilogram(most)*quantity.Kilogram(p.Need.Planted)
	l := later{feeding: Feeding{Stage: "four weeks after planting"}, nitrogen: over}
	if len(g.Plantings) > 0 {
		l.feeding.Date = g.firstPlanting().Add(daysToSecond)
	}
	return l, over > 1e-9
}

// Starter is a weak feed poured at the roots of plants as they are set out.
type Starter struct {
	Planting  string
	Crop      string
	Date      civil.Date
	Plants    int
	Each      quantity.Litre // to a plant
	Solution  quantity.Litre // in all
	Material  string         // what is dissolved
	Tables    float64        // level tablespoons in all
	PerGallon string         // the mix in words
	Reasons   []garden.Reason
}

// Two tablespoons to the gallon, a cup to a plant.
//
// Source: KSU-START (2–3 tablespoons of 5-10-5 or 10-20-10 to the gallon, one cup to a transplant); KSU-START2
const (
	starterTables = 2
	starterCup    = quantity.LitresPerGallon / 16
)

// starters are for every planting that is set out, from a soluble blend among the materials chosen. Where phosphorus
// tests very high there are none, and none from meals, which do not dissolve.
func (p *Prescription) starters(g Ground, units quantity.System) (all []Starter) {
	if p.Need.Phosphorus.Class == garden.VeryHigh {
		return nil
	}
	i := slices.IndexFunc(p.Mix.Parts, func(m MixPart) bool {
		return m.Offer.Material.Family == Fertiliser && m.Offer.Material.First == nil && m.Offer.Grade.N > 0 && m.Offer.Grade.P2O5 > 0
	})
	if i < 0 {
		return nil
	}
	words := "2 level tablespoons to the gallon, stirred hours ahead; a cup to each plant"
	if units == quantity.Metric {
		words = "2 level tablespoons to 4 L of water, stirred hours ahead; a quarter of a litre to each plant"
	}
	for _, q := range g.Plantings {
		if q.Way != crop.SetOut || q.Plants <= 0 || q.Start < g.From || q.Status == garden.InGround {
			continue
		}
		solution := quantity.Litre(starterCup) * quantity.Litre(q.Plants)
		name := q.CropID
		if c := g.crop(q.CropID); c != nil {
			name = c.Name()
		}
		all = append(all, Starter{
			Planting: q.Key, Crop: name, Date: q.Start, Plants: q.Plants, Each: starterCup, Solution: solution,
			Material: p.Mix.Parts[i].Offer.Name, Tables: float64(solution) / quantity.LitresPerGallon * starterTables, PerGallon: words,
			Reasons: []garden.Reason{{Says: "Plants set out root sooner with a cup of weak feed; what it holds is a fraction of a gram to a plant and is not counted.", Rule: "starter solution", Source: "KSU-START"}},
		})
	}
	return all
}

// tell writes what the person must know of the choice.
func (p *Prescription) tell(g Ground, units quantity.System) {
	unmet, need := p.Mix.Unmet.values(), p.Mix.Need.values()
	for i := range unmet {
		if unmet[i] <= 0.02*need[i] || unmet[i] <= float64(perAcre(1)) {
			continue
		}
		says := fmt.Sprintf("%.0f per cent of the %s cannot be brought by these materials without overdoing another plant food or the salts", 100*unmet[i]/need[i], foodNames[i])
		if g.saltLimit() == SaltAtOnce {
			says += fmt.Sprintf(": a material with %s alone would do it", foodNames[i])
		}
		p.Cautions = append(p.Cautions, says+".")
	}
	if ec, ok := g.conductivity(); ok && ec > 2 {
		says := fmt.Sprintf("The soil is salty (%.1f dS/m): half the usual salts at one time; water well through, and keep to materials of low salt.", ec)
		if ec > 4 {
			says = fmt.Sprintf("The soil is too salty to feed with salts (%.1f dS/m): leach it with plain water first, and ask the local extension office.", ec)
		}
		p.Cautions = append(p.Cautions, says)
	}
	if p.Need.Phosphorus.Class == garden.VeryHigh {
		p.Cautions = append(p.Cautions, "Phosphorus is very high: bring none, in compost and manure either, until it has come down. It does no good here and harms streams and lakes.")
	}
	for _, q := range g.Plantings {
		c := g.crop(q.CropID)
		if c == nil {
			continue
		}
		if row, ok := SideDressed(c, g.Texture); ok && row.Stop != "" {
			p.Cautions = append(p.Cautions, fmt.Sprintf("%s: %s.", c.Name(), row.Stop))
		}
	}
	if len(p.Dressings) > 0 {
		p.Cautions = append(p.Cautions, placement(units)...)
	}
	for _, part := range p.Mix.Parts {
		p.Cautions = append(p.Cautions, part.Offer.Material.Cautions...)
	}
	p.Cautions = unique(allInUnits(p.Cautions, units))
}

// placement are cautions of every dressing.
//
// Source: UT-FERT (band 2 in to the side and 2 in below the seed; 4–6 in from the stems)
func placement(units quantity.System) []string {
	return []string{
		fmt.Sprintf("In the row, fertiliser goes %[1]s to the side of the seed and %[1]s below it, never with it.", units.Length(2*inch)),
		"Brush or rinse off what falls on leaves. Wear gloves and follow the label; keep it from children, pets and wells.",
		"No lawn fertiliser with weedkiller on food ground.",
	}
}

func unique(words []string) []string {
	var out []string
	for _, w := range words {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}
