package plan

import (
	"testing"

	"kailyard/internal/garden"
)

// afterAnEvent is the household in June: what has begun stands, one standing crop is lost, and the plan goes on.
func afterAnEvent(t testing.TB, in Input) (now Input, kept *Plan, lost string) {
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	day := in.Season.Start + 150
	now = in
	now.From, now.Kept = &day, p
	now.Garden.Standing = nil
	begun := map[string]bool{}
	for _, x := range p.Plantings {
		begun[x.Key] = x.Start <= day || x.RaiseOn != nil && *x.RaiseOn <= day
	}
	for _, x := range p.Plantings {
		if !begun[x.Key] && !begun[x.Partner] { // what grows together goes on together
			continue
		}
		x.Status = garden.InGround
		if lost == "" && x.Role == garden.Alone && x.Clear > day+40 && x.Start < day-20 {
			lost, x.Status, x.Clear = x.Key, garden.Lost, day
		}
		now.Garden.Standing = append(now.Garden.Standing, x)
	}
	if lost == "" {
		t.Fatal("no planting stands alone in June")
	}
	return now, p, lost
}

// BenchmarkReplan is the time to a plan that goes on after a crop is lost in June.
func BenchmarkReplan(b *testing.B) {
	in, _, _ := afterAnEvent(b, household(b))
	for b.Loop() {
		if _, err := Make(in); err != nil {
			b.Fatal(err)
		}
	}
}

// After one loss every planting that is still to come stays as it was planned, in its place and on its day, but for those whose
// ground or rotation the loss takes, and those of which each brings the plan what a change must bring.
func TestOneLossChangesLittle(t *testing.T) {
	in, before, lost := afterAnEvent(t, household(t))
	still := in
	still.Settings.Rounds = 0
	forced, least := changesAfter(t, still, before)
	changed, value := changesAfter(t, in, before)
	t.Logf("%s lost: of %d plantings %d had to change and %d changed, for %.0f points", lost, len(before.Plantings), forced, changed, value-least)
	if forced > len(before.Plantings)/10 {
		t.Errorf("%d plantings had to change for one that was lost", forced)
	}
	if gain := value - least; changed > forced && gain < float64(churn/point)*float64(changed-forced) {
		t.Errorf("%d plantings changed for %.1f points", changed-forced, gain)
	}
}

// changesAfter is how many plantings of the plan before are not in the plan an input makes, and its value.
func changesAfter(t *testing.T, in Input, before *Plan) (changed int, value float64) {
	t.Helper()
	after, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	has := map[string]garden.Planting{}
	for _, x := range after.Plantings {
		has[x.Key] = x
	}
	for _, x := range before.Plantings {
		if y, ok := has[x.Key]; !ok || y.Start != x.Start || y.Place != x.Place {
			changed++
		}
	}
	return changed, after.Value
}
