package work

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// brokenFor says whether a patch's ground is wild and broken by a job of its own, so that it need only be loosened.
func (d *desk) brokenFor(a patch) bool {
	g := d.ground[a[0].BedID]
	return g != nil && g.Breaking != nil && len(g.Breaking.Stints) > 0
}

// breakings are the jobs of breaking wild ground, bed by bed, in short spells just before it is planted.
func (d *desk) breakings() []Job {
	var jobs []Job
	for _, id := range d.groundIDs() {
		g := d.ground[id]
		b := g.Breaking
		if b == nil || len(b.Stints) == 0 || g.Stopped != "" {
			continue
		}
		jobs = append(jobs, d.breaking(g))
	}
	return jobs
}

func (d *desk) breaking(g *BedGround) Job {
	b, bed := g.Breaking, d.beds[g.BedID]
	first, last := b.Stints[0].Day, b.Stints[len(b.Stints)-1].Day
	j := Job{
		Key: fmt.Sprintf("bed-%d/break", bed.ID), Kind: Break, BedID: bed.ID, Window: civil.Span{From: first, To: last},
		Title:   fmt.Sprintf("Break new ground in %s, %s, in %s", bed.Name, d.area(b.Area-b.Left), count(len(b.Stints), "short spell", "short spells")),
		Weather: "soil that crumbles in the hand; not while it sticks to the spade", Hours: quarter(float64(b.Toil.Hours)),
		Why: slices.Clone(b.Reasons), Cautions: slices.Clone(b.Cautions),
	}
	for _, p := range d.inBed[bed.ID] {
		if toCome(p) {
			j.Serves = append(j.Serves, p.Key)
		}
	}
	for _, pass := range b.Toil.Passes {
		j.How = append(j.How, sentence(pass)+".")
	}
	j.How = append(j.How, fmt.Sprintf("A spell is about %d minutes and %s: one a day will do, and never a whole day. Begin with what is planted first; break only what is about to be planted.", b.Stints[0].Minutes, d.area(b.Stints[0].Area)))
	if b.Heap != nil {
		j.How = append(j.How, fmt.Sprintf("Stack the sods, about %s, grass side down and cover them from light: next year they are loam.", soil.Bulk(b.Sod, d.system)))
	}
	if b.Left > 0.05*b.Area {
		j.How = append(j.How, fmt.Sprintf("About %s cannot be done in time this way: plant it later, begin earlier or ask for help.", d.area(b.Left)))
	}
	j.Why = append(j.Why, garden.Reason{Says: fmt.Sprintf("Planting begins on %s; these are days on which the ground is likely dry enough.", b.Plant.Short()), Rule: "short spells before planting"})
	return j
}

// holes are the jobs of digging holes for perennials still to be planted, in the fortnight before.
func (d *desk) holes() []Job {
	var jobs []Job
	for i := range d.plantings {
		p := &d.plantings[i]
		h, ok := d.hole(p)
		if !ok || !toCome(p) {
			continue
		}
		c := d.crop(p)
		from := p.Start.Add(-14)
		for g := d.ground[p.BedID]; from < p.Start-3 && !d.fitOn(g, from); {
			from++
		}
		j := d.job(p, DigHoles, from, p.Start-1)
		dug := count(h.Digging.Holes, "hole", "holes")
		size := fmt.Sprintf("%s across and %s deep", d.distance(h.Width), d.distance(h.Depth))
		if h.Trench {
			dug, size = "a trench", fmt.Sprintf("%s wide and %s deep", d.distance(h.Width), d.distance(h.Depth))
		}
		j.Title = fmt.Sprintf("Dig %s for %s in %s", dug, c.Kind, d.bedName(p))
		j.How = []string{fmt.Sprintf("%s, %s: about %s of earth in all. Put the topsoil to one side, the subsoil to the other.", sentence(dug), size, soil.Bulk(h.Digging.Earth, d.system))}
		for _, f := range h.Fill {
			m, ok := d.material(f.Material)
			if v := h.Digging.Mix[f.Material]; ok && v > 0 {
				j.How = append(j.How, fmt.Sprintf("Mix %s of %s, ripe, into the topsoil that goes back.", d.compost(v), m.Name))
			}
		}
		j.How = append(j.How, fmt.Sprintf("When it is planted: %s.", h.Level))
		j.Hours = quarter(float64(h.Digging.Hours))
		j.How = append(j.How, d.inSpells(j.Hours)...)
		j.Weather = "soil that crumbles in the hand"
		j.Why = slices.Clone(h.Reason)
		j.Cautions = []string{
			"Ask where cables and pipes run before anyone digs: the utilities mark them.",
			"Lift with the legs, small spits, and change sides; cover an open hole where people or animals pass.",
		}
		jobs = append(jobs, j)
	}
	return jobs
}

// hole is the holes of a planting by the soil book.
func (d *desk) hole(p *garden.Planting) (Hole, bool) {
	g := d.ground[p.BedID]
	if g == nil {
		return Hole{}, false
	}
	h, ok := g.Holes[p.Key]
	return h, ok
}
