package soil

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

var begun = civil.Of(2027, 4, 1)

func hot(day int, celsius float64) garden.HeapEntry {
	c := quantity.Celsius(celsius)
	return garden.HeapEntry{Date: begun.Add(day), Kind: garden.HeapHeat, Celsius: &c}
}

func turned(day int) garden.HeapEntry {
	return garden.HeapEntry{Date: begun.Add(day), Kind: garden.HeapTurned}
}

// The rule of the regulation: 131–170 °F for 15 days with five turnings; 131 °F is 55 °C, 170 is 76.7.
func TestHeatThatKills(t *testing.T) {
	heap := func(days, turns int, celsius float64) garden.Heap {
		h := garden.Heap{Name: "H", Started: begun, Put: []garden.HeapPart{{Feedstock: "manure-horse-fresh", Volume: 900}, {Feedstock: "leaves", Volume: 900}}}
		for d := 3; d < 3+days; d += 2 {
			h.Log = append(h.Log, hot(d, celsius))
		}
		h.Log = append(h.Log, hot(2+days, celsius))
		for i := range turns {
			h.Log = append(h.Log, turned(4+2*i))
		}
		return h
	}
	rows := []struct {
		name        string
		days, turns int
		celsius     float64
		killed      bool
	}{
		{"15 days, 5 turnings", 15, 5, 55, true}, {"14 days", 14, 5, 60, false}, {"4 turnings", 15, 4, 60, false}, {"130 °F", 15, 5, 54.4, false}, {"172 °F", 15, 5, 78, false}, {"170 °F", 15, 5, 76.6, true},
	}
	for _, r := range rows {
		s := HeapOn(heap(r.days, r.turns, r.celsius), begun.Add(40), quantity.Metric)
		if s.Killed != r.killed || s.Raw == r.killed {
			t.Errorf("%s: %+v", r.name, s)
		}
		if r.celsius == 55 && (s.KillDays != 15 || s.KillTurns != 5) {
			t.Errorf("%s: %d days, %d turnings", r.name, s.KillDays, s.KillTurns)
		}
	}
	// Readings a week apart do not stand for the days between them.
	apart := garden.Heap{Started: begun, Log: []garden.HeapEntry{hot(1, 60), hot(8, 60), hot(15, 60), hot(22, 60)}}
	if s := HeapOn(apart, begun.Add(30), quantity.Metric); s.KillDays != 1 {
		t.Errorf("weekly readings: %d days", s.KillDays)
	}
}

func TestStagesOfAHeap(t *testing.T) {
	h := garden.Heap{Name: "H", Started: begun, Log: []garden.HeapEntry{hot(3, 58), hot(6, 68), turned(7), hot(9, 60), hot(14, 45), turned(15), hot(18, 52), hot(30, 38), turned(31), hot(35, 37)}}
	rows := []struct {
		day   int
		stage Stage
		fit   bool
		next  string
	}{
		{1, Building, false, "thermometer"}, {4, Hot, false, "works well"}, {6, Hot, false, "too hot"}, {14, Cooling, false, "turn it"},
		{32, Curing, false, "cures"}, {40, Curing, false, "days more"}, {61, Ripe, true, "crumbly"},
	}
	for _, r := range rows {
		if s := HeapOn(h, begun.Add(r.day), quantity.Metric); s.Stage != r.stage || s.Fit != r.fit || !strings.Contains(s.Next, r.next) {
			t.Errorf("day %d: %s, fit %v, %q", r.day, s.Stage, s.Fit, s.Next)
		}
	}
	again := h
	again.Log = append(again.Log, turned(50), hot(53, 55), hot(58, 39))
	if s := HeapOn(again, begun.Add(65), quantity.Metric); s.Fit {
		t.Errorf("a heap that heats again is fit: %+v", s)
	}
	never := garden.Heap{Started: begun}
	if HeapOn(never, begun.Add(200), quantity.Metric).Fit || !HeapOn(never, begun.Add(365), quantity.Metric).Fit {
		t.Error("a heap left alone takes about a year")
	}
	never.Log = []garden.HeapEntry{turned(20), turned(50), turned(90)}
	if !HeapOn(never, begun.Add(130), quantity.Metric).Fit {
		t.Error("turned, it takes about four months")
	}
	gone := begun.Add(200)
	h.Emptied = &gone
	if s := HeapOn(h, begun.Add(201), quantity.Metric); s.Stage != Gone || s.Fit {
		t.Errorf("used up: %+v", s)
	}
	if s := HeapOn(h, begun.Add(150), quantity.Metric); s.Stage != Ripe {
		t.Errorf("before it is used up: %+v", s)
	}
}

// More days of heat and more turnings never make a heap less safe, and what is written after the day does not count.
func TestHeapLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := garden.Heap{Started: begun}
		for range rapid.IntRange(0, 20).Draw(t, "entries") {
			day := rapid.IntRange(0, 60).Draw(t, "day")
			if rapid.Bool().Draw(t, "turned") {
				h.Log = append(h.Log, turned(day))
			} else {
				h.Log = append(h.Log, hot(day, rapid.Float64Range(0, 80).Draw(t, "°C")))
			}
		}
		day := rapid.IntRange(0, 90).Draw(t, "today")
		s := HeapOn(h, begun.Add(day), quantity.Metric)
		later := h
		later.Log = append(append([]garden.HeapEntry{}, h.Log...), hot(day+1, 60), turned(day+2))
		if HeapOn(later, begun.Add(day), quantity.Metric).Stage != s.Stage {
			t.Error("the future counts")
		}
		more := h
		more.Log = append(append([]garden.HeapEntry{}, h.Log...), turned(rapid.IntRange(0, 60).Draw(t, "one more")))
		if s.Killed && !HeapOn(more, begun.Add(day), quantity.Metric).Killed {
			t.Error("one turning more made it raw again")
		}
	})
}

// 7 CFR 205.203(c)(1): 120 days where the edible part touches the soil, 90 where not.
func TestDaysBeforeHarvest(t *testing.T) {
	crops := crop.Default()
	for id, want := range map[string]int{"lettuce-loose-leaf": 120, "carrot": 120, "potato": 120, "strawberry": 120, "squash-summer": 120, "cucumber": -1, "tomato-staked": 90, "bean-pole": 90, "sweet-corn-main": 90} {
		c, ok := crops.Find(id)
		if !ok {
			t.Errorf("no %s", id)
			continue
		}
		if got := DaysBeforeHarvest(c); want > 0 && got != want {
			t.Errorf("%s: %d days", id, got)
		}
	}
	if DaysBeforeHarvest(nil) != 120 {
		t.Error("for no crop the longer time counts")
	}
	carrot, _ := crops.Find("carrot")
	if got := LastManure(carrot, civil.Of(2027, 12, 1)); got != civil.Of(2027, 8, 3) {
		t.Errorf("the last day for manure is %s", got)
	}
	treatments := []garden.Treatment{
		{BedID: 1, Date: civil.Of(2027, 3, 1), Material: "manure-horse-fresh", Amount: 20}, {BedID: 1, Date: civil.Of(2027, 4, 1), Material: "compost", Volume: 90},
		{BedID: 2, Date: civil.Of(2027, 5, 1), Material: "manure-cattle-fresh", Amount: 20}, {BedID: 1, Date: civil.Of(2026, 3, 1), Material: "manure-horse-fresh", Amount: 20},
	}
	day, held := FirstHarvest(carrot, 1, treatments)
	if day != civil.Of(2027, 6, 29) || held == nil || held.Treatment.Date != civil.Of(2027, 3, 1) || !strings.Contains(held.Reason.Says, "120 days") {
		t.Errorf("%s, %+v", day, held)
	}
	if day, held := FirstHarvest(carrot, 3, treatments); day != 0 || held != nil {
		t.Errorf("nothing was put there: %s", day)
	}
}
