package sheet

import (
	"fmt"
	"math"
	"strconv"

	"kailyard/internal/drawing"

	"codeberg.org/go-pdf/fpdf"
)

// canvas draws scenes on the PDF page at x, y, in points. With a leaf it draws nothing and only notes
// there where the writing stands, which is right for scenes whose groups are not moved.
type canvas struct {
	pdf     *fpdf.Fpdf
	x, y    float64
	leaf    *leaf
	measure func(f face, size float64, text string) float64
}

// one draws a single node.
func (c *canvas) one(n drawing.Node) {
	s := drawing.Scene{ID: "one", Title: "one", Width: 1, Height: 1, Nodes: []drawing.Node{n}}
	if err := s.DrawOn(c); err != nil {
		c.pdf.SetError(err)
	}
}

// Save remembers the state.
func (c *canvas) Save() {
	if c.leaf == nil {
		c.pdf.TransformBegin()
	}
}

// Restore goes back to it.
func (c *canvas) Restore() {
	if c.leaf == nil {
		c.pdf.TransformEnd()
	}
}

// Move moves and turns what follows.
func (c *canvas) Move(x, y, turn float64) {
	if c.leaf != nil {
		return
	}
	c.pdf.TransformTranslate(x, y)
	if turn != 0 {
		c.pdf.TransformRotate(-turn, c.x, c.y) // the writer turns counter-clockwise
	}
}

// MoveTo lifts the pen.
func (c *canvas) MoveTo(x, y float64) {
	if c.leaf == nil {
		c.pdf.MoveTo(c.x+x, c.y+y)
	}
}

// LineTo draws straight.
func (c *canvas) LineTo(x, y float64) {
	if c.leaf == nil {
		c.pdf.LineTo(c.x+x, c.y+y)
	}
}

// CurveTo draws a cubic.
func (c *canvas) CurveTo(ax, ay, bx, by, x, y float64) {
	if c.leaf == nil {
		c.pdf.CurveBezierCubicTo(c.x+ax, c.y+ay, c.x+bx, c.y+by, c.x+x, c.y+y)
	}
}

// ClosePath goes back to where the pen was set down.
func (c *canvas) ClosePath() {
	if c.leaf == nil {
		c.pdf.ClosePath()
	}
}

// Paint fills and strokes the path. Opacity thins a colour toward the white of the paper, so that the
// picture needs no transparency, which old printers are slow at.
func (c *canvas) Paint(s drawing.Style) {
	if c.leaf != nil {
		return
	}
	op := "n"
	if s.Fill != "" {
		op = "f"
		r, g, b := channels(thinned(s.Fill, s.FillOpacity))
		c.pdf.RawWriteStr(fmt.Sprintf("%s rg", rgb(r, g, b)))
	}
	if s.Stroke != "" {
		op = map[string]string{"n": "S", "f": "B"}[op]
		r, g, b := channels(thinned(s.Stroke, s.Opacity))
		ends := 0
		if s.Round {
			ends = 1
		}
		dash := "[] 0 d"
		if len(s.Dash) > 0 {
			dash = "["
			for _, v := range s.Dash {
				dash += strconv.FormatFloat(v, 'f', 2, 64) + " "
			}
			dash += "] 0 d"
		}
		c.pdf.RawWriteStr(fmt.Sprintf("%s RG %.2f w %d J 1 j %s", rgb(r, g, b), s.StrokeWidth, ends, dash))
	}
	if s.EvenOdd && op != "S" && op != "n" {
		op += "*"
	}
	c.pdf.RawWriteStr(op)
}

// Clip keeps what follows inside the path.
func (c *canvas) Clip() {
	if c.leaf == nil {
		c.pdf.RawWriteStr("W n")
	}
}

// Shade spreads a fade that runs down the page over the clip, stop by stop, its opacities thinned
// toward white. Each stretch reaches to the fade's end and the next covers it: no seam shows.
func (c *canvas) Shade(f drawing.Fade) {
	if c.leaf != nil || len(f.Stops) == 0 {
		return
	}
	const far = 2000 // more than any page
	span := f.Y2 - f.Y1
	at := func(i int) float64 { return c.y + f.Y1 + f.Stops[i].At*span }
	first := f.Stops[0]
	r, g, b := channels(thinned(first.Colour, first.Opacity))
	c.pdf.SetFillColor(r, g, b)
	c.pdf.Rect(c.x-far, c.y-far, 2*far, 2*far, "F")
	for i := 1; i < len(f.Stops); i++ {
		y0, y1 := at(i-1), at(i)
		r0, g0, b0 := channels(thinned(f.Stops[i-1].Colour, f.Stops[i-1].Opacity))
		r1, g1, b1 := channels(thinned(f.Stops[i].Colour, f.Stops[i].Opacity))
		if y1-y0 > .005 && [3]int{r0, g0, b0} != [3]int{r1, g1, b1} {
			c.pdf.LinearGradient(c.x-far, y0, 2*far, y1-y0, r0, g0, b0, r1, g1, b1, 0, 1, 0, 0)
		}
		c.pdf.SetFillColor(r1, g1, b1)
		c.pdf.Rect(c.x-far, y1, 2*far, far, "F")
	}
}

// Write writes one line.
func (c *canvas) Write(t drawing.Text) {
	f := upright
	switch {
	case t.Bold:
		f = bold
	case t.Italic:
		f = italic
	}
	says := oneLine(t.Says)
	x, y := c.x+t.X, c.y+t.Y
	shift := 0.0
	if c.leaf != nil {
		c.note(t, says, c.measure(f, t.Size, says))
		return
	}
	c.pdf.SetFont("sheet", string(f), t.Size)
	switch wide := c.pdf.GetStringWidth(says); t.Anchor {
	case drawing.Middle:
		shift = wide / 2
	case drawing.End:
		shift = wide
	}
	c.pdf.TransformBegin()
	if t.Turn != 0 {
		c.pdf.TransformRotate(-t.Turn, x, y)
	}
	c.pdf.SetFontSize(t.Size)
	r, g, b := channels(t.Fill)
	if t.Halo != "" {
		hr, hg, hb := channels(t.Halo)
		c.pdf.RawWriteStr(fmt.Sprintf("1 Tr %s RG %.2f w 1 j [] 0 d", rgb(hr, hg, hb), t.StrokeWidth))
		penOf(c.pdf, hr, hg, hb)
		c.pdf.Text(x-shift, y, says)
		c.pdf.RawWriteStr("0 Tr")
	}
	penOf(c.pdf, r, g, b)
	c.pdf.Text(x-shift, y, says)
	c.pdf.TransformEnd()
}

// note records the room a line of a picture takes, turned or not.
func (c *canvas) note(t drawing.Text, says string, wide float64) {
	shift := 0.0
	switch t.Anchor {
	case drawing.Middle:
		shift = wide / 2
	case drawing.End:
		shift = wide
	}
	sin, cos := math.Sincos(t.Turn * math.Pi / 180)
	b := box{x0: math.Inf(1), y0: math.Inf(1), x1: math.Inf(-1), y1: math.Inf(-1), says: says, picture: true}
	for _, q := range [4][2]float64{{-shift, -above * t.Size}, {wide - shift, -above * t.Size}, {wide - shift, below * t.Size}, {-shift, below * t.Size}} {
		x, y := c.x+t.X+q[0]*cos-q[1]*sin, c.y+t.Y+q[0]*sin+q[1]*cos
		b.x0, b.y0, b.x1, b.y1 = min(b.x0, x), min(b.y0, y), max(b.x1, x), max(b.y1, y)
	}
	c.leaf.boxes = append(c.leaf.boxes, b)
}

// channels are red, green and blue, 0–255, of "#rrggbb".
func channels(colour string) (r, g, b int) {
	v, err := strconv.ParseUint(colour[1:], 16, 32)
	if err != nil || len(colour) != 7 {
		panic("sheet: " + colour + " is no colour")
	}
	return int(v >> 16), int(v >> 8 & 255), int(v & 255)
}

func rgb(r, g, b int) string {
	return fmt.Sprintf("%.3f %.3f %.3f", float64(r)/255, float64(g)/255, float64(b)/255)
}

// thinned is a colour mixed with white: share 1 is the colour itself.
func thinned(colour string, share float64) string {
	r, g, b := channels(colour)
	mix := func(v int) int { return int(math.Round(float64(v)*share + 255*(1-share))) }
	return fmt.Sprintf("#%02x%02x%02x", mix(r), mix(g), mix(b))
}
