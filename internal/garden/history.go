package garden

import (
	"cmp"
	"slices"
	"strings"

	"kailyard/internal/crop"
)

// Grown is a family that grew in a bed in a year.
type Grown struct {
	Family string
	Year   int
	Crop   string // its ID, where it is known
}

// Grown is every family that grew in a bed in the years from–to, both included, by year and name:
// from the history and from what stands in the ground, which counts in every year it stands.
func (g Garden) Grown(bedID int64, from, to int, crops *crop.Catalogue) []Grown {
	var all []Grown
	for _, p := range g.History {
		if p.BedID == bedID && p.Year >= from && p.Year <= to {
			if family := familyOf(p.CropID, p.Family, crops); family != "" {
				all = append(all, Grown{family, p.Year, p.CropID})
			}
		}
	}
	for _, p := range g.Standing {
		if p.BedID != bedID {
			continue
		}
		family := familyOf(p.CropID, "", crops)
		for year := max(from, p.Start.Year()); family != "" && year <= min(to, (p.Clear-1).Year()); year++ {
			all = append(all, Grown{family, year, p.CropID})
		}
	}
	slices.SortFunc(all, func(a, b Grown) int {
		return cmp.Or(cmp.Compare(a.Year, b.Year), strings.Compare(a.Family, b.Family), strings.Compare(a.Crop, b.Crop))
	})
	return slices.Compact(all)
}

// LastGrown is the latest year before a given one in which a family grew in a bed.
func (g Garden) LastGrown(bedID int64, family string, before int, crops *crop.Catalogue) (year int, ok bool) {
	for _, one := range g.Grown(bedID, firstYear, before-1, crops) {
		if strings.EqualFold(one.Family, family) {
			year, ok = one.Year, true
		}
	}
	return year, ok
}

// familyOf is the family told, or that of the crop told.
func familyOf(cropID, family string, crops *crop.Catalogue) string {
	if family != "" || crops == nil {
		return family
	}
	if c, ok := crops.Find(cropID); ok {
		return c.Family
	}
	if found, _ := crops.Match(cropID); len(found) > 0 {
		return found[0].Family
	}
	return ""
}

// Bed is the bed with an ID.
func (g Garden) Bed(id int64) (Bed, bool) {
	for _, b := range g.Beds {
		if b.ID == id {
			return b, true
		}
	}
	return Bed{}, false
}

// BedNamed is the bed with a name, letter case aside.
func (g Garden) BedNamed(name string) (Bed, bool) {
	for _, b := range g.Beds {
		if strings.EqualFold(strings.TrimSpace(b.Name), strings.TrimSpace(name)) {
			return b, true
		}
	}
	return Bed{}, false
}
