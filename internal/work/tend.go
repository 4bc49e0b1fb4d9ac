package work

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// tend are the jobs between going in and harvest.
func (d *desk) tend(p *garden.Planting) []Job {
	c := d.crop(p)
	var jobs []Job
	if p.Role == garden.Marker {
		return nil
	}
	if d.thinned(p) {
		jobs = append(jobs, d.thin(p))
	}
	if c.Practice.Sowing == trenched && p.Way == crop.Sow {
		jobs = append(jobs, d.fillIn(p))
	}
	if earthed(c) {
		jobs = append(jobs, d.earthUp(p)...)
	}
	if c.Practice.Support != "" {
		jobs = append(jobs, d.support(p))
	}
	return jobs
}

// thinned says whether more seed goes in than plants can stand.
func (d *desk) thinned(p *garden.Planting) bool {
	c := d.crop(p)
	return p.Way == crop.Sow && p.Role != garden.Marker && c.Practice.Thin && (!placed(c) || drill(c, p, d.rowLength(p)).station > 1)
}

// before keeps a day after the crop is in and before the first harvest.
func (t days) before(day civil.Date) civil.Date {
	return max(t.start+1, min(day, t.first.P10-1))
}

// thin is pulling seedlings to the final distance: a third of the way from coming up to harvest, at
// least a week and at most three after coming up; common practice (two true leaves).
func (d *desk) thin(p *garden.Planting) Job {
	c, t := d.crop(p), d.days(p)
	wait := min(21, max(7, int(t.first.P50-t.emerge.P50)/3))
	from := t.before(t.emerge.P50.Add(wait))
	late := int(t.emerge.P90 - t.emerge.P50)
	j := d.job(p, Thin, from, max(from, t.before(from.Add(10+late))))
	j.Title = d.title("Thin", p, "to "+d.distance(c.Spacing.InRow))
	switch {
	case placed(c):
		j.Title = d.title("Thin", p, bestOf(c, p.Plants))
		j.How = []string{"Nip off the weaker seedlings when two true leaves are out, leaving " + leaving(c, p.Plants) + "; do not pull, the roots are tangled."}
	case p.Plants == 1:
		j.Title = d.title("Thin", p, "to the best plant")
		j.How = []string{"When two or three true leaves are out, draw all but the best plant."}
	default:
		j.How = []string{
			fmt.Sprintf("When two or three true leaves are out, draw seedlings till those left stand %s apart.", d.distance(c.Spacing.InRow)),
			"Hold the soil down with the other hand, water afterwards and firm the loosened row.",
		}
		if c.Kind == "carrot" {
			j.How = append(j.How, "Take the thinnings away: their smell draws the carrot fly. A still evening is best.")
		}
	}
	j.How = append(j.How, d.told(c, Thin)...)
	for _, o := range d.shares(p) {
		if o.Role == garden.Marker {
			j.How = append(j.How, fmt.Sprintf("Pull the %s as you go, as they are ready.", plural(d.crop(o))))
		}
	}
	j.Weather = "moist soil, after rain or watering"
	j.Hours = effort(float64(d.rowLength(p))*float64(max(1, p.Rows)), thinAnHour)
	if placed(c) {
		j.Hours = effort(float64(p.Plants), setsAnHour)
	}
	j.Cautions = warned(c, Thin)
	j.Why = []garden.Reason{{Says: "More seed is sown than plants can stand; crowded ones never fill.", Rule: "common practice"}}
	j.Conditions = d.emergeSpread(p)
	return j
}

// fillIn is drawing the soil back into a trench as the plants grow: from when they stand a hand
// above its floor, about ten days after coming up, in two or three goes; common practice.
func (d *desk) fillIn(p *garden.Planting) Job {
	t := d.days(p)
	from := t.before(t.emerge.P50 + 10)
	j := d.job(p, FillIn, from, max(from, t.before(from+21)))
	j.Title = d.title("Fill in the trench of", p, "")
	j.How = []string{
		fmt.Sprintf("Draw in about %s of the soil left along the edge, to the stems but not over the growing tips.", d.depth(trenchCover)),
		"Again each week as they grow, till the ground is level.",
	}
	j.Weather = "crumbly soil, not wet"
	j.Hours = effort(float64(d.rowLength(p))*float64(max(1, p.Rows)), fillInAnHour)
	j.Why = []garden.Reason{{Says: "The stem roots into the filled soil, and the roots lie deep and cool.", Rule: "common practice"}}
	j.Conditions = d.emergeSpread(p)
	return j
}

// support is putting up stakes, poles, brush, wires or a trellis: before or as the crop goes in, so
// that no root is speared; brush when the plants are a hand high. Common practice.
func (d *desk) support(p *garden.Planting) Job {
	c, t := d.crop(p), d.days(p)
	kind := c.Practice.Support
	from, to := t.start-1, t.start
	if before := d.groundBefore(p); before != nil {
		from = max(from, min(before.Clear, t.start))
	}
	switch {
	case kind == "cage":
		from, to = t.start, t.start+10
	case kind == "brush" && p.Way == crop.Sow:
		from = t.before(t.emerge.P50 + 7)
		to = t.before(from + 10)
	}
	j := d.job(p, Support, from, to)
	j.Title = d.title("Put up "+kind+" for", p, "")
	length := d.rowLength(p)
	height := d.supportHeight(c)
	j.Hours = effort(float64(length)*float64(max(1, p.Rows)), trellisAnHour)
	switch kind {
	case "stakes":
		j.How = []string{fmt.Sprintf("Drive a stake %s tall beside each plant, %s into the ground, on the windward side; %s in all.", d.length(height), d.depth(0.3), count(p.Plants, "stake", "stakes")),
			"Tie in a loose figure of eight every hand's breadth or two as it grows."}
		j.Hours = effort(float64(p.Plants), stakesAnHour)
	case "poles":
		j.How = []string{fmt.Sprintf("Set %s %s long, %s into the ground, tied in pairs or fours at the top.", count(d.poles(p), "pole", "poles"), d.length(height+poleInGround), d.depth(poleInGround)),
			"Let the vines find them; turn a lost one round its pole by hand."}
	case "brush":
		j.How = []string{fmt.Sprintf("Push twiggy sticks about %s tall along both sides of the row, close enough for tendrils to reach.", d.length(height))}
	case "cage":
		j.How = []string{fmt.Sprintf("Set a cage about %s tall over each plant and peg it down; %s in all.", d.length(height), count(p.Plants, "cage", "cages"))}
		j.Hours = effort(float64(p.Plants), stakesAnHour)
	case "wires":
		j.How = []string{fmt.Sprintf("A firm post at each end, wires between, the top one at %s.", d.length(height))}
	default:
		j.How = []string{fmt.Sprintf("Stretch netting or twine %s high along each row of %s, well anchored: a full crop in wind pulls hard.", d.length(height), d.length(length))}
	}
	j.How = append(j.How, d.told(c, Support)...)
	j.Weather = "a still day; soil soft enough to take a post"
	j.Why = []garden.Reason{{Says: "Put up now, it spears no roots.", Rule: "common practice"}}
	j.Cautions = warned(c, Support)
	if !mentions(j.Cautions, "eye height") {
		j.Cautions = append(j.Cautions, "Cap the tops of stakes and canes at eye height.")
	}
	if height > 1.5 && !mentions(j.Cautions, "ladder") {
		j.Cautions = append(j.Cautions, "If you need a step or a ladder: on firm level ground, someone holding it, never leaning out.")
	}
	return j
}
