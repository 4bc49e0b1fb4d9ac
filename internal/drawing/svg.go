package drawing

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ErrNotANumber is returned for a scene in which some number is infinite or not a number.
var ErrNotANumber = errors.New("a picture has a coordinate that is not a number")

// SVG writes the scene as one svg element for use inside a page. It uses presentation attributes
// only, so that it may stand under a content policy without inline style.
func (s *Scene) SVG() ([]byte, error) {
	w := &writer{buf: make([]byte, 0, 16<<10)}
	w.scene(s)
	if w.err != nil {
		return nil, fmt.Errorf("drawing %q: %w", s.ID, w.err)
	}
	return w.buf, nil
}

// appendNumber writes v with at most two decimals and no trailing zeros; false when it is no number.
func appendNumber(dst []byte, v float64) ([]byte, bool) {
	if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e12 {
		return append(dst, '0'), false
	}
	n := int64(math.Round(v * 100))
	if n < 0 {
		dst = append(dst, '-')
		n = -n
	}
	dst = strconv.AppendInt(dst, n/100, 10)
	if f := n % 100; f != 0 {
		dst = append(dst, '.', byte('0'+f/10))
		if f%10 != 0 {
			dst = append(dst, byte('0'+f%10))
		}
	}
	return dst, true
}

// Slug makes an id of any words: lower-case letters, digits and hyphens, beginning with a letter.
func Slug(words ...string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(strings.Join(words, "-")) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			if gap && b.Len() > 0 {
				b.WriteByte('-')
			}
			if b.Len() == 0 && r <= '9' {
				b.WriteByte('n')
			}
			b.WriteRune(r)
			gap = false
			continue
		}
		gap = true
	}
	if b.Len() == 0 {
		return "x"
	}
	return b.String()
}

type writer struct {
	buf []byte
	err error
}

func (w *writer) raw(s string) { w.buf = append(w.buf, s...) }

func (w *writer) number(v float64) {
	b, ok := appendNumber(w.buf, v)
	if !ok && w.err == nil {
		w.err = ErrNotANumber
	}
	w.buf = b
}

// text escapes for element content and double-quoted attributes; control characters that XML
// forbids become spaces.
func (w *writer) text(s string) {
	for _, r := range s {
		switch {
		case r == '&':
			w.raw("&amp;")
		case r == '<':
			w.raw("&lt;")
		case r == '>':
			w.raw("&gt;")
		case r == '"':
			w.raw("&quot;")
		case r < 0x20 && r != '\n' && r != '\t', r == 0xFFFE, r == 0xFFFF:
			w.raw(" ")
		default:
			w.buf = append(w.buf, string(r)...)
		}
	}
}

func (w *writer) attr(name, value string) {
	if value == "" {
		return
	}
	w.raw(" ")
	w.raw(name)
	w.raw(`="`)
	w.text(value)
	w.raw(`"`)
}

func (w *writer) num(name string, v float64) {
	w.raw(" ")
	w.raw(name)
	w.raw(`="`)
	w.number(v)
	w.raw(`"`)
}

func (w *writer) scene(s *Scene) {
	if !(s.Width > 0 && s.Height > 0) && w.err == nil {
		w.err = errors.New("the picture has no size")
	}
	w.raw(`<svg xmlns="http://www.w3.org/2000/svg" role="img"`)
	w.attr("class", s.Class)
	w.raw(` viewBox="`)
	for i, v := range []float64{s.MinX, s.MinY, s.Width, s.Height} {
		if i > 0 {
			w.raw(" ")
		}
		w.number(v)
	}
	w.raw(`"`)
	w.num("width", s.Width)
	w.num("height", s.Height)
	w.attr("aria-labelledby", s.ID+"-title")
	if s.Desc != "" {
		w.attr("aria-describedby", s.ID+"-desc")
	}
	w.raw(">")
	w.raw(`<title`)
	w.attr("id", s.ID+"-title")
	w.raw(">")
	w.text(s.Title)
	w.raw("</title>")
	if s.Desc != "" {
		w.raw(`<desc`)
		w.attr("id", s.ID+"-desc")
		w.raw(">")
		w.text(s.Desc)
		w.raw("</desc>")
	}
	w.defs(s)
	for _, n := range s.Nodes {
		n.write(w)
	}
	w.raw("</svg>")
}

func (w *writer) defs(s *Scene) {
	if len(s.Fades)+len(s.Hatches)+len(s.Clips) == 0 {
		return
	}
	w.raw("<defs>")
	for i := range s.Fades {
		w.fade(&s.Fades[i])
	}
	for i := range s.Hatches {
		w.hatch(&s.Hatches[i])
	}
	for _, c := range s.Clips {
		w.raw(`<clipPath`)
		w.attr("id", c.ID)
		w.raw(`>`)
		Rect{X: c.X, Y: c.Y, Width: c.Width, Height: c.Height, Radius: c.Radius}.write(w)
		w.raw(`</clipPath>`)
	}
	w.raw("</defs>")
}

func (w *writer) fade(f *Fade) {
	w.raw(`<linearGradient gradientUnits="userSpaceOnUse"`)
	w.attr("id", f.ID)
	w.num("x1", f.X1)
	w.num("y1", f.Y1)
	w.num("x2", f.X2)
	w.num("y2", f.Y2)
	w.raw(">")
	for _, s := range f.Stops {
		w.raw("<stop")
		// an offset is a share: four decimals, so that a day of a long season is not lost
		w.raw(` offset="`)
		at := s.At
		if math.IsNaN(at) || math.IsInf(at, 0) {
			w.err, at = ErrNotANumber, 0
		}
		w.raw(strconv.FormatFloat(math.Round(at*1e4)/1e4, 'f', -1, 64))
		w.raw(`"`)
		w.attr("stop-color", s.Colour)
		w.num("stop-opacity", s.Opacity)
		w.attr("class", s.Class)
		w.raw("/>")
	}
	w.raw("</linearGradient>")
}

func (w *writer) hatch(h *Hatch) {
	w.raw(`<pattern patternUnits="userSpaceOnUse"`)
	w.attr("id", h.ID)
	w.num("width", h.Apart)
	w.num("height", h.Apart)
	if h.Turn != 0 {
		w.raw(` patternTransform="rotate(`)
		w.number(h.Turn)
		w.raw(`)"`)
	}
	w.raw(">")
	if h.Ground != "" {
		Rect{Width: h.Apart, Height: h.Apart, Style: Style{Fill: h.Ground}}.write(w)
	}
	Line{X1: 0, Y1: h.Apart / 2, X2: h.Apart, Y2: h.Apart / 2, Style: Style{Stroke: h.Colour, StrokeWidth: h.StrokeWidth, Class: h.Class}}.write(w)
	w.raw("</pattern>")
}
