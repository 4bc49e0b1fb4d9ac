package season

import (
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
)

// leaveOut takes out of the input what its catalogue cannot serve, with a sentence for each: wants and
// plantings of a crop it has not, or no longer has in that way. An own crop that cannot be read must not keep
// the rest of the garden from being planned. Nothing of it is lost: the garden and the plans keep it.
func leaveOut(in Input) (Input, []string) {
	if in.Crops == nil {
		return in, nil
	}
	l := leaver{crops: in.Crops, aside: in.Aside, said: map[string]bool{}}
	in.Garden.Wants = keep(in.Garden.Wants, l.wanted)
	in.Garden.Standing = keep(in.Garden.Standing, l.planted)
	in.Plan = l.plan(in.Plan)
	if in.Before != nil {
		before := *in.Before
		before.Kept, before.Last = l.plan(before.Kept), l.plan(before.Last)
		in.Before = &before
	}
	return in, l.says
}

// keep is the list of those that may stay; the list itself when all may.
func keep[T any](list []T, may func(T) bool) []T {
	kept := make([]T, 0, len(list))
	for _, one := range list {
		if may(one) {
			kept = append(kept, one)
		}
	}
	if len(kept) == len(list) {
		return list
	}
	return kept
}

type leaver struct {
	crops *crop.Catalogue
	aside []crop.Aside
	says  []string
	said  map[string]bool
}

func (l *leaver) say(format string, args ...any) {
	if text := fmt.Sprintf(format, args...); !l.said[text] {
		l.said[text] = true
		l.says = append(l.says, text)
	}
}

// why the catalogue has no crop of a name.
func (l *leaver) why(word string) string {
	for _, a := range l.aside {
		if strings.EqualFold(a.ID, word) || strings.EqualFold(a.Name, word) {
			return a.Error()
		}
	}
	return "the catalogue has no such crop"
}

func (l *leaver) wanted(w garden.Want) bool {
	found, _ := l.crops.Match(w.Crop)
	if len(found) == 0 {
		l.say("The want for %q is left out: %s.", w.Crop, l.why(w.Crop))
	}
	return len(found) > 0
}

func (l *leaver) planted(p garden.Planting) bool {
	c, ok := l.crops.Find(p.CropID)
	switch {
	case !ok:
		l.say("The planting %s of %q is left out, and its ground counts as free: %s.", p.Key, p.CropID, l.why(p.CropID))
		return false
	case p.Method < 0 || p.Method >= len(c.Methods):
		l.say("The planting %s is left out, and its ground counts as free: %s is no longer grown in that way.", p.Key, c.Name())
		return false
	}
	return true
}

// plan is the plan without what is left out; the plan itself where nothing is.
func (l *leaver) plan(p *plan.Plan) *plan.Plan {
	if p == nil {
		return nil
	}
	kept := keep(p.Plantings, l.planted)
	supply := slices.Clone(p.Supply)
	supply = slices.DeleteFunc(supply, func(s plan.Supply) bool { return !l.wanted(s.Want) })
	if len(kept) == len(p.Plantings) && len(supply) == len(p.Supply) {
		return p
	}
	less := *p
	less.Plantings, less.Supply = kept, supply
	return &less
}
