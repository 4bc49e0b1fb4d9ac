package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/season"
)

// unplannedSeason is the error of a season without a plan, as the store's owner gives it.
type unplannedSeason struct{}

func (unplannedSeason) Error() string { return "the book has no plan; make one in the shell" }
func (unplannedSeason) NoPlan() bool  { return true }

// Two seasons to look at, of which the later has no plan: the choice stands on every page, and a page
// offers to make the plan and never makes it for being looked at.
func TestASeasonIsChosenAndPlannedByButtons(t *testing.T) {
	now := mustStory(t)
	_, store := storySite(t, now, storyToday)
	list := []civil.Season{now.Season, civil.SeasonOf(2028, now.Garden.Site.Latitude)}
	shown, planned, plans := list[0], map[int]bool{2027: true}, 0
	h := New(Config{
		Store: store, Crops: crop.Default(), Today: func() civil.Date { return civil.Of(2027, 6, 15) },
		Season: func(context.Context) (*season.Result, error) {
			if !planned[shown.Year()] {
				return nil, fmt.Errorf("looking: %w", unplannedSeason{})
			}
			return now, nil
		},
		Replan:  func(context.Context) error { plans++; planned[shown.Year()] = true; return nil },
		Seasons: func(context.Context) ([]civil.Season, civil.Season, error) { return list, shown, nil },
		Choose: func(_ context.Context, year int) error {
			shown = list[slices.IndexFunc(list, func(s civil.Season) bool { return s.Year() == year })]
			return nil
		},
	})
	for _, path := range []string{"/", "/plot", "/crops", "/site", "/nowhere"} {
		doc := parse(t, get(t, h, path))
		var years []string
		for _, b := range all(doc, atom.Button) {
			if attr(b, "name") == "year" {
				years = append(years, attr(b, "value"))
			}
		}
		if !slices.Equal(years, []string{"2027", "2028"}) {
			t.Errorf("%s: the seasons to choose are %v", path, years)
		}
		checkPage(t, path, doc)
	}
	for _, wrong := range []string{"2029", "", "soon"} {
		if w := post(t, h, "/season", url.Values{"year": {wrong}}); w.Code != http.StatusBadRequest || shown != list[0] {
			t.Errorf("season %q: status %d", wrong, w.Code)
		}
	}
	if w := post(t, h, "/season", url.Values{"year": {"2028"}, "back": {"//evil.example/"}}); w.Header().Get("Location") != "/" {
		t.Errorf("the form leads to %q", w.Header().Get("Location"))
	}
	if w := post(t, h, "/season", url.Values{"year": {"2028"}, "back": {"/plot"}}); w.Header().Get("Location") != "/plot" || shown != list[1] {
		t.Errorf("the form leads to %q", w.Header().Get("Location"))
	}
	for path, status := range map[string]int{"/": 200, "/plot": 409, "/beds": 409, "/jobs": 409, "/garden": 200, "/crop/carrot": 200} {
		w := get(t, h, path)
		doc := parse(t, w)
		offers := strings.Contains(words(doc), "Make the plan")
		if w.Code != status || !offers && path != "/crop/carrot" {
			t.Errorf("%s without a plan: status %d, want %d: %s", path, w.Code, status, words(doc))
		}
		if strings.Contains(words(doc), "make one in the shell") {
			t.Errorf("%s sends the person to the shell", path)
		}
		checkPage(t, path, doc)
	}
	if plans > 0 {
		t.Error("a plan was made by looking")
	}
	if w := post(t, h, "/replan", nil); w.Code != http.StatusSeeOther || plans != 1 {
		t.Errorf("planning: status %d", w.Code)
	}
	if w := get(t, h, "/plot"); w.Code != http.StatusOK {
		t.Errorf("after planning: status %d", w.Code)
	}
}

func TestWithoutSeasonsThereIsNoChoice(t *testing.T) {
	now := mustStory(t)
	_, store := storySite(t, now, storyToday)
	h := New(Config{
		Store: store, Crops: crop.Default(), Today: func() civil.Date { return civil.Of(2027, 6, 15) },
		Season: func(context.Context) (*season.Result, error) { return now, nil },
	})
	for _, b := range all(parse(t, get(t, h, "/")), atom.Button) {
		if attr(b, "name") == "year" {
			t.Error("a choice of nothing is offered")
		}
	}
	if w := post(t, h, "/season", url.Values{"year": {"2027"}}); w.Code != http.StatusNotFound {
		t.Errorf("status %d", w.Code)
	}
}
