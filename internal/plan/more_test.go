package plan

import (
	"math/rand/v2"
	"testing"

	"kailyard/internal/quantity"
)

// more is what of an invented garden there may be more.
var more = map[string]func(t *trial){
	"nothing": func(*trial) {},
	"a bed":   func(t *trial) { t.bed(3, 1.2).ID = 99 },
	"light": func(t *trial) {
		for i := range t.garden.Beds {
			t.garden.Beds[i].Sun += quantity.Hour(2)
		}
	},
	"longer": func(t *trial) {
		t.times(func(times *steadyTimes) { times.from, times.to = max(0, times.from-14), times.to+14 })
	},
	"kinder": func(t *trial) { t.times(func(times *steadyTimes) { times.good = min(10, times.good+1) }) },
}

// times changes every timetable.
func (t *trial) times(change func(times *steadyTimes)) {
	for i := range t.options {
		times := t.options[i].times.(steadyTimes)
		change(&times)
		t.options[i].times = times
	}
}

// held is the state in which an earlier plan is taken up and nothing is changed.
func (t *trial) held(tb testing.TB) *state {
	if err := t.validate(); err != nil {
		tb.Fatal(err)
	}
	f, err := newField(&t.problem)
	if err != nil {
		tb.Fatal(err)
	}
	s := newState(f)
	s.onEveryYear()
	s.resume()
	return s
}

// With more ground, more light, a longer season or a kinder one all of an earlier plan still fits where it was, and the plan that goes
// on from it is worth no less than it. With nothing new, or a bed more, it is worth no less than it was. With more light or good years
// the same ground bears more than is eaten, which costs something; whoever goes on changes a planting only for churn, so that so much
// may be lost of each want. By a longer season's measure, in which other weeks are early and late, the earlier plan is worth something else.
func TestMoreIsNeverWorthLess(t *testing.T) {
	for seed := range uint64(120) {
		tr := randomTrial(rand.New(rand.NewPCG(seed, 17)))
		tr.settings.Rounds = 1000
		before, err := tr.plan()
		if err != nil {
			t.Fatal(err)
		}
		for name, change := range more {
			again := randomTrial(rand.New(rand.NewPCG(seed, 17)))
			again.settings.Rounds = 1000
			change(again)
			again.goOn(before)
			s := again.held(t)
			after, err := again.plan()
			if err != nil {
				t.Fatal(err)
			}
			least := float64(s.value) / float64(point)
			switch name {
			case "nothing", "a bed":
				least = max(least, before.Value)
			case "light", "kinder":
				least = max(least, before.Value-float64(churn)/float64(point)*float64(len(tr.garden.Wants)))
			}
			if after.Value < least-1e-6 {
				t.Errorf("seed %d: with more (%s) the plan is worth %.3f, before it %.3f, held %.3f", seed, name, after.Value, before.Value, least)
			}
			planted := 0
			for _, x := range s.slots {
				if x.live && !x.fixed {
					planted++
				}
			}
			if had := len(before.Plantings) - len(s.fixed); planted != had {
				t.Errorf("seed %d: with more (%s) %d plantings of %d fit where they were", seed, name, planted, had)
			}
		}
	}
}
