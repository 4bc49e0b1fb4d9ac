package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/work"
)

// A note ends one job only: no two jobs of the season are ended by the same words for the same planting.
func TestNoTwoJobsAreEndedByOneNote(t *testing.T) {
	seen := map[doneNote]string{}
	for key, note := range doneNotes(mustStory(t).Jobs) {
		if other, ok := seen[note]; ok {
			t.Errorf("%q for %q ends both %s and %s", note.text, note.planting, key, other)
		}
		seen[note] = key
	}
}

func TestDoneMarksTheJobAndNoOtherOfItsTitle(t *testing.T) {
	day := civil.Of(2027, 6, 1)
	job := func(key, planting, title string, after int) work.Job {
		return work.Job{Key: key, Planting: planting, Title: title, Window: civil.Span{From: day.Add(after), To: day.Add(after + 9)}}
	}
	jobs := []work.Job{
		job("2027-31/clear", "2027-31", "Clear the lettuce", 0), job("2027-33/clear", "2027-33", "Clear the lettuce", 0),
		job("2027-40/feed", "2027-40", "Feed the leeks", 0), job("2027-40/feed-2", "2027-40", "Feed the leeks", 30),
		job("order/carrot", "", "Order seed", 0), job("order/leek", "", "Order seed", 14),
	}
	for _, j := range jobs {
		note := doneNotes(jobs)[j.Key]
		days := doneDays(jobs, []garden.Entry{{Date: day, Planting: note.planting, Text: note.text}, {Date: day, Text: "The leeks look well."}})
		if _, ok := days[j.Key]; !ok || len(days) != 1 {
			t.Errorf("%q of %q marks %v, want %s alone", note.text, note.planting, days, j.Key)
		}
	}
}

// Through the pages: of two jobs with one title, the one sent is done and the other stays to do.
func TestOfTwoJobsWithOneTitleOneIsDone(t *testing.T) {
	now := mustStory(t)
	h, store := storySite(t, now, storyToday)
	by := map[string][]work.Job{}
	for _, j := range now.Jobs {
		by[j.Title] = append(by[j.Title], j)
	}
	for title, jobs := range by {
		if len(jobs) < 2 {
			continue
		}
		store.entries = nil
		w := post(t, h, "/jobs/done", url.Values{"key": {jobs[0].Key}, "week": {jobs[0].Window.From.String()}})
		if w.Code != http.StatusSeeOther || len(store.entries) != 1 || !strings.HasPrefix(store.entries[0].Text, "Done: "+title) {
			t.Fatalf("%s: status %d, the journal has %+v", title, w.Code, store.entries)
		}
		days := doneDays(now.Jobs, store.entries)
		if _, ok := days[jobs[0].Key]; !ok || len(days) != 1 {
			t.Errorf("%s: done are %v, want %s", title, days, jobs[0].Key)
		}
	}
}

func TestHoursAreSaidAsAPersonWould(t *testing.T) {
	for hours, want := range map[float64]string{.02: "5 minutes", .5: "30 minutes", 1.1: "an hour", 2.2: "2.25 hours", 9.9: "10 hours", 118.6: "119 hours"} {
		if got := hoursText(hours); got != want {
			t.Errorf("%v h is said as %q, want %q", hours, got, want)
		}
	}
}
