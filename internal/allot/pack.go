package allot

import "math/bits"

// packer finds places in a bed: every planting one run of cells, in one lane or both, where it stays its whole life.
type packer struct {
	*board
	tries int // left before it gives up
	masks [MostPlantings][2]uint64
	order [MostPlantings]int
}

// Tries before the packer gives up: with the plantings that stand left where they are, and with all anew.
const (
	triesBeside = 60
	triesAnew   = 400
)

// pack places what has no place yet in a bed; if need be, everything anew.
func (p *packer) pack(bed int, bs *bedState) bool {
	missing := 0
	for i := range bs.items[:bs.count] {
		if it := &bs.items[i]; it.lane == 0 {
			p.order[missing] = i
			missing++
		} else {
			p.masks[i] = maskOf(it.lane, int(it.from), it.cells())
		}
	}
	if missing == 0 {
		return true
	}
	p.sort(bs, p.order[:missing])
	p.tries = triesBeside
	if p.place(&p.beds[bed], bs, missing, 0) {
		return true
	}
	if missing == bs.count && p.tries >= 0 {
		return false // all ways seen
	}
	for i := range bs.items[:bs.count] {
		bs.items[i].lane = 0
		p.order[i] = i
	}
	p.sort(bs, p.order[:bs.count])
	p.tries = triesAnew
	return p.place(&p.beds[bed], bs, bs.count, 0)
}

// sort puts what is large and stands long first.
func (p *packer) sort(bs *bedState, order []int) {
	var key [MostPlantings]int
	for _, i := range order {
		o := &p.options[bs.items[i].option]
		key[i] = int(bs.items[i].units) * (o.end - o.start + 3)
	}
	for a := 1; a < len(order); a++ {
		for z := a; z > 0 && key[order[z]] > key[order[z-1]]; z-- {
			order[z], order[z-1] = order[z-1], order[z]
		}
	}
}

func maskOf(lane uint8, from, cells int) (m [2]uint64) {
	run := (uint64(1)<<uint(cells) - 1) << uint(from)
	if lane&1 != 0 {
		m[0] = run
	}
	if lane&2 != 0 {
		m[1] = run
	}
	return m
}

// place puts the planting at a depth of the order into each likely place in turn and goes on.
func (p *packer) place(bed *flatBed, bs *bedState, n, depth int) bool {
	if depth == n {
		return true
	}
	i := p.order[depth]
	it := &bs.items[i]
	o := &p.options[it.option]
	var held [2]uint64
	for j := range bs.items[:bs.count] {
		if j != i && bs.items[j].lane != 0 && overlap(o, &p.options[bs.items[j].option]) {
			held[0] |= p.masks[j][0]
			held[1] |= p.masks[j][1]
		}
	}
	if o.start <= bed.takenTill {
		taken := uint64(1)<<uint(bed.taken) - 1
		held[0] |= taken
		held[1] |= taken
	}
	units := int(it.units)
	if units%2 == 0 && p.along(bed, bs, n, depth, 3, units/2, held[0]|held[1]) {
		return true
	}
	if p.along(bed, bs, n, depth, 1, units, held[0]) || p.along(bed, bs, n, depth, 2, units, held[1]) {
		return true
	}
	it.lane = 0
	return false
}

// along tries the runs of free cells that begin or end where something else does.
func (p *packer) along(bed *flatBed, bs *bedState, n, depth int, lane uint8, cells int, held uint64) bool {
	if cells > bed.cells || cells == 0 {
		return false
	}
	free := ^held & (uint64(1)<<uint(bed.cells) - 1)
	run := free // bit x: cells x to x+cells−1 are free
	for have := 1; have < cells && run != 0; {
		shift := min(have, cells-have)
		run &= run >> uint(shift)
		have += shift
	}
	if run == 0 {
		return false
	}
	first := run & ^(free << 1)
	last := (run << uint(cells-1)) & ^(free >> 1)
	likely := first | (last>>uint(cells-1))&run
	i := p.order[depth]
	for likely != 0 {
		from := bits.TrailingZeros64(likely)
		likely &= likely - 1
		if p.tries--; p.tries < 0 {
			return false
		}
		bs.items[i].lane, bs.items[i].from = lane, uint8(from)
		p.masks[i] = maskOf(lane, from, cells)
		if p.place(bed, bs, n, depth+1) {
			return true
		}
	}
	return false
}
