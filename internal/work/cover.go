package work

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

const (
	warmAhead  = 14  // d before a spring start that a cover lies on the bed to warm the soil; common practice
	flowerAt   = 0.6 // of the way from going in to the first harvest, a fruit crop flowers; as growth has it
	coverTable = "weather years, nights under the cover"
)

// cover are the jobs of a planting under a cover: put it on, air it, open it for the bees, take it off.
func (d *desk) cover(p *garden.Planting) []Job {
	c, _ := crop.FindProtection(p.Protection)
	if c == nil || p.Protection == "" {
		return nil
	}
	w := d.covering(p, c)
	jobs := []Job{d.putOn(p, c, w), d.air(p, c, w)}
	if j, ok := d.openForBees(p, c, w); ok {
		jobs = append(jobs, j)
	}
	if j, ok := d.takeOff(p, c, w); ok {
		jobs = append(jobs, j)
	}
	return jobs
}

// covered is when a planting's cover is on.
type covered struct {
	on, off garden.Spread
	comes   bool // it comes off before the harvest is over, in most years
	ahead   bool // it is on at the start: it lies on the bed some days before
}

// covering asks the growth table; without one the cover is on from the start to the last picking.
func (d *desk) covering(p *garden.Planting, c *crop.Protection) covered {
	start := garden.Spread{P10: p.Start, P50: p.Start, P90: p.Start}
	w := covered{on: start, ahead: true}
	t := d.tables[option{p.CropID, p.Method, p.Protection}]
	if t == nil || t.Climate == nil {
		return w
	}
	on, off, years, comes := t.Covering(p.Start)
	if years == 0 {
		return w
	}
	w.on, w.off, w.comes = on, off, 2*comes > years
	late := p.Start < d.from && t.CoverOff(p.Start, d.from) // chosen when it was in the ground already
	w.ahead = on.P50 <= p.Start+7 && !late
	return w
}

// ends is the last day on which there is something to do with the cover.
func (w covered) ends(t days) civil.Date {
	if w.comes {
		return w.off.P50
	}
	return t.last.P50
}

func (d *desk) putOn(p *garden.Planting, c *crop.Protection, w covered) Job {
	from, to := w.on.P10, w.on.P50
	if w.ahead {
		from, to = p.Start-warmAhead, p.Start
		if before := d.groundBefore(p); before != nil {
			from = max(from, min(before.Clear, to))
		}
		if p.Start >= d.from { // nothing is done before the day the plan was made on
			from = max(from, d.from)
		}
	}
	j := d.job(p, Protect, from, to)
	j.Key += "-cover-on"
	j.Title = d.title("Put "+c.Under()+" over", p, d.system.Area(p.Place.Area()))
	if c.Stays {
		j.Title = d.title("Shut the "+c.Name+" over", p, d.system.Area(p.Place.Area()))
	}
	if w.ahead {
		j.How = append(j.How, "Prepare the ground first, so that it can warm undisturbed.")
	}
	for _, s := range c.PutOn {
		j.How = append(j.How, d.inUnits(s))
	}
	j.Weather = "a still day"
	j.Hours = effort(float64(p.Place.Area()), fleeceAnHour)
	j.Cautions = c.Cautions
	j.Why = []garden.Reason{{
		Says: fmt.Sprintf("The plan counts on it: it is reckoned %s warmer by night and up to %s by day, a mean; on clear, still nights it may hold less.",
			d.system.TemperatureChange(c.Night), d.system.TemperatureChange(c.Day)),
		Rule: "cover", Source: coverSource(c),
	}}
	if !w.ahead {
		j.Conditions = []garden.Reason{{Says: fmt.Sprintf("The nights turn cold enough for it by %s in one year of ten, by %s in half, by %s in nine of ten.",
			w.on.P10.Short(), w.on.P50.Short(), w.on.P90.Short()), Rule: coverTable}}
	}
	return j
}

func coverSource(c *crop.Protection) string {
	for _, f := range c.Figures {
		if f.Field == "gain.night" {
			return f.Source
		}
	}
	return ""
}

// air is opening the cover on warm days, for as long as it is on.
func (d *desk) air(p *garden.Planting, c *crop.Protection, w covered) Job {
	t := d.days(p)
	from := max(p.Start, w.on.P50)
	j := d.job(p, Protect, from, max(from, w.ends(t)))
	j.Key += "-cover-air"
	limit := c.VentCool
	if class := d.crop(p).Hardiness.Class; class == "tender" || class == "very tender" {
		limit = c.VentWarm
	}
	j.Title = d.title("Air", p, "open "+c.Under()+" on warm days")
	j.How = []string{fmt.Sprintf("Open it when it is about %s under it, which on a sunny day is when it is about %s outside.",
		d.temperature(limit), d.temperature(limit-c.Day))}
	for _, s := range c.Vent {
		j.How = append(j.How, d.inUnits(s))
	}
	if coverIsCloth(c) {
		j.How = append(j.How, "Look under it for slugs and weeds once a week; rain comes through slowly.")
	} else {
		j.How = append(j.How, "Look under it for slugs and weeds once a week, and water: rain does not reach the plants.")
	}
	j.Weather = "sunny mornings"
	j.Why = []garden.Reason{{Says: "Heat under a shut cover spoils more plants than cold does.", Rule: "common practice"}}
	return j
}

// coverIsCloth says whether rain comes through the cover.
func coverIsCloth(c *crop.Protection) bool { return c.Under() == c.Name }

// pollinated says whether a crop's fruit sets only when insects reach its flowers; common practice.
func pollinated(c *crop.Crop) bool {
	return c.Group == crop.Cucurbit || c.Kind == "broad bean" || c.Kind == "strawberry"
}

// openForBees is opening the cover from the first flowers on, where it is still on then.
func (d *desk) openForBees(p *garden.Planting, c *crop.Protection, w covered) (Job, bool) {
	t := d.days(p)
	flowers := p.Start.Add(int(flowerAt * float64(t.first.P50-p.Start)))
	if !pollinated(d.crop(p)) || w.comes && w.off.P50 <= flowers {
		return Job{}, false
	}
	flowers = max(flowers, w.on.P50)
	j := d.job(p, Protect, flowers, max(flowers, w.ends(t)))
	j.Key += "-cover-bees"
	j.Title = d.title("Open "+c.Under()+" for the bees over", p, "from the first flowers on")
	j.How = []string{"Open it every dry morning while it flowers and shut it for the night; or take it off if the nights allow.",
		"Where no bees come, carry pollen from flower to flower with a soft brush in the morning."}
	j.Weather = "dry mornings"
	j.Why = []garden.Reason{{Says: "Its fruits set only when insects reach the flowers.", Rule: "pollination", Source: "CSU-FROST"}}
	return j, true
}

// takeOff is taking the cover off for good, or for the summer.
func (d *desk) takeOff(p *garden.Planting, c *crop.Protection, w covered) (Job, bool) {
	if !w.comes {
		return Job{}, false
	}
	j := d.job(p, Protect, w.off.P50, w.off.P90)
	j.Key += "-cover-off"
	j.Title = d.title("Take "+c.Under()+" off", p, "")
	again := "lay it again"
	if c.Stays {
		j.Title = d.title("Leave the "+c.Name+" open over", p, "")
		again = "shut it"
	}
	for _, s := range c.TakeOff {
		j.How = append(j.How, d.inUnits(s))
	}
	j.How = append(j.How, fmt.Sprintf("Go by the nights, not the date: a week of nights that keep to about %s; %s for a night of %s or less.",
		d.temperature(*c.Off), again, d.temperature(quantity.Celsius(growth.ColdNight))))
	j.Weather = "a dull, still day"
	if !c.Stays {
		j.Hours = effort(float64(p.Place.Area()), fleeceAnHour)
	}
	j.Cautions = c.Cautions
	j.Why = []garden.Reason{{Says: "Once the nights are warm it only shades and heats.", Rule: "common practice"}}
	j.Conditions = []garden.Reason{{Says: fmt.Sprintf("The nights are warm enough by %s in one year of ten, by %s in half, by %s in nine of ten.",
		w.off.P10.Short(), w.off.P50.Short(), w.off.P90.Short()), Rule: coverTable}}
	return j, true
}
