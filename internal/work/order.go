package work

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Days of ordering; common practice: seed takes a week or two to come, and must be there before
// the day it is sown.
const (
	inHouse   = 14  // days before first use it must be in the house
	chitting  = 35  // days that seed tubers stand in the light before planting
	sendFor   = 28  // days before first use to send for it
	seedBatch = 120 // days of one order of seed, or of supplies: they keep, so one order serves a spring
	setsBatch = 30  // sets, tubers and plants do not keep: those wanted within so many days are sent for together
	setsOnce  = 120 // but one crop's are bought once for the season, the later ones kept cool and dark
)

// packetDoes is the length of drill a usual packet sows; common practice.
var packetDoes = map[string]quantity.Metre{"carrot": 30 * quantity.MetresPerFoot}

// ware is what is bought for a planting.
type ware string

const (
	seedWare   ware = "seed"
	setsWare   ware = "sets"
	tubersWare ware = "seed tubers"
	clovesWare ware = "cloves for planting"
	crownsWare ware = "crowns"
	slipsWare  ware = "slips"
	plantsWare ware = "plants"
)

// wareOf is what to buy: seed to sow and to raise; for a crop that is set, the piece the trade sells.
func wareOf(c *crop.Crop, way crop.Way) ware {
	if way != crop.Set {
		return seedWare
	}
	switch {
	case c.Kind == "sweet potato":
		return slipsWare
	case c.Kind == "garlic":
		return clovesWare
	case c.Kind == "strawberry":
		return plantsWare
	case c.Harvest.Part == "tuber" || c.Kind == "potato":
		return tubersWare
	case c.Group == crop.Allium:
		return setsWare
	case c.Perennial:
		return crownsWare
	}
	return plantsWare
}

// orders are the lines of the shopping list: one for each crop and ware, and a second where it is
// needed so much later that it would not keep.
func (d *desk) orders() []Order {
	open := map[string]*Order{}
	var lines []*Order
	for _, p := range d.byUse() {
		c := d.crop(p)
		w := wareOf(c, p.Way)
		by := max(d.firstUse(p).Add(-early(w)), d.from) // late is better than never: the day the season goes on from
		key := c.ID + "/" + string(w)
		o := open[key]
		if o == nil || (w != seedWare && by.Since(o.By) > setsOnce) {
			o = &Order{CropID: c.ID, What: c.Name() + ": " + string(w), By: by}
			open[key] = o
			lines = append(lines, o)
			d.orderWhy(o, p, w)
		}
		d.addTo(o, p, w)
	}
	out := make([]Order, 0, len(lines))
	for _, o := range lines {
		d.totalUp(o)
		out = append(out, *o)
	}
	out = append(out, d.supplies()...)
	slices.SortStableFunc(out, func(a, b Order) int {
		return cmp.Or(cmp.Compare(a.By, b.By), cmp.Compare(a.CropID, b.CropID), cmp.Compare(a.What, b.What))
	})
	return out
}

// early is how many days before first use a ware must be there.
func early(w ware) int {
	if w == tubersWare {
		return chitting
	}
	return inHouse
}

// byUse are the plantings to come by the day they first need seed or sets, then key.
func (d *desk) byUse() []*garden.Planting {
	var found []*garden.Planting
	for i := range d.plantings {
		if d.toBuy(&d.plantings[i]) {
			found = append(found, &d.plantings[i])
		}
	}
	slices.SortStableFunc(found, func(a, b *garden.Planting) int {
		return cmp.Or(cmp.Compare(d.firstUse(a), d.firstUse(b)), cmp.Compare(a.Key, b.Key))
	})
	return found
}

// addTo adds one planting's need to a line, with a sentence that shows the sum.
func (d *desk) addTo(o *Order, p *garden.Planting, w ware) {
	c := d.crop(p)
	o.For = append(o.For, p.Key)
	switch {
	case w != seedWare:
		o.Count += p.Plants
		o.Why = append(o.Why, garden.Reason{Says: fmt.Sprintf("%s in %s on %s.", sentence(count(p.Plants, "place", "places")), d.bedName(p), p.Start.Short())})
	case p.Way == crop.SetOut:
		r := raising(c, p)
		o.Count += r.seeds
		says := fmt.Sprintf("%s: %s to set out in %s on %s, so %d seedlings", p.Key, count(p.Plants, "plant", "plants"), d.bedName(p), p.Start.Short(), r.seedlings)
		if r.cells > 0 {
			says += fmt.Sprintf(" and %s of %s", count(r.cells, "cell", "cells"), count(r.each, "seed", "seeds"))
		}
		o.Why = append(o.Why, garden.Reason{Says: says + ".", Rule: "seedlings = plants ÷ 0.85"})
	default:
		s := drill(c, p, d.rowLength(p))
		o.Count += s.seeds
		o.Why = append(o.Why, garden.Reason{Says: fmt.Sprintf("%s: %s in %s on %s.", p.Key, d.sown(c, p, s), d.bedName(p), p.Start.Short()), Rule: "seeds = length ÷ distance in the drill"})
	}
}

// sown is a sowing in a few words: "two drills of 9 m, a seed every 1 cm: 1,420 seeds".
func (d *desk) sown(c *crop.Crop, p *garden.Planting, s drilled) string {
	if placed(c) {
		return fmt.Sprintf("%s, %s each: %s", count(p.Plants, "place", "places"), count(s.station, "seed", "seeds"), count(s.seeds, "seed", "seeds"))
	}
	abreast := ""
	if s.abreast > 1 {
		abreast = fmt.Sprintf(", %s abreast", count(s.abreast, "line", "lines"))
	}
	return fmt.Sprintf("%s of %s, a seed every %s%s: %d seeds", d.rowWords(c, p), d.length(s.length), d.distance(s.apart), abreast, s.seeds)
}

// orderWhy says why it must be there by its day.
func (d *desk) orderWhy(o *Order, p *garden.Planting, w ware) {
	use := d.firstUse(p)
	verb := "sown"
	switch p.Way {
	case crop.SetOut:
		verb = "sown under cover"
	case crop.Set:
		verb = "planted"
	}
	send := o.By.Add(inHouse - sendFor)
	says := fmt.Sprintf("First %s on %s; in the house %s before, so send for it by %s.", verb, use.Short(), weeksWords(early(w)), send.Short())
	if send < d.from {
		says = fmt.Sprintf("First %s on %s, which is soon: send for it at once.", verb, use.Short())
	}
	o.Why = append(o.Why, garden.Reason{Says: says, Rule: "common practice"})
}

// totalUp adds the spare and finds the mass.
func (d *desk) totalUp(o *Order) {
	c := d.crops[o.CropID]
	if o.What != c.Name()+": "+string(seedWare) {
		o.Count, o.Spare = SetsFor(o.Count), setSpare
		if c.Seed.Sets > 0 {
			o.Mass = quantity.Gram(float64(o.Count) / c.Seed.Sets * 1000)
		}
		o.Why = append(o.Why, garden.Reason{Says: "One in twenty spare, for soft or sprouted ones.", Rule: "common practice"})
		return
	}
	o.Count = SeedsFor(o.Count, 1, 1/(1+drillSpare))
	o.Mass = SeedMass(o.Count, c.Seed.PerGram)
	o.Spare = drillSpare
	if g := c.Seed.Germination; g > 0 {
		o.Spare = 1/g*(1+drillSpare) - 1
		o.Why = append(o.Why, garden.Reason{
			Says: fmt.Sprintf("Reckoned on %d of 100 seeds coming up, and one in ten spare for gaps sown again.", int(g*100+0.5)),
			Rule: "seed germination standard", Source: d.germinationSource(c),
		})
	}
	if k := c.Seed.Keeps; k > 0 {
		o.Why = append(o.Why, garden.Reason{Says: fmt.Sprintf("What is left keeps %s in a dry, cool tin.", count(int(k), "year", "years"))})
	}
	if does, ok := packetDoes[c.Kind]; ok {
		if m := d.drillMetres(o.For); m > 0 {
			o.Why = append(o.Why, garden.Reason{
				Says: fmt.Sprintf("%s of drill in all; a packet does about %s.", d.length(m), d.length(does)), Rule: "common practice",
			})
			o.Packets = max(1, int(math.Ceil(float64(m/does)-0.15))) // nobody buys a second for the last yard
		}
	}
	if o.Packets == 0 && !d.weighed(o.Mass) {
		o.Packets = 1
	}
}

func (d *desk) drillMetres(keys []string) quantity.Metre {
	var sum quantity.Metre
	for _, key := range keys {
		if p := d.byKey[key]; p.Way == crop.Sow {
			sum += d.rowLength(p) * quantity.Metre(max(1, p.Rows))
		}
	}
	return sum
}

// germinationSource is the key of the figure in the crop's file.
func (d *desk) germinationSource(c *crop.Crop) string {
	for _, f := range c.Figures {
		if f.Field == "seed.germination" {
			return f.Source
		}
	}
	return ""
}

// sending is what is sent for together.
type sending string

const (
	seeds    sending = "seed"
	sets     sending = "sets"
	supplies sending = "supplies"
)

func sendingOf(o Order) sending {
	switch {
	case supply(o):
		return supplies
	case isSeed(o):
		return seeds
	}
	return sets
}

// batch is one sending for seed, for sets and plants, or for supplies.
type batch struct {
	of    sending
	lines []Order
}

// batches gathers the lines, which are by date, into orders sent together.
func batches(lines []Order) []batch {
	var out []batch
	open := map[sending]int{}
	for _, o := range lines {
		of, days := sendingOf(o), setsBatch
		if of != sets {
			days = seedBatch
		}
		at, ok := open[of]
		if !ok || o.By.Since(out[at].lines[0].By) > days {
			at = len(out)
			out = append(out, batch{of: of})
			open[of] = at
		}
		out[at].lines = append(out[at].lines, o)
	}
	return out
}

// supply says whether it is neither seed nor anything planted: compost, stakes, netting.
func supply(o Order) bool { return o.CropID == "" }

func isSeed(o Order) bool {
	tail := ": " + string(seedWare)
	return len(o.What) > len(tail) && o.What[len(o.What)-len(tail):] == tail
}

// orderJob is the job of sending for one batch.
func (d *desk) orderJob(b batch) Job {
	by := b.lines[0].By
	what, plural := "seed", "kinds of seed"
	switch b.of {
	case sets:
		what, plural = "sets, tubers and plants", "kinds of sets, tubers and plants"
	case supplies:
		what, plural = "supplies", "supplies"
	}
	j := Job{
		Key: fmt.Sprintf("order/%s-%04d-%02d", b.of, by.Year(), by.Month()), Kind: OrderSeed,
		Window:  civil.Span{From: by.Add(inHouse - sendFor), To: by},
		Title:   fmt.Sprintf("Order %s: %s", what, count(len(b.lines), "line", "lines")),
		Weather: "any",
		Hours:   effort(float64(len(b.lines)), listLinesAnHour),
		Why: []garden.Reason{{
			Says: fmt.Sprintf("The first of these %s is wanted in the house by %s.", plural, by.Short()), Rule: "common practice",
		}},
	}
	for _, first := range []civil.Date{d.season.Start, d.from} {
		if by >= first {
			j.Window.From = max(j.Window.From, first)
		}
	}
	for _, o := range b.lines {
		j.How = append(j.How, d.line(o))
		j.Serves = append(j.Serves, o.For...)
	}
	slices.Sort(j.Serves)
	j.Serves = slices.Compact(j.Serves)
	switch b.of {
	case supplies:
		j.How = append([]string{"Look through the shed and the heap first, and cross off what is there and sound."}, j.How...)
	case seeds:
		j.How = append([]string{"Look through last year's tin first and cross off what is still young enough."}, j.How...)
		j.Cautions = []string{dressed}
	default:
		j.How = append(j.How, "Buy sound stock, firm and free of mould; keep it cool, dark and airy till it is planted.")
		for _, o := range b.lines {
			for _, s := range d.told(d.crops[o.CropID], OrderSeed) {
				j.How = unless(j.How, s, s)
			}
			for _, s := range warned(d.crops[o.CropID], OrderSeed) {
				j.Cautions = unless(j.Cautions, s, s)
			}
		}
	}
	return j
}

// line is one line of the shopping list in words.
func (d *desk) line(o Order) string {
	text := fmt.Sprintf("%s, %s", o.What, amountWords(o, d.measures))
	return text + ", by " + o.By.Short() + "."
}

// amountWords is how much to buy: "about 1,600 seeds (1.8 g)", "63 (2.5 kg)".
func amountWords(o Order, m measures) string {
	switch {
	case len(o.Bags) > 0:
		return bagWords(o, m)
	case o.Volume > 0:
		return "about " + m.compost(o.Volume)
	case o.Length > 0:
		return "about " + m.length(o.Length)
	case o.Area > 0:
		return "about " + m.area(o.Area)
	case supply(o) && o.Packets > 0:
		return packetWords(o.Packets)
	case isSeed(o):
		text := aboutSeeds(o.Count)
		if m.weighed(o.Mass) {
			text += " (" + m.seedMass(o.Mass) + ")"
		}
		if o.Packets > 0 {
			text += ", " + packetWords(o.Packets)
		}
		return text
	}
	text := thousands(o.Count)
	if o.Mass > 0 {
		text += " (" + m.mass(quantity.Kilogram(o.Mass/1000)) + ")"
	}
	return text
}

// aboutSeeds is a number of seeds at two figures.
func aboutSeeds(n int) string {
	if n == 1 {
		return "one seed"
	}
	return "about " + thousands(roundTo2(n)) + " seeds"
}

func packetWords(n int) string {
	if n == 1 {
		return "a packet"
	}
	return count(n, "packet", "packets")
}

// roundTo2 rounds a count up to two figures: nobody counts seed closer.
func roundTo2(n int) int {
	step := 1
	for n/step >= 100 {
		step *= 10
	}
	return (n + step - 1) / step * step
}

// thousands writes a count with commas.
func thousands(n int) string {
	text := fmt.Sprint(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}
