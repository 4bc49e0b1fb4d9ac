package web

import (
	"cmp"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// recordView is a bed's record over the years.
type recordView struct {
	Picture figure
	Rows    []recordRow
}

type recordRow struct {
	Date, Kind, What, Amount, Note string
	Href                           string
	Withdraw                       string // where the line is withdrawn; empty: not here
}

// recordLanes are what a record tells, each on a line of its own.
var recordLanes = []struct {
	name, colour string
	holds        func(p season.PutOn) bool
}{
	{"lime, ash", "#6f6a8f", func(p season.PutOn) bool { return p.Family == soil.Liming }},
	{"sulfur", "#b98714", func(p season.PutOn) bool { return p.Family == soil.Acidifying }},
	{"compost", "#6b5a43", func(p season.PutOn) bool { return p.Family == soil.Organic && !isManure(p.Material) }},
	{"manure", "#a5432a", func(p season.PutOn) bool { return p.Family == soil.Organic && isManure(p.Material) }},
	{"fertiliser", "#2b7c8c", func(p season.PutOn) bool { return p.Family == soil.Fertiliser || p.Family == "" }},
}

func isManure(id string) bool { return len(id) > 6 && id[:6] == "manure" }

func recordViewOf(known soilKnown, b season.BedGround) (v recordView, err error) {
	u, length := known.ground.Weighs, known.garden.Site.Units
	type dated struct {
		day civil.Date
		row recordRow
	}
	var list []dated
	for _, y := range b.Years {
		for _, t := range y.Tests {
			row := recordRow{Date: season.Dated(t.Date), Kind: "test", What: "laboratory report", Href: fmt.Sprintf("/soil/tests#test-%d", t.ID)}
			if t.Kit {
				row.What = "home kit"
			}
			if ph, ok := soil.InWater(t); ok {
				row.Amount = fmt.Sprintf("pH %.1f", ph)
			}
			row.Note = cmp.Or(t.Note, t.Lab)
			list = append(list, dated{t.Date, row})
		}
		for _, p := range y.Put {
			row := recordRow{Date: season.Dated(p.Date), Kind: "put on", What: p.Name, Note: p.Note, Withdraw: fmt.Sprintf("/soil/put/%d/withdraw", p.EntryID)}
			for _, l := range recordLanes {
				if l.holds(p) {
					row.Kind = l.name
					break
				}
			}
			row.Amount = u.Mass(p.Amount)
			if p.Amount == 0 {
				row.Amount = soil.Bulk(p.Volume, u)
			}
			if p.Depth > 0 {
				row.Amount += ", " + length.Depth(p.Depth) + " deep"
			}
			list = append(list, dated{p.Date, row})
		}
	}
	slices.SortStableFunc(list, func(a, b dated) int { return int(b.day - a.day) })
	for _, d := range list {
		v.Rows = append(v.Rows, d.row)
	}
	if len(list) > 0 {
		v.Picture, err = recordChart(known, b)
	}
	return v, err
}

// recordChart is pH over the years, with what was put on beneath it.
func recordChart(known soilKnown, b season.BedGround) (figure, error) {
	day := known.ground.Day
	first := day
	var tests []garden.SoilTest
	var lanes []int
	for _, y := range b.Years {
		for _, t := range y.Tests {
			first = min(first, t.Date)
			if _, ok := soil.InWater(t); ok {
				tests = append(tests, t)
			}
		}
		for _, p := range y.Put {
			first = min(first, p.Date)
		}
	}
	for i, l := range recordLanes {
		if slices.ContainsFunc(b.Years, func(y season.GroundYear) bool { return slices.ContainsFunc(y.Put, l.holds) }) {
			lanes = append(lanes, i)
		}
	}
	slices.SortStableFunc(tests, func(a, b garden.SoilTest) int { return int(a.Date - b.Date) })
	from, to := civil.Of(first.Year(), 1, 1), civil.Of(day.Year(), 12, 31)
	const left, right, top, lane, plot = 74.0, 12.0, 12.0, 17.0, 120.0
	foot := top + plot + 8 + lane*float64(len(lanes))
	s := drawing.Scene{ID: fmt.Sprintf("record-%d", b.Bed.ID), Width: scaleWidth, Height: foot + 22, Class: "chart",
		Title: recordTitle(b, tests), Desc: "Across: the years. Above: pH, a dot for each test, the pale green band what is wanted, a ring for what is expected now. Below: what was put on."}
	x := func(d civil.Date) float64 {
		return left + float64(d-from)/float64(max(1, to-from))*(scaleWidth-left-right)
	}
	y := func(ph float64) float64 {
		return top + (soil.ScaleHigh-.5-min(max(ph, 4.5), soil.ScaleHigh-.5))/4*plot
	}
	add := func(n ...drawing.Node) { s.Nodes = append(s.Nodes, n...) }
	add(drawing.Rect{X: left, Y: top, Width: scaleWidth - left - right, Height: plot, Style: drawing.Style{Fill: paper}})
	t := b.Reaction.Target
	add(drawing.Rect{X: left, Y: y(t.High), Width: scaleWidth - left - right, Height: y(t.Low) - y(t.High), Style: drawing.Style{Fill: rightInk, FillOpacity: .16}})
	rules := drawing.NewPath(40)
	for ph := 5.0; ph <= 8; ph++ {
		rules.MoveTo(left, y(ph)).LineTo(scaleWidth-right, y(ph))
		add(drawing.Text{X: left - 8, Y: y(ph) + 4, Size: 11.5, Anchor: drawing.End, Says: "pH " + wholeTick(ph), Style: drawing.Style{Fill: faintInk}})
	}
	years := to.Year() - from.Year() + 1
	for year := from.Year(); year <= to.Year(); year++ {
		d := civil.Of(year, 1, 1)
		rules.MoveTo(x(d), top).LineTo(x(d), foot)
		if every := (years + 6) / 7; (to.Year()-year)%every == 0 {
			add(drawing.Text{X: x(d + 182), Y: foot + 15, Size: 11.5, Anchor: drawing.Middle, Says: fmt.Sprint(year), Style: drawing.Style{Fill: faintInk}})
		}
	}
	add(drawing.Shape{Path: rules, Style: drawing.Style{Stroke: weekInk, StrokeWidth: .9}})
	line := drawing.NewPath(len(tests) + 1)
	for i, test := range tests {
		ph, _ := soil.InWater(test)
		if i == 0 {
			line.MoveTo(x(test.Date), y(ph))
		} else {
			line.LineTo(x(test.Date), y(ph))
		}
	}
	if now := b.Reaction.PH; now > 0 && len(tests) > 0 {
		line.LineTo(x(day), y(now))
		add(drawing.Shape{Path: line, Style: drawing.Style{Stroke: faintInk, StrokeWidth: 1.2, Dash: []float64{4, 3}}},
			drawing.Circle{X: x(day), Y: y(now), Radius: 4.5, Style: drawing.Style{Fill: paper, Stroke: reactionInk(b.Reaction), StrokeWidth: 2}})
	}
	for _, test := range tests {
		ph, _ := soil.InWater(test)
		add(drawing.Circle{X: x(test.Date), Y: y(ph), Radius: 4, Style: drawing.Style{Fill: ink}, Hint: fmt.Sprintf("%s: pH %.1f", test.Date.Long(), ph)})
	}
	for n, i := range lanes {
		at, l := top+plot+8+lane*(float64(n)+.5), recordLanes[i]
		add(drawing.Text{X: left - 8, Y: at + 4, Size: 11.5, Anchor: drawing.End, Says: l.name, Style: drawing.Style{Fill: l.colour}})
		for _, yr := range b.Years {
			for _, p := range yr.Put {
				if l.holds(p) {
					add(drawing.Rect{X: x(p.Date) - 4, Y: at - 5, Width: 8, Height: 10, Radius: 2, Style: drawing.Style{Fill: l.colour}, Hint: p.Name + ", " + p.Date.Long()})
				}
			}
		}
	}
	pic, err := svg(&s)
	return figure{pic, s.Title}, err
}

func recordTitle(b season.BedGround, tests []garden.SoilTest) string {
	put := 0
	for _, y := range b.Years {
		put += len(y.Put)
	}
	switch {
	case len(tests) > 1:
		first, _ := soil.InWater(tests[0])
		last, _ := soil.InWater(tests[len(tests)-1])
		return fmt.Sprintf("From pH %.1f in %d to %.1f in %d", first, tests[0].Date.Year(), last, tests[len(tests)-1].Date.Year())
	case put == 1:
		return "Something was put on " + b.Bed.Name + " once"
	case put > 0:
		return fmt.Sprintf("What was put on %s: %s", b.Bed.Name, plural(put, "time", "times"))
	}
	return plural(len(tests), "test", "tests") + " of " + b.Bed.Name
}
