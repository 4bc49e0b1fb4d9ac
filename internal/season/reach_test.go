package season_test

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// The portions of all that is wanted are the whole of it; the plan's own and what may be left in it are as far apart as the plan and
// its bound; and the sentence tells them.
func TestWhereTheRestGoes(t *testing.T) {
	r := compute(t, measured(t, "new_york_2012-2015.csv"), 40.8)
	quick, known := r.Reaches()
	reach, told := r.Reach()
	if !known || !told || reach.Untold != "" || quick.Share != reach.Share || len(quick.Parts) > 0 {
		t.Fatalf("%+v, %+v", quick, reach)
	}
	sum, cents := 0.0, 0
	share := map[string]float64{}
	for _, p := range reach.Parts {
		if p.Share < 0 || p.Means == "" {
			t.Errorf("%+v", p)
		}
		sum, cents = sum+p.Share, cents+p.Cent
		if math.Abs(float64(p.Cent)-100*p.Share) >= 1 {
			t.Errorf("%+v is rounded too far", p)
		}
		share[p.Name] = p.Share
	}
	if math.Abs(sum-1) > 1e-6 || cents != 100 || len(share) != 7 {
		t.Errorf("the portions make %.6f: %+v", sum, reach.Parts)
	}
	if got := share["had"] / (share["had"] + share["search"]); math.Abs(got-reach.Share) > 0.01 || reach.Share <= 0.5 || reach.Share > 1 {
		t.Errorf("the plan reaches %.3f, by its portions %.3f", reach.Share, got)
	}
	told100 := 0
	for _, n := range regexp.MustCompile(`(\d+) %`).FindAllStringSubmatch(reach.Rest, -1) {
		cent, _ := strconv.Atoi(n[1])
		told100 += cent
	}
	if told100 != 100 {
		t.Errorf("the printed parts make %d %%: %s", told100, reach.Rest)
	}
	if !regexp.MustCompile(`^This plan reaches at least \d+ % of what any plan could`).MatchString(reach.Says) ||
		!regexp.MustCompile(` keeps? back \d+ %.*; what the plan brings, less its work and ground, is \d+ %, and at most \d+ % is left in it\.`).MatchString(reach.Rest) {
		t.Errorf("%q, %q", reach.Says, reach.Rest)
	}
}

// A plan made before the bound was reckoned says nothing; one whose garden has grown since, and what is wanted of it, says so, and does not
// tell where the rest goes by ground and wants that it did not have.
func TestReachOfOlderPlans(t *testing.T) {
	r := compute(t, measured(t, "new_york_2012-2015.csv"), 40.8)
	old := *r.Plan
	old.Bound = 0
	in := season.Input{Season: r.Season, Garden: r.Garden, Record: r.Record, Crops: r.Crops, Plan: &old, Settings: r.Plan.Settings}
	before, err := season.Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	if reach, known := before.Reach(); known || reach.Says != "" {
		t.Errorf("an old plan reaches %+v", reach)
	}
	in.Plan, in.Garden.Beds = r.Plan, append(in.Garden.Beds[:1:1], in.Garden.Beds[1])
	in.Garden.Beds[1].Length = quantity.Metre(30)
	in.Garden.Wants = slices.Clone(in.Garden.Wants)
	for i := range in.Garden.Wants {
		in.Garden.Wants[i].Weight = 5
	}
	after, err := season.Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	reach, known := after.Reach()
	if !known || len(reach.Parts) > 0 || !strings.Contains(reach.Untold, "Plan again") {
		t.Errorf("%+v", reach)
	}
	in.Garden = r.Garden
	kept, err := season.Compute(in)
	if err != nil {
		t.Fatal(err)
	}
	if reach, known := kept.Reach(); !known || len(reach.Parts) != 7 {
		t.Errorf("a kept plan's rest is not told: %+v", reach)
	}
}
