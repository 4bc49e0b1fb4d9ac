package sheet

// column is one of a printed table; the last takes the room that is left.
type column struct {
	head string
	wide float64
}

// ledger is rows on paper, its head written again on every page it goes on to.
type ledger struct {
	paper   *paper
	columns []column
	bar     *float64 // drawn in the last column of the next row
	rows    int
	page    int // on which the head stands
}

const (
	cellSize  = 10.0
	noteSize  = 8.5
	cellInset = 3.0
)

// row adds a row of cells, with small print below it across the table.
func (t *ledger) row(small []string, cells ...string) { t.add(t.body(small, cells...)) }

// body is a row, to be added.
func (t *ledger) body(small []string, cells ...string) block {
	p := t.paper
	body := t.cells(upright, cells)
	if len(body) > 0 {
		body[0].keep = true
	}
	notesLeft := marginLeft + cellInset
	if t.columns[0].head == "" {
		notesLeft += t.columns[0].wide
	}
	for _, s := range small {
		body = append(body, p.paragraph(notesLeft, cellInset, style{upright, noteSize, 1.22, softInk}, "", s)...)
	}
	body = append(body, gap(4))
	if t.rows%2 == 0 {
		for i, q := range body {
			inner := q.draw
			body[i].draw = func(y float64) {
				p.rect(marginLeft, y-.1, p.room(marginLeft), q.high+.2, rowTint, "", 0)
				inner(y)
			}
		}
	}
	t.rows++
	return body
}

// add places a row, below the table's head when the page has none yet.
func (t *ledger) add(body block) {
	p := t.paper
	head := t.heading()
	if t.page == 0 || body.high() > p.left() {
		if t.page == 0 && head.high()+body.high() > p.left() || t.page != 0 {
			p.turn()
		}
		p.place(head, piece{})
		t.page = len(p.leaves)
	}
	p.place(body, piece{})
	t.page = len(p.leaves)
}

func (t *ledger) heading() block {
	var cells []string
	for _, c := range t.columns {
		cells = append(cells, c.head)
	}
	b := t.cells(bold, cells)
	return append(b, piece{high: 3, draw: func(y float64) { t.paper.rule(marginLeft, y, t.paper.right(), ink, .8) }})
}

// cells are the lines of a row: each cell wrapped in its column.
func (t *ledger) cells(f face, cells []string) block {
	p := t.paper
	x := marginLeft
	var columns [][]string
	var lefts []float64
	deepest := 1
	for i, c := range t.columns {
		wide := c.wide
		if i == len(t.columns)-1 {
			wide = p.right() - x
		}
		lines := p.wrap(f, cellSize, wide-2*cellInset, cells[i])
		columns, lefts = append(columns, lines), append(lefts, x+cellInset)
		deepest = max(deepest, len(lines))
		x += wide
	}
	bar := t.bar
	b := block{gap(2)}
	for k := range deepest {
		b = append(b, piece{high: cellSize * 1.25, draw: func(y float64) {
			for i, lines := range columns {
				if k < len(lines) {
					p.line(lefts[i], y+cellSize*.97, f, cellSize, ink, lines[k])
				}
			}
			if bar != nil && k == 0 && f == upright {
				at := lefts[len(lefts)-1]
				p.share(at, y+3, p.right()-at-cellInset, *bar)
			}
		}})
	}
	return b
}
