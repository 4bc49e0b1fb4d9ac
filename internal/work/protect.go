package work

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// frostShare is the share of weather years with a harmful night after going in from which fleece is
// got ready; frostPercent is the chance at which it is put away.
const (
	frostShare   = 0.10
	frostPercent = 10
)

// protect are fleece against frost and net against caterpillars.
func (d *desk) protect(p *garden.Planting) []Job {
	var jobs []Job
	if p.Role == garden.Marker || d.crop(p).Perennial {
		return nil
	}
	if p.Protection != "" {
		jobs = append(jobs, d.cover(p)...)
	} else {
		if j, ok := d.fleece(p); ok {
			jobs = append(jobs, j)
		}
		if j, ok := d.autumnFleece(p); ok {
			jobs = append(jobs, j)
		}
	}
	if d.crop(p).Group == crop.Brassica && p.Role != garden.Fast {
		jobs = append(jobs, d.net(p))
	}
	return jobs
}

func (d *desk) frostAt(threshold quantity.Celsius) (weather.Frost, bool) {
	if d.frost == nil {
		return weather.Frost{}, false
	}
	f, ok := d.frosts[threshold]
	if !ok {
		f = d.frost(threshold)
		d.frosts[threshold] = f
	}
	return f, f.Years > 0
}

// harm is the coldest night the young planting should meet.
func (d *desk) harm(p *garden.Planting) quantity.Celsius {
	m := d.method(p)
	harm := d.crop(p).Hardiness.Seedling
	if m.AirAtLeast != nil && *m.AirAtLeast > harm && p.Way == crop.SetOut {
		harm = *m.AirAtLeast
	}
	return harm
}

// fleece is got ready where a night as cold as the young plants bear still comes after they are up
// or out in more than frostShare of the weather years, in spring.
func (d *desk) fleece(p *garden.Planting) (Job, bool) {
	t := d.days(p)
	f, ok := d.frostAt(d.harm(p))
	if !ok {
		return Job{}, false
	}
	from := t.start
	if p.Way != crop.SetOut {
		from = t.emerge.P10
	}
	later, last := 0, from
	for _, day := range f.Spring {
		if day > from {
			later++
			last = max(last, day)
		}
	}
	if float64(later) <= frostShare*float64(f.Years) {
		return Job{}, false
	}
	to := last
	if ch := f.LaterThan(frostPercent); !ch.None && ch.Date > from {
		to = ch.Date
	}
	to = min(to, from+42, t.first.P90) // six weeks on they are established
	j := d.job(p, Protect, from, to)
	j.Key += "-frost"
	j.Title = d.title("Have fleece ready for", p, "cold nights till "+to.Short())
	j.How = []string{
		fmt.Sprintf("Lay fleece loosely over the young plants, or over hoops, when a night of %s or less is forecast; weigh the edges down.", d.temperature(f.Threshold)),
		"Take it off in the day once it is warm. It gives two or three degrees, no more.",
	}
	j.Weather = "clear, still evenings after a cold day"
	j.Hours = effort(float64(p.Place.Area()), fleeceAnHour)
	j.Why = []garden.Reason{{
		Says: fmt.Sprintf("A night of %s or less still comes after %s in %d of %d weather years; young plants suffer at that.", d.temperature(f.Threshold), from.Short(), later, f.Years),
		Rule: "frost chance, weather years",
	}}
	return j, true
}

// autumnFleece lengthens the picking of tender crops that frost ends.
func (d *desk) autumnFleece(p *garden.Planting) (Job, bool) {
	c, t := d.crop(p), d.days(p)
	if c.Harvest.Manner != crop.Repeated || c.Hardiness.Established < -1.5 {
		return Job{}, false
	}
	f, ok := d.frostAt(c.Hardiness.Established)
	if !ok || f.AutumnNone*2 > f.Years {
		return Job{}, false
	}
	ch := f.EarlierThan(frostPercent)
	if ch.None || ch.Date <= t.first.P50+7 || ch.Date > t.last.P90 {
		return Job{}, false
	}
	j := d.job(p, Protect, ch.Date, max(ch.Date, min(t.last.P90, t.clear-1)))
	j.Key += "-autumn"
	j.Title = d.title("Watch for the first frost on", p, "cover it or pick it clean")
	j.How = []string{
		fmt.Sprintf("When %s or less is forecast, cover for the night; or pick everything worth having the day before.", d.temperature(f.Threshold)),
		"One cold night is often followed by a fortnight of mild ones.",
	}
	j.Weather = "clear, still evenings"
	j.Why = []garden.Reason{{Says: fmt.Sprintf("In one year of ten the first such night comes before %s.", ch.Date.Short()), Rule: "frost chance, weather years"}}
	return j, true
}

// net keeps butterflies off brassicas from going in till harvest; common practice.
func (d *desk) net(p *garden.Planting) Job {
	t := d.days(p)
	from := t.start
	if p.Way == crop.Sow {
		from = t.before(t.emerge.P50)
	}
	var to civil.Date = max(from, min(from+14, t.first.P10-1))
	j := d.job(p, Protect, from, to)
	j.Key += "-net"
	j.Title = d.title("Net", p, "against butterflies and pigeons")
	j.How = []string{
		"Stretch fine insect net over hoops, clear of the leaves, and bury or weigh down every edge the day they go in.",
		"Lift it to weed; look under the leaves for eggs and rub them off. Leave it on till harvest.",
	}
	j.Weather = "a still day"
	j.Hours = effort(float64(p.Place.Area()), fleeceAnHour)
	j.Why = []garden.Reason{{Says: "Caterpillars strip brassicas; a net put on at once needs no spray.", Rule: "common practice"}}
	return j
}
