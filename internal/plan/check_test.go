package plan

import (
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// A plan that breaks one rule is caught, each by its own sentence.
func TestCheckCatchesEveryFault(t *testing.T) {
	tr := simple()
	tr.grow(plainCrop("other", "B", 0.25, 0.3, 2), steadyTimes{from: 90, to: 200, days: 60, span: 10, good: 9})
	tr.want("other", garden.Total, 6, 3)
	tr.bed(6, 1.2).Perennial = true
	tr.bed(6, 1.2).Sun = 1
	tr.bed(6, 1.2)
	tr.garden.History = []garden.Past{{BedID: 4, Year: 2026, Family: "A"}, {BedID: 4, Year: 2026, Family: "B"}}
	tr.garden.Standing = []garden.Planting{{Key: "kept", BedID: 4, CropID: "other", Place: garden.Place{AlongTo: 1, AcrossTo: 1.2}, Start: tr.season.Start, Clear: tr.season.Start + 300}}
	base := mustPlan(t, tr)
	first := func(p *Plan) *garden.Planting {
		for i := range p.Plantings {
			if p.Plantings[i].CropID == "leaf" {
				return &p.Plantings[i]
			}
		}
		t.Fatal("no leaf in the plan")
		return nil
	}
	for says, spoil := range map[string]func(p *Plan){
		"inside its bed":       func(p *Plan) { first(p).Place.AlongTo = 7 },
		"garden does not have": func(p *Plan) { first(p).BedID = 9 },
		"sun":                  func(p *Plan) { first(p).BedID = 3 },
		"perennials":           func(p *Plan) { first(p).BedID = 2 },
		"of 2026":              func(p *Plan) { first(p).BedID = 4 },
		"rows":                 func(p *Plan) { first(p).Rows = 6 },
		"plants":               func(p *Plan) { first(p).Plants *= 2 },
		"outside the season":   func(p *Plan) { first(p).Start = p.Season.Start - 5 },
		"succeeds in":          func(p *Plan) { x := first(p); x.Start, x.Success = p.Season.Start+20, 0 },
		"promised free":        func(p *Plan) { first(p).Clear -= 3 },
		"claims":               func(p *Plan) { first(p).Success = 10 },
		"overlaps":             func(p *Plan) { x := *first(p); x.Key = "again"; p.Plantings = append(p.Plantings, x) },
		"key":                  func(p *Plan) { x := *first(p); p.Plantings = append(p.Plantings, x) },
		"its own family": func(p *Plan) {
			x := *first(p)
			x.Key, x.Start, x.Clear = "later", x.Start+80, x.Clear+80
			p.Plantings = append(p.Plantings, x)
		},
		"not in the plan": func(p *Plan) {
			for i, x := range p.Plantings {
				if x.Key == "kept" {
					p.Plantings = append(p.Plantings[:i:i], p.Plantings[i+1:]...)
					return
				}
			}
		},
		"changed it": func(p *Plan) {
			for i := range p.Plantings {
				if p.Plantings[i].Key == "kept" {
					p.Plantings[i].Clear++
				}
			}
		},
		"as slow and fast": func(p *Plan) { first(p).Partner = "kept"; first(p).BedID = 4 },
		"answers":          func(p *Plan) { p.Supply = nil },
		"no growth table":  func(p *Plan) { first(p).Method = 3 },
	} {
		p := *base
		p.Plantings = append([]garden.Planting(nil), base.Plantings...)
		spoil(&p)
		found := false
		for _, err := range tr.check(&p) {
			found = found || strings.Contains(err.Error(), says)
		}
		if !found {
			t.Errorf("a plan spoiled in %q passes with %v", says, tr.check(&p))
		}
	}
	if faults := tr.check(base); len(faults) > 0 {
		t.Errorf("the plan itself: %v", faults)
	}
}

// The rules of shared ground, on a hand-made pair.
func TestCheckKnowsWhenCanopiesMeet(t *testing.T) {
	tr := newTrial()
	tr.grow(plainCrop("head", "A", 0.46, 0.46, 4), steadyTimes{from: 0, to: 200, days: 90, span: 10, good: 10, spread: 0.5})
	tr.grow(plainCrop("leaf", "B", 0.25, 0.3, 2), steadyTimes{from: 0, to: 200, days: 35, span: 7, good: 10, spread: 0.25})
	tr.bed(4, 1.2)
	tr.want("head", garden.Total, 1, 1)
	tr.want("leaf", garden.Total, 1, 1)
	pair := func(later int) *Plan {
		at := garden.Place{AlongTo: 4, AcrossTo: 1.2}
		start := tr.season.Start.Add(100)
		p := &Plan{Season: tr.season, Supply: make([]Supply, 2), Plantings: []garden.Planting{
			{Key: "a", BedID: 1, CropID: "head", Way: crop.Sow, Place: at, Rows: 3, Plants: 24, Start: start, Clear: start + 100, Success: 10, Years: 10, Role: garden.Slow, Partner: "b"},
			{Key: "b", BedID: 1, CropID: "leaf", Way: crop.Sow, Place: at, Rows: 2, Plants: 16, Start: start.Add(later), Clear: start.Add(later + 42), Success: 10, Years: 10, Role: garden.Fast, Partner: "a"},
		}}
		for i := range p.Plantings {
			x := &p.Plantings[i]
			sum := tr.options[i].times.Summary(x.Start)
			x.First, x.Last = sum.First, sum.Last
		}
		return p
	}
	// The middle of four plants 0.46 m apart is 0.325 m from each. On the fast one's day 41 its
	// radius is 0.125 m, and the slow one's 0.25 × 41/90 = 0.114 m: free. Begun 40 days later it is
	// 0.225 m: they meet.
	if faults := tr.check(pair(0)); len(faults) > 0 {
		t.Errorf("begun together: %v", faults)
	}
	if faults := tr.check(pair(40)); len(faults) == 0 {
		t.Error("canopies that meet pass")
	}
	inside := pair(0)
	inside.Plantings[1].Place.AlongTo = 5
	if len(tr.check(inside)) == 0 {
		t.Error("a fast crop outside the slow one's ground passes")
	}
	many := pair(0)
	many.Plantings[1].Plants = 60
	if len(tr.check(many)) == 0 {
		t.Error("more fast plants than places pass")
	}
}

// Where a soil test stops it nothing to eat is sown, the wants and the bed say so, and the checker refuses what another plan put there.
func TestNothingInStoppedGround(t *testing.T) {
	tr := simple()
	free := mustPlan(t, tr)
	bed := tr.garden.Beds[0].ID
	tr.soil = map[BedCrop]SoilShare{{bed, "leaf"}: {Share: 1, Stopped: true}}
	out := mustPlan(t, tr)
	for _, p := range out.Plantings {
		if p.BedID == bed && p.CropID == "leaf" {
			t.Errorf("leaf is sown in stopped ground: %+v", p)
		}
	}
	told := ""
	for _, r := range append(out.Notes, out.Supply[0].Short...) {
		told += r.Says
	}
	if !strings.Contains(told, "no food is grown there") {
		t.Errorf("the plan does not say why: %s", told)
	}
	found := false
	for _, f := range tr.check(free) {
		found = found || strings.Contains(f.Error(), "no food is grown there")
	}
	if !found {
		t.Error("the checker passes food in stopped ground")
	}
}
