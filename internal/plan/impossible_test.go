package plan

import (
	"slices"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// Wants that cannot be met, each for another reason, leave the rest of the plan as it was; each says what is in its way.
func TestImpossibleWantsSayWhatIsInTheWay(t *testing.T) {
	alone := mustPlan(t, simple())
	tr := simple()
	late := plainCrop("late", "B", 0.25, 0.3, 2)
	tr.grow(late, steadyTimes{from: 90, to: 200, days: 60, span: 10, good: 5}) // five years of ten, where eight are asked
	sunny := plainCrop("sunny", "C", 0.25, 0.3, 2)
	sunny.Light = crop.Light{Needs: 12, Least: 10}
	tr.grow(sunny, steadyTimes{from: 90, to: 200, days: 60, span: 10, good: 10})
	tr.want("late", garden.Total, 3, 5)
	tr.want("sunny", garden.Total, 3, 5)
	p := mustPlan(t, tr)
	if !slices.EqualFunc(alone.Plantings, p.Plantings, sameGround) || p.Value != alone.Value {
		t.Errorf("the rest is %+v, worth %.2f; alone it is %+v, worth %.2f", p.Plantings, p.Value, alone.Plantings, alone.Value)
	}
	for i, want := range []struct{ rule, says string }{1: {"window", "succeeds in 5 of"}, 2: {"beds", "No bed takes it"}} {
		if want.rule == "" {
			continue
		}
		s := p.Supply[i]
		if s.Met() || len(s.Short) == 0 || s.Short[0].Rule != want.rule || !strings.Contains(says(s.Short), want.says) {
			t.Errorf("%s: %+v", s.Want.Crop, s.Short)
		}
	}
}

// Far more than the ground bears is answered with a plan that fills it from spring to autumn but for the weeks between two crops, and each want that falls short says what holds its ground.
func TestTooManyWantsFillTheGround(t *testing.T) {
	in := inClimate(t, "mild")
	in.Settings.Rounds = 12000
	in.Garden.Beds = append([]garden.Bed(nil), in.Garden.Beds[:3]...)
	in.Garden.History = nil
	in.Garden.Wants = append([]garden.Want(nil), in.Garden.Wants...)
	for i := range in.Garden.Wants {
		in.Garden.Wants[i].Amount *= 4
	}
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	if faults := Check(in, p); len(faults) > 0 {
		t.Fatal(faults)
	}
	held, ground := 0.0, 0.0
	from, to := in.Season.Start+91, in.Season.Start+274 // April to September
	for _, b := range in.Garden.Beds {
		ground += float64(b.Area())
	}
	for _, x := range p.Plantings {
		if x.Role == garden.Alone || x.Role == garden.Slow {
			held += float64(x.Place.Area()) * float64(max(0, min(to, x.Clear)-max(from, x.Start))) / float64(to-from)
		}
	}
	if held < 0.75*ground {
		t.Errorf("from April to September crops hold %.0f %% of the ground", 100*held/ground)
	}
	for _, s := range p.Supply {
		if !s.Met() && len(s.Short) == 0 {
			t.Errorf("%s is short and does not say why", s.Want.Crop)
		}
		for _, r := range s.Short {
			if r.Rule == "" || !strings.HasSuffix(r.Says, ".") {
				t.Errorf("%s: %+v", s.Want.Crop, r)
			}
		}
	}
}
