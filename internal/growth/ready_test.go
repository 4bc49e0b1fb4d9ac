package growth

import (
	"testing"

	"kailyard/internal/civil"
)

// In an even climate a planting is late, ready, kept and over in turn, and its days are those of the outcome.
func TestReadyOnWalksThroughTheHarvest(t *testing.T) {
	table := Tabulate(steady(17), []Option{{Crop: lettuce(), Method: 1}})[0]
	start := civil.Of(2027, 5, 1)
	o := table.Outcome(start, 0)
	if o.Fate != Ready {
		t.Fatalf("lettuce at a steady 17 °C ends %v", o.Fate)
	}
	const keeps = 5
	for _, row := range []struct {
		day                     civil.Date
		late, ready, kept, over int
	}{
		{o.First - 1, 1, 0, 0, 0}, {o.First, 0, 1, 0, 0}, {o.Last, 0, 1, 0, 0},
		{o.Last + 1, 0, 0, 1, 0}, {o.Last + keeps, 0, 0, 1, 0}, {o.Last + keeps + 1, 0, 0, 0, 1},
	} {
		r := table.ReadyOn(start, row.day, keeps)
		n := r.Years
		if r.Late != n*row.late || r.Ready != n*row.ready || r.Kept != n*row.kept || r.Over != n*row.over {
			t.Errorf("%s (first %s, last %s): %+v", row.day, o.First, o.Last, r)
		}
	}
}

// Every year is counted once, whatever the day; the later the day the fewer are late.
func TestReadyOnCountsEveryYearOnce(t *testing.T) {
	c := coldWinters.climate(9, 5)
	season := c.Season
	table := Tabulate(c, []Option{{Crop: bean()}})[0]
	for d := season.Start; d <= season.End(); d += 5 {
		late := len(c.Years)
		for day := d; day < d.Add(300); day += 7 {
			r := table.ReadyOn(d, day, 20)
			sum := r.Ready + r.Kept + r.Late + r.Over
			for _, n := range r.Lost {
				sum += n
			}
			if sum != r.Years || r.Years != len(c.Years) || r.Lost[ready] != 0 {
				t.Fatalf("%s on %s: %+v", d, day, r)
			}
			if r.Late > late {
				t.Fatalf("%s: more are late on %s than before", d, day)
			}
			late = r.Late
			if r.Chance() > r.ChanceKept() || r.ChanceKept() > 1 {
				t.Fatalf("%s on %s: chances %v and %v", d, day, r.Chance(), r.ChanceKept())
			}
		}
	}
	if r := table.ReadyOn(season.Start-1, season.Start, 0); r.Years != 0 || r.Chance() != 0 {
		t.Errorf("a day outside the season: %+v", r)
	}
}
