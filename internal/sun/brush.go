package sun

import (
	"math"
	"math/bits"

	"kailyard/internal/quantity"
)

// Grid is the ground in cells, rows from the south, each row from the west; light is reckoned at their middles.
type Grid struct {
	SouthWest     Spot
	Cell          quantity.Metre // how wide, and how deep where Deep is not told
	Deep          quantity.Metre // from south to north; 0: the cells are square
	Columns, Rows int
}

// deep is a cell's side from south to north.
func (g Grid) deep() quantity.Metre {
	if g.Deep > 0 {
		return g.Deep
	}
	return g.Cell
}

// Cells is how many cells there are.
func (g Grid) Cells() int { return g.Columns * g.Rows }

// Middle is the middle of a cell.
func (g Grid) Middle(column, row int) Spot {
	return Spot{g.SouthWest.East + g.Cell*(quantity.Metre(column)+0.5), g.SouthWest.North + g.deep()*(quantity.Metre(row)+0.5)}
}

// Holding is the cell a spot lies in.
func (g Grid) Holding(s Spot) (cell int, ok bool) {
	column := int(math.Floor(float64((s.East - g.SouthWest.East) / g.Cell)))
	row := int(math.Floor(float64((s.North - g.SouthWest.North) / g.deep())))
	if column < 0 || row < 0 || column >= g.Columns || row >= g.Rows {
		return 0, false
	}
	return row*g.Columns + column, true
}

// across is how many words of 64 cells make a row.
func (g Grid) across() int { return (g.Columns + 63) / 64 }

// brush fills shapes into a mask: one bit a cell, a row after the other, whole words to a row.
type brush struct {
	grid     Grid
	words    int // a row
	mask     []uint64
	from, to []float64 // what the shape being drawn covers of each row, in columns
	corners  [][2]float64
	around   [][2]float64
	touched  bool // whether the mask has anything
}

func newBrush(g Grid) *brush {
	b := &brush{grid: g, words: g.across(), from: make([]float64, g.Rows), to: make([]float64, g.Rows)}
	for i := range b.from {
		b.from[i], b.to[i] = math.Inf(1), math.Inf(-1)
	}
	return b
}

// at is a place on the plot in columns and rows, whole numbers being the middles of cells.
func (b *brush) at(east, north float64) [2]float64 {
	return [2]float64{(east-float64(b.grid.SouthWest.East))/float64(b.grid.Cell) - 0.5, (north-float64(b.grid.SouthWest.North))/float64(b.grid.deep()) - 0.5}
}

// between are the rows whose middles lie from low to high.
func (b *brush) between(low, high float64) (first, last int) {
	if !(high >= 0 && low <= float64(b.grid.Rows-1)) {
		return 0, -1
	}
	return int(math.Ceil(max(0, low))), int(math.Floor(min(float64(b.grid.Rows-1), high)))
}

// misses says whether a box, in columns and rows, holds the middle of no cell.
func (b *brush) misses(left, right, low, high float64) bool {
	return !(right >= 0 && left <= float64(b.grid.Columns-1) && high >= 0 && low <= float64(b.grid.Rows-1))
}

// box is what holds the brush's corners.
func (b *brush) box() (left, right, low, high float64) {
	left, right, low, high = math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, c := range b.corners {
		left, right, low, high = min(left, c[0]), max(right, c[0]), min(low, c[1]), max(high, c[1])
	}
	return left, right, low, high
}

// polygon fills a shape without hollows, its corners in order around it.
func (b *brush) polygon(corners [][2]float64) {
	low, high := math.Inf(1), math.Inf(-1)
	p := corners[len(corners)-1]
	for _, q := range corners {
		low, high = min(low, q[1]), max(high, q[1])
		under, over := p, q
		if under[1] > over[1] {
			under, over = over, under
		}
		first, last := b.between(under[1], over[1])
		if first <= last {
			step := 0.0
			if over[1] > under[1] {
				step = (over[0] - under[0]) / (over[1] - under[1])
			}
			x := under[0] + (float64(first)-under[1])*step
			for row := first; row <= last; row++ {
				b.from[row], b.to[row] = min(b.from[row], x), max(b.to[row], x)
				x += step
			}
		}
		p = q
	}
	first, last := b.between(low, high)
	for row := first; row <= last; row++ {
		b.fill(row, b.from[row], b.to[row])
		b.from[row], b.to[row] = math.Inf(1), math.Inf(-1)
	}
}

// oval fills an ellipse.
func (b *brush) oval(o oval) {
	middle := b.at(o.middle[0], o.middle[1])
	wide, deep := float64(b.grid.Cell), float64(b.grid.deep())
	xx, xy, yy := o.xx/wide/wide, o.xy/wide/deep, o.yy/deep/deep
	if !(yy > 0) {
		return
	}
	reach, broad := math.Sqrt(yy), math.Sqrt(max(0, xx))
	if b.misses(middle[0]-broad, middle[0]+broad, middle[1]-reach, middle[1]+reach) {
		return
	}
	lean := xy / yy
	half := math.Sqrt(max(0, xx-xy*lean))
	first, last := b.between(middle[1]-reach, middle[1]+reach)
	for row := first; row <= last; row++ {
		up := float64(row) - middle[1]
		wide := half * math.Sqrt(max(0, 1-up*up/yy))
		x := middle[0] + lean*up
		b.fill(row, x-wide, x+wide)
	}
}

// fill sets the cells of a row whose middles lie from one column to another.
func (b *brush) fill(row int, from, to float64) {
	if !(to >= 0 && from <= float64(b.grid.Columns-1)) {
		return
	}
	first, last := int(math.Ceil(max(0, from))), int(math.Floor(min(float64(b.grid.Columns-1), to)))
	if first > last {
		return
	}
	b.touched = true
	words := b.mask[row*b.words : (row+1)*b.words]
	i, j := first>>6, last>>6
	head, tail := ^uint64(0)<<(first&63), ^uint64(0)>>(63-last&63)
	if i == j {
		words[i] |= head & tail
		return
	}
	words[i] |= head
	for k := i + 1; k < j; k++ {
		words[k] = ^uint64(0)
	}
	words[j] |= tail
}

// tally gives weights to all cells and takes them from many at once. It keeps one number for every cell of a mask, of what
// was taken: for each word of 64 cells a column of words, the first with the lowest bits of the 64 numbers, the next with
// the second bits, and so on; adding is the adding of binary numbers by hand.
type tally struct {
	given   uint32
	columns [][mostBits]uint64
}

// mostBits holds the sum over a day: 4000 steps of the largest weight, 1023.
const mostBits = 22

func newTally(words int) *tally { return &tally{columns: make([][mostBits]uint64, words)} }

// take takes a weight from the cells of one word.
func (t *tally) take(word int, cells uint64, weight uint32) {
	column := &t.columns[word]
	for ; weight != 0; weight &= weight - 1 {
		carry := cells
		for k := bits.TrailingZeros32(weight); carry != 0 && k < mostBits; k++ {
			carry, column[k] = carry&column[k], column[k]^carry
		}
	}
}

// read gives what is left to the cells, times a unit, in the grid's order, and begins anew.
func (t *tally) read(g Grid, unit float64) []float32 {
	sums := make([]uint32, g.Cells())
	across := g.across()
	for w := range t.columns {
		row := (w/across)*g.Columns + (w%across)*64
		for k, cells := range t.columns[w] {
			for ; cells != 0; cells &= cells - 1 {
				sums[row+bits.TrailingZeros64(cells)] += 1 << k
			}
		}
	}
	clear(t.columns)
	given := t.given
	t.given = 0
	out := make([]float32, len(sums))
	for i, n := range sums {
		out[i] = float32(float64(given-n) * unit)
	}
	return out
}
