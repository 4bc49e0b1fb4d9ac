package plan

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// hoursOf are the hours of a plan by week, counted anew from its plantings with figures typed here, for crops that are sown, not
// thinned, and picked by the head at 20 kg an hour: 0.15 h a job, 18 m² loosened, 45 m drilled, 60 m² tended and 15 m² cleared an
// hour (common practice).
func hoursOf(tr *trial, p *Plan) map[int]float64 {
	out := map[int]float64{}
	for _, x := range p.Plantings {
		put := func(day int, hours float64) { out[int(math.Floor(float64(day)/7))] += hours }
		start, clear, area := x.Start.Since(tr.season.Start), x.Clear.Since(tr.season.Start), float64(x.Place.Area())
		put(start-1, 0.15+area/18)
		put(start, 0.15+float64(x.Rows)*float64(x.Place.AlongTo-x.Place.AlongFrom)/45)
		for day := start; day < clear; day += 7 {
			put(day, area/60)
		}
		o, _ := (&checker{problem: &tr.problem}).optionOf(&x)
		share := o.times.Harvest(x.Start)
		sum := 0.0
		for _, s := range share {
			sum += s
		}
		for w, s := range share {
			put(7*w, float64(x.Expect)*s/sum/20)
		}
		put(clear-1, 0.15+area/15)
	}
	return out
}

// busyTrial is a garden whose work all falls together where nobody minds.
func busyTrial(hours float64) *trial {
	tr := newTrial()
	for i := range 4 {
		c := plainCrop(fmt.Sprintf("head-%d", i), string(rune('A'+i)), 0.3, 0.3, 3)
		c.Harvest.Part = "head"
		tr.grow(c, steadyTimes{from: 90, to: 180, days: 60, span: 10, good: 10})
		tr.want(c.ID, garden.Total, 40, 3)
		tr.bed(12, 1.2)
	}
	tr.garden.Site.HoursAWeek = quantity.Hour(hours)
	return tr
}

func excess(by map[int]float64, give float64) (sum float64, weeks int) {
	for _, h := range by {
		sum += max(0, h-give)
		if h > give*1.1 {
			weeks++
		}
	}
	return sum, weeks
}

// Work is kept near the hours that can be given: what is beyond them is much less than in the plan made without; with hours enough,
// or none told, the plan is the same; and the notes tell as many weeks as the plantings, counted anew, make.
func TestWorkIsSpread(t *testing.T) {
	free := mustPlan(t, busyTrial(0))
	plenty := mustPlan(t, busyTrial(1000))
	if plenty.Value != free.Value || len(plenty.Plantings) != len(free.Plantings) {
		t.Errorf("hours enough change the plan: %.3f, was %.3f", plenty.Value, free.Value)
	}
	if strings.Contains(says(free.Notes), "you can give") || !strings.Contains(says(plenty.Notes), "No week asks for more than about the 1000 h you can give") {
		t.Errorf("told: %s\n%s", says(free.Notes), says(plenty.Notes))
	}
	const give = 3
	tr := busyTrial(give)
	p := mustPlan(t, tr)
	before, _ := excess(hoursOf(tr, free), give)
	after, weeks := excess(hoursOf(tr, p), give)
	t.Logf("hours beyond %d a week: %.1f without the limit, %.1f with it; worth %.1f and %.1f", give, before, after, free.Value, p.Value)
	if before < 2 || after > before/2 {
		t.Errorf("%.1f hours beyond %d a week, and %.1f where nobody minds", after, give, before)
	}
	told := says(p.Notes)
	want := "No week asks for more than about the 3 h"
	switch weeks {
	case 0:
	case 1:
		want = "One week asks for more than the 3 h you can give"
	default:
		want = fmt.Sprintf("%d weeks ask for more than the 3 h you can give", weeks)
	}
	if !strings.Contains(told, want) {
		t.Errorf("want %q in %s", want, told)
	}
}

// The hours kept up to date through a search are those counted from the plantings at its end, and so is the value.
func TestHoursAreKeptUpToDate(t *testing.T) {
	loaded := 0
	for seed := range uint64(30) {
		r := rand.New(rand.NewPCG(seed, 9))
		tr := randomTrial(r)
		for i := range tr.options {
			if c := tr.options[i].crop; r.IntN(2) == 0 {
				c.Methods = []crop.Method{{Way: crop.SetOut, WeeksIndoors: crop.Range{Low: 5, High: 7}}}
				c.Practice.Support = []string{"", "stakes", "trellis"}[r.IntN(3)]
			} else {
				c.Practice.Thin, c.Practice.EarthUp = r.IntN(2) == 0, r.IntN(3) == 0
			}
		}
		tr.garden.Site.HoursAWeek = quantity.Hour(0.1 + 0.6*r.Float64())
		tr.garden.Site.Trays = 3
		if err := tr.validate(); err != nil {
			t.Fatal(err)
		}
		f, err := newField(&tr.problem)
		if err != nil {
			t.Fatal(err)
		}
		s := search(f)
		again := newState(f)
		again.onEveryYear()
		again.restore(s.snapshot())
		if !slices.Equal(again.busy, s.busy) || !slices.Equal(again.shelf, s.shelf) || again.value != s.value {
			t.Errorf("seed %d: hours, trays or value drifted: %d, counted anew %d", seed, s.value, again.value)
		}
		if slices.ContainsFunc(s.stint, func(v int64) bool { return v != 0 }) {
			t.Errorf("seed %d: work is left over in the scratch weeks", seed)
		}
		if slices.ContainsFunc(s.busy, func(v int64) bool { return s.over(v) > 0 }) {
			loaded++
		}
	}
	if loaded < 5 {
		t.Errorf("the hours are too few in %d gardens only", loaded)
	}
}
