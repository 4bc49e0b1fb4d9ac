package plan

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// A cover is work: it has to be put on, opened and shut, and taken off. So it is thought of only where the
// garden has it, for crops that find room under it, and on days on which the same planting in the open fails the
// asked share of years; and it costs the plan workCover and workCovered. A want may say otherwise: in the open only,
// or under one cover, which is then there and is used on every day.

// mayCover says whether an option's cover is there for some want and the crop can stand under it.
func (p *problem) mayCover(o option) bool {
	return growth.Fits(o.crop, o.cover) && (p.garden.Site.Has(o.cover.ID) || p.asksFor(o))
}

// asksFor says whether a want names an option's crop and its cover.
func (p *problem) asksFor(o option) bool {
	for _, w := range p.garden.Wants {
		if w.Under != o.cover.ID {
			continue
		}
		found, _ := p.crops.Match(w.Crop)
		if slices.ContainsFunc(found, func(c *crop.Crop) bool { return c.ID == o.crop.ID }) {
			return true
		}
	}
	return false
}

// outgrown says whether no cover will serve from a start day: the crop would outgrow it while the nights are cold.
func outgrown(o option, start civil.Date) bool {
	t, ok := o.times.(interface{ Outgrows(civil.Date) bool })
	return o.cover != nil && ok && t.Outgrows(start)
}

// coverIdle says whether a start day needs no cover, for it does in the open as well.
func (p *problem) coverIdle(o option, start civil.Date) bool {
	if o.cover == nil {
		return false
	}
	bare, ok := p.inTheOpen(o)
	return ok && enough(bare.times.Summary(start), p.settings.Share)
}

// suits says whether a sowing stands under what its want asks for.
func (p *problem) suits(w garden.Want, s *sowing) bool {
	o := p.options[s.option]
	switch {
	case o.cover == nil:
		return w.Under == "" || w.Under == garden.InTheOpen
	case w.Under == "":
		return !s.idle && p.garden.Site.Has(o.cover.ID)
	}
	return w.Under == o.cover.ID
}

// suiting are the sowings of a list that stand under what a want asks for.
func (f *field) suiting(w garden.Want, list []int) []int {
	return slices.DeleteFunc(slices.Clone(list), func(k int) bool { return !f.suits(w, &f.sows[k]) })
}

// inTheOpen is the same crop by the same method without a cover.
func (p *problem) inTheOpen(o option) (option, bool) {
	for _, other := range p.options {
		if other.cover == nil && other.crop == o.crop && other.method == o.method {
			return other, true
		}
	}
	return option{}, false
}

// whyCover says what a planting's cover brings; nothing in the open.
func (p *problem) whyCover(o option, start civil.Date) []garden.Reason {
	if o.cover == nil {
		return nil
	}
	says := upper(fmt.Sprintf("under %s, reckoned %s warmer by night and up to %s by day",
		o.cover.Under(), p.units().TemperatureChange(o.cover.Night), p.units().TemperatureChange(o.cover.Day)))
	bare, ok := p.inTheOpen(o)
	if !ok {
		return []garden.Reason{{Says: says + ".", Rule: "cover", Source: p.coverSource(o)}}
	}
	s := bare.times.Summary(start)
	says += fmt.Sprintf("; in the open the same day succeeds in %d years of %d.", s.Success, s.Years)
	win, inWindow := p.window(o, start)
	open := bare.times.Windows(p.settings.Share)
	switch earlier, later, meets := growth.Widens(win, open); {
	case !inWindow:
	case !meets:
		says += " In the open there is no window at that time."
	case earlier > 0 && start < open[firstMeeting(win, open)].From:
		says += fmt.Sprintf(" Its window opens %s earlier than in the open.", quantity.Plural(float64(earlier), "day"))
	case later > 0:
		says += fmt.Sprintf(" Its window closes %s later than in the open.", quantity.Plural(float64(later), "day"))
	}
	return []garden.Reason{{Says: says, Rule: "cover", Source: p.coverSource(o)}}
}

// whyAsked says that a want asks for a cover, or for none.
func (w *writer) whyAsked(want garden.Want) []garden.Reason {
	switch want.Under {
	case "":
		return nil
	case garden.InTheOpen:
		if len(w.garden.Site.Covers) == 0 {
			return nil
		}
		return []garden.Reason{{Says: fmt.Sprintf("The want for %s asks for it in the open.", want.Crop), Rule: "want"}}
	}
	return []garden.Reason{{Says: fmt.Sprintf("The want for %s asks for it under %s.", want.Crop, w.underNamed(want.Under)), Rule: "want"}}
}

// underNamed is a cover as one stands under it, by its ID.
func (w *writer) underNamed(id string) string {
	if c, _ := crop.FindProtection(id); c != nil {
		return c.Under()
	}
	return id
}

func firstMeeting(win growth.Window, open []growth.Window) int {
	return slices.IndexFunc(open, func(o growth.Window) bool { return o.Meets(win.Span) })
}

// coverSource is the key of the source of the gain by night.
func (p *problem) coverSource(o option) string {
	for _, f := range o.cover.Figures {
		if f.Field == "gain.night" {
			return f.Source
		}
	}
	return ""
}

// covers are notes on how much of each cover the plan needs at once.
func (w *writer) covers(plantings []garden.Planting) []garden.Reason {
	var out []garden.Reason
	ids := slices.Clone(w.garden.Site.Covers)
	for _, p := range plantings {
		if p.Protection != "" && !slices.Contains(ids, p.Protection) {
			ids = append(ids, p.Protection)
		}
	}
	for _, id := range ids {
		var under []garden.Planting
		for _, p := range plantings {
			if p.Protection == id {
				under = append(under, p)
			}
		}
		if len(under) == 0 {
			continue
		}
		var most quantity.SquareMetre
		var on civil.Date
		for _, p := range under {
			var area quantity.SquareMetre
			for _, q := range under {
				if q.Span().Has(p.Start) {
					area += q.Place.Area()
				}
			}
			if area > most+1e-9 {
				most, on = area, p.Start
			}
		}
		says := fmt.Sprintf("%s stands over %s; at most %s of it is needed at once, about %s.",
			upper(w.coverNamed(id)), quantity.Plural(float64(len(under)), "planting"), w.units().Area(most), on.Short())
		if !w.garden.Site.Has(id) {
			says += " It is not among the covers the garden is said to have: get it in time."
		}
		out = append(out, garden.Reason{Rule: "cover", Says: says})
	}
	return out
}

func (w *writer) coverNamed(id string) string {
	for _, o := range w.options {
		if o.under() == id {
			return o.cover.Name
		}
	}
	return id
}
