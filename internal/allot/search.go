package allot

import "math"

// search is annealing over plans. A move changes the plantings of one or two beds, areas are balanced, and what is worth
// keeping is packed; a plan on the way always stands in strips that can be dug.
type search struct {
	*state
	packing packer
	dice    *dice
	guide   *guide
	warmth  float64
	floor   float64 // change of value below which the move under way will not be kept
	moves   int

	best      float64
	bestStand []bedState
	dirty     []int // beds changed since the best
	isDirty   []bool
	shares    *[kinds]int
	only      []int   // beds to work on; nil: all
	driven    []int32 // crops driven out by the move under way

	tried, kept  [kinds]int
	packs, fails int
	rates        [MostPlantings]rate
}

func newSearch(b *board, g *guide, seed uint64) *search {
	s := &search{state: newState(b), packing: packer{board: b}, dice: newDice(seed), guide: g,
		bestStand: make([]bedState, len(b.beds)), isDirty: make([]bool, len(b.beds))}
	copy(s.bestStand, s.stand)
	s.shares = &shares
	if size := b.size(); size >= small && size < middling {
		s.shares = &middlingShares
	}
	return s
}

// Kinds of move, and how often each is tried.
const (
	insertion = iota
	exchange
	migration
	ejection
	familySwap
	resizing
	clearing
	kinds
)

// shares of a hundred, found by trial: on middling ground moves between beds seldom pay, on few or very many beds they do.
var (
	shares         = [kinds]int{insertion: 50, exchange: 15, migration: 12, ejection: 12, familySwap: 4, resizing: 4, clearing: 3}
	middlingShares = [kinds]int{insertion: 60, exchange: 20, migration: 4, ejection: 8, resizing: 4, clearing: 4}
)

const middling = 20000 // placements, from small up to this

func (s *search) kind() int {
	x := s.dice.below(100)
	for k, share := range s.shares {
		if x -= share; x < 0 {
			return k
		}
	}
	return insertion
}

func (s *search) bed() int {
	if s.only != nil {
		return s.only[s.dice.below(len(s.only))]
	}
	return s.dice.below(len(s.beds))
}

// move tries one change and keeps it or takes it back.
func (s *search) move() {
	s.moves++
	bed := s.bed()
	if s.guide.any[bed] == nil {
		return
	}
	s.floor = s.warmth * math.Log(1-s.dice.share())
	kind := s.kind()
	if s.stand[bed].count == 0 {
		kind = insertion
	}
	s.tried[kind]++
	s.begin()
	s.driven = s.driven[:0]
	var ok bool
	switch kind {
	case insertion:
		ok = s.insertAny(bed)
	case exchange:
		ok = s.exchange(bed)
	case migration:
		ok = s.migrate(bed, s.bed())
	case ejection:
		ok = s.eject(bed)
	case familySwap:
		ok = s.swapFamilies(bed, s.bed())
	case resizing:
		ok = s.resizeAny(bed)
	case clearing:
		ok = s.clear(bed)
	}
	if !ok || !s.keep() {
		s.rollback()
		return
	}
	s.kept[kind]++
}

// keep takes the move under way if it is worth it and every bed touched can be packed.
func (s *search) keep() bool {
	if s.value-s.before < s.floor {
		return false
	}
	for i := range s.saved[:s.number] {
		s.packs++
		if bed := s.saved[i].bed; !s.packing.pack(bed, &s.stand[bed]) {
			s.fails++
			return false
		}
	}
	for i := range s.saved[:s.number] {
		if bed := s.saved[i].bed; !s.isDirty[bed] {
			s.isDirty[bed] = true
			s.dirty = append(s.dirty, bed)
		}
	}
	s.commit()
	if s.value > s.best+1e-9 {
		s.best = s.value
		for _, bed := range s.dirty {
			s.bestStand[bed] = s.stand[bed]
			s.isDirty[bed] = false
		}
		s.dirty = s.dirty[:0]
	}
	return true
}

// short says that the move under way has lost more than what follows is likely to bring back.
func (s *search) short(hope float64) bool { return s.value-s.before < s.floor-hope }

const movesBetweenLooks, movesBetweenRecounts = 128, 65536

// anneal cools from one warmth to another while spent, asked now and then, goes from 0 to 1.
func (s *search) anneal(from, to float64, spent func() float64) {
	for {
		x := spent()
		if x >= 1 {
			break
		}
		s.warmth = from * math.Pow(to/from, max(0, x))
		for range movesBetweenLooks {
			s.move()
			if s.moves%movesBetweenRecounts == 0 {
				s.recount()
			}
		}
	}
	s.recount()
}

// back goes back to the best plan.
func (s *search) back() {
	s.restore(s.bestStand)
	s.best = s.value
	for _, bed := range s.dirty {
		s.isDirty[bed] = false
	}
	s.dirty = s.dirty[:0]
}

// Warmth at the beginning and at the end, in value.
const firstWarmth, lastWarmth = 2.0, 0.07

// Small problems have few good plans far apart: many short rounds from bare ground find more than one long one. Later
// rounds begin as cool as the time spent says: they are shorter, and by trial find more than rounds that all begin warm.
const (
	small                 = 1500 // placements, of options in beds
	movesOfRoundPerOption = 60
)

// run looks for a good plan while spent goes from 0 to 1, and stands on the best.
func (s *search) run(spent func() float64) {
	if s.size() == 0 {
		return
	}
	if s.size() >= small {
		s.anneal(firstWarmth, lastWarmth, spent)
		s.back()
		return
	}
	length := float64(movesOfRoundPerOption * max(1, s.size()))
	top, topStand := math.Inf(-1), make([]bedState, len(s.stand))
	for spent() < 1 {
		s.bare()
		first := s.moves
		s.anneal(firstWarmth, lastWarmth, func() float64 { return max(float64(s.moves-first)/length, spent()) })
		if s.best > top {
			top = s.best
			copy(topStand, s.bestStand)
		}
	}
	copy(s.bestStand, topStand)
	s.back()
}

// bare clears all ground.
func (s *search) bare() {
	for i := range s.stand {
		s.stand[i] = bedState{free: s.beds[i].capacity}
	}
	copy(s.bestStand, s.stand)
	s.back()
}
