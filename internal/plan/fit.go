package plan

// This file finds room: which ground is free for a span of days, how large a planting should be,
// and where it goes.

// occupy marks in the grid the cells of a plot held at some time in [hold, clear), or resting from the
// option's family.
func (s *state) occupy(pl *plot, option, hold, clear int) []bool {
	g := s.grid[:pl.cells*pl.lanes]
	for i := range g {
		g[i] = false
	}
	for _, slot := range s.inBed[pl.index] {
		x := &s.slots[slot]
		if x.hold >= clear || hold >= x.clear {
			continue
		}
		for l := x.r.l0; l < x.r.l1; l++ {
			for a := x.r.a0; a < x.r.a1; a++ {
				g[l*pl.cells+a] = true
			}
		}
	}
	for _, r := range s.resting(pl.index, option) {
		for l := r.l0; l < r.l1; l++ {
			for a := r.a0; a < r.a1; a++ {
				g[l*pl.cells+a] = true
			}
		}
	}
	return g
}

// vacant says whether a block is free for [hold, clear), leaving out up to two slots.
func (s *state) vacant(pl *plot, r rect, hold, clear, but, butToo int) bool {
	for _, slot := range s.inBed[pl.index] {
		x := &s.slots[slot]
		if slot != but && slot != butToo && x.hold < clear && hold < x.clear && x.r.meets(r) {
			return false
		}
	}
	return true
}

// oneBlock says whether a family's new planting shares a day with each of the family's plantings in
// the bed, so that none of them follows another.
func (s *state) oneBlock(bed, fam, start, clear, but int) bool {
	for _, slot := range s.inBed[bed] {
		x := &s.slots[slot]
		if slot != but && x.family == fam && (x.start >= clear || start >= x.clear) {
			return false
		}
	}
	return true
}

// build sizes a planting of a sowing in a block of a plot; ok is false when it is not worth planting
// there, the ground rests from its family, or there is no light for its seedlings.
func (s *state) build(want, sow int, pl *plot, r rect) (placed, bool) {
	x, ok := s.sized(want, sow, pl, r)
	return x, ok && !s.rests(pl.index, s.sows[sow].option, r) && s.shelved(&x)
}

// sized sizes a planting of a sowing in a block, wherever in the plot that comes to lie; ok is false
// when it is not worth planting or only marks a drill.
func (s *state) sized(want, sow int, pl *plot, r rect) (placed, bool) {
	w := &s.sows[sow]
	c := s.options[w.option].crop
	st := pl.stand(c, r)
	if !pl.reached(c, r.l0, r.l1) || (c.Practice.Vine && !pl.runsOut(r)) {
		return placed{}, false
	}
	x := placed{
		want: want, sow: sow, bed: pl.index, r: r, rows: st.rows, plants: st.plants(),
		area: st.area, full: st.full * s.share(pl.index, sow),
		hold: w.hold(s.settings.TurnDays), start: w.start, clear: w.clear, family: w.family, partner: -1,
	}
	return x, !w.brief && sensible(c, st)
}

// gain is what a planting would add to the value; nothing where there is no light for its seedlings.
func (s *state) gain(x *placed) int64 {
	if s.years > 0 {
		return s.gainOver(x)
	}
	if !s.shelved(x) {
		return 0
	}
	d, w := &s.wants[x.want], &s.sows[x.sow]
	promise, cost := s.promise[x.want]+int64(w.promise*x.full), s.cost(x)+s.toilOf(x)
	if d.weekly == nil {
		total, at := s.total[x.want], s.ends[x.want]
		for _, y := range w.yield {
			mg := int64(y * x.full)
			total += mg
			at.add(w, mg)
		}
		return d.value(nil, total, promise, at, nil) - s.worth[x.want] + s.markGain(x) - cost
	}
	if d.carry == 0 && len(w.yield) > 0 {
		var more int64
		h := s.harvest[x.want]
		for i, y := range w.yield {
			ask, had := d.weekly[w.week+i], h[w.week+i]
			more += d.worth(had+int64(y*x.full), ask) - d.worth(had, ask)
		}
		return more + s.markGain(x) - cost
	}
	t := s.trial
	copy(t, s.harvest[x.want])
	for i, y := range w.yield {
		t[w.week+i] += int64(y * x.full)
	}
	return d.value(t, 0, promise, ends{}, s.scratch) - s.worth[x.want] + s.markGain(x) - cost
}

// size is the best length, in cells up to most, of a planting over lanes l0–l1, and its gain.
func (s *state) size(want, sow int, pl *plot, l0, l1, most int) (cells int, best int64) {
	try := func(n int) (g int64, ok bool) {
		x, ok := s.sized(want, sow, pl, rect{0, n, l0, l1})
		if !ok {
			return 0, false
		}
		if g = s.gain(&x); g > best {
			cells, best = n, g
		}
		return g, true
	}
	step := 1
	for n := 1; n <= most; n += step {
		g, ok := try(n)
		if !ok {
			continue
		}
		if cells > 0 && g < best-workPlanting {
			break
		}
		step = 1 + n/6
	}
	if at := cells; at > 6 { // the long steps may have passed the best length by
		for n := max(1, at-at/6); n <= min(most, at+at/6); n++ {
			try(n)
		}
	}
	return cells, best
}

// fit is the best planting of a sowing in the free ground of a bed: first the lanes and the size
// that gain most, then the tightest free run that holds it.
func (s *state) fit(want, sow, bed int) (placed, int64, bool) {
	pl, w := &s.plots[bed], &s.sows[sow]
	if !s.allowed(bed, sow) || !s.oneBlock(bed, w.family, w.start, w.clear, -1) {
		return placed{}, 0, false
	}
	grid := s.occupy(pl, w.option, w.hold(s.settings.TurnDays), w.clear)
	var best placed
	var most int64
	c := s.options[w.option].crop
	for wide := pl.lanes; wide >= 1; wide-- {
		for l0 := 0; l0+wide <= pl.lanes; l0++ {
			if !pl.reached(c, l0, l0+wide) {
				continue
			}
			ends := c.Practice.Vine && !pl.runsOut(rect{1, pl.cells - 1, l0, l0 + wide})
			longest := longestRun(grid, pl, l0, l0+wide, ends)
			if longest == 0 {
				continue
			}
			n, g := s.size(want, sow, pl, l0, l0+wide, longest)
			if n == 0 || g <= most {
				continue
			}
			r := tightestRun(grid, pl, l0, l0+wide, n, ends)
			x, ok := s.build(want, sow, pl, r)
			if !ok {
				continue
			}
			if g = s.gain(&x); g > most {
				best, most = x, g
			}
		}
	}
	return best, most, most > 0
}

// runs calls each with every free run of cells over lanes l0–l1.
func runs(grid []bool, pl *plot, l0, l1 int, each func(from, to int)) {
	from := -1
	for a := 0; a <= pl.cells; a++ {
		open := a < pl.cells
		for l := l0; open && l < l1; l++ {
			open = !grid[l*pl.cells+a]
		}
		switch {
		case open && from < 0:
			from = a
		case !open && from >= 0:
			each(from, a)
			from = -1
		}
	}
}

// longestRun is the longest free run; with ends only those that reach an end of the bed count.
func longestRun(grid []bool, pl *plot, l0, l1 int, ends bool) int {
	longest := 0
	runs(grid, pl, l0, l1, func(from, to int) {
		if !ends || from == 0 || to == pl.cells {
			longest = max(longest, to-from)
		}
	})
	return longest
}

// tightestRun places n cells at the start of the shortest free run that holds them, or at its end
// when the run reaches the bed's far end, so that what stays free stays in one piece.
func tightestRun(grid []bool, pl *plot, l0, l1, n int, ends bool) rect {
	best := rect{0, 1 << 20, l0, l1}
	runs(grid, pl, l0, l1, func(from, to int) {
		if ends && from > 0 && to < pl.cells {
			return
		}
		if to-from >= n && to-from < best.a1-best.a0 {
			best.a0, best.a1 = from, to
		}
	})
	if best.a0 > 0 && best.a1 == pl.cells {
		best.a0 = best.a1 - n
	}
	best.a1 = best.a0 + n
	return best
}

// between is the best planting of a fast sowing among a slow one's plants.
func (s *state) between(want, sow int, m mode, slot int) (best placed, most int64, ok bool) {
	s.eachBetween(want, sow, m, slot, func(x placed) {
		if g := s.gain(&x); g > most {
			best, most = x, g
		}
	})
	return best, most, most > 0
}

// eachBetween calls each with the plantings of a fast sowing that there is room for among a slow one's plants, the largest first.
func (s *state) eachBetween(want, sow int, m mode, slot int, each func(x placed)) {
	slow := &s.slots[slot]
	w := &s.sows[sow]
	if slow.fixed || slow.mode != apart || slow.partner >= 0 || !s.allowed(slow.bed, sow) ||
		!s.oneBlock(slow.bed, w.family, w.start, w.clear, -1) {
		return
	}
	hold := w.hold(s.settings.TurnDays)
	pl := &s.plots[slow.bed]
	if m == apart || s.rests(slow.bed, w.option, slow.r) || !s.vacant(pl, slow.r, hold, w.clear, slot, -1) {
		return
	}
	sc, fc := s.options[s.sows[slow.sow].option].crop, s.options[w.option].crop
	inRow, apart := spacing(fc.Spacing)
	x := placed{
		want: want, sow: sow, bed: slow.bed, hold: hold, start: w.start, clear: w.clear, family: w.family, mode: m, partner: slot,
	}
	switch {
	case m == inTheDrill:
		s.eachInDrills(x, slow, each)
		return
	case slow.rows == 1 && m != inTheRow: // there is no between the rows of one row
		if !s.stayApart(slow.sow, sow, inTheRow) {
			return
		}
		m, x.mode = inTheRow, inTheRow
	}
	for n := slow.r.a1 - slow.r.a0; n >= 1; n -= 1 + n/6 {
		x.r = slow.r
		x.r.a1 = x.r.a0 + n
		st := pl.stand(sc, x.r)
		rows, perRow := m.fastRows(sc, fc, st)
		if rows < 1 || rows*perRow < fewest(fc) {
			break
		}
		x.rows, x.plants, x.area = rows, rows*perRow, st.area
		x.full = min(st.area, float64(x.plants)*inRow*apart) * s.share(slow.bed, sow)
		if x.full < leastAmong {
			break
		}
		each(x)
	}
}

// leastAmong is the least ground's worth of a fast crop that is worth planting among a slow one.
const leastAmong = 0.35 // m² at its own spacing

// eachInDrills calls each with every number of a slow planting's drills that can be marked, each over its whole length: a
// marker that ends half-way shows half a drill.
func (s *state) eachInDrills(x placed, slow *placed, each func(x placed)) {
	sc, fc := s.options[s.sows[slow.sow].option].crop, s.options[s.sows[x.sow].option].crop
	inRow, apart := spacing(fc.Spacing)
	x.r = slow.r
	st := s.plots[slow.bed].stand(sc, x.r)
	rows, perRow := inTheDrill.fastRows(sc, fc, st)
	for x.rows = rows; x.rows >= 1 && perRow > 0; x.rows-- {
		x.plants, x.area = x.rows*perRow, st.area
		x.full = min(st.area, float64(x.plants)*inRow*apart) * s.share(x.bed, x.sow)
		each(x)
	}
}
