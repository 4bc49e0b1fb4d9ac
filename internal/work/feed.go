package work

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

var inWeeks = regexp.MustCompile(`(?i)\b(one|two|three|four|five|six|seven|eight|\d+)(?: (?:to|or) (?:one|two|three|four|five|six|seven|eight|\d+))? weeks? after (sett?ing out|setting|planting|thinning|sowing|coming up|emergence)`)

// feeding is one planting that may want feeding, from a day on.
type feeding struct {
	p    *garden.Planting
	span civil.Span
	by   *soil.Dressing // of the soil book; nil: the crop's own words, the general rule
	puts []Put
}

// feedings are the plantings' side-dressings, on the days the crops' words name where they name weeks
// after a stage; else when two fifths grown. Words that say "again" or "every" make one more,
// halfway from the first to harvest.
func (d *desk) feedings() []feeding {
	var out []feeding
	for i := range d.plantings {
		p := &d.plantings[i]
		words := d.crop(p).Practice.SideDress
		if g := d.ground[p.BedID]; g != nil && (g.Feeding != nil || g.Stopped != "") {
			out = append(out, d.prescribed(p, g)...)
			continue
		}
		if words == "" || p.Role == garden.Marker || d.standsYears(p) {
			continue
		}
		t := d.days(p)
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
		for _, day := range days {
			out = append(out, feeding{p: p, span: civil.Span{From: day, To: max(day, t.before(day+10))}})
		}
	}
	out = append(out, d.wholeBeds()...)
	slices.SortStableFunc(out, func(a, b feeding) int {
		return cmp.Or(cmp.Compare(a.span.From, b.span.From), cmp.Compare(a.p.Key, b.p.Key))
	})
	return out
}

// feeds gathers the feedings of a week, Monday to Sunday, into one job, on days that suit them all;
// one whose days do not meet the others' has a round of its own.
func (d *desk) feeds() []Job {
	type round struct {
		monday civil.Date
		span   civil.Span
		of     []feeding
	}
	var rounds []round
	for _, f := range d.feedings() {
		monday := f.span.From.Monday()
		at := slices.IndexFunc(rounds, func(r round) bool {
			same := func(o feeding) bool { return o.p == f.p || (o.by == nil) != (f.by == nil) }
			return r.monday == monday && r.span.Meets(f.span) && !slices.ContainsFunc(r.of, same)
		})
		if at < 0 {
			rounds = append(rounds, round{monday, f.span, []feeding{f}})
			continue
		}
		r := &rounds[at]
		r.span = civil.Span{From: max(r.span.From, f.span.From), To: min(r.span.To, f.span.To)}
		r.of = append(r.of, f)
	}
	var jobs []Job
	rank := map[string]int{}
	for _, r := range rounds {
		j := d.feedRound(r.of, r.span)
		j.Key = "feed/" + r.monday.String()
		if r.of[0].by != nil {
			j.Key = "feed-by-test/" + r.monday.String()
		}
		if rank[j.Key]++; rank[j.Key] > 1 {
			j.Key += fmt.Sprintf("-%d", rank[j.Key])
		}
		jobs = append(jobs, j)
	}
	return jobs
}

// feedRound is one look over what may want feeding.
func (d *desk) feedRound(of []feeding, span civil.Span) Job {
	if of[0].by != nil {
		return d.feedByBook(of, span)
	}
	j := d.job(of[0].p, Feed, span.From, span.To)
	j.Serves = nil
	var names, lines, told []string
	metres, clear, touching := 0.0, false, false
	for _, f := range of {
		c := d.crop(f.p)
		if name := c.Kind; !slices.Contains(names, name) {
			names = append(names, name)
		}
		if f.p.BedID != j.BedID {
			j.BedID = 0
		}
		if f.p.CropID != j.CropID {
			j.CropID = ""
		}
		j.Serves = append(j.Serves, f.p.Key)
		lines = append(lines, fmt.Sprintf("%s in %s (%s): %s.", sentence(comma(c.Name())), d.bedName(f.p), f.p.Key, d.inUnits(c.Practice.SideDress)))
		for _, s := range d.told(c, Feed) {
			told = unless(told, s, s)
		}
		metres += float64(d.rowLength(f.p)) * float64(max(1, f.p.Rows))
		says := fmt.Sprintf("%s: %s.", sentence(c.Name()), d.inUnits(c.Practice.SideDress))
		if !slices.ContainsFunc(j.Why, func(r garden.Reason) bool { return r.Says == says }) {
			j.Why = append(j.Why, garden.Reason{Says: says, Rule: "side-dressing", Source: sourceOf(c, "side_dress")})
		}
		clear, touching = clear || !soil.TouchesSoil(c), touching || soil.TouchesSoil(c)
	}
	slices.Sort(j.Serves)
	j.Title = fmt.Sprintf("Look over what may want feeding, week of %s: %s", span.From.Monday().Short(), list(names))
	j.How = append(lines,
		"Go by the soil test: where it finds enough nitrogen, and the leaves are a good green, leave it out.",
		fmt.Sprintf("Otherwise draw ripe compost %s deep, or a fertiliser at the rate on its label, along the row a hand's breadth from the stems; hoe it in and water.", d.depth(0.01)))
	j.How = append(j.How, told...)
	j.Weather = "moist soil, dry leaves"
	j.Hours = effort(metres, feedAnHour)
	rule := fmt.Sprintf("%d days must lie between it and harvest", soil.DaysTouching)
	switch {
	case !touching:
		rule = fmt.Sprintf("%d days must lie between it and harvest", soil.DaysClear)
	case clear:
		rule += fmt.Sprintf(", %d for what hangs clear of the soil", soil.DaysClear)
	}
	j.Cautions = []string{
		"Fertiliser on wet leaves or against stems burns them, and its dust burns eyes and skin: gloves, a still day, the label's rate at most.",
		fmt.Sprintf("No raw manure on a growing crop: %s.", rule),
	}
	return j
}

func (d *desk) manureRule(c *crop.Crop) string {
	return fmt.Sprintf("%d days must lie between it and harvest", soil.DaysBeforeHarvest(c))
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
