package garden

import (
	"fmt"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
)

// Veto is what the person will not have. What is left empty does not narrow it: a veto with a bed alone keeps the bed empty, one
// with a crop alone keeps the crop out of the garden. It counts for what is yet to be planned; what stands or is pinned stays.
type Veto struct {
	ID     int64
	BedID  int64       // 0: in no bed
	Crop   string      // a crop's ID, or a kind ("tomato"); empty: any
	Family string      // instead of a crop: any of this family
	Way    crop.Way    // only where it goes into the ground so; empty: however it does
	Before *civil.Date // only where it goes into the ground before this day; nil: whenever it does
	Note   string
}

// Validate tells what is wrong with a veto. Without a catalogue crop and family are not looked up.
func (v Veto) Validate(crops *crop.Catalogue) Problems {
	var ps Problems
	if v.BedID == 0 && v.Crop == "" && v.Family == "" && v.Way == "" && v.Before == nil {
		ps.add("crop", "name a crop, a family, a bed, a way or a day", "it would forbid everything everywhere")
	}
	if v.Crop != "" && v.Family != "" {
		ps.add("family", "leave one of the two out", "both a crop and a family are given")
	}
	if v.Crop != "" {
		cropProblem(&ps, "crop", v.Crop, crops)
	}
	if v.Family != "" && crops != nil {
		familyProblem(&ps, v.Family, crops)
	}
	if v.Way != "" && v.Way != crop.Sow && v.Way != crop.SetOut && v.Way != crop.Set {
		ps.add("way", fmt.Sprintf("write %q, %q or %q", crop.Sow, crop.SetOut, crop.Set), "way is %q", v.Way)
	}
	if v.Before != nil && (v.Before.Year() < firstYear || v.Before.Year() > lastYear) {
		ps.add("before", "write the first day on which it may go into the ground", "the day is %s", v.Before)
	}
	return ps
}

// Says is a veto as the person would say it; bed is its bed's name.
func (v Veto) Says(bed string) string {
	what := "nothing"
	switch {
	case v.Crop != "":
		what = "no " + strings.ReplaceAll(v.Crop, "-", " ")
	case v.Family != "":
		what = "nothing of " + v.Family
	}
	switch v.Way {
	case crop.Sow:
		what += " sown where it is to stand"
	case crop.SetOut:
		what += " raised under cover and set out"
	case crop.Set:
		what += " planted as sets, tubers or the like"
	}
	switch {
	case v.BedID != 0:
		what += " in " + bed
	case v.Way == "" && v.Before == nil:
		what += " in any bed"
	}
	if v.Before != nil {
		what += " before " + v.Before.Long()
	}
	return what
}

// forbids says whether a veto is against a crop going into a bed in a way on a day.
func (v Veto) forbids(bed int64, c *crop.Crop, way crop.Way, start civil.Date, crops *crop.Catalogue) bool {
	if v.BedID != 0 && v.BedID != bed || v.Way != "" && v.Way != way || v.Before != nil && start >= *v.Before {
		return false
	}
	if v.Family != "" {
		return strings.EqualFold(v.Family, c.Family)
	}
	if v.Crop == "" {
		return true
	}
	found, _ := crops.Match(v.Crop)
	for _, one := range found {
		if one.ID == c.ID {
			return true
		}
	}
	return false
}

// Vetoed is the first veto against a planting, if there is one.
func (g Garden) Vetoed(p Planting, crops *crop.Catalogue) (Veto, bool) {
	c, ok := crops.Find(p.CropID)
	if !ok {
		return Veto{}, false
	}
	for _, v := range g.Vetoes {
		if v.forbids(p.BedID, c, p.Way, p.Start, crops) {
			return v, true
		}
	}
	return Veto{}, false
}

// VetoSays is a veto in words, with its bed by name.
func (g Garden) VetoSays(v Veto) string {
	b, _ := g.Bed(v.BedID)
	return v.Says(b.Name)
}

// readVeto reads one veto.
func (d *describer) readVeto(i int, t *table) Veto {
	f := d.fields("veto", i, t)
	var v Veto
	v.Crop, v.Family = f.text("crop", optional), f.text("family", optional)
	f.part = partName("veto", v.Crop+v.Family, i)
	if _, told := t.values["bed"]; told {
		v.BedID = f.bed("bed")
	} else {
		f.known = append(f.known, "bed")
	}
	v.Way = crop.Way(f.text("way", optional))
	v.Before = f.date("before")
	v.Note = f.text("note", optional)
	f.done()
	return v
}

func (s *scribe) veto(v Veto, g Garden) {
	s.head("[[veto]]")
	if b, ok := g.Bed(v.BedID); ok {
		s.text("bed", b.Name)
	}
	s.text("crop", v.Crop)
	s.text("family", v.Family)
	s.text("way", string(v.Way))
	s.date("before", v.Before)
	s.text("note", v.Note)
}
