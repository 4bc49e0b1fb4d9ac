package season_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
	"kailyard/internal/work"
)

// regrowing is a planned season of the invented garden and the input to change it with, a month into the year.
func regrowing(t *testing.T) (*season.Result, season.Input) {
	t.Helper()
	r := compute(t, measured(t, "new_york_2012-2015.csv"), 40.8)
	day := r.Season.Start.Add(30)
	return r, season.Input{
		Season: r.Season, Garden: r.Garden, Record: r.Record, Crops: crop.Default(), Settings: plan.DefaultSettings(),
		Before: &season.Before{Kept: r.Plan, Day: day},
	}
}

// alone is the first planned planting of a kind that stands by itself in the open.
func alone(t *testing.T, r *season.Result, kinds ...string) garden.Planting {
	t.Helper()
	for _, p := range r.Plan.Plantings {
		c, _ := r.Crops.Find(p.CropID)
		for _, kind := range kinds {
			if c.Kind == kind && p.Partner == "" && p.Protection == "" && p.Status == garden.Planned {
				return p
			}
		}
	}
	t.Fatalf("no %v stands alone in the plan", kinds)
	return garden.Planting{}
}

// A planting put under a cover keeps its place and day, gets the dates of that cover's own growth table, is pinned, and
// brings the cover's jobs; all the others stay as they were. Put back in the open it is again what it was.
func TestOnePlantingIsPutUnderACover(t *testing.T) {
	r, in := regrowing(t)
	was := alone(t, r, "pea", "carrot", "lettuce")
	got, err := season.Regrow(in, was.Key, season.Growing{Cover: "low-tunnel"})
	if err != nil {
		t.Fatal(err)
	}
	now, ok := got.Planting(was.Key)
	if !ok || now.Protection != "low-tunnel" || !now.Pinned || now.Status != garden.Planned {
		t.Fatalf("the planting is now %+v", now)
	}
	if now.BedID != was.BedID || now.Place != was.Place || now.Start != was.Start || now.Plants != was.Plants || now.Method != was.Method {
		t.Errorf("it moved: %+v, was %+v", now, was)
	}
	s := got.TableUnder(was.CropID, was.Method, "low-tunnel").Summary(was.Start)
	if now.First != s.First || now.Last != s.Last || now.Success != s.Success || now.Years != s.Years {
		t.Errorf("its dates are not those of the table under the cover: %+v, %+v", now, s)
	}
	late := 0 // years that bear and are still harvested when the ground is promised
	for i := range s.Years {
		if o := got.TableUnder(was.CropID, was.Method, "low-tunnel").Outcome(was.Start, i); o.Last >= now.Clear && o.Fate == 0 {
			late++
		}
	}
	if float64(late) > (1-got.Plan.Settings.Share)*float64(s.Success)+1e-9 {
		t.Errorf("still harvested in %d of %d years when the ground is promised on %s", late, s.Success, now.Clear)
	}
	jobs := map[string]work.Job{}
	for _, j := range got.Jobs {
		if j.Planting == was.Key {
			jobs[j.Key] = j
		}
	}
	var on, air bool
	for key := range jobs {
		on, air = on || strings.HasSuffix(key, "-cover-on"), air || strings.HasSuffix(key, "-cover-air")
	}
	if !on || !air {
		t.Errorf("no job puts the cover on, or airs it: %v", reflect.ValueOf(jobs).MapKeys())
	}
	if reasons := saying(now.Reasons); !strings.Contains(reasons, "because you chose so") || !strings.Contains(reasons, "under a low tunnel, reckoned") && !strings.Contains(reasons, "Under a low tunnel, reckoned") {
		t.Errorf("its reasons do not say so:\n%s", reasons)
	}
	others(t, r.Plan, got.Plan, was.Key)

	in.Before = &season.Before{Kept: got.Plan, Day: in.Before.Day}
	back, err := season.Regrow(in, was.Key, season.Growing{Cover: ""})
	if err != nil {
		t.Fatal(err)
	}
	again, _ := back.Planting(was.Key)
	if again.Protection != "" || again.First != was.First || again.Last != was.Last || again.Clear != was.Clear || again.Success != was.Success {
		t.Errorf("back in the open it is %+v, was %+v", again, was)
	}
	if diff := float64(again.Expect - was.Expect); diff > 1e-6 || diff < -1e-6 {
		t.Errorf("back in the open it gives %v, gave %v", again.Expect, was.Expect)
	}
	if n := strings.Count(saying(again.Reasons), "because you chose so"); n != 1 {
		t.Errorf("its reasons name the choice %d times:\n%s", n, saying(again.Reasons))
	}
}

func saying(reasons []garden.Reason) string {
	var b strings.Builder
	for _, r := range reasons {
		b.WriteString(r.Says + "\n")
	}
	return b.String()
}

// others: every other planting is where and when it was.
func others(t *testing.T, before, after *plan.Plan, but string) {
	t.Helper()
	if len(before.Plantings) != len(after.Plantings) {
		t.Errorf("%d plantings, were %d", len(after.Plantings), len(before.Plantings))
	}
	for _, was := range before.Plantings {
		for _, now := range after.Plantings {
			if now.Key == was.Key && was.Key != but && (now.BedID != was.BedID || now.Place != was.Place || now.Start != was.Start || now.Clear != was.Clear || now.Plants != was.Plants || now.Rows != was.Rows || now.Pinned != was.Pinned) {
				t.Errorf("%s moved: %+v, was %+v", was.Key, now, was)
			}
		}
	}
}

// What is offered for a planting agrees with what choosing it brings, and a cover never delays a harvest it brings in
// spring; what cannot be is refused with a sentence.
func TestSheltersTellWhatChoosingBrings(t *testing.T) {
	r, in := regrowing(t)
	p := alone(t, r, "pea", "carrot", "lettuce")
	list, why := r.Shelters(p, r.Season.Start)
	if why != "" || len(list) < 5 || list[0].Cover != nil || !list[0].Here || list[0].Success != p.Success || list[0].First != p.First || list[0].Clear != p.Clear {
		t.Fatalf("%d ways, %q: %+v", len(list), why, list)
	}
	for _, s := range list[1:] {
		if s.Cannot != "" {
			if _, err := season.Regrow(in, p.Key, season.Growing{Cover: s.Cover.ID}); err == nil {
				t.Errorf("under %s it cannot be grown (%s), and was", s.Cover.Name, s.Cannot)
			}
			continue
		}
		if s.Success+s.Cold+s.Heat > s.Years || s.Here {
			t.Errorf("under %s: %+v", s.Cover.Name, s)
		}
		if s.Earlier == nil || *s.Earlier < 0 {
			t.Errorf("under %s the harvest of a planting of %s comes later: %+v", s.Cover.Name, p.Start, s)
		}
	}
	for _, bad := range []struct{ key, cover, says string }{
		{"nothing", "cloche", "no planting"}, {p.Key, "glass palace", "no such cover"},
	} {
		if _, err := season.Regrow(in, bad.key, season.Growing{Cover: bad.cover}); err == nil || !strings.Contains(err.Error(), bad.says) {
			t.Errorf("%s under %s: %v", bad.key, bad.cover, err)
		}
	}
	for _, q := range r.Plan.Plantings {
		if q.Partner != "" {
			if _, why := r.Shelters(q, r.Season.Start); !strings.Contains(why, "shares its ground") {
				t.Errorf("%s shares ground and may be covered: %q", q.Key, why)
			}
		}
	}
}

// What goes into a planting's ground before it is then free is named beforehand, and planned anew around it.
func TestWhatFollowsMakesWay(t *testing.T) {
	r, in := regrowing(t)
	p := alone(t, r, "pea", "carrot", "lettuce")
	kept := *r.Plan
	kept.Plantings = append([]garden.Planting(nil), r.Plan.Plantings...)
	follows := ""
	for i, o := range kept.Plantings { // another, laid into the same ground, as a plan would have it that rests on other weather
		if o.Key != p.Key && o.Partner == "" && o.Start >= p.Start && o.Start < p.Clear && o.CropID != p.CropID {
			kept.Plantings[i].BedID, kept.Plantings[i].Place = p.BedID, p.Place
			follows = o.Key
			break
		}
	}
	if follows == "" {
		t.Fatal("nothing else is begun while it stands")
	}
	r.Plan = &kept
	list, _ := r.Shelters(p, r.Season.Start)
	for _, s := range list {
		if s.Cannot == "" && !slices.Contains(s.Clash, follows) {
			t.Errorf("no word of %s in %+v", follows, s)
		}
	}
	in.Before = &season.Before{Kept: &kept, Day: in.Before.Day}
	got, err := season.Regrow(in, p.Key, season.Growing{Cover: "low-tunnel"})
	if err != nil {
		t.Fatal(err)
	}
	now, _ := got.Planting(p.Key)
	if now.Protection != "low-tunnel" || now.Place != p.Place {
		t.Errorf("it is now %+v", now)
	}
	stay := *got.Plan
	stay.Plantings = slices.DeleteFunc(slices.Clone(got.Plan.Plantings), func(o garden.Planting) bool {
		return !slices.ContainsFunc(kept.Plantings, func(was garden.Planting) bool { return was.Key == o.Key })
	})
	rest := kept
	rest.Plantings = slices.DeleteFunc(slices.Clone(kept.Plantings), func(o garden.Planting) bool { return o.Key == follows || o.Partner == follows })
	others(t, &rest, &stay, p.Key)
	for _, o := range got.Plan.Plantings {
		if o.Key != p.Key && o.Key != now.Partner && o.BedID == p.BedID && o.Place.Meets(now.Place) && o.Start < now.Clear && now.Start < o.Clear {
			t.Errorf("%s and %s have the same ground", p.Key, o.Key)
		}
	}
}

// begun is the input with a planting in the ground, ten days after it went in.
func begun(r *season.Result, in season.Input, p garden.Planting) season.Input {
	kept := *r.Plan
	kept.Plantings = slices.Clone(r.Plan.Plantings)
	for i := range kept.Plantings {
		if kept.Plantings[i].Key == p.Key {
			kept.Plantings[i].Status = garden.InGround
		}
	}
	in.Before = &season.Before{Kept: &kept, Day: p.Start.Add(10)}
	return in
}

// A planting in the ground has a past: a cover that would have been on over it since it went in is refused with a sentence,
// whether the plan says that it stands or only its day is past, and its own way of growing stays to choose.
func TestABegunPlantingKeepsItsPast(t *testing.T) {
	r, in := regrowing(t)
	p := alone(t, r, "pea", "carrot", "lettuce")
	with := begun(r, in, p)
	if _, err := season.Regrow(with, p.Key, season.Growing{Cover: "high-tunnel"}); err == nil || !strings.Contains(err.Error(), "has been in the ground since "+p.Start.Short()) {
		t.Errorf("%v", err)
	}
	got, err := season.Regrow(with, p.Key, season.Growing{})
	if err != nil {
		t.Fatal(err)
	}
	if now, _ := got.Planting(p.Key); now.Status != garden.InGround || now.Pinned || now.First != p.First || now.Success != p.Success {
		t.Errorf("left in the open it is now %+v", now)
	}
	list, _ := r.Shelters(p, p.Start.Add(10))
	for _, s := range list {
		if s.Cover != nil && s.Cover.ID == "high-tunnel" && (s.Cannot == "" || s.Success != 0) {
			t.Errorf("a past under a high tunnel is told: %+v", s)
		}
	}
	later := p.Start.Add(20)
	with.Before.Kept.Plantings[slices.IndexFunc(with.Before.Kept.Plantings, func(q garden.Planting) bool { return q.Key == p.Key })].Status = garden.Planned
	if _, err := season.Regrow(with, p.Key, season.Growing{Start: &later}); err == nil || !strings.Contains(err.Error(), "has begun: its day is past") {
		t.Errorf("sown on %s, it is begun again on %s: %v", p.Start, later, err)
	}
	before, _ := r.Shelters(p, p.Start)
	for _, s := range before {
		if s.Cover != nil && s.Cover.ID == "high-tunnel" && s.Success == 0 {
			t.Errorf("on the day it goes in it may still be chosen: %+v", s)
		}
	}
}

// What is sown in the warmth can be covered when it stands: no night has asked for the cover yet, so its past is the same.
// The cover's jobs all lie ahead.
func TestASummerSowingIsCoveredForAutumn(t *testing.T) {
	r, in := regrowing(t)
	p := alone(t, r, "pea", "carrot", "lettuce")
	august := r.Season.Start.Add(225)
	c, _ := r.Crops.Find(p.CropID)
	for m := range c.Methods {
		if c.Methods[m].Way == crop.Sow {
			p.Method, p.Way, p.RaiseOn = m, crop.Sow, nil
		}
	}
	p.Start, p.Clear, p.Status = august, august.Add(100), garden.InGround
	kept := *r.Plan
	kept.Plantings = []garden.Planting{p}
	today := august.Add(5)
	in.Before = &season.Before{Kept: &kept, Day: today}
	r.Plan = &kept
	list, why := r.Shelters(p, today)
	tried := 0
	for _, s := range list {
		if s.Cover == nil || s.Cannot != "" {
			continue
		}
		tried++
		got, err := season.Regrow(in, p.Key, season.Growing{Cover: s.Cover.ID})
		if err != nil {
			t.Errorf("under %s: %v", s.Cover.Name, err)
			continue
		}
		for _, j := range got.Jobs {
			if strings.Contains(j.Key, "-cover-") && j.Window.From < today {
				t.Errorf("under %s: %q from %s, chosen on %s", s.Cover.Name, j.Title, j.Window.From, today)
			}
		}
	}
	if tried == 0 {
		t.Errorf("no cover can be laid over what was sown on %s (%s): %+v", august, why, list)
	}
}

// Whatever single planting is put under whatever single cover it may stand under: the plan keeps its rules (Regrow holds
// it to the checker), the rest stays, and what was offered is what comes.
func TestAnyOnePlantingUnderAnyCover(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds")
	}
	r, in := regrowing(t)
	tried := 0
	for n, p := range r.Plan.Plantings {
		list, _ := r.Shelters(p, r.Season.Start)
		if len(list) == 0 {
			continue
		}
		s := list[n%len(list)] // another cover for each
		if s.Cannot != "" || s.Here || len(s.Clash) > 0 {
			continue
		}
		id := ""
		if s.Cover != nil {
			id = s.Cover.ID
		}
		got, err := season.Regrow(in, p.Key, season.Growing{Cover: id})
		if err != nil {
			t.Errorf("%s under %q: %v", p.Key, id, err)
			continue
		}
		now, _ := got.Planting(p.Key)
		if now.First != s.First || now.Clear != s.Clear || now.Success != s.Success || now.Expect != s.Expect {
			t.Errorf("%s under %q: offered %+v, got %+v", p.Key, id, s, now)
		}
		others(t, r.Plan, got.Plan, p.Key)
		if tried++; tried == 6 {
			break
		}
	}
	if tried < 3 {
		t.Errorf("only %d plantings could be tried", tried)
	}
}

// A planting may be begun on another day as well: all its days move with it, and what cannot be is said.
func TestAPlantingIsBegunOnAnotherDay(t *testing.T) {
	r, in := regrowing(t)
	var was garden.Planting
	for _, p := range r.Plan.Plantings {
		if p.Partner == "" && p.RaiseOn != nil && *p.RaiseOn > in.Before.Day+21 {
			was = p
		}
	}
	if was.Key == "" {
		t.Fatal("nothing is raised later")
	}
	earlier := was.Start - 10
	got, err := season.Regrow(in, was.Key, season.Growing{Cover: "high-tunnel", Start: &earlier})
	if err != nil {
		t.Fatal(err)
	}
	now, _ := got.Planting(was.Key)
	if now.Start != earlier || *now.RaiseOn != *was.RaiseOn-10 || now.First != got.TableUnder(was.CropID, was.Method, "high-tunnel").Summary(earlier).First || !now.Pinned {
		t.Errorf("it is now %+v", now)
	}
	if says := saying(now.Reasons); !strings.Contains(says, "begun on "+earlier.Short()+", because you chose so") {
		t.Errorf("its reasons:\n%s", says)
	}
	past, winter := in.Before.Day-5, r.Season.Start-20
	for _, bad := range []struct {
		start civil.Date
		says  string
	}{{past, "which is past"}, {winter, "is not in season"}} {
		if _, err := season.Regrow(in, was.Key, season.Growing{Start: &bad.start}); err == nil || !strings.Contains(err.Error(), bad.says) {
			t.Errorf("begun on %s: %v", bad.start, err)
		}
	}
}

// What is kept exactly so beside it makes no way: the cover that would need its ground is refused.
func TestWhatIsPinnedMakesNoWay(t *testing.T) {
	r, in := regrowing(t)
	p := alone(t, r, "pea", "carrot", "lettuce")
	kept := *r.Plan
	kept.Plantings = append([]garden.Planting(nil), r.Plan.Plantings...)
	for i, o := range kept.Plantings {
		if o.Key != p.Key && o.Partner == "" && o.Start >= p.Start && o.Start < p.Clear && o.CropID != p.CropID {
			kept.Plantings[i].BedID, kept.Plantings[i].Place, kept.Plantings[i].Pinned = p.BedID, p.Place, true
			break
		}
	}
	in.Before = &season.Before{Kept: &kept, Day: in.Before.Day}
	if _, err := season.Regrow(in, p.Key, season.Growing{Cover: "low-tunnel"}); err == nil || !strings.Contains(err.Error(), "has some of it from") {
		t.Errorf("%v", err)
	}
}

// A plan whose plantings would be planned otherwise today, as after a change of the catalogue, stays as it is around the
// one that is changed.
func TestAnOldPlanStaysAsItIs(t *testing.T) {
	r, in := regrowing(t)
	p := alone(t, r, "pea", "carrot", "lettuce")
	kept := *r.Plan
	kept.Plantings = slices.Clone(r.Plan.Plantings)
	for i := range kept.Plantings {
		if kept.Plantings[i].Key != p.Key {
			kept.Plantings[i].Clear-- // no growth table says so now
		}
	}
	in.Before = &season.Before{Kept: &kept, Day: in.Before.Day}
	got, err := season.Regrow(in, p.Key, season.Growing{Cover: "row-cover"})
	if err != nil {
		t.Fatal(err)
	}
	others(t, &kept, got.Plan, p.Key)
}
