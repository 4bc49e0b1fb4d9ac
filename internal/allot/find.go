package allot

import "fmt"

// Effort says how long to look. The same seed and steps give the same plan; with Spent the caller's clock rules.
type Effort struct {
	Steps int            // moves of the search, where Spent is nil
	Spent func() float64 // the share of the time that is gone: 1 and above stops
}

// Found is a plan, its value and what no plan can exceed.
type Found struct {
	Value      float64
	Bound      float64
	Steps      int // moves tried
	Placements []Placement
}

// Placement is an option on a strip of a bed.
type Placement struct {
	Bed, Option int     // where they stand in the problem
	Area        float64 // m²
	Strip       Strip
}

// Strip is a run along a bed: its first half in width, its second, or both.
type Strip struct {
	Lane Lane
	From float64 // m from the start of the bed
	To   float64
}

// Lane is the part of a bed's width a strip takes.
type Lane int

// Lanes.
const (
	FirstHalf Lane = iota + 1
	SecondHalf
	WholeWidth
)

func (l Lane) String() string {
	switch l {
	case FirstHalf:
		return "first half"
	case SecondHalf:
		return "second half"
	case WholeWidth:
		return "whole width"
	}
	return fmt.Sprintf("lane %d", int(l))
}

// Share of the time, and of the steps, that goes to the bound; a step on prices costs as much as some moves do.
const (
	boundShare       = 0.1
	mostBoundShare   = 0.3 // where the clock runs ahead of the work
	usualBoundSteps  = 160
	movesPerStep     = 8 // for a thousand placements
	fewestBoundSteps = 40
)

// Find looks for a plan worth most.
func Find(p *Problem, seed uint64, effort Effort) Found {
	x := newPrices(p)
	b := newBoard(p)
	if effort.Spent != nil {
		for n := 1; x.improve(stepsBetweenLooks); n++ {
			if spent := effort.Spent(); spent >= mostBoundShare || spent >= boundShare && n*stepsBetweenLooks >= usualBoundSteps {
				break
			}
		}
		copy(x.price, x.leastAt)
	} else {
		x.Lower(boundSteps(effort.Steps, b), nil)
	}
	s := newSearch(b, newGuide(b, x), seed)
	spent := effort.Spent
	if spent == nil {
		spent = func() float64 { return float64(s.moves) / float64(max(1, effort.Steps)) }
	} else {
		begun := spent()
		spent = func() float64 { return (effort.Spent() - begun) / max(1e-9, 1-begun) }
	}
	s.run(spent)
	return Found{Value: s.value, Bound: x.Proven(), Steps: s.moves, Placements: s.placements()}
}

// boundSteps is the steps on prices that take about boundShare of the time of so many moves.
func boundSteps(moves int, b *board) int {
	perStep := 40 + b.size()*movesPerStep/1000
	return max(fewestBoundSteps, int(boundShare*float64(moves))/perStep)
}

// placements is the plan that stands.
func (s *search) placements() []Placement {
	var all []Placement
	for b := range s.stand {
		f, bs := &s.beds[b], &s.stand[b]
		for _, it := range bs.items[:bs.count] {
			from := float64(it.from) * f.step
			all = append(all, Placement{Bed: b, Option: int(it.option), Area: float64(it.units) * f.unit,
				Strip: Strip{Lane: Lane(it.lane), From: from, To: from + float64(it.cells())*f.step}})
		}
	}
	return all
}
