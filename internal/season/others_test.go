package season

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// comparedInput is an invented garden of four beds under generated weather.
func comparedInput(t testing.TB, wants ...garden.Want) Input {
	t.Helper()
	g := garden.Garden{Site: garden.Site{Name: "Invented", Latitude: 44, Longitude: -73, Invented: true}}
	for i := range 4 {
		g.Beds = append(g.Beds, garden.Bed{ID: int64(i + 1), Name: string(rune('A' + i)), X: quantity.Metre(2 * i), Length: 5, Width: 1.2, Sun: 8})
	}
	for i, w := range wants {
		w.ID, w.Unit = int64(i+1), "kg"
		g.Wants = append(g.Wants, w)
	}
	s := plan.DefaultSettings()
	s.Rounds = 3000
	in := Input{Season: civil.SeasonOf(2027, 44), Garden: g, Crops: crop.Default(), Settings: s, Years: 15}
	for _, c := range weather.Climates() {
		if c.ID == "burlington" {
			in.Record = weather.Generate(c, 2005, 17, 7)
		}
	}
	return in
}

func someWants() []garden.Want {
	var list []garden.Want
	for _, w := range []struct {
		crop   string
		kg     float64
		weight int
	}{{"pea", 3, 3}, {"tomato", 20, 4}, {"carrot", 10, 3}, {"spinach", 2, 1}, {"onion", 8, 3}, {"radish", 2, 1}, {"leek", 5, 2}, {"beet", 6, 2}} {
		list = append(list, garden.Want{Crop: w.crop, Basis: garden.Total, Amount: w.kg, Weight: w.weight})
	}
	return list
}

func mustCompare(t *testing.T, in Input) *Alternatives {
	t.Helper()
	a, err := Compare(in)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The plan as set is the plan that would be made; each way leads where it says; figures are those of plan and jobs, counted anew here.
func TestCompare(t *testing.T) {
	in := comparedInput(t, someWants()...)
	a := mustCompare(t, in)
	made, err := Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	one, _ := json.Marshal(made.Plan)
	if two, _ := json.Marshal(a.Plans[0].Result.Plan); string(one) != string(two) {
		t.Error("the plan as set is not the plan that is made")
	}
	of := func(id string) *Alternative {
		p, ok := a.Plan(id)
		if !ok {
			t.Fatalf("no plan %q", id)
		}
		return p
	}
	set, spare, light, sure := of("as-set"), of("spare-ground"), of("light-hands"), of("sure-table")
	if spare.Figures.GroundWeeks > 0.9*set.Figures.GroundWeeks {
		t.Errorf("spare ground holds %.0f m² × weeks, the plan as set %.0f", spare.Figures.GroundWeeks, set.Figures.GroundWeeks)
	}
	if light.Figures.Plantings > set.Figures.Plantings || light.Figures.Hours > set.Figures.Hours {
		t.Errorf("light hands: %d plantings, %.1f h; as set: %d, %.1f h", light.Figures.Plantings, light.Figures.Hours, set.Figures.Plantings, set.Figures.Hours)
	}
	if sure.Figures.Least < 0.9-1e-9 || sure.Result.Plan.Settings.Share < 0.9-1e-9 {
		t.Errorf("the surest has a planting that succeeds in %.2f of the years", sure.Figures.Least)
	}
	if sure.Figures.Poor < set.Figures.Poor {
		t.Errorf("in a poor year the surest gives %.1f kg, the plan as set %.1f", sure.Figures.Poor, set.Figures.Poor)
	}
	for _, p := range a.Plans {
		t.Logf("%s: %+v; %s", p.Way.Name, p.Figures, p.Differs)
		recount(t, p)
		if (p.Differs == "") != (p.Way.ID == "as-set") || strings.Contains(p.Differs, "%!") {
			t.Errorf("%s differs: %q", p.Way.ID, p.Differs)
		}
		for _, q := range p.Result.Plan.Plantings {
			if p.Result.TableOf(q) == nil {
				t.Errorf("%s has no table", q.Key)
			}
		}
	}
	again := mustCompare(t, in)
	for i := range a.Plans {
		if x, y := a.Plans[i], again.Plans[i]; x.Differs != y.Differs || x.Same != y.Same || x.Figures.GroundWeeks != y.Figures.GroundWeeks {
			t.Errorf("%s comes out otherwise the second time", x.Way.ID)
		}
	}
}

// recount counts a plan's figures day by day and cell by cell of a decimetre, with code of its own.
func recount(t *testing.T, a Alternative) {
	t.Helper()
	r, f := a.Result, a.Figures
	var hours, kg float64
	for _, j := range r.Jobs {
		hours += float64(j.Hours)
	}
	for _, s := range r.Plan.Supply {
		kg += float64(s.Expected)
	}
	if math.Abs(hours-float64(f.Hours)) > 1e-6 || math.Abs(kg-float64(f.Expect)) > 1e-6 || f.Plantings != len(r.Plan.Plantings) {
		t.Errorf("%s: %.2f h, %.2f kg, %d plantings by count; told %+v", a.Way.ID, hours, kg, len(r.Plan.Plantings), f)
	}
	const cell = 0.05
	taken, all := 0.0, 0.0
	for _, b := range r.Garden.Beds {
		for d := r.Season.Start; d <= r.Season.End(); d += 7 { // a day of every week
			for x := cell / 2; x < float64(b.Length); x += cell {
				all++
				for _, p := range r.Plan.Plantings {
					at := p.Place
					if p.BedID == b.ID && d >= p.Start && d < p.Clear && x > float64(at.AlongFrom) && x < float64(at.AlongTo) && p.Role != garden.Fast && p.Role != garden.Marker {
						taken += float64((at.AcrossTo - at.AcrossFrom) / b.Width)
					}
				}
			}
		}
	}
	if share := taken / all; math.Abs(share-f.GroundShare) > 0.02 {
		t.Errorf("%s: by cells the plan holds %.3f of the ground, told %.3f", a.Way.ID, share, f.GroundShare)
	}
}

// Where there is one thing to do, all ways come out alike, and that is told.
func TestAlikeIsTold(t *testing.T) {
	in := comparedInput(t, garden.Want{Crop: "garlic", Basis: garden.Total, Amount: 1, Weight: 5})
	in.Garden.Beds = in.Garden.Beds[:1]
	a := mustCompare(t, in)
	told := 0
	for _, p := range a.Plans[1:] {
		if p.Alike != "" {
			told++
		}
		if p.Alike != "as-set" && p.Same >= alikeFrom || p.Same < 0.3 {
			t.Errorf("%s: %.2f of it is the same, and it is told to be like %q", p.Way.ID, p.Same, p.Alike)
		}
	}
	if told == 0 {
		t.Error("none is told to be alike")
	}
}

// Two square metres of one crop for weeks 10 to 19 and for weeks 15 to 24 have five weeks of fifteen in common, wherever they lie; with
// another crop of the same ground and time in one of them, five of twenty-five.
func TestSameGroundAndTime(t *testing.T) {
	s := civil.SeasonOf(2027, 44)
	plot := func(list ...garden.Planting) *Result {
		return &Result{Season: s, Garden: garden.Garden{Beds: []garden.Bed{{ID: 1, Length: 4, Width: 1}, {ID: 2, Length: 4, Width: 1}}}, Plan: &plan.Plan{Plantings: list}}
	}
	weeks := func(key, id string, bed int64, along float64, from, to int) garden.Planting {
		return garden.Planting{Key: key, CropID: id, BedID: bed, Place: garden.Place{AlongFrom: quantity.Metre(along), AlongTo: quantity.Metre(along + 2), AcrossTo: 1}, Start: s.WeekStart(from), Clear: s.WeekStart(to)}
	}
	a, b := plot(weeks("a", "carrot", 1, 0, 10, 20)), plot(weeks("b", "carrot", 2, 1, 15, 25))
	both := plot(weeks("b", "carrot", 2, 1, 15, 25), weeks("c", "leek", 1, 1, 0, 10))
	rows := []struct {
		what     string
		x, y     *Result
		standing []garden.Planting
		want     float64
	}{
		{"itself", a, a, nil, 1}, {"later", a, b, nil, 5.0 / 15}, {"with another crop", a, both, nil, 5.0 / 25}, {"nothing", plot(), plot(), nil, 1},
		{"the other stands already", a, both, []garden.Planting{{Key: "c"}}, 5.0 / 15},
	}
	for _, r := range rows {
		if got := same(r.x, r.y, r.standing); math.Abs(got-r.want) > 1e-9 {
			t.Errorf("%s: %.4f, want %.4f", r.what, got, r.want)
		}
		if one, two := same(r.x, r.y, r.standing), same(r.y, r.x, r.standing); math.Abs(one-two) > 1e-12 {
			t.Errorf("%s: %.4f one way, %.4f the other", r.what, one, two)
		}
	}
}

// A kept plan is the plan as set; what is begun by the day stands in all of them as it is.
func TestCompareInMidSeason(t *testing.T) {
	in := comparedInput(t, someWants()...)
	first, err := Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	day := civil.Of(2027, 6, 10)
	in.Plan, in.Before = first.Plan, &Before{Kept: first.Plan, Day: day}
	a := mustCompare(t, in)
	if a.Plans[0].Result.Plan != first.Plan {
		t.Error("the plan as set is not the kept one")
	}
	begun := map[string]garden.Planting{}
	for _, p := range first.Plan.Plantings {
		if p.Start < day {
			begun[p.Key] = p
		}
	}
	for _, o := range a.Plans[1:] {
		found := 0
		for _, p := range o.Result.Plan.Plantings {
			was, ok := begun[p.Key]
			if ok && p.Place == was.Place && p.CropID == was.CropID && p.Start == was.Start {
				found++
			} else if p.Start < day {
				t.Errorf("%s begins %s on %s", o.Way.ID, p.CropID, p.Start)
			}
		}
		if found != len(begun) {
			t.Errorf("%s has %d of the %d plantings that are begun", o.Way.ID, found, len(begun))
		}
	}
}
