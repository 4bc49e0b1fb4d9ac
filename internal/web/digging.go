package web

import (
	"fmt"
	"net/http"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// diggingPage is when the ground is dry enough to dig.
type diggingPage struct {
	frame
	Untold string
	Soils  []soilDays
	Back   navLink
}

// soilDays are the beds of one kind of soil.
type soilDays struct {
	Title   string
	Beds    []navLink
	Now     string
	Picture figure
	Rows    []fitWeekRow
	Reasons []reasonLine
}

type fitWeekRow struct{ Week, Days, Chance, None string }

func (s *site) digging(w http.ResponseWriter, r *http.Request) error {
	known, err := s.groundOf(r)
	if err != nil {
		return err
	}
	p := diggingPage{frame: known.frame("Dry enough to dig"), Untold: known.ground.Weeks, Back: navLink{Href: "/soil", Label: "Back to the soil"}}
	var seen []*soil.Fitness
	for _, b := range known.ground.Beds {
		if b.Fitness == nil {
			continue
		}
		i := slices.IndexFunc(seen, func(f *soil.Fitness) bool { return f == b.Fitness || alikeDays(f, b.Fitness) })
		if i < 0 {
			i, seen = len(seen), append(seen, b.Fitness)
			one := soilDays{Title: upper(layerName(b.Fitness.Layer.Texture, b.Texture == "")), Rows: fitWeekRows(b.Fitness), Reasons: reasons(b.Fitness.Reasons)}
			if chance, ok := b.Fitness.On(known.ground.Day); ok {
				one.Now = fmt.Sprintf("About today, %s, it can be dug in %.0f years of ten.", known.ground.Day.Short(), 10*chance)
			}
			if one.Picture, err = fitChart(fmt.Sprintf("fit-%d", i), b.Fitness, known.ground.Day); err != nil {
				return err
			}
			p.Soils = append(p.Soils, one)
		}
		p.Soils[i].Beds = append(p.Soils[i].Beds, bedLink(known.garden, b.Bed.ID))
	}
	return s.render(w, http.StatusOK, "digging", p)
}

// alikeDays says whether two soils of one texture differ by less than a reader sees.
func alikeDays(a, b *soil.Fitness) bool {
	if a.Layer.Texture != b.Layer.Texture || len(a.Weeks) != len(b.Weeks) {
		return false
	}
	for i := range a.Weeks {
		if d := a.Weeks[i].Days - b.Weeks[i].Days; d > .5 || d < -.5 {
			return false
		}
	}
	return true
}

func layerName(t garden.Texture, assumed bool) string {
	if assumed {
		return textureName(t) + ", for want of knowing"
	}
	return textureName(t)
}

// fitWeekInk is the colour of a week's bar: the surer, the greener.
func fitWeekInk(days float64) string { return mix(rightInk, "#c9b58a", min(1, days/6)) }

// fitChart is a bar for each week: the days of seven on which the ground can be dug, on average over the weather years.
func fitChart(id string, f *soil.Fitness, today civil.Date) (figure, error) {
	c := chart{id: id, high: 7, step: 1, tick: wholeTick, today: today, title: fitTitle(f), desc: "Across: the weeks of the season. Up: on how many days of the week the ground is dry enough to dig, on average over the weather years."}
	if len(f.Weeks) == 0 {
		return figure{}, nil
	}
	c.span = civil.Span{From: f.Weeks[0].From, To: f.Weeks[len(f.Weeks)-1].From + 6}
	c.begin()
	wide := c.x(float64(c.span.From+7)) - c.x(float64(c.span.From))
	for _, week := range f.Weeks {
		c.add(drawing.Rect{X: c.x(float64(week.From)) + .5, Y: c.y(week.Days), Width: wide - 1, Height: c.y(0) - c.y(week.Days), Style: drawing.Style{Fill: fitWeekInk(week.Days)}, Hint: fmt.Sprintf("week of %s: %.1f days", week.From.Short(), week.Days)})
	}
	if c.span.Has(today) {
		c.add(drawing.Line{X1: c.x(float64(today)), Y1: chartTop, X2: c.x(float64(today)), Y2: chartHeight - chartFoot, Style: drawing.Style{Stroke: todayInk, StrokeWidth: 1}})
	}
	return c.figure()
}

func fitTitle(f *soil.Fitness) string {
	for i, w := range f.Weeks {
		if w.Days >= 3.5 && (i == 0 || f.Weeks[i-1].Days < 3.5) && i > 0 {
			return fmt.Sprintf("From the week of %s it can be dug on half the days or more", w.From.Short())
		}
	}
	return "How many days of each week it can be dug"
}

func fitWeekRows(f *soil.Fitness) (rows []fitWeekRow) {
	for _, w := range f.Weeks {
		none := "–"
		if w.None > 0 {
			none = fmt.Sprintf("%d of %d", w.None, f.Years)
		}
		rows = append(rows, fitWeekRow{civil.Span{From: w.From, To: w.From + 6}.String(), fmt.Sprintf("%.1f", w.Days), fmt.Sprintf("%.0f %%", 100*w.Days/7), none})
	}
	return rows
}
