package plan

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"kailyard/internal/quantity"
)

// holds fails unless a season's bound, and each step down to it, lies above a value.
func holds(t *testing.T, what string, f *field, value int64) {
	t.Helper()
	got := float64(value) / float64(point)
	for _, steps := range []int{1, 20, 200} {
		if b := f.relax(byNothing).bound(steps); b < got*(1-1e-9) {
			t.Errorf("%s: after %d steps the bound is %.3f, a plan has %.3f", what, steps, b, got)
		}
	}
	within := f.within()
	sum := within.Wanted
	for _, l := range within.Limits {
		if l.Costs < 0 {
			t.Errorf("%s: the limit %q brings %.3f", what, l.Name, -l.Costs)
		}
		sum -= l.Costs
	}
	if d := sum - within.Value; d > 1e-6*within.Wanted || d < -1e-6*within.Wanted || within.Value < got*(1-1e-9) {
		t.Errorf("%s: the limits lead from %.3f to %.3f, the bound is %.3f, a plan has %.3f", what, within.Wanted, sum, within.Value, got)
	}
}

// No plan that the search finds on random small gardens, with what stands in them, their past and any settings, lies above the bound.
func TestNoPlanAboveTheBound(t *testing.T) {
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 9))
		tr := randomTrial(r)
		tr.settings.Rounds = 3000
		if err := tr.validate(); err != nil {
			t.Fatal(err)
		}
		f, err := newField(&tr.problem)
		if err != nil {
			t.Fatal(err)
		}
		holds(t, fmt.Sprint("seed ", seed), f, search(f).value)
	}
}

// Nor does one on real crops' figures, in four climates, in sun and shade, with every sort of setting.
func TestNoPlanOfTheCatalogueAboveTheBound(t *testing.T) {
	for k, climate := range []string{"cold", "mild", "warm", "south"} {
		in := inClimate(t, climate)
		in.Settings.Share, in.Settings.Seed, in.Settings.Rounds = []float64{0.8, 0.5, 0.95, 0.8}[k], int64(k), 8000
		in.Garden.Beds = append(in.Garden.Beds[:0:0], in.Garden.Beds...)
		for i := range in.Garden.Beds {
			if i%4 == k {
				in.Garden.Beds[i].Sun = quantity.Hour(4)
			}
		}
		p, err := newProblem(in)
		if err != nil {
			t.Fatal(err)
		}
		f, err := newField(p)
		if err != nil {
			t.Fatal(err)
		}
		value, bound := float64(search(f).value)/float64(point), f.relax(byNothing).bound(stepsToBound)
		if value > bound {
			t.Errorf("%s: the bound is %.3f, a plan has %.3f", climate, bound, value)
		}
		t.Logf("%s: %.1f %% of the bound", climate, 100*value/bound)
	}
}
