package work

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Measures of supplies; common practice, from memory.
const (
	cellHolds     quantity.Litre = 0.04 // seed compost in a cell
	potHolds      quantity.Litre = 0.25 // and in a small pot
	trayAPlant    quantity.Litre = 0.05 // and in a tray, for each seedling
	mulchDepth    quantity.Metre = 0.025
	poleApart     quantity.Metre = 0.25
	coverOverhang                = 1.5 // fleece or net to the area of ground, over hoops and weighed down
)

// The bought things that are measured otherwise than by the piece.
const (
	ripeCompost   = "compost, ripe"
	pottedCompost = "seed compost"
	fleeceWare    = "fleece"
	netWare       = "insect net"
)

// need is what one job takes of a supply.
type need struct {
	what   string
	amount float64 // pieces, or litres, metres or m²
	span   civil.Span
	keys   []string
	says   string
	reused bool // it comes back when the span ends
	put    func(o *Order, amount float64)
}

func asVolume(o *Order, v float64) { o.Volume = quantity.Litre(v) }
func asLength(o *Order, v float64) { o.Length = quantity.Metre(v) }
func asArea(o *Order, v float64)   { o.Area = quantity.SquareMetre(v) }
func asCount(o *Order, v float64)  { o.Count = int(math.Ceil(v - 1e-9)) }

// supplies are the lines for what is neither sown nor planted. What is used up is summed; what comes
// back is bought for the most in use at once.
func (d *desk) supplies() []Order {
	var names []string
	of := map[string][]need{}
	for _, n := range d.needs() {
		if n.amount <= 0 || n.span.From < d.from {
			continue
		}
		if of[n.what] == nil {
			names = append(names, n.what)
		}
		of[n.what] = append(of[n.what], n)
	}
	var out []Order
	for _, what := range names {
		list := of[what]
		slices.SortStableFunc(list, func(a, b need) int { return int(a.span.From - b.span.From) })
		o := Order{What: what, By: list[0].span.From}
		sum := 0.0
		for _, n := range list {
			sum += n.amount
			o.For = append(o.For, n.keys...)
			if n.says != "" {
				o.Why = append(o.Why, garden.Reason{Says: n.says, Rule: "common practice"})
			}
		}
		slices.Sort(o.For)
		o.For = slices.Compact(o.For)
		list[0].put(&o, sum)
		if most := mostAtOnce(list); list[0].reused && most < sum-1e-9 {
			all := amountWords(o, d.measures)
			list[0].put(&o, most)
			o.Why = append(o.Why, garden.Reason{Says: fmt.Sprintf("The most in use at once; the season through it comes to %s, but it is used again.", all), Rule: "common practice"})
		}
		if what == ripeCompost {
			o.Why = append(o.Why, garden.Reason{Says: "Your own heap counts towards it; feeding on the way takes a little more.", Rule: "common practice"})
		}
		out = append(out, o)
	}
	return append(out, d.groundSupplies()...)
}

// mostAtOnce is the largest sum of amounts whose spans share a day.
func mostAtOnce(list []need) float64 {
	most := 0.0
	for _, at := range list {
		sum := 0.0
		for _, n := range list {
			if n.span.Has(at.span.From) {
				sum += n.amount
			}
		}
		most = max(most, sum)
	}
	return most
}

// needs are what the jobs to come take, in the order of the jobs' kinds.
func (d *desk) needs() []need {
	var out []need
	for _, a := range d.patches() {
		out = append(out, d.compostNeed(a))
	}
	for _, a := range d.sowings() {
		out = append(out, d.pottingNeed(a))
	}
	for i := range d.plantings {
		p := &d.plantings[i]
		if d.standsYears(p) {
			out = append(out, d.mulchNeed(p)...)
			continue
		}
		if !toCome(p) || p.Start < d.from || p.Role == garden.Marker {
			continue
		}
		if c := d.crop(p); c.Practice.Inoculant && p.Way == crop.Sow {
			out = append(out, d.inoculantNeed(p))
		}
		if d.crop(p).Practice.Support != "" {
			out = append(out, d.supportNeed(p))
		}
		out = append(out, d.coverNeeds(p)...)
	}
	return out
}

func (d *desk) compostNeed(a patch) need {
	litres := d.compostFor(a, d.dugBefore(a))
	day := d.prepareFrom(a)
	return need{
		what: ripeCompost, amount: float64(litres), span: civil.Span{From: day, To: day}, keys: a.keys(), put: asVolume,
		says: fmt.Sprintf("%s on %s: %s, %s deep.", d.bedName(a[0]), day.Short(), d.compost(litres), d.depth(compostDepth)),
	}
}

func (d *desk) mulchNeed(p *garden.Planting) []need {
	jobs := d.yearly(p)
	if len(jobs) == 0 || d.ground[p.BedID] != nil {
		return nil
	}
	litres := quantity.Litre(float64(p.Place.Area()) * float64(mulchDepth) * 1000)
	day := jobs[0].Window.From
	return []need{{
		what: ripeCompost, amount: float64(litres), span: civil.Span{From: day, To: day}, keys: []string{p.Key}, put: asVolume,
		says: fmt.Sprintf("A mulch for %s in %s on %s: %s, %s deep.", d.crop(p).Kind, d.bedName(p), day.Short(), d.compost(litres), d.depth(mulchDepth)),
	}}
}

func (d *desk) pottingNeed(a patch) need {
	c, all := d.crop(a[0]), garden.Planting{}
	for _, p := range a {
		all.Plants += p.Plants
	}
	r := raising(c, &all)
	holds, n, in := cellHolds, r.cells, count(r.cells, vessel(c), vessel(c)+"s")
	switch {
	case r.cells == 0:
		holds, n, in = trayAPlant, r.seedlings, fmt.Sprintf("trays for %s", count(r.seedlings, "seedling", "seedlings"))
	case vessel(c) == "pot":
		holds = potHolds
	}
	day := d.days(a[0]).raise
	return need{
		what: pottedCompost, amount: float64(holds) * float64(n), span: civil.Span{From: day, To: day}, keys: a.keys(), put: asVolume,
		says: fmt.Sprintf("%s on %s: %s.", sentence(c.Name()), day.Short(), in),
	}
}

func (d *desk) inoculantNeed(p *garden.Planting) need {
	return need{
		what: "inoculant for " + plural(d.crop(p)), amount: 1, put: func(o *Order, _ float64) { o.Count, o.Packets = 1, 1 },
		span: civil.Span{From: p.Start, To: p.Start}, keys: []string{p.Key},
		says: fmt.Sprintf("%s in %s on %s, where the kind has not grown lately; bought fresh each year.", sentence(d.crop(p).Name()), d.bedName(p), p.Start.Short()),
	}
}

// supportNeed is what a planting climbs or leans on, from when it is put up till the ground is clear.
func (d *desk) supportNeed(p *garden.Planting) need {
	c := d.crop(p)
	height := d.supportHeight(c)
	tall := d.length(height)
	metres := float64(d.rowLength(p)) * float64(max(1, p.Rows))
	n := need{keys: []string{p.Key}, reused: true, amount: metres, put: asLength}
	switch c.Practice.Support {
	case "stakes":
		n.what, n.amount, n.put = "stakes, "+tall, float64(p.Plants), asCount
	case "cage":
		n.what, n.amount, n.put = "cages, about "+tall+" tall", float64(p.Plants), asCount
	case "poles":
		n.what, n.amount, n.put = "poles, "+d.length(height+poleInGround), float64(d.poles(p)), asCount
	case "brush":
		n.what = "twiggy brush, about " + tall + " tall"
	case "wires":
		n.what = "wires on end posts, " + tall + " tall"
	default:
		n.what = "netting or twine, " + tall + " high"
	}
	put := d.support(p).Window.From
	n.span = civil.Span{From: put, To: max(put, d.days(p).clear-1)}
	var o Order
	n.put(&o, n.amount)
	n.says = fmt.Sprintf("%s in %s, %s to %s: %s.", sentence(c.Name()), d.bedName(p), n.span.From.Short(), n.span.To.Short(), amountWords(o, d.measures))
	return n
}

// coverNeeds are fleece and net, over hoops and weighed down round the edge.
func (d *desk) coverNeeds(p *garden.Planting) []need {
	var out []need
	add := func(what string, span civil.Span) {
		area := float64(p.Place.Area()) * coverOverhang
		out = append(out, need{
			what: what, amount: area, span: span, keys: []string{p.Key}, reused: true, put: asArea,
			says: fmt.Sprintf("%s in %s, %s to %s: %s, half as much again as the ground.", sentence(d.crop(p).Name()), d.bedName(p), span.From.Short(), span.To.Short(), d.area(quantity.SquareMetre(area))),
		})
	}
	for _, j := range d.protect(p) {
		switch j.Key {
		case p.Key + "/protect-frost":
			add(fleeceWare, j.Window)
		case p.Key + "/protect-net":
			add(netWare, civil.Span{From: j.Window.From, To: max(j.Window.To, d.days(p).first.P10)})
		}
	}
	return out
}

// poleInGround is how deep a pole or stake is driven.
const poleInGround quantity.Metre = 0.3

// supportHeight is how tall what the crop leans on stands.
func (d *desk) supportHeight(c *crop.Crop) quantity.Metre {
	height := max(c.Plant.Height, 0.6)
	if d.system == quantity.US {
		return height
	}
	return quantity.Metre(math.Round(float64(height)*10) / 10)
}

// poles is how many a planting takes: one every poleApart of row, or one to a plant that stands wider.
func (d *desk) poles(p *garden.Planting) int {
	each := max(poleApart, d.crop(p).Spacing.InRow)
	return max(1, p.Rows) * max(1, int(math.Round(float64(d.rowLength(p)/each))))
}
