package season

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/soil"
)

// The days of lime end with ground that can be dug; where none can, it is strewn on top first. Common practice.
func TestLimeEndsWithFitGround(t *testing.T) {
	start := civil.Of(2027, 1, 1)
	f := soil.Fitness{Start: start, Days: make([]float64, 365)}
	for i := 250; i < 320; i++ { // to the middle of November
		f.Days[i] = .5
	}
	last := start.Add(319)
	for _, row := range []struct {
		from civil.Date
		to   civil.Date
		top  bool
	}{{last.Add(-10), last, false}, {last.Add(-10 - 365), last.Add(-365), false}, {civil.Of(2026, 11, 25), civil.Of(2026, 12, 9), true}} {
		b := BedGround{Fitness: &f}
		b.Reaction.Dose = &soil.Dose{Depth: .18, Parts: []soil.Part{{From: row.from, To: row.from.Add(45), When: "now"}}}
		b.waitForGround()
		if p := b.Reaction.Dose.Parts[0]; p.From != row.from || p.To != row.to || strings.Contains(p.When, "on top") != row.top {
			t.Errorf("from %s: %s to %s, %s", row.from.Long(), p.From.Long(), p.To.Long(), p.When)
		}
	}
}
