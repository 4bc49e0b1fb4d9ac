package drawing

func (w *writer) style(s *Style, inherits bool) {
	switch {
	case s.Fill != "":
		w.attr("fill", s.Fill)
	case !inherits:
		w.attr("fill", "none")
	}
	w.attr("stroke", s.Stroke)
	if s.StrokeWidth != 0 {
		w.num("stroke-width", s.StrokeWidth)
	}
	if s.Opacity != 0 {
		w.num("opacity", s.Opacity)
	}
	if s.FillOpacity != 0 {
		w.num("fill-opacity", s.FillOpacity)
	}
	if len(s.Dash) > 0 {
		w.raw(` stroke-dasharray="`)
		for i, v := range s.Dash {
			if i > 0 {
				w.raw(" ")
			}
			w.number(v)
		}
		w.raw(`"`)
	}
	if s.Round {
		w.raw(` stroke-linecap="round" stroke-linejoin="round"`)
	}
	if s.EvenOdd {
		w.raw(` fill-rule="evenodd"`)
	}
	w.attr("class", s.Class)
}

// end closes an element, with a hint inside it when there is one.
func (w *writer) end(name, hint string) {
	if hint == "" {
		w.raw("/>")
		return
	}
	w.raw("><title>")
	w.text(hint)
	w.raw("</title></")
	w.raw(name)
	w.raw(">")
}

func (r Rect) write(w *writer) {
	if (r.Width < 0 || r.Height < 0) && w.err == nil {
		w.err = ErrNotANumber
	}
	w.raw("<rect")
	w.num("x", r.X)
	w.num("y", r.Y)
	w.num("width", r.Width)
	w.num("height", r.Height)
	if r.Radius != 0 {
		w.num("rx", r.Radius)
	}
	w.style(&r.Style, false)
	w.end("rect", r.Hint)
}

func (c Circle) write(w *writer) {
	w.raw("<circle")
	w.num("cx", c.X)
	w.num("cy", c.Y)
	w.num("r", c.Radius)
	w.style(&c.Style, false)
	w.end("circle", c.Hint)
}

func (l Line) write(w *writer) {
	w.raw("<line")
	w.num("x1", l.X1)
	w.num("y1", l.Y1)
	w.num("x2", l.X2)
	w.num("y2", l.Y2)
	w.style(&l.Style, true)
	w.raw("/>")
}

func (s Shape) write(w *writer) {
	if s.Path == nil || s.Path.Empty() {
		return
	}
	if s.Path.bad && w.err == nil {
		w.err = ErrNotANumber
	}
	w.raw(`<path d="`)
	w.buf = append(w.buf, s.Path.d...)
	w.raw(`"`)
	w.style(&s.Style, false)
	w.end("path", s.Hint)
}

func (t Text) write(w *writer) {
	w.raw("<text")
	w.num("x", t.X)
	w.num("y", t.Y)
	w.num("font-size", t.Size)
	w.attr("text-anchor", string(t.Anchor))
	if t.Turn != 0 {
		w.raw(` transform="rotate(`)
		w.number(t.Turn)
		w.raw(" ")
		w.number(t.X)
		w.raw(" ")
		w.number(t.Y)
		w.raw(`)"`)
	}
	if t.Bold {
		w.attr("font-weight", "600")
	}
	if t.Italic {
		w.attr("font-style", "italic")
	}
	if t.Halo != "" {
		w.raw(` paint-order="stroke" stroke-linejoin="round"`)
		t.Stroke = t.Halo
		if t.StrokeWidth == 0 {
			t.StrokeWidth = t.Size / 4
		}
	}
	if t.Fit > 0 {
		w.num("textLength", t.Fit)
		w.attr("lengthAdjust", "spacingAndGlyphs")
	}
	w.style(&t.Style, true)
	w.raw(">")
	w.text(t.Says)
	w.raw("</text>")
}

func (g Group) write(w *writer) {
	name := "g"
	if g.Link != "" {
		name = "a"
	}
	w.raw("<")
	w.raw(name)
	if g.Link != "" {
		w.attr("href", g.Link)
		w.attr("tabindex", "-1") // the page offers the link outside the picture
	}
	if g.X != 0 || g.Y != 0 || g.Turn != 0 {
		w.raw(` transform="translate(`)
		w.number(g.X)
		w.raw(" ")
		w.number(g.Y)
		w.raw(")")
		if g.Turn != 0 {
			w.raw(" rotate(")
			w.number(g.Turn)
			w.raw(")")
		}
		w.raw(`"`)
	}
	if g.Clip != "" {
		w.attr("clip-path", Ref(g.Clip))
	}
	w.style(&g.Style, true)
	w.raw(">")
	if g.Hint != "" {
		w.raw("<title>")
		w.text(g.Hint)
		w.raw("</title>")
	}
	for _, n := range g.Nodes {
		n.write(w)
	}
	w.raw("</")
	w.raw(name)
	w.raw(">")
}
