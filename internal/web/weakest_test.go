package web

import (
	"fmt"
	"strings"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/crop"
)

// The page counts what the catalogue holds and lists every crop.
func TestWeakestPage(t *testing.T) {
	now := mustStory(t)
	h, _ := storySite(t, now, storyToday)
	doc := parse(t, get(t, h, "/crops/weakest"))
	whole := now.Crops.Tally()
	text := words(doc)
	for _, says := range []string{
		fmt.Sprintf("Of %d figures, %d are published and %d are from memory", whole.All, whole.Count[crop.Published], whole.Count[crop.FromMemory]),
		"written down from memory",
	} {
		if !strings.Contains(text, says) {
			t.Errorf("the page does not say %q", says)
		}
	}
	listed := map[string]bool{}
	for _, a := range all(doc, atom.A) {
		if id, ok := strings.CutPrefix(attr(a, "href"), "#w-"); ok {
			listed[id] = true
		}
	}
	for _, c := range now.Crops.All() {
		if !listed[c.ID] {
			t.Errorf("%s is not listed", c.ID)
		}
	}
}
