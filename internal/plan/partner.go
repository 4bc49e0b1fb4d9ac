package plan

import (
	"math"
	"slices"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// mode is where the fast plants of an intercrop stand.
type mode uint8

const (
	apart       mode = iota // they may not share ground
	betweenRows             // a row of fast plants midway between two rows
	inSquares               // one in the middle of four slow plants
	inTheRow                // one midway between two slow plants of a row
	inTheDrill              // a marker in the slow one's own drill
)

// markerApart is the least distance between marker plants in a slow crop's drill (common practice:
// one every four inches). Source: PLAN-PRACTICE.
const markerApart = 0.1 // m

// needsRoom is the share of its grown width at which a slow crop needs the room that markers take
// in its drill (estimate). Source: PLAN-PRACTICE.
const needsRoom = 0.75

// distance is how far a fast plant stands from the nearest slow one, in metres.
func (m mode) distance(slow *crop.Crop) float64 {
	inRow, between := spacing(slow.Spacing)
	switch m {
	case betweenRows:
		return between / 2
	case inSquares:
		return math.Hypot(inRow, between) / 2
	case inTheRow:
		return inRow / 2
	}
	return 0
}

// fits says whether fast plants keep their own distance from each other.
func (m mode) fits(slow, fast *crop.Crop) bool {
	inRow, between := spacing(slow.Spacing)
	own, _ := spacing(fast.Spacing)
	switch m {
	case betweenRows:
		return between >= own-1e-9
	case inSquares:
		return min(inRow, between) >= own-1e-9
	case inTheRow:
		return min(inRow, between) >= own-1e-9
	}
	return true
}

// fastRows is the rows and plants in a row of the fast crop among a slow stand.
func (m mode) fastRows(slow, fast *crop.Crop, s stand) (rows, perRow int) {
	inRow, _ := spacing(slow.Spacing)
	own, _ := spacing(fast.Spacing)
	fit := func(apart float64) int { return int(math.Floor(s.length/apart + 1e-6)) }
	switch m {
	case betweenRows:
		return s.rows - 1, fit(own)
	case inSquares:
		return s.rows - 1, fit(inRow)
	case inTheRow:
		return s.rows, max(0, fit(inRow)-1)
	case inTheDrill:
		return s.rows, fit(max(markerApart, own))
	}
	return 0, 0
}

// pairing says whether a fast sowing may stand among a slow one, and where: only while their
// canopies, grown as in the year in ten that grows most, do not meet before the fast one is out.
func (f *field) pairing(slow, fast int) mode {
	a, b := &f.sows[slow], &f.sows[fast]
	if f.options[a.option].cover != nil || f.options[b.option].cover != nil {
		return apart // what stands under a cover has it to itself
	}
	so, fo := f.options[a.option].crop, f.options[b.option].crop
	if so.Kind == fo.Kind || so.Perennial || fo.Perennial || b.clear >= a.clear || a.brief {
		return apart
	}
	if b.brief && fo.Practice.Marker {
		if so.Practice.SlowRow && b.start == a.start && f.options[a.option].how().Way == crop.Sow &&
			f.slowWide(slow, b.clear-1) <= needsRoom*float64(so.Plant.Spread) {
			return inTheDrill
		}
		return apart
	}
	if !quickAmong(a, b) || !standsAmong(so, fo) || (!inSquares.fits(so, fo) && !betweenRows.fits(so, fo)) {
		return apart
	}
	for _, m := range []mode{betweenRows, inSquares, inTheRow} {
		if f.stayApart(slow, fast, m) {
			return m
		}
	}
	return apart
}

// stayApart says whether the fast plants have their place in a mode and their canopies and the slow
// ones' do not meet there before the fast one is out.
func (f *field) stayApart(slow, fast int, m mode) bool {
	so, fo := f.options[f.sows[slow].option].crop, f.options[f.sows[fast].option].crop
	return m.fits(so, fo) && f.slowWide(slow, f.sows[fast].clear-1)/2+f.fastWide(fast)/2 <= m.distance(so)+1e-9
}

// The times of an intercrop: the fast crop is quick, goes in near the slow one's start, and leaves
// it time of its own after it. Source: PLAN-PRACTICE.
const (
	fastMost   = 84  // days the fast crop holds its place at most
	fastBefore = 42  // days it may go in before the slow one
	fastAfter  = 28  // and after
	fastShare  = 0.8 // of the slow one's days at most; the canopies say when it must be out
)

func quickAmong(slow, fast *sowing) bool {
	days := fast.clear - fast.start
	return fast.clear > slow.start && days <= fastMost && float64(days) <= fastShare*float64(slow.clear-slow.start) &&
		fast.start >= slow.start-fastBefore && fast.start <= slow.start+fastAfter
}

// standsAmong says whether a crop's habit lets it stand between another's plants: neither is
// earthed up or runs; the fast one wants no block, is slender, needs no support, is not picked over
// for weeks, and grows no taller than the slow one, unless it is low itself. Kin may stand together, as in
// a bed of their own: they are there at the same time, and the ground rests from both.
func standsAmong(slow, fast *crop.Crop) bool {
	if slow.Practice.EarthUp || slow.Practice.Vine || fast.Practice.EarthUp || fast.Practice.Vine || fast.Practice.Block {
		return false
	}
	if fast.Harvest.Manner == crop.Repeated && fast.Harvest.Part != "leaf" {
		return false // picked over weeks: the feet of the picker are in the way too
	}
	const low, slender = 0.4, 0.4 // m
	return fast.Plant.Spread <= slender && fast.Practice.Support == "" && fast.Plant.Height <= max(slow.Plant.Height, low)
}

// slowWide is the canopy of a slow sowing on a day, or up to six days after: canopies only grow, so
// one reading a week errs to the safe side.
func (f *field) slowWide(sow, day int) float64 {
	s := &f.sows[sow]
	if day < s.start {
		return 0
	}
	k := (day - s.start + 6) / 7
	for len(f.wide[sow]) <= k {
		f.wide[sow] = append(f.wide[sow], -1)
	}
	if f.wide[sow][k] < 0 {
		f.wide[sow][k] = f.canopy(s, s.start+7*k)
	}
	return f.wide[sow][k]
}

// fastWide is the canopy of a fast sowing on its last day.
func (f *field) fastWide(sow int) float64 {
	s := &f.sows[sow]
	if f.widest[sow] == 0 {
		f.widest[sow] = f.canopy(s, s.clear-1) + 1e-9
	}
	return f.widest[sow]
}

// canopy is a sowing's diameter in metres on a day in the year in ten that grows most.
func (f *field) canopy(s *sowing, day int) float64 {
	_, _, p90 := f.options[s.option].times.Canopy(f.season.Start.Add(s.start), f.season.Start.Add(day))
	return float64(p90)
}

// friend is a sowing of a want that may stand among a slow sowing.
type friend struct {
	want, sow int
	mode      mode
}

// friends are all that may stand among a slow sowing, worked out once.
func (f *field) friends(slow int) []friend {
	if known, ok := f.among[slow]; ok {
		return known
	}
	out := []friend{}
	for want := range f.wants {
		for _, list := range [][]int{f.wants[want].sowings, f.wants[want].brief} {
			for _, sow := range list {
				if m := f.pairing(slow, sow); m != apart {
					out = append(out, friend{want, sow, m})
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b friend) int { // markers first
		return int(b.mode/inTheDrill) - int(a.mode/inTheDrill)
	})
	f.among[slow] = out
	return out
}

// role is the part a planting plays.
func role(p *placed) garden.Role {
	switch {
	case p.mode == inTheDrill:
		return garden.Marker
	case p.mode != apart:
		return garden.Fast
	case p.partner >= 0:
		return garden.Slow
	}
	return garden.Alone
}
