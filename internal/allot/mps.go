package allot

import (
	"bufio"
	"fmt"
	"io"
)

// WriteMPS writes a problem in its relaxed form as free MPS: no strips, areas of any size. Its optimum is no less than any plan's value, and no
// more than Bound. The sign is turned, so that solvers minimise.
//
// For every placement allowed: x its area, z whether it is planted (0 or 1), least area × z ≤ x ≤ bed area × z; for every
// demand and piece: g the kilograms counted, up to the piece's; per demand Σ g ≤ Σ yield × light × x; per bed and week
// Σ x ≤ free area; per bed Σ count × z ≤ most. That a family stands in one block of a bed, each of its plantings sharing a week
// with every other, means that one week is common to all: u chooses it, and a planting asks for one of its own weeks. Only
// last weeks need be chosen from.
func WriteMPS(w io.Writer, p *Problem) error {
	out := bufio.NewWriter(w)
	m := mps{out: out, Problem: p}
	fmt.Fprintln(out, "* relaxed form: minimise −value")
	fmt.Fprintln(out, "NAME allot FREE")
	fmt.Fprintln(out, "ROWS")
	fmt.Fprintln(out, " N cost")
	m.rows()
	fmt.Fprintln(out, "COLUMNS")
	m.columns()
	fmt.Fprintln(out, "RHS")
	m.right()
	fmt.Fprintln(out, "BOUNDS")
	m.bounds()
	fmt.Fprintln(out, "ENDATA")
	return out.Flush()
}

type mps struct {
	*Problem
	out io.Writer
}

func (m *mps) each(do func(b, o int)) {
	for b := range m.Beds {
		for o := range m.Options {
			if m.Allowed(b, o) {
				do(b, o)
			}
		}
	}
}

func (m *mps) rows() {
	for d := range m.Demands {
		fmt.Fprintf(m.out, " L want%d\n", d)
	}
	for b := range m.Beds {
		for w := range m.Weeks {
			fmt.Fprintf(m.out, " L ground%d.%d\n", b, w)
		}
		fmt.Fprintf(m.out, " L count%d\n", b)
	}
	m.each(func(b, o int) {
		fmt.Fprintf(m.out, " L least%d.%d\n L most%d.%d\n", b, o, b, o)
		m.families(o, func(f int) { fmt.Fprintf(m.out, " L block%d.%d.%d\n", b, o, f) })
	})
	m.blocks(func(b, f, _ int, first bool) {
		if first {
			fmt.Fprintf(m.out, " L one%d.%d\n", b, f)
		}
	})
}

// families calls do with each family of an option.
func (m *mps) families(o int, do func(f int)) {
	for f := range m.Families {
		if m.Options[o].Families>>f&1 == 1 {
			do(f)
		}
	}
}

// blocks calls do with each bed, family and week that may be common to its plantings; first with the first of a bed and family.
func (m *mps) blocks(do func(b, f, week int, first bool)) {
	for b := range m.Beds {
		for f := range m.Families {
			first := true
			for w := range m.Weeks {
				if m.ends(b, f, w) {
					do(b, f, w, first)
					first = false
				}
			}
		}
	}
}

// ends says whether an option of a family, allowed in a bed, ends in a week.
func (m *mps) ends(b, f, week int) bool {
	for o := range m.Options {
		if option := &m.Options[o]; option.End == week && option.Families>>f&1 == 1 && m.Allowed(b, o) {
			return true
		}
	}
	return false
}

func (m *mps) columns() {
	for d := range m.Demands {
		for k, piece := range m.Demands[d].Pieces {
			fmt.Fprintf(m.out, " g%d.%d cost %.12g want%d 1\n", d, k, -piece.ValuePerKilogram, d)
		}
	}
	m.each(func(b, o int) {
		option, bed := &m.Options[o], &m.Beds[b]
		x := fmt.Sprintf(" x%d.%d", b, o)
		fmt.Fprintf(m.out, "%s least%d.%d -1\n%s most%d.%d 1\n", x, b, o, x, b, o)
		for w := option.Start; w <= option.End; w++ {
			fmt.Fprintf(m.out, "%s ground%d.%d 1\n", x, b, w)
		}
		for _, y := range option.Yields {
			fmt.Fprintf(m.out, "%s want%d %.12g\n", x, y.Demand, -y.KilogramsPerSquare*Light(option.Sun, bed.Sun))
		}
	})
	m.blocks(func(b, f, w int, _ bool) {
		u := fmt.Sprintf(" u%d.%d.%d", b, f, w)
		fmt.Fprintf(m.out, "%s one%d.%d 1\n", u, b, f)
		for o := range m.Options {
			if option := &m.Options[o]; option.Start <= w && w <= option.End && option.Families>>f&1 == 1 && m.Allowed(b, o) {
				fmt.Fprintf(m.out, "%s block%d.%d.%d -1\n", u, b, o, f)
			}
		}
	})
	fmt.Fprintln(m.out, " whole 'MARKER' 'INTORG'")
	m.each(func(b, o int) {
		option := &m.Options[o]
		z := fmt.Sprintf(" z%d.%d", b, o)
		fmt.Fprintf(m.out, "%s cost %.12g\n%s least%d.%d %.12g\n%s most%d.%d %.12g\n%s count%d %d\n", z, option.Cost,
			z, b, o, option.LeastArea, z, b, o, -m.Beds[b].Area, z, b, option.Count)
		m.families(o, func(f int) { fmt.Fprintf(m.out, "%s block%d.%d.%d 1\n", z, b, o, f) })
	})
	fmt.Fprintln(m.out, " whole 'MARKER' 'INTEND'")
}

func (m *mps) right() {
	for b := range m.Beds {
		bed := &m.Beds[b]
		for w := range m.Weeks {
			free := bed.Area
			if w <= bed.TakenUntil {
				free -= bed.TakenArea
			}
			fmt.Fprintf(m.out, " r ground%d.%d %.12g\n", b, w, free)
		}
		fmt.Fprintf(m.out, " r count%d %d\n", b, bed.Most)
	}
	m.blocks(func(b, f, _ int, first bool) {
		if first {
			fmt.Fprintf(m.out, " r one%d.%d 1\n", b, f)
		}
	})
}

func (m *mps) bounds() {
	for d := range m.Demands {
		for k, piece := range m.Demands[d].Pieces {
			fmt.Fprintf(m.out, " UP b g%d.%d %.12g\n", d, k, piece.Kilograms)
		}
	}
	m.each(func(b, o int) { fmt.Fprintf(m.out, " UP b z%d.%d 1\n", b, o) })
}
