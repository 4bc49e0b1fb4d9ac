package plan

// This file brings together what was planted in pieces: nobody plants eight potatoes at one end of a bed and fifty beyond the beans, when
// beans and potatoes can change places.

// gather makes one planting of two of the same want and option in a bed, begun at one go, that others part: those between slide over to
// where the smaller piece was. It says whether the plan gained; else all is as it was.
func (s *state) gather(slot int) bool {
	x := s.slots[slot]
	if !x.live || x.fixed || x.mode != apart {
		return false
	}
	for _, other := range append([]int(nil), s.inBed[x.bed]...) {
		y := s.slots[other]
		if other == slot || y.fixed || y.mode != apart || y.want != x.want || !s.atOneGo(&x, &y) {
			continue
		}
		if x.r.l0 != y.r.l0 || x.r.l1 != y.r.l1 || x.r.a1 >= y.r.a0 {
			continue // x is the one before
		}
		if s.slide(slot, other) {
			return true
		}
	}
	return false
}

// atOneGo says whether two plantings of a want may be made one: of one option and day or, for a season's total, begun within days of
// each other.
func (s *state) atOneGo(x, y *placed) bool {
	if x.sow == y.sow {
		return true
	}
	days := y.start - x.start
	return s.sows[y.sow].option == s.sows[x.sow].option && s.wants[x.want].weekly == nil && days >= -oneGo && days <= oneGo
}

// slide joins two plantings along a bed, the smaller moved beside the larger and what stands between them into the place it leaves.
func (s *state) slide(first, second int) bool {
	x, y := s.slots[first], s.slots[second]
	by, joined, sow := x.r.a0-x.r.a1, rect{y.r.a0 - (x.r.a1 - x.r.a0), y.r.a1, x.r.l0, x.r.l1}, y.sow
	if x.r.a1-x.r.a0 > y.r.a1-y.r.a0 {
		by, joined, sow = y.r.a1-y.r.a0, rect{x.r.a0, x.r.a1 + y.r.a1 - y.r.a0, x.r.l0, x.r.l1}, x.sow
	}
	before, mark := s.value, len(s.log)
	var moved, friends []placed
	for _, slot := range append([]int(nil), s.inBed[x.bed]...) {
		z := s.slots[slot]
		if !z.live || z.mode != apart || slot == first || slot == second || z.r.a1 <= x.r.a1 || z.r.a0 >= y.r.a0 {
			continue
		}
		if z.fixed || z.r.a0 < x.r.a1 || z.r.a1 > y.r.a0 {
			s.undo(mark)
			return false
		}
		friend := placed{want: -1}
		if z.partner >= 0 {
			friend = s.slots[z.partner]
		}
		moved, friends = append(moved, z), append(friends, friend)
		s.take(slot)
	}
	friend := placed{want: -1}
	for _, one := range []placed{x, y} {
		if one.partner >= 0 {
			friend = s.slots[one.partner]
		}
	}
	s.take(first)
	s.take(second)
	ok := s.lay(&x, sow, joined, friend)
	for i := range moved {
		if !ok {
			break
		}
		z, r := &moved[i], moved[i].r
		r.a0, r.a1 = r.a0+by, r.a1+by
		ok = s.lay(z, z.sow, r, friends[i])
	}
	if !ok || s.value <= before {
		s.undo(mark)
		return false
	}
	return true
}

// lay plants a sowing of a planting's want in a block of its bed, with its friend among it, if every rule allows it.
func (s *state) lay(x *placed, sow int, r rect, friend placed) bool {
	pl := &s.plots[x.bed]
	z, ok := s.build(x.want, sow, pl, r)
	if !ok || !s.allowed(x.bed, sow) || !s.vacant(pl, r, z.hold, z.clear, -1, -1) || !s.oneBlock(x.bed, z.family, z.start, z.clear, -1) {
		return false
	}
	s.rejoin(friend, s.put(z))
	return true
}
