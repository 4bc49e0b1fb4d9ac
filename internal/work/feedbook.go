package work

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// topDressed is the stage of what is given to a crop that stands already when the season begins.
const topDressed = "as it starts into growth"

// prescribed are a planting's feedings by the soil book: what stands already has its share of the bed's first dressing strewn round
// it, and each side-dressing has its own day. They take the place of the crop's own words.
func (d *desk) prescribed(p *garden.Planting, g *BedGround) []feeding {
	if g.Stopped != "" {
		return nil
	}
	var out []feeding
	t := d.days(p)
	if share := d.fed[p.Key]; len(share) > 0 && !toCome(p) && !d.woken(p) {
		day := d.startsGrowing(p, t)
		base, _ := g.base()
		base.Stage, base.Date, base.Parts = topDressed, day, nil
		out = append(out, feeding{p: p, span: civil.Span{From: day, To: day.Add(21)}, by: &base, puts: onTop(share)})
	}
	for i := range g.Feeding.Dressings {
		s := &g.Feeding.Dressings[i]
		if s.Planting != p.Key || (s.Stage == beforeNext || scrap(s)) && toCome(p) && d.inPatch(p) {
			continue
		}
		day := s.Date
		if day == 0 {
			day = t.emerge.P50.Add(int(t.first.P50-t.emerge.P50) / 2)
		}
		if !d.standsYears(p) {
			day = max(day, t.start+1)
		}
		out = append(out, feeding{p: p, span: civil.Span{From: day, To: day.Add(10)}, by: s, puts: d.partsOf(g, s)})
	}
	return out
}

// inPatch says whether ground is made ready for a planting itself, and not only for its partner.
func (d *desk) inPatch(p *garden.Planting) bool { return !d.heldByPartner(p) }

// wholeBeds are the later dressings of all the planted ground of a bed, for its first planting's sake.
func (d *desk) wholeBeds() []feeding {
	var out []feeding
	for _, id := range d.groundIDs() {
		g := d.ground[id]
		if g.Feeding == nil || g.Stopped != "" || len(d.inBed[id]) == 0 {
			continue
		}
		for i := range g.Feeding.Dressings {
			s := &g.Feeding.Dressings[i]
			if s.Planting == "" && s.Stage != beforePlanting {
				out = append(out, feeding{p: d.inBed[id][0], span: civil.Span{From: s.Date, To: s.Date.Add(14)}, by: s, puts: d.partsOf(g, s)})
			}
		}
	}
	return out
}

func (d *desk) partsOf(g *BedGround, s *soil.Dressing) []Put {
	var puts []Put
	for _, one := range s.Parts {
		puts = append(puts, Put{BedID: g.BedID, Material: one.Offer.Material.ID, Mass: one.Mass, Depth: 0.03})
	}
	return puts
}

// onTop is what is put where nothing can be dug: left on the surface.
func onTop(puts []Put) []Put {
	out := slices.Clone(puts)
	for i := range out {
		out[i].Depth = 0
	}
	return out
}

// woken says whether it is a perennial whose spring cleaning takes its feeding along.
func (d *desk) woken(p *garden.Planting) bool {
	return d.standsYears(p) && len(d.yearly(p)) > 0
}

// startsGrowing is when what stands from before is fed: about four weeks before the last frost; what went in since then, in a fortnight.
func (d *desk) startsGrowing(p *garden.Planting, t days) civil.Date {
	day := p.Start.Add(14)
	if p.Start < d.season.Start {
		day = d.season.Start.Add(60)
		if f, ok := d.frostAt(0); ok {
			if last := f.LaterThan(50); !last.None {
				day = max(d.season.Start, last.Date.Add(stirs))
			}
		}
	}
	return max(t.start+1, min(day, max(t.start+1, t.first.P10-14)))
}

// feedByBook is one round of feeding by the soil book, with each planting's own weight.
func (d *desk) feedByBook(of []feeding, span civil.Span) Job {
	j := d.job(of[0].p, Feed, span.From, span.To)
	j.Serves = nil
	var names []string
	metres := 0.0
	for _, f := range of {
		c, who := d.crop(f.p), d.crop(f.p).Kind
		where := fmt.Sprintf("%s in %s (%s)", sentence(comma(c.Name())), d.bedName(f.p), f.p.Key)
		if f.by.Planting == "" && f.by.Stage != topDressed {
			who, where = "all of "+d.bedName(f.p), "All the planted ground of "+d.bedName(f.p)
		}
		if !slices.Contains(names, who) {
			names = append(names, who)
		}
		if f.p.BedID != j.BedID {
			j.BedID = 0
		}
		if f.p.CropID != j.CropID {
			j.CropID = ""
		}
		j.Serves = append(j.Serves, f.p.Key)
		j.Puts = append(j.Puts, f.puts...)
		var lots []string
		for _, p := range f.puts {
			m, ok := d.material(p.Material)
			if !ok {
				continue
			}
			lots = append(lots, d.putWords(p)+" of "+m.Name+d.eachWords(f.by, p))
			for _, says := range m.Cautions {
				says = soil.InUnits(says, d.system)
				j.Cautions = unless(j.Cautions, says, says)
			}
		}
		how := f.by.How
		if f.by.Stage == topDressed {
			how = "strewn round the plants, off the leaves, scratched in and watered"
		}
		j.How = append(j.How, fmt.Sprintf("%s, %s: %s; %s.", where, f.by.Stage, list(lots), how))
		for _, r := range f.by.Reasons {
			if !slices.Contains(j.Why, r) {
				j.Why = append(j.Why, r)
			}
		}
		metres += float64(d.rowLength(f.p)) * float64(max(1, f.p.Rows))
	}
	slices.Sort(j.Serves)
	j.Serves = slices.Compact(j.Serves)
	j.Title = fmt.Sprintf("Feed, week of %s: %s", span.From.Monday().Short(), list(names))
	j.Weather = "moist soil, dry leaves; rain to come, or water it in"
	j.Hours = effort(metres, feedAnHour)
	j.Why = append(j.Why, garden.Reason{Says: "Weighed out by the soil book: what the crop takes, less what the ground and its compost bring.", Rule: "plant foods of the bed"})
	j.Cautions = append(j.Cautions, "No raw manure on a growing crop.")
	return j
}

// eachWords is a lot by the metre of row or by the plant, where that helps the hand.
func (d *desk) eachWords(s *soil.Dressing, p Put) string {
	for _, one := range s.Parts {
		if one.Offer.Material.ID != p.Material {
			continue
		}
		switch {
		case one.PerPlant >= 0.005:
			return fmt.Sprintf(", %s to a plant", d.weighs.Mass(one.PerPlant))
		case one.PerRow > 0 && d.system == 0:
			return fmt.Sprintf(", %s to a metre of row", d.weighs.Mass(one.PerRow))
		case one.PerRow > 0:
			return fmt.Sprintf(", %s to 10 ft of row", d.weighs.Mass(one.PerRow*3.048))
		}
	}
	return ""
}

// starter is the weak feed a planting is set out with; empty for none.
func (d *desk) starter(p *garden.Planting) (how string, why []garden.Reason) {
	g := d.ground[p.BedID]
	if g == nil || g.Feeding == nil {
		return "", nil
	}
	for _, s := range g.Feeding.Starters {
		if s.Planting == p.Key {
			return fmt.Sprintf("Water them in with a weak feed of %s: %s; %s for all %s.", s.Material, s.PerGallon, d.system.Volume(s.Solution), count(s.Plants, "plant", "plants")), s.Reasons
		}
	}
	return "", nil
}
