package plan

import (
	"testing"

	"kailyard/internal/garden"
)

// Two patches of a crop that another parts become one: the other slides into the place of the smaller. What cannot move keeps them apart.
func TestWhatIsPlantedInPiecesIsGathered(t *testing.T) {
	tr := newTrial()
	tr.grow(plainCrop("roots", "A", 0.25, 0.6, 3), steadyTimes{from: 120, to: 120, days: 100, span: 10, good: 10})
	tr.grow(plainCrop("pods", "B", 0.3, 0.6, 3), steadyTimes{from: 120, to: 120, days: 60, span: 10, good: 10})
	tr.bed(8, 1.2)
	tr.want("roots", "total", 60, 3)
	tr.want("pods", "total", 60, 3)
	for _, held := range []bool{false, true} {
		s := tr.held(t)
		patch := func(want, from, to int) int {
			pl := &s.plots[0]
			cells := func(m int) int { return m * pl.cells / 8 }
			x, ok := s.build(want, s.wants[want].sowings[0], pl, rect{cells(from), cells(to), 0, pl.lanes})
			if !ok {
				t.Fatalf("no planting from %d to %d m", from, to)
			}
			return s.put(x)
		}
		small, between := patch(0, 0, 1), patch(1, 1, 4)
		patch(0, 4, 8)
		s.slots[between].fixed = held
		before := s.value
		if got := s.gather(small); got == held {
			t.Fatalf("gathered: %v, with what parts them held: %v", got, held)
		}
		pieces, plants := map[int]int{}, map[int]int{}
		for _, slot := range s.inBed[0] {
			x := s.slots[slot]
			pieces[x.want]++
			plants[x.want] += x.r.a1 - x.r.a0
		}
		if held {
			if s.value != before || pieces[0] != 2 {
				t.Errorf("held: value %d, before %d, %d pieces", s.value, before, pieces[0])
			}
			continue
		}
		if s.value <= before || pieces[0] != 1 || pieces[1] != 1 || plants[0] != 5*s.plots[0].cells/8 || plants[1] != 3*s.plots[0].cells/8 {
			t.Errorf("value %d after %d, pieces %v, cells %v", s.value, before, pieces, plants)
		}
	}
}

// What is picked for half a year can be had in all of it, a little each week; two of a kitchen herb are a planting.
func TestALongHarvestIsWantedThroughout(t *testing.T) {
	tr := newTrial()
	tr.grow(plainCrop("sprigs", "A", 0.25, 0.4, 3), steadyTimes{from: 90, to: 90, days: 60, span: 182, good: 10})
	tr.bed(4, 1.2)
	tr.want("sprigs", "weekly", 0.1, 3)
	s := tr.held(t)
	weeks := 0
	for _, ask := range s.wants[0].weekly {
		if ask > 0 {
			weeks++
		}
	}
	if weeks < 26 || weeks > 28 {
		t.Errorf("wanted in %d weeks of the 26 in which it can be picked", weeks)
	}
	herb := plainCrop("herb", "A", 0.3, 0.4, 3)
	if fewest(herb) != 5 {
		t.Errorf("%d of a leaf crop are a planting", fewest(herb))
	}
	if herb.Group = "herb"; fewest(herb) != 2 {
		t.Errorf("%d of a herb are a planting", fewest(herb))
	}
}

// Tomatoes that are set out once bear to the frost: a few more are not set out in June for the end of the season. Beans are sown again.
func TestOnePlantingOfTomatoesIsEnough(t *testing.T) {
	in := oneBed(t, "warm", 8, 1.2, garden.Want{Crop: "tomato-staked", Basis: garden.Total, Amount: 16, Unit: "kg", Weight: 4})
	p := made(t, in)
	for _, x := range p.Plantings {
		if x.Start > p.Plantings[0].Start+oneGo {
			t.Errorf("tomatoes are set out on %s and on %s", p.Plantings[0].Start, x.Start)
		}
	}
	if len(p.Plantings) == 0 || p.Supply[0].Expected < 12 {
		t.Errorf("%d plantings, %.1f kg of 16", len(p.Plantings), float64(p.Supply[0].Expected))
	}
	for id, again := range map[string]bool{"tomato-staked": false, "pepper-sweet": false, "bean-pole": false, "bean-bush": true, "lettuce-romaine": true, "carrot": true} {
		c, _ := in.Crops.Find(id)
		if bearsOn(c) == again {
			t.Errorf("%s: planted again for the ends of a total: %v", id, !again)
		}
	}
}
