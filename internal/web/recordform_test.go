package web

import (
	"net/http"
	"net/url"
	"strings"
	"testing"
)

// TestGiveWeather: a built-in place or a file becomes the garden's record; what is neither, or too
// short, is told on the page and changes nothing.
func TestGiveWeather(t *testing.T) {
	h, shelf := storySite(t, mustStory(t), storyToday)
	if w := post(t, h, recordAddress, url.Values{"place": {"ithaca"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("a place: status %d: %s", w.Code, w.Body)
	}
	if shelf.record == nil || len(shelf.record.Days) < 30*365 || shelf.record.Origin != "generated" {
		t.Fatalf("the place's thirty years were not kept: %+v", shelf.record)
	}
	if notes := shelf.record.Notes; notes[len(notes)-1].Kind != "fitted" {
		t.Errorf("the place was not set against the garden: %+v", notes)
	}
	var text strings.Builder
	text.WriteString("date,tmin_c,tmax_c,rain_mm\n")
	for _, d := range shelf.record.Days[:4*365] {
		text.WriteString(d.Date.String() + ",3.0,12.5,0.0\n")
	}
	given := shelf.record
	if w := sendFile(t, h, recordAddress, "", "short.csv", "date,tmin_c,tmax_c,rain_mm\n2020-01-01,1,9,0\n2020-01-02,2,8,0\n"); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "longer") {
		t.Errorf("two days: status %d", w.Code)
	}
	for _, bad := range []string{"", "\x00\x01\x02", "Dear neighbour, it rained."} {
		w := sendFile(t, h, recordAddress, "", "letter.txt", bad)
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "letter.txt") {
			t.Errorf("%q: status %d: %s", bad, w.Code, w.Body)
		}
	}
	if w := post(t, h, recordAddress, url.Values{}); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "nothing was chosen") && !strings.Contains(w.Body.String(), "Nothing was chosen") {
		t.Errorf("nothing chosen: status %d", w.Code)
	}
	if shelf.record != given {
		t.Error("a refused record took the place of a good one")
	}
	large := strings.Repeat("# a long remark\n", 5000) + "date,tmin_c,tmax_c,rain_mm\n"
	for _, d := range given.Days {
		large += d.Date.String() + ",3.0,12.5,0.0\n"
	}
	if w := sendFile(t, h, recordAddress, "", "own.csv", large); w.Code == http.StatusRequestEntityTooLarge || w.Code == http.StatusBadRequest {
		t.Errorf("a record of thirty years is too large: status %d", w.Code)
	}
}
