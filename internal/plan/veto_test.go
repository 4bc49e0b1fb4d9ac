package plan

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// twoWays is two beds, a crop that may be sown or set out, and another of the same family.
func twoWays() *trial {
	tr := newTrial()
	c := plainCrop("leaf", "A", 0.25, 0.3, 2)
	c.Methods = append(c.Methods, crop.Method{Way: crop.SetOut, WeeksIndoors: crop.Range{Low: 4, High: 4}})
	times := steadyTimes{from: 90, to: 200, days: 60, span: 10, good: 9}
	tr.grow(c, times)
	times.season, times.spread = tr.season, 0.25
	tr.options = append(tr.options, option{crop: c, method: 1, times: times})
	tr.grow(plainCrop("root", "A", 0.1, 0.3, 3), times)
	tr.bed(6, 1.2)
	tr.bed(6, 1.2)
	tr.want("leaf", garden.Total, 6, 3)
	tr.want("root", garden.Total, 6, 3)
	return tr
}

// Each sort of veto is kept, said where it leaves a want short, and seen by the checker in a plan made without it.
func TestVetoesAreKept(t *testing.T) {
	start := newTrial().season.Start
	late := start + 150
	for name, one := range map[string]struct {
		vetoes []garden.Veto
		breaks func(x garden.Planting) bool
		says   string
	}{
		"a crop in a bed":   {[]garden.Veto{{BedID: 1, Crop: "leaf"}}, func(x garden.Planting) bool { return x.BedID == 1 && x.CropID == "leaf" }, ""},
		"a family in a bed": {[]garden.Veto{{BedID: 2, Family: "a"}}, func(x garden.Planting) bool { return x.BedID == 2 }, ""},
		"a bed":             {[]garden.Veto{{BedID: 1}}, func(x garden.Planting) bool { return x.BedID == 1 }, "Bed 1 stays empty: you closed it to the crops"},
		"both beds": {[]garden.Veto{{BedID: 1, Crop: "leaf"}, {BedID: 2, Family: "A"}}, func(x garden.Planting) bool { return x.BedID == 2 || x.CropID == "leaf" },
			"No bed takes it: Bed 1, Bed 2 are closed to it by you."},
		"a way":           {[]garden.Veto{{Crop: "leaf", Way: crop.Sow}}, func(x garden.Planting) bool { return x.CropID == "leaf" && x.Way == crop.Sow }, ""},
		"a way in a bed":  {[]garden.Veto{{BedID: 1, Way: crop.Sow}}, func(x garden.Planting) bool { return x.BedID == 1 && x.Way == crop.Sow }, ""},
		"before a day":    {[]garden.Veto{{Crop: "root", Before: &late}}, func(x garden.Planting) bool { return x.CropID == "root" && x.Start < late }, ""},
		"a crop anywhere": {[]garden.Veto{{Crop: "leaf"}}, func(x garden.Planting) bool { return x.CropID == "leaf" }, "leaves it no way to be grown here: no leaf in any bed. Take that back"},
	} {
		t.Run(name, func(t *testing.T) {
			free, bound := twoWays(), twoWays()
			bound.garden.Vetoes = one.vetoes
			p := mustPlan(t, bound)
			for _, x := range p.Plantings {
				if one.breaks(x) {
					t.Errorf("%s in %s is planned on %s", x.CropID, x.Way, x.Start)
				}
			}
			told := says(p.Notes)
			for _, s := range p.Supply {
				told += "\n" + says(s.Short)
			}
			if !strings.Contains(told, one.says) {
				t.Errorf("want %q in\n%s", one.says, told)
			}
			other := mustPlan(t, free)
			for _, x := range other.Plantings {
				if found := strings.Contains(fmt.Sprint(bound.check(&Plan{Season: p.Season, Plantings: []garden.Planting{x}, Supply: p.Supply})), "against a veto"); found != one.breaks(x) {
					t.Errorf("the checker says %v of %s in bed %d (%s, %s)", found, x.CropID, x.BedID, x.Way, x.Start)
				}
			}
		})
	}
}

// What is pinned stays against a veto, and that is said; so does what grows already.
func TestAPinStandsAgainstAVeto(t *testing.T) {
	tr := twoWays()
	at := garden.Place{AlongTo: 2, AcrossTo: 1.2}
	tr.garden.Standing = []garden.Planting{
		{Key: "p", BedID: 1, CropID: "leaf", Place: at, Start: tr.season.Start + 100, Clear: tr.season.Start + 170, Way: crop.Sow, Pinned: true, Status: garden.Planned},
		{Key: "g", BedID: 2, CropID: "root", Place: at, Start: tr.season.Start - 20, Clear: tr.season.Start + 70, Way: crop.Sow, Status: garden.InGround},
	}
	tr.garden.Vetoes = []garden.Veto{{BedID: 1, Crop: "leaf"}, {Crop: "root", Way: crop.Sow}}
	told := says(mustPlan(t, tr).Notes)
	for _, want := range []string{
		"Leaf (p) stays in Bed 1 though you will have no leaf in Bed 1: you keep it exactly so; let the planner move it, and it goes.",
		"Root (g) stays in Bed 2 though you will have no root sown where it is to stand: it was begun before this plan.",
	} {
		if !strings.Contains(told, want) {
			t.Errorf("want %q in\n%s", want, told)
		}
	}
}

// Drawn gardens with drawn vetoes: nothing new is planned against one, and a plan made before is changed only where one asks for it.
func TestVetoesInDrawnGardens(t *testing.T) {
	kept, seen := 0, 0
	for seed := range uint64(120) {
		r := rand.New(rand.NewPCG(seed, 77))
		tr := randomTrial(r)
		before, err := tr.plan()
		if err != nil {
			t.Fatal(err)
		}
		for range 1 + r.IntN(3) {
			v := garden.Veto{}
			if r.IntN(2) == 0 {
				v.Family = []string{"A", "B", "C", "D"}[r.IntN(4)]
			} else {
				v.Crop = "crop-0"
			}
			if len(tr.garden.Beds) > 0 && r.IntN(2) == 0 {
				v.BedID = tr.garden.Beds[r.IntN(len(tr.garden.Beds))].ID
			}
			if r.IntN(3) == 0 {
				day := tr.season.Start + civil.Date(r.IntN(250))
				v.Before = &day
			}
			tr.garden.Vetoes = append(tr.garden.Vetoes, v)
		}
		tr.old = before.Plantings
		after, err := tr.plan()
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		stands := map[string]bool{}
		for _, x := range tr.garden.Standing {
			stands[x.Key] = true
		}
		forbidden := func(x garden.Planting) bool {
			if stands[x.Key] {
				return false
			}
			c, _ := tr.crops.Find(x.CropID)
			for _, v := range tr.garden.Vetoes {
				if (v.BedID == 0 || v.BedID == x.BedID) && (v.Crop == "" || v.Crop == x.CropID) && (v.Family == "" || v.Family == c.Family) && (v.Before == nil || x.Start < *v.Before) {
					return true
				}
			}
			return false
		}
		for _, x := range after.Plantings {
			if forbidden(x) {
				t.Errorf("seed %d: %s in bed %d on %s is planned against %+v", seed, x.CropID, x.BedID, x.Start, tr.garden.Vetoes)
			}
		}
		for _, x := range before.Plantings {
			if forbidden(x) {
				seen++
			} else {
				kept++
			}
		}
	}
	if seen < 20 {
		t.Errorf("the vetoes of all gardens meet %d plantings only", seen)
	}
	t.Logf("%d plantings of the plans before were forbidden, %d not", seen, kept)
}
