package plan

import (
	"fmt"
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// This file keeps to the light there is for seedlings: in no week do more trays stand under it than there are. A raised crop takes
// its trays from the week it is sown under cover to the week before it is hardened off (common practice). Trays are counted in
// thousandths, whole, so that adding and taking away leaves nothing behind. Source: PLAN-PRACTICE.

// loads are what a plan in the making takes of what the person has besides ground, by week from beforeSeason on.
type loads struct {
	shelf []int64 // thousandths of trays under light; nil: as many as it takes
	busy  []int64 // seconds of work; nil: as many as it takes
	stint []int64 // for the work of one planting; empty between
}

// beforeSeason is how many weeks before the season work and seedlings are counted from.
const beforeSeason = 40

// weekAt is the place of a day in a list of weeks that begins beforeSeason weeks before the season.
func weekAt(day int) int { return max(0, int(math.Floor(float64(day)/7))+beforeSeason) }

// usualHardening is how long plants are hardened off where the crop's file does not say; common practice.
const usualHardening = 7 // days

// underLight are the first and last week in which what is set out on a day stands under light.
func underLight(m crop.Method, raise, out int) (from, to int) {
	harden := m.Hardening
	if harden <= 0 {
		harden = usualHardening
	}
	from = weekAt(raise)
	return from, max(from, weekAt(out-harden-1))
}

func milliTrays(c *crop.Crop, plants int) int64 { return int64(math.Ceil(1000*c.Trays(plants) - 1e-9)) }

// newShelf is what stands under light already, by week; nil where nobody told how much light there is.
func (f *field) newShelf() []int64 {
	if f.garden.Site.Trays <= 0 {
		return nil
	}
	shelf := make([]int64, beforeSeason+horizonWeeks(f.season)+1)
	for _, p := range f.standing() {
		c, ok := f.crops.Find(p.CropID)
		if !ok || p.RaiseOn == nil || p.Method >= len(c.Methods) || p.Status == garden.Over || p.Status == garden.Lost {
			continue
		}
		from, to := underLight(c.Methods[p.Method], p.RaiseOn.Since(f.season.Start), p.Start.Since(f.season.Start))
		for w := from; w <= min(to, len(shelf)-1); w++ {
			shelf[w] += milliTrays(c, p.Plants)
		}
	}
	return shelf
}

// raises are the weeks in which a planting's seedlings stand under light, and their trays; none where it is not raised.
func (f *field) raises(x *placed) (from, to int, trays int64) {
	if x.sow < 0 {
		return 0, -1, 0
	}
	o := f.options[f.sows[x.sow].option]
	if o.how().Way != crop.SetOut {
		return 0, -1, 0
	}
	out := f.season.Start.Add(x.start)
	from, to = underLight(o.how(), raised(o.how(), out).Since(f.season.Start), x.start)
	return from, to, milliTrays(o.crop, x.plants)
}

// shelve puts a planting's trays under light, or takes them away.
func (s *state) shelve(x *placed, sign int64) {
	if s.shelf == nil {
		return
	}
	from, to, trays := s.raises(x)
	for w := from; w <= to && w < len(s.shelf); w++ {
		s.shelf[w] += sign * trays
	}
}

// shelved says whether there is light for a planting's seedlings.
func (s *state) shelved(x *placed) bool {
	if s.shelf == nil {
		return true
	}
	from, to, trays := s.raises(x)
	most := int64(1000 * s.garden.Site.Trays)
	for w := from; w <= to && w < len(s.shelf); w++ {
		if s.shelf[w]+trays > most {
			return false
		}
	}
	return true
}

// shelfNotes tell how full the light is at the fullest, and what is wrong where that is by the person's own doing.
func (w *writer) shelfNotes() []garden.Reason {
	if w.shelf == nil {
		return nil
	}
	at, most := 0, int64(0)
	for i, t := range w.shelf {
		if t > most {
			at, most = i, t
		}
	}
	if most == 0 {
		return []garden.Reason{{Rule: "trays", Source: practice, Says: "Nothing is raised under light."}}
	}
	says := fmt.Sprintf("There is light for %s of seedlings, and they take at most %s, in the week from %s.",
		traysWord(w.garden.Site.Trays), traysWord(float64(most)/1000), w.day(7*(at-beforeSeason)).Short())
	if float64(most) > 1000*w.garden.Site.Trays {
		says = fmt.Sprintf("Seedlings of what stands already or is kept exactly so take %s in the week from %s, and there is light for %s: let the planner move some, or find them another bright place.",
			traysWord(float64(most)/1000), w.day(7*(at-beforeSeason)).Short(), traysWord(w.garden.Site.Trays))
	}
	return []garden.Reason{{Rule: "trays", Source: practice, Says: says}}
}

func traysWord(trays float64) string { return quantity.Plural(math.Ceil(trays*10-1e-9)/10, "tray") }

// shelfFull says that a want's crop would be raised in weeks in which the light is taken; ok is false where it is not that.
func (w *writer) shelfFull(d *demand) (garden.Reason, bool) {
	if w.shelf == nil {
		return garden.Reason{}, false
	}
	set, full := 0, 0
	for _, k := range d.sowings {
		o := w.options[w.sows[k].option]
		if o.how().Way != crop.SetOut {
			continue
		}
		set++
		if x := (placed{sow: k, start: w.sows[k].start, plants: fewest(o.crop)}); !w.shelved(&x) {
			full++
		}
	}
	if set == 0 || 2*full < set {
		return garden.Reason{}, false
	}
	return garden.Reason{Rule: "trays", Source: practice, Says: fmt.Sprintf("The light for seedlings, %s, is taken on most of the days on which it would be raised.", traysWord(w.garden.Site.Trays))}, true
}
