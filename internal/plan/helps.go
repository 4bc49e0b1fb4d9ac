package plan

import (
	"cmp"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// Help is what a change brings when the plan goes on from the present one.
type Help struct {
	Change
	Gain   float64 // the plan is worth so much more; where a want is dropped, the rest of the plan
	Share  float64 // of what the present plan is worth
	Wants  []WantChange
	Before *Plan // the present plan, looked through once more, so that what the search finds by itself is not put down to the change
	After  *Plan
}

// WantChange is what a change does to a want.
type WantChange struct {
	Want   garden.Want
	Asked  quantity.Kilogram
	More   quantity.Kilogram // useful harvest, mean of the weather years; below 0: less
	Sooner int               // days by which its first harvest is sooner; 0 where there is none before or after
}

// Which changes are planned through and told: so many as promise most by the bound, and those that bring a hundredth and more.
const (
	mostTried    = 6
	worthTelling = 0.01
	stepsToRank  = 150
)

// Helps is what would help a plan most, the best first: another bed, more sun, a cover, a want fewer. The changes are ranked by what the
// bound gains, and the best of them planned through from the present plan, which the input keeps. Covered are tables of the wanted
// crops under covers that the garden lacks. None where nothing brings a hundredth of the plan's value.
func Helps(in Input, p *Plan, covered []*growth.Table) ([]Help, error) {
	in.Kept = p
	before, err := Make(in)
	if err != nil {
		return nil, err
	}
	in.Kept = before
	list, err := promising(in, before, changes(in, before, covered))
	if err != nil {
		return nil, err
	}
	var out []Help
	for _, c := range list {
		h, err := try(c, before)
		if err != nil {
			return nil, err
		}
		if h.Share >= worthTelling {
			out = append(out, h)
		}
	}
	slices.SortStableFunc(out, func(a, b Help) int { return cmp.Compare(b.Gain, a.Gain) })
	return out, nil
}

// promising are the changes by which the bound gains most; another bed is always among them.
func promising(in Input, before *Plan, all []Change) ([]Change, error) {
	now, err := roughly(in)
	if err != nil {
		return nil, err
	}
	promise := make([]float64, len(all))
	order := make([]int, len(all))
	for i, c := range all {
		order[i] = i
		bound, err := roughly(c.input)
		if err != nil {
			return nil, err
		}
		promise[i] = bound - now
		if c.Kind == FewerWants { // what it was worth itself is no loss
			rest, err := resumed(c.input)
			if err != nil {
				return nil, err
			}
			promise[i] += before.Value - rest
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(-cmp.Compare(promise[a], promise[b]))
	})
	var out []Change
	for _, i := range order {
		if len(out) < mostTried || all[i].Kind == MoreGround {
			out = append(out, all[i])
		}
	}
	return out, nil
}

// roughly is a bound after a few steps.
func roughly(in Input) (float64, error) {
	p, err := newProblem(in)
	if err != nil {
		return 0, err
	}
	f, err := newField(p)
	if err != nil {
		return 0, err
	}
	return f.relax(byNothing).bound(stepsToRank), nil
}

// resumed is what the kept plan is worth as it is by an input.
func resumed(in Input) (float64, error) {
	p, err := newProblem(in)
	if err != nil {
		return 0, err
	}
	f, err := newField(p)
	if err != nil {
		return 0, err
	}
	s := newState(f)
	s.onEveryYear()
	s.resume()
	return float64(s.value) / float64(point), nil
}

// try plans a change through.
func try(c Change, before *Plan) (Help, error) {
	h := Help{Change: c, Before: before}
	was := before.Value
	var err error
	if c.Kind == FewerWants {
		if was, err = resumed(c.input); err != nil {
			return h, err
		}
	}
	if h.After, err = Make(c.input); err != nil {
		return h, err
	}
	h.Gain = h.After.Value - was
	if before.Value > 0 {
		h.Share = h.Gain / before.Value
	}
	for _, now := range h.After.Supply {
		for _, then := range before.Supply {
			if sameWant(then.Want, now.Want) {
				h.Wants = append(h.Wants, WantChange{Want: now.Want, Asked: now.Asked, More: now.Expected - then.Expected, Sooner: sooner(firstOf(before, then), firstOf(h.After, now))})
			}
		}
	}
	return h, nil
}

// sooner is by how many days one day is before another.
func sooner(then, now *civil.Date) int {
	if then == nil || now == nil {
		return 0
	}
	return then.Since(*now)
}

// firstOf is the first day on which what serves a want is harvested, in the middle year.
func firstOf(p *Plan, s Supply) *civil.Date {
	var first *civil.Date
	for _, x := range p.Plantings {
		if x.Status == garden.Planned && x.First.P50 > 0 && slices.Contains(s.Keys, x.Key) && (first == nil || x.First.P50 < *first) {
			day := x.First.P50
			first = &day
		}
	}
	return first
}
