package work

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Days of raising; common practice.
const (
	raiseSlack    = 7 // sown so much late, a raised plant makes it good
	raiseTogether = 3 // sowings of one crop within so many days are done at once
)

// Depths under cover; common practice. A method's depth beyond deepestSeed is that of the plant.
const (
	deepestSeed quantity.Metre = 0.04
	usualSeed   quantity.Metre = 0.01
)

// sowings gathers the plantings to be set out: those of one crop sown under cover within a few days
// are one sowing.
func (d *desk) sowings() []patch {
	todo := d.toSetOut()
	slices.SortStableFunc(todo, func(a, b *garden.Planting) int {
		return cmp.Or(cmp.Compare(a.CropID, b.CropID), cmp.Compare(d.days(a).raise, d.days(b).raise), cmp.Compare(a.Key, b.Key))
	})
	return gather(todo, func(first, p *garden.Planting) bool {
		return first.CropID == p.CropID && d.days(p).raise.Since(d.days(first).raise) <= raiseTogether
	})
}

// hardenings gathers the plantings that are hardened off over the same days.
func (d *desk) hardenings() []patch {
	todo := d.toSetOut()
	slices.SortStableFunc(todo, func(a, b *garden.Planting) int {
		return cmp.Or(cmp.Compare(d.days(a).harden, d.days(b).harden), cmp.Compare(a.Start, b.Start), cmp.Compare(a.Key, b.Key))
	})
	return gather(todo, func(first, p *garden.Planting) bool {
		return d.days(first).harden == d.days(p).harden && first.Start == p.Start
	})
}

func (d *desk) toSetOut() []*garden.Planting {
	var todo []*garden.Planting
	for i := range d.plantings {
		if p := &d.plantings[i]; toCome(p) && p.Way == crop.SetOut {
			todo = append(todo, p)
		}
	}
	return todo
}

// gather puts each planting with the group before it when it joins that group's first.
func gather(todo []*garden.Planting, joins func(first, p *garden.Planting) bool) []patch {
	var out []patch
	for _, p := range todo {
		if n := len(out) - 1; n >= 0 && joins(out[n][0], p) {
			out[n] = append(out[n], p)
			continue
		}
		out = append(out, patch{p})
	}
	return out
}

// raise is sowing under cover, for one planting or for several of the same crop.
func (d *desk) raise(a patch) Job {
	p := a[0]
	c, m, from := d.crop(p), d.method(p), d.days(p).raise
	all := garden.Planting{}
	to := from + raiseSlack
	var outs, beds []string
	for _, q := range a {
		all.Plants += q.Plants
		t := d.days(q)
		if low := int(d.method(q).WeeksIndoors.Low * 7); low > 0 {
			to = min(to, max(from, t.start.Add(-low)))
		}
		to = min(to, max(from, t.harden-2))
		outs = append(outs, fmt.Sprintf("on %s (in %s)", q.Start.Short(), weeksWords(int(t.start-from))))
		if name := d.bedName(q); !slices.Contains(beds, name) {
			beds = append(beds, name)
		}
	}
	r := raising(c, &all)
	j := d.job(p, Raise, from, to)
	j.Serves = a.keys()
	if len(beds) > 1 {
		j.BedID = 0
	}
	name := comma(c.Name())
	if r.cells > 0 {
		vessels := count(r.cells, vessel(c), vessel(c)+"s")
		j.Title = fmt.Sprintf("Sow %s under cover: %s for %s", name, vessels, list(beds))
		j.How = append(j.How, fmt.Sprintf("Fill %s with seed compost and water it first; put %s in each, %s deep: %s in all.",
			vessels, count(r.each, "seed", "seeds"), d.depth(seedDepth(m)), count(r.seeds, "seed", "seeds")))
		if r.each > 1 {
			j.How = append(j.How, "When both are up, nip off the weaker at the soil; do not pull.")
		}
	} else {
		j.Title = fmt.Sprintf("Sow %s under cover: about %d seedlings in trays for %s", name, r.seedlings, list(beds))
		j.How = append(j.How, fmt.Sprintf("Fill trays with seed compost and water it first; sow %s, %s apart, %s deep.", aboutSeeds(r.seeds), d.depth(0.01), d.depth(seedDepth(m))))
	}
	if warm, ok := quickest(c); ok {
		j.How = append(j.How, fmt.Sprintf("They come up soonest with the compost at about %s (%s); then cooler, and all the light there is, or they draw.", d.temperature(warm.Soil), daysWords(warm.Days)))
	}
	j.How = append(j.How, wanted(all.Plants, list(outs)))
	j.Weather = "any: it is done under cover"
	n := float64(r.cells)
	if r.cells == 0 {
		n = float64(r.seeds) / 8 // sown by the pinch
	}
	j.Hours = effort(n, cellsAnHour)
	j.Why = []garden.Reason{{
		Says: fmt.Sprintf("Set out on %s, and plants want %s from seed.", p.Start.Short(), rangeWeeks(m.WeeksIndoors, weeksWords(int(p.Start-from)))), Rule: "weeks under cover", Source: sourceOf(c, "weeks_indoors"),
	}}
	j.Cautions = []string{"Dry potting soil is dusty and can carry moulds: wet it before handling, and wash hands."}
	return j
}

// wanted is how many plants are to go out, and when.
func wanted(n int, outs string) string {
	verb := "are"
	if n == 1 {
		verb = "is"
	}
	return fmt.Sprintf("%s %s wanted, to go out %s; the rest are spare for losses. Label them.", sentence(count(n, "good plant", "good plants")), verb, outs)
}

// hardenOff is the last days before setting out, for all that go out on one day.
func (d *desk) hardenOff(a patch) Job {
	p := a[0]
	t := d.days(p)
	n := int(t.start - t.harden)
	j := d.job(p, HardenOff, t.harden, t.start-1)
	j.Serves = a.keys()
	plants := map[string]int{}
	var crops, said []string
	for _, q := range a {
		if !slices.Contains(crops, q.CropID) {
			crops = append(crops, q.CropID)
		}
		plants[q.CropID] += q.Plants
	}
	for _, id := range crops {
		said = append(said, many(plants[id], d.crops[id]))
	}
	if len(a) > 1 {
		j.BedID = 0
	}
	j.Title = fmt.Sprintf("Harden off %s, to go out on %s", strings.Join(said, "; "), p.Start.Short())
	j.How = []string{
		"First two or three days: outdoors in shelter and half shade for a few hours, in again for the night.",
		"Then longer and sunnier each day, with less water; do not let them wilt.",
		fmt.Sprintf("Last two nights out, if no frost is forecast; after %s they are ready for the bed.", count(n, "day", "days")),
	}
	j.Weather = "mild and still to begin with; bring them in for wind and frost"
	j.Hours = quarter(float64(n) * hardenMinutes / 60)
	j.Why = []garden.Reason{{
		Says: fmt.Sprintf("They go out on %s; plants straight from shelter are scorched by sun and wind and checked by cold.", p.Start.Short()),
		Rule: "common practice", Source: sourceOf(d.crop(p), "hardening"),
	}}
	return j
}

// keys are the plantings' keys.
func (a patch) keys() []string {
	var keys []string
	for _, p := range a {
		keys = append(keys, p.Key)
	}
	return keys
}

// vessel is what a seedling grows in; those that hate their roots moved get pots.
func vessel(c *crop.Crop) string {
	if c.Group == crop.Cucurbit || c.Group == crop.Corn {
		return "pot"
	}
	return "cell"
}

// seedDepth is how deep seed is sown under cover.
func seedDepth(m crop.Method) quantity.Metre {
	if m.Depth <= 0 || m.Depth > deepestSeed {
		return usualSeed
	}
	return m.Depth
}

// quickest is the soil temperature at which the crop comes up soonest.
func quickest(c *crop.Crop) (crop.EmergencePoint, bool) {
	if len(c.Emergence.Points) == 0 {
		return crop.EmergencePoint{}, false
	}
	best := c.Emergence.Points[0]
	for _, p := range c.Emergence.Points[1:] {
		if p.Days < best.Days {
			best = p
		}
	}
	return best, true
}

func daysWords(v float64) string { return count(max(1, int(v+0.5)), "day", "days") }

// weeksWords is a number of days in weeks from a fortnight up.
func weeksWords(days int) string {
	if days >= 14 {
		return count((days+3)/7, "week", "weeks")
	}
	return count(days, "day", "days")
}

// rangeWeeks is "six to eight weeks".
func rangeWeeks(r crop.Range, otherwise string) string {
	if r.High <= 0 {
		return otherwise
	}
	low, high := int(r.Low+0.5), int(r.High+0.5)
	if low == high {
		return count(high, "week", "weeks")
	}
	return number(low) + " to " + count(high, "week", "weeks")
}

// sourceOf is the source key of the first figure whose field ends so.
func sourceOf(c *crop.Crop, field string) string {
	for _, f := range c.Figures {
		if strings.HasSuffix(f.Field, field) {
			return f.Source
		}
	}
	return ""
}
