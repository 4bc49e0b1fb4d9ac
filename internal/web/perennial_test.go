package web

import (
	"strings"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/work"
)

// What stands for years is picked when its job says so, and on no page otherwise.
func TestAStandingPerennialIsPickedWhenItsJobSays(t *testing.T) {
	now := mustStory(t)
	var picked work.Job
	for _, j := range now.Jobs {
		if j.Kind == work.Harvest && j.Planting == storyPerennial {
			picked = j
		}
	}
	if picked.Key == "" {
		t.Fatal("the rhubarb of the storybook has no harvest")
	}
	for _, at := range []struct {
		day   int
		stage string
		pick  bool
	}{
		{-10, "growing, first picking about " + picked.Window.From.Short(), false},
		{0, "in its season, to " + picked.Window.To.Short(), true},
		{picked.Window.Days() - 1, "in its season, to " + picked.Window.To.Short(), true},
		{picked.Window.Days(), "harvest over, stays in its place", false},
	} {
		day := picked.Window.From.Add(at.day)
		h, _ := storySite(t, now, day.String())
		for _, path := range []string{"/", "/planting/" + storyPerennial, "/plot"} {
			if text := words(parse(t, get(t, h, path))); !strings.Contains(text, at.stage) {
				t.Errorf("%s on %s does not say %q", path, day, at.stage)
			}
		}
		pick := false
		for _, p := range picking(now, day) {
			pick = pick || p.Key == storyPerennial
		}
		if pick != at.pick {
			t.Errorf("on %s it is among what to pick: %v, want %v", day, pick, at.pick)
		}
	}
}

// A bed that stands for years shows no day that is none.
func TestNoDayBeforeTheGardenBegan(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	for _, path := range []string{"/bed/9", "/planting/" + storyPerennial} {
		doc := parse(t, get(t, h, path))
		if text := words(doc); strings.Contains(text, "1 Jan (") || strings.Contains(text, "1970") || len(all(doc, atom.H1)) != 1 {
			t.Errorf("%s: %s", path, text)
		}
	}
}
