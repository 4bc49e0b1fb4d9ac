package allot

import "sort"

// Relaxation is a question of ground with its rules of place loosened: kilograms are wanted, uses of ground bring them, and
// each ground earns at most its best chain of uses, one after another. What no plan can exceed is reckoned from it. A value here
// may be above what a plan could have, never below.
type Relaxation struct {
	Times    int // steps of time
	Rows     []Row
	Supplies []Supply // nil: supply i serves row i
	Uses     []Use
	Friends  [][]int32 // groups of uses of which one at a time may stand among a use, on its ground
	Grounds  []Ground
}

// Row is kilograms that are wanted, the first worth most.
type Row struct{ Pieces []Piece }

// Supply is a harvest at one time: the rows that it may serve, all with the same kilograms in each piece.
type Supply struct {
	Rows []int32
	Had  float64 // kg that are there already
}

// Use is a way to use ground from time Start to before time End.
type Use struct {
	Start, End    int
	Cost          float64 // of each planting
	CostPerSquare float64 // and for each m² of it
	Scrap         float64 // more for a planting next to nothing in size, none from 1 m² up
	Waiting       float64 // cost of each m² up to WaitingArea, by which all it brings is filled
	WaitingArea   float64 // m²
	Families      uint64  // which may come once in a chain
	LeastArea     float64 // m²
	Yields        []Yield // by supply
	Friends       int     // its group, −1 for none
}

// Ground is a bed, or beds alike in what they let in.
type Ground struct {
	Largest float64 // m² of the largest planting
	Uses    []int32 // ascending by Start; grounds that share one list are reckoned once
	Parts   []Part
}

// Part is some of a ground, free from a time on.
type Part struct {
	From int
	Area float64 // m²
}

// relax is a problem without its strips and without its rule of one block for a family; useOf finds a use by option and light had.
func relax(p *Problem) (r *Relaxation, useOf [][3]int32) {
	r = &Relaxation{Times: p.Weeks}
	for i := range p.Demands {
		r.Rows = append(r.Rows, Row{p.Demands[i].Pieces})
	}
	useOf = make([][3]int32, len(p.Options))
	for i := range p.Options {
		for sun := range 3 {
			useOf[i][sun] = r.addOption(&p.Options[i], sun, &useOf[i])
		}
	}
	for b := range p.Beds {
		bed := &p.Beds[b]
		g := Ground{Largest: bed.Area, Parts: []Part{{0, max(0, bed.Area-bed.TakenArea)}}}
		if bed.TakenArea > 0 {
			g.Parts = append(g.Parts, Part{bed.TakenUntil + 1, bed.TakenArea})
		}
		for o := range p.Options {
			if p.Allowed(b, o) {
				g.Uses = append(g.Uses, useOf[o][bed.Sun])
			}
		}
		r.sortUses(g.Uses)
		r.Grounds = append(r.Grounds, g)
	}
	return r, useOf
}

// addOption adds an option in some light, unless a lower light leaves it as much; −1 where it may not stand.
func (r *Relaxation) addOption(o *Option, sun int, lower *[3]int32) int32 {
	light := Light(o.Sun, sun)
	if light == 0 {
		return -1
	}
	for l := range sun {
		if lower[l] >= 0 && Light(o.Sun, l) == light {
			return lower[l]
		}
	}
	u := Use{Start: o.Start, End: o.End + 1, Cost: o.Cost, LeastArea: o.LeastArea, Friends: -1, Families: o.Families}
	for _, y := range o.Yields {
		u.Yields = append(u.Yields, Yield{y.Demand, y.KilogramsPerSquare * light})
	}
	r.Uses = append(r.Uses, u)
	return int32(len(r.Uses) - 1)
}

func (r *Relaxation) sortUses(ids []int32) {
	sort.SliceStable(ids, func(i, j int) bool { return r.Uses[ids[i]].Start < r.Uses[ids[j]].Start })
}
