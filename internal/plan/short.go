package plan

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// short says why a want is not wholly met.
func (w *writer) short(i int) []garden.Reason {
	d := &w.wants[i]
	if r, ok := w.noRoomUnder(d); ok {
		return []garden.Reason{r}
	}
	veto, against := w.vetoed(d)
	if len(d.sowings) == 0 && against {
		return []garden.Reason{veto}
	}
	if len(d.sowings) == 0 {
		return []garden.Reason{w.noWindow(d)}
	}
	beds, refused := w.refusedBeds(d)
	if beds == 0 {
		return []garden.Reason{{Rule: "beds", Says: "No bed takes it: " + refused + "."}}
	}
	var out []garden.Reason
	if refused != "" {
		out = append(out, garden.Reason{Rule: "beds", Says: fmt.Sprintf("%s of %d can take it; of the others, %s.", quantity.Plural(float64(beds), "bed"), len(w.plots), refused)})
	}
	if first := w.perennialYear(d); first > 1 && w.promise[i] > 0 {
		out = append(out, garden.Reason{Rule: "perennials", Says: fmt.Sprintf("It is planted now and bears in full from year %d on.", first)})
		return out
	}
	if against {
		out = append(out, veto)
	}
	if d.weekly != nil {
		if r, ok := w.leanWeeks(i); ok {
			out = append(out, r)
		}
	}
	if r, ok := w.shelfFull(d); ok {
		return append(out, r)
	}
	if r, ok := w.roomLeft(i); ok {
		return append(out, r)
	}
	return append(out, w.tookGround(d))
}

// noRoomUnder says that none of a want's crops can stand under the cover it asks for.
func (w *writer) noRoomUnder(d *demand) (garden.Reason, bool) {
	if d.want.Under == "" || d.want.Under == garden.InTheOpen {
		return garden.Reason{}, false
	}
	for _, o := range w.options {
		if d.serves(o.crop.ID) && o.under() == d.want.Under {
			return garden.Reason{}, false
		}
	}
	return garden.Reason{Rule: "cover", Says: fmt.Sprintf("It is wanted under %s, where it cannot be grown: it stays for years, or is too tall.", w.underNamed(d.want.Under))}, true
}

// roomLeft tells of the best piece of ground that is free for the whole time of one of a want's
// sowings, and is not worth its work; ok is false when there is none large enough to plant.
func (w *writer) roomLeft(want int) (garden.Reason, bool) {
	var best placed
	var most float64
	for _, sow := range w.wants[want].sowings {
		for bed := range w.plots {
			if x, ok := w.largest(want, sow, bed); ok && x.full*w.sows[sow].total > most {
				best, most = x, x.full*w.sows[sow].total
			}
		}
	}
	if most <= 0 {
		return garden.Reason{}, false
	}
	return garden.Reason{Rule: "ground", Says: fmt.Sprintf(
		"Of the ground that suits it and is free from planting to clearing the largest piece is in %s from %s, for %s and about %s: that would gain less than the work and the ground are worth.",
		w.plots[best.bed].bed.Name, w.day(best.start).Short(), quantity.Plural(float64(best.plants), "plant"), w.units().Mass(quantity.Kilogram(kg(int64(most)))))}, true
}

// largest is the largest planting of a sowing that the free ground of a bed holds.
func (w *writer) largest(want, sow, bed int) (best placed, ok bool) {
	pl, s := &w.plots[bed], &w.sows[sow]
	if !w.allowed(bed, sow) || !w.oneBlock(bed, s.family, s.start, s.clear, -1) {
		return placed{}, false
	}
	grid := w.occupy(pl, s.option, s.hold(w.settings.TurnDays), s.clear)
	for l0 := 0; l0 < pl.lanes; l0++ {
		for l1 := l0 + 1; l1 <= pl.lanes; l1++ {
			runs(grid, pl, l0, l1, func(from, to int) {
				if x, fits := w.build(want, sow, pl, rect{from, to, l0, l1}); fits && x.full > best.full {
					best, ok = x, true
				}
			})
		}
	}
	return best, ok
}

// perennialYear is the first year of full harvest of a perennial the want names; 0 for none.
func (w *writer) perennialYear(d *demand) int {
	for _, c := range d.crops {
		if c.Perennial {
			return c.Harvest.FirstYear
		}
	}
	return 0
}

// noWindow says that no start day succeeds often enough, the best there is and what goes wrong. What is wrong is counted
// over every day, as it is where windows are asked for.
func (w *writer) noWindow(d *demand) garden.Reason {
	var lack, ahead growth.Lack // over all start days, and over those that do and are still to come
	past, open := false, false  // some days that would do are over, or are still to come
	for i, o := range w.options {
		if !d.serves(o.crop.ID) || !w.suits(d.want, &sowing{option: i}) {
			continue
		}
		as := growth.Option{Crop: o.crop, Method: o.method, Protection: o.cover}
		for _, start := range w.startDays(o.times.Windows(w.settings.Share)) {
			s := o.times.Summary(start)
			if !enough(s, w.settings.Share) {
				continue
			}
			past, open = past || begun(o, start) < w.from, open || begun(o, start) >= w.from
			if begun(o, start) >= w.from {
				ahead.Look(as, s)
			}
		}
		for start := w.season.Start; start <= w.season.End(); start++ {
			lack.Look(as, o.times.Summary(start))
		}
	}
	best := lack.Best
	switch {
	case open:
		return garden.Reason{Rule: "season", Says: fmt.Sprintf("Begun in this season it is food for the next: %s on %s, its best day to come, is first harvested about %s, and the season ends on %s.",
			ahead.Option.Starting(), ahead.Best.Start.Short(), ahead.Best.First.P50.Long(), w.season.End().Long())}
	case past:
		return garden.Reason{Rule: "from", Says: fmt.Sprintf("Its days are past for this season: the plan is made from %s on, and the best, %s on %s, with success in %d years of %d, would have to be begun before then.",
			w.from.Short(), lack.Option.Starting(), best.Start.Short(), best.Success, best.Years)}
	}
	says := fmt.Sprintf("No start day at this site succeeds in %.0f %% of the weather years.", 100*w.settings.Share)
	return garden.Reason{Says: says + " " + lack.Says(w.units()), Rule: "window"}
}

// refusedBeds counts the beds that may take a want's crops and says why the others may not.
func (w *writer) refusedBeds(d *demand) (beds int, why string) {
	names := map[refusal][]string{}
	for i := range w.plots {
		reason := notPerennial
		for _, k := range d.sowings {
			c := w.options[w.sows[k].option].crop
			r := w.takes(i, c)
			if r == welcome || r > reason || reason == notPerennial {
				reason = r
			}
			if r == welcome {
				break
			}
		}
		if reason == welcome {
			beds++
		} else {
			names[reason] = append(names[reason], w.plots[i].bed.Name)
		}
	}
	var parts []string
	for _, r := range []refusal{unsafe, tooShady, tooSoon, tooNarrow, keptPerennial, notPerennial, vetoed} {
		if n := names[r]; len(n) > 0 {
			parts = append(parts, strings.Join(n, ", ")+" "+r.says(len(n) > 1))
		}
	}
	return beds, strings.Join(parts, "; ")
}

// says is a refusal in words.
func (r refusal) says(many bool) string {
	verb := func(one, more string) string {
		if many {
			return more
		}
		return one
	}
	switch r {
	case tooShady:
		return verb("has", "have") + " too little light"
	case tooSoon:
		return verb("has", "have") + " had its family too lately"
	case unsafe:
		return verb("is", "are") + " stopped by a soil test, so no food is grown there"
	case vetoed:
		return verb("is", "are") + " closed to it by you"
	case tooNarrow:
		return verb("is", "are") + " too narrow or too small"
	case keptPerennial:
		return verb("is", "are") + " kept for perennials"
	}
	return verb("is", "are") + " not kept for perennials"
}

// leanWeeks names the run of weeks in which a weekly want lacks most.
func (w *writer) leanWeeks(i int) (garden.Reason, bool) {
	d := &w.wants[i]
	eaten := make([]int64, len(d.weekly))
	d.useful(append([]int64(nil), w.harvest[i]...), func(week int, e int64) { eaten[week] = e })
	bestFrom, bestTo, most := 0, -1, int64(0)
	for from := 0; from < len(eaten); from++ {
		var lack int64
		for to := from; to < len(eaten) && d.weekly[to]-eaten[to] > d.weekly[to]/3; to++ {
			if lack += d.weekly[to] - eaten[to]; lack > most {
				bestFrom, bestTo, most = from, to, lack
			}
		}
	}
	if bestTo < bestFrom {
		return garden.Reason{}, false
	}
	span := civil.Span{From: w.season.WeekStart(bestFrom), To: w.season.WeekStart(bestTo) + 6}
	return garden.Reason{Rule: "weeks", Says: fmt.Sprintf("Most is lacking in the weeks of %s.", span)}, true
}

// tookGround says which crops hold the ground that could have served a want.
func (w *writer) tookGround(d *demand) garden.Reason {
	from, to := 1<<30, 0
	for _, k := range d.sowings {
		from, to = min(from, w.sows[k].start), max(to, w.sows[k].clear)
	}
	held := map[string]float64{}
	for i := range w.slots {
		x := &w.slots[i]
		if !x.live || x.mode != apart || x.hold >= to || x.clear <= from || (x.want >= 0 && &w.wants[x.want] == d) {
			continue
		}
		open := false
		for _, k := range d.sowings {
			open = open || w.allowed(x.bed, k)
		}
		if open {
			held[w.kind(x)] += x.area * float64(min(x.clear, to)-max(x.hold, from))
		}
	}
	kinds := make([]string, 0, len(held))
	for k := range held {
		kinds = append(kinds, k)
	}
	slices.SortFunc(kinds, func(a, b string) int {
		if held[a] != held[b] {
			if held[a] > held[b] {
				return -1
			}
			return 1
		}
		return strings.Compare(a, b)
	})
	if len(kinds) == 0 {
		return garden.Reason{Rule: "ground", Says: "No piece of the ground that suits it on its days is large enough to plant."}
	}
	kinds = kinds[:min(3, len(kinds))]
	return garden.Reason{Rule: "ground", Says: fmt.Sprintf(
		"On none of its days is a piece of ground that suits it, large enough to plant, free until it would be cleared: %s %s most of it in that time.", list(kinds), map[bool]string{true: "holds", false: "hold"}[len(kinds) == 1])}
}

func (w *writer) kind(x *placed) string {
	if !x.fixed {
		return w.cropOf(x).Kind
	}
	return w.name(x)
}

// list joins words as one says them.
func list(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

// notes are about the plan as a whole: how well the ground is used and which beds stay empty.
func (w *writer) notes() []garden.Reason {
	if len(w.plots) == 0 {
		return []garden.Reason{{Rule: "ground", Says: "The garden has no beds, so nothing is planted."}}
	}
	var ground, used float64
	var out []garden.Reason
	for i := range w.plots {
		pl := &w.plots[i]
		ground += float64(pl.bed.Area()) * float64(w.season.Days)
		held := 0.0
		for _, slot := range w.inBed[i] {
			x := &w.slots[slot]
			if x.mode == apart {
				held += float64(pl.place(x.r).Area()) * float64(max(0, min(x.clear, w.season.Days)-max(x.start, 0)))
			}
		}
		used += held
		if len(w.inBed[i]) == 0 {
			out = append(out, garden.Reason{Rule: "empty bed", Says: fmt.Sprintf("%s stays empty: %s.", pl.bed.Name, w.whyEmpty(i))})
		}
	}
	month, most := w.fullestMonth()
	first := garden.Reason{Rule: "ground", Says: fmt.Sprintf("Crops hold the ground for %.0f %% of the season, counted by area and day, and for %.0f %% in %s, when it is fullest.", 100*used/ground, 100*most, month)}
	out = append([]garden.Reason{first}, out...)
	if w.from > w.season.Start {
		out = append(out, garden.Reason{Rule: "from", Says: fmt.Sprintf("Made on %s: nothing new is begun before then, under cover or in the ground.", w.from.Long())})
	}
	return out
}

// fullestMonth is the month of the season in which crops hold most of the ground, and that share.
func (w *writer) fullestMonth() (name string, share float64) {
	var held, ground [13]float64
	var names [13]string
	for day := range w.season.Days {
		m := int(w.day(day).Month())
		names[m] = w.day(day).Month().String()
		for i := range w.plots {
			pl := &w.plots[i]
			ground[m] += float64(pl.bed.Area())
			for _, slot := range w.inBed[i] {
				if x := &w.slots[slot]; x.mode == apart && x.start <= day && day < x.clear {
					held[m] += float64(pl.place(x.r).Area())
				}
			}
		}
	}
	best := int(w.season.Start.Month())
	for m := 1; m <= 12; m++ {
		if ground[m] > 0 && held[m]/ground[m] > share {
			best, share = m, held[m]/ground[m]
		}
	}
	return names[best], share
}

// whyEmpty says why nothing is planted in a bed.
func (w *writer) whyEmpty(i int) string {
	var open int
	refusals := map[refusal]int{}
	seen := map[*crop.Crop]bool{}
	for _, s := range w.sows {
		c := w.options[s.option].crop
		if seen[c] || c.Perennial != w.plots[i].bed.Perennial {
			continue
		}
		seen[c] = true
		if r := w.takes(i, c); r == welcome {
			open++
		} else {
			refusals[r]++
		}
	}
	switch {
	case len(seen) == 0:
		return "no crop that is wanted can be grown here"
	case open > 0:
		return "the wants are met, or more of what suits it would gain less than the work"
	}
	most, n := welcome, 0
	for r := tooShady; r <= vetoed; r++ {
		if refusals[r] > n {
			most, n = r, refusals[r]
		}
	}
	if most == vetoed {
		return "you closed it to the crops that are wanted"
	}
	return "it " + most.says(false) + " for the crops that are wanted"
}
