package work

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/soil"
)

// Lime that is worked in waits for ground that is clear, and its days end with ground that can be dug; where no day of them can, it is
// strewn on top first. Common practice: nobody digs about standing carrots, nor frozen ground.
func TestLimeWaitsForClearAndFitGround(t *testing.T) {
	in := kitchen()
	p := in.Plan.Plantings[0]
	bed := in.Plan.Plantings[0].BedID
	from := p.Start.Add(5)
	in.Soil = bookOf(t, in, true)
	d := newDesk(in)
	g := d.ground[bed]
	if g == nil || g.Dose == nil || g.Dose.Depth <= 0 {
		t.Fatal("the fixture's bed is limed and dug")
	}
	span, top := d.doseDays(g, civil.Span{From: from, To: from.Add(45)})
	for day := span.From; day <= span.To; day++ {
		if !top && !d.clear(g, day) {
			t.Fatalf("lime is worked in on %s while the bed is not clear (%s to %s)", day.Long(), span.From.Long(), span.To.Long())
		}
	}
	start := d.season.Start
	fit := soil.Fitness{Start: start, Days: make([]float64, 365)}
	for i := 0; i < 10; i++ {
		fit.Days[200+i] = 1
	}
	g.Fitness = &fit
	if d.tooWet(g, civil.Span{From: start.Add(195), To: start.Add(240)}) || !d.tooWet(g, civil.Span{From: start.Add(-30), To: start.Add(9)}) {
		t.Error("days that can be dug are told wrongly")
	}
	if w := d.depthWords(dressing{put: Put{Depth: .18}, wet: true}); w == d.depthWords(dressing{put: Put{Depth: .18}}) {
		t.Error("nothing is said of wet ground")
	}
	clearDay := start.Add(200)
	if d.clear(g, clearDay) {
		if s := d.whileClear(g, civil.Span{From: clearDay, To: clearDay.Add(45)}); s.To > clearDay.Add(9) {
			t.Errorf("the days end on %s, dug can be until %s", s.To.Long(), clearDay.Add(9).Long())
		}
	}
}
