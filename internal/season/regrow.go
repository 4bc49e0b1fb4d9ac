package season

import (
	"errors"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
)

// Shelter is what growing a planting under one cover, or in the open, would come to, in its place and from its day.
type Shelter struct {
	Cover  *crop.Protection // nil in the open
	Here   bool             // it is grown so now
	Has    bool             // the garden has the cover; true in the open
	Cannot string           // why it cannot be grown so; empty where it can

	Success, Years int // weather years in which it comes to harvest
	Cold, Heat     int // weather years that cold ends, and that heat or long days spoil
	First, Last    garden.Spread
	Clear          civil.Date
	Expect         quantity.Kilogram
	Earlier        *int       // days by which the first harvest comes earlier than in the open, in the middle year; nil where either gives none
	Window         civil.Span // the start days that do, where the planting's day falls or the nearest; empty where there are none
	Opens          *int       // days by which that window opens earlier than in the open; nil where the open has none then
	Clash          []string   // keys of plantings whose ground it would then hold too long: they would be planned anew
}

// Shelters are what a planting would come to in the open and under every cover it can be grown under, the least gain
// first; why is why nothing can be chosen for it. Chosen on a day on which it is in the ground already, a cover is
// reckoned with from that day on: one that would have been on before it, or was, cannot be changed.
func (r *Result) Shelters(p garden.Planting, today civil.Date) (list []Shelter, why string) {
	if why := r.settled(p); why != "" {
		return nil, why
	}
	c, ok := r.Crops.Find(p.CropID)
	if !ok || p.Method < 0 || p.Method >= len(c.Methods) {
		return nil, "The catalogue no longer has its crop grown so."
	}
	list = append(list, r.shelter(p, nil, today))
	for _, cover := range crop.Protections() {
		if growth.Fits(c, cover) {
			list = append(list, r.shelter(p, cover, today))
		}
	}
	for i := range list {
		list[i].Earlier = sooner(list[0].Success, list[0].First, list[i].Success, list[i].First)
	}
	return list, ""
}

// Sooner is by how many days the first harvest comes earlier under a cover than in the open, begun on the same day, in
// the middle year; nil where either gives none.
func Sooner(covered, open *growth.Table, start civil.Date) *int {
	o, c := open.Summary(start), covered.Summary(start)
	return sooner(o.Success, o.First, c.Success, c.First)
}

func sooner(openYears int, open garden.Spread, years int, first garden.Spread) *int {
	if openYears == 0 || years == 0 {
		return nil
	}
	days := int(open.P50 - first.P50)
	return &days
}

// settled says why what a planting grows under can no longer be chosen; empty where it can.
func (r *Result) settled(p garden.Planting) string {
	c, _ := r.Crops.Find(p.CropID)
	switch {
	case p.Status == garden.Over || p.Status == garden.Lost:
		return "It is over."
	case c != nil && c.Perennial:
		return "It stays for years; covers are for crops of a season."
	case c != nil && c.Group == crop.Cover:
		return "It is grown for the ground; covers are for crops that are eaten."
	case p.Partner != "":
		return fmt.Sprintf("It shares its ground with %s, and a cover goes over one crop alone. A want can ask for a cover: then the planner grows it by itself.", r.called(p.Partner))
	}
	return ""
}

// called is a planting's crop and key.
func (r *Result) called(key string) string {
	if p, ok := r.Planting(key); ok {
		if c, ok := r.Crops.Find(p.CropID); ok {
			return fmt.Sprintf("%s (%s)", c.Name(), key)
		}
	}
	return key
}

func (r *Result) shelter(p garden.Planting, cover *crop.Protection, today civil.Date) Shelter {
	s := Shelter{Cover: cover, Has: true}
	id := ""
	if cover != nil {
		id, s.Has = cover.ID, r.Garden.Site.Has(cover.ID)
	}
	s.Here = p.Protection == id
	t := r.TableUnder(p.CropID, p.Method, id)
	if s.Cannot = r.past(p, t, today); s.Cannot != "" && !s.Here {
		return s
	}
	s.Cannot = ""
	sum := t.Summary(p.Start)
	s.Success, s.Years, s.First, s.Last = sum.Success, sum.Years, sum.First, sum.Last
	s.Cold = sum.Fates[growth.TooCold] + sum.Fates[growth.Frozen]
	s.Heat = sum.Fates[growth.Bolted] + sum.Fates[growth.DidNotSet]
	share := r.Plan.Settings.Share
	open := r.Table(p.CropID, p.Method).Windows(share)
	if w, ok := nearestWindow(t.Windows(share), p.Start); ok {
		s.Window = w.Span
		if earlier, _, meets := growth.Widens(w, open); meets && cover != nil {
			s.Opens = &earlier
		}
	}
	switch {
	case sum.Success == 0:
		s.Cannot = "From this day it comes to harvest in no weather year."
	case t.Outgrows(p.Start):
		s.Cannot = "It would grow out of it while the nights are cold."
	}
	if s.Cannot != "" {
		return s
	}
	if now, err := plan.Regrow(r.regrowing(t, r.TableOf(p)), p, id, p.Start); err == nil {
		s.Clear, s.Expect = now.Clear, now.Expect
		s.Clash, s.Cannot = r.clashes(now)
	}
	return s
}

// past says why a planting in the ground cannot change to what a table has it under; empty where it can: its past would
// be the same. A cover laid half-way is not reckoned.
func (r *Result) past(p garden.Planting, t *growth.Table, today civil.Date) string {
	if p.Start >= today && p.Status != garden.InGround {
		return ""
	}
	in := fmt.Sprintf("It has been in the ground since %s, and ", p.Start.Short())
	if !t.CoverOff(p.Start, today) {
		return in + fmt.Sprintf("%s would have warmed it since: what one laid now brings is not reckoned.", t.Option.Protection.Under())
	}
	if _, _, years, _ := t.Covering(p.Start); years == 0 && t.Option.Protection != nil {
		return in + fmt.Sprintf("no night asks for %s while it stands.", t.Option.Protection.Under())
	}
	if was := r.TableOf(p); !was.CoverOff(p.Start, today) {
		return in + fmt.Sprintf("%s has warmed it since: what comes of it without that is not reckoned.", was.Option.Protection.Under())
	}
	return ""
}

// nearestWindow is the window that holds a day, or the one nearest to it.
func nearestWindow(windows []growth.Window, day civil.Date) (best growth.Window, ok bool) {
	away := func(w growth.Window) int { return max(int(w.From-day), int(day-w.To), 0) }
	for i, w := range windows {
		if i == 0 || away(w) < away(best) {
			best, ok = w, true
		}
	}
	return best, ok
}

// regrowing is the planner's input for one planting: the tables of its crop's method in the open and as given.
func (r *Result) regrowing(tables ...*growth.Table) plan.Input {
	in := plan.Input{Season: r.Season, Garden: r.Garden, Crops: r.Crops, Settings: r.Plan.Settings, Light: lightOf(r.Garden, r.Record, nil)}
	in.Garden.Standing = nil
	for _, t := range tables {
		for _, t := range []*growth.Table{r.Table(t.Option.Crop.ID, t.Option.Method), t} {
			if !slices.Contains(in.Tables, t) {
				in.Tables = append(in.Tables, t)
			}
		}
	}
	return in
}

// clashes are the plantings that have some of a planting's ground at the same time, and can be planned anew; cannot
// names the first that cannot, for it stands there or is kept exactly so.
func (r *Result) clashes(p garden.Planting) (keys []string, cannot string) {
	turn := civil.Date(r.Plan.Settings.TurnDays)
	for _, o := range r.Plan.Plantings {
		switch {
		case o.Key == p.Key || o.BedID != p.BedID || !o.Place.Meets(p.Place) || o.Start >= p.Clear+turn || p.Start >= o.Clear+turn:
		case o.Status == garden.Planned && !o.Pinned:
			keys = append(keys, o.Key)
		case cannot == "" && o.Start < p.Clear && p.Start < o.Clear:
			cannot = fmt.Sprintf("It would have its ground from %s to %s, and %s has some of it from %s to %s.",
				p.Start.Short(), p.Clear.Short(), r.called(o.Key), o.Start.Short(), o.Clear.Short())
		}
	}
	return keys, cannot
}

// Growing is how a person wants a planting grown.
type Growing struct {
	Cover string      // by its ID; empty in the open
	Start *civil.Date // the day it goes into the ground; nil: as it is
}

// Regrow grows one planting of the season's kept plan as a person wants it, in its place, and pins it there. Nothing
// else moves but what then lacks its ground, which is planned anew. The input's Before holds the kept plan.
func Regrow(in Input, key string, how Growing) (*Result, error) {
	if in.Before == nil || in.Before.Kept == nil {
		return nil, fmt.Errorf("there is no plan for %s to change", in.Season)
	}
	in, aside := leaveOut(in)
	kept := *in.Before.Kept
	kept.Plantings = slices.Clone(kept.Plantings)
	i := slices.IndexFunc(kept.Plantings, func(p garden.Planting) bool { return p.Key == key })
	if i < 0 {
		return nil, fmt.Errorf("the plan for %s has no planting %q; `kailyard plan --kept` lists their keys", in.Season, key)
	}
	now, err := regrown(in, kept, kept.Plantings[i], how)
	if err != nil {
		return nil, err
	}
	now.Pinned = now.Pinned || now.Status == garden.Planned
	kept.Plantings[i] = now
	before := *in.Before
	before.Kept = &kept
	in.Before, in.Plan = &before, nil
	var carried []garden.Reason
	in.Garden, carried = Carry(in.Garden, in.Season, in.Crops, before)
	r, err := Prepare(in)
	if err != nil {
		return nil, err
	}
	r.Aside = append(aside, r.Aside...)
	p := in.forPlan(r.Tables)
	p.Kept, p.Settings = &kept, kept.Settings
	r.Plan = &kept
	makeWay, _ := r.clashes(now)
	if r.Plan, err = around(p, makeWay); err != nil {
		return nil, err
	}
	r.Plan.Notes, r.Plan.Sun = append(r.Plan.Notes, carried...), kept.Sun // the rest is as it was planned
	r.derive()
	return r, nil
}

// around is the kept plan with all plantings where they are but those that must make way, which are planned anew.
// What the planner would no longer plan so, for its rules or figures are others now, is held as it is.
func around(p plan.Input, makeWay []string) (*plan.Plan, error) {
	for {
		out, lost, err := plan.Hold(p)
		if err != nil {
			return nil, err
		}
		held := len(p.Garden.Standing)
		for _, x := range lost {
			if !slices.Contains(makeWay, x.Key) {
				p.Garden.Standing = append(p.Garden.Standing[:len(p.Garden.Standing):len(p.Garden.Standing)], x)
			}
		}
		switch {
		case len(p.Garden.Standing) > held:
			continue
		case len(lost) == 0:
			return out, nil
		}
		for _, x := range p.Kept.Plantings {
			standing := slices.ContainsFunc(p.Garden.Standing, func(s garden.Planting) bool { return s.Key == x.Key })
			if !standing && !slices.Contains(makeWay, x.Key) && !slices.Contains(makeWay, x.Partner) {
				p.Garden.Standing = append(p.Garden.Standing[:len(p.Garden.Standing):len(p.Garden.Standing)], x)
			}
		}
		return plan.Make(p)
	}
}

// regrown is the planting as it then is.
func regrown(in Input, kept plan.Plan, p garden.Planting, how Growing) (garden.Planting, error) {
	day := in.Before.Day
	in.Garden.Wants, in.Plan = nil, &kept
	r, err := Prepare(in)
	if err != nil {
		return p, err
	}
	r.Plan = &kept
	moved := p
	if how.Start != nil && *how.Start != p.Start {
		if moved, err = r.BegunOn(p, *how.Start, day); err != nil {
			return p, err
		}
	}
	list, why := r.Shelters(moved, day)
	if why != "" {
		return p, fmt.Errorf("%s cannot be grown otherwise. %s", r.called(p.Key), why)
	}
	for _, s := range list {
		if s.Cover == nil && how.Cover != "" || s.Cover != nil && s.Cover.ID != how.Cover {
			continue
		}
		if s.Cannot != "" {
			says := fmt.Sprintf("%s cannot be grown so. %s", r.called(p.Key), s.Cannot)
			if r.past(moved, r.TableUnder(p.CropID, p.Method, how.Cover), day) != "" {
				says += " Cover or open it as the nights ask all the same, and write it into the journal."
			}
			return p, errors.New(says)
		}
		return plan.Regrow(r.regrowing(r.TableUnder(p.CropID, p.Method, how.Cover), r.TableOf(p)), p, how.Cover, moved.Start)
	}
	return p, fmt.Errorf("%s has no room under this cover, or there is no such cover", r.called(p.Key))
}

// BegunOn is a planting that has not begun, begun on another day of the season, not before the day it is said on.
func (r *Result) BegunOn(p garden.Planting, start, today civil.Date) (garden.Planting, error) {
	if p.Status != garden.Planned || p.Start < today {
		return p, fmt.Errorf("%s has begun: its day is past, only its cover can be chosen", r.called(p.Key))
	}
	if !r.Season.Span().Has(start) {
		return p, fmt.Errorf("%s is not in season %s, from %s to %s", start.Long(), r.Season, r.Season.Start.Long(), r.Season.End().Long())
	}
	if p.RaiseOn != nil {
		raise := *p.RaiseOn + start - p.Start
		p.RaiseOn = &raise
	}
	p.Start = start
	if begins := first(p); begins < today {
		return p, fmt.Errorf("to go in on %s it must be begun on %s, which is past", start.Short(), begins.Short())
	}
	return p, nil
}
