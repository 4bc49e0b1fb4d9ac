package plan

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

func faultSays(faults []error, what string) bool {
	for _, err := range faults {
		if strings.Contains(err.Error(), what) {
			return true
		}
	}
	return false
}

// What a plan tells of itself is held to the catalogue, the growth tables and its bound: each part told wrongly is caught.
func TestCheckCatchesWhatIsToldWrongly(t *testing.T) {
	tr := newTrial()
	tr.grow(raisedCrop("raised", "A"), steadyTimes{from: 60, to: 200, days: 60, span: 10, good: 10})
	tr.grow(plainCrop("sown", "B", 0.25, 0.3, 2), steadyTimes{from: 90, to: 200, days: 60, span: 10, good: 10})
	tr.bed(6, 1.2)
	tr.bed(6, 1.2)
	tr.want("raised", garden.Total, 6, 3)
	tr.want("sown", garden.Total, 6, 3)
	base := mustPlan(t, tr)
	if faults := tr.check(base); len(faults) > 0 || base.Bound <= 0 {
		t.Fatalf("the plan itself, bound %g: %v", base.Bound, faults)
	}
	for name, one := range map[string]struct {
		crop, says string
		spoil      func(p *Plan, x *garden.Planting)
	}{
		"never raised":          {"raised", "nothing says when", func(_ *Plan, x *garden.Planting) { x.RaiseOn = nil }},
		"raised the day before": {"raised", "is raised for 0.1 weeks", func(_ *Plan, x *garden.Planting) { d := x.Start - 1; x.RaiseOn = &d }},
		"raised too long":       {"raised", "is raised for", func(_ *Plan, x *garden.Planting) { d := x.Start - 7*7 - 1; x.RaiseOn = &d }},
		"sown and raised":       {"sown", "is not set out", func(_ *Plan, x *garden.Planting) { d := x.Start - 30; x.RaiseOn = &d }},
		"another way":           {"sown", "is begun by", func(_ *Plan, x *garden.Planting) { x.Way = crop.Set }},
		"no way":                {"raised", "is begun by", func(_ *Plan, x *garden.Planting) { x.Way = "" }},
		"harvested early":       {"sown", "its growth table says", func(_ *Plan, x *garden.Planting) { x.First.P50 -= 3 }},
		"harvested never":       {"sown", "its growth table says", func(_ *Plan, x *garden.Planting) { x.First, x.Last = garden.Spread{}, garden.Spread{} }},
		"harvested too long":    {"raised", "its growth table says", func(_ *Plan, x *garden.Planting) { x.Last.P90 += 40 }},
		"above its bound":       {"sown", "above its bound", func(p *Plan, _ *garden.Planting) { p.Value = p.Bound * (1 + 1e-6) }},
		"worth no number":       {"sown", "not both numbers", func(p *Plan, _ *garden.Planting) { p.Value = math.NaN() }},
		"bound without end":     {"sown", "not both numbers", func(p *Plan, _ *garden.Planting) { p.Bound = math.Inf(1) }},
	} {
		p := *base
		p.Plantings = append([]garden.Planting(nil), base.Plantings...)
		done := false
		for i := range p.Plantings {
			if x := &p.Plantings[i]; x.CropID == one.crop && !done {
				one.spoil(&p, x)
				done = true
			}
		}
		if faults := tr.check(&p); !done || !faultSays(faults, one.says) {
			t.Errorf("%s: a plan spoiled so passes with %v", name, faults)
		}
	}
}

// A planting on ground cleared before may be told up to three weeks late, for what is before it may be; one on empty ground may not.
func TestCheckKnowsWhoMayBeLate(t *testing.T) {
	tr := newTrial()
	tr.grow(plainCrop("first", "A", 0.25, 0.3, 2), steadyTimes{from: 0, to: 300, days: 50, span: 10, good: 10})
	tr.grow(plainCrop("next", "B", 0.25, 0.3, 2), steadyTimes{from: 0, to: 300, days: 50, span: 10, good: 10})
	tr.bed(4, 1.2)
	tr.want("first", garden.Total, 1, 1)
	tr.want("next", garden.Total, 1, 1)
	at := garden.Place{AlongTo: 4, AcrossTo: 1.2}
	one := func(key, of string, day, late int) garden.Planting {
		start := tr.season.Start.Add(day)
		on := func(n int) garden.Spread {
			return garden.Spread{P10: start.Add(n), P50: start.Add(n), P90: start.Add(n + late)}
		}
		return garden.Planting{Key: key, BedID: 1, CropID: of, Way: crop.Sow, Place: at, Rows: 4, Plants: 64, Start: start, Clear: start + 60, First: on(50), Last: on(59), Success: 10, Years: 10}
	}
	for _, c := range []struct {
		late  int
		alone bool
		fault bool
	}{{0, true, false}, {14, true, true}, {14, false, false}, {21, false, false}, {22, false, true}} {
		p := &Plan{Season: tr.season, Supply: make([]Supply, 2), Plantings: []garden.Planting{one("b", "next", 100, c.late)}}
		if !c.alone {
			p.Plantings = append(p.Plantings, one("a", "first", 20, 0))
		}
		if faults := tr.check(p); (len(faults) > 0) != c.fault {
			t.Errorf("%+v: %v", c, faults)
		}
	}
}

// What stands among another's plants: no vine, nothing earthed up, no block or support, and only in its time.
func TestCheckKnowsWhatMayShareGround(t *testing.T) {
	for name, one := range map[string]struct {
		says        string
		slow, fast  func(c *crop.Crop)
		later, days int // the fast one's start after the slow one's, and its days
	}{
		"as it should be":     {later: 0, days: 40},
		"fast vine":           {says: "a vine does not share", fast: func(c *crop.Crop) { c.Practice.Vine = true }, days: 40},
		"slow vine":           {says: "a vine does not share", slow: func(c *crop.Crop) { c.Practice.Vine = true }, days: 40},
		"fast one earthed up": {says: "earthed up does not share", fast: func(c *crop.Crop) { c.Practice.EarthUp = true }, days: 40},
		"slow one earthed up": {says: "earthed up does not share", slow: func(c *crop.Crop) { c.Practice.EarthUp = true }, days: 40},
		"block":               {says: "a block or a support", fast: func(c *crop.Crop) { c.Practice.Block = true }, days: 40},
		"support":             {says: "a block or a support", fast: func(c *crop.Crop) { c.Practice.Support = "netting" }, days: 40},
		"too long":            {says: "stands for 85 days", days: 85},
		"most of its time":    {says: "stands for 84 days", days: 84},
		"much before":         {says: "too far from the start", later: -43, days: 60},
		"much after":          {says: "too far from the start", later: 29, days: 40},
		"gone already":        {says: "too far from the start", later: -40, days: 40},
	} {
		tr := newTrial()
		slow := tr.grow(plainCrop("head", "A", 0.46, 0.46, 4), steadyTimes{from: 0, to: 300, days: 90, span: 10, good: 10, spread: 0.1})
		fast := tr.grow(plainCrop("leaf", "B", 0.25, 0.3, 2), steadyTimes{from: 0, to: 300, days: one.days - 7, span: 7, good: 10, spread: 0.1})
		tr.bed(4, 1.2)
		tr.want("head", garden.Total, 1, 1)
		tr.want("leaf", garden.Total, 1, 1)
		if one.slow != nil {
			one.slow(slow)
		}
		if one.fast != nil {
			one.fast(fast)
		}
		at := garden.Place{AlongTo: 4, AcrossTo: 1.2}
		planting := func(key, of string, start civil.Date, days int) garden.Planting {
			i := 0
			if of == "leaf" {
				i = 1
			}
			sum := tr.options[i].times.Summary(start)
			return garden.Planting{Key: key, BedID: 1, CropID: of, Way: crop.Sow, Place: at, Start: start, Clear: start.Add(days), First: sum.First, Last: sum.Last, Success: 10, Years: 10}
		}
		a := planting("a", "head", tr.season.Start+100, 100)
		b := planting("b", "leaf", (tr.season.Start + 100).Add(one.later), one.days)
		a.Rows, a.Plants, a.Role, a.Partner = 3, 24, garden.Slow, "b"
		b.Rows, b.Plants, b.Role, b.Partner = 2, 16, garden.Fast, "a"
		faults := tr.check(&Plan{Season: tr.season, Supply: make([]Supply, 2), Plantings: []garden.Planting{a, b}})
		if one.says == "" && len(faults) > 0 || one.says != "" && !faultSays(faults, one.says) {
			t.Errorf("%s: %v", name, faults)
		}
	}
}
