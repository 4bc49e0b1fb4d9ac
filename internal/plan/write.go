package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// plan writes the state out as a Plan.
func (s *state) plan() *Plan {
	out := &Plan{Season: s.season, Settings: s.settings, Value: float64(s.value) / float64(point)}
	order, key := s.keys()
	w := &writer{state: s, key: key}
	for _, slot := range order {
		if !s.slots[slot].fixed {
			out.Plantings = append(out.Plantings, w.planting(slot))
		}
	}
	out.Plantings = append(out.Plantings, s.standing()...)
	index := map[int64]int{}
	for i := range s.plots {
		index[s.plots[i].bed.ID] = i
	}
	slices.SortStableFunc(out.Plantings, func(a, b garden.Planting) int {
		if a.Start != b.Start {
			return int(a.Start) - int(b.Start)
		}
		if a.BedID != b.BedID {
			return index[a.BedID] - index[b.BedID]
		}
		return strings.Compare(a.Key, b.Key)
	})
	for i := range s.wants {
		out.Supply = append(out.Supply, w.supply(i, order))
	}
	out.Notes = append(append(w.notes(), w.covers(out.Plantings)...), append(append(w.despite(), w.shelfNotes()...), w.toilNotes()...)...)
	return out
}

// keys orders the plantings by start, bed and place and gives each new one a key: its old one where
// the plan before had the very same planting, else one that nothing has or ever had.
func (s *state) keys() (order []int, key map[int]string) {
	key = map[int]string{}
	used := map[string]bool{}
	for i := range s.slots {
		if x := &s.slots[i]; x.live {
			order = append(order, i)
			if x.fixed {
				key[i] = x.key
			}
		}
	}
	for _, x := range s.garden.Standing {
		used[x.Key] = true
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := &s.slots[i], &s.slots[j]
		for _, d := range []int{a.start - b.start, a.bed - b.bed, a.r.a0 - b.r.a0, a.r.l0 - b.r.l0, int(a.mode) - int(b.mode), a.sow - b.sow} {
			if d != 0 {
				return d
			}
		}
		return 0
	})
	for _, i := range order {
		if old := s.oldKey(&s.slots[i]); old != "" && !used[old] {
			key[i], used[old] = old, true
		}
	}
	for _, x := range s.old {
		used[x.Key] = true
	}
	n := 0
	for _, i := range order {
		for key[i] == "" && !s.slots[i].fixed {
			n++
			if k := fmt.Sprintf("%d-%02d", s.season.Year(), n); !used[k] && !s.taken[k] {
				key[i] = k
			}
		}
	}
	return order, key
}

// oldKey is the key of the same planting in the plan before; empty when it is new.
func (s *state) oldKey(x *placed) string {
	if x.fixed {
		return ""
	}
	o, pl := s.options[s.sows[x.sow].option], &s.plots[x.bed]
	for _, was := range s.old {
		if was.BedID == pl.bed.ID && was.CropID == o.crop.ID && was.Method == o.method && was.Protection == o.under() && was.Start == s.season.Start.Add(x.start) &&
			was.Place == pl.place(x.r) && was.Role == role(x) {
			return was.Key
		}
	}
	return ""
}

// writer turns slots into plantings.
type writer struct {
	*state
	key map[int]string
}

func (p *problem) units() quantity.System { return p.garden.Site.Units }

// day is a date from a day of the search.
func (w *writer) day(d int) civil.Date { return w.season.Start.Add(d) }

func (w *writer) cropOf(x *placed) *crop.Crop { return w.options[w.sows[x.sow].option].crop }

// planting writes one slot.
func (w *writer) planting(slot int) garden.Planting {
	x := &w.slots[slot]
	sow := &w.sows[x.sow]
	o := w.options[sow.option]
	pl := &w.plots[x.bed]
	p := garden.Planting{
		Key: w.key[slot], Season: w.season.Year(), BedID: pl.bed.ID, CropID: o.crop.ID, Method: o.method, Way: o.how().Way, Protection: o.under(),
		Place: pl.place(x.r), Rows: x.rows, Plants: x.plants, Start: w.day(x.start), Clear: w.day(x.clear),
		Emerge: sow.sum.Emerge, First: sow.sum.First, Last: sow.sum.Last, Role: role(x),
		Success: sow.sum.Success, Years: sow.sum.Years, Expect: quantity.Kilogram(kg(w.bears(x))), Status: garden.Planned,
	}
	if x.partner >= 0 {
		p.Partner = w.key[x.partner]
	}
	if o.how().Way == crop.SetOut {
		raise := raised(o.how(), p.Start)
		p.RaiseOn = &raise
		p.Emerge = garden.Spread{}
	}
	p.Reasons = w.reasons(slot)
	return p
}

// bears is what a planting is expected to give, in milligrams.
func (w *writer) bears(x *placed) int64 {
	var sum int64
	for _, y := range w.sows[x.sow].yield {
		sum += int64(y * x.full)
	}
	return sum
}

// kg turns milligrams into kilograms, to the gram.
func kg(mg int64) float64 { return math.Round(float64(mg)/1000) / 1000 }

// supply writes how far a want is met.
func (w *writer) supply(i int, order []int) Supply {
	d := &w.wants[i]
	out := Supply{Want: d.want, Asked: quantity.Kilogram(kg(d.asked)), Weeks: make([]quantity.Kilogram, len(w.harvest[i]))}
	for k, mg := range w.harvest[i] {
		out.Weeks[k] = quantity.Kilogram(kg(mg))
	}
	out.Expected = quantity.Kilogram(kg(w.used(i)))
	for _, slot := range order {
		x := &w.slots[slot]
		if x.want == i {
			out.Keys = append(out.Keys, w.key[slot])
		}
	}
	for _, s := range w.standing() {
		if w.servesFirst(s.CropID) == i && (s.Expect > 0 || w.bearing(s) > 0) {
			out.Keys = append(out.Keys, s.Key)
		}
	}
	if float64(out.Expected) < 0.95*float64(out.Asked) || len(d.sowings) == 0 && len(out.Keys) == 0 {
		out.Short = w.short(i)
	}
	return out
}

// servesFirst is the first want that a crop serves, −1 for none.
func (f *field) servesFirst(id string) int {
	for i := range f.wants {
		if f.wants[i].serves(id) {
			return i
		}
	}
	return -1
}

// used is the useful part of a want's harvest in milligrams.
func (w *writer) used(i int) int64 {
	d := &w.wants[i]
	if d.weekly == nil {
		return w.total[i]
	}
	var sum int64
	d.useful(append([]int64(nil), w.harvest[i]...), func(_ int, eaten int64) { sum += eaten })
	return sum
}
