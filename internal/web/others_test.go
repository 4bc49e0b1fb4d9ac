package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/season"
)

// storyOthers are other plans for the storybook's garden, made in fewer rounds than its own.
var storyOthers = sync.OnceValues(func() (*season.Alternatives, error) {
	now, err := story()
	if err != nil {
		return nil, err
	}
	settings := now.Plan.Settings
	settings.Rounds = 4000
	return season.Compare(season.Input{
		Season: now.Season, Garden: now.Garden, Record: now.Record, Crops: now.Crops, Settings: settings, Plan: now.Plan,
		Before: &season.Before{Day: now.Season.Start},
	})
})

func (s *shelf) others(context.Context) (*season.Alternatives, error) {
	if s.alone || s.broken != nil {
		return nil, s.broken
	}
	return storyOthers()
}

func TestOtherPlansAreAskedFor(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	store.alone = true
	doc := parse(t, get(t, h, othersAddress))
	checkPage(t, othersAddress, doc)
	if len(all(doc, atom.Table)) > 0 || !strings.Contains(words(doc), "Plan and compare") {
		t.Errorf("before they are made: %s", words(doc))
	}
	if w := post(t, h, "/plan/others/use", url.Values{"plan": {"light-hands"}}); w.Code != http.StatusConflict || !strings.Contains(words(parse(t, w)), "Compare them again") {
		t.Errorf("one of none is used: status %d", w.Code)
	}
	if w := post(t, h, othersAddress, nil); w.Code != http.StatusSeeOther || w.Header().Get("Location") != othersAddress || store.alone {
		t.Errorf("status %d, leads to %q", w.Code, w.Header().Get("Location"))
	}
}

// The page shows every plan that is really another with its figures and pictures and lets it be used; those nearly the same it tells.
func TestOtherPlansBesideTheOneAsSet(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	others, err := storyOthers()
	if err != nil {
		t.Fatal(err)
	}
	doc := parse(t, get(t, h, othersAddress))
	checkPage(t, othersAddress, doc)
	columns, uses := 0, map[string]bool{}
	for _, in := range all(doc, atom.Input) {
		if attr(in, "name") == "plan" {
			uses[attr(in, "value")] = true
		}
	}
	for i, p := range others.Plans {
		if p.Alike == "" {
			columns++
		}
		if uses[p.Way.ID] != (i > 0 && p.Alike == "") {
			t.Errorf("%s can be used: %v", p.Way.ID, uses[p.Way.ID])
		}
		if !strings.Contains(words(doc), p.Way.Name) || i > 0 && p.Alike == "" && !strings.Contains(words(doc), p.Differs) {
			t.Errorf("%s is not told, nor that it has %s", p.Way.Name, p.Differs)
		}
	}
	table := all(doc, atom.Table)[0]
	if cells := all(table, atom.Td); len(cells) != 1+9*columns {
		t.Errorf("%d cells for %d plans", len(cells), columns)
	}
	if pictures := len(all(doc, atom.Svg)); pictures < columns*len(others.Plans[0].Result.Garden.Beds) {
		t.Errorf("%d pictures of %d plans", pictures, columns)
	}
	if columns < 3 {
		t.Errorf("only %d plans are really others", columns)
	}
	if w := post(t, h, "/plan/others/use", url.Values{"plan": {"light-hands"}}); w.Code != http.StatusSeeOther || store.chosen != "light-hands" {
		t.Errorf("status %d, chosen %q", w.Code, store.chosen)
	}
}
