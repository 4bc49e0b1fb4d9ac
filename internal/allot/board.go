package allot

import "math"

// board is a problem laid out for the search: areas in units (a cell of half the bed's width), yields flat.
type board struct {
	*Problem
	options []flatOption
	beds    []flatBed
	yields  []flatYield
	crops   int
}

type flatOption struct {
	start, end int
	families   uint64
	cost       float64
	count      int
	crop       int
	yields     []flatYield
}

type flatYield struct {
	row int32
	kg  float64
}

type flatBed struct {
	cells     int     // along the bed
	step      float64 // m, length of a cell: CellLength, or a multiple in very long beds
	unit      float64 // m²
	taken     int     // cells at the start of the bed, up to takenUntil
	history   uint64
	sun       int
	most      int
	takenTill int
	capacity  [MostWeeks]int16 // units by week
	allowed   []int32
	scale     []float64 // unit × light by option
	least     []int16   // units by option; 0: not allowed here. Shared by beds alike.
}

// mostCells is what the packer's masks hold along one lane.
const mostCells = 64

func newBoard(p *Problem) *board {
	b := &board{Problem: p}
	total := 0
	for i := range p.Options {
		total += len(p.Options[i].Yields)
		b.crops = max(b.crops, p.Options[i].Crop+1)
	}
	b.yields = make([]flatYield, 0, total)
	for i := range p.Options {
		o := &p.Options[i]
		first := len(b.yields)
		for _, y := range o.Yields {
			b.yields = append(b.yields, flatYield{int32(y.Demand), y.KilogramsPerSquare})
		}
		b.options = append(b.options, flatOption{start: o.Start, end: o.End, families: o.Families, cost: o.Cost,
			count: o.Count, crop: o.Crop, yields: b.yields[first:len(b.yields):len(b.yields)]})
	}
	for i := range p.Beds {
		b.beds = append(b.beds, b.flatten(i))
	}
	return b
}

func (b *board) flatten(i int) flatBed {
	bed := &b.Problem.Beds[i]
	fine := int(math.Floor(bed.Length/CellLength + 1e-9))
	group := max(1, (fine+mostCells-1)/mostCells)
	f := flatBed{cells: fine / group, step: CellLength * float64(group), history: bed.History, sun: bed.Sun,
		most: min(bed.Most, MostPlantings), takenTill: bed.TakenUntil}
	f.unit = f.step * bed.Width / 2
	f.scale = make([]float64, len(b.options))
	for o := range b.options {
		f.scale[o] = f.unit * Light(b.Options[o].Sun, bed.Sun)
	}
	if bed.TakenArea > 0 && f.unit > 0 {
		f.taken = min(f.cells, int(math.Ceil(bed.TakenArea/(2*f.unit)-1e-9)))
	}
	whole := 2 * f.cells
	if f.unit > 0 {
		whole = min(whole, int(bed.Area/f.unit+1e-9))
	}
	for w := 0; w < b.Weeks; w++ {
		f.capacity[w] = int16(whole)
		if w <= f.takenTill {
			f.capacity[w] = int16(max(0, min(whole, 2*(f.cells-f.taken))))
		}
	}
	f.least = make([]int16, len(b.options))
	for o := range b.options {
		if !b.Allowed(i, o) || f.unit <= 0 {
			continue
		}
		least := max(1, int(math.Ceil(b.Options[o].LeastArea/f.unit-1e-9)))
		if least <= f.room(&b.options[o]) {
			f.least[o] = int16(least)
			f.allowed = append(f.allowed, int32(o))
		}
	}
	return f
}

// room is how many units an option finds in an empty bed.
func (f *flatBed) room(o *flatOption) int {
	room := f.capacity[o.start]
	for _, c := range f.capacity[o.start : o.end+1] {
		room = min(room, c)
	}
	return int(room)
}

// overlap says whether two options hold ground in a common week.
func overlap(a, b *flatOption) bool { return a.start <= b.end && b.start <= a.end }

// size is how many placements there are: options times beds that let them in.
func (b *board) size() int {
	n := 0
	for i := range b.beds {
		n += len(b.beds[i].allowed)
	}
	return n
}
