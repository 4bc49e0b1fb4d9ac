package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/fetch"
	"kailyard/internal/fetch/standin"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

var fetchDay = civil.Of(2027, 4, 20)

// fitTo merges over the record in use, and wants three whole years. It marks generated years it has seen.
func fitTo(inUse func(context.Context) (*weather.Record, error)) func(context.Context, *weather.Record, bool) (Fitted, error) {
	return func(ctx context.Context, r *weather.Record, over bool) (v Fitted, err error) {
		v.Record = r
		if r.Origin == weather.Generated {
			seen := *r
			seen.Notes = append(slices.Clone(r.Notes), weather.Note{Kind: "fitted", From: r.Days[0].Date, To: r.Days[0].Date, Says: "Set against the garden."})
			v.Record = &seen
		}
		if v.InUse, _ = inUse(ctx); over && v.InUse != nil {
			if v.Record, err = weather.Merge(v.InUse, r); err != nil {
				return v, err
			}
		}
		for y := v.Record.Days[0].Date.Year() + 1; y < v.Record.Days[len(v.Record.Days)-1].Date.Year(); y++ {
			v.Years = append(v.Years, y)
		}
		if len(v.Years) < 3 {
			v.Wrong = fmt.Errorf("it has %d whole years, fewer than three", len(v.Years))
		}
		return v, nil
	}
}

// walk is a site on a book of its own, whose services are a stand-in.
type walk struct {
	t       *testing.T
	h       http.Handler
	book    *book.Book
	path    string
	runner  *fetch.Runner
	service *standin.Server
	end     context.CancelFunc
}

func newWalk(t *testing.T) *walk {
	t.Helper()
	w := &walk{t: t, service: standin.Serve(t, standin.Any), path: filepath.Join(t.TempDir(), "garden.kailyard")}
	b, err := book.Create(t.Context(), w.path)
	if err != nil {
		t.Fatal(err)
	}
	site := garden.Site{Name: "Strip (invented)", Latitude: 42.4461, Longitude: -76.4512, Household: 2, Invented: true}
	if err := b.SaveSite(t.Context(), site); err != nil {
		t.Fatal(err)
	}
	w.serve(b)
	t.Cleanup(w.stop)
	return w
}

// serve begins the program anew on the book.
func (w *walk) serve(b *book.Book) {
	w.book = b
	life, end := context.WithCancel(context.Background())
	w.end = end
	how := fetch.Fetcher{Base: map[string]string{}, HTTP: &http.Client{Timeout: 5 * time.Second}, Sleep: func(ctx context.Context, _ time.Duration) error { return ctx.Err() }}
	for _, s := range fetch.Services() {
		how.Base[s.ID] = w.service.URL
	}
	w.runner = fetch.NewRunner(life, how, b, func() civil.Date { return fetchDay })
	w.h = New(Config{
		Store: b, Crops: crop.Default(), Today: func() civil.Date { return fetchDay },
		Season: func(context.Context) (*season.Result, error) {
			return nil, errors.New("the book has no weather record yet")
		},
		TakeRecord: b.SaveRecord, Generate: func(c weather.Climate) *weather.Record { return weather.Generate(c, 1991, 30, 7) },
		Fetching: w.runner, Fit: fitTo(b.Record), Kept: b,
	})
}

// stop ends the program.
func (w *walk) stop() {
	w.end()
	w.runner.Stop()
	_ = w.book.Close()
}

func (w *walk) again() {
	w.t.Helper()
	w.stop()
	b, err := book.Open(context.Background(), w.path, book.Options{})
	if err != nil {
		w.t.Fatal(err)
	}
	w.serve(b)
}

// see is a page that must be sound.
func (w *walk) see(path string) (*html.Node, string) {
	w.t.Helper()
	answer := get(w.t, w.h, path)
	doc := parse(w.t, answer)
	if answer.Code != http.StatusOK {
		w.t.Fatalf("%s: status %d to %s: %s", path, answer.Code, answer.Header().Get("Location"), words(doc))
	}
	checkPage(w.t, path, doc)
	return doc, words(doc)
}

// press sends a form of a page, told by its button, with its fields as they stand but for those given.
func (w *walk) press(doc *html.Node, button string, given url.Values) *httptest.ResponseRecorder {
	w.t.Helper()
	for _, f := range all(doc, atom.Form) {
		if !slices.ContainsFunc(all(f, atom.Button), func(b *html.Node) bool { return words(b) == button }) {
			continue
		}
		v := url.Values{}
		for _, in := range all(f, atom.Input) {
			if kind := attr(in, "type"); kind == "radio" && !slices.ContainsFunc(in.Attr, func(a html.Attribute) bool { return a.Key == "checked" }) {
				continue
			}
			v.Set(attr(in, "name"), attr(in, "value"))
		}
		for name, list := range given {
			v[name] = list
		}
		if attr(f, "method") == "get" {
			return get(w.t, w.h, attr(f, "action")+"?"+v.Encode())
		}
		return post(w.t, w.h, attr(f, "action"), v)
	}
	w.t.Fatalf("no button %q in: %s", button, words(doc))
	return nil
}

// leads is where an answer leads.
func (w *walk) leads(answer *httptest.ResponseRecorder, to string) {
	w.t.Helper()
	if got := answer.Header().Get("Location"); answer.Code != http.StatusSeeOther || got != to {
		w.t.Fatalf("status %d to %q, want %q: %s", answer.Code, got, to, words(parse(w.t, answer)))
	}
}

// over waits until nothing is under way, looking as a browser does.
func (w *walk) over() (*html.Node, string) {
	w.t.Helper()
	for end := time.Now().Add(10 * time.Second); time.Now().Before(end); time.Sleep(3 * time.Millisecond) {
		doc, text := w.see(fetchAddress)
		if !underWay(doc) {
			return doc, text
		}
	}
	w.t.Fatal("the fetch does not end")
	return nil, ""
}

// underWay says whether a page follows something: it is loaded again by a script and, where there is none, by itself.
func underWay(doc *html.Node) bool {
	script := slices.ContainsFunc(all(doc, atom.Div), func(d *html.Node) bool { return attr(d, "data-live") != "" })
	none := slices.ContainsFunc(all(doc, atom.Noscript), func(n *html.Node) bool { return strings.Contains(words(n), `http-equiv="refresh"`) })
	return script && none
}

func TestTheNetworkPageShowsTheTerms(t *testing.T) {
	w := newWalk(t)
	doc, text := w.see(networkAddress)
	links := map[string]bool{}
	for _, a := range all(doc, atom.A) {
		links[attr(a, "href")] = true
	}
	for _, s := range fetch.Services() {
		if !strings.Contains(text, s.Terms) || !strings.Contains(text, s.Covers) || !strings.Contains(text, s.Credit) || !links[s.TermsAt] {
			t.Errorf("the page does not say what %s has and on what terms", s.Name)
		}
	}
	if valueOf(doc, "latitude") != "42.4461" || valueOf(doc, "longitude") != "-76.4512" || valueOf(doc, "years") != "31" {
		t.Error("the site's coordinates do not stand in the form")
	}
	if w.service.Years() != "" {
		t.Error("looking at the page asks a service")
	}
}

// The whole walk for each service: ask, follow, look, use; the record is the one the service gave.
func TestWeatherIsFetchedAndUsed(t *testing.T) {
	for _, s := range fetch.Services() {
		t.Run(s.ID, func(t *testing.T) {
			w := newWalk(t)
			if text := words(parse(t, get(t, w.h, recordAddress))); !strings.Contains(text, "Weather over the network") {
				t.Error("the way there is not told")
			}
			w.leads(get(t, w.h, fetchAddress), networkAddress)
			doc, _ := w.see(networkAddress)
			send := url.Values{"service": {s.ID}, "years": {"4"}}
			if s.ByStation {
				send["station"] = []string{"USC00304174"}
			}
			w.leads(w.press(doc, "Ask for it", send), fetchAddress)
			doc, text := w.over()
			if !strings.Contains(text, s.Name+": all there") || !strings.Contains(text, "2023-01-01 to 2027-04-") || !strings.Contains(text, s.Credit) {
				t.Errorf("the summary: %s", text)
			}
			if _, err := w.book.Record(t.Context()); !book.IsKind(err, book.Unknown) {
				t.Errorf("a record is used before it was looked at: %v", err)
			}
			w.leads(w.press(doc, "Use this", nil), "/garden?done=weather")
			r, err := w.book.Record(t.Context())
			if err != nil {
				t.Fatal(err)
			}
			for _, d := range r.Days {
				if d.HasTemp && (float64(d.Min) != standin.Low(d.Date) || float64(d.Max) != standin.High(d.Date)) {
					t.Fatalf("%s is %+v", d.Date, d)
				}
			}
			w.leads(get(t, w.h, fetchAddress), networkAddress) // settled
			if answer := post(t, w.h, fetchAddress+"/use", nil); answer.Code != http.StatusConflict {
				t.Errorf("used twice: status %d", answer.Code)
			}
			_, text = w.see(keptAddress)
			for _, says := range []string{"in use", s.Name, "2023–2027", "2027-04-20"} {
				if !strings.Contains(text, says) {
					t.Errorf("what is kept does not say %q: %s", says, text)
				}
			}
		})
	}
}

// A second record laid over the first fills its holes from it, as the person sees before using it.
func TestFetchedWeatherIsLaidOver(t *testing.T) {
	w := newWalk(t)
	bring := func(service string) *html.Node {
		doc, _ := w.see(networkAddress)
		w.leads(w.press(doc, "Ask for it", url.Values{"service": {service}, "station": {"USC00304174"}, "years": {"4"}}), fetchAddress)
		doc, _ = w.over()
		return doc
	}
	w.leads(w.press(bring("power"), "Use this", nil), "/garden?done=weather")
	alone := bring("ncei") // without each month's 13th
	if text := words(alone); !strings.Contains(text, "52 days, the longest hole 1 day") || !strings.Contains(text, "NASA POWER, 2023-01-01 to 2027-04-16 (measured)") {
		t.Errorf("alone: %s", text)
	}
	laid, text := w.see(fetchAddress + "?over=yes")
	if strings.Contains(text, "52 days, the longest hole") || !strings.Contains(text, "Merged, later records winning") || !strings.Contains(text, "See it alone") {
		t.Errorf("laid over: %s", text)
	}
	w.leads(w.press(laid, "Use this", nil), "/garden?done=weather")
	r, err := w.book.Record(t.Context())
	if err != nil || r.Source != "NASA POWER + NCEI daily summaries" {
		t.Fatalf("the record is from %q, %v", r.Source, err)
	}
	for _, d := range r.Days {
		if !d.HasTemp {
			t.Errorf("%s has no temperature", d.Date)
		}
	}
}

func TestWhatIsWrongWithTheQuestion(t *testing.T) {
	w := newWalk(t)
	for _, c := range []struct {
		send  url.Values
		field string // beside which it is told; empty: of the whole
		says  string
	}{
		{url.Values{"service": {"almanac"}, "years": {"3"}}, "", "Choose one of the services"},
		{url.Values{"years": {"3"}}, "", "Choose one of the services"},
		{url.Values{"service": {"ncei"}, "years": {"3"}}, "station", "asked by a station"},
		{url.Values{"service": {"ncei"}, "years": {"3"}, "station": {"Ithaca"}}, "", "not a station's ID"},
		{url.Values{"service": {"power"}, "years": {"3"}}, "latitude", "give both"},
		{url.Values{"service": {"power"}, "years": {"3"}, "latitude": {"95"}, "longitude": {"3"}}, "latitude", "from −90 to 90"},
		{url.Values{"service": {"power"}, "years": {"3"}, "latitude": {"5"}, "longitude": {"east"}}, "longitude", "is not a number"},
		{url.Values{"service": {"power"}, "years": {"0"}, "latitude": {"5"}, "longitude": {"3"}}, "years", "1 to 120"},
		{url.Values{"service": {"power"}, "years": {"many"}, "latitude": {"5"}, "longitude": {"3"}}, "years", "is not a number"},
		{url.Values{"service": {"power"}, "latitude": {"5"}, "longitude": {"3"}}, "years", "needed"},
		{url.Values{"service": {"power"}, "years": {"3"}, "until": {"99"}, "latitude": {"5"}, "longitude": {"3"}}, "until", "four digits"},
		{url.Values{"service": {"power"}, "years": {"3"}, "until": {"1975"}, "latitude": {"5"}, "longitude": {"3"}}, "", "nothing before 1981"},
	} {
		answer := post(t, w.h, networkAddress, c.send)
		doc := parse(t, answer)
		checkPage(t, networkAddress, doc)
		told := words(doc)
		if c.field != "" {
			told = errorOf(doc, c.field)
		}
		if answer.Code != http.StatusUnprocessableEntity || !strings.Contains(told, c.says) {
			t.Errorf("%v: status %d, told %q", c.send, answer.Code, told)
		}
	}
	if e, err := w.book.Errand(t.Context()); e != nil || err != nil || w.service.Years() != "" {
		t.Errorf("something was begun: %+v, %v", e, err)
	}
}

// Trouble is told in words for the page, the years before it stay, and going on ends it.
func TestTroubleWithAService(t *testing.T) {
	for _, c := range []struct {
		name  string
		fault standin.Fault
		says  []string
	}{
		{"429", standin.Status(429, "", "Retry-After", "7200"), []string{"asks to come again later", "Go on in 2 hours"}},
		{"500", standin.Status(500, ""), []string{"has trouble of its own (500", "Go on later"}},
		{"refused", standin.Status(422, `{"messages":["The longitude is out of range."]}`), []string{"refused the request", "The longitude is out of range", "Check the coordinates"}},
		{"changed header", standin.Changed("T2M_MIN,", "T2MLOW,"), []string{"cannot be read", "T2M_MIN", "changed its form"}},
		{"sign-in", standin.Status(200, standin.SignIn), []string{"a web page instead of data (“Café network — sign in”)", "open any page in the browser"}},
		{"cut off", standin.Cut(.4), []string{"ended in the middle"}},
		{"short", standin.Short(.7), []string{"has only the days 2026-01-01 to 2026-"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := newWalk(t)
			var answered atomic.Int32
			w.service.Spoil(func(a http.ResponseWriter, r *http.Request, body string) bool {
				return answered.Add(1) > 1 && c.fault(a, r, body)
			})
			doc, _ := w.see(networkAddress)
			w.leads(w.press(doc, "Ask for it", url.Values{"years": {"4"}}), fetchAddress)
			doc, text := w.over()
			for _, says := range append(c.says, "not finished", "1 of 5 years are in the book", "only for what is missing") {
				if !strings.Contains(text, says) {
					t.Errorf("the page does not say %q: %s", says, text)
				}
			}
			for _, shell := range []string{"--", "same command", "kailyard weather"} {
				if strings.Contains(text, shell) {
					t.Errorf("the page speaks of the shell (%s): %s", shell, text)
				}
			}
			look := w.press(doc, "Look at what is there", nil)
			if text := words(parse(t, look)); look.Code != http.StatusOK || !strings.Contains(text, "2027-01-01 to 2027-04-") || !strings.Contains(text, "This cannot be used") || strings.Contains(text, "Use this") {
				t.Errorf("what is there: status %d: %s", look.Code, text)
			}
			if answer := post(t, w.h, fetchAddress+"/use", nil); answer.Code != http.StatusConflict {
				t.Errorf("one year is used: status %d", answer.Code)
			}
			w.service.Spoil(nil)
			w.service.Forget()
			w.leads(w.press(doc, "Go on", nil), fetchAddress)
			if _, text = w.over(); !strings.Contains(text, "all there") || w.service.Years() != "2026 2025 2024 2023" {
				t.Errorf("going on asks for %s: %s", w.service.Years(), text)
			}
		})
	}
}

func TestOffline(t *testing.T) {
	w := newWalk(t)
	w.service.Close()
	doc, _ := w.see(networkAddress)
	w.leads(w.press(doc, "Ask for it", nil), fetchAddress)
	doc, text := w.over()
	if !strings.Contains(text, "NASA POWER cannot be reached") || !strings.Contains(text, "Check the network") || !strings.Contains(text, "0 of 32 years") || strings.Contains(text, "Look at what is there") {
		t.Errorf("offline: %s", text)
	}
	w.leads(w.press(doc, "Give it up", nil), networkAddress+"?done=left")
	if _, text = w.see(networkAddress); strings.Contains(text, "Look at it") {
		t.Errorf("given up and still there: %s", text)
	}
}

// While one fetch is under way the page follows it and a second is refused; it is stopped by a button, or with the
// program, and goes on from the years that are there.
func TestAFetchIsFollowedStoppedAndGoesOn(t *testing.T) {
	w := newWalk(t)
	begun := make(chan bool)
	hang := func(_ http.ResponseWriter, r *http.Request, _ string) bool {
		begun <- true
		<-r.Context().Done()
		return true
	}
	var answered atomic.Int32
	w.service.Spoil(func(a http.ResponseWriter, r *http.Request, body string) bool {
		return answered.Add(1)%3 == 0 && hang(a, r, body)
	})
	doc, _ := w.see(networkAddress)
	w.leads(w.press(doc, "Ask for it", url.Values{"years": {"6"}}), fetchAddress)
	<-begun
	doc, text := w.see(fetchAddress)
	if !strings.Contains(text, "Asking NASA POWER") || !strings.Contains(text, "2 of 7 years are in the book") || !strings.Contains(text, "2026 365 days") {
		t.Errorf("under way: %s", text)
	}
	if !underWay(doc) || len(all(doc, atom.Progress)) != 1 {
		t.Error("the page does not load itself again, or shows no progress")
	}
	start, _ := w.see(networkAddress)
	if second := w.press(start, "Ask for it", nil); second.Code != http.StatusConflict || !strings.Contains(words(parse(t, second)), "one fetch is made at a time") {
		t.Errorf("a second fetch: status %d", second.Code)
	}
	if _, err := book.Reserve(w.path, "power", "NASA POWER"); err == nil {
		t.Error("another program would fetch from the same service at the same time")
	}
	if answer := post(t, w.h, fetchAddress+"/use", nil); answer.Code != http.StatusConflict {
		t.Errorf("used while it comes: status %d", answer.Code)
	}
	ask, _ := w.see(keptAddress + "/fetched/power/42.45,-76.45/drop")
	if answer := w.press(ask, "Drop it", nil); answer.Code != http.StatusConflict {
		t.Errorf("dropped while it comes: status %d", answer.Code)
	}
	for _, path := range []string{"/garden", "/crops", "/journal"} { // the rest of the site goes on
		if answer := get(t, w.h, path); answer.Code != http.StatusOK {
			t.Errorf("%s: status %d", path, answer.Code)
		}
	}
	if answer := post(t, w.h, "/bed/new", url.Values{"name": {"A"}, "length": {"3"}, "width": {"1"}, "sun_hours": {"8"}}); answer.Code != http.StatusSeeOther {
		t.Errorf("a bed cannot be added during a fetch: status %d", answer.Code)
	}
	w.leads(w.press(doc, "Stop", nil), fetchAddress)
	doc, text = w.see(fetchAddress)
	if !strings.Contains(text, "It was stopped") || !strings.Contains(text, "2 of 7 years") {
		t.Errorf("stopped: %s", text)
	}
	w.leads(w.press(doc, "Go on", nil), fetchAddress)
	<-begun
	w.again() // the program ends in the middle of an answer and begins anew
	doc, text = w.see(fetchAddress)
	if !strings.Contains(text, "It was interrupted") || !strings.Contains(text, "4 of 7 years") {
		t.Errorf("after a new beginning: %s", text)
	}
	if _, text := w.see(networkAddress); !strings.Contains(text, "Not finished: NASA POWER for 42.45° N, 76.45° W, 2021 to 2027") {
		t.Errorf("the page of the services does not tell of it: %s", text)
	}
	pieces, err := w.book.Pieces(t.Context(), "power", "42.45,-76.45")
	if err != nil || len(pieces) != 4 {
		t.Fatalf("%d years, %v", len(pieces), err)
	}
	for _, p := range pieces {
		if len(p.Record.Days) != int(p.Until-civil.Of(p.Year, 1, 1))+1 {
			t.Errorf("%d has %d days", p.Year, len(p.Record.Days))
		}
	}
	w.service.Spoil(nil)
	w.service.Forget()
	w.leads(w.press(doc, "Go on", nil), fetchAddress)
	if _, text = w.over(); !strings.Contains(text, "all there") || w.service.Years() != "2023 2022 2021" {
		t.Errorf("going on asks for %s: %s", w.service.Years(), text)
	}
	w.again()
	if doc, text = w.see(fetchAddress); !strings.Contains(text, "all there") {
		t.Errorf("what was brought waits to be used: %s", text)
	}
	w.leads(w.press(doc, "Use this", nil), "/garden?done=weather")
}

func TestKeptWeatherIsUsedAndDropped(t *testing.T) {
	w := newWalk(t)
	for _, years := range []string{"4", "5"} {
		doc, _ := w.see(networkAddress)
		w.leads(w.press(doc, "Ask for it", url.Values{"service": {"ncei"}, "station": {"USC00304174"}, "years": {years}}), fetchAddress)
		doc, _ = w.over()
		w.leads(w.press(doc, "Use this", nil), "/garden?done=weather")
	}
	doc, text := w.see(keptAddress)
	for _, says := range []string{"2022-01-01 to 2027-04-", "Days without a temperature: 64 days in 2022–2027", "Years 2022–2027. Holes: 64 days without a temperature", "NOAA NCEI, station USC00304174"} {
		if !strings.Contains(text, says) {
			t.Errorf("what is kept does not say %q: %s", says, text)
		}
	}
	if answer := get(t, w.h, keptAddress+"/record/2/drop"); answer.Code != http.StatusConflict {
		t.Errorf("the record in use: status %d", answer.Code)
	}
	if answer := post(t, w.h, keptAddress+"/record/2/drop", nil); answer.Code != http.StatusConflict {
		t.Errorf("the record in use is dropped: status %d", answer.Code)
	}
	w.leads(w.press(doc, "Use record 1", nil), keptAddress+"?done=weather")
	if r, err := w.book.Record(t.Context()); err != nil || r.Days[0].Date != civil.Of(2023, 1, 1) {
		t.Errorf("the first record is not in use: %v", err)
	}
	ask, text := w.see(keptAddress + "/record/2/drop")
	if !strings.Contains(text, "gone for good") {
		t.Errorf("the question: %s", text)
	}
	if all, _ := w.book.Records(t.Context()); len(all) != 2 {
		t.Error("the question drops it")
	}
	w.leads(w.press(ask, "Drop it", nil), keptAddress+"?done=dropped")
	ask, text = w.see(keptAddress + "/fetched/ncei/USC00304174/drop")
	if !strings.Contains(text, "The records made of them stay") {
		t.Errorf("the question: %s", text)
	}
	w.leads(w.press(ask, "Drop it", nil), keptAddress+"?done=dropped")
	if r, err := w.book.Record(t.Context()); err != nil || len(r.Days) < 4*365 {
		t.Errorf("the record in use went with the years it was made of: %v", err)
	}
	for _, path := range []string{"/record/2/drop", "/record/x/drop", "/fetched/ncei/USC00304174/drop", "/fetched/almanac/here/drop"} {
		if answer := get(t, w.h, keptAddress+path); answer.Code != http.StatusNotFound {
			t.Errorf("%s: status %d", path, answer.Code)
		}
	}
}

// Forms from other sites start, stop, use and drop nothing.
func TestForeignFormsFetchNothing(t *testing.T) {
	w := newWalk(t)
	for _, path := range []string{networkAddress, fetchAddress + "/on", fetchAddress + "/stop", fetchAddress + "/leave", fetchAddress + "/use", keptAddress + "/record/1/drop", keptAddress + "/record/1/use", keptAddress + "/fetched/power/1,2/drop"} {
		r := httptest.NewRequest("POST", path, strings.NewReader("service=power&years=3&latitude=1&longitude=1"))
		r.Host = "localhost:8080"
		r.Header = http.Header{"Sec-Fetch-Site": {"cross-site"}, "Content-Type": {"application/x-www-form-urlencoded"}}
		answer := httptest.NewRecorder()
		w.h.ServeHTTP(answer, r)
		if answer.Code != http.StatusForbidden {
			t.Errorf("%s: status %d", path, answer.Code)
		}
		r.Host, r.Header = "evil.example", http.Header{}
		answer = httptest.NewRecorder()
		w.h.ServeHTTP(answer, r)
		if answer.Code != http.StatusMisdirectedRequest {
			t.Errorf("%s under another name: status %d", path, answer.Code)
		}
	}
	if w.service.Years() != "" {
		t.Error("a service was asked")
	}
}

// A site that is served without a network says how else.
func TestASiteWithoutTheNetwork(t *testing.T) {
	h := New(Config{Store: &shelf{}, Crops: crop.Default(), Today: func() civil.Date { return fetchDay }, Season: func(context.Context) (*season.Result, error) { return nil, errors.New("nothing yet") }})
	for _, path := range []string{networkAddress, fetchAddress, keptAddress} {
		if answer := get(t, h, path); answer.Code != http.StatusNotFound || !strings.Contains(words(parse(t, answer)), "kailyard weather --") {
			t.Errorf("%s: status %d", path, answer.Code)
		}
	}
}
