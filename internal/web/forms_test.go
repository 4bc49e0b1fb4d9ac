package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// errorOf is the error shown beside a field.
func errorOf(doc *html.Node, field string) string {
	for _, p := range all(doc, atom.P) {
		if attr(p, "id") == "error-"+field {
			return words(p)
		}
	}
	return ""
}

func valueOf(doc *html.Node, field string) string {
	for _, in := range all(doc, atom.Input) {
		if attr(in, "name") == field {
			return attr(in, "value")
		}
	}
	return ""
}

func TestABedTypedInFeetIsKeptInMetres(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	w := post(t, h, "/bed/new", url.Values{
		"name": {"New ground"}, "length": {"30 ft"}, "width": {"4'"}, "x": {"80 m"}, "y": {"1.5"}, "bearing": {"90"}, "sun_hours": {"7,5"}, "rows_across": {"yes"},
	})
	if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/garden") {
		t.Fatalf("status %d to %q: %s", w.Code, w.Header().Get("Location"), words(parse(t, w)))
	}
	b := store.g.Beds[len(store.g.Beds)-1]
	// 1 ft is 0.3048 m by definition (international yard and pound agreement, 1959).
	if d := float64(b.Length) - 9.144; d > 1e-9 || d < -1e-9 {
		t.Errorf("30 ft became %v m, want 9.144", b.Length)
	}
	if d := float64(b.Width) - 1.2192; d > 1e-9 || d < -1e-9 {
		t.Errorf("4 ft became %v m, want 1.2192", b.Width)
	}
	if b.Name != "New ground" || b.Sun != 7.5 || !b.RowsAcross || b.Perennial {
		t.Errorf("the bed is %+v", b)
	}
}

func TestWhatIsWrongWithABedStandsBesideItsField(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	before := len(store.g.Beds)
	w := post(t, h, "/bed/new", url.Values{"name": {"East bed"}, "length": {"nine"}, "width": {"0"}, "sun_hours": {"30"}, "bearing": {"x"}})
	if w.Code != http.StatusUnprocessableEntity {
		t.Fatalf("status %d", w.Code)
	}
	doc := parse(t, w)
	for _, field := range []string{"name", "length", "width", "sun_hours", "bearing"} {
		if errorOf(doc, field) == "" {
			t.Errorf("nothing is said of %s", field)
		}
	}
	if got := valueOf(doc, "length"); got != "nine" {
		t.Errorf("the typed length came back as %q", got)
	}
	checkPage(t, "/bed/new", doc)
	if len(store.g.Beds) != before {
		t.Error("a bed with errors was kept")
	}
	w = post(t, h, "/bed/new", url.Values{"name": {"On top"}, "length": {"2"}, "width": {"1"}, "x": {"11.8"}, "y": {"4.4"}, "sun_hours": {"8"}})
	if text := words(parse(t, w)); w.Code != http.StatusUnprocessableEntity || !strings.Contains(text, "East bed") {
		t.Errorf("a bed over another is answered with %d: %s", w.Code, text)
	}
}

func TestABedIsChangedAndRemoved(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	doc := parse(t, get(t, h, "/bed/2/edit"))
	if got := valueOf(doc, "length"); got != "4 m" {
		t.Errorf("the length stands as %q, want 4 m", got)
	}
	v := url.Values{}
	for _, in := range all(doc, atom.Input) {
		if attr(in, "type") != "checkbox" {
			v.Set(attr(in, "name"), attr(in, "value"))
		}
	}
	old := store.g.Beds[1]
	v.Set("name", "Sunny bed")
	if w := post(t, h, "/bed/2/edit", v); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	old.Name = "Sunny bed"
	if !reflect.DeepEqual(store.g.Beds[1], old) {
		t.Errorf("sending the form back unchanged but for the name gave %+v, want %+v", store.g.Beds[1], old)
	}
	if w := post(t, h, "/bed/2/remove", nil); w.Code != http.StatusSeeOther || len(store.g.Beds) != 8 {
		t.Errorf("removing: status %d, %d beds", w.Code, len(store.g.Beds))
	}
	if w := get(t, h, "/bed/2/edit"); w.Code != http.StatusNotFound {
		t.Errorf("a removed bed: status %d", w.Code)
	}
}

func TestAWantForAnUnknownCropNamesNearOnes(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	send := url.Values{"crop": {"carot"}, "amount": {"5"}, "unit": {"kg"}, "basis": {"total"}, "weight": {"3"}}
	w := post(t, h, "/want/new", send)
	if says := errorOf(parse(t, w), "crop"); w.Code != http.StatusUnprocessableEntity || !strings.Contains(says, "carrot") {
		t.Errorf("status %d, beside the crop: %q", w.Code, says)
	}
	send.Set("crop", "carrot")
	send.Set("unit", "wheelbarrow")
	if says := errorOf(parse(t, post(t, h, "/want/new", send)), "unit"); says == "" {
		t.Error("nothing is said of an unknown unit")
	}
	send.Set("unit", "lb")
	send.Set("amount", "0")
	if says := errorOf(parse(t, post(t, h, "/want/new", send)), "amount"); says == "" {
		t.Error("nothing is said of a want of nothing")
	}
	send.Set("amount", "12.5")
	send.Set("basis", "weekly")
	send.Set("from", "2027-07-01")
	n := len(store.g.Wants)
	if w := post(t, h, "/want/new", send); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	got := store.g.Wants[n]
	if got.Crop != "carrot" || got.Amount != 12.5 || got.Unit != "lb" || got.Basis != garden.Weekly || got.From == nil || *got.From != civil.Of(2027, 7, 1) || got.To != nil {
		t.Errorf("the want kept is %+v", got)
	}
	if w := post(t, h, "/want/1/remove", nil); w.Code != http.StatusSeeOther || len(store.g.Wants) != n {
		t.Errorf("removing a want: %d", w.Code)
	}
}

func TestTheSiteTakesBothSystemsAndASouthernPlace(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	send := url.Values{"name": {"Far side"}, "latitude": {"−37.8"}, "longitude": {"144.9"}, "elevation": {"100 ft"}, "units": {"us"}, "household": {"3"}, "width": {"40 ft"}, "depth": {"9 m"}}
	if w := post(t, h, "/site", send); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	s := store.g.Site
	if s.Latitude != -37.8 || s.Units != quantity.US || s.Household != 3 || s.Invented || s.Depth != 9 {
		t.Errorf("the site kept is %+v", s)
	}
	send.Set("latitude", "95")
	if says := errorOf(parse(t, post(t, h, "/site", send)), "latitude"); says == "" {
		t.Error("a latitude beyond the pole is taken")
	}
}

func TestHistoryAndJournalAreAddedTo(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.History)
	if w := post(t, h, "/history", url.Values{"bed": {"2"}, "year": {"2025"}, "crop": {"carrot"}}); w.Code != http.StatusSeeOther || len(store.g.History) != n+1 {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	if w := post(t, h, "/history", url.Values{"bed": {"99"}, "year": {"2025"}, "family": {"Brassicacae"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("an unknown bed and a misspelt family: status %d", w.Code)
	} else if doc := parse(t, w); errorOf(doc, "bed") == "" || !strings.Contains(errorOf(doc, "family"), "Brassicaceae") {
		t.Errorf("bed: %q; family: %q", errorOf(doc, "bed"), errorOf(doc, "family"))
	}
	w := post(t, h, "/journal", url.Values{"date": {"2027-06-14"}, "kind": {"harvested"}, "bed": {"3"}, "amount": {"3 lb"}, "text": {"the first <b>radishes</b>"}})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	e := store.entries[len(store.entries)-1]
	// 1 lb is 0.45359237 kg by definition.
	if d := float64(e.Amount) - 3*0.45359237; d > 1e-9 || d < -1e-9 || e.BedID != 3 || e.Kind != garden.Harvested {
		t.Errorf("the entry kept is %+v", e)
	}
	page := get(t, h, "/journal")
	if strings.Contains(page.Body.String(), "<b>radishes") || !strings.Contains(words(parse(t, page)), "the first <b>radishes</b>") {
		t.Error("the person's words are not shown as they were typed")
	}
	w = post(t, h, "/journal", url.Values{"date": {"yesterday"}, "kind": {"danced"}, "planting": {"1999-01"}, "amount": {"-1 kg"}})
	doc := parse(t, w)
	for _, field := range []string{"date", "kind", "planting"} {
		if errorOf(doc, field) == "" {
			t.Errorf("nothing is said of %s", field)
		}
	}
}

func TestAJobDoneIsWrittenInTheJournal(t *testing.T) {
	now := mustStory(t)
	h, store := storySite(t, now, storyToday)
	n := len(store.entries)
	for _, j := range now.Jobs {
		if j.Kind != "sow" {
			continue
		}
		w := post(t, h, "/jobs/done", url.Values{"key": {j.Key}, "week": {j.Window.From.String()}})
		if w.Code != http.StatusSeeOther || len(store.entries) != n+1 {
			t.Fatalf("status %d, %d entries", w.Code, len(store.entries)-n)
		}
		if e := store.entries[n]; e.Kind != garden.Sowed || e.Planting != j.Planting || e.BedID != j.BedID || e.Date != civil.Of(2027, 6, 15) {
			t.Errorf("the entry is %+v", e)
		}
		page := words(parse(t, get(t, h, "/jobs?week="+j.Window.From.String())))
		if !strings.Contains(page, "Done 15 Jun") {
			t.Error("the job does not show as done")
		}
		break
	}
	if w := post(t, h, "/jobs/done", url.Values{"key": {"nothing"}}); w.Code != http.StatusNotFound {
		t.Errorf("an unknown job: status %d", w.Code)
	}
}

func TestOnlyKnownNamesOfThisHostAreServed(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	for host, want := range map[string]int{
		"localhost": 200, "localhost:8080": 200, "127.0.0.1:9": 200, "127.1.2.3": 200, "[::1]:80": 200, "LOCALHOST": 200,
		"garden.test": 200, "garden.test:8080": 200,
		"evil.example": 421, "localhost.evil.example": 421, "192.168.1.4:8080": 421, "": 421, "127.0.0.1.evil.example": 421,
	} {
		r := httptest.NewRequest("GET", "/site", nil)
		r.Host = host
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != want {
			t.Errorf("host %q: status %d, want %d", host, w.Code, want)
		}
	}
}

func TestFormsFromOtherSitesAreRefused(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	for _, header := range []http.Header{
		{"Sec-Fetch-Site": {"cross-site"}}, {"Sec-Fetch-Site": {"same-site"}}, {"Origin": {"http://evil.example"}},
	} {
		r := httptest.NewRequest("POST", "/bed/2/remove", strings.NewReader(""))
		r.Host = "localhost:8080"
		r.Header = header
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		if w.Code != http.StatusForbidden || len(store.g.Beds) != 9 {
			t.Errorf("%v: status %d, %d beds left", header, w.Code, len(store.g.Beds))
		}
	}
}

func TestHeadersAndFiles(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	w := get(t, h, "/site")
	csp := w.Header().Get("Content-Security-Policy")
	for _, want := range []string{"default-src 'none'", "frame-ancestors 'none'", "form-action 'self'", "base-uri 'none'"} {
		if !strings.Contains(csp, want) {
			t.Errorf("the content policy lacks %s: %s", want, csp)
		}
	}
	if strings.Contains(csp, "unsafe") {
		t.Errorf("the content policy is %s", csp)
	}
	if w.Header().Get("X-Content-Type-Options") != "nosniff" {
		t.Error("no nosniff")
	}
	for _, l := range all(parse(t, w), atom.Link) {
		f := get(t, h, attr(l, "href"))
		if f.Code != 200 || !strings.Contains(f.Header().Get("Cache-Control"), "immutable") || f.Header().Get("Content-Type") == "" {
			t.Errorf("%s: status %d, %v", attr(l, "href"), f.Code, f.Header())
		}
	}
	if f := get(t, h, "/static/000000000000/kailyard.css"); f.Code != 404 {
		t.Errorf("a stale address: status %d", f.Code)
	}
	if f := get(t, h, "/static/../web.go"); f.Code == 200 {
		t.Error("a file outside is served")
	}
	if r := post(t, h, "/journal", url.Values{"text": {strings.Repeat("x", largestForm+1)}}); r.Code == http.StatusSeeOther {
		t.Error("a form of any length is taken")
	}
}

func TestTroubleIsASentenceWithARemedy(t *testing.T) {
	now := mustStory(t)
	h, store := storySite(t, now, storyToday)
	for path, want := range map[string]int{
		"/bed/77": 404, "/bed/x": 404, "/planting/2027-999": 404, "/crop/unobtainium": 404, "/want/77": 404, "/no/such/page": 404,
		"/plot?day=someday": 400, "/jobs?week=2027-02-30": 400,
	} {
		w := get(t, h, path)
		doc := parse(t, w)
		if w.Code != want || len(all(doc, atom.P)) < 3 {
			t.Errorf("%s: status %d, want %d: %s", path, w.Code, want, words(doc))
		}
		checkPage(t, path, doc)
	}
	store.broken = errors.New("the disk is full")
	w := get(t, h, "/garden")
	if text := words(parse(t, w)); w.Code != 500 || !strings.Contains(text, "the disk is full") {
		t.Errorf("status %d: %s", w.Code, text)
	}
	for kind, want := range map[book.Kind]int{book.Full: 507, book.InUse: 503, book.Unknown: 404, book.Refused: 409, book.Protected: 403, book.Damaged: 500} {
		store.broken = fmt.Errorf("saving: %w", &book.Error{Kind: kind, Says: "the book is in trouble", Remedy: "do this and that"})
		w := get(t, h, "/garden")
		if text := words(parse(t, w)); w.Code != want || !strings.Contains(text, "The book is in trouble. Do this and that.") {
			t.Errorf("%s: status %d, want %d: %s", kind, w.Code, want, text)
		}
	}
}

// A person who has told nothing yet is led on; pages that need a season say what is missing.
func TestAnEmptyGardenLeadsOn(t *testing.T) {
	store := &shelf{}
	h := New(Config{
		Store: store, Crops: crop.Default(), Today: func() civil.Date { return civil.Of(2027, 3, 1) },
		Season: func(context.Context) (*season.Result, error) {
			return nil, errors.New("the book holds no weather record")
		},
	})
	w := get(t, h, "/")
	doc := parse(t, w)
	if text := words(doc); w.Code != 200 || !strings.Contains(text, "First steps") || !strings.Contains(text, "no weather record") {
		t.Errorf("status %d: %s", w.Code, text)
	}
	links := map[string]bool{}
	for _, a := range all(doc, atom.A) {
		links[attr(a, "href")] = true
	}
	for _, to := range []string{"/site", "/bed/new", "/want/new"} {
		if !links[to] {
			t.Errorf("no link to %s", to)
		}
	}
	for path, want := range map[string]int{
		"/plot": 409, "/beds": 409, "/jobs": 409, "/orders": 409, "/weather": 409, "/planting/1": 409, "/bed/1": 409,
		"/crops": 200, "/crop/carrot": 200, "/garden": 200, "/site": 200, "/bed/new": 200, "/want/new": 200, "/history": 200, "/journal": 200,
	} {
		w := get(t, h, path)
		doc := parse(t, w)
		if w.Code != want {
			t.Errorf("%s: status %d, want %d: %s", path, w.Code, want, words(doc))
		}
		checkPage(t, path, doc)
	}
	if w := post(t, h, "/replan", nil); w.Code != http.StatusConflict {
		t.Errorf("planning without a planner: status %d", w.Code)
	}
}
