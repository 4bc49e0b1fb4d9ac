package plan

import (
	"iter"
	"sort"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// rotationYears is the least years before a crop's family may return to a bed.
func (p *problem) rotationYears(c *crop.Crop) int { return max(p.settings.Rotation, c.Rotation) }

// family is the family of a crop; one without a family is its own.
func family(c *crop.Crop) string {
	if c.Family != "" {
		return c.Family
	}
	return c.ID
}

// pastFamily is the family of an entry of the history; empty when it is unknown.
func (p *problem) pastFamily(h garden.Past) string {
	if h.CropID != "" {
		if c, ok := p.crops.Find(h.CropID); ok {
			return family(c)
		}
	}
	return h.Family
}

// lastGrown is the latest year before the season in which a family grew in a bed; 0 for never.
func (p *problem) lastGrown(bed int64, fam string) int {
	last := 0
	for _, h := range p.garden.History {
		if h.BedID == bed && h.Year < p.season.Year() && h.Year > last && p.pastFamily(h) == fam {
			last = h.Year
		}
	}
	return last
}

// wholeBed is the share of a bed that a family had from which the whole bed rests: what is left
// between is too near the old roots to be worth the trouble.
const wholeBed = 2.0 / 3

// rested says whether a bed as a whole has rested from a crop's family long enough. Where the history
// knows which part of a bed the family had, only that part rests, unless it was most of the bed.
func (p *problem) rested(b garden.Bed, c *crop.Crop) bool {
	had := 0.0
	for _, h := range p.garden.History {
		if h.BedID != b.ID || !p.tired(h, c) {
			continue
		}
		if h.Place.Area() <= 0 {
			return false
		}
		had += float64(h.Place.Area())
	}
	return had < wholeBed*float64(b.Area())
}

// tired says whether a line of the history forbids a crop on its ground.
func (p *problem) tired(h garden.Past, c *crop.Crop) bool {
	return h.Year < p.season.Year() && p.season.Year()-h.Year < p.rotationYears(c) && p.pastFamily(h) == family(c)
}

// resting is the ground of a plot that rests from an option's family: in a bed the whole width of the
// stretch that the family had, for the other half is within a root's reach.
func (f *field) resting(plot, option int) []rect {
	if f.rest == nil {
		f.rest = make([][][]rect, len(f.plots))
		for i := range f.plots {
			f.rest[i] = make([][]rect, len(f.options))
			for _, h := range f.garden.History {
				if h.BedID != f.plots[i].bed.ID || h.Place.Area() <= 0 {
					continue
				}
				for o := range f.options {
					if f.tired(h, f.options[o].crop) {
						r := f.plots[i].covers(h.Place)
						if !f.plots[i].open {
							r.l0, r.l1 = 0, f.plots[i].lanes
						}
						f.rest[i][o] = append(f.rest[i][o], r)
					}
				}
			}
		}
	}
	return f.rest[plot][option]
}

// rests says whether any of a block rests from an option's family.
func (f *field) rests(plot, option int, r rect) bool {
	for _, t := range f.resting(plot, option) {
		if t.meets(r) {
			return true
		}
	}
	return false
}

// refusal is why a crop may not stand in a bed at all.
type refusal uint8

const (
	welcome refusal = iota
	tooShady
	tooSoon       // rotation
	keptPerennial // the bed is kept for perennials
	notPerennial  // perennials have beds of their own
	tooNarrow     // not even the whole bed holds a sensible stand
	unsafe        // a soil test shows lead or salts that stop it
	vetoed        // the person will not have it there: told by takes alone
)

// refuses says whether and why a bed never takes a crop.
func (p *problem) refuses(pl *plot, c *crop.Crop) refusal {
	for why := range p.refusals(pl, c) {
		return why
	}
	return welcome
}

// refusals are all the reasons why a bed never takes a crop, the weightiest first.
func (p *problem) refusals(pl *plot, c *crop.Crop) iter.Seq[refusal] {
	return func(yield func(refusal) bool) {
		_ = (!p.stopped(pl.bed.ID, c) || yield(unsafe)) &&
			(!c.Perennial || pl.bed.Perennial || yield(notPerennial)) &&
			(c.Perennial || !pl.bed.Perennial || yield(keptPerennial)) &&
			(!p.tooDark(pl.bed, c) || yield(tooShady)) &&
			(pl.holds(c) || yield(tooNarrow)) &&
			(p.rested(pl.bed, c) || yield(tooSoon))
	}
}

// families numbers the families of the options and standing plantings, by name.
func (p *problem) families() map[string]int {
	names := map[string]bool{}
	for _, o := range p.options {
		names[family(o.crop)] = true
	}
	for _, s := range p.garden.Standing {
		if c, ok := p.crops.Find(s.CropID); ok {
			names[family(c)] = true
		}
	}
	list := make([]string, 0, len(names))
	for n := range names {
		list = append(list, n)
	}
	sort.Strings(list)
	number := make(map[string]int, len(list))
	for i, n := range list {
		number[n] = i
	}
	return number
}
