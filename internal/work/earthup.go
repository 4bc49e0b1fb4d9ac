package work

import (
	"fmt"
	"slices"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// earthing is when and how far soil is drawn up to a crop's stems.
type earthing struct {
	wait    int            // days after coming up
	waitOut int            // days after setting out
	grown   float64        // and not before this share of the way from coming up, or out, to harvest
	times   int            // goes, three weeks apart
	height  quantity.Metre // drawn up in one go
	why     string
	mind    string
}

// earthingOf is common practice: potatoes when the tops are a hand high, about two weeks after coming
// up, and again three weeks later; leeks when pencil thick, about half grown, and again as they
// thicken; fennel when the bulb is as big as an egg; corn when knee high; brassicas when they have
// taken hold and begin to sway.
func earthingOf(c *crop.Crop) earthing {
	const steadies = "It holds the stems and drowns the weeds in the row."
	switch {
	case c.Kind == "potato":
		return earthing{
			wait: 14, waitOut: 35, times: 2, height: 0.10, why: "Tubers that see light turn green and are not fit to eat.",
		}
	case c.Kind == "leek":
		return earthing{
			wait: 42, waitOut: 42, grown: 0.5, times: 2, height: 0.05, why: "The buried part grows white and tender.",
			mind: "Only once they are pencil thick; keep soil out of the heart.",
		}
	case c.Kind == "fennel" || c.Kind == "celery":
		return earthing{
			wait: 35, waitOut: 35, grown: 0.7, times: 1, height: 0.05, why: "The buried part grows white and tender.", mind: "Keep soil out of the heart.",
		}
	case c.Group == crop.Brassica:
		return earthing{wait: 49, waitOut: 35, times: 1, height: 0.05, why: steadies}
	case c.Group == crop.Corn:
		return earthing{wait: 35, waitOut: 28, times: 1, height: 0.05, why: steadies}
	}
	return earthing{wait: 28, waitOut: 35, times: 1, height: 0.10, why: steadies}
}

// earthed says whether the crop is earthed up: its file says so, or has a sentence on it.
func earthed(c *crop.Crop) bool {
	return c.Practice.EarthUp || slices.ContainsFunc(c.Practice.Jobs, func(s string) bool {
		at, ok := stageOf(s)
		return ok && at == EarthUp
	})
}

// earthUp is drawing soil up to the stems, never before the row is thinned.
func (d *desk) earthUp(p *garden.Planting) []Job {
	c, t := d.crop(p), d.days(p)
	e := earthingOf(c)
	wait := e.wait
	if p.Way == crop.SetOut {
		wait = e.waitOut
	}
	wait = max(wait, int(e.grown*float64(t.first.P50-t.emerge.P50)))
	begin := t.emerge.P50.Add(wait)
	if d.thinned(p) {
		thinned := d.thin(p).Window.To
		begin = max(begin, thinned+1)
		if t.before(begin) <= thinned {
			return nil // it is harvested as soon as it is thinned
		}
	}
	var jobs []Job
	for i := range e.times {
		from := begin.Add(21 * i)
		if i > 0 && from >= t.first.P10-7 {
			break
		}
		from = t.before(from)
		j := d.job(p, EarthUp, from, max(from, t.before(from+10)))
		if i > 0 {
			j.Key += "-again"
		}
		j.Title = d.title("Earth up", p, count(max(1, p.Rows), "row", "rows"))
		j.How = []string{fmt.Sprintf("Hoe the weeds off, then draw soil up to the stems from both sides, about %s, leaving the tops out.", d.depth(e.height))}
		j.How = append(j.How, d.told(c, EarthUp)...)
		if e.mind != "" {
			j.How = append(j.How, e.mind)
		}
		if c.Kind == "potato" {
			j.How = unless(j.How, "frost threatens", "If frost is forecast on young tops, draw the soil right over them.")
			j.Cautions = []string{"Green or sprouted potatoes are poisonous: throw them out, peelings too."}
		}
		j.Weather = "crumbly soil, a day or two after rain"
		j.Hours = effort(float64(d.rowLength(p))*float64(max(1, p.Rows)), earthUpAnHour)
		j.Why = []garden.Reason{{Says: e.why, Rule: "common practice"}}
		jobs = append(jobs, j)
	}
	return jobs
}
