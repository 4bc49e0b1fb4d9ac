package season

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// figures are what a plan with its jobs comes to.
func (r *Result) figures() Figures {
	f := Figures{Wants: len(r.Plan.Supply), Least: 1, Months: map[civil.Date]quantity.Hour{}}
	for _, s := range r.Plan.Supply {
		if s.Met() {
			f.Met++
		}
		f.Expect += s.Expected
		if n := len(s.Years); n > 0 {
			f.Poor += s.Years[max((n+9)/10-1, 0)]
		}
	}
	sure := 0
	for _, p := range r.Plan.Plantings {
		if p.Start < r.Season.Start || p.Ended() {
			continue
		}
		f.Plantings++
		if p.Years > 0 {
			sure++
			share := float64(p.Success) / float64(p.Years)
			f.Least, f.Mean = min(f.Least, share), f.Mean+share
		}
	}
	if sure > 0 {
		f.Mean /= float64(sure)
	} else {
		f.Least = 0
	}
	beds := 0.0
	for _, b := range r.Garden.Beds {
		beds += float64(b.Area())
	}
	held := r.grounds(nil, garden.Fast, garden.Marker)
	for _, id := range sortedKeys(held) {
		for _, area := range held[id] {
			f.GroundWeeks += area
		}
	}
	if all := beds * float64(r.Season.Days) / 7; all > 0 {
		f.GroundShare = f.GroundWeeks / all
	}
	for _, j := range r.Jobs {
		f.Hours += j.Hours
		f.Months[j.Window.From.Add(1-j.Window.From.Day())] += j.Hours
	}
	return f
}

// PoorText is what there is in a poor year, in the person's units; a dash where the plan does not know it.
func (f Figures) PoorText(u quantity.System) string {
	if f.Poor == 0 && f.Expect > 0 {
		return "–"
	}
	return u.Mass(f.Poor)
}

// grounds are the m² that each crop holds, by week of the season, a week held in part counting in part; plantings of the roles named
// and of the keys left out do not count.
func (r *Result) grounds(leave []garden.Planting, but ...garden.Role) map[string][]float64 {
	held := map[string][]float64{}
	for _, p := range r.Plan.Plantings {
		if slices.Contains(but, p.Role) || slices.ContainsFunc(leave, func(o garden.Planting) bool { return o.Key == p.Key }) {
			continue
		}
		area := float64(p.Place.Area())
		if b, ok := r.Bed(p.BedID); ok && area <= 0 {
			area = float64(b.Area()) // the whole bed
		}
		weeks := held[p.CropID]
		if weeks == nil {
			weeks = make([]float64, r.Season.Weeks()+1)
			held[p.CropID] = weeks
		}
		for d := max(p.Start, r.Season.Start); d < p.Clear && d <= r.Season.End(); d++ {
			weeks[r.Season.Week(d)] += area / 7
		}
	}
	return held
}

// same is the share of ground × time that the same crops have in two plans, wherever in the garden: the sum over crops and weeks of
// the ground that both have, over that of the ground that either has. What stands in both, begun before, is left out.
func same(a, b *Result, standing []garden.Planting) float64 {
	x, y := a.grounds(standing), b.grounds(standing)
	both, either := 0.0, 0.0
	for _, id := range sortedKeys(x, y) {
		for w := range max(len(x[id]), len(y[id])) {
			p, q := 0.0, 0.0
			if x[id] != nil {
				p = x[id][w]
			}
			if y[id] != nil {
				q = y[id][w]
			}
			both, either = both+min(p, q), either+max(p, q)
		}
	}
	if either == 0 {
		return 1
	}
	return both / either
}

func sortedKeys(maps ...map[string][]float64) (keys []string) {
	for _, m := range maps {
		for k := range m {
			keys = append(keys, k)
		}
	}
	slices.Sort(keys)
	return slices.Compact(keys)
}

// compare says of every plan how it differs from the plan as set, and which come out alike.
func (a *Alternatives) compare(standing []garden.Planting) {
	set := &a.Plans[0]
	set.Same = 1
	for i := 1; i < len(a.Plans); i++ {
		p := &a.Plans[i]
		p.Same = same(set.Result, p.Result, standing)
		p.Differs = differs(set, p)
		most := alikeFrom
		for k := range i {
			if o := &a.Plans[k]; o.Alike == "" {
				if share := same(o.Result, p.Result, standing); share >= most {
					most, p.Alike = share, o.Way.ID
				}
			}
		}
	}
}

// difference is one way in which a plan differs, and how much that weighs among others.
type difference struct {
	says   string
	weight float64
}

// differencesTold is how many are told of a plan.
const differencesTold = 4

// differs says how a plan differs from the plan as set, what differs most first.
func differs(set, other *Alternative) string {
	a, b, u := set.Figures, other.Figures, set.Result.Garden.Site.Units
	list := gone(set.Result, other.Result)
	list = append(list, against("planting", "plantings", b.Plantings-a.Plantings, float64(a.Plantings)))
	if d := b.GroundWeeks - a.GroundWeeks; a.GroundWeeks > 0 {
		list = append(list, difference{fmt.Sprintf("%.0f %% %s ground held", 100*math.Abs(d)/a.GroundWeeks, moreOrLess(d)), math.Abs(d) / a.GroundWeeks})
	}
	if d := float64(b.Expect - a.Expect); a.Expect > 0 {
		list = append(list, difference{fmt.Sprintf("%s %s to eat", u.Mass(quantity.Kilogram(math.Abs(d))), moreOrLess(d)), math.Abs(d) / float64(a.Expect)})
	}
	if d := float64(b.Poor - a.Poor); a.Poor > 0 && b.Poor > 0 {
		list = append(list, difference{fmt.Sprintf("%s %s in a poor year", u.Mass(quantity.Kilogram(math.Abs(d))), moreOrLess(d)), math.Abs(d) / float64(a.Poor)})
	}
	list = append(list, against("want met", "wants met", b.Met-a.Met, float64(max(a.Wants, 1))))
	list = append(list, monthly(a, b))
	if d := b.Mean - a.Mean; a.Mean > 0 {
		list = append(list, difference{fmt.Sprintf("plantings succeed in %.0f %% of the years instead of %.0f %%", 100*b.Mean, 100*a.Mean), 4 * math.Abs(d)})
	}
	list = slices.DeleteFunc(list, func(d difference) bool { return d.weight < 0.03 })
	slices.SortStableFunc(list, func(x, y difference) int { return cmp.Compare(y.weight, x.weight) })
	if len(list) == 0 {
		return "hardly anything but the places and days"
	}
	var says []string
	for _, d := range list[:min(len(list), differencesTold)] {
		says = append(says, d.says)
	}
	return strings.Join(says, "; ")
}

// gone are the wants that one of two plans serves and the other does not.
func gone(set, other *Result) (list []difference) {
	var no, too []string
	for i, s := range set.Plan.Supply {
		if i >= len(other.Plan.Supply) || other.Plan.Supply[i].Want.Crop != s.Want.Crop {
			return nil // the wants have been changed since
		}
		switch had, has := s.Expected > 0, other.Plan.Supply[i].Expected > 0; {
		case had && !has:
			no = append(no, "no "+s.Want.Crop)
		case has && !had:
			too = append(too, s.Want.Crop+" too")
		}
	}
	if len(no) > 0 {
		list = append(list, difference{strings.Join(no, ", "), 1})
	}
	if len(too) > 0 {
		list = append(list, difference{strings.Join(too, ", "), 0.9})
	}
	return list
}

func moreOrLess(d float64) string {
	if d < 0 {
		return "less"
	}
	return "more"
}

// against is a count against another: "14 fewer plantings".
func against(one, many string, d int, of float64) difference {
	noun, word := many, "more"
	if d == 1 || d == -1 {
		noun = one
	}
	if d < 0 {
		word = "fewer"
	}
	return difference{fmt.Sprintf("%d %s %s", max(d, -d), word, noun), math.Abs(float64(d)) / max(of, 1)}
}

// monthly is how much the whole work differs, and the month in which it does most; where the whole is the same to an hour, that month.
func monthly(a, b Figures) difference {
	all := b.Hours - a.Hours
	var month civil.Date
	var most quantity.Hour
	for m := range joined(a.Months, b.Months) {
		d := b.Months[m] - a.Months[m]
		if abs(all) >= 1 && d*all < 0 {
			continue
		}
		if abs(d) > abs(most) || abs(d) == abs(most) && m < month {
			month, most = m, d
		}
	}
	if month == 0 || a.Hours <= 0 {
		return difference{}
	}
	word := moreOrLess(float64(most))
	switch {
	case abs(all) < 1:
		return difference{fmt.Sprintf("%.0f h %s work in %s", abs(most), word, month.Month()), float64(abs(most) / a.Hours / 2)}
	case abs(most) >= abs(all):
		return difference{fmt.Sprintf("%.0f h %s work, all in %s", abs(all), word, month.Month()), float64(abs(all) / a.Hours)}
	}
	return difference{fmt.Sprintf("%.0f h %s work, %.0f h of it in %s", abs(all), word, abs(most), month.Month()), float64(abs(all) / a.Hours)}
}

func joined(a, b map[civil.Date]quantity.Hour) map[civil.Date]bool {
	all := map[civil.Date]bool{}
	for m := range a {
		all[m] = true
	}
	for m := range b {
		all[m] = true
	}
	return all
}

func abs(h quantity.Hour) quantity.Hour { return max(h, -h) }
