package work

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// Days against the season's last spring frost at which standing perennials are worked; common
// practice, from memory: growth stirs about a month before it, rhubarb and asparagus are first cut
// about a fortnight before it, herbs three weeks after it.
const (
	stirs     = -28
	firstCut  = -14
	herbsFrom = 21
)

// yearly are the jobs of a perennial that stands from years before: no growth table dates its year,
// so they hang on the last spring frost.
func (d *desk) yearly(p *garden.Planting) []Job {
	c := d.crop(p)
	f, ok := d.frostAt(0)
	if !ok {
		return nil
	}
	last := f.LaterThan(50)
	if last.None {
		return nil
	}
	shifted := func(days int) garden.Spread {
		s := garden.Spread{P10: last.Date, P50: last.Date, P90: last.Date}
		if ch := f.LaterThan(90); !ch.None {
			s.P10 = min(s.P50, ch.Date)
		}
		if ch := f.LaterThan(10); !ch.None {
			s.P90 = max(s.P50, ch.Date)
		}
		return garden.Spread{P10: s.P10.Add(days), P50: s.P50.Add(days), P90: s.P90.Add(days)}
	}
	jobs := []Job{d.wake(p, shifted(stirs))}
	days := firstCut
	switch {
	case c.Harvest.Part == "stalk" || c.Harvest.Part == "spear":
	case c.Harvest.Part == "leaf":
		days = herbsFrom
	default:
		return jobs // when fruit ripens hangs on more than the frost
	}
	if d.bears(p) {
		jobs = append(jobs, d.yearlyHarvest(p, shifted(days)))
	}
	return jobs
}

// bears says whether the perennial is old enough to be harvested.
func (d *desk) bears(p *garden.Planting) bool {
	return d.season.Year()-p.Start.Year()+1 >= d.crop(p).Harvest.FirstYear
}

// wake is weeding, feeding and mulching a perennial as it stirs.
func (d *desk) wake(p *garden.Planting, when garden.Spread) Job {
	c := d.crop(p)
	j := d.job(p, Feed, max(when.P50, d.season.Start), max(when.P50, d.season.Start)+21)
	j.Title = d.title("Clean and mulch", p, "as it starts into growth")
	j.How = []string{"Pull weeds with their roots before the shoots are through; clear last year's dead stalks."}
	g := d.ground[p.BedID]
	if j.Puts = onTop(d.fed[p.Key]); len(j.Puts) > 0 {
		how, says := d.putSteps(j.Puts)
		j.How, j.Cautions = append(j.How, how...), says
	} else if s := c.Practice.SideDress; s != "" && g == nil {
		j.How = append(j.How, "Feed: "+d.inUnits(s)+"; go by the soil test.")
	}
	if g == nil {
		j.How = append(j.How, fmt.Sprintf("Mulch with ripe compost %s deep, clear of the buds.", d.depth(mulchDepth)))
	} else {
		j.How = append(j.How, "Keep all of it off the buds; leave what is spread as a mulch.")
	}
	j.Weather = "a dry day, soil moist below"
	j.Hours = effort(float64(p.Place.Area()), clearAnHour)
	j.Why = []garden.Reason{{Says: fmt.Sprintf("It stirs about four weeks before the last frost, which comes after %s in half the years.", civil.Date(when.P50-stirs).Short()), Rule: "common practice"}}
	j.Conditions = []garden.Reason{spread("Stirs", when)}
	j.Cautions = append(j.Cautions, "No raw manure: "+d.manureRule(c)+".")
	return j
}

func (d *desk) yearlyHarvest(p *garden.Planting, when garden.Spread) Job {
	c := d.crop(p)
	from := max(when.P10, d.season.Start)
	j := d.job(p, Harvest, from, max(from, when.P50.Add(max(14, int(c.Harvest.Span.Mid())))))
	j.Title = d.title(verbOf(c, p), p, "from about "+when.P50.Short())
	j.How = []string{fmt.Sprintf("Begin to look on %s. Ready when %s.", from.Short(), ready(c))}
	j.How = append(j.How, d.told(c, Harvest)...)
	d.heldBack(&j, c)
	j.Weather = harvestWeather(c)
	j.Why = []garden.Reason{{Says: fmt.Sprintf("In its %s year; it is let alone till year %d.", ordinal(d.season.Year()-p.Start.Year()+1), max(1, c.Harvest.FirstYear)), Rule: "common practice", Source: sourceOf(c, "first_year")}}
	j.Conditions = []garden.Reason{spread("First harvest", when)}
	j.Cautions = append(j.Cautions, warned(c, Harvest)...)
	return j
}

// ordinal is "3rd".
func ordinal(n int) string {
	ending := "th"
	if n%100 < 11 || n%100 > 13 {
		switch n % 10 {
		case 1:
			ending = "st"
		case 2:
			ending = "nd"
		case 3:
			ending = "rd"
		}
	}
	return fmt.Sprintf("%d%s", n, ending)
}

// standsYears says whether it is a perennial from a season before.
func (d *desk) standsYears(p *garden.Planting) bool {
	c := d.crop(p)
	return c.Perennial && c.Group != crop.Cover && p.Start < d.season.Start
}
