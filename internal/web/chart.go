package web

import (
	"fmt"
	"html/template"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
)

// chart is a picture with the season along its foot and one quantity up its side.
type chart struct {
	id          string
	title, desc string
	span        civil.Span
	low, high   float64
	step        float64     // between rules; 0 chooses
	marks       []chartMark // along the foot, where it is no season
	tick        func(float64) string
	shaded      []civil.Span
	today       civil.Date
	scene       drawing.Scene
}

// chartMark is a word under the foot, with a rule above it.
type chartMark struct {
	at   float64
	says string
}

const (
	chartWidth, chartHeight = 440.0, 236.0
	chartLeft, chartRight   = 44.0, 10.0
	chartTop, chartFoot     = 14.0, 24.0
)

func (c *chart) x(d float64) float64 {
	return chartLeft + (d-float64(c.span.From))/float64(max(1, c.span.Days()-1))*(chartWidth-chartLeft-chartRight)
}

func (c *chart) y(v float64) float64 {
	return chartHeight - chartFoot - (v-c.low)/(c.high-c.low)*(chartHeight-chartTop-chartFoot)
}

func (c *chart) add(n drawing.Node) { c.scene.Nodes = append(c.scene.Nodes, n) }

// begin rules the paper.
func (c *chart) begin() {
	if !(c.high > c.low) {
		c.high = c.low + 1
	}
	if c.step == 0 {
		c.step = roundStep((c.high - c.low) / 5)
	}
	c.scene = drawing.Scene{ID: c.id, Title: c.title, Desc: c.desc, Width: chartWidth, Height: chartHeight, Class: "chart"}
	right, foot := chartWidth-chartRight, chartHeight-chartFoot
	c.add(drawing.Rect{X: chartLeft, Y: chartTop, Width: right - chartLeft, Height: foot - chartTop, Style: drawing.Style{Fill: paper}})
	for _, s := range c.shaded {
		x0, x1 := c.x(float64(max(s.From, c.span.From))), c.x(float64(min(s.To, c.span.To)))
		if x1 > x0 {
			c.add(drawing.Rect{X: x0, Y: chartTop, Width: x1 - x0, Height: foot - chartTop, Style: drawing.Style{Fill: "#dfe8c8"}})
		}
	}
	rules := drawing.NewPath(40)
	for v := math.Ceil(c.low/c.step-1e-9) * c.step; v <= c.high+c.step*1e-6; v += c.step {
		rules.MoveTo(chartLeft, c.y(v)).LineTo(right, c.y(v))
		c.add(drawing.Text{X: chartLeft - 5, Y: c.y(v) + 4, Size: 11, Anchor: drawing.End, Says: c.tick(v), Style: drawing.Style{Fill: faintInk}})
	}
	months := drawing.NewPath(24)
	for _, m := range c.marks {
		months.MoveTo(c.x(m.at), chartTop).LineTo(c.x(m.at), foot)
		c.add(drawing.Text{X: c.x(m.at), Y: foot + 15, Size: 11, Anchor: drawing.Middle, Says: m.says, Style: drawing.Style{Fill: faintInk}})
	}
	for year, month := c.span.From.Year(), int(c.span.From.Month()); c.marks == nil; month++ {
		d := civil.Of(year, month, 1)
		if d > c.span.To {
			break
		}
		if d < c.span.From {
			continue
		}
		months.MoveTo(c.x(float64(d)), chartTop).LineTo(c.x(float64(d)), foot)
		if mid := d + 15; mid <= c.span.To {
			c.add(drawing.Text{X: c.x(float64(mid)), Y: foot + 15, Size: 11, Anchor: drawing.Middle, Says: monthWord(d, c.span.Days()), Style: drawing.Style{Fill: faintInk}})
		}
	}
	c.add(drawing.Shape{Path: rules, Style: drawing.Style{Stroke: weekInk, StrokeWidth: .8}})
	c.add(drawing.Shape{Path: months, Style: drawing.Style{Stroke: weekInk, StrokeWidth: .8}})
	if c.span.Has(c.today) {
		c.add(drawing.Line{X1: c.x(float64(c.today)), Y1: chartTop, X2: c.x(float64(c.today)), Y2: foot, Style: drawing.Style{Stroke: todayInk, StrokeWidth: 1}})
	}
	c.add(drawing.Line{X1: chartLeft, Y1: foot, X2: right, Y2: foot, Style: drawing.Style{Stroke: faintInk, StrokeWidth: 1}})
}

func monthWord(d civil.Date, days int) string {
	name := d.Month().String()
	if days > 250 {
		return name[:1]
	}
	return name[:3]
}

// roundStep is the next of 1, 2 and 5 in its power of ten.
func roundStep(v float64) float64 {
	if !(v > 0) {
		return 1
	}
	power := math.Pow(10, math.Floor(math.Log10(v)))
	for _, f := range []float64{1, 2, 5, 10} {
		if f*power >= v*.999 {
			return f * power
		}
	}
	return 10 * power
}

// band fills between two runs of values, a day each.
func (c *chart) band(from civil.Date, low, high []float64, colour string, opacity float64) {
	path := drawing.NewPath(2 * len(low))
	begun := false
	put := func(i int, v float64) {
		if x, y := c.x(float64(from)+float64(i)), c.y(min(max(v, c.low), c.high)); begun {
			path.LineTo(x, y)
		} else {
			path.MoveTo(x, y)
			begun = true
		}
	}
	for i := 0; i < len(high); i += 2 {
		put(i, high[i])
	}
	for i := (len(low) - 1) / 2 * 2; i >= 0; i -= 2 {
		put(i, low[i])
	}
	if begun {
		path.Close()
	}
	c.add(drawing.Shape{Path: path, Style: drawing.Style{Fill: colour, FillOpacity: opacity}})
}

// curve draws a run of values, a day each.
func (c *chart) curve(from civil.Date, values []float64, colour string, width float64, dash ...float64) {
	path := drawing.NewPath(len(values))
	for i, v := range values {
		x, y := c.x(float64(from)+float64(i)), c.y(min(max(v, c.low), c.high))
		if i == 0 {
			path.MoveTo(x, y)
		} else {
			path.LineTo(x, y)
		}
	}
	c.add(drawing.Shape{Path: path, Style: drawing.Style{Stroke: colour, StrokeWidth: width, Dash: dash}})
}

// note writes beside a curve.
func (c *chart) note(d civil.Date, v float64, anchor drawing.Anchor, colour, says string) {
	c.add(drawing.Text{X: c.x(float64(d)), Y: c.y(v), Size: 11.5, Anchor: anchor, Halo: paper, Says: says, Style: drawing.Style{Fill: colour, StrokeWidth: 3}})
}

// figure is a picture with the finding that its title states, shown beneath it too.
type figure struct {
	Picture template.HTML
	Finding string
}

func (c *chart) figure() (figure, error) {
	pic, err := svg(&c.scene)
	return figure{pic, c.title}, err
}

// wholeTick is a whole number, without the sign that a rounded nothing would carry.
func wholeTick(v float64) string { return fmt.Sprint(int(math.Round(v))) }

func percentTick(v float64) string { return wholeTick(v) + " %" }

// key explains curves by their line, down the paper's left side from a height.
func (c *chart) key(v float64, entries []keyEntry) { c.keyAt(chartLeft+12, v, entries) }

// keyAt is key from another place.
func (c *chart) keyAt(x, v float64, entries []keyEntry) {
	y := c.y(v)
	for _, e := range entries {
		c.add(drawing.Line{X1: x, Y1: y - 4, X2: x + 26, Y2: y - 4, Style: drawing.Style{Stroke: e.colour, StrokeWidth: 1.8, Dash: e.dash}})
		c.add(drawing.Text{X: x + 33, Y: y, Size: 11.5, Says: e.says, Style: drawing.Style{Fill: e.colour}})
		y += 17
	}
}

type keyEntry struct {
	colour, says string
	dash         []float64
}
