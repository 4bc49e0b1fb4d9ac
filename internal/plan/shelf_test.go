package plan

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// raisedCrop is a crop that is only ever set out, six weeks after its sowing.
func raisedCrop(id, family string) *crop.Crop {
	c := plainCrop(id, family, 0.3, 0.3, 3)
	c.Methods = []crop.Method{{Way: crop.SetOut, WeeksIndoors: crop.Range{Low: 6, High: 6}, Hardening: 7}}
	return c
}

// under is how many trays are under light on the fullest day, counted anew day by day.
func under(tr *trial, p *Plan) float64 {
	most := 0.0
	for day := tr.season.Start - 200; day <= tr.season.End(); day++ {
		sum := 0.0
		for _, x := range p.Plantings {
			if x.RaiseOn != nil && *x.RaiseOn <= day && day < x.Start-7 {
				sum += 1.1 * float64(x.Plants) / 72
			}
		}
		most = math.Max(most, sum)
	}
	return most
}

// A plan never raises more than there is light for; with less it plants less or in turns, and says so; with plenty, or untold, it
// is the plan it was.
func TestSeedlingsHaveLight(t *testing.T) {
	make := func(trays float64) (*trial, *Plan) {
		tr := newTrial()
		tr.grow(raisedCrop("head", "A"), steadyTimes{from: 90, to: 220, days: 60, span: 10, good: 10})
		tr.bed(12, 1.2)
		tr.bed(12, 1.2)
		tr.want("head", garden.Total, 40, 3)
		tr.garden.Site.Trays = trays
		return tr, mustPlan(t, tr)
	}
	tr, free := make(0)
	whole := under(tr, free)
	if whole < 1.5 {
		t.Fatalf("the plan without a limit takes %.2f trays only", whole)
	}
	_, plenty := make(whole + 1)
	if plenty.Value != free.Value || len(plenty.Plantings) != len(free.Plantings) {
		t.Errorf("light for more than enough changes the plan: %.3f, was %.3f", plenty.Value, free.Value)
	}
	last := free.Value
	for _, trays := range []float64{1, 0.5, 0.2} {
		tr, p := make(trays)
		if got := under(tr, p); got > trays+1e-6 || got == 0 {
			t.Errorf("with light for %.1f trays the plan takes %.2f", trays, got)
		}
		if p.Value > last+1e-9 {
			t.Errorf("with light for %.1f trays the plan is worth %.2f, with more %.2f", trays, p.Value, last)
		}
		last = p.Value
		if !strings.Contains(says(p.Notes), "of seedlings, and they take at most") {
			t.Errorf("the plan does not tell of its trays: %s", says(p.Notes))
		}
		if faults := tr.check(free); trays < whole && len(faults) == 0 {
			t.Errorf("the checker passes %.2f trays where there is light for %.1f", whole, trays)
		}
	}
}

// What is pinned and takes more than there is light for stays, is told, and lets nothing else be raised in its weeks.
func TestPinnedSeedlingsBeyondTheLight(t *testing.T) {
	tr := newTrial()
	tr.grow(raisedCrop("head", "A"), steadyTimes{from: 90, to: 110, days: 60, span: 10, good: 10})
	tr.bed(12, 1.2)
	tr.want("head", garden.Total, 40, 3)
	tr.garden.Site.Trays = 0.5
	start := tr.season.Start + 100
	raise := start - 42
	tr.garden.Standing = []garden.Planting{{Key: "p", BedID: 1, CropID: "head", Way: crop.SetOut, Place: garden.Place{AlongTo: 6, AcrossTo: 1.2}, Plants: 80, RaiseOn: &raise, Start: start, Clear: start + 70, Pinned: true, Status: garden.Planned}}
	p := mustPlan(t, tr)
	if len(p.Plantings) != 1 {
		t.Errorf("%d plantings, though the light is taken", len(p.Plantings))
	}
	if !strings.Contains(says(p.Notes), "is kept exactly so take 1.3 trays") || !strings.Contains(says(p.Supply[0].Short), "The light for seedlings, 0.5 trays, is taken") {
		t.Errorf("notes: %s\nshort: %s", says(p.Notes), says(p.Supply[0].Short))
	}
}

// Drawn gardens: the trays of the finished plan, counted day by day, are never more than there are.
func TestTraysInDrawnGardens(t *testing.T) {
	tight := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 5))
		tr := randomTrial(r)
		tr.garden.Standing = nil
		for i := range tr.options {
			if r.IntN(2) == 0 {
				tr.options[i].crop.Methods = []crop.Method{{Way: crop.SetOut, WeeksIndoors: crop.Range{Low: 3, High: float64(3 + r.IntN(8))}, Hardening: 7}}
			}
		}
		free, err := tr.plan()
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		tr.garden.Site.Trays = under(tr, free) * (0.3 + 0.6*r.Float64())
		if tr.garden.Site.Trays == 0 {
			continue
		}
		p, err := tr.plan()
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		got := under(tr, p)
		if got > tr.garden.Site.Trays+1e-6 {
			t.Errorf("seed %d: %.2f trays, and there are %.2f", seed, got, tr.garden.Site.Trays)
		}
		tight++
	}
	if tight < 8 {
		t.Errorf("seedlings are raised in %d gardens only", tight)
	}
}
