package plan

import (
	"encoding/json"
	"math/rand/v2"
	"testing"
)

// held is the ground that plantings of a plan hold, in m² × days, and how many are not standing ones.
func held(s *state) (squareDays float64, plantings int) {
	for i := range s.slots {
		if x := &s.slots[i]; x.live && !x.fixed {
			plantings++
			if x.mode == apart {
				squareDays += x.area * float64(x.clear-x.hold)
			}
		}
	}
	return squareDays, plantings
}

// With work or ground dearer and cheaper the search still finds the best of all plans of tiny gardens, or nearly, and no plan lies
// above the bound.
func TestWeightsOnEveryPlan(t *testing.T) {
	tried, worst := 0, 1.0
	for seed := range uint64(24) {
		for _, at := range [][2]float64{{0.25, 1}, {4, 1}, {1, 0.25}, {1, 40}} {
			tr := tiny(seed)
			tr.settings.Work, tr.settings.Ground = at[0], at[1]
			if err := tr.validate(); err != nil {
				t.Fatal(err)
			}
			f, err := newField(&tr.problem)
			if err != nil {
				t.Fatal(err)
			}
			s := newState(f)
			s.onEveryYear()
			list := alone(f, s)
			if len(list) > 60 {
				continue
			}
			tried++
			var best int64
			every(s, list, 0, &best)
			if b := f.relax(byNothing).bound(100); b < float64(best)/float64(point)*(1-1e-9) {
				t.Errorf("seed %d, weights %v: the bound is %.3f, a plan has %.3f", seed, at, b, float64(best)/float64(point))
			}
			if got := search(f).value; best > 0 {
				worst = min(worst, float64(got)/float64(best))
			}
		}
	}
	t.Logf("%d gardens, the worst at %.3f of the best", tried, worst)
	if worst < 0.97 || tried < 20 {
		t.Errorf("the worst reaches %.3f of the best plan in %d gardens", worst, tried)
	}
}

// alone is every planting that stands by itself.
func alone(f *field, s *state) (list []placed) {
	for want := range f.wants {
		for _, sow := range f.wants[want].sowings {
			for b := range f.plots {
				for a0 := 0; f.allowed(b, sow) && a0 < f.plots[b].cells; a0++ {
					for a1 := a0 + 1; a1 <= f.plots[b].cells; a1++ {
						if x, ok := s.build(want, sow, &f.plots[b], rect{a0, a1, 0, 1}); ok {
							list = append(list, x)
						}
					}
				}
			}
		}
	}
	return list
}

// A cost is the work at the work's weight, the ground at the ground's, and what goes by neither.
func TestWeightsOnACost(t *testing.T) {
	seen := 0
	for seed := range uint64(70) {
		tr := randomTrial(rand.New(rand.NewPCG(seed, 11)))
		if err := tr.validate(); err != nil {
			t.Fatal(err)
		}
		f, err := newField(&tr.problem)
		if err != nil {
			t.Fatal(err)
		}
		s := search(f)
		for i := range s.slots {
			x := &s.slots[i]
			if !x.live || x.fixed {
				continue
			}
			seen++
			at := func(work, ground float64) int64 {
				f.settings.Work, f.settings.Ground = work, ground
				return s.cost(x)
			}
			one := at(1, 1)
			work, ground := at(2, 1)-one, at(1, 2)-one
			if work != s.workOf(x) || at(4, 1) != one+3*work || at(1, 4) != one+3*ground {
				t.Errorf("seed %d: the cost is no sum of its parts", seed)
			}
			if ground < 0 || (ground == 0) != (x.mode != apart || f.plots[x.bed].bed.Perennial) {
				t.Errorf("seed %d: a planting (%v) pays %d for its ground", seed, x.mode, ground)
			}
			at(1, 1)
		}
	}
	if seen < 50 {
		t.Errorf("%d plantings were looked at", seen)
	}
}

// The dearer ground or work is, the less of it a plan takes: on the demo garden.
func TestDearerIsUsedLess(t *testing.T) {
	in := demo(t)
	in.Settings.Rounds = 8000
	plan := func(work, ground float64) (float64, int) {
		in.Settings.Work, in.Settings.Ground = work, ground
		p, err := newProblem(in)
		if err != nil {
			t.Fatal(err)
		}
		f, err := newField(p)
		if err != nil {
			t.Fatal(err)
		}
		s := search(f)
		if faults := p.check(s.plan()); len(faults) > 0 {
			t.Fatal(faults)
		}
		return held(s)
	}
	usual, many := plan(1, 1)
	sparing, _ := plan(1, 100)
	_, few := plan(4, 1)
	t.Logf("ground held: %.0f m² × days at weight 1, %.0f at 100; plantings: %d at 1, %d at 4", usual, sparing, many, few)
	if sparing > 0.8*usual {
		t.Errorf("at 100 times the price of ground the plan holds %.0f m² × days, at once its price %.0f", sparing, usual)
	}
	if float64(few) > 0.95*float64(many) {
		t.Errorf("at four times the price of work there are %d plantings, at once its price %d", few, many)
	}
}

// Settings kept before there was a setting have its default.
func TestSettingsOfAnOlderBook(t *testing.T) {
	want := DefaultSettings()
	want.Share, want.Rounds = 0.9, 500
	var got Settings
	if err := json.Unmarshal([]byte(`{"success_share":0.9,"rotation_years":3,"turnaround_days":5,"seed":1,"improvement_rounds":500}`), &got); err != nil || got != want {
		t.Errorf("got %+v, %v; want %+v", got, err, want)
	}
	body, err := json.Marshal(want)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(body, &got); err != nil || got != want {
		t.Errorf("written and read: %+v, %v", got, err)
	}
}
