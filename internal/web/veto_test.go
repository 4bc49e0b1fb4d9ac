package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

func TestWhatAPersonWillNotHaveIsKept(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Vetoes)
	send := url.Values{"crop": {"carot"}, "bed": {"2"}, "way": {""}, "family": {""}, "before": {""}}
	w := post(t, h, "/veto/new", send)
	if says := errorOf(parse(t, w), "crop"); w.Code != http.StatusUnprocessableEntity || !strings.Contains(says, "carrot") {
		t.Errorf("status %d, beside the crop: %q", w.Code, says)
	}
	if w := post(t, h, "/veto/new", url.Values{}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a veto of everything: status %d", w.Code)
	}
	send.Set("crop", "carrot")
	send.Set("way", "sow")
	if w := post(t, h, "/veto/new", send); w.Code != http.StatusSeeOther || len(store.g.Vetoes) != n+1 {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	got := store.g.Vetoes[n]
	if got.Crop != "carrot" || got.BedID != 2 || got.Way != crop.Sow || got.Before != nil {
		t.Errorf("kept: %+v", got)
	}
	page := words(parse(t, get(t, h, "/garden")))
	if !strings.Contains(page, "No carrot sown where it is to stand in") {
		t.Errorf("the garden does not tell of it: %s", page)
	}
	if w := post(t, h, "/veto/"+number(float64(got.ID))+"/remove", nil); w.Code != http.StatusSeeOther || len(store.g.Vetoes) != n {
		t.Errorf("taken back: status %d, %+v", w.Code, store.g.Vetoes)
	}
}

// A planting that a veto forbids is not kept exactly so: the page says why and what to do, and so does the answer.
func TestAnImpossiblePinIsRefused(t *testing.T) {
	now := mustStory(t)
	key := ""
	for _, p := range now.Plan.Plantings {
		if p.Status == garden.Planned && !p.Pinned {
			key = p.Key
			now.Garden.Vetoes = []garden.Veto{{BedID: p.BedID, Crop: p.CropID}}
			break
		}
	}
	defer func() { now.Garden.Vetoes = nil }()
	h, store := storySite(t, now, storyToday)
	if page := words(parse(t, get(t, h, "/planting/"+key))); !strings.Contains(page, "It cannot be kept exactly so. You will have no") || !strings.Contains(page, "Take that back first") {
		t.Errorf("the page says %s", page)
	}
	w := post(t, h, "/planting/"+key+"/pin", url.Values{"pinned": {"yes"}})
	if w.Code != http.StatusConflict || store.pinned[key] || !strings.Contains(words(parse(t, w)), "You will have no") {
		t.Errorf("status %d, %v", w.Code, store.pinned)
	}
	if w := post(t, h, "/planting/"+key+"/pin", url.Values{"pinned": {"no"}}); w.Code != http.StatusSeeOther {
		t.Errorf("letting go: status %d", w.Code)
	}
}
