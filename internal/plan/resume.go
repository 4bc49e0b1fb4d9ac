package plan

import "kailyard/internal/garden"

// This file takes up an earlier plan of the season: what of it still holds stays, and only a change
// that brings something worth the bother is made.

// churn is what a change of an earlier plan must gain, for each planting given up or for what is new: people have bought the seed
// and told the neighbours.
const churn = 40 * point

// resume puts back the earlier plan's plantings that still fit, the slow ones before those among
// them, and says whether any did.
func (s *state) resume() bool {
	standing := map[string]bool{}
	for _, x := range s.garden.Standing {
		standing[x.Key] = true
	}
	slots := map[string]int{}
	for pass := 0; pass < 2; pass++ {
		for _, was := range s.old {
			among := was.Role == garden.Fast || was.Role == garden.Marker
			if among != (pass == 1) || standing[was.Key] {
				continue
			}
			if at, ok := s.again(was, slots, among); ok {
				slots[was.Key] = at
			}
		}
	}
	return len(slots) > 0
}

// again plants an earlier plan's planting anew where it was; ok is false when that can no longer be.
func (s *state) again(was garden.Planting, slots map[string]int, among bool) (slot int, ok bool) {
	bed := -1
	for i := range s.plots {
		if s.plots[i].bed.ID == was.BedID {
			bed = i
		}
	}
	want, sow := s.sameSowing(was, among)
	if bed < 0 || want < 0 {
		return 0, false
	}
	w := &s.sows[sow]
	if !s.allowed(bed, sow) || !s.oneBlock(bed, w.family, w.start, w.clear, -1) {
		return 0, false
	}
	if among {
		host, ok := slots[was.Partner]
		if !ok {
			return 0, false
		}
		x, _, ok := s.between(want, sow, s.pairing(s.slots[host].sow, sow), host)
		if !ok {
			return 0, false
		}
		x.kept = true
		return s.put(x), true
	}
	pl := &s.plots[bed]
	r := pl.covers(was.Place)
	x, ok := s.build(want, sow, pl, r)
	if !ok || pl.place(r) != was.Place || !s.vacant(pl, r, x.hold, x.clear, -1, -1) {
		return 0, false
	}
	x.kept = true
	return s.put(x), true
}

// givenUp counts what of the earlier plan the changes since the log's start take away.
func (s *state) givenUp() int {
	n := 0
	for _, c := range s.log {
		if !c.added && c.was.kept {
			n++
		}
	}
	return n
}

// sameSowing is the want and the sowing that an earlier planting belonged to; −1 when there is none.
func (s *state) sameSowing(was garden.Planting, among bool) (want, sow int) {
	for i := range s.wants {
		if !s.wants[i].serves(was.CropID) {
			continue
		}
		lists := [][]int{s.wants[i].sowings}
		if among {
			lists = [][]int{s.wants[i].brief, s.wants[i].sowings}
		}
		for _, list := range lists {
			for _, k := range list {
				o, w := s.options[s.sows[k].option], &s.sows[k]
				if o.crop.ID == was.CropID && o.method == was.Method && o.under() == was.Protection &&
					s.season.Start.Add(w.start) == was.Start && s.season.Start.Add(w.clear) == was.Clear {
					return i, k
				}
			}
		}
	}
	return -1, -1
}
