package plan

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"kailyard/internal/garden"
)

// tiny is an invented garden so small that every plan can be tried.
func tiny(seed uint64) *trial {
	r := rand.New(rand.NewPCG(seed, 5))
	t := newTrial()
	t.settings.Rounds = 6000
	for i := range 2 + r.IntN(2) {
		c := plainCrop(fmt.Sprintf("c%d", i), []string{"A", "B", "C"}[r.IntN(3)], 0.25, 0.3, 1+3*r.Float64())
		from := 90 + r.IntN(90)
		// Two start days: the first of a week and the best of a window of eight days at most.
		t.grow(c, steadyTimes{from: from, to: from + 6, days: 30 + r.IntN(60), span: 7 + r.IntN(20), good: 8 + r.IntN(3)})
		basis := garden.Total
		if r.IntN(3) == 0 {
			basis = garden.Weekly
		}
		t.want(c.ID, basis, 0.2+2*r.Float64(), 1+r.IntN(5))
	}
	for range 1 + r.IntN(2) {
		t.bed(1+0.25*float64(r.IntN(4)), 0.3)
	}
	return t
}

// every tries all plans of plantings alone, in order of list, on top of the state.
func every(s *state, list []placed, from int, best *int64) {
	*best = max(*best, s.value)
	for i := from; i < len(list); i++ {
		x := list[i]
		if !s.vacant(&s.plots[x.bed], x.r, x.hold, x.clear, -1, -1) || !s.oneBlock(x.bed, x.family, x.start, x.clear, -1) {
			continue
		}
		mark := len(s.log)
		s.put(x)
		every(s, list, i+1, best)
		s.undo(mark)
	}
}

// On gardens so small that all plans can be tried (one or two beds of four to seven cells, two or
// three crops) the search finds the best one, or one within two hundredths of it.
func TestSearchAgainstEveryPlan(t *testing.T) {
	exact, worst, tried := 0, 1.0, 0
	var loose []float64
	for seed := range uint64(60) {
		tr := tiny(seed)
		if err := tr.validate(); err != nil {
			t.Fatal(err)
		}
		f, err := newField(&tr.problem)
		if err != nil {
			t.Fatal(err)
		}
		s := newState(f)
		s.onEveryYear()
		var list []placed
		for want := range f.wants {
			for _, sow := range f.wants[want].sowings {
				for b := range f.plots {
					if !f.allowed(b, sow) {
						continue
					}
					for a0 := 0; a0 < f.plots[b].cells; a0++ {
						for a1 := a0 + 1; a1 <= f.plots[b].cells; a1++ {
							if x, ok := s.build(want, sow, &f.plots[b], rect{a0, a1, 0, 1}); ok {
								list = append(list, x)
							}
						}
					}
				}
			}
		}
		if len(list) > 90 {
			continue
		}
		tried++
		var best int64
		every(s, list, 0, &best)
		holds(t, fmt.Sprint("seed ", seed), f, best)
		if best > 0 {
			loose = append(loose, f.relax(byNothing).bound(stepsToBound)*float64(point)/float64(best)-1)
		}
		got := search(f).value
		if got > best {
			// Only an intercrop, which the trial of all plans leaves out, can be better.
			continue
		}
		if got == best {
			exact++
		} else if r := float64(got) / float64(best); r < worst {
			worst = r
		}
	}
	slices.Sort(loose)
	t.Logf("%d gardens, %d solved exactly, the worst at %.3f of the best; the bound lies %.1f %% above it in the median, %.1f %% at most", tried, exact, worst, 100*loose[len(loose)/2], 100*loose[len(loose)-1])
	if worst < 0.98 || tried < 20 {
		t.Errorf("the worst reaches %.3f of the best plan in %d gardens", worst, tried)
	}
}
