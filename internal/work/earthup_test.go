package work

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
)

// alone is one planting of one crop in a bed of its own.
func alone(c *crop.Crop, method int, p garden.Planting) Input {
	p.Key, p.BedID, p.CropID, p.Method, p.Way = "2027-01", 1, c.ID, method, c.Methods[method].Way
	p.Place, p.Rows, p.Years, p.Success = garden.Place{AlongTo: 4, AcrossTo: 1.2}, max(1, p.Rows), 30, 28
	in := Input{Plan: &plan.Plan{Season: civil.SeasonOf(2027, 45), Plantings: []garden.Planting{p}}, Crops: crop.New(c)}
	in.Garden.Beds = []garden.Bed{{ID: 1, Name: "Bed", Length: 4, Width: 1.2}}
	return in
}

// Common practice: leeks are drawn up with soil when pencil thick, about half grown, after thinning;
// set out, when they have grown some weeks in their holes; potatoes when the tops are a hand high.
func TestWhenToEarthUp(t *testing.T) {
	season := garden.Planting{
		Plants: 40, Start: on(4, 20), Emerge: around(on(5, 10), 4), First: around(on(9, 20), 9), Last: around(on(11, 1), 9), Clear: on(12, 1),
	}
	jobs := Jobs(alone(leek(), 0, season))
	thin, up := find(t, jobs, "2027-01/thin"), find(t, jobs, "2027-01/earth-up")
	if up.Window.From <= thin.Window.To {
		t.Error("earthed up before the row is thinned:", thin.Window, up.Window)
	}
	if half := on(7, 15); up.Window.From < half-7 || up.Window.From > half+7 { // 66 of the 133 days from 10 May to 20 September
		t.Error("leeks are earthed up about half grown:", up.Window)
	}
	mustSay(t, up, "pencil thick", "out of the heart")
	find(t, jobs, "2027-01/earth-up-again")
	if up := find(t, Jobs(alone(leek(), 1, season)), "2027-01/earth-up"); up.Window.From < on(4, 20)+42 {
		t.Error("set out, not before they have grown some weeks:", up.Window)
	}
	if up := find(t, Jobs(alone(potato(), 0, season)), "2027-01/earth-up"); up.Window.From != on(5, 24) {
		t.Error("potatoes two weeks after coming up:", up.Window)
	}
	radishes := season
	radishes.First, radishes.Last, radishes.Clear = around(on(5, 22), 0), around(on(5, 25), 0), on(5, 30)
	for _, j := range Jobs(alone(leek(), 0, radishes)) {
		if j.Kind == EarthUp {
			t.Error("pulled as soon as thinned, yet earthed up:", j.Window)
		}
	}
}

// The crops of the catalogue that the trade earths up are; none is before it is thinned.
func TestEarthingUpOfTheCatalogue(t *testing.T) {
	season := garden.Planting{
		Plants: 14, Start: on(4, 20), Emerge: around(on(5, 5), 4), First: around(on(8, 20), 9), Last: around(on(9, 15), 9), Clear: on(9, 30),
	}
	earthed := map[string]bool{}
	for _, c := range crop.Default().All() {
		for m := range c.Methods {
			var thin, up *Job
			for _, j := range Jobs(alone(c, m, season)) {
				switch j.Kind {
				case Thin:
					thin = &j
				case EarthUp:
					up, earthed[c.Kind] = &j, true
				}
			}
			if thin != nil && up != nil && up.Window.From <= thin.Window.To {
				t.Errorf("%s: earthed up from %v, thinned till %v", c.ID, up.Window.From, thin.Window.To)
			}
		}
	}
	for _, kind := range []string{"potato", "leek", "sweet corn", "brussels sprouts"} {
		if !earthed[kind] {
			t.Error("never earthed up:", kind)
		}
	}
}
