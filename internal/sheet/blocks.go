package sheet

// piece is one line, or one small thing, of a block: how high it is and how it is drawn from a height
// on the page downward.
type piece struct {
	high float64
	draw func(y float64)
	keep bool // the next piece must stand on the same page
}

// block is what belongs together: a job with its steps, a row of a table.
type block []piece

func (b block) high() float64 {
	sum := 0.0
	for _, q := range b {
		sum += q.high
	}
	return sum
}

func gap(high float64) piece { return piece{high: high, draw: func(float64) {}} }

// place puts a block on the page, on a new one when the rest of this is too short. Only a block higher
// than a whole page is broken, between lines; again then draws a line that says so on the next page,
// and its height is given.
func (p *paper) place(b block, again piece) {
	if b.high() > p.left() && !p.fresh() {
		p.turn()
	}
	for i, q := range b {
		need := q.high
		for k := i; k < len(b)-1 && b[k].keep; k++ {
			need += b[k+1].high
		}
		if need > p.left()+.001 && !p.fresh() {
			p.turn()
			if again.draw != nil {
				again.draw(p.y)
				p.y += again.high
			}
		}
		q.draw(p.y)
		p.y += q.high
	}
}

// fresh says whether nothing but its head stands on the page.
func (p *paper) fresh() bool { return p.y <= marginTop+21 }

// style is how a paragraph is written.
type style struct {
	face   face
	size   float64
	lead   float64 // from base line to base line, as a share of the size; 0: 1.28
	colour string
}

func (s style) line() float64 {
	if s.lead == 0 {
		return s.size * 1.28
	}
	return s.size * s.lead
}

// paragraph is a text as pieces, a line each, from x to the right margin less inset. Mark is written
// to the left of the first line, hung into the margin of the rest.
func (p *paper) paragraph(x, inset float64, s style, mark, text string) block {
	hang := 0.0
	if mark != "" {
		hang = p.measure(s.face, s.size, mark+" ")
	}
	var b block
	for i, line := range p.wrap(s.face, s.size, p.right()-inset-x-hang, text) {
		b = append(b, piece{high: s.line(), draw: func(y float64) {
			base := y + s.line()*.5 + s.size*.34
			if i == 0 && mark != "" {
				p.line(x, base, s.face, s.size, s.colour, mark)
			}
			p.line(x+hang, base, s.face, s.size, s.colour, line)
		}})
	}
	return b
}

// boxed sets a block apart: a tint behind it and a bar at its left.
func (p *paper) boxed(x float64, tint, bar string, b block) block {
	out := block{p.backed(x, tint, bar, gap(4))}
	for _, q := range b {
		out = append(out, p.backed(x, tint, bar, q))
	}
	out = append(out, p.backed(x, tint, bar, gap(4)))
	for i := range out[:len(out)-1] {
		out[i].keep = i == 0 || i == len(out)-2 || out[i].keep
	}
	return out
}

func (p *paper) backed(x float64, tint, bar string, q piece) piece {
	inner := q.draw
	q.draw = func(y float64) {
		p.rect(x, y-.2, p.right()-x, q.high+.4, tint, "", 0)
		p.rect(x, y-.2, 2.5, q.high+.4, bar, "", 0)
		inner(y)
	}
	return q
}

// ticked puts a box to tick before the first line of a block.
func (p *paper) ticked(x, size float64, b block) block {
	if len(b) == 0 {
		return b
	}
	inner, high := b[0].draw, b[0].high
	b[0].draw = func(y float64) {
		p.rect(x, y+high/2-size/2, size, size, "", ink, 1)
		inner(y)
	}
	return b
}

// heading is a line over a part of the sheet, kept with what follows.
func (p *paper) heading(text string) block {
	b := block{gap(12)}
	b = append(b, p.paragraph(marginLeft, 0, style{bold, 14, 0, ink}, "", text)...)
	b = append(b, piece{high: 7, draw: func(y float64) { p.rule(marginLeft, y+2.5, p.right(), ink, 1) }})
	for i := range b {
		b[i].keep = true
	}
	return b
}
