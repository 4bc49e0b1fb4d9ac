package season

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
)

// Before is what a new plan must take over: the plans kept so far and what the journal tells.
type Before struct {
	Last    *plan.Plan // of the latest season before that has one; nil where there is none
	Kept    *plan.Plan // of the season itself; nil where there is none
	Journal []garden.Entry
	Afresh  bool       // plan what is not yet begun anew, whatever the kept plan had in mind
	Spent   []string   // keys that plantings have had, in any plan
	Day     civil.Date // the day the new plan is made on
}

// Carry is the garden with what was begun before a day standing in it: whoever plans anew has done
// the old plan's work so far, unless the journal says otherwise. A planting is begun when its first
// work, under cover or in the ground, falls before the day; one that shares its ground with a begun
// one goes with it. What is over or lost stays, to the day it ended, so that its family is
// remembered and its ground is free. What the season before left in the ground stays till it is
// cleared. Plantings that no longer fit their beds are cut short or left out, and notes say so.
func Carry(g garden.Garden, s civil.Season, crops *crop.Catalogue, b Before) (garden.Garden, []garden.Reason) {
	c := carrier{garden: g, season: s, crops: crops, ended: endings(b.Journal), known: map[string]bool{}}
	c.garden.Standing = nil
	if b.Kept != nil { // what the season's own plan says of a planting is the latest word
		c.addBegun(b.Kept.Plantings, b.Day)
	}
	for _, p := range g.Standing {
		if p.Start <= s.End() {
			c.add(p)
		}
	}
	if b.Last != nil {
		for _, p := range b.Last.Plantings {
			if p.Status != garden.Over && p.Status != garden.Lost && (p.Clear > s.Start || c.perennial(p)) {
				c.add(p)
			}
		}
	}
	return c.garden, c.notes
}

type carrier struct {
	garden garden.Garden
	season civil.Season
	crops  *crop.Catalogue
	ended  map[string]garden.Entry
	known  map[string]bool
	notes  []garden.Reason
}

// endings are the journal's last words on plantings cleared or failed.
func endings(journal []garden.Entry) map[string]garden.Entry {
	ended := map[string]garden.Entry{}
	for _, e := range journal {
		if e.Planting != "" && (e.Kind == garden.Cleared || e.Kind == garden.Failed) {
			ended[e.Planting] = e
		}
	}
	return ended
}

func (c *carrier) addBegun(plantings []garden.Planting, day civil.Date) {
	begun := map[string]bool{}
	for _, p := range plantings {
		if first(p) < day || p.Status == garden.InGround || p.Pinned {
			begun[p.Key] = true
		}
	}
	for _, p := range plantings {
		if begun[p.Key] || begun[p.Partner] {
			c.add(p)
		}
	}
}

// add lets a planting stand, once, in what there is of its bed and to the day it ended.
func (c *carrier) add(p garden.Planting) {
	if c.known[p.Key] {
		return
	}
	c.known[p.Key] = true
	if e, ok := c.ended[p.Key]; ok && e.Date >= p.Start {
		p.Clear, p.Status = max(e.Date, p.Start+1), garden.Over
		if e.Kind == garden.Failed {
			p.Status = garden.Lost
		}
	}
	if c.perennial(p) && p.Status != garden.Over && p.Status != garden.Lost {
		p.Clear = max(p.Clear, c.season.End()+366) // it stays till somebody takes it out
	}
	i := slices.IndexFunc(c.garden.Beds, func(b garden.Bed) bool { return b.ID == p.BedID })
	if i < 0 {
		c.note(p, "stands in a bed the garden no longer has, and is left out")
		return
	}
	if cut := clip(p.Place, c.garden.Beds[i]); cut != p.Place {
		if cut.Area() < p.Place.Area()/4 {
			c.note(p, "lies outside "+c.garden.Beds[i].Name+" as it is now, and is left out")
			return
		}
		c.note(p, "reaches beyond "+c.garden.Beds[i].Name+" as it is now, and is cut to it")
		share := float64(cut.Area() / p.Place.Area())
		p.Place, p.Plants, p.Expect = cut, int(float64(p.Plants)*share), p.Expect*quantity.Kilogram(share)
	}
	c.garden.Standing = append(c.garden.Standing, p)
}

func (c *carrier) perennial(p garden.Planting) bool {
	one, ok := c.crops.Find(p.CropID)
	return ok && one.Perennial
}

func (c *carrier) note(p garden.Planting, says string) {
	name := p.CropID
	if one, ok := c.crops.Find(p.CropID); ok {
		name = one.Name()
	}
	c.notes = append(c.notes, garden.Reason{Rule: "carried over", Says: fmt.Sprintf("%s (%s) %s.", name, p.Key, says)})
}

// clip is what of a place lies inside a bed.
func clip(p garden.Place, b garden.Bed) garden.Place {
	if p.Area() <= 0 {
		return p // the whole bed
	}
	p.AlongTo, p.AcrossTo = min(p.AlongTo, b.Length), min(p.AcrossTo, b.Width)
	p.AlongFrom, p.AcrossFrom = min(p.AlongFrom, p.AlongTo), min(p.AcrossFrom, p.AcrossTo)
	return p
}

// first is the day of a planting's first work.
func first(p garden.Planting) civil.Date {
	if p.RaiseOn != nil {
		return min(*p.RaiseOn, p.Start)
	}
	return p.Start
}
