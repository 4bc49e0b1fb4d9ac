package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// While a heap with manure is about that was not hot for long enough, compost is not taken without where it came from; out of that heap
// it stands as raw manure (7 CFR 205.203(c)).
func TestCompostAsksWhereItCameFrom(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	day, err := civil.Parse(storyToday)
	if err != nil {
		t.Fatal(err)
	}
	for i := range store.g.Heaps {
		store.g.Heaps[i].Put = nil
	}
	store.g.Heaps = append(store.g.Heaps, garden.Heap{ID: 90, Name: "Fence", Started: day.Add(-24), Put: []garden.HeapPart{{Feedstock: "manure-horse-fresh", Volume: 300}}})
	put := func(from string) (int, string, garden.Entry) {
		before := len(store.entries)
		w := post(t, h, "/soil/bed/1/put", url.Values{"material": {"compost"}, "amount": {"40 L"}, "date": {storyToday}, "heap": {from}})
		if len(store.entries) == before {
			return w.Code, w.Body.String(), garden.Entry{}
		}
		return w.Code, w.Body.String(), store.entries[len(store.entries)-1]
	}
	if code, body, e := put(""); code == http.StatusSeeOther || e.Material != "" || !strings.Contains(body, "was not hot for long enough") {
		t.Errorf("compost without its origin: %d, %+v", code, e)
	}
	if _, _, e := put("heap Fence"); e.Material != soil.RawCompost {
		t.Errorf("out of the cold heap it stands as %q", e.Material)
	}
	if _, _, e := put("bought"); e.Material != "compost" {
		t.Errorf("bought compost stands as %q", e.Material)
	}
}
