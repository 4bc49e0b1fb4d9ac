package web

import (
	"net/http"
	"strings"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/civil"
)

// The page says what the season says, names the feast's day, and draws and lists the same curve.
func TestReadyPageWorksBack(t *testing.T) {
	now := mustStory(t)
	h, _ := storySite(t, now, storyToday)
	doc := parse(t, get(t, h, "/ready?crop=carrot&by=thanksgiving&share=80"))
	text := words(doc)
	if !strings.Contains(text, "Thu 25 Nov 2027") { // the fourth Thursday of November 2027
		t.Errorf("the day of the feast is not named: %s", text)
	}
	c, _ := now.Crops.Find("carrot")
	today, _ := civil.Parse(storyToday)
	list, err := now.Ready(c, civil.Of(2027, 11, 25), .8, today)
	if err != nil {
		t.Fatal(err)
	}
	for _, says := range list[0].Says() {
		if !strings.Contains(text, strings.Join(strings.Fields(says), " ")) {
			t.Errorf("the page does not say %q", says)
		}
	}
	if len(all(doc, atom.Svg)) < 1 || len(all(doc, atom.Tr)) < 5 {
		t.Error("no picture, or no table of the same numbers")
	}
}

func TestReadyPageRefusesInWords(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	for path, says := range map[string]string{
		"/ready?crop=carrot&by=harvest+supper":     "neither a date nor a feast",
		"/ready?crop=carot&by=easter":              "did you mean carrot",
		"/ready?crop=carrot&by=easter&share=12":    "Choose one of the list",
		"/ready?crop=carrot&by=9999-12-31":         "outside the years",
		"/ready?crop=%3Cscript%3E&by=easter":       "the catalogue has no crop",
		"/ready?crop=carrot&by=2027-02-30&share=x": "neither a date nor a feast",
	} {
		w := get(t, h, path)
		if w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s: status %d", path, w.Code)
		}
		if text := words(parse(t, w)); !strings.Contains(strings.ToLower(text), strings.ToLower(says)) {
			t.Errorf("%s does not say %q", path, says)
		}
	}
}

// The whole catalogue for a day: every crop that is eaten stands in one list, once.
func TestReadyPageListsEveryCropOnce(t *testing.T) {
	now := mustStory(t)
	h, _ := storySite(t, now, storyToday)
	seen := map[string]int{}
	for _, a := range all(parse(t, get(t, h, "/ready?by=christmas")), atom.A) {
		if href := attr(a, "href"); strings.HasPrefix(href, "/ready?crop=") {
			seen[href]++
		}
	}
	eaten := 0
	for _, c := range now.Crops.All() {
		if c.Group != "cover" {
			eaten++
		}
	}
	if len(seen) != eaten {
		t.Errorf("%d crops are listed, %d are eaten", len(seen), eaten)
	}
	for href, n := range seen {
		if n != 1 {
			t.Errorf("%s stands there %d times", href, n)
		}
	}
}
