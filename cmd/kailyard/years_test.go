package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"path/filepath"
	"testing"

	"kailyard/internal/civil"
)

// TestYearsOn plans the demo's garden for three years running, each on the history the one before
// leaves: rotation must leave the household fed, and nothing may follow its own family.
func TestYearsOn(t *testing.T) {
	if testing.Short() {
		t.Skip("three seasons take some seconds")
	}
	book := filepath.Join(t.TempDir(), "years.kailyard")
	run := func(today civil.Date, args ...string) []byte {
		t.Helper()
		var out, errs bytes.Buffer
		m := Main{Stdout: &out, Stderr: &errs, Today: today}
		if code := m.Run(t.Context(), append(args, "--book", book)); code != exitDone {
			t.Fatalf("%v: exit %d: %s", args, code, errs.String())
		}
		return out.Bytes()
	}
	run(civil.Of(2027, 1, 5), "new", "--from", "demo.toml")
	run(civil.Of(2027, 1, 5), "weather", "--place", demoPlace)
	type ground struct {
		bed      string
		from, to float64
	}
	had := map[string][]ground{} // by crop
	for year := 2027; year < 2030; year++ {
		var p planJSON
		if err := json.Unmarshal(run(civil.Of(year, 1, 5), "plan", "--json"), &p); err != nil {
			t.Fatal(err)
		}
		met := 0.0
		for _, w := range p.Wants {
			met += min(1, w.ExpectedKg/w.AskedKg) / float64(len(p.Wants))
		}
		if met < 0.75 {
			t.Errorf("%d meets %.0f %% of the wants in the mean", year, 100*met)
		}
		next := map[string][]ground{}
		for _, one := range p.Plantings {
			if one.Start.Year() < year || one.Status != "planned" {
				continue // carried over
			}
			key := fmt.Sprint(one.CropID)
			for _, was := range had[key] {
				if was.bed == one.Bed && one.AlongFrom < was.to-0.01 && was.from < one.AlongTo-0.01 && one.Bed != "Corner block" && one.Bed != "Square" {
					t.Errorf("%d: %s stands in %s where it stood before", year, one.CropID, one.Bed)
				}
			}
			next[key] = append(next[key], ground{one.Bed, one.AlongFrom, one.AlongTo})
		}
		for key, list := range next {
			had[key] = append(had[key], list...)
		}
	}
}
