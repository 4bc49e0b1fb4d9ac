package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Canvas is paper that scenes are drawn on, such as a page of a PDF file: in the scene's own units, y
// downward. A path grows by its four strokes until Paint or Clip takes it and begins a new one.
type Canvas interface {
	Save()    // remembers what Move and Clip have done so far
	Restore() // goes back to the last Save
	Move(x, y, turn float64)
	MoveTo(x, y float64)
	LineTo(x, y float64)
	CurveTo(ax, ay, bx, by, x, y float64)
	ClosePath()
	Paint(s Style) // fills and strokes the path; Fill and Stroke are colours "#rrggbb" or empty, opacities above 0
	Clip()         // from now on only what lies inside the path is drawn
	Shade(f Fade)  // spreads a fade over all that Clip has left
	Write(t Text)  // its Fill and Halo are such colours
}

// DrawOn draws the scene. Hints, links and classes are for screens and stay away.
func (s *Scene) DrawOn(c Canvas) error {
	if _, err := s.SVG(); err != nil { // one check of the numbers for both ways of drawing
		return err
	}
	b := &brush{canvas: c, scene: s}
	for _, n := range s.Nodes {
		n.draw(b)
	}
	if b.unknown != "" {
		return fmt.Errorf("drawing %q: the paint %q is neither #rrggbb nor of the scene", s.ID, b.unknown)
	}
	return nil
}

// brush draws nodes on a canvas.
type brush struct {
	canvas Canvas
	scene  *Scene
	from   Style // what a Group hands down

	unknown string // a paint that paper does not know
}

// knows says whether a colour is one for paper: "#rrggbb".
func (b *brush) knows(colour string) bool {
	_, err := strconv.ParseUint(strings.TrimPrefix(colour, "#"), 16, 32)
	if len(colour) != 7 || colour[0] != '#' || err != nil {
		b.unknown = colour
		return false
	}
	return true
}

// paint fills and strokes what trace draws. A fade or hatch is laid through a clip.
func (b *brush) paint(s Style, trace func()) {
	fill, stroke := s.Fill, s.Stroke
	opacity := orOne(s.Opacity)
	s.FillOpacity, s.Opacity = orOne(s.FillOpacity)*opacity, opacity
	if fill == "none" {
		fill = ""
	}
	if stroke == "none" {
		stroke = ""
	}
	if fill != "" && fill[0] != '#' {
		b.spread(s, fill, trace)
		fill = ""
	}
	if fill != "" && !b.knows(fill) || stroke != "" && !b.knows(stroke) || fill == "" && stroke == "" {
		return
	}
	if stroke != "" && s.StrokeWidth == 0 {
		s.StrokeWidth = 1
	}
	s.Fill, s.Stroke = fill, stroke
	trace()
	b.canvas.Paint(s)
}

func orOne(v float64) float64 {
	if v == 0 {
		return 1
	}
	return v
}

// spread lays a fade or a hatch, named as Ref writes it, inside a shape.
func (b *brush) spread(s Style, ref string, trace func()) {
	b.canvas.Save()
	defer b.canvas.Restore()
	for _, f := range b.scene.Fades {
		if Ref(f.ID) == ref {
			trace()
			b.canvas.Clip()
			b.canvas.Shade(f)
			return
		}
	}
	for _, h := range b.scene.Hatches {
		if Ref(h.ID) == ref {
			trace()
			b.canvas.Clip()
			b.hatch(h, s.FillOpacity)
			return
		}
	}
	b.unknown = ref
}

// hatch rules the whole picture; the clip leaves the shape.
func (b *brush) hatch(h Hatch, opacity float64) {
	s := b.scene
	if h.Ground != "" {
		Rect{X: s.MinX, Y: s.MinY, Width: s.Width, Height: s.Height, Style: Style{Fill: h.Ground, FillOpacity: opacity}}.draw(b)
	}
	if h.Apart <= 0 {
		return
	}
	lines := NewPath(64)
	sin, cos := math.Sincos(h.Turn * math.Pi / 180)
	x0, y0 := s.MinX+s.Width/2, s.MinY+s.Height/2
	reach := math.Hypot(s.Width, s.Height) / 2
	for d := -reach; d <= reach; d += h.Apart {
		x, y := x0-d*sin, y0+d*cos
		lines.MoveTo(x-reach*cos, y-reach*sin).LineTo(x+reach*cos, y+reach*sin)
	}
	Shape{Path: lines, Style: Style{Stroke: h.Colour, StrokeWidth: h.StrokeWidth, Opacity: opacity}}.draw(b)
}

// arm is how far along the tangent the control points of a quarter circle lie, as a share of its
// radius: then the curve meets the circle at its middle too.
const arm = 4.0 / 3 * (math.Sqrt2 - 1)

func (r Rect) draw(b *brush) {
	x0, y0, x1, y1 := r.X, r.Y, r.X+r.Width, r.Y+r.Height
	q := min(r.Radius, r.Width/2, r.Height/2)
	a := q * (1 - arm)
	c := b.canvas
	b.paint(r.Style, func() {
		if q <= 0 {
			c.MoveTo(x0, y0)
			c.LineTo(x1, y0)
			c.LineTo(x1, y1)
			c.LineTo(x0, y1)
			c.ClosePath()
			return
		}
		c.MoveTo(x0+q, y0)
		c.LineTo(x1-q, y0)
		c.CurveTo(x1-a, y0, x1, y0+a, x1, y0+q)
		c.LineTo(x1, y1-q)
		c.CurveTo(x1, y1-a, x1-a, y1, x1-q, y1)
		c.LineTo(x0+q, y1)
		c.CurveTo(x0+a, y1, x0, y1-a, x0, y1-q)
		c.LineTo(x0, y0+q)
		c.CurveTo(x0, y0+a, x0+a, y0, x0+q, y0)
		c.ClosePath()
	})
}

func (c Circle) draw(b *brush) {
	b.paint(c.Style, func() { ring(b.canvas, c.X, c.Y, c.Radius) })
}

func ring(c Canvas, x, y, radius float64) {
	a := radius * arm
	c.MoveTo(x-radius, y)
	c.CurveTo(x-radius, y-a, x-a, y-radius, x, y-radius)
	c.CurveTo(x+a, y-radius, x+radius, y-a, x+radius, y)
	c.CurveTo(x+radius, y+a, x+a, y+radius, x, y+radius)
	c.CurveTo(x-a, y+radius, x-radius, y+a, x-radius, y)
	c.ClosePath()
}

func (l Line) draw(b *brush) {
	s := l.Style
	s.Fill = ""
	b.inherit(&s)
	b.paint(s, func() {
		b.canvas.MoveTo(l.X1, l.Y1)
		b.canvas.LineTo(l.X2, l.Y2)
	})
}

func (b *brush) inherit(s *Style) {
	if s.Stroke == "" {
		s.Stroke = b.from.Stroke
	}
	if s.StrokeWidth == 0 {
		s.StrokeWidth = b.from.StrokeWidth
	}
}

func (s Shape) draw(b *brush) {
	if s.Path == nil || s.Path.Empty() {
		return
	}
	b.paint(s.Style, func() { s.Path.draw(b.canvas) })
}

func (t Text) draw(b *brush) {
	if t.Fill == "" {
		t.Fill = b.from.Fill
	}
	if t.Fill == "" {
		t.Fill = "#000000"
	}
	if t.StrokeWidth == 0 {
		t.StrokeWidth = t.Size / 4
	}
	if b.knows(t.Fill) && (t.Halo == "" || b.knows(t.Halo)) {
		b.canvas.Write(t)
	}
}

func (g Group) draw(b *brush) {
	was := b.from
	b.canvas.Save()
	if g.X != 0 || g.Y != 0 || g.Turn != 0 {
		b.canvas.Move(g.X, g.Y, g.Turn)
	}
	for _, clip := range b.scene.Clips {
		if clip.ID == g.Clip {
			b.canvas.MoveTo(clip.X, clip.Y)
			b.canvas.LineTo(clip.X+clip.Width, clip.Y)
			b.canvas.LineTo(clip.X+clip.Width, clip.Y+clip.Height)
			b.canvas.LineTo(clip.X, clip.Y+clip.Height)
			b.canvas.ClosePath()
			b.canvas.Clip()
		}
	}
	if g.Fill != "" {
		b.from.Fill = g.Fill
	}
	b.inherit(&g.Style)
	b.from.Stroke, b.from.StrokeWidth = g.Stroke, g.StrokeWidth
	for _, n := range g.Nodes {
		n.draw(b)
	}
	b.from = was
	b.canvas.Restore()
}

// draw walks the path: what was written for SVG is read back, so that there is one path and not two.
func (p *Path) draw(c Canvas) {
	var x, y float64
	p.each(func(letter byte, n []float64) {
		switch letter {
		case 'M':
			x, y = n[0], n[1]
			c.MoveTo(x, y)
		case 'L':
			x, y = n[0], n[1]
			c.LineTo(x, y)
		case 'h':
			x += n[0]
			c.LineTo(x, y)
		case 'v':
			y += n[0]
			c.LineTo(x, y)
		case 'Q': // as a cubic: its control points lie two thirds of the way to the one
			c.CurveTo(x+(n[0]-x)*2/3, y+(n[1]-y)*2/3, n[2]+(n[0]-n[2])*2/3, n[3]+(n[1]-n[3])*2/3, n[2], n[3])
			x, y = n[2], n[3]
		case 'C':
			c.CurveTo(n[0], n[1], n[2], n[3], n[4], n[5])
			x, y = n[4], n[5]
		case 'a': // only Ring writes it: half a circle to the right, then back
			r, to := n[0], x+n[5]
			turn := math.Copysign(r, n[5]) // to the right it bends downward, as sweep 0 does
			c.CurveTo(x, y+turn*arm, (x+to)/2-turn*arm, y+turn, (x+to)/2, y+turn)
			c.CurveTo((x+to)/2+turn*arm, y+turn, to, y+turn*arm, to, y)
			x = to
		case 'Z':
			c.ClosePath()
		}
	})
}

// each reads the path's commands with their numbers.
func (p *Path) each(on func(letter byte, numbers []float64)) {
	numbers := make([]float64, 0, 8)
	var letter byte
	for i := 0; i < len(p.d); {
		ch := p.d[i]
		switch {
		case ch >= 'A' && ch <= 'z':
			if letter != 0 {
				on(letter, numbers)
			}
			letter, numbers = ch, numbers[:0]
			i++
		case ch == ' ':
			i++
		default:
			end := i + 1
			for end < len(p.d) && (p.d[end] >= '0' && p.d[end] <= '9' || p.d[end] == '.') {
				end++
			}
			v, err := strconv.ParseFloat(string(p.d[i:end]), 64)
			if err != nil {
				panic(fmt.Sprintf("drawing: a path holds %q", p.d[i:end])) // only appendNumber writes numbers
			}
			numbers = append(numbers, v)
			i = end
		}
	}
	if letter != 0 {
		on(letter, numbers)
	}
}
