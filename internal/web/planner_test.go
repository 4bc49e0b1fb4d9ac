package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/book"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
)

func TestAPlantingIsPinnedAndFreed(t *testing.T) {
	now := mustStory(t)
	h, store := storySite(t, now, storyToday)
	key := ""
	for _, p := range now.Plan.Plantings {
		if p.Status == garden.Planned {
			key = p.Key
			break
		}
	}
	offered := func(key string) (value string) {
		for _, in := range all(parse(t, get(t, h, "/planting/"+key)), atom.Input) {
			if attr(in, "name") == "pinned" {
				value = attr(in, "value")
			}
		}
		return value
	}
	if offered(key) != "yes" || offered(storyPerennial) != "" {
		t.Errorf("offered: %q for a planned one, %q for one in the ground", offered(key), offered(storyPerennial))
	}
	for _, value := range []string{"yes", "no"} {
		w := post(t, h, "/planting/"+key+"/pin", url.Values{"pinned": {value}})
		if w.Code != http.StatusSeeOther || store.pinned[key] != (value == "yes") {
			t.Errorf("pinned %s: status %d, %v", value, w.Code, store.pinned)
		}
		if back := get(t, h, w.Header().Get("Location")); back.Code != http.StatusOK || len(all(parse(t, back), atom.H1)) != 1 {
			t.Errorf("the form leads to %s: status %d", w.Header().Get("Location"), back.Code)
		}
	}
}

func TestThePlannersSettingsAreChanged(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	doc := parse(t, get(t, h, "/settings"))
	send := url.Values{}
	for _, set := range plan.SettingsList() {
		send.Set(set.Name, valueOf(doc, set.Name))
		if valueOf(doc, set.Name) == "" {
			t.Errorf("the form lacks %s", set.Name)
		}
	}
	before := store.planner
	if w := post(t, h, "/settings", send); w.Code != http.StatusSeeOther || store.planner != before {
		t.Errorf("sent back unchanged: status %d, %+v", w.Code, store.planner)
	}
	for name, value := range map[string]string{"success_share": "1.5", "rotation_years": "3.5", "turnaround_days": "a week", "seed": "", "improvement_rounds": "1e9"} {
		wrong := url.Values{}
		for k := range send {
			wrong.Set(k, send.Get(k))
		}
		wrong.Set(name, value)
		w := post(t, h, "/settings", wrong)
		doc := parse(t, w)
		if w.Code != http.StatusUnprocessableEntity || errorOf(doc, name) == "" || valueOf(doc, name) != value || store.planner != before {
			t.Errorf("%s = %q: status %d, beside it %q", name, value, w.Code, errorOf(doc, name))
		}
		checkPage(t, "/settings", doc)
	}
	send.Set("success_share", "0,9")
	send.Set("rotation_years", "4")
	if w := post(t, h, "/settings", send); w.Code != http.StatusSeeOther || store.planner.Share != .9 || store.planner.Rotation != 4 {
		t.Errorf("status %d, kept %+v", w.Code, store.planner)
	}
}

// What the book's rules forbid is told under a heading that says so.
func TestRemovingAPlantedBedIsRefusedInWords(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	store.broken = fmt.Errorf("removing: %w", &book.Error{Kind: book.Refused, Says: "the bed cannot be taken out: leek stands in it", Remedy: "mark it as over or lost first"})
	w := post(t, h, "/bed/2/remove", nil)
	doc := parse(t, w)
	if h1 := words(all(doc, atom.H1)[0]); w.Code != http.StatusConflict || h1 != "That cannot be done" || !strings.Contains(words(doc), "leek stands in it") {
		t.Errorf("status %d under %q: %s", w.Code, h1, words(doc))
	}
}
