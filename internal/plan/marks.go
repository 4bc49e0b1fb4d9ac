package plan

// This file counts what a fast crop does for the slow one it stands among, apart from its own harvest: a marker shows the slow
// drills before they are up, so that they can be hoed, and a fast crop keeps the ground between slow plants covered. Each counts
// for so much ground of a want as the gardener gains by; beyond that a marker is only a radish.

// marks is the ground, in cm², on which a want's plants have others among them.
type marks struct{ drills, amid int64 }

// mostMarked is the ground of a want, in cm², up to which either counts. Source: PLAN-PRACTICE (estimate).
const mostMarked = 2 * 1e4

func (m marks) worth() int64 {
	return min(m.drills, mostMarked)*(worthMarker/1e4) + min(m.amid, mostMarked)*(worthAmong/1e4)
}

// add counts a planting that stands among another's; drills of what is better raised under cover are no ground for sowing it.
func (m *marks) add(x *placed, unusual bool, sign int64) {
	switch area := sign * int64(x.area*1e4); {
	case x.mode == inTheDrill && !unusual:
		m.drills += area
	case x.mode != inTheDrill:
		m.amid += area
	}
}

// hostOf is the want of what a planting stands among, and whether that is grown by an unusual method.
func (s *state) hostOf(x *placed) (want int, unusual bool) {
	host := &s.slots[x.partner]
	return host.want, s.sows[host.sow].unusual
}

// mark adds (sign 1) or takes away (−1) what a planting does for its host, with its worth.
func (s *state) mark(x *placed, sign int64) {
	if x.mode == apart {
		return
	}
	want, unusual := s.hostOf(x)
	m := &s.marked[want]
	before := m.worth()
	m.add(x, unusual, sign)
	s.value += m.worth() - before
}

// markGain is what a planting would do for its host.
func (s *state) markGain(x *placed) int64 {
	if x.mode == apart {
		return 0
	}
	want, unusual := s.hostOf(x)
	m := s.marked[want]
	before := m.worth()
	m.add(x, unusual, 1)
	return m.worth() - before
}
