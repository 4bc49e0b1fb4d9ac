package plan

import (
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

// rested says whether a bed has rested from a crop's family long enough.
func (p *problem) rested(bed int64, c *crop.Crop) bool {
	last := p.lastGrown(bed, family(c))
	return last == 0 || p.season.Year()-last >= p.rotationYears(c)
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
)

// refuses says whether and why a bed never takes a crop.
func (p *problem) refuses(pl *plot, c *crop.Crop) refusal {
	switch {
	case c.Perennial && !pl.bed.Perennial:
		return notPerennial
	case !c.Perennial && pl.bed.Perennial:
		return keptPerennial
	case lightShare(pl.bed.Sun, c.Light) == 0:
		return tooShady
	case !pl.holds(c):
		return tooNarrow
	case !p.rested(pl.bed.ID, c):
		return tooSoon
	}
	return welcome
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
