package sheet

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/work"
)

// groundPages are the ground: bed by bed what its tests say and what it is given when, then what is to be bought for all of them.
func (p *paper) groundPages(s Season) {
	p.again = ""
	p.turn()
	p.place(append(p.paragraph(marginLeft, 0, style{bold, 20, 1.2, ink}, "", "The ground"), gap(4)), piece{})
	says := fmt.Sprintf("As the soil book had it on %s. Labels, local rules and a test newer than this sheet go before it.", s.Soil.Day.Long())
	p.place(append(p.paragraph(marginLeft, 0, style{upright, 10.5, 1.3, softInk}, "", says), gap(6)), piece{})
	p.again = "The ground, continued"
	for i, bed := range s.Garden.Beds {
		at := slices.IndexFunc(s.Soil.Beds, func(b work.BedGround) bool { return b.BedID == bed.ID })
		if at >= 0 {
			p.groundOf(s, i+1, bed, s.Soil.Beds[at])
		}
	}
	p.groundBuying(s)
}

// groundOf is one bed's reading and its givings.
func (p *paper) groundOf(s Season, number int, bed garden.Bed, g work.BedGround) {
	head := p.paragraph(marginLeft, 0, style{bold, 13, 1.25, ink}, fmt.Sprintf("%d", number), bed.Name)
	for _, line := range append(slices.Clone(g.Read), g.Advice...) {
		head = append(head, p.paragraph(marginLeft, 0, style{upright, 10, 1.3, softInk}, "–", line)...)
	}
	if g.Stopped != "" {
		head = append(head, p.paragraph(marginLeft, 0, style{bold, 10, 1.3, ink}, "!", g.Stopped)...)
	}
	gives := s.givings(bed.ID)
	if len(gives) == 0 && g.Stopped == "" {
		head = append(head, p.paragraph(marginLeft, 0, style{italic, 10, 1.3, ink}, "", "It is given nothing this season.")...)
	}
	head = append(head, gap(3))
	if len(gives) > 0 && head.high()+60 > p.left() { // the head stays with its first rows
		p.turn()
	}
	p.place(head, piece{})
	t := ledger{paper: p, columns: []column{{head: "when", wide: 104}, {head: "with which job", wide: 172}, {head: "what it is given"}}}
	for _, row := range gives {
		t.row(nil, row[:]...)
	}
	p.place(block{gap(10)}, piece{})
}

// givings are the rows of a bed: days, job, and materials with their amounts, in order of day.
func (s Season) givings(bed int64) [][3]string {
	var rows [][3]string
	for _, j := range s.Jobs {
		var lots []string
		for _, put := range j.Puts {
			if put.BedID != bed {
				continue
			}
			amount := put.Words(s.Site)
			switch {
			case put.Full():
				amount += ", given"
			case put.Given > 0:
				amount += fmt.Sprintf(", of which %s given", s.Site.Soil.Weighs.Mass(put.Given))
			}
			if put.Parts > 1 {
				amount += fmt.Sprintf(", part %d of %d", put.Part, put.Parts)
			}
			if put.Depth > 0 {
				amount += ", " + s.Site.Units.Depth(put.Depth) + " deep"
			} else if j.Kind == work.Dress {
				amount += ", left on top"
			}
			lots = append(lots, put.Name()+": "+amount)
		}
		if len(lots) > 0 {
			rows = append(rows, [3]string{s.short(j.Window.From) + " – " + s.short(j.Window.To), s.jobName(j), strings.Join(lots, ",\n")})
		}
	}
	return rows
}

// jobName is a job in a few words: its kind, and the crops it is for.
func (s Season) jobName(j work.Job) string {
	var names []string
	for _, key := range j.Serves {
		for _, q := range s.Plan.Plantings {
			if c, ok := s.Crops.Find(q.CropID); ok && q.Key == key && !slices.Contains(names, c.Kind) {
				names = append(names, c.Kind)
			}
		}
	}
	if len(names) == 0 || j.Kind == work.Dress {
		return string(j.Kind)
	}
	if len(names) > 3 {
		names = append(names[:2], fmt.Sprintf("%d more", len(names)-2))
	}
	return string(j.Kind) + ": " + strings.Join(names, ", ")
}

// groundBuying is what to buy for the ground.
func (p *paper) groundBuying(s Season) {
	u := s.Site.Units
	p.place(append(p.heading("What to buy for the ground"), gap(2)), piece{})
	t := ledger{paper: p, columns: []column{{head: "by", wide: 60}, {head: "what", wide: 160}, {head: "how much"}}}
	cost, priced := 0.0, true
	for _, o := range s.Orders {
		if !o.Ground() {
			continue
		}
		amount := o.Amount(u)
		if o.Cost > 0 {
			amount += fmt.Sprintf(", %.2f", o.Cost)
		}
		cost, priced = cost+o.Cost, priced && (o.Cost > 0 || o.Volume > 0)
		var small []string
		for _, w := range o.Why {
			small = append(small, w.Says)
		}
		t.row([]string{strings.Join(small, " ")}, s.short(o.By), o.What, amount)
	}
	switch {
	case t.rows == 0:
		p.place(p.paragraph(marginLeft, 0, style{italic, 10.5, 1.3, ink}, "", "Nothing."), piece{})
	case priced && cost > 0:
		p.place(append(block{gap(4)}, p.paragraph(marginLeft, 0, style{upright, 10.5, 1.3, ink}, "", fmt.Sprintf("%.2f together for what is sold in packages.", cost))...), piece{})
	}
}
