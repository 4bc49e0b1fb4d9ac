package season_test

import (
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// A pin that can be is taken by every new plan exactly so; each that cannot is refused with why and what to do.
func TestPinsThatCannotBeAreRefused(t *testing.T) {
	r, in := regrowing(t)
	p := alone(t, r, "pea", "carrot", "lettuce", "bean")
	if why, _ := r.PinRefused(p); why != "" {
		t.Fatalf("a plain planting is refused: %s", why)
	}
	refused := func(name, want string, p garden.Planting, change func(r *season.Result)) {
		changed := &season.Result{Season: r.Season, Garden: r.Garden, Record: r.Record, Plan: r.Plan, Crops: r.Crops, Tables: r.Tables}
		changed.Garden.Beds = slices.Clone(r.Garden.Beds)
		change(changed)
		if why, remedy := changed.PinRefused(p); !strings.Contains(why, want) || remedy == "" {
			t.Errorf("%s: %q, %q", name, why, remedy)
		}
	}
	same := func(*season.Result) {}
	over, begun := p, p
	over.Status, begun.Status = garden.Over, garden.InGround
	refused("over", "It is over", over, same)
	refused("in the ground", "every new plan leaves it there", begun, same)
	refused("a bed that is no more", "no longer in the garden", p, func(r *season.Result) {
		r.Garden.Beds = slices.DeleteFunc(r.Garden.Beds, func(b garden.Bed) bool { return b.ID == p.BedID })
	})
	refused("a smaller bed", "reaches beyond", p, func(r *season.Result) {
		for i := range r.Garden.Beds {
			r.Garden.Beds[i].Length = 0.2
		}
	})
	refused("a veto", "You will have no "+strings.ReplaceAll(p.CropID, "-", " "), p, func(r *season.Result) { r.Garden.Vetoes = []garden.Veto{{Crop: p.CropID}} })
	later := p.Start + 1
	refused("a veto before a day", "before "+later.Long(), p, func(r *season.Result) { r.Garden.Vetoes = []garden.Veto{{Before: &later}} })
	refused("ground that is taken", "has some of its ground", p, func(r *season.Result) {
		r.Garden.Standing = []garden.Planting{{Key: "kept-1", BedID: p.BedID, CropID: p.CropID, Place: p.Place, Start: p.Start - 5, Clear: p.Start + civil.Date(5), Status: garden.InGround}}
	})
	p.Pinned = true
	in.Before.Kept.Plantings = slices.Clone(in.Before.Kept.Plantings)
	for i := range in.Before.Kept.Plantings {
		if in.Before.Kept.Plantings[i].Key == p.Key {
			in.Before.Kept.Plantings[i] = p
		}
	}
	in.Before.Afresh = true
	in.Garden.Vetoes = []garden.Veto{{Crop: p.CropID}}
	got, err := season.Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	if now, ok := got.Planting(p.Key); !ok || now.Place != p.Place || now.Start != p.Start || !now.Pinned {
		t.Errorf("the pinned planting is now %+v", now)
	}
	told := ""
	for _, n := range got.Plan.Notes {
		told += n.Says + "\n"
	}
	if !strings.Contains(told, "you keep it exactly so; let the planner move it, and it goes") {
		t.Errorf("the pin against a veto is not told: %s", told)
	}
}
