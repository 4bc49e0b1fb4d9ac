package web

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// bedtime draws a bed in space and time: the bed from end to end across the paper, the season down
// it, so that one reads a bed as one walks it and a year as one turns a page. A planting is the ground
// it takes for the days it takes it. It begins with a hard edge, the day of the plan; it deepens as it
// comes up and again as it comes to be eaten, and fades out over the days on which the weather years
// disagree whether the ground is free.
type bedtime struct {
	now      *season.Result
	strip    strip
	frost    []depth // chance of a frost still to come, or come already, by day
	today    civil.Date
	id       string
	axis     float64 // width of the bed on the paper
	week     float64 // height of seven days
	unlinked bool    // its plantings have no page
	full     bool    // with writing, and each plant's column where there is room
	left     float64
	top      float64
	from, to civil.Date
	scene    drawing.Scene
}

// farthest is how many weeks past the season a bed's picture runs for crops that stay the winter.
const farthest = 30

// nextYear is how much closer the weeks after the season's end are set.
const nextYear = .4

func (b *bedtime) y(d civil.Date) float64 {
	d = min(max(d, b.from), b.to)
	end := b.now.Season.End() + 1
	days := float64(min(d, end) - b.from)
	if d > end {
		days += float64(d-end) * nextYear
	}
	return b.top + days*b.week/7
}

func (b *bedtime) x(metres float64) float64 { return b.left + metres/b.strip.Length*b.axis }

func (b *bedtime) draw() *drawing.Scene {
	b.from, b.to = b.now.Season.Start, b.now.Season.End()+1
	b.left, b.top = 11, 3
	if b.full {
		b.left, b.top = 44, 26
		if len(b.strip.Lanes) > 1 {
			b.top = 40
		}
		for _, q := range b.strip.patches {
			b.to = max(b.to, min(holds(q.p).To+3, b.now.Season.End()+7*farthest))
		}
	}
	bottom := b.y(b.to)
	b.scene = drawing.Scene{
		ID: b.id, Width: b.left + b.axis + 4, Height: bottom + 4, Class: "bedtime",
		Title: bedtimeTitle(b.now, b.strip),
		Desc:  "Across: the bed from end to end. Down: the season, week by week. Each patch is the ground a planting takes and the days it takes it; its lower edge fades over the days on which the weather years disagree.",
	}
	b.add(drawing.Rect{X: b.left, Y: b.top, Width: b.axis, Height: bottom - b.top, Style: drawing.Style{Fill: paper}})
	b.cold()
	b.calendar()
	b.metres()
	order := make([]int, len(b.strip.patches))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		p, q := b.strip.patches[i], b.strip.patches[j]
		return cmp.Or(cmpBool(p.within, q.within), cmp.Compare(p.p.Start, q.p.Start))
	})
	for _, i := range order {
		b.patch(i, b.strip.patches[i])
	}
	if b.full {
		for _, i := range order {
			b.raising(b.strip.patches[i])
		}
		for _, i := range order {
			b.label(b.strip.patches[i])
		}
	}
	b.add(drawing.Rect{X: b.left, Y: b.top, Width: b.axis, Height: bottom - b.top, Style: drawing.Style{Stroke: soilInk, StrokeWidth: 1}})
	b.todayLine()
	return &b.scene
}

func cmpBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

func (b *bedtime) add(n drawing.Node) { b.scene.Nodes = append(b.scene.Nodes, n) }

// depth is how deep the colour stands on a day: a share of the family's wash.
type depth struct {
	d     civil.Date
	share float64
}

// How deep the colour stands while the ground is taken, growing, and being eaten from.
const (
	taken   = .20
	growing = .50
	eaten   = .95
)

// stays says whether a planting keeps its ground long after the harvest, as perennials do.
func stays(p *garden.Planting) bool { return p.Clear > p.Last.P90+45 }

// depths are the days on which the colour changes.
func depths(p *garden.Planting, start civil.Date) []depth {
	if p.Status == garden.Lost { // no more than the ground it took
		return []depth{{start, taken}, {max(start, p.Clear), taken}}
	}
	var list []depth
	if p.Start < start || p.Way == crop.SetOut || p.Emerge.P90 <= p.Start {
		list = append(list, depth{start, growing * .8})
	} else {
		list = append(list, depth{start, taken}, depth{p.Emerge.P10, taken}, depth{p.Emerge.P90, growing * .8})
	}
	if !undated(p) {
		list = append(list, depth{p.First.P10, growing}, depth{p.First.P90, eaten}, depth{p.Last.P10, eaten})
	}
	if stays(p) {
		list = append(list, depth{p.Last.P90, growing}, depth{holds(p).To - 10, growing}, depth{holds(p).To, 0})
	} else {
		list = append(list, depth{p.Last.P50, .5}, depth{p.Last.P90, .08}, depth{holds(p).To, 0})
	}
	for i := 1; i < len(list); i++ { // spreads of a kept plan may cross; the fade runs on in order
		list[i].d = max(list[i].d, list[i-1].d)
	}
	return list
}

func (b *bedtime) fade(id, colour string, list []depth, start, end civil.Date) string {
	fade := drawing.Fade{ID: id, Y1: b.y(start), Y2: b.y(end)}
	for _, q := range list {
		at := 0.0
		if end > start {
			at = min(1, max(0, (b.y(q.d)-b.y(start))/(b.y(end)-b.y(start))))
		}
		fade.Stops = append(fade.Stops, drawing.Stop{At: at, Colour: colour, Opacity: q.share})
	}
	b.scene.Fades = append(b.scene.Fades, fade)
	return drawing.Ref(id)
}

// patch draws one planting.
func (b *bedtime) patch(i int, q patch) {
	p := q.p
	span := holds(p)
	start, end := max(span.From, b.from), min(span.To, b.to)
	if end <= start {
		return
	}
	c, _ := b.now.Crops.Find(p.CropID)
	colour := wash(familyOf(c))
	id := fmt.Sprintf("%s-%d", b.id, i)
	list := depths(p, start)
	fill := b.fade(id, colour, list, start, end)
	g := drawing.Group{Hint: patchHint(b.now, p)}
	if !b.unlinked {
		g.Link = "/planting/" + p.Key
	}
	for k, part := range q.parts {
		x0, x1 := b.sides(q, part)
		box := drawing.Rect{X: x0, Y: b.y(start), Width: x1 - x0, Height: b.y(end) - b.y(start), Style: drawing.Style{Fill: fill}}
		if columns := b.columns(q, part, c, x0, x1, start, end); columns != nil {
			if k == 0 {
				box.Fill = b.fade(id+"g", colour, shallow(list), start, end)
			} else {
				box.Fill = drawing.Ref(id + "g")
			}
			g.Nodes = append(g.Nodes, box, drawing.Shape{Path: columns, Style: drawing.Style{Fill: fill}})
		} else {
			if q.within && b.full {
				g.Nodes = append(g.Nodes, drawing.Rect{X: x0, Y: box.Y, Width: box.Width, Height: b.y(min(p.Clear, b.to)) - box.Y, Style: drawing.Style{Fill: paper, FillOpacity: .6}})
			}
			g.Nodes = append(g.Nodes, box)
		}
		g.Nodes = append(g.Nodes, b.edges(p, colour, x0, x1, end)...)
	}
	b.add(g)
}

// sides are a part's two sides on the paper; one crop among another's plants keeps inside them.
func (b *bedtime) sides(q patch, at garden.Stretch) (x0, x1 float64) {
	x0, x1 = b.x(at.From)+.8, b.x(at.To)-.8
	if q.within {
		inset := min((x1-x0)*.12, 8)
		x0, x1 = x0+inset, x1-inset
	}
	if x1-x0 < 1.5 {
		x0, x1 = (x0+x1)/2-.75, (x0+x1)/2+.75
	}
	return x0, x1
}

// edges are the hard ones: the day it goes in (dotted like seed when sown), and the sides.
func (b *bedtime) edges(p *garden.Planting, colour string, x0, x1 float64, end civil.Date) []drawing.Node {
	pen := mix(colour, "#000000", .75)
	edge := drawing.Style{Stroke: pen, StrokeWidth: 1}
	if b.full {
		edge.StrokeWidth = 1.6
		if p.Way == crop.Sow {
			edge = drawing.Style{Stroke: pen, StrokeWidth: 2, Dash: []float64{.1, 3.6}, Round: true}
		}
	}
	foot := b.y(min(p.Clear, end))
	top := b.y(p.Start)
	nodes := []drawing.Node{drawing.Shape{
		Path:  drawing.NewPath(4).MoveTo(x0, top).LineTo(x0, foot).MoveTo(x1, top).LineTo(x1, foot),
		Style: drawing.Style{Stroke: colour, StrokeWidth: .5},
	}}
	if p.Start >= b.from {
		nodes = append(nodes, drawing.Line{X1: x0, Y1: top, X2: x1, Y2: top, Style: edge})
	}
	return nodes
}

// shallow is the same days with the colour no deeper than that of ground merely taken.
func shallow(list []depth) []depth {
	list = slices.Clone(list)
	for i := range list {
		list[i].share = min(list[i].share, taken)
	}
	return list
}

// columns are the plants one sees walking along the bed, each as wide as its canopy from week to
// week; nil where they stand too close to draw.
func (b *bedtime) columns(q patch, at garden.Stretch, c *crop.Crop, x0, x1 float64, start, end civil.Date) *drawing.Path {
	if !b.full || c == nil || q.p.Status == garden.Lost {
		return nil
	}
	n := plantsAlong(q.p, b.strip)
	if joined := math.Round(at.Long() * float64(len(b.strip.Lanes)) / b.strip.Length); joined > 1 {
		n *= int(joined) // whole lanes laid end to end
	}
	if n < 1 || (x1-x0)/float64(n) < 4.5 {
		return nil
	}
	pitch := at.Long() / float64(n) * b.stretch(at)
	step := (x1 - x0) / float64(n)
	type width struct{ y, half float64 }
	var outline []width
	for d := start; ; d = min(d+7, end) {
		at := min(d, q.p.Last.P90)
		if c.Perennial && q.p.Start < b.now.Season.Start {
			at = d
		}
		_, canopy, _ := canopyOn(b.now, q.p, c, at)
		half := min(1, canopy/pitch) * step / 2
		outline = append(outline, width{b.y(d), max(.5, half*.96)})
		if d == end {
			break
		}
	}
	path := drawing.NewPath(n * len(outline) * 2)
	for i := range n {
		x := x0 + (float64(i)+.5)*step
		if q.within { // between its partner's plants
			x += step / 2
			if x > x1 {
				break
			}
		}
		path.MoveTo(x-outline[0].half, outline[0].y)
		for _, w := range outline {
			path.LineTo(x+w.half, w.y)
		}
		for _, w := range slices.Backward(outline) {
			path.LineTo(x-w.half, w.y)
		}
		path.Close()
	}
	return path
}

// stretch is how many metres of the bed one metre of the axis stands for, in the lane of a part.
func (b *bedtime) stretch(at garden.Stretch) float64 {
	for _, l := range b.strip.Lanes {
		if l.On.Meets(at) {
			return b.strip.Length / l.On.Long()
		}
	}
	return 1
}

// plantsAlong is how many plants one passes walking along the strip's axis.
func plantsAlong(p *garden.Planting, s strip) int {
	rows := max(1, p.Rows)
	inRow := int(math.Ceil(float64(p.Plants) / float64(rows)))
	if s.Bed.RowsAcross == s.Across {
		return inRow
	}
	return rows
}

// raising is the time under cover before setting out: a line of dashes and dots that ends on the bed.
func (b *bedtime) raising(q patch) {
	if q.p.RaiseOn == nil || q.p.Start <= b.from {
		return
	}
	at := q.widest()
	x := (b.x(at.From) + b.x(at.To)) / 2
	if q.within {
		x += min(10, (b.x(at.To)-b.x(at.From))/4)
	}
	y0, y1 := b.y(*q.p.RaiseOn), b.y(q.p.Start)
	c, _ := b.now.Crops.Find(q.p.CropID)
	colour := mix(wash(familyOf(c)), "#000000", .7)
	b.add(drawing.Line{X1: x, Y1: y0, X2: x, Y2: y1, Style: drawing.Style{Stroke: paper, StrokeWidth: 3.4, Opacity: .8}})
	b.add(drawing.Line{X1: x, Y1: y0, X2: x, Y2: y1, Style: drawing.Style{Stroke: colour, StrokeWidth: 1.4, Dash: []float64{6, 3, .1, 3}, Round: true}})
	if *q.p.RaiseOn >= b.from {
		b.add(drawing.Circle{X: x, Y: y0, Radius: 2.6, Style: drawing.Style{Fill: paper, Stroke: colour, StrokeWidth: 1.4}})
	}
}

func (b *bedtime) todayLine() {
	if b.today < b.from || b.today >= b.to {
		return
	}
	y := b.y(b.today)
	b.add(drawing.Line{X1: b.left - 3, Y1: y, X2: b.left + b.axis + 3, Y2: y, Style: drawing.Style{Stroke: todayInk, StrokeWidth: 1.2}})
	if b.full {
		b.add(drawing.Text{X: b.left - 4, Y: b.clearOfMonths(y + 3), Size: 9.5, Anchor: drawing.End, Halo: paper, Says: "today", Style: drawing.Style{Fill: todayInk, StrokeWidth: 3}})
	}
}
