package plan

import (
	"slices"

	"kailyard/internal/allot"
)

// This file lets fast crops into the market, among slow ones: they take no ground.

// groupOf is the group of fast sowings that may stand among a slow one of a want; −1 for none.
func (m *market) groupOf(want, slow int) int {
	at := [2]int{want, slow}
	if g, ok := m.groups[at]; ok {
		return g
	}
	var group []int32
	for _, f := range m.friends(slow) {
		if id := m.fastUse(want, slow, f); id >= 0 {
			group = append(group, id)
		}
	}
	slices.Sort(group)
	group = slices.Compact(group)
	g := -1
	if len(group) > 0 {
		g = len(m.r.Friends)
		m.r.Friends = append(m.r.Friends, group)
	}
	m.groups[at] = g
	return g
}

// fastUse is a fast sowing among a slow one's plants, by the square metre of the slow one's ground.
func (m *market) fastUse(host, slow int, f friend) int32 {
	share := m.brightest(f.sow)
	if share <= 0 {
		return -1
	}
	drill := f.mode == inTheDrill
	key := useKey{want: f.want, sow: f.sow, host: host + 1, share: shareSteps, fill: share * m.amongFill(slow, f), drill: drill, among: true}
	if id, ok := m.at[key]; ok {
		return id
	}
	u := m.harvestOf(f.want, f.sow, key.fill)
	u.Friends = -1
	if drill {
		u.Yields = append(u.Yields, allot.Yield{Demand: m.extra(host) + 1, KilogramsPerSquare: 1})
	} else {
		u.Yields = append(u.Yields, allot.Yield{Demand: m.extra(host) + 2, KilogramsPerSquare: 1})
		u.LeastArea = leastAmong / key.fill
		if m.without&byWork == 0 {
			u.Cost = inPoints(workPlanting * 3 / 4)
		}
	}
	if m.sows[f.sow].unusual && m.without&byWork == 0 {
		u.Cost += inPoints(workUnusual)
		u.CostPerSquare += m.raising(&m.sows[f.sow], key.fill/share)
	}
	m.weighWork(&u)
	return m.keep(key, u)
}

// brightest is the most that any bed leaves of a sowing's yield.
func (m *market) brightest(sow int) float64 {
	if m.bests == nil {
		m.bests = map[int]float64{}
	}
	if known, ok := m.bests[sow]; ok {
		return known
	}
	best := 0.0
	for i := range m.plots {
		best = max(best, m.leaves(i, sow))
	}
	m.bests[sow] = best
	return best
}

// amongFill is the most ground, by its own spacing, that a fast crop fills for each square metre of a slow one: the slow one's
// rows as close as any block of the garden has them.
func (m *market) amongFill(slow int, f friend) float64 {
	sc, fc := m.options[m.sows[slow].option].crop, m.options[m.sows[f.sow].option].crop
	rows, gaps := 0.0, 0.0
	for i := range m.plots {
		of := m.filled(&m.plots[i], sc)
		rows, gaps = max(rows, of.rows), max(gaps, of.between)
	}
	own, between := spacing(fc.Spacing)
	inRow, _ := spacing(sc.Spacing)
	fill := func(md mode) float64 {
		switch md {
		case betweenRows:
			return gaps * between
		case inSquares:
			return gaps * own * between / inRow
		case inTheRow:
			return rows * own * between / inRow
		}
		return rows * own * between / max(markerApart, own)
	}
	most := fill(f.mode)
	if f.mode != inTheDrill && f.mode != inTheRow && m.stayApart(slow, f.sow, inTheRow) { // where there is one row
		most = max(most, fill(inTheRow))
	}
	return min(1, most)
}
