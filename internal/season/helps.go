package season

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/work"
)

// Helped is what would help a plan.
type Helped struct {
	plan.Help
	Title string        // "Another bed of 6 m × 1.2 m in full sun"
	Says  string        // what it brings: "4 kg more tomato, 2 kg more carrot; lettuce 12 days sooner; 2 h more work"
	Hours quantity.Hour // of work more, a guess; below 0: less
}

// helped is what would help, reckoned on the first request.
type helped struct {
	once sync.Once
	told bool // under the result's lock
	list []Helped
	err  error
}

// Helps is what would help the plan most, the best first, planned through from the plan as it is: another bed, more sun, a cover, a want
// fewer. None where nothing brings a hundredth of the plan's value. It takes some seconds, and a minute and more in a large garden.
func (r *Result) Helps() ([]Helped, error) {
	r.help.once.Do(func() {
		r.help.list, r.help.err = r.helps()
		r.mu.Lock()
		r.help.told = true
		r.mu.Unlock()
	})
	return r.help.list, r.help.err
}

func (r *Result) helps() ([]Helped, error) {
	var covered []*growth.Table
	seen := map[string]bool{}
	for _, want := range r.Garden.Wants {
		found, _ := r.Crops.Match(want.Crop)
		for _, c := range found {
			if !seen[c.ID] && want.Under == "" {
				seen[c.ID] = true
				covered = append(covered, r.CropUnder(c.ID)...)
			}
		}
	}
	list, err := plan.Helps(r.asPlanned(), r.Plan, covered)
	if err != nil {
		return nil, fmt.Errorf("what would help the plan cannot be told: %w", err)
	}
	var out []Helped
	for _, h := range list {
		one := Helped{Help: h, Title: r.helpTitle(h.Change), Hours: r.hoursOf(h.After) - r.hoursOf(h.Before)}
		one.Says = r.helpSays(h, one.Hours)
		out = append(out, one)
	}
	return out, nil
}

// hoursOf is the work of a plan's plantings.
func (r *Result) hoursOf(p *plan.Plan) (hours quantity.Hour) {
	g := r.Garden
	for _, x := range p.Plantings {
		if !slices.ContainsFunc(g.Beds, func(b garden.Bed) bool { return b.ID == x.BedID }) { // the bed more
			g.Beds = append(slices.Clone(g.Beds), garden.Bed{ID: x.BedID, Name: "Another bed", Length: x.Place.AlongTo, Width: x.Place.AcrossTo, Sun: 8})
		}
	}
	var tables []*growth.Table
	for _, x := range p.Plantings {
		if t := r.TableOf(x); t != nil && !slices.Contains(tables, t) {
			tables = append(tables, t)
		}
	}
	for _, j := range work.Jobs(work.Input{Plan: p, Garden: g, Crops: r.Crops, Tables: tables, Frost: r.Frost, From: p.From}) {
		hours += j.Hours
	}
	return hours
}

// helpTitle names a change.
func (r *Result) helpTitle(c plan.Change) string {
	u := r.Garden.Site.Units
	switch c.Kind {
	case plan.MoreGround:
		return fmt.Sprintf("Another bed of %s × %s in full sun", u.Length(c.Bed.Length), u.Length(c.Bed.Width))
	case plan.MoreSun:
		return "Two hours more sun on " + c.Bed.Name
	case plan.MoreCover:
		return upper(c.Cover.Under())
	}
	return "Without " + r.wantName(c.Want.Crop)
}

// wantName is the crop a want names, as one says it: its kind where that is enough to tell it from the other wants.
func (r *Result) wantName(word string) string {
	c, ok := r.Crops.Find(word)
	if !ok {
		return word
	}
	alike := 0
	for _, w := range r.Garden.Wants {
		if o, ok := r.Crops.Find(w.Crop); ok && o.Kind == c.Kind || w.Crop == c.Kind {
			alike++
		}
	}
	if alike < 2 || c.Type == "" {
		return c.Kind
	}
	return fmt.Sprintf("%s (%s)", c.Kind, c.Type)
}

// What of a change is told: harvests that differ by 300 g and by a twentieth of what is asked, the first ones sooner by a week, an hour of
// work; of each no more than four wants.
const (
	tellsKilograms quantity.Kilogram = 0.3
	tellsShare                       = 0.05
	tellsDays                        = 7
	tellsHours     quantity.Hour     = 1
	tellsWants                       = 4
)

// helpSays tells what a change brings.
func (r *Result) helpSays(h plan.Help, hours quantity.Hour) string {
	u := r.Garden.Site.Units
	wants := slices.Clone(h.Wants)
	slices.SortStableFunc(wants, func(a, b plan.WantChange) int {
		return cmp.Compare(math.Abs(float64(b.More)), math.Abs(float64(a.More)))
	})
	var more, less, sooner []string
	for _, w := range wants {
		name := r.wantName(w.Want.Crop)
		if by := quantity.Kilogram(math.Abs(float64(w.More))); by >= tellsKilograms && by >= tellsShare*w.Asked {
			if w.More > 0 {
				more = append(more, fmt.Sprintf("%s more %s", u.RoughMass(by), name))
			} else {
				less = append(less, fmt.Sprintf("%s less %s", u.RoughMass(by), name))
			}
		}
		if w.Sooner >= tellsDays {
			sooner = append(sooner, fmt.Sprintf("%s %s sooner", name, quantity.Plural(float64(w.Sooner), "day")))
		}
	}
	var parts []string
	for _, list := range [][]string{more, less, sooner} {
		if len(list) > 0 {
			parts = append(parts, listed(list[:min(len(list), tellsWants)]))
		}
	}
	if len(parts) == 0 {
		parts = append(parts, "much the same harvests, more of them when they are wanted or for less ground")
	}
	if len(more) > 0 {
		parts[0] = "about " + parts[0]
	}
	if h.Kind == plan.FewerWants {
		for _, s := range h.Before.Supply {
			if s.Want == h.Want && s.Expected > 0 {
				parts = append(parts, fmt.Sprintf("but none of the %s of %s that it gives now", u.RoughMass(s.Expected), r.wantName(h.Want.Crop)))
			}
		}
	}
	if by := quantity.Hour(math.Abs(float64(hours))); by >= tellsHours {
		parts = append(parts, fmt.Sprintf("about %.0f h %s work", float64(by), map[bool]string{true: "more", false: "less"}[hours > 0]))
	}
	return upper(strings.Join(parts, "; ")) + "."
}

// NothingHelps says that nothing does.
const NothingHelps = "Nothing that was tried brings a hundredth more: not another bed, more sun on one, a cover, nor a want fewer."

// HelpsTold says whether what would help has been reckoned already.
func (r *Result) HelpsTold() bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.help.told
}
