package work

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

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
	if c.Practice.EarthUp {
		jobs = append(jobs, d.earthUp(p)...)
	}
	if c.Practice.Support != "" {
		jobs = append(jobs, d.support(p))
	}
	if c.Practice.SideDress != "" {
		jobs = append(jobs, d.feed(p)...)
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
	if placed(c) {
		j.Title = d.title("Thin", p, "to the best in each place")
		j.How = []string{"Nip off all but the strongest seedling at each place; do not pull, the roots are tangled."}
	} else {
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

// earthUp is drawing soil up to the stems, twice: first when the tops are a hand high (two weeks
// after coming up, five after setting out), again three weeks later; common practice.
func (d *desk) earthUp(p *garden.Planting) []Job {
	c, t := d.crop(p), d.days(p)
	wait := 14
	if p.Way == crop.SetOut {
		wait = 35
	}
	var jobs []Job
	for i := range 2 {
		from := t.emerge.P50.Add(wait + 21*i)
		if i > 0 && from >= t.first.P10-7 {
			break
		}
		from = t.before(from)
		j := d.job(p, EarthUp, from, max(from, t.before(from+10)))
		if i > 0 {
			j.Key += "-again"
		}
		j.Title = d.title("Earth up", p, count(max(1, p.Rows), "row", "rows"))
		j.How = []string{fmt.Sprintf("Hoe the weeds off, then draw soil up to the stems from both sides, about %s, leaving the tops out.", d.depth(0.10))}
		j.How = append(j.How, d.told(c, EarthUp)...)
		why := "It holds the stems and drowns the weeds in the row."
		switch {
		case c.Harvest.Part == "tuber":
			why = "Tubers that see light turn green and poisonous."
			j.How = unless(j.How, "frost threatens", "If frost is forecast on young tops, draw the soil right over them.")
			j.Cautions = []string{"Green or sprouted potatoes are poisonous: throw them out, peelings too."}
		case c.Group == crop.Allium || c.Kind == "celery":
			why = "The buried part grows white and tender."
			j.How = append(j.How, "Keep soil out of the heart.")
		}
		j.Weather = "crumbly soil, a day or two after rain"
		j.Hours = effort(float64(d.rowLength(p))*float64(max(1, p.Rows)), earthUpAnHour)
		j.Why = []garden.Reason{{Says: why, Rule: "common practice"}}
		jobs = append(jobs, j)
	}
	return jobs
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
	height := max(c.Plant.Height, 0.6)
	j.Hours = effort(float64(length)*float64(max(1, p.Rows)), trellisAnHour)
	switch kind {
	case "stakes":
		j.How = []string{fmt.Sprintf("Drive a stake %s tall beside each plant, %s into the ground, on the windward side; %s in all.", d.length(height), d.depth(0.3), count(p.Plants, "stake", "stakes")),
			"Tie in a loose figure of eight every hand's breadth or two as it grows."}
		j.Hours = effort(float64(p.Plants), stakesAnHour)
	case "poles":
		j.How = []string{fmt.Sprintf("Set poles %s long, %s into the ground, tied in pairs or fours at the top.", d.length(height+0.3), d.depth(0.3)),
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

var inWeeks = regexp.MustCompile(`(?i)\b(one|two|three|four|five|six|seven|eight|\d+)(?: (?:to|or) (?:one|two|three|four|five|six|seven|eight|\d+))? weeks? after (sett?ing out|setting|planting|thinning|sowing|coming up|emergence)`)

// feed is side-dressing, on the days the crop's words name where they name weeks after a stage;
// else when it is two fifths grown. Words that say "again" or "every" make one more job, halfway
// from the first to harvest.
func (d *desk) feed(p *garden.Planting) []Job {
	c, t := d.crop(p), d.days(p)
	words := c.Practice.SideDress
	from := t.before(t.emerge.P50.Add(int(t.first.P50-t.emerge.P50) * 2 / 5))
	if day, ok := d.fedOn(p, t, words); ok {
		from = t.before(day)
	}
	days := []civil.Date{from}
	if strings.Contains(words, "again") || strings.Contains(words, "every") {
		if again := from + (t.first.P50-from)*3/5; again >= from+14 {
			days = append(days, again)
		}
	}
	var jobs []Job
	for i, day := range days {
		j := d.job(p, Feed, day, day+10)
		if i > 0 {
			j.Key += "-again"
		}
		j.Title = d.title("Feed", p, "only if it needs it")
		j.How = []string{
			sentence(d.inUnits(words)) + ".",
			"Go by the soil test: if it finds enough nitrogen, and the leaves are a good green, leave it out.",
			fmt.Sprintf("Otherwise draw ripe compost %s deep, or a fertiliser at the rate on its label, along the row a hand's breadth from the stems; hoe it in and water.", d.depth(0.01)),
		}
		j.How = append(j.How, d.told(c, Feed)...)
		j.Weather = "moist soil, dry leaves"
		j.Hours = effort(float64(d.rowLength(p))*float64(max(1, p.Rows)), feedAnHour)
		j.Why = []garden.Reason{{Says: fmt.Sprintf("%s: %s.", sentence(c.Name()), d.inUnits(words)), Rule: "side-dressing", Source: sourceOf(c, "side_dress")}}
		j.Cautions = []string{
			"Fertiliser on wet leaves or against stems burns them, and its dust burns eyes and skin: gloves, a still day, the label's rate at most.",
			fmt.Sprintf("No raw manure on a growing crop: %s.", d.manureRule(c)),
		}
		jobs = append(jobs, j)
	}
	return jobs
}

func (d *desk) manureRule(c *crop.Crop) string {
	days := manureTouching
	if clearOfSoil(c) {
		days = manureClear
	}
	return fmt.Sprintf("%d days must lie between it and harvest", days)
}

// fedOn reads "three weeks after setting out" and the like.
func (d *desk) fedOn(p *garden.Planting, t days, words string) (civil.Date, bool) {
	m := inWeeks.FindStringSubmatch(words)
	if m == nil {
		return 0, false
	}
	weeks, err := strconv.Atoi(m[1])
	if err != nil {
		for n, w := range smallNumbers {
			if strings.EqualFold(w, m[1]) {
				weeks = n
			}
		}
	}
	stage := t.start
	switch m[2] {
	case "thinning":
		if p.Way == crop.Sow {
			stage = t.emerge.P50.Add(min(21, max(7, int(t.first.P50-t.emerge.P50)/3)))
		}
	case "coming up", "emergence":
		stage = t.emerge.P50
	}
	return stage.Add(weeks * 7), true
}
