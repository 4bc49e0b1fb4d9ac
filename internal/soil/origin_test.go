package soil

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// TestUnfitHeapIsRawManure: a heap with horse manure that lay 24 days and was never hot is raw manure when it is spread (7 CFR 205.203(c):
// 120 days before what touches the soil, 90 before what does not; compost only after 15 days between 131 and 170 °F with five turnings).
func TestUnfitHeapIsRawManure(t *testing.T) {
	day := civil.Of(2026, 4, 25)
	emptied := day
	cold := garden.Heap{Name: "Fence", Started: day.Add(-24), Emptied: &emptied, Put: []garden.HeapPart{{Feedstock: "manure-horse-fresh", Volume: 300}, {Feedstock: "leaves", Volume: 300}}}
	leaves := garden.Heap{Name: "Leaves", Started: day.Add(-24), Put: []garden.HeapPart{{Feedstock: "leaves", Volume: 300}}}
	heaps := []garden.Heap{leaves, cold}
	if _, ps := PutAs("compost", Origin{}, heaps, day); ps.Err() == nil {
		t.Error("compost is taken without its origin while an unfit heap with manure is about")
	}
	for _, m := range []string{"compost", "manure-horse-composted"} {
		as, ps := PutAs(m, Origin{Heap: "fence"}, heaps, day)
		if ps.Err() != nil || as != RawCompost {
			t.Fatalf("%s out of the cold heap stands as %q, %v", m, as, ps.Err())
		}
	}
	until, held := FirstHarvest(nil, 1, []garden.Treatment{{Date: day, BedID: 1, Material: RawCompost, Volume: 40}})
	if held == nil || until != day.Add(120) {
		t.Errorf("it holds harvests until %v", until)
	}
	for _, c := range crop.Default().All() {
		if c.Group == crop.Corn {
			if until, _ := FirstHarvest(c, 1, []garden.Treatment{{Date: day, BedID: 1, Material: RawCompost, Volume: 40}}); until != day.Add(90) {
				t.Errorf("corn waits until %v", until)
			}
			break
		}
	}
	for _, o := range []Origin{{Bought: true}, {Heap: "Leaves"}} {
		if as, ps := PutAs("compost", o, heaps, day); ps.Err() != nil || as != "compost" {
			t.Errorf("%+v: %q, %v", o, as, ps.Err())
		}
	}
	if _, ps := PutAs("compost", Origin{}, []garden.Heap{leaves}, day); ps.Err() != nil {
		t.Errorf("leaves alone ask where compost is from: %v", ps.Err())
	}
	if _, ps := PutAs("compost", Origin{Heap: "Gate"}, heaps, day); ps.Err() == nil {
		t.Error("a heap that is not there is taken")
	}
}

// TestFreshManureOnAHotHeap: manure that goes on after the hot days has not been hot itself.
func TestFreshManureOnAHotHeap(t *testing.T) {
	start := civil.Of(2026, 3, 1)
	h := garden.Heap{Name: "Gate", Started: start, Put: []garden.HeapPart{{Feedstock: "manure-horse-fresh", Volume: 300}}}
	for i := range 18 {
		warm := quantity.Celsius(60)
		h.Log = append(h.Log, garden.HeapEntry{Date: start.Add(i), Kind: garden.HeapHeat, Celsius: &warm})
		if i%3 == 0 {
			h.Log = append(h.Log, garden.HeapEntry{Date: start.Add(i), Kind: garden.HeapTurned})
		}
	}
	if HeapOn(h, start.Add(30), quantity.Metric).Raw {
		t.Fatal("eighteen hot days and six turnings leave it raw")
	}
	h.Log = append(h.Log, garden.HeapEntry{Date: start.Add(20), Kind: garden.HeapAdded, Text: "40 L of kitchen-scraps"})
	if HeapOn(h, start.Add(30), quantity.Metric).Raw {
		t.Error("kitchen scraps make it raw manure")
	}
	h.Log = append(h.Log, garden.HeapEntry{Date: start.Add(21), Kind: garden.HeapAdded, Text: "40 L of manure-horse-fresh"})
	if !HeapOn(h, start.Add(30), quantity.Metric).Raw {
		t.Error("fresh manure after the hot days is taken as safe")
	}
}
