package plan

import "math/rand/v2"

// mover makes random changes to a plan; each leaves it true to every rule.
type mover struct {
	*state
	r *rand.Rand
}

// move makes one change of a random sort.
func (m *mover) move() {
	switch n := m.r.IntN(100); {
	case n < 20:
		m.insert(4)
	case n < 43:
		m.force()
	case n < 52:
		if slot, ok := m.pick(); ok {
			m.take(slot)
			m.refill(3)
		}
	case n < 66:
		m.resize()
	case n < 76:
		m.shift()
	case n < 82:
		m.elsewhere()
	case n < 86:
		m.swap()
	case n < 92:
		m.among()
	case n < 97:
		m.nest()
	default:
		m.clearing()
	}
}

// nest moves a planting that stands alone among the plants of a slow one, as whichever sowing of its
// want does best there. Every other time the slow one first takes the ground that has become free.
func (m *mover) nest() {
	q, ok := m.pick()
	if !ok {
		return
	}
	p, ok := m.pick()
	if !ok || p == q || m.slots[q].mode != apart || m.slots[q].partner >= 0 {
		return
	}
	if x := &m.slots[p]; x.mode != apart || x.partner >= 0 {
		return
	}
	want := m.slots[q].want
	m.take(q)
	if m.r.IntN(2) == 0 {
		x := m.slots[p]
		m.take(p)
		y, _, ok := m.fit(x.want, x.sow, x.bed)
		if !ok {
			return
		}
		p = m.put(y)
	}
	var best placed
	var most int64
	for _, f := range m.friends(m.slots[p].sow) {
		if f.want != want {
			continue
		}
		if x, g, ok := m.between(want, f.sow, f.mode, p); ok && g > most {
			best, most = x, g
		}
	}
	if most > 0 {
		m.put(best)
	}
	m.settle(p) // it may grow into the ground that has become free
}

// pick is a random planting that may be changed.
func (m *mover) pick() (int, bool) {
	if len(m.slots) == 0 {
		return 0, false
	}
	for range 8 {
		slot := m.r.IntN(len(m.slots))
		if x := &m.slots[slot]; x.live && !x.fixed {
			return slot, true
		}
	}
	return 0, false
}

// hungry is a random want, the likelier the more it lacks and weighs; ok is false when none can be served.
func (m *mover) hungry() (int, bool) {
	best, lack := -1, int64(-1)
	for range 2 {
		w := m.r.IntN(len(m.wants))
		if len(m.wants[w].sowings) == 0 {
			continue
		}
		full := unit << (m.wants[w].want.Weight - 1)
		if l := full - m.worth[w]; l > lack {
			best, lack = w, l
		}
	}
	return best, best >= 0
}

// insert adds the best of n random plantings, if any gains.
func (m *mover) insert(n int) bool {
	var best placed
	var most int64
	want, ok := m.hungry()
	if !ok {
		return false
	}
	for range n {
		bed, sow, ok := m.guide.draw(m.r, want)
		if !ok {
			return false
		}
		if x, g, ok := m.fit(want, sow, bed); ok && g > most {
			best, most = x, g
		}
	}
	if most > 0 {
		m.put(best)
	}
	return most > 0
}

// refill tries to use ground that has become free.
func (m *mover) refill(n int) {
	for range n {
		m.insert(4)
	}
}

// force plants a random sowing where it pleases and throws out what stands in the way.
func (m *mover) force() {
	want, ok := m.hungry()
	if !ok {
		return
	}
	bed, sow, ok := m.guide.draw(m.r, want)
	if !ok {
		return
	}
	pl, w := &m.plots[bed], &m.sows[sow]
	if !m.allowed(bed, sow) {
		return
	}
	wide := pl.lanes
	if pl.lanes > 1 && m.r.IntN(3) == 0 {
		wide = 1 + m.r.IntN(pl.lanes)
	}
	l0 := m.r.IntN(pl.lanes - wide + 1)
	if !pl.reached(m.options[w.option].crop, l0, l0+wide) {
		return
	}
	n, _ := m.size(want, sow, pl, l0, l0+wide, pl.cells)
	if n == 0 {
		return
	}
	a0 := m.r.IntN(pl.cells - n + 1)
	switch m.r.IntN(4) {
	case 0:
		a0 = 0
	case 1:
		a0 = pl.cells - n
	case 2:
		if k := len(m.inBed[bed]); k > 0 { // beside another
			a0 = min(m.slots[m.inBed[bed][m.r.IntN(k)]].r.a1, pl.cells-n)
		}
	}
	x, ok := m.build(want, sow, pl, rect{a0, a0 + n, l0, l0 + wide})
	if !ok {
		return
	}
	out, ok := m.evict(&x)
	if !ok {
		return
	}
	m.put(x)
	for _, y := range out {
		if y.mode == apart {
			m.resettle(&y)
		}
	}
	m.refill(1)
}

// resettle plants what was thrown out where it still fits: in its own bed, else in one that suits its want.
func (m *mover) resettle(y *placed) {
	best, most, _ := m.fit(y.want, y.sow, y.bed)
	for range 2 {
		if most > 0 && m.r.IntN(2) == 0 {
			break
		}
		bed, sow, ok := m.guide.draw(m.r, y.want)
		if !ok {
			break
		}
		if z, g, ok := m.fit(y.want, sow, bed); ok && g > most {
			best, most = z, g
		}
	}
	if most > 0 {
		m.put(best)
	}
}

// inTheWay says whether one planting of a bed keeps another out: by its ground, or because it is kin
// and not there at the same time.
func (s *state) inTheWay(x, y *placed) bool {
	return (y.hold < x.clear && x.hold < y.clear && y.r.meets(x.r)) ||
		(y.family == x.family && (y.start >= x.clear || x.start >= y.clear))
}

// evict removes what stands in the way of a planting, and says what that was; false when something may not be moved.
func (m *mover) evict(x *placed) (out []placed, ok bool) {
	for again := true; again; {
		again = false
		for _, slot := range m.inBed[x.bed] {
			y := &m.slots[slot]
			if !m.inTheWay(x, y) {
				continue
			}
			if y.fixed {
				return nil, false
			}
			out = append(out, *y)
			m.take(slot)
			again = true
			break
		}
	}
	return out, true
}

// resize moves one end of a planting.
func (m *mover) resize() {
	slot, ok := m.pick()
	if !ok || m.slots[slot].mode != apart {
		return
	}
	if m.r.IntN(2) == 0 {
		m.settle(slot)
		return
	}
	x := m.slots[slot]
	pl := &m.plots[x.bed]
	by := 1 + m.r.IntN(3)
	if m.r.IntN(2) == 0 {
		by = -by
	}
	r := x.r
	if m.r.IntN(2) == 0 {
		r.a0 = max(0, r.a0-by)
	} else {
		r.a1 = min(pl.cells, r.a1+by)
	}
	if r.a1 <= r.a0 || r == x.r {
		return
	}
	m.replant(slot, x.want, x.sow, r)
}

// shift tries another day, or another type or method, for a planting.
func (m *mover) shift() {
	slot, ok := m.pick()
	if !ok || m.slots[slot].mode != apart {
		return
	}
	x := m.slots[slot]
	list := m.wants[x.want].sowings
	sow := list[m.r.IntN(len(list))]
	if near := x.sow + m.r.IntN(7) - 3; m.r.IntN(3) > 0 && near >= list[0] && near <= list[len(list)-1] && m.sows[near].option == m.sows[x.sow].option {
		sow = near
	}
	if sow != x.sow && !m.replant(slot, x.want, sow, x.r) {
		m.take(slot)
		if y, _, ok := m.fit(x.want, sow, x.bed); ok {
			m.put(y)
		}
	}
}

// elsewhere moves a planting to another bed and uses the ground it leaves.
func (m *mover) elsewhere() {
	slot, ok := m.pick()
	if !ok {
		return
	}
	x := m.slots[slot]
	m.take(slot)
	if y, _, ok := m.fit(x.want, x.sow, m.r.IntN(len(m.plots))); ok {
		m.put(y)
	}
	m.refill(2)
}

// swap lets two plantings change beds.
func (m *mover) swap() {
	a, ok := m.pick()
	if !ok {
		return
	}
	x := m.slots[a]
	m.take(a)
	b, ok := m.pick()
	if !ok {
		return
	}
	y := m.slots[b]
	m.take(b)
	if z, _, ok := m.fit(x.want, x.sow, y.bed); ok {
		m.put(z)
	}
	if z, _, ok := m.fit(y.want, y.sow, x.bed); ok {
		m.put(z)
	}
	m.refill(1)
}

// among plants a fast crop between a slow one's plants.
func (m *mover) among() {
	slot, ok := m.pick()
	if !ok {
		return
	}
	if x := &m.slots[slot]; x.mode != apart {
		slot = x.partner
	}
	if p := m.slots[slot].partner; p >= 0 {
		m.take(p)
	}
	if m.slots[slot].fixed {
		return
	}
	list := m.friends(m.slots[slot].sow)
	if len(list) == 0 {
		return
	}
	if n := markersOf(list); n > 0 && m.r.IntN(2) == 0 {
		list = list[:n]
	}
	var best placed
	var most int64
	for range 12 {
		f := list[m.r.IntN(len(list))]
		if x, g, ok := m.between(f.want, f.sow, f.mode, slot); ok && g > most {
			best, most = x, g
		}
	}
	if most > 0 {
		m.put(best)
	}
}

// markersOf counts the markers, which stand first, of a list of friends.
func markersOf(list []friend) int {
	n := 0
	for n < len(list) && list[n].mode == inTheDrill {
		n++
	}
	return n
}

// clearing empties a bed for a part of the season and plants it anew.
func (m *mover) clearing() {
	bed := m.r.IntN(len(m.plots))
	from := m.r.IntN(m.season.Days)
	to := from + 30 + m.r.IntN(120)
	for again := true; again; {
		again = false
		for _, slot := range m.inBed[bed] {
			if x := &m.slots[slot]; !x.fixed && x.start < to && from < x.clear {
				m.take(slot)
				again = true
				break
			}
		}
	}
	m.refill(8)
}
