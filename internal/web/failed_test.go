package web

import (
	"slices"
	"strings"
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// A planting that failed says so wherever it is shown, and no page still hopes for its harvest.
func TestAFailedPlantingSaysSo(t *testing.T) {
	was := mustStory(t)
	p := *was.Plan
	p.Plantings = slices.Clone(p.Plantings)
	now := &season.Result{
		Season: was.Season, Garden: was.Garden, Record: was.Record, Years: was.Years, Climate: was.Climate,
		Tables: was.Tables, Plan: &p, Jobs: was.Jobs, Orders: was.Orders, Crops: was.Crops,
	}
	var q *garden.Planting
	for i := range p.Plantings {
		if x := &p.Plantings[i]; x.Role == garden.Alone && x.Years > 0 && x.Expect > 0 {
			q = x
		}
	}
	if q == nil {
		t.Fatal("nothing is planned in the storybook")
	}
	q.Status = garden.Lost
	h, _ := storySite(t, now, storyToday)
	text := words(parse(t, get(t, h, "/planting/"+q.Key)))
	for _, not := range []string{"comes to harvest", "Expected harvest", "picking", "Ground free"} {
		if strings.Contains(text, not) {
			t.Errorf("the page of a planting that failed says %q: %s", not, text)
		}
	}
	if !strings.Contains(text, ": failed.") {
		t.Errorf("it does not say that it failed: %s", text)
	}
	if l := bedLineOf(now, q); !strings.HasSuffix(l.When, "failed") {
		t.Errorf("the bed's list says %q", l.When)
	}
	if hint := patchHint(now, q); !strings.HasSuffix(hint, "failed") {
		t.Errorf("the picture says %q", hint)
	}
}
