package plan

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// This file takes up an earlier plan of the season: what of it still holds stays, and only a change
// that brings something worth the bother is made.

// churn is what a change of an earlier plan must gain, for each planting given up or for what is new: people have bought the seed
// and told the neighbours.
const churn = 40 * point

// goOn takes up an earlier plan.
func (p *problem) goOn(from *Plan) {
	p.old, p.served = from.Plantings, map[string]garden.Want{}
	for _, s := range from.Supply {
		for _, key := range s.Keys {
			p.served[key] = s.Want
		}
	}
}

// oldStarts are the days on which the earlier plan begins an option.
func (p *problem) oldStarts(o option) (days []civil.Date) {
	for _, was := range p.old {
		if was.CropID == o.crop.ID && was.Method == o.method && was.Protection == o.under() && p.season.Span().Has(was.Start) {
			days = append(days, was.Start)
		}
	}
	return days
}

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
		x, ok := s.amongAgain(was, want, sow, host)
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

// amongAgain is an earlier fast planting among a slow one's plants: as much of it as there was, or else as much as brings most.
func (s *state) amongAgain(was garden.Planting, want, sow, host int) (found placed, ok bool) {
	m := s.pairing(s.slots[host].sow, sow)
	pl := &s.plots[s.slots[host].bed]
	s.eachBetween(want, sow, m, host, func(x placed) {
		if x.rows == was.Rows && x.plants == was.Plants && pl.place(x.r) == was.Place {
			found, ok = x, true
		}
	})
	if ok {
		return found, true
	}
	found, _, ok = s.between(want, sow, m, host)
	return found, ok
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

// sameSowing is the want and the sowing that an earlier planting belonged to, one that leaves its ground on the same day if there is
// one, else as soon as can be; −1 when there is none.
func (s *state) sameSowing(was garden.Planting, among bool) (want, sow int) {
	want, sow = -1, -1
	least := 0 // days between the ground's being free then and now
	for _, i := range s.wantsOf(was) {
		lists := [][]int{s.wants[i].sowings}
		if among {
			lists = [][]int{s.wants[i].brief, s.wants[i].sowings}
		}
		for _, list := range lists {
			for _, k := range list {
				o, w := s.options[s.sows[k].option], &s.sows[k]
				if o.crop.ID != was.CropID || o.method != was.Method || o.under() != was.Protection || s.season.Start.Add(w.start) != was.Start {
					continue
				}
				days := was.Clear.Since(s.season.Start.Add(w.clear))
				if days < 0 {
					days = 400 - days // later than it was promised: what follows may have to wait
				}
				if want < 0 || days < least {
					want, sow, least = i, k, days
				}
			}
		}
	}
	return want, sow
}

// sameWant says whether a want is another's, perhaps with another amount.
func sameWant(a, b garden.Want) bool { return a.ID == b.ID && a.Crop == b.Crop && a.Basis == b.Basis }

// wantsOf are the wants that an earlier planting can serve, the one that it did first.
func (s *state) wantsOf(was garden.Planting) []int {
	var out []int
	for i := range s.wants {
		if !s.wants[i].serves(was.CropID) {
			continue
		}
		if w, ok := s.served[was.Key]; ok && sameWant(w, s.wants[i].want) {
			out = slices.Insert(out, 0, i)
		} else {
			out = append(out, i)
		}
	}
	return out
}
