package work

import (
	"fmt"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Weeks sown late that a raised plant can make good; common practice.
const raiseSlack = 7 // days

// raise is sowing under cover.
func (d *desk) raise(p *garden.Planting) Job {
	c, m, t := d.crop(p), d.method(p), d.days(p)
	r := raising(c, p)
	last := t.raise + raiseSlack
	if low := int(m.WeeksIndoors.Low * 7); low > 0 {
		last = min(last, max(t.raise, t.start.Add(-low)))
	}
	j := d.job(p, Raise, t.raise, max(t.raise, min(last, t.harden-2)))
	weeks := weeksWords(int(t.start - t.raise))
	if r.cells > 0 {
		j.Title = fmt.Sprintf("Sow %s under cover: %s for %s", comma(c.Name()), count(r.cells, vessel(c), vessel(c)+"s"), d.bedName(p))
		j.How = append(j.How, fmt.Sprintf("Fill %s with seed compost and water it first; put %s in each, %s deep: %s in all.",
			count(r.cells, vessel(c), vessel(c)+"s"), count(r.each, "seed", "seeds"), d.depth(seedDepth(m)), count(r.seeds, "seed", "seeds")))
		if r.each > 1 {
			j.How = append(j.How, "When both are up, nip off the weaker at the soil; do not pull.")
		}
	} else {
		j.Title = fmt.Sprintf("Sow %s under cover: about %d seedlings in trays for %s", comma(c.Name()), r.seedlings, d.bedName(p))
		j.How = append(j.How, fmt.Sprintf("Fill trays with seed compost and water it first; sow about %s seeds, %s apart, %s deep.", thousands(roundTo2(r.seeds)), d.depth(0.01), d.depth(seedDepth(m))))
	}
	if warm, ok := quickest(c); ok {
		j.How = append(j.How, fmt.Sprintf("They come up soonest with the compost at about %s (%s); then cooler, and all the light there is, or they draw.", d.temperature(warm.Soil), daysWords(warm.Days)))
	}
	j.How = append(j.How,
		fmt.Sprintf("%s good plants are wanted; the rest are spare for losses.", sentence(number(p.Plants))),
		fmt.Sprintf("Label with the crop and the day. They go out in %s, on %s.", weeks, p.Start.Short()))
	j.Weather = "any: it is done under cover"
	n := float64(r.cells)
	if r.cells == 0 {
		n = float64(r.seeds) / 8 // sown by the pinch
	}
	j.Hours = effort(n, cellsAnHour)
	j.Why = []garden.Reason{{
		Says: fmt.Sprintf("Set out on %s, and plants want %s from seed.", p.Start.Short(), rangeWeeks(m.WeeksIndoors, weeks)), Rule: "weeks under cover", Source: sourceOf(c, "weeks_indoors"),
	}}
	j.Cautions = []string{"Dry potting soil is dusty and can carry moulds: wet it before handling, and wash hands."}
	return j
}

// hardenOff is the last days before setting out.
func (d *desk) hardenOff(p *garden.Planting) Job {
	c, t := d.crop(p), d.days(p)
	n := int(t.start - t.harden)
	j := d.job(p, HardenOff, t.harden, t.start-1)
	j.Title = fmt.Sprintf("Harden off %s: %s for %s", c.Name(), count(p.Plants, "plant", "plants"), d.bedName(p))
	j.How = []string{
		"First two or three days: outdoors in shelter and half shade for a few hours, in again for the night.",
		"Then longer and sunnier each day, with less water; do not let them wilt.",
		fmt.Sprintf("Last two nights out, if no frost is forecast; after %s they are ready for the bed.", count(n, "day", "days")),
	}
	j.Weather = "mild and still to begin with; bring them in for wind and frost"
	j.Hours = quarter(float64(n) * hardenMinutes / 60)
	j.Why = []garden.Reason{{Says: fmt.Sprintf("They go out on %s; plants straight from shelter are scorched by sun and wind and checked by cold.", p.Start.Short()), Rule: "common practice", Source: sourceOf(c, "hardening")}}
	return j
}

// vessel is what a seedling grows in; those that hate their roots moved get pots.
func vessel(c *crop.Crop) string {
	if c.Group == crop.Cucurbit || c.Group == crop.Corn {
		return "pot"
	}
	return "cell"
}

// seedDepth is how deep seed is sown under cover; the method's depth is the seed's.
func seedDepth(m crop.Method) quantity.Metre {
	if m.Depth <= 0 {
		return 0.006
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

// weeksWords is a number of days as weeks where they come out even, else as days.
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
		if len(f.Field) >= len(field) && f.Field[len(f.Field)-len(field):] == field {
			return f.Source
		}
	}
	return ""
}
