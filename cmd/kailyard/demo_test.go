package main

import (
	"bytes"
	"encoding/json"
	"path/filepath"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
)

// TestDemoShowsTheTrade: the demo's plan does what a practised gardener would (common practice): hardy
// crops early, transplants raised in time, a fast crop between slow ones, a marked row, several crops
// from the same ground, spring crops again in autumn, nothing after its own family.
func TestDemoShowsTheTrade(t *testing.T) {
	var out, errs bytes.Buffer
	m := Main{Stdout: &out, Stderr: &errs, Today: civil.Of(2027, 1, 9)}
	book := filepath.Join(t.TempDir(), "demo.kailyard")
	if code := m.Run(t.Context(), []string{"demo", "--print", "--json", "--book", book}); code != exitDone {
		t.Fatal(errs.String())
	}
	var demo struct{ Plan planJSON }
	if err := json.Unmarshal(out.Bytes(), &demo); err != nil {
		t.Fatal(err)
	}
	crops := cropFamilies()
	var early, raised, fast, marker, autumn bool
	for _, p := range demo.Plan.Plantings {
		kind := crops[p.CropID]
		early = early || (p.Start < civil.Of(2027, 5, 1) && p.Start >= civil.Of(2027, 1, 1)) // half of the years have frost after 29 April here
		raised = raised || (p.RaiseOn != nil && kind.family == "Brassicaceae" && p.Start.Since(*p.RaiseOn) >= 35 && p.Start.Since(*p.RaiseOn) <= 56)
		fast = fast || p.Role == "fast"
		marker = marker || p.Role == "marker"
		autumn = autumn || (p.Start > civil.Of(2027, 7, 10) && (kind.kind == "spinach" || kind.kind == "pea" || kind.kind == "lettuce"))
	}
	for what, shown := range map[string]bool{
		"a hardy crop in cold soil": early, "brassicas raised about six weeks": raised, "a fast crop between slow ones": fast,
		"a row marker": marker, "a spring crop again in autumn": autumn,
	} {
		if !shown {
			t.Errorf("the demo does not show %s", what)
		}
	}
	most := 0
	for i, a := range demo.Plan.Plantings {
		n := 0
		for j, b := range demo.Plan.Plantings {
			if !sharesGround(a, b) || (a.Status == "in the ground" || b.Status == "in the ground") {
				continue
			}
			n++
			after := i != j && b.Start >= a.Clear
			if after && crops[a.CropID].family == crops[b.CropID].family {
				t.Errorf("%s (%s) follows its own family on the ground of %s (%s)", b.Key, b.CropID, a.Key, a.CropID)
			}
		}
		most = max(most, n)
	}
	if most < 3 {
		t.Errorf("no ground bears more than %d crops", most)
	}
}

func sharesGround(a, b plantingJSON) bool {
	return a.Bed == b.Bed && a.AlongFrom < b.AlongTo && b.AlongFrom < a.AlongTo && a.AcrossFrom < b.AcrossTo && b.AcrossFrom < a.AcrossTo
}

type sortOf struct{ kind, family string }

func cropFamilies() map[string]sortOf {
	all := map[string]sortOf{}
	for _, c := range crop.Default().All() {
		all[c.ID] = sortOf{c.Kind, c.Family}
	}
	return all
}
