package work

import (
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// One round a week: two plantings that fall due in the same week share a job; a week apart they do not.
func TestFeedingsOfAWeekAreOneJob(t *testing.T) {
	in := alone(cabbage(), 0, garden.Planting{
		Plants: 8, Start: on(4, 17), First: around(on(6, 28), 3), Last: around(on(7, 10), 3), Clear: on(7, 20),
	})
	second := in.Plan.Plantings[0]
	second.Key, second.Start = "2027-02", on(4, 15)
	third := in.Plan.Plantings[0]
	third.Key, third.Start = "2027-03", on(5, 1)
	in.Plan.Plantings = append(in.Plan.Plantings, second, third)
	jobs := Jobs(in)
	// Three weeks after 15 and 17 April are Thursday 6 and Saturday 8 May.
	j := find(t, jobs, "feed/2027-05-03")
	if !slices.Equal(j.Serves, []string{"2027-01", "2027-02"}) || j.Window.From != on(5, 8) {
		t.Error(j.Serves, j.Window)
	}
	mustSay(t, j, "(2027-01): three weeks after", "(2027-02): three weeks after", "week of 3 May")
	if j := find(t, jobs, "feed/2027-05-17"); !slices.Equal(j.Serves, []string{"2027-03"}) {
		t.Error(j.Serves)
	}
}

// In a whole season no week has two rounds, and every crop to be fed is in one before its harvest.
func TestFeedingRoundsOfAPlannedSeason(t *testing.T) {
	in := planned(t)
	weeks, fed, titles := map[civil.Date]int{}, map[string]bool{}, map[string]bool{}
	for _, j := range Jobs(in) {
		if !strings.HasPrefix(j.Key, "feed/") {
			continue
		}
		if weeks[j.Window.From.Monday()]++; weeks[j.Window.From.Monday()] > 1 || titles[j.Title] {
			t.Error("two rounds in the week of", j.Window.From.Monday(), j.Title)
		}
		titles[j.Title] = true
		for _, key := range j.Serves {
			fed[key] = true
		}
	}
	for _, p := range in.Plan.Plantings {
		if c, _ := crop.Default().Find(p.CropID); c.Practice.SideDress != "" && p.Role != garden.Marker && !fed[p.Key] {
			t.Error("never looked over:", p.Key, c.Name())
		}
	}
}
