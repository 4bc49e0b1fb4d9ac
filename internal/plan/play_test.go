package plan

import (
	"math"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
)

// chain is a bed in which b follows a, and c follows b, each five days after its ground is promised free, by a plan written by hand.
// In year i of ten a is ready 3×i days late, and the years up to the eighth count for the promise: so a is out
//
//	in years 1–8 by its promised day, in year 9 three days later, in year 10 six.
//
// b may go in for latest days after its planned day.
func chain(t *testing.T, latest int, manner crop.Manner) *Played {
	t.Helper()
	tr := newTrial()
	tr.settings.Share, tr.settings.TurnDays = 0.8, 5
	a := plainCrop("a", "A", 0.2, 0.3, 2)
	a.Harvest.Manner = manner
	a.Harvest.Span.Low, a.Harvest.Span.High = 20, 20
	span := 1
	if manner == crop.Repeated {
		span = 20
	}
	at := func(day int) civil.Date { return tr.season.Start.Add(day) }
	free := 100 + 40 + 21 + span
	tr.grow(a, steadyTimes{from: 90, to: 110, days: 40, span: span, good: 10, early: 27})
	tr.grow(plainCrop("b", "B", 0.2, 0.3, 2), steadyTimes{from: 100, to: free + 5 + latest, days: 30, span: 1, good: 10})
	tr.grow(plainCrop("c", "C", 0.2, 0.3, 2), steadyTimes{from: 100, to: 300, days: 30, span: 1, good: 10})
	tr.bed(4, 1)
	tr.want("a", garden.Total, 8, 3)
	tr.want("b", garden.Total, 8, 3)
	tr.want("c", garden.Total, 8, 3)
	if err := tr.validate(); err != nil {
		t.Fatal(err)
	}
	f, err := newField(&tr.problem)
	if err != nil {
		t.Fatal(err)
	}
	whole := garden.Place{AlongTo: 4, AcrossTo: 1}
	p := &Plan{Season: tr.season}
	for i, v := range []struct {
		crop         string
		start, clear int
	}{{"a", 100, free}, {"b", free + 5, free + 36}, {"c", free + 41, free + 72}} {
		key := string(rune('1' + i))
		p.Plantings = append(p.Plantings, garden.Planting{
			Key: key, BedID: 1, CropID: v.crop, Place: whole, Start: at(v.start), Clear: at(v.clear), Expect: 8, Status: garden.Planned, Role: garden.Alone,
		})
		p.Supply = append(p.Supply, Supply{Want: tr.garden.Wants[i], Keys: []string{key}})
	}
	return f.play(p)
}

// Worked by hand: b is three days late in year 9 and six in year 10; when it may be but four days late it fails in year 10, and c is
// then on time in that year and three days late in year 9.
func TestALateCropDelaysTheNext(t *testing.T) {
	p := chain(t, 4, crop.Once)
	a, b, c := p.Plantings[0], p.Plantings[1], p.Plantings[2]
	if a.Success != 10 || a.Late != 0 {
		t.Errorf("the first is harvested in %d years and late in %d; in 10 and 0 by hand", a.Success, a.Late)
	}
	if b.Success != 9 || b.Late != 2 || b.MostLate != 6 || b.GivenUp != 0 {
		t.Errorf("the second: %+v; harvested in 9 years, late in 2, by 6 days at most, by hand", b)
	}
	if c.Success != 10 || c.Late != 1 || c.MostLate != 3 {
		t.Errorf("the third: %+v; harvested in 10 years, late in one, by 3 days, by hand", c)
	}
	if d := b.Start.P90 - b.Start.P10; d != 3 { // nine of ten years: the ninth is three days late
		t.Errorf("the second begins within %d days in nine years of ten; 3 by hand", d)
	}
	if got := p.Wants[1].Years; got[0] != 0 || math.Abs(float64(got[1]-8)) > 1e-3 || math.Abs(float64(got[9]-8)) > 1e-3 {
		t.Errorf("the second want gets %v; nothing in one year and 8 kg in nine by hand", got)
	}
}

// When all of a is late by more than mostLate days b is given up and c finds its ground free.
func TestWhatWouldBeFarTooLateIsGivenUp(t *testing.T) {
	tr := newTrial()
	tr.settings.TurnDays = 0
	tr.grow(plainCrop("a", "A", 0.2, 0.3, 2), steadyTimes{from: 0, to: 300, days: 40, span: 1, good: 10, early: 90})
	tr.grow(plainCrop("b", "B", 0.2, 0.3, 2), steadyTimes{from: 0, to: 300, days: 40, span: 1, good: 10})
	tr.bed(4, 1)
	tr.want("b", garden.Total, 8, 3)
	if err := tr.validate(); err != nil {
		t.Fatal(err)
	}
	f, err := newField(&tr.problem)
	if err != nil {
		t.Fatal(err)
	}
	at := func(day int) civil.Date { return tr.season.Start.Add(day) }
	whole := garden.Place{AlongTo: 4, AcrossTo: 1}
	p := f.play(&Plan{Season: tr.season, Plantings: []garden.Planting{
		{Key: "1", BedID: 1, CropID: "a", Place: whole, Start: at(50), Clear: at(50 + 41 + 60), Status: garden.Planned},
		{Key: "2", BedID: 1, CropID: "b", Place: whole, Start: at(50 + 41 + 60), Clear: at(250), Status: garden.Planned},
	}})
	// Year i of a is 10×i days late: years 7, 8 and 9, counted from 0, are 10, 20 and 30 days past the sixty of the promise.
	if b := p.Plantings[1]; b.Late != 3 || b.GivenUp != 1 || b.MostLate != 20 || b.Success != 9 {
		t.Errorf("%+v; late in 3 years, given up in one, 20 days late at most, harvested in 9, by hand", b)
	}
}

// What is picked over weeks is pulled when the ground is promised, if half its shorter harvest is over by then, and the next crop
// loses nothing.
func TestWhatIsPickedOverWeeksMakesRoom(t *testing.T) {
	p := chain(t, 4, crop.Repeated)
	if b := p.Plantings[1]; b.Late != 0 || b.Success != 10 {
		t.Errorf("%+v: a crop picked for 20 days, ten of which suffice, is at most six days late, and b never", b)
	}
	years := p.Wants[0].Years
	if years[0] >= years[9] {
		t.Errorf("a gives %v: in the late years the last of it is not picked", years)
	}
}

// The chance told with each planting of plans for four climates is what playing the plan gives, within five points, and none is
// below the person's share; what a season's total gets on the average of the years is what is expected.
func TestPromisedChancesHold(t *testing.T) {
	late, plantings := 0, 0
	for _, id := range []string{"cold", "mild", "warm", "south"} {
		in := inClimate(t, id)
		in.Settings.Rounds = 20_000
		p := made(t, in)
		q, err := Play(in, p)
		if err != nil {
			t.Fatal(err)
		}
		slow := map[string]bool{}
		for i, x := range p.Plantings {
			y := q.Plantings[i]
			plantings++
			late += y.Late
			slow[x.Key] = y.Late > 0
			if d := float64(x.Success-y.Success) / float64(x.Years); math.Abs(d) > 0.05 {
				t.Errorf("%s: %s (%s, %s) promises %d years and comes to harvest in %d", id, x.Key, x.CropID, x.Start, x.Success, y.Success)
			}
			if float64(y.Success) < in.Settings.Share*float64(q.Years)-1e-9 {
				t.Errorf("%s: %s (%s, %s) comes to harvest in %d years of %d", id, x.Key, x.CropID, x.Start, y.Success, q.Years)
			}
		}
		for i, w := range q.Wants {
			mean, anyLate := 0.0, false
			for _, k := range w.Years {
				mean += float64(k) / float64(len(w.Years))
			}
			for _, key := range p.Supply[i].Keys {
				anyLate = anyLate || slow[key]
			}
			if got := float64(p.Supply[i].Expected); w.Want.Basis == garden.Total && !anyLate && math.Abs(mean-got) > 0.01+0.002*got {
				t.Errorf("%s: %s is expected to give %.3f kg and gives %.3f in the mean of the years", id, w.Want.Crop, got, mean)
			}
			if w.Want.Basis == garden.Weekly && mean > 0.01+1.005*float64(p.Supply[i].Expected) { // harvests are told by whole weeks
				t.Errorf("%s: %s: weeks that differ from year to year feed better, %.3f kg, than their mean, %.3f", id, w.Want.Crop, mean, float64(p.Supply[i].Expected))
			}
		}
	}
	t.Logf("%d plantings, late in %d years together", plantings, late)
	if late == 0 {
		t.Error("no planting is ever late: the plans try nothing of this")
	}
}

func TestPlayOfAnEmptyPlan(t *testing.T) {
	in := household(t)
	p, err := Play(in, &Plan{Season: in.Season})
	if err != nil || p.Years != 0 || len(p.Plantings)+len(p.Wants) != 0 {
		t.Errorf("%+v, %v", p, err)
	}
	if _, err := Play(Input{}, &Plan{}); err == nil {
		t.Error("a plan without a garden is played")
	}
}

// hardOnFirst fails in the first years of ten.
type hardOnFirst struct {
	steadyTimes
	bad int
}

func (t hardOnFirst) Outcome(start civil.Date, i int) growth.Outcome {
	if i < t.bad {
		return growth.Outcome{Fate: growth.Frozen, In: start}
	}
	return t.steadyTimes.Outcome(start, i)
}

func (t hardOnFirst) Summary(start civil.Date) growth.Summary {
	s := t.steadyTimes.Summary(start)
	if s.Success > 0 {
		s.Success -= t.bad
		s.Yield = float64(s.Success) / 10
	}
	return s
}

func (t hardOnFirst) Harvest(start civil.Date) []float64 {
	out := t.steadyTimes.Harvest(start)
	for w := range out {
		out[w] *= float64(10-t.bad) / 10
	}
	return out
}

// b fails in two years of its own, and in two others when it has to wait for a: with six years of ten it is not planted after a where
// eight are asked. Alone it is promised its eight.
func TestTooOftenLateIsPlantedOtherwise(t *testing.T) {
	make := func(withA bool) (*trial, *field) {
		tr := newTrial()
		tr.settings.Share, tr.settings.TurnDays = 0.8, 5
		tr.grow(plainCrop("a", "A", 0.2, 0.3, 2), steadyTimes{from: 100, to: 100, days: 40, span: 1, good: 10, early: 27})
		after := 100 + 40 + 21 + 1 + 5
		tr.grow(plainCrop("b", "B", 0.2, 0.3, 2), steadyTimes{})
		tr.options[1].times = hardOnFirst{steadyTimes{season: tr.season, from: after, to: after + 2, days: 30, span: 1, good: 10, spread: 0.2}, 2}
		tr.bed(4, 1)
		if withA {
			tr.want("a", garden.Total, 8, 5)
		}
		tr.want("b", garden.Total, 8, 2)
		if err := tr.validate(); err != nil {
			t.Fatal(err)
		}
		f, err := newField(&tr.problem)
		if err != nil {
			t.Fatal(err)
		}
		return tr, f
	}
	_, f := make(true)
	s := search(f)
	if p := s.plan(); len(p.Plantings) < 2 {
		t.Fatalf("the search does not plant b after a: %d plantings", len(p.Plantings))
	} else if q := f.play(p); q.Plantings[len(p.Plantings)-1].Success != 6 {
		t.Errorf("b after a comes to harvest in %d years; 6 by hand", q.Plantings[len(p.Plantings)-1].Success)
	}
	for _, x := range s.playedPlan().Plantings {
		if x.Success < 8 {
			t.Errorf("%s on %s is promised %d years of ten", x.CropID, x.Start, x.Success)
		}
	}
	tr, _ := make(false)
	p, err := tr.plan()
	if err != nil || len(p.Plantings) == 0 || p.Plantings[0].Success != 8 {
		t.Errorf("b alone: %+v, %v", p, err)
	}
}
