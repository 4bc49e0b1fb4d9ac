package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"kailyard/internal/book"
	"kailyard/internal/civil"
)

const coveredStrip = `[site]
name = "Strip (invented)"
latitude = 44.5
longitude = -73.2
invented = true
[[bed]]
name = "Strip"
length = "6 m"
width = "1.2 m"
sun_hours = 8
[[want]]
crop = "carrot"
amount = 4
[[want]]
crop = "spinach"
amount = 2
`

// The plan as it was before a cover was chosen stays in the book, whole, and can be read again; a plan made afterwards
// keeps the choice until the planting is freed.
func TestUnderLosesNoPlan(t *testing.T) {
	dir := t.TempDir()
	path, file := filepath.Join(dir, "strip.kailyard"), filepath.Join(dir, "strip.toml")
	if err := os.WriteFile(file, []byte(coveredStrip), 0o600); err != nil {
		t.Fatal(err)
	}
	today := civil.Of(2027, 2, 1)
	run := func(args ...string) {
		t.Helper()
		var out, errs bytes.Buffer
		m := Main{Stdout: &out, Stderr: &errs, Today: today}
		if code := m.Run(t.Context(), append(args, "--book", path)); code != exitDone {
			t.Fatalf("%v: exit %d: %s", args, code, errs.String())
		}
	}
	run("new", "--from", file)
	run("weather", "--place", "burlington")
	run("plan")
	b, err := book.Open(t.Context(), path, book.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	was, err := b.Plan(t.Context(), 2027)
	if err != nil || len(was.Plantings) == 0 {
		t.Fatalf("%+v, %v", was, err)
	}
	one := was.Plantings[0]
	if err := b.Close(); err != nil {
		t.Fatal(err)
	}
	run("under", one.Key, "cold frame")
	run("plan")
	if b, err = book.Open(t.Context(), path, book.Options{}); err != nil {
		t.Fatal(err)
	}
	plans, err := b.Plans(t.Context())
	if err != nil || len(plans) != 3 {
		t.Fatalf("%d plans in the book, want the first, the one under the frame and the one made after it; %v", len(plans), err)
	}
	for i, under := range []string{"cold-frame", "cold-frame", ""} { // the newest first
		p, err := b.PlanOf(t.Context(), plans[i].ID)
		if err != nil {
			t.Fatal(err)
		}
		found := false
		for _, x := range p.Plantings {
			if x.Key != one.Key {
				continue
			}
			found = true
			if x.Protection != under || x.Start != one.Start || x.Place != one.Place || x.BedID != one.BedID {
				t.Errorf("plan %d: %+v, want it under %q", plans[i].ID, x, under)
			}
		}
		if !found {
			t.Errorf("plan %d has no %s", plans[i].ID, one.Key)
		}
	}
}
