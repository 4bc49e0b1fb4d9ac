package book

import (
	"math"
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Whoever takes a bed out and lays another over the place finds its past under the new one: what the
// person told of the old bed, and what its plan grew there. The page of the garden, which can take
// a line back, shows only the bed's own.
func TestTheGroundOfABedThatIsNoMoreKeepsItsPast(t *testing.T) {
	ctx := t.Context()
	b := newBook(t, Options{})
	g := garden.Garden{Site: ground().Site, Beds: []garden.Bed{{ID: 1, Name: "Old", Length: 4, Width: 1, X: 10, Y: 10, Sun: 8}}}
	g.History = []garden.Past{{BedID: 1, Year: 2026, CropID: "cabbage-early", Family: "Brassicaceae"}}
	check(t, b.Import(ctx, g))
	old := mustGarden(t, b).Beds
	p := planned(2027, old[0], old[0])
	for i := range p.Plantings { // one in each half of the old bed's length
		p.Plantings[i].Place = garden.Place{AlongFrom: 2 * quantity.Metre(i), AlongTo: 2 + 2*quantity.Metre(i), AcrossTo: 1}
	}
	_, err := b.SavePlan(ctx, p)
	check(t, err)
	check(t, b.RemoveBed(ctx, old[0].ID))
	half, err := b.AddBed(ctx, garden.Bed{Name: "Half of it", Length: 4, Width: 1, X: 10.5, Y: 10, Sun: 8})
	check(t, err)
	away, err := b.AddBed(ctx, garden.Bed{Name: "Elsewhere", Length: 4, Width: 1, X: 20, Y: 10, Sun: 8})
	check(t, err)
	if h := mustGarden(t, b).History; len(h) != 0 {
		t.Errorf("the garden's page shows %+v", h)
	}
	now, err := b.GardenFor(ctx, 2028)
	check(t, err)
	told, grown := false, 0
	for _, h := range now.History {
		if h.BedID == away || h.BedID != half || h.ID != 0 {
			t.Errorf("a line of another bed: %+v", h)
		}
		if h.Year == 2026 {
			told = true
			if math.Abs(float64(h.Place.Area())-2) > 1e-6 || math.Abs(float64(h.Place.AcrossTo)-0.5) > 1e-6 {
				t.Errorf("half the old bed lies under the new one, not %+v", h.Place)
			}
		}
		if h.Year == 2027 {
			grown++
			if math.Abs(float64(h.Place.Area())-1) > 1e-6 {
				t.Errorf("a square metre of it lies under the new one, not %+v", h.Place)
			}
		}
	}
	if !told || grown != 2 {
		t.Errorf("the new bed knows %+v", now.History)
	}
}
