package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/work"
)

// cropsPage is the catalogue.
type cropsPage struct {
	frame
	Groups []cropGroup
	Own    []cropLine // the person's own
	Count  int
}

type cropGroup struct {
	Title string
	Crops []cropLine
}

type cropLine struct {
	ID, Name, Botanical string
	Mark                template.HTML
	Planned             int
}

// cropPage is one crop at this site.
type cropPage struct {
	frame
	Name, Botanical, Family, Group string
	Mark                           template.HTML
	Aliases                        string
	Share                          string // asked of a window
	Years                          int
	Methods                        []methodView
	Covers                         []coverView // windows under each cover, against the open
	Facts                          []fact
	Practice                       []string
	Cautions                       []string
	Plantings                      []plantingLine
	Figures                        []figureRow
	NoSeason                       string
	Own                            cropOwn
	WorkBack                       string // address of the page that works back from a day
}

type methodView struct {
	Title   string
	Usual   bool
	Windows []windowView
	None    string // why there is no window
	Picture template.HTML
	Facts   []fact
}

type windowView struct {
	Span, Best, Days string
	Success          string
	Opens, Closes    string
	Source1, Source2 string
}

type fact struct{ Name, Value string }

type figureRow struct{ Field, Text, Source, Quality, Note string }

func (s *site) crops(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	p := cropsPage{frame: s.gardenFrame("Crops", r, g)}
	planned := map[string]int{}
	if now, err := s.Season(r.Context()); err == nil {
		p.frame = s.seasonFrame("Crops", r, now)
		for _, q := range allPlantings(now) {
			planned[q.CropID]++
		}
	}
	crops := s.cropsOf(g)
	lineOf := func(c *crop.Crop, id string) cropLine {
		return cropLine{c.ID, upper(c.Name()), c.Botanical, plantMark(id+c.ID, c.Family, c.Group), planned[c.ID]}
	}
	for _, c := range crops.All() {
		if c.Own {
			p.Own = append(p.Own, lineOf(c, "own-"))
		}
	}
	for _, group := range groups {
		cg := cropGroup{Title: group.title}
		for _, c := range crops.All() {
			if c.Group == group.group {
				cg.Crops = append(cg.Crops, lineOf(c, "crop-"))
				p.Count++
			}
		}
		if len(cg.Crops) > 0 {
			p.Groups = append(p.Groups, cg)
		}
	}
	return s.render(w, http.StatusOK, "crops", p)
}

func (s *site) crop(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	crops := s.cropsOf(g)
	c, ok := crops.Find(r.PathValue("id"))
	if !ok {
		return missing("crop of that name in the catalogue")
	}
	u := g.Site.Units
	p := cropPage{
		frame: s.gardenFrame(upper(c.Name()), r, g), Name: upper(c.Name()), Botanical: c.Botanical, Family: c.Family, Group: groupTitle(c.Group),
		Mark: plantMark("plant", c.Family, c.Group), Aliases: strings.Join(c.Aliases, ", "), Facts: cropFacts(u, c),
		Practice: work.PracticeWords(c, u), Cautions: c.Practice.Cautions,
	}
	for _, f := range c.Figures {
		p.Figures = append(p.Figures, figureRowOf(f, u))
	}
	p.Own = s.cropOwn(crops, c, u)
	now, err := s.Season(r.Context())
	if err != nil {
		p.NoSeason = "Windows at this site appear here once the garden has a weather record: " + err.Error()
		if noPlan(err) {
			p.NoSeason = "Windows at this site appear here once the season has a plan."
		}
		return s.render(w, http.StatusOK, "crop", p)
	}
	p.frame = s.seasonFrame(p.Name, r, now)
	p.WorkBack = "/ready?crop=" + c.ID
	share := windowShare(now)
	p.Share, p.Years = fmt.Sprintf("%.0f %%", 100*share), len(now.Years)
	for m := range c.Methods {
		v, err := s.method(now, c, m, share)
		if err != nil {
			return err
		}
		p.Methods = append(p.Methods, v)
	}
	p.Covers = s.covers(now, c, share)
	for _, q := range allPlantings(now) {
		if q.CropID == c.ID {
			p.Plantings = append(p.Plantings, line(now, q, stage(q, s.Today())))
		}
	}
	return s.render(w, http.StatusOK, "crop", p)
}

func groupTitle(g crop.Group) string {
	for _, k := range groups {
		if k.group == g {
			return k.title
		}
	}
	return string(g)
}

// windowShare is the share of weather years a window asks for: the planner's.
func windowShare(now *season.Result) float64 {
	if now.Plan != nil && now.Plan.Settings.Share > 0 {
		return now.Plan.Settings.Share
	}
	return .8
}

func methodTitle(w crop.Way) string {
	switch w {
	case crop.SetOut:
		return "Raised under cover and set out"
	case crop.Set:
		return "Sets, tubers, cloves or crowns planted"
	}
	return "Sown where it grows"
}

func (s *site) method(now *season.Result, c *crop.Crop, m int, share float64) (methodView, error) {
	type made struct {
		v   methodView
		err error
	}
	out := remember(s, now, fmt.Sprintf("method %s %d %v", c.ID, m, s.Today()), func() made {
		v := methodView{Title: methodTitle(c.Methods[m].Way), Usual: m == 0 && len(c.Methods) > 1, Facts: methodFacts(now.Garden.Site.Units, c.Methods[m])}
		table := now.Table(c.ID, m)
		if table == nil {
			v.None = "No growth table could be made for this method."
			return made{v: v}
		}
		windows := table.Windows(share)
		for _, win := range windows {
			sum := table.Summary(win.Best)
			opens, closes := win.Opens.Reason(now.Garden.Site.Units), win.Closes.Reason(now.Garden.Site.Units)
			span := win.Span.String()
			if win.From == win.To {
				span = win.From.Short()
			}
			v.Windows = append(v.Windows, windowView{
				Span: span, Best: win.Best.Short(), Success: fmt.Sprintf("%d of %d years", sum.Success, sum.Years),
				Days:  fmt.Sprintf("%d (%d – %d)", win.Days[1], win.Days[0], win.Days[2]),
				Opens: opens.Says, Closes: closes.Says, Source1: opens.Source, Source2: closes.Source,
			})
		}
		if len(windows) == 0 {
			v.None = noWindow(now, table, share)
		}
		pic, err := chanceChart(now, c, m, table, windows, share, s.Today())
		v.Picture = pic
		return made{v, err}
	})
	return out.v, out.err
}

// noWindow says what the best day comes to, what most often goes wrong and what would help.
func noWindow(now *season.Result, t *growth.Table, share float64) string {
	return fmt.Sprintf("No day of the season succeeds in %.0f %% of the weather years. %s", 100*share, t.Lack().Says(now.Garden.Site.Units))
}

// chanceChart is the share of weather years in which each start day succeeds.
func chanceChart(now *season.Result, c *crop.Crop, m int, t *growth.Table, windows []growth.Window, share float64, today civil.Date) (template.HTML, error) {
	ch := chart{id: fmt.Sprintf("chance-%d", m), span: now.Season.Span(), high: 100, step: 20, tick: percentTick, today: today}
	ch.desc = "Across: the day it goes in. Up: the share of weather years in which it comes to harvest. Shaded: the windows."
	best := growth.Summary{Success: -1}
	values := make([]float64, now.Season.Days)
	for i := range values {
		sum := t.Summary(now.Season.Start.Add(i))
		if sum.Years > 0 {
			values[i] = 100 * float64(sum.Success) / float64(sum.Years)
		}
		if sum.Success > best.Success {
			best = sum
		}
	}
	way := put(c.Methods[m].Way)
	ch.title = fmt.Sprintf("%s %s: no day reaches %.0f %% of the years", upper(c.Kind), way, 100*share)
	if len(windows) > 0 {
		var spans []string
		for _, w := range windows {
			ch.shaded = append(ch.shaded, w.Span)
			spans = append(spans, w.Span.String())
		}
		ch.title = fmt.Sprintf("%s %s succeeds in at least %.0f %% of the years on %s", upper(c.Kind), way, 100*share, joinWords(spans))
	}
	ch.begin()
	ch.add(drawing.Line{X1: chartLeft, Y1: ch.y(100 * share), X2: chartWidth - chartRight, Y2: ch.y(100 * share), Style: drawing.Style{Stroke: faintInk, StrokeWidth: 1, Dash: []float64{4, 4}}})
	ch.band(ch.span.From, make([]float64, len(values)), values, wash(c.Family), .35)
	ch.curve(ch.span.From, values, mix(wash(c.Family), "#000000", .7), 1.8)
	return svg(&ch.scene)
}

func rangeText(r crop.Range, unit string) string {
	if r.Low == r.High {
		return fmt.Sprintf("%g %s", r.Low, unit)
	}
	return fmt.Sprintf("%g – %g %s", r.Low, r.High, unit)
}

func methodFacts(u quantity.System, m crop.Method) []fact {
	from := map[crop.Way]string{crop.Sow: "sowing", crop.SetOut: "setting out", crop.Set: "planting"}[m.Way]
	f := []fact{{"Days from " + from, rangeText(m.Days, "days") + " at a steady " + u.Temperature(m.Reference)}}
	if m.Way == crop.SetOut {
		f = append(f, fact{"Under cover", rangeText(m.WeeksIndoors, "weeks")})
		if m.Hardening > 0 {
			f = append(f, fact{"Hardening off", plural(m.Hardening, "day", "days")})
		}
	}
	if m.Depth > 0 {
		f = append(f, fact{"Depth", u.Depth(m.Depth)})
	}
	f = append(f, fact{"Soil at least", u.Temperature(m.SoilAtLeast)})
	if m.AirAtLeast != nil {
		f = append(f, fact{"Nights at least", u.Temperature(*m.AirAtLeast)})
	}
	return f
}

func cropFacts(u quantity.System, c *crop.Crop) []fact {
	f := []fact{
		{"Spacing", fmt.Sprintf("%s in the row, %s between rows", u.Distance(c.Spacing.InRow), u.Distance(c.Spacing.BetweenRows))},
		{"Grown plant", fmt.Sprintf("%s across, %s high", u.Distance(c.Plant.Spread), u.Distance(c.Plant.Height))},
		{"Hardiness", fmt.Sprintf("%s; well grown it dies at %s", c.Hardiness.Class, u.Temperature(c.Hardiness.Established))},
		{"Sun", fmt.Sprintf("%s for a full crop, at least %s", u.Hours(c.Light.Needs), u.Hours(c.Light.Least))},
		{"Harvest", fmt.Sprintf("%s, over %s", c.Harvest.Manner, rangeText(c.Harvest.Span, "days"))},
		{"Yield", u.Rate(c.Harvest.Yield)},
		{"Soil reaction", fmt.Sprintf("pH %g – %g", c.PH.Low, c.PH.High)},
		{"Family rests", plural(c.Rotation, "year", "years")},
	}
	if c.Harvest.StoreDays > 0 {
		f = append(f, fact{"Keeps", plural(c.Harvest.StoreDays, "day", "days") + " after harvest"})
	}
	if c.Seed.PerGram > 0 {
		f = append(f, fact{"Seed", fmt.Sprintf("%.0f in %s, keeps %g years, %.0f %% come up", c.Seed.PerGram*seedUnit(u), seedUnitWord(u), c.Seed.Keeps, 100*c.Seed.Germination)})
	}
	return f
}

func seedUnit(u quantity.System) float64 {
	if u == quantity.US {
		return quantity.GramsPerOunce
	}
	return 1
}

func seedUnitWord(u quantity.System) string {
	if u == quantity.US {
		return "an ounce"
	}
	return "a gram"
}
