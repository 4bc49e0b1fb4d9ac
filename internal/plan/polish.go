package plan

import "slices"

// This file goes through a nearly finished plan by rote: what the random moves pass by is often one
// planting that would displace a lesser one.

// polish tries, for each want that is short, the most lacking first, every bed and sowing where
// another planting would pay, displacing what is worth less, until nothing helps or the tries are used up.
func (s *state) polish(tries int) {
	for again := true; again && tries > 0; {
		again = false
		for slot := 0; slot < len(s.slots) && tries > 0; slot++ {
			tries--
			again = s.regroup(slot) || s.pairUp(slot, &tries) || again
		}
		for _, want := range s.byLack() {
			again = s.press(want, &tries) || again
			if tries <= 0 {
				break
			}
		}
	}
}

// byLack is the wants that are short, those that lack most worth first.
func (s *state) byLack() []int {
	var out []int
	lack := make([]int64, len(s.wants))
	for i := range s.wants {
		d := &s.wants[i]
		all := d.worth(d.asked, d.asked)
		if d.weekly == nil && len(d.sowings) > 0 && s.sows[d.sowings[0]].early {
			all += 2 * (d.asked / 5) * (d.price[1] / 2)
		}
		if lack[i] = all - s.worth[i]; len(d.sowings) > 0 && lack[i] > all/20 {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int {
		switch {
		case lack[a] > lack[b]:
			return -1
		case lack[a] < lack[b]:
			return 1
		}
		return 0
	})
	return out
}

// press tries to serve a want better in each bed with a fair choice of its sowings.
func (s *state) press(want int, tries *int) bool {
	list := s.wants[want].sowings
	step := 1 + len(list)/24
	done := false
	for bed := range s.plots {
		for k := 0; k < len(list); k += step {
			if !s.allowed(bed, list[k]) {
				continue
			}
			for _, wide := range []int{s.plots[bed].lanes, (s.plots[bed].lanes + 1) / 2} {
				if *tries <= 0 {
					return done
				}
				if s.displace(want, list[k], bed, wide, tries) {
					done = true
				}
				if s.plots[bed].lanes == 1 {
					break
				}
			}
		}
	}
	return done
}

// displace puts a planting at the bed's ends and beside each of its plantings, moves what it throws out
// elsewhere, and keeps the change if the plan gains.
func (s *state) displace(want, sow, bed, wide int, tries *int) bool {
	pl := &s.plots[bed]
	if !pl.reached(s.options[s.sows[sow].option].crop, 0, wide) {
		return false
	}
	n, _ := s.size(want, sow, pl, 0, wide, pl.cells)
	if n == 0 {
		return false
	}
	at := []rect{{0, n, 0, wide}, {pl.cells - n, pl.cells, 0, wide}}
	if wide < pl.lanes {
		at = append(at, rect{0, n, pl.lanes - wide, pl.lanes})
	}
	for _, slot := range s.inBed[bed] {
		if a := s.slots[slot].r.a0; a > 0 && a+n <= pl.cells {
			at = append(at, rect{a, a + n, 0, wide})
		}
	}
	for _, r := range at {
		*tries--
		x, ok := s.build(want, sow, pl, r)
		if ok && s.tryInStead(x) {
			return true
		}
	}
	return false
}

// tryInStead puts a planting in the stead of at most two others, finds those another place, and
// says whether the plan gained; else it is as it was.
func (s *state) tryInStead(x placed) bool {
	before, mark := s.value, len(s.log)
	var out []placed
	for again := true; again; {
		again = false
		for _, slot := range s.inBed[x.bed] {
			y := &s.slots[slot]
			if !s.inTheWay(&x, y) {
				continue
			}
			if y.fixed || len(out) == 2 {
				s.undo(mark)
				return false
			}
			out = append(out, *y)
			s.take(slot)
			again = true
			break
		}
	}
	s.put(x)
	for _, y := range out {
		if y.mode == apart {
			s.rehouse(&y)
		}
	}
	if s.value <= before {
		s.undo(mark)
		return false
	}
	return true
}

// rehouse finds the best place for a planting that had to go, on its own day.
func (s *state) rehouse(y *placed) {
	var best placed
	var most int64
	for b := range s.plots {
		if z, g, ok := s.fit(y.want, y.sow, b); ok && g > most {
			best, most = z, g
		}
	}
	if most > 0 {
		s.put(best)
	}
}

// pairUp moves a planting that stands alone to another day if it gains with a fast crop among it: on the
// day that is best for it alone often nothing fits.
func (s *state) pairUp(slot int, tries *int) bool {
	x := s.slots[slot]
	if !x.live || x.fixed || x.mode != apart || x.partner >= 0 {
		return false
	}
	for _, sow := range s.wants[x.want].sowings {
		if sow == x.sow || len(s.friends(sow)) == 0 {
			continue
		}
		*tries--
		before, mark := s.value, len(s.log)
		if !s.replant(slot, x.want, sow, x.r) {
			continue
		}
		at := s.log[len(s.log)-1].slot
		if s.join(at) && s.value > before {
			return true
		}
		s.undo(mark)
	}
	return false
}

// regroup gives a slow planting that stands alone the fast crop or marker that serves best when what
// grows for the same want elsewhere may be dropped for it.
func (s *state) regroup(slot int) bool {
	if x := &s.slots[slot]; !x.live || x.fixed || x.mode != apart || x.partner >= 0 {
		return false
	}
	seen := map[int]bool{}
	for _, f := range s.friends(s.slots[slot].sow) {
		if seen[f.want] {
			continue
		}
		seen[f.want] = true
		for other := range s.slots {
			if y := &s.slots[other]; other != slot && y.live && !y.fixed && y.want == f.want && y.partner < 0 && s.moveAmong(other, slot) {
				return true
			}
		}
	}
	return false
}

// moveAmong drops one planting for another of its want among a slow one's plants, and lets the slow
// one take the ground that becomes free; it says whether the plan gained.
func (s *state) moveAmong(other, slot int) bool {
	before, mark := s.value, len(s.log)
	y := s.slots[other]
	want := y.want
	s.take(other)
	var best placed
	var most int64
	for _, f := range s.friends(s.slots[slot].sow) {
		if f.want != want {
			continue
		}
		if x, g, ok := s.between(want, f.sow, f.mode, slot); ok && g > most {
			best, most = x, g
		}
	}
	if most > 0 {
		s.put(best)
		s.settle(slot)
		if y.mode == apart { // as much of it elsewhere as is wanted still
			if z, _, ok := s.fit(y.want, y.sow, y.bed); ok {
				s.put(z)
			}
		}
	}
	if s.value <= before {
		s.undo(mark)
		return false
	}
	return true
}
