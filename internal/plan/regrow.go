package plan

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// This file lets the person have the last word on what one planting grows under.

// chosen is the rule of the reason that says so.
const chosen = "your choice"

// Regrow is a planting grown under another cover, by its ID, or in the open, in its place and begun on a day: with the
// dates, the chance, the harvest and the reasons it then has. The input's tables hold the crop's method in the open,
// under the cover and as it was.
func Regrow(in Input, was garden.Planting, cover string, start civil.Date) (garden.Planting, error) {
	p, err := newProblem(in)
	if err != nil {
		return was, err
	}
	o, ok := p.optionUnder(&was, cover)
	if !ok {
		return was, fmt.Errorf("the planting %s has no growth table for this", was.Key)
	}
	lag := 0
	for _, b := range p.garden.Beds {
		if sun, byMonth := p.sunFor(b, o, start); b.ID == was.BedID && byMonth {
			lag = lateness(o, start, lightShare(sun, o.crop.Light))
		}
	}
	sum := o.summary(start, lag)
	if sum.Success == 0 {
		return was, fmt.Errorf("begun on %s it comes to harvest in none of the %d weather years there", start.Short(), sum.Years)
	}
	now := was
	now.Start, now.Protection, now.Success, now.Years = start, cover, sum.Success, sum.Years
	if was.RaiseOn != nil {
		raise := *was.RaiseOn + start - was.Start
		now.RaiseOn = &raise
	}
	now.First, now.Last = sum.First, sum.Last
	if o.how().Way != crop.SetOut {
		now.Emerge = sum.Emerge
	}
	now.Clear = p.season.Start.Add(p.clearDay(o, start, sum, lag))
	now.Expect = p.harvested(was, o, start)
	now.Reasons = p.rereasoned(was, now, p.dayReasons(o, sum, now.Clear))
	return now, nil
}

// optionUnder is the option of a planting under a cover.
func (p *problem) optionUnder(x *garden.Planting, cover string) (option, bool) {
	i := slices.IndexFunc(p.options, func(o option) bool {
		return o.crop.ID == x.CropID && o.method == x.Method && o.under() == cover
	})
	if i < 0 {
		return option{}, false
	}
	return p.options[i], true
}

// harvested is what a planting bears by another option: as much more or less as its ground does. Where it was to bear
// nothing, it bears what its ground and light let it.
func (p *problem) harvested(was garden.Planting, now option, start civil.Date) quantity.Kilogram {
	sum := func(o option, start civil.Date) (all float64) {
		for _, share := range o.times.Harvest(start) {
			all += share
		}
		return all
	}
	if old, ok := p.optionUnder(&was, was.Protection); ok && was.Expect > 0 {
		if before := sum(old, was.Start); before > 0 {
			return was.Expect * quantity.Kilogram(sum(now, start)/before)
		}
	}
	light := 1.0
	for _, b := range p.garden.Beds {
		if b.ID == was.BedID {
			sun, _ := p.sunFor(b, now, start)
			light = lightShare(sun, now.crop.Light) * p.soilShare(b.ID, now.crop)
		}
	}
	return quantity.Kilogram(sum(now, start) * light * float64(now.crop.Harvest.Yield) * float64(was.Place.Area()))
}

// rereasoned puts new reasons of the day in the stead of the old ones and says whose choice it is.
func (p *problem) rereasoned(was, now garden.Planting, day []garden.Reason) []garden.Reason {
	says := "In the open, because you chose so."
	if c, _ := crop.FindProtection(now.Protection); c != nil {
		says = fmt.Sprintf("Under %s, because you chose so.", c.Under())
	}
	if now.Start != was.Start {
		says = strings.Replace(says, "because", "and begun on "+now.Start.Short()+", because", 1)
	}
	day = append([]garden.Reason{{Says: says, Rule: chosen}}, day...)
	is := func(rule string) func(garden.Reason) bool {
		return func(r garden.Reason) bool { return r.Rule == rule }
	}
	var out []garden.Reason
	from := slices.IndexFunc(was.Reasons, is(chosen))
	if from < 0 {
		from = slices.IndexFunc(was.Reasons, is("window"))
	}
	to := slices.IndexFunc(was.Reasons, is("clear"))
	if from < 0 || to < from {
		from, to = len(was.Reasons), len(was.Reasons)-1
	}
	out = append(append(append(out, was.Reasons[:from]...), day...), was.Reasons[to+1:]...)
	out = slices.DeleteFunc(out, is("want")) // it gives way
	for i, r := range out {
		if rest, ok := strings.CutPrefix(r.Says, p.gives(was.Plants, was.Expect)); ok && r.Rule == "size" {
			out[i].Says = p.gives(now.Plants, now.Expect) + rest
		}
	}
	return out
}

// Hold is the kept plan around what stands, written out anew: nothing is planned that is not in it, and nothing moves.
// What has no room any more, or is no longer planned so, is left out, or planted otherwise, and named in lost.
func Hold(in Input) (out *Plan, lost []garden.Planting, err error) {
	p, err := newProblem(in)
	if err != nil {
		return nil, nil, err
	}
	f, err := newField(p)
	if err != nil {
		return nil, nil, err
	}
	s := newState(f)
	s.onEveryYear()
	s.resume()
	out = s.plan()
	s.tell(out, s.play(out))
	out.From = in.From
	if faults := p.check(out); len(faults) > 0 {
		return nil, nil, fmt.Errorf("the plan held breaks its own rules, which is a fault of the program: %w", errors.Join(faults...))
	}
	for _, x := range p.old {
		if x.Clear > x.Start && x.Clear <= p.season.Start {
			continue
		}
		if !slices.ContainsFunc(out.Plantings, func(y garden.Planting) bool {
			return y.Key == x.Key && y.Place == x.Place && y.Rows == x.Rows && y.Plants == x.Plants && y.Clear == x.Clear
		}) {
			lost = append(lost, x)
		}
	}
	return out, lost, nil
}
