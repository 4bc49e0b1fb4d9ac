package web

import (
	"fmt"
	"net/http"
	"strconv"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/water"
)

// waterPage is the beds' water: the day, the week, the season and the supply.
type waterPage struct {
	frame
	Day    waterDay
	Week   string // "the week from 12 Jun"; empty outside the season
	Beds   []bedWaterLine
	Needs  figure
	Tank   *figure
	Table  []waterWeekLine
	HasTap bool // a tank under a roof is told, so the table has its column
	Says   []string
	Excess string
	Basis  []string
	Care   []string
}

// waterDay is what wants water today, and the form to tell what fell or was given.
type waterDay struct {
	Due    []thirstLine
	Others []thirstLine
	More   int // beds that want water and are not listed
	Untold string
	Notes  []string
	Form   form
}

type thirstLine struct{ Bed, Href, Says string }

type bedWaterLine struct {
	Bed, Href, Facts, Way string
	Parts                 []water.PartTold
	In                    string
	Empty                 bool // nothing grows here in the week
	None                  bool // something grows here in the week, and wants no water
	Season, DrySeason     string
}

type waterWeekLine struct {
	From, Typical, Dry, Tank, Lacks string
	Now                             bool
}

// waterRoutes are the addresses about water.
func (s *site) waterRoutes() map[string]action {
	return map[string]action{
		"GET /water":           s.waterShow,
		"POST /water/log":      s.waterLog,
		"GET /water/facts":     s.waterFacts,
		"POST /water/facts":    s.waterFactsSave,
		"GET /water/bed/{id}":  s.bedWater,
		"POST /water/bed/{id}": s.bedWaterSave,
	}
}

// waterNow is the season's water on the day, with what the journal has.
func (s *site) waterNow(r *http.Request, now *season.Result) (*season.Water, error) {
	today := s.Today()
	journal, err := s.Store.Journal(r.Context(), civil.Span{From: today - 366, To: today})
	if err != nil {
		return nil, err
	}
	return now.Water(today, journal)
}

func (s *site) waterShow(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	v, err := s.waterNow(r, now)
	if err != nil {
		return err
	}
	p := waterPage{frame: s.seasonFrame("Water", r, now), Day: s.waterDay(v, now.Garden), Says: v.Says, Excess: v.Exceeds, Basis: v.Basis, Care: v.Care}
	u := now.Garden.Site.Units
	for _, b := range v.Beds {
		line := bedWaterLine{Bed: b.Bed.Name, Href: fmt.Sprintf("/bed/%d", b.Bed.ID), Facts: fmt.Sprintf("/water/bed/%d", b.Bed.ID), Way: wateredWords(b.Way)}
		if len(b.Need.Weeks) > 0 {
			line.Season, line.DrySeason = water.Rough(b.Need.Typical, u), water.Rough(b.Need.Dry, u)
		}
		if week, ok := b.Week(v.Day); ok {
			p.Week = "the week from " + week.From.Short()
			line.Empty = week.Area <= 0
			line.Parts, line.In = water.TellParts(week, b.Way, v.Site.Supply, u), water.TellIn(week, u)
			line.None = len(line.Parts) == 0 && !line.Empty
		} else {
			line.Empty = len(b.Need.Weeks) == 0
		}
		p.Beds = append(p.Beds, line)
	}
	if p.Needs, err = needsPicture(v, s.Today()); err != nil {
		return err
	}
	if len(v.Store.Weeks) > 0 {
		tank, err := tankPicture(v, s.Today())
		if err != nil {
			return err
		}
		p.Tank, p.HasTap = &tank, true
	}
	for i, week := range v.Needs.Weeks {
		if week.Dry < 0.5 {
			continue
		}
		line := waterWeekLine{From: week.From.Short(), Typical: water.Rough(week.Typical, u), Dry: water.Rough(week.Dry, u), Now: v.Day >= week.From && v.Day < week.From+7}
		if i < len(v.Store.Weeks) {
			line.Tank = fmt.Sprintf("%.0f %%", 100*v.Store.Weeks[i].Chance)
			line.Lacks = water.Rough(v.Store.Weeks[i].DryShort, u)
		}
		p.Table = append(p.Table, line)
	}
	return s.render(w, http.StatusOK, "water", p)
}

// waterDay is the day's part, for the pages of water and of the day.
func (s *site) waterDay(v *season.Water, g garden.Garden) waterDay {
	d := waterDay{Untold: v.Untold, Notes: v.Today.Notes, Form: form{Action: "/water/log", Submit: "Write it down", Fields: s.waterLogFields(g)}}
	for _, b := range v.Beds {
		if b.Says == "" {
			continue
		}
		line := thirstLine{b.Bed.Name, fmt.Sprintf("/bed/%d", b.Bed.ID), b.Says}
		if b.Now {
			d.Due = append(d.Due, line)
		} else {
			d.Others = append(d.Others, line)
		}
	}
	return d
}

// bedWaterWords is a bed's water in a line or two for its own page.
func bedWaterWords(v *season.Water, id int64) []string {
	b, ok := v.Bed(id)
	if !ok || len(b.Need.Weeks) == 0 {
		return nil
	}
	u := v.Site.Units
	says := []string{fmt.Sprintf("%s over the season in a typical year, %s in a dry one of ten; %s.", water.Rough(b.Need.Typical, u), water.Rough(b.Need.Dry, u), wateredWords(b.Way))}
	if week, ok := b.Week(v.Day); ok && week.Area > 0 {
		parts := water.TellParts(week, b.Way, v.Site.Supply, u)
		for _, p := range parts {
			says = append(says, "This week: "+p.Says()+".")
		}
		if len(parts) == 0 {
			says = append(says, "This week: no watering, with the usual rain.")
		}
		if in := water.TellIn(week, u); in != "" {
			says = append(says, "Besides, "+in+".")
		}
	}
	if b.Says != "" {
		says = append(says, "Today: "+b.Says)
	}
	return says
}

// wateredWords is how a bed is watered.
func wateredWords(w garden.Watering) string {
	says := map[garden.WateringWay]string{garden.ByCan: "watered with a can", garden.ByHose: "watered with a hose", garden.ByDrip: "drip lines", garden.BySprinkler: "a sprinkler", garden.Unwatered: "not watered"}[w.By]
	switch w.Mulch {
	case garden.OrganicMulch:
		says += ", under straw or leaves"
	case garden.FilmMulch:
		says += ", under film"
	}
	return says
}

const (
	waterInk, thirstInk = "#2b7c8c", "#d98324"
)

// needsPicture is what all beds want, week by week.
func needsPicture(v *season.Water, today civil.Date) (figure, error) {
	u, title := v.Site.Units, "Nothing needs watering in nine years of ten"
	high := 1.0
	if v.Needs.Peak > 0 {
		title = fmt.Sprintf("All beds want most in the week from %s: %s in a dry year", v.Needs.PeakWeek.Short(), water.Rough(v.Needs.Peak, u))
		high = inUnits(v.Needs.Peak, u)
	}
	c := chart{id: "water-needs", span: v.Season.Span(), high: high * 1.08, tick: wholeTick, today: today, title: title,
		desc: "Across: the weeks of the season. Up: what all beds are given in a week. Wide bars: a dry year of ten; narrow bars within them: a typical year."}
	c.begin()
	for _, w := range v.Needs.Weeks {
		c.bar(w.From, 6.2, inUnits(w.Dry, u), thirstInk, .45)
		c.bar(w.From+1, 4, inUnits(w.Typical, u), waterInk, .95)
	}
	c.add(drawing.Text{X: chartLeft + 8, Y: chartTop + 16, Size: 11.5, Halo: paper, Says: unitWord(u) + " a week: typical", Style: drawing.Style{Fill: waterInk, StrokeWidth: 3}})
	c.add(drawing.Text{X: chartLeft + 8, Y: chartTop + 32, Size: 11.5, Halo: paper, Says: "a dry year of ten", Style: drawing.Style{Fill: "#9a5410", StrokeWidth: 3}})
	return c.figure()
}

// tankPicture is in how many years the tank meets each week.
func tankPicture(v *season.Water, today civil.Date) (figure, error) {
	c := chart{id: "water-tank", span: v.Season.Span(), high: 100, step: 20, tick: percentTick, today: today,
		title: fmt.Sprintf("The tank gives %.0f %% of what the season asks for", 100*v.Store.Met),
		desc:  "Across: the weeks of the season. Up: in how many weather years the tank gives all that is asked of it in the week."}
	c.begin()
	for i, w := range v.Store.Weeks {
		if i < len(v.Needs.Weeks) && v.Needs.Weeks[i].Dry >= 0.5 {
			c.bar(w.From, 6.2, 100*w.Chance, waterInk, .8)
		}
	}
	return c.figure()
}

// bar stands on the foot, so many days wide.
func (c *chart) bar(from civil.Date, days, v float64, colour string, opacity float64) {
	x0, x1, y := c.x(max(float64(from), float64(c.span.From))), c.x(min(float64(from)+days, float64(c.span.To))), c.y(min(max(v, c.low), c.high))
	if foot := c.y(c.low); x1 > x0 && foot > y {
		c.add(drawing.Rect{X: x0, Y: y, Width: x1 - x0, Height: foot - y, Style: drawing.Style{Fill: colour, FillOpacity: opacity}})
	}
}

func inUnits(v quantity.Litre, u quantity.System) float64 {
	if u == quantity.US {
		return float64(v) / quantity.LitresPerGallon
	}
	return float64(v)
}

func unitWord(u quantity.System) string {
	if u == quantity.US {
		return "gallons"
	}
	return "litres"
}

// bedChoice are the beds to choose from.
func bedChoice(g garden.Garden) []choice {
	var out []choice
	for _, b := range g.Beds {
		out = append(out, choice{Value: strconv.FormatInt(b.ID, 10), Label: "I watered: " + b.Name})
	}
	return out
}
