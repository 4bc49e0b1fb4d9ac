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

// names says whether a veto is against a crop at all.
func (p *problem) names(v garden.Veto, c *crop.Crop) bool {
	switch {
	case v.Family != "":
		return strings.EqualFold(v.Family, family(c))
	case v.Crop != "":
		found, _ := p.crops.Match(v.Crop)
		return slices.ContainsFunc(found, func(one *crop.Crop) bool { return one.ID == c.ID })
	}
	return true
}

// closed says whether a veto closes a bed to a crop, however and whenever it is grown.
func (p *problem) closed(bed int64, c *crop.Crop) bool {
	return slices.ContainsFunc(p.garden.Vetoes, func(v garden.Veto) bool {
		return v.BedID == bed && v.Way == "" && v.Before == nil && p.names(v, c)
	})
}

// against are the vetoes against a crop begun in a way on a day in a bed, by their place in the garden's list. Bed 0 asks for those
// that count in every bed.
func (p *problem) against(bed int64, c *crop.Crop, way crop.Way, start civil.Date) (list []int) {
	for i, v := range p.garden.Vetoes {
		if v.BedID == bed && (v.Way == "" || v.Way == way) && (v.Before == nil || start < *v.Before) && p.names(v, c) {
			list = append(list, i)
		}
	}
	return list
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
