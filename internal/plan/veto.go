package plan

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// This file keeps to what the person will not have. A veto against a whole crop in a bed closes the bed to it; one that is narrower
// by way or day strikes out sowings, in one bed or in all.

// names says whether a veto, by its place in the garden's list, is against a crop at all.
func (f *field) names(veto int, c *crop.Crop) bool {
	v := f.garden.Vetoes[veto]
	switch {
	case v.Family != "":
		return strings.EqualFold(v.Family, family(c))
	case v.Crop == "":
		return true
	}
	if f.meant == nil {
		f.meant = map[int]map[string]bool{}
	}
	if f.meant[veto] == nil {
		f.meant[veto] = map[string]bool{}
		found, _ := f.crops.Match(v.Crop)
		for _, one := range found {
			f.meant[veto][one.ID] = true
		}
	}
	return f.meant[veto][c.ID]
}

// closed says whether a veto closes a plot to a crop, however and whenever it is grown.
func (f *field) closed(plot int, c *crop.Crop) bool {
	for i, v := range f.garden.Vetoes {
		if v.BedID == f.plots[plot].bed.ID && v.Way == "" && v.Before == nil && f.names(i, c) {
			return true
		}
	}
	return false
}

// against are the vetoes against a crop begun in a way on a day in a bed, by their place in the garden's list. Bed 0 asks for those
// that count in every bed.
func (f *field) against(bed int64, c *crop.Crop, way crop.Way, start civil.Date) (list []int) {
	for i, v := range f.garden.Vetoes {
		if v.BedID == bed && (v.Way == "" || v.Way == way) && (v.Before == nil || start < *v.Before) && f.names(i, c) {
			list = append(list, i)
		}
	}
	return list
}

// takes is refuses, and that the person has not closed the bed to the crop.
func (f *field) takes(plot int, c *crop.Crop) refusal {
	if r := f.refuses(&f.plots[plot], c); r != welcome {
		return r
	}
	if f.closed(plot, c) {
		return vetoed
	}
	return welcome
}

// strike leaves out the sowings that a veto forbids in every bed, and keeps which veto took of which crop.
func (f *field) strike(list []sowing) []sowing {
	if len(f.garden.Vetoes) == 0 {
		return list
	}
	return slices.DeleteFunc(list, func(s sowing) bool {
		o := f.options[s.option]
		by := f.against(0, o.crop, o.how().Way, f.season.Start.Add(s.start))
		f.remember(by, o.crop)
		return len(by) > 0
	})
}

func (f *field) remember(by []int, c *crop.Crop) {
	for _, v := range by {
		if f.struck == nil {
			f.struck = map[int]map[string]bool{}
		}
		if f.struck[v] == nil {
			f.struck[v] = map[string]bool{}
		}
		f.struck[v][c.ID] = true
	}
}

// bar marks, bed by bed, the sowings that a veto forbids there.
func (f *field) bar() {
	f.bars = make([][]bool, len(f.plots))
	for i := range f.plots {
		bed := f.plots[i].bed.ID
		if !slices.ContainsFunc(f.garden.Vetoes, func(v garden.Veto) bool { return v.BedID == bed }) {
			continue
		}
		f.bars[i] = make([]bool, len(f.sows))
		for k := range f.sows {
			s := &f.sows[k]
			o := f.options[s.option]
			if by := f.against(bed, o.crop, o.how().Way, f.season.Start.Add(s.start)); len(by) > 0 {
				f.bars[i][k] = true
				f.remember(by, o.crop)
			}
		}
	}
}

// barred says whether a veto keeps a sowing out of a bed.
func (f *field) barred(bed, sow int) bool { return f.bars[bed] != nil && f.bars[bed][sow] }

// vetoed says which vetoes count against a want; ok is false when none does.
func (w *writer) vetoed(d *demand) (garden.Reason, bool) {
	var says []string
	for i, v := range w.garden.Vetoes {
		for id := range w.struck[i] {
			if d.serves(id) {
				says = append(says, w.garden.VetoSays(v))
				break
			}
		}
	}
	switch {
	case len(says) == 0:
		return garden.Reason{}, false
	case len(d.sowings) == 0:
		return garden.Reason{Rule: "veto", Says: fmt.Sprintf("What you will not have leaves it no way to be grown here: %s. Take that back, or leave the want out.", strings.Join(says, "; "))}, true
	}
	return garden.Reason{Rule: "veto", Says: fmt.Sprintf("What you will not have counts against it: %s.", strings.Join(says, "; "))}, true
}

// despite are notes on what stands, or is kept exactly so, against a veto.
func (w *writer) despite() (out []garden.Reason) {
	for _, s := range w.standing() {
		c, ok := w.crops.Find(s.CropID)
		if !ok || s.Status == garden.Over || s.Status == garden.Lost {
			continue
		}
		by := append(w.against(s.BedID, c, s.Way, s.Start), w.against(0, c, s.Way, s.Start)...)
		if len(by) == 0 {
			continue
		}
		b, _ := w.garden.Bed(s.BedID)
		why := "it was begun before this plan"
		if s.Pinned && s.Status == garden.Planned {
			why = "you keep it exactly so; let the planner move it, and it goes"
		}
		out = append(out, garden.Reason{Rule: "veto", Says: fmt.Sprintf("%s (%s) stays in %s though you will have %s: %s.",
			upper(c.Name()), s.Key, b.Name, w.garden.VetoSays(w.garden.Vetoes[by[0]]), why)})
	}
	return out
}
