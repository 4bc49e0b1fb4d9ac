package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// practice is the source of the planner's own rules.
const practice = "PLAN-PRACTICE"

// reasons says for one planting why here, why on this day, why so large, why with this partner and
// what stands in the ground before and after it.
func (w *writer) reasons(slot int) []garden.Reason {
	x := &w.slots[slot]
	var out []garden.Reason
	out = append(out, w.whyBed(x)...)
	out = append(out, w.whyDay(x)...)
	out = append(out, w.whySize(x)...)
	out = append(out, w.whyPlace(x)...)
	if x.partner >= 0 {
		out = append(out, w.whyPartner(slot))
	}
	return append(out, w.neighboursInTime(slot)...)
}

// whyBed speaks of light, soil and rotation.
func (w *writer) whyBed(x *placed) []garden.Reason {
	c, b := w.cropOf(x), w.plots[x.bed].bed
	out := append([]garden.Reason{w.whyLight(x, c, b)}, w.soil[BedCrop{b.ID, c.ID}].Reasons...)
	if c.Perennial {
		return append(out, garden.Reason{Says: fmt.Sprintf("It stays for years, and %s is kept for such crops.", b.Name), Rule: "perennials"})
	}
	return append(out, garden.Reason{Says: w.rotationSays(b, c), Rule: "rotation", Source: practice})
}

// rotationSays tells when the family last grew in a bed and what grew there of late.
func (w *writer) rotationSays(b garden.Bed, c *crop.Crop) string {
	fam, years := family(c), w.rotationYears(c)
	var late []string
	for year := w.season.Year() - 1; year >= w.season.Year()-years; year-- {
		if names := w.grewIn(b.ID, year); names != "" {
			late = append(late, fmt.Sprintf("%d %s", year, names))
		}
	}
	before := ""
	if len(late) > 0 {
		before = " Before it: " + strings.Join(late, "; ") + "."
	}
	if last := w.lastGrown(b.ID, fam); last > 0 {
		return fmt.Sprintf("%s last grew in %s in %d, %s ago; %s must pass before it returns.%s",
			fam, b.Name, last, quantity.Plural(float64(w.season.Year()-last), "year"), quantity.Plural(float64(years), "year"), before)
	}
	if before == "" {
		return fmt.Sprintf("No crop is recorded in %s in the last %s.", b.Name, quantity.Plural(float64(years), "year"))
	}
	return fmt.Sprintf("No %s is recorded in %s.%s", fam, b.Name, before)
}

// grewIn names what the history has for a bed and year.
func (w *writer) grewIn(bed int64, year int) string {
	var names []string
	for _, h := range w.garden.History {
		if h.BedID != bed || h.Year != year {
			continue
		}
		name := h.Family
		if c, ok := w.crops.Find(h.CropID); ok {
			name = c.Kind
		}
		if name != "" && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return strings.Join(names, ", ")
}

// whyDay speaks of the window, the chance and the day the ground is free.
func (w *writer) whyDay(x *placed) []garden.Reason {
	sow := &w.sows[x.sow]
	o := w.options[sow.option]
	out := append(w.dayReasons(o, sow.sum, w.day(x.clear)), whyMethod(o.crop, o.how(), x.plants)...)
	return append(out, w.whyAsked(w.wants[x.want].want)...)
}

// dayReasons are why an option is begun on the day of a summary, and when its ground is promised to be free.
func (p *problem) dayReasons(o option, sum growth.Summary, clear civil.Date) []garden.Reason {
	start := sum.Start
	says := fmt.Sprintf("%s on %s succeeds in %d years of %d.", doing(o.how().Way), start.Short(), sum.Success, sum.Years)
	out := []garden.Reason{{Says: says, Rule: "window"}}
	if win, ok := p.window(o, start); ok {
		out[0].Says += fmt.Sprintf(" Its window, with at least %.0f %%, runs %s.", 100*p.settings.Share, win.Span)
		out = append(out, win.Opens.Reason(p.units()), win.Closes.Reason(p.units()))
	}
	out = append(out, p.whyCover(o, start)...)
	if o.how().Way == crop.SetOut {
		out = append(out, garden.Reason{Rule: "weeks indoors", Says: fmt.Sprintf(
			"Sown under cover on %s, %s before it goes out.", raised(o.how(), start).Short(), quantity.Plural(o.how().WeeksIndoors.Mid(), "week"))})
	}
	if !o.crop.Perennial {
		out = append(out, garden.Reason{Rule: "clear", Says: fmt.Sprintf(
			"The ground is promised to be free from %s: in %.0f %% of the years that bear, the last harvest is before it.", clear.Short(), 100*p.settings.Share)})
	} else if n := o.crop.Harvest.FirstYear; n > 1 {
		out = append(out, garden.Reason{Rule: "perennials", Says: fmt.Sprintf("The first full harvest is in year %d after planting; none is counted this season.", n)})
	}
	return out
}

// raised is the day a crop to be set out is sown under cover.
func raised(m crop.Method, out civil.Date) civil.Date {
	return out.Add(-int(math.Round(7 * m.WeeksIndoors.Mid())))
}

// window is the window that holds a day.
func (p *problem) window(o option, day civil.Date) (growth.Window, bool) {
	for _, win := range o.times.Windows(p.settings.Share) {
		if win.Has(day) {
			return win, true
		}
	}
	return growth.Window{}, false
}

// doing is what one does to begin.
func doing(way crop.Way) string {
	switch way {
	case crop.SetOut:
		return "Setting out"
	case crop.Set:
		return "Planting"
	}
	return "Sowing"
}

// gives says what plants give: "12 plants give about 3.1 kg".
func (p *problem) gives(plants int, harvest quantity.Kilogram) string {
	verb := "give"
	if plants == 1 {
		verb = "gives"
	}
	return fmt.Sprintf("%s %s about %s", quantity.Plural(float64(plants), "plant"), verb, p.units().Mass(harvest))
}

// whySize compares what the planting gives with what the want asks.
func (w *writer) whySize(x *placed) []garden.Reason {
	d := &w.wants[x.want]
	u := w.units()
	mass := func(mg int64) string { return u.Mass(quantity.Kilogram(kg(mg))) }
	says := w.gives(x.plants, quantity.Kilogram(kg(w.bears(x))))
	if d.weekly == nil {
		says += fmt.Sprintf(" of the %s of %s asked for.", mass(d.asked), d.want.Crop)
	} else {
		says += fmt.Sprintf(" in all; of %s %s is asked for each week.", d.want.Crop, mass(slices.Max(d.weekly)))
	}
	out := []garden.Reason{{Says: says, Rule: "size"}}
	if n := w.sowingsFor(x.want); d.weekly != nil && n > 1 {
		says := fmt.Sprintf("One of %d staggered plantings for a steady supply.", n)
		if every := w.cropOf(x).Practice.Succession; every > 0 {
			says += fmt.Sprintf(" The crop is usually sown again every %s.", quantity.Plural(float64(every), "day"))
		}
		out = append(out, garden.Reason{Says: says, Rule: "succession"})
	}
	return out
}

// whyPlace speaks of the room a vine runs into and of the path beside a block on wide ground.
func (w *writer) whyPlace(x *placed) []garden.Reason {
	c, pl, u := w.cropOf(x), &w.plots[x.bed], w.units()
	var out []garden.Reason
	if c.Practice.Vine {
		where := "the side of its ground"
		if x.r.a0 == 0 || x.r.a1 == pl.cells {
			where = "an end of its bed"
		}
		out = append(out, garden.Reason{Rule: "vine", Source: practice, Says: fmt.Sprintf(
			"It stands at %s because it runs, to about %s across: lead the vines out over the path and away from the neighbours.", where, u.Distance(c.Plant.Spread))})
	}
	if x.mode != apart || !pl.open {
		return out
	}
	from, to := pl.across(x.r.l0, x.r.l1)
	switch {
	case to-from > reachWidth+1e-9:
		out = append(out, garden.Reason{Rule: "path", Source: practice, Says: "Its rows are far enough apart to walk between."})
	case x.r.l0 > 0:
		out = append(out, garden.Reason{Rule: "path", Source: practice, Says: fmt.Sprintf(
			"A path of %s is left along it, so that it can be reached without treading on what grows.", u.Distance(pathWidth))})
	}
	return out
}

func (w *writer) sowingsFor(want int) int {
	n := 0
	for i := range w.slots {
		if x := &w.slots[i]; x.live && x.want == want {
			n++
		}
	}
	return n
}

// whyPartner says how two crops share ground and when their canopies would meet.
func (w *writer) whyPartner(slot int) garden.Reason {
	x := &w.slots[slot]
	slow, fast := x, x
	if x.mode == apart {
		fast = &w.slots[x.partner]
	} else {
		slow = &w.slots[x.partner]
	}
	sc, fc := w.cropOf(slow), w.cropOf(fast)
	out := w.day(fast.clear - 1)
	goes := "is out by"
	if w.sows[fast.sow].brief {
		goes = "is cut whole by"
	}
	slowWide := w.canopy(&w.sows[slow.sow], fast.clear-1)
	fastWide := w.canopy(&w.sows[fast.sow], fast.clear-1)
	u := w.units()
	if fast.mode == inTheDrill {
		return garden.Reason{Rule: "row marker", Source: practice, Says: fmt.Sprintf(
			"%s marks the drills of %s, which is slow to come up, and is pulled by %s, while the %s is at most %s across, even in the year in ten that grows most.",
			upper(fc.Name()), sc.Name(), out.Short(), sc.Kind, u.Distance(quantity.Metre(slowWide)))}
	}
	apartBy := fast.mode.distance(sc)
	says := fmt.Sprintf("%s stands %s of %s, %s from the nearest plant, and %s %s. In the year in ten that grows most they are then %s and %s across",
		upper(fc.Name()), fast.mode.where(), sc.Name(), u.Distance(quantity.Metre(apartBy)), goes, out.Short(), u.Distance(quantity.Metre(fastWide)), u.Distance(quantity.Metre(slowWide)))
	for day := fast.clear; day < slow.clear; day++ {
		if w.canopy(&w.sows[slow.sow], day)/2+fastWide/2 > apartBy {
			return garden.Reason{Rule: "intercrop", Says: says + fmt.Sprintf("; left in, they would meet on %s.", w.day(day).Short())}
		}
	}
	return garden.Reason{Rule: "intercrop", Says: says + " and do not touch."}
}

// upper begins a sentence.
func upper(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// where is a mode in words.
func (m mode) where() string {
	switch m {
	case betweenRows:
		return "between the rows"
	case inSquares:
		return "in the middle of every four plants"
	case inTheRow:
		return "between the plants in the rows"
	}
	return "among the plants"
}

// neighboursInTime says what the planting follows and what follows it in the same ground.
func (w *writer) neighboursInTime(slot int) []garden.Reason {
	x := &w.slots[slot]
	before, after := -1, -1
	for _, other := range w.inBed[x.bed] {
		y := &w.slots[other]
		if other == slot || other == x.partner || !y.r.meets(x.r) {
			continue
		}
		if y.clear <= x.start && (before < 0 || y.clear > w.slots[before].clear) {
			before = other
		}
		if y.start >= x.clear && (after < 0 || y.start < w.slots[after].start) {
			after = other
		}
	}
	var out []garden.Reason
	if before >= 0 {
		y := &w.slots[before]
		out = append(out, garden.Reason{Rule: "sequence", Says: fmt.Sprintf("Follows %s (%s) in this ground, out by %s.", w.name(y), w.key[before], w.day(y.clear-1).Short())})
	}
	if after >= 0 {
		y := &w.slots[after]
		out = append(out, garden.Reason{Rule: "sequence", Says: fmt.Sprintf("%s (%s) follows in this ground on %s.", upper(w.name(y)), w.key[after], w.day(y.start).Short())})
	}
	return out
}

// name is the crop of a planting, standing or planned.
func (w *writer) name(x *placed) string {
	if !x.fixed {
		return w.cropOf(x).Name()
	}
	for _, s := range w.garden.Standing {
		if s.Key == x.key {
			if c, ok := w.crops.Find(s.CropID); ok {
				return c.Name()
			}
		}
	}
	return "what stands there"
}
