package plan

import (
	"math"
	"math/rand/v2"
)

// search builds a plan greedily, then improves it for a fixed number of rounds and returns the best found.
func search(f *field) *state {
	f.guide = newGuide(f)
	s := newState(f)
	s.onEveryYear()
	calm := s.resume()
	if !calm {
		s = newState(f)
		s.greedy()
	}
	best := s.snapshot()
	if len(f.sows) > 0 && len(f.plots) > 0 {
		best = s.improve(best, calm)
	}
	s.restore(best)
	if calm {
		s.fill()
	} else {
		s.tidy()
		s.fill()
		s.polish(f.settings.Rounds / 16)
		s.tidy()
		s.fill()
		s.fitToYears()
	}
	s.log = s.log[:0]
	return s
}

// calmShare: a plan that goes on is looked through so many times less than a new one is sought.
const calmShare = 12

// snapshot is a copy of the plantings with their value.
type snapshot struct {
	slots []placed
	value int64
}

func (s *state) snapshot() snapshot {
	return snapshot{append([]placed(nil), s.slots...), s.value}
}

// restore makes a snapshot the state again.
func (s *state) restore(from snapshot) {
	fresh := newState(s.field)
	if s.years > 0 {
		fresh.onEveryYear()
	}
	moved := make([]int, len(from.slots))
	for pass := 0; pass < 2; pass++ { // the slow ones before those among them
		for i, x := range from.slots {
			if !x.live || x.fixed || (x.mode != apart) != (pass == 1) {
				continue
			}
			if x.mode != apart {
				x.partner = moved[x.partner]
			} else {
				x.partner = -1
			}
			moved[i] = fresh.put(x)
		}
	}
	fresh.log = fresh.log[:0]
	*s = *fresh
}

// greedy adds, again and again, the planting with the most value for the ground and time it takes.
func (s *state) greedy() {
	type bid struct {
		x     placed
		score float64
		fresh bool
	}
	bids := make([]bid, len(s.wants))
	for i := range bids {
		x, score := s.bid(i)
		bids[i] = bid{x, score, true}
	}
	for range 40 * (len(s.plots) + 1) {
		top := -1
		for i := range bids {
			if bids[i].score > 0 && (top < 0 || bids[i].score > bids[top].score) {
				top = i
			}
		}
		if top < 0 {
			return
		}
		if !bids[top].fresh {
			x, score := s.bid(top)
			bids[top] = bid{x, score, true}
			continue
		}
		s.put(bids[top].x)
		for i := range bids {
			bids[i].fresh = false
		}
		bids[top].x, bids[top].score = s.bid(top)
		bids[top].fresh = true
	}
}

// bid is a want's best planting for its ground and time.
func (s *state) bid(want int) (placed, float64) {
	var best placed
	var top float64
	s.guide.some(want, s.bids(), func(bed, sow int) {
		x, g, ok := s.fit(want, sow, bed)
		if !ok {
			return
		}
		if score := float64(g) / math.Pow(x.area*float64(x.clear-x.hold)/7, 0.6); score > top {
			best, top = x, score
		}
	})
	return best, top
}

// How many of a want's pairs a bid and a filling look at. In a large garden many a pair is as good as the next.
const (
	mostToBid  = 480
	leastToBid = 72
	bidsOfBeds = 12 // beds up to which a bid looks at mostToBid
	mostToFill = 2400
)

func (s *state) bids() int {
	return max(leastToBid, min(mostToBid, mostToBid*bidsOfBeds/max(1, len(s.plots))))
}

// fill adds plantings that gain anything, best first for each want, until none does.
func (s *state) fill() {
	look := mostToFill
	if s.years > 0 { // each takes longer
		look /= 8
	}
	for again := true; again; {
		again = false
		for want := range s.wants {
			var best placed
			var most int64
			s.guide.some(want, look, func(bed, sow int) {
				if x, g, ok := s.fit(want, sow, bed); ok && g > most {
					best, most = x, g
				}
			})
			if most > 0 {
				s.put(best)
				again = true
			}
		}
	}
}

// tidy settles every planting, and drops those that no longer earn their work, until nothing changes.
func (s *state) tidy() {
	for again := true; again; {
		again = false
		for slot := 0; slot < len(s.slots); slot++ {
			if x := &s.slots[slot]; !x.live || x.fixed {
				continue
			}
			before, mark := s.value, len(s.log)
			s.take(slot)
			if s.value > before {
				again = true
				continue
			}
			s.undo(mark)
			again = s.settle(slot) || again
		}
		for slot := 0; slot < len(s.slots); slot++ {
			again = s.join(slot) || s.merge(slot) || s.gather(slot) || again
		}
	}
}

// oneGo is how many days apart one would not begin the same crop side by side for a season's total.
const oneGo = 14

// merge makes one planting, of the same day, of two side by side that are the same but for their
// place, or of a season's total and begun within days of each other.
func (s *state) merge(slot int) bool {
	x := s.slots[slot]
	if !x.live || x.fixed || x.mode != apart {
		return false
	}
	for _, other := range s.inBed[x.bed] {
		y := s.slots[other]
		if other == slot || y.want != x.want || y.mode != apart || !s.atOneGo(&x, &y) {
			continue
		}
		r, ok := beside(x.r, y.r)
		if !ok {
			continue
		}
		for _, sow := range []int{x.sow, y.sow} {
			if s.asOne(slot, other, sow, r) {
				return true
			}
		}
		return false
	}
	return false
}

// asOne puts one planting, with what does best among it, in the stead of two, and says whether the plan
// gained; else it is as it was.
func (s *state) asOne(slot, other, sow int, r rect) bool {
	x := s.slots[slot]
	before, mark := s.value, len(s.log)
	s.take(slot)
	s.take(other)
	z, ok := s.build(x.want, sow, &s.plots[x.bed], r)
	if ok && s.allowed(x.bed, sow) && s.vacant(&s.plots[x.bed], r, z.hold, z.clear, -1, -1) && s.oneBlock(x.bed, z.family, z.start, z.clear, -1) {
		s.join(s.put(z))
	}
	if s.value > before {
		return true
	}
	s.undo(mark)
	return false
}

// beside is the block two blocks make when they share a whole side.
func beside(a, b rect) (rect, bool) {
	r := rect{min(a.a0, b.a0), max(a.a1, b.a1), min(a.l0, b.l0), max(a.l1, b.l1)}
	alike := (a.l0 == b.l0 && a.l1 == b.l1 && (a.a1 == b.a0 || b.a1 == a.a0)) || (a.a0 == b.a0 && a.a1 == b.a1 && (a.l1 == b.l0 || b.l1 == a.l0))
	return r, alike
}

// join plants the best friend among a planting that stands alone.
func (s *state) join(slot int) bool {
	x := &s.slots[slot]
	if !x.live || x.fixed || x.mode != apart || x.partner >= 0 {
		return false
	}
	var best placed
	var most int64
	for _, f := range s.friends(x.sow) {
		if y, g, ok := s.between(f.want, f.sow, f.mode, slot); ok && g > most {
			best, most = y, g
		}
	}
	if most > 0 {
		s.put(best)
	}
	return most > 0
}

// The size of loss the search takes in its stride, at its start and at its end.
const (
	warm = 160 * point
	cold = point
)

// improve tries the moves for the settings' rounds. A worse plan is kept when it loses less than a
// random part of what the stage allows; the allowance falls geometrically. A calm search, which goes
// on from an earlier plan, keeps only what gains more than the change is worth. No clock is read.
func (s *state) improve(best snapshot, calm bool) snapshot {
	m := &mover{state: s, r: rand.New(rand.NewPCG(uint64(s.settings.Seed), 0x6b61696c79617264))}
	rounds := s.settings.Rounds
	if calm {
		rounds /= calmShare
	}
	const stages = 60
	allow := float64(warm)
	cool := math.Pow(float64(cold)/float64(warm), 1.0/stages)
	for stage := 0; stage < stages; stage++ {
		for range rounds*(stage+1)/stages - rounds*stage/stages {
			s.log = s.log[:0]
			before := s.value
			m.move()
			loss := before - s.value
			u := m.r.Float64()
			if (calm && loss > -churn*int64(max(1, s.givenUp()))) || (loss > 0 && float64(loss) > allow*u*u) {
				s.undo(0)
			} else if s.value > best.value {
				best = s.snapshot()
			}
		}
		allow *= cool
	}
	return best
}
