package web

import (
	"fmt"
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// heapsPage is every compost heap, and the way to a recipe.
type heapsPage struct {
	frame
	Heaps []heapLine
	Old   []heapLine // used up
	Back  navLink
}

type heapLine struct {
	Href, Name, Stage, Says string
	Fit                     bool
	Picture                 figure
}

func (s *site) heaps(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	p := heapsPage{frame: s.gardenFrame("Compost", r, g), Back: navLink{Href: "/soil", Label: "Back to the soil"}}
	for _, h := range g.Heaps {
		state := soil.HeapOn(h, s.Today(), g.Site.Units)
		line := heapLine{Href: heapHref(h.ID), Name: h.Name, Stage: string(state.Stage), Says: state.Next, Fit: state.Fit}
		if state.Stage == soil.Gone {
			line.Says = fmt.Sprintf("From %s to %s.", season.Dated(h.Started), season.Dated(*h.Emptied))
			p.Old = append(p.Old, line)
			continue
		}
		if line.Picture, err = heapChart(h, s.Today(), g.Site.Units); err != nil {
			return err
		}
		p.Heaps = append(p.Heaps, line)
	}
	return s.render(w, http.StatusOK, "heaps", p)
}

// heapPageShown is one heap: how far it is, its curve, its log, and the form to add to it.
type heapPageShown struct {
	frame
	ID       int64
	Name     string
	Stage    string
	Fit      bool
	Next     string
	Facts    []fact
	Reasons  []reasonLine
	Picture  figure
	Put      []fact
	Cautions []string
	Log      []heapLogLine
	Form     form
	Remove   removal
	Back     navLink
}

type heapLogLine struct{ Date, Kind, Heat, Text string }

func (s *site) heap(w http.ResponseWriter, r *http.Request) error {
	g, h, err := s.heapAsked(r)
	if err != nil {
		return err
	}
	return s.heapShown(w, r, g, h, s.heapLogFields(g.Site.Units), nil)
}

func (s *site) heapShown(w http.ResponseWriter, r *http.Request, g garden.Garden, h garden.Heap, fields []*field, whole []string) error {
	u, state := g.Site.Units, soil.HeapOn(h, s.Today(), g.Site.Units)
	p := heapPageShown{
		frame: s.gardenFrame(h.Name, r, g), ID: h.ID, Name: h.Name, Stage: string(state.Stage), Fit: state.Fit, Next: state.Next, Reasons: reasons(state.Reasons),
		Form:   form{Action: heapHref(h.ID) + "/log", Submit: "Write it down", Fields: fields, Whole: whole},
		Remove: removal{heapHref(h.ID) + "/remove", "Take this heap off the list. The book keeps it.", "Remove the heap"},
		Back:   navLink{Href: "/soil/heaps", Label: "All heaps"},
	}
	p.Facts = []fact{{"Begun", fmt.Sprintf("%s, %s ago", season.Dated(h.Started), plural(state.Days, "day", "days"))}, {"Turned", plural(state.Turnings, "time", "times")}}
	if state.Hottest != nil {
		p.Facts = append(p.Facts, fact{"Hottest", u.Temperature(*state.Hottest)}, fact{"Hot enough to kill germs", plural(state.KillDays, "day", "days") + ", turned " + plural(state.KillTurns, "time", "times") + " in them"})
	}
	if h.Note != "" {
		p.Facts = append(p.Facts, fact{"Note", h.Note})
	}
	for _, part := range h.Put {
		name := part.Feedstock
		if f, ok := soil.FindFeedstock(part.Feedstock); ok {
			name = f.Name
			for _, c := range f.Cautions {
				if !slices.Contains(p.Cautions, c) {
					p.Cautions = append(p.Cautions, c)
				}
			}
		}
		p.Put = append(p.Put, fact{upper(name), soil.Bulk(part.Volume, weighing(g))})
	}
	for _, e := range slices.Backward(h.Log) {
		line := heapLogLine{Date: season.Dated(e.Date), Kind: heapKindSays[e.Kind], Text: e.Text}
		if e.Celsius != nil {
			line.Heat = u.Temperature(*e.Celsius)
		}
		p.Log = append(p.Log, line)
	}
	var err error
	if p.Picture, err = heapChart(h, s.Today(), u); err != nil {
		return err
	}
	status := http.StatusOK
	for _, f := range fields {
		p.Form.Wrong += count(f.Error != "")
	}
	if p.Form.Wrong > 0 || len(whole) > 0 {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "heap", p)
}

// heapInk is the curve of a heap's heat, turnInk a turning.
const heapInk, turnInk = "#a5432a", "#2f5d3a"

// heapChart is a heap's heat over its days, over the band in which germs and weed seeds die; empty before it was read.
func heapChart(h garden.Heap, today civil.Date, u quantity.System) (figure, error) {
	var heats []garden.HeapEntry
	last := h.Started + 14
	for _, e := range h.Log {
		if e.Date > today {
			continue
		}
		if e.Celsius != nil {
			heats = append(heats, e)
		}
		last = max(last, e.Date)
	}
	if len(heats) == 0 {
		return figure{}, nil
	}
	slices.SortStableFunc(heats, func(a, b garden.HeapEntry) int { return int(a.Date - b.Date) })
	shown := func(t quantity.Celsius) float64 {
		if u == quantity.US {
			return t.Fahrenheit()
		}
		return float64(t)
	}
	hottest, mark := heats[0], 20.0
	for _, e := range heats {
		if *e.Celsius > *hottest.Celsius {
			hottest = e
		}
	}
	c := chart{id: fmt.Sprintf("heap-%d", h.ID), span: civil.Span{From: h.Started, To: last + 2}, low: 0, high: 80, step: 20, today: -1,
		title: fmt.Sprintf("%s was hottest on %s, at %s", h.Name, hottest.Date.Short(), u.Temperature(*hottest.Celsius)),
		desc:  "Across: the days since the heap was begun. Up: the heat in its middle. Shaded: where germs and weed seeds die. Ticks at the foot: turnings."}
	if u == quantity.US {
		c.low, c.high, mark = 30, 180, 30
	}
	c.step = mark
	c.tick = func(v float64) string { return wholeTick(v) + "°" }
	weeks := max(1, int(math.Ceil(float64(last-h.Started)/7/8)))
	for d := h.Started; d <= last; d += civil.Date(7 * weeks) {
		c.marks = append(c.marks, chartMark{float64(d), d.Short()})
	}
	c.begin()
	low, high := shown(55), shown(77)
	c.add(drawing.Rect{X: chartLeft, Y: c.y(high), Width: chartWidth - chartLeft - chartRight, Height: c.y(low) - c.y(high), Style: drawing.Style{Fill: heapInk, FillOpacity: .12}})
	path := drawing.NewPath(len(heats))
	for i, e := range heats {
		x, y := c.x(float64(e.Date)), c.y(min(max(shown(*e.Celsius), c.low), c.high))
		if i == 0 {
			path.MoveTo(x, y)
		} else {
			path.LineTo(x, y)
		}
	}
	c.add(drawing.Shape{Path: path, Style: drawing.Style{Stroke: heapInk, StrokeWidth: 2, Round: true}})
	for _, e := range heats {
		c.add(drawing.Circle{X: c.x(float64(e.Date)), Y: c.y(min(max(shown(*e.Celsius), c.low), c.high)), Radius: 2.6, Style: drawing.Style{Fill: heapInk}})
	}
	foot := chartHeight - chartFoot
	for _, e := range h.Log {
		if e.Kind == garden.HeapTurned && e.Date <= today {
			c.add(drawing.Line{X1: c.x(float64(e.Date)), Y1: foot, X2: c.x(float64(e.Date)), Y2: foot - 14, Style: drawing.Style{Stroke: turnInk, StrokeWidth: 3}})
		}
	}
	return c.figure()
}

// recipePage asks what there is and makes a heap of it.
type recipePage struct {
	frame
	Groups  []fieldGroup
	Wrong   int
	Whole   []string
	Mix     *recipeView
	Targets string
	Back    navLink
}

type recipeView struct {
	Best     bool
	Short    string
	Parts    []recipePart
	Facts    []fact
	Doubts   []string
	Cautions []string
	Reasons  []reasonLine
	Begin    string // where the heap is begun with this
}

type recipePart struct{ Name, Use, Left string }

func (s *site) recipe(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	u := weighing(g)
	p := recipePage{frame: s.gardenFrame("A recipe for a heap", r, g), Groups: heapParts(nil, u), Back: navLink{Href: "/soil/heaps", Label: "All heaps"}}
	a := answers{r: r, fields: flat(p.Groups), units: u}
	have := a.parts(g, nil, r.URL.Query().Get)
	p.Wrong = a.wrong()
	status := http.StatusOK
	if p.Wrong > 0 {
		status = http.StatusUnprocessableEntity
	} else if len(have) > 0 {
		mix, err := soil.MixHeap(have, u)
		if err != nil {
			p.Whole, status = []string{sentence(err.Error(), "")}, http.StatusUnprocessableEntity
		} else {
			v := recipeViewOf(mix, u)
			p.Mix = &v
		}
	}
	return s.render(w, status, "recipe", p)
}

func recipeViewOf(mix soil.HeapMix, u quantity.System) recipeView {
	v := recipeView{Best: mix.Best, Short: mix.Short, Doubts: mix.Doubts, Cautions: mix.Cautions, Reasons: reasons(mix.Reasons)}
	q := url.Values{}
	for _, part := range mix.Parts {
		one := recipePart{Name: upper(part.Feedstock.Name), Use: "none", Left: soil.Bulk(part.Left, u)}
		if part.Volume > .05 {
			one.Use = soil.Bulk(part.Volume, u)
			q.Set(putField+part.Feedstock.ID, plain(float64(part.Volume))+" L")
		}
		if part.Left < .05 {
			one.Left = ""
		}
		v.Parts = append(v.Parts, one)
	}
	v.Facts = []fact{
		{"Carbon to nitrogen", fmt.Sprintf("%.0f to 1; 25 to 35 is best", mix.Ratio)},
		{"Moisture", fmt.Sprintf("%.0f %% before water is added; 45 to 60 %% is best", mix.Moisture)},
		{"Water while building", waterWords(mix.Water, u)},
		{"Goes in, loose", soil.Bulk(mix.In, u)},
		{"Stands as", soil.Bulk(mix.Built, u)},
		{"Comes out", strings.TrimSpace(soil.Bulk(mix.OutLow, u) + " to " + soil.Bulk(mix.OutHigh, u))},
	}
	if len(q) > 0 && mix.Short == "" {
		v.Begin = "/soil/heap/new?" + q.Encode()
	}
	return v
}

func waterWords(l quantity.Litre, u quantity.System) string {
	if l < .5 {
		return "none"
	}
	return "about " + u.Volume(l)
}
