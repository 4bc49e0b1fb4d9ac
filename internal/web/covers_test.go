package web

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/growth"
)

// Covers are ticked on the site's form, and only those ticked are kept.
func TestCoversAreTicked(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	send := url.Values{
		"name": {"Ground"}, "latitude": {"43.5"}, "longitude": {"-72.3"}, "elevation": {"240 m"}, "units": {"metric"}, "household": {"4"}, "width": {""}, "depth": {""},
		"cover-cloche": {"yes"}, "cover-high-tunnel": {"yes"},
	}
	if w := post(t, h, "/site", send); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	covers := slices.Sorted(slices.Values(store.g.Site.Covers))
	if want := []string{"cloche", "high-tunnel"}; !slices.Equal(covers, want) {
		t.Errorf("covers %v, want %v", covers, want)
	}
}

// A crop's page sets its windows under every cover it has room under against those in the open, and says which covers
// the garden has.
func TestCropPageShowsCovers(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	page := words(parse(t, get(t, h, "/crop/carrot")))
	for _, says := range []string{"Under a cover", "Cloche", "Row cover in this garden", "Cold frame in this garden", "opens ", "earlier", "2.8 °C by night"} {
		if !strings.Contains(page, says) {
			t.Errorf("no %q on the page", says)
		}
	}
}

func TestAgainst(t *testing.T) {
	day := func(m, d int) civil.Date { return civil.Of(2027, m, d) }
	span := func(from, to civil.Date) growth.Window { return growth.Window{Span: civil.Span{From: from, To: to}} }
	open := []growth.Window{span(day(4, 20), day(5, 30))}
	for _, row := range []struct {
		w    growth.Window
		says string
	}{
		{span(day(4, 6), day(6, 1)), "opens 14 days earlier, closes 2 days later"},
		{span(day(4, 19), day(5, 30)), "opens 1 day earlier, closes the same day"},
		{span(day(4, 21), day(5, 20)), "opens 1 day later, closes 10 days earlier"},
		{span(day(9, 1), day(9, 9)), "no window in the open at that time"},
	} {
		if says := against(row.w, open); says != row.says {
			t.Errorf("%v: %q, want %q", row.w.Span, says, row.says)
		}
	}
}
