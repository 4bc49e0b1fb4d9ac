package plan

// This file fits one planting to its place: another length, another sowing, its partner with it.

// settle gives a planting the length that gains most between its neighbours, from its near end or
// its far one.
func (s *state) settle(slot int) bool {
	x := s.slots[slot]
	if x.mode != apart {
		return s.settleAmong(slot)
	}
	pl := &s.plots[x.bed]
	friend := placed{want: -1}
	if x.partner >= 0 {
		friend = s.slots[x.partner]
	}
	before, mark := s.value, len(s.log)
	s.take(slot)
	lo, hi := x.r.a0, x.r.a1
	clear := func(a int) bool {
		return s.vacant(pl, rect{a, a + 1, x.r.l0, x.r.l1}, x.hold, x.clear, -1, -1)
	}
	for lo > 0 && clear(lo-1) {
		lo--
	}
	for hi < pl.cells && clear(hi) {
		hi++
	}
	n, _ := s.size(x.want, x.sow, pl, x.r.l0, x.r.l1, hi-lo)
	if n > 0 {
		a0 := min(x.r.a0, hi-n)
		if x.r.a1 == pl.cells {
			a0 = max(lo, x.r.a1-n)
		}
		if y, ok := s.build(x.want, x.sow, pl, rect{a0, a0 + n, x.r.l0, x.r.l1}); ok {
			at := s.put(y)
			s.rejoin(friend, at)
		}
	}
	if s.value <= before {
		s.undo(mark)
		return false
	}
	return true
}

// settleAmong does the same for a planting among another's plants.
func (s *state) settleAmong(slot int) bool {
	x := s.slots[slot]
	before, mark := s.value, len(s.log)
	s.take(slot)
	if y, _, ok := s.between(x.want, x.sow, x.mode, x.partner); ok {
		s.put(y)
	}
	if s.value <= before {
		s.undo(mark)
		return false
	}
	return true
}

// rejoin plants what stood among a planting again.
func (s *state) rejoin(friend placed, slot int) {
	if friend.want < 0 {
		return
	}
	md := s.pairing(s.slots[slot].sow, friend.sow)
	if md == apart {
		return
	}
	if f, _, ok := s.between(friend.want, friend.sow, md, slot); ok {
		s.put(f)
	}
}

// replant puts another sowing or size in a planting's stead, with its partner if that still fits.
func (s *state) replant(slot, want, sow int, r rect) bool {
	x := s.slots[slot]
	pl := &s.plots[x.bed]
	y, ok := s.build(want, sow, pl, r)
	if !ok || !s.allowed(x.bed, sow) ||
		!s.vacant(pl, r, y.hold, y.clear, slot, x.partner) {
		return false
	}
	friend := placed{want: -1}
	if x.partner >= 0 {
		friend = s.slots[x.partner]
	}
	mark := len(s.log)
	s.take(slot)
	if !s.oneBlock(x.bed, y.family, y.start, y.clear, -1) {
		s.undo(mark)
		return false
	}
	at := s.put(y)
	s.rejoin(friend, at)
	return true
}
