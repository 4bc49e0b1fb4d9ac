package web

import (
	"bytes"
	"context"
	"errors"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
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

// the garden book serves the pages as it is.
var _ Store = (*book.Book)(nil)

func TestAVarietyFromASeedPacket(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	store.g.Site.Units = quantity.US
	page := words(parse(t, get(t, h, "/crop/bean-bush")))
	for _, want := range []string{"A variety of your own", "“4 in” or “3–5 in”", "Empty: the type's, "} {
		if !strings.Contains(page, want) {
			t.Errorf("the bean's page does not say %q", want)
		}
	}
	send := url.Values{"name": {"the neighbour's early bean"}, "days": {"44-46"}, "days_from": {"sowing"}, "in_row": {"4"}, "between_rows": {"40 cm"}, "yield": {""}, "note": {"<b>mine</b>"}}
	w := post(t, h, "/crop/bean-bush/vary", send)
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/crop/the-neighbours-early-bean?done=varied" {
		t.Fatalf("status %d to %q: %s", w.Code, w.Header().Get("Location"), words(parse(t, w)))
	}
	v := store.g.Own.Varieties[len(store.g.Own.Varieties)-1]
	if v != (crop.Variety{ID: "the-neighbours-early-bean", Name: "the neighbour's early bean", Base: "bean-bush", Days: "44-46", From: crop.Sow, InRow: "4 in", BetweenRows: "40 cm", Note: "<b>mine</b>"}) {
		t.Errorf("the variety kept is %+v", v)
	}
	doc := parse(t, get(t, h, "/crop/the-neighbours-early-bean?done=varied"))
	checkPage(t, "its page", doc)
	for _, want := range []string{"Snap bean, the neighbour's early bean", "Kept. Name it in wants", "A variety of your own of snap bean, bush", "<b>mine</b>", "44-46 downfrom the packet"} {
		if !strings.Contains(words(doc), want) {
			t.Errorf("its page does not say %q", want)
		}
	}
	if list := words(parse(t, get(t, h, "/crops"))); !strings.Contains(list[strings.Index(list, "Your own"):strings.Index(list, "Roots")], "Snap bean, the neighbour's early bean") {
		t.Error("the list of crops has it not among one's own")
	}
	want := url.Values{"crop": {"the neighbour's early beans"}, "amount": {"5"}, "unit": {"lb"}, "basis": {"total"}, "weight": {"3"}}
	if w := post(t, h, "/want/new", want); w.Code != http.StatusSeeOther {
		t.Errorf("it cannot be wanted: %s", words(parse(t, w)))
	}
	if w := post(t, h, "/history", url.Values{"bed": {"2"}, "year": {"2025"}, "crop": {"the neighbour's early bean"}}); w.Code != http.StatusSeeOther || store.g.History[len(store.g.History)-1].CropID != v.ID {
		t.Errorf("the history cannot name it: %d", w.Code)
	}
}

func TestWhatIsWrongWithAVarietyStandsBesideItsField(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Own.Varieties)
	w := post(t, h, "/crop/bean-bush/vary", url.Values{"name": {"x"}, "days": {"soon"}, "days_from": {"sowing"}, "in_row": {"4 parsec"}, "between_rows": {"90 m"}, "yield": {"much"}})
	if w.Code != http.StatusUnprocessableEntity {
		t.Fatalf("status %d", w.Code)
	}
	doc := parse(t, w)
	checkPage(t, "the form again", doc)
	for field, says := range map[string]string{"days": `"soon" does not begin with a number`, "in_row": "is not a length", "between_rows": "is not plausible", "yield": "does not begin with a number"} {
		if got := errorOf(doc, field); !strings.Contains(got, says) || strings.HasPrefix(strings.ToLower(got), field) {
			t.Errorf("beside %s stands %q", field, got)
		}
	}
	if got := valueOf(doc, "days"); got != "soon" {
		t.Errorf("the typed days came back as %q", got)
	}
	if says := errorOf(parse(t, post(t, h, "/crop/bean-bush/vary", url.Values{"name": {""}, "days_from": {"sowing"}})), "name"); says == "" {
		t.Error("nothing is said of a variety without a name")
	}
	if says := errorOf(parse(t, post(t, h, "/crop/bean-bush/vary", url.Values{"name": {"Bush Bean"}, "days_from": {"sowing"}})), "name"); !strings.Contains(says, "already means snap bean, bush") {
		t.Errorf("of a name that is taken: %q", says)
	}
	if says := errorOf(parse(t, post(t, h, "/crop/bean-bush/vary", url.Values{"name": {"x"}, "days_from": {"planting"}})), "days_from"); says == "" {
		t.Error("nothing is said of days counted from what the crop does not do")
	}
	for _, path := range []string{"/crop/unobtainium/vary", "/crop/carrot/change", "/crop/" + storyOwn + "x/change"} {
		if w := get(t, h, path); w.Code != http.StatusNotFound {
			t.Errorf("%s: status %d", path, w.Code)
		}
	}
	if len(store.g.Own.Varieties) != n {
		t.Error("a variety with errors was kept")
	}
}

func TestAnOwnCropIsChangedAndTakenOut(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	doc := parse(t, get(t, h, "/crop/"+storyOwn+"/change"))
	if valueOf(doc, "days") != "48–52" || valueOf(doc, "in_row") != "25 cm" {
		t.Errorf("the form has days %q, %q apart", valueOf(doc, "days"), valueOf(doc, "in_row"))
	}
	send := url.Values{"name": {"the neighbour’s short okra"}, "days": {"45"}, "days_from": {"setting out"}, "in_row": {"25 cm"}}
	if w := post(t, h, "/crop/"+storyOwn+"/change", send); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	if v := store.g.Own.Varieties[0]; v.ID != storyOwn || v.Days != "45" || v.From != crop.SetOut {
		t.Errorf("it is now %+v", v)
	}
	page := words(parse(t, get(t, h, "/crops/own")))
	for _, want := range []string{"45 days from setting out", "winter root", "No longer grown", "old okra", `Your own crop "half-written" is set aside: half-written.toml:`} {
		if !strings.Contains(page, want) {
			t.Errorf("the list does not say %q: %s", want, page)
		}
	}
	if w := post(t, h, "/crop/"+storyOwn+"/remove", nil); w.Code != http.StatusSeeOther || len(store.g.Own.Varieties) != 1 {
		t.Errorf("taking it out: status %d", w.Code)
	}
	if w := get(t, h, "/crop/"+storyOwn); w.Code != http.StatusNotFound {
		t.Errorf("its page is still there: %d", w.Code)
	}
}

// sendFile sends a crop's text as a browser sends a chosen file.
func sendFile(t *testing.T, h http.Handler, path, id, name, text string) *httptest.ResponseRecorder {
	t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	_ = m.WriteField("id", id)
	_ = m.WriteField("text", "")
	part, err := m.CreateFormFile("file", name)
	if err != nil {
		t.Fatal(err)
	}
	_, _ = part.Write([]byte(text))
	m.Close()
	r := httptest.NewRequest("POST", path, &body)
	r.Host = "localhost"
	r.Header.Set("Content-Type", m.FormDataContentType())
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func TestAWholeCropByTextAndByFile(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	text, _ := crop.FileText("beet")
	begun := parse(t, get(t, h, "/crops/new?like=beet"))
	if area := all(begun, atom.Textarea); len(area) != 1 || !strings.Contains(words(area[0]), `kind = "beet"`) {
		t.Error("the beet's text is not there to begin from")
	}
	own := strings.Replace(text, `kind = "beet"`, `kind = "winter beet"`, 1)
	w := post(t, h, "/crops/new", url.Values{"id": {"winter-beet"}, "text": {strings.ReplaceAll(own, "\n", "\r\n")}})
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/crop/winter-beet?done=taken" {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	if kept := store.g.Own.Files[len(store.g.Own.Files)-1]; kept.ID != "winter-beet" || kept.Text != own {
		t.Error("the text kept is not the one typed")
	}
	doc := parse(t, get(t, h, "/crop/winter-beet"))
	checkPage(t, "/crop/winter-beet", doc)
	if !strings.Contains(words(doc), "A crop of your own.") {
		t.Error("its page does not say whose it is")
	}
	if w := sendFile(t, h, "/crops/new", "", "odd-beet.toml", own); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/crop/odd-beet?done=taken" {
		t.Errorf("by file: status %d to %q", w.Code, w.Header().Get("Location"))
	}
	if w := sendFile(t, h, "/crop/odd-beet/change", "", "other.toml", strings.Replace(own, "winter beet", "spring beet", 1)); w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/crop/odd-beet?done=taken" {
		t.Errorf("changed by file: status %d to %q", w.Code, w.Header().Get("Location"))
	}
	if w := sendFile(t, h, "/crops/new", "big", "big.toml", strings.Repeat("# \n", largestForm)); w.Code != http.StatusBadRequest {
		t.Errorf("a file of any length is taken: %d", w.Code)
	}
}

// What is wrong in a crop's text is told by line beside the text, which comes back as it was typed.
func TestWhatIsWrongInACropsTextStandsBesideItsLine(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Own.Files)
	text, _ := crop.FileText("beet")
	bad := strings.NewReplacer(`group = "root"`, `group = "rot"`, "[ph]", "[ph]\nsour = true").Replace(text)
	lineOf := func(what string) string {
		return "Line " + number(float64(strings.Count(bad[:strings.Index(bad, what)], "\n")+1))
	}
	w := post(t, h, "/crops/new", url.Values{"id": {"bad-beet"}, "text": {strings.Replace(bad, "[ph]\nsour = true", "[ph]", 1)}})
	doc := parse(t, w)
	checkPage(t, "/crops/new", doc)
	if page := words(doc); w.Code != http.StatusUnprocessableEntity || !strings.Contains(page, lineOf(`group = "rot"`)+` group = "rot"group: "rot" is not known; it is one of`) || !strings.Contains(page, "1 thing to mend") {
		t.Errorf("status %d: %s", w.Code, page)
	}
	doc = parse(t, post(t, h, "/crops/new", url.Values{"id": {"bad-beet"}, "text": {bad}}))
	if page := words(doc); !strings.Contains(page, lineOf("sour = true")+" sour = true") {
		t.Errorf("the unknown field is not told with its line: %s", page)
	}
	if area := all(doc, atom.Textarea); attrText(area[0]) != bad {
		t.Error("the text did not come back as it was typed")
	}
	for id, says := range map[string]string{"": "This is needed.", "Bad Beet": "cannot be one"} {
		if got := errorOf(parse(t, post(t, h, "/crops/new", url.Values{"id": {id}, "text": {text}})), "id"); !strings.Contains(got, says) {
			t.Errorf("of the ID %q: %q", id, got)
		}
	}
	for _, text := range []string{"", "\x00\xff", strings.Repeat("[", 9000), "kind"} {
		if w := post(t, h, "/crops/new", url.Values{"id": {"x"}, "text": {text}}); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%.10q: status %d", text, w.Code)
		}
	}
	if w := get(t, h, "/crop/half-written/change"); w.Code != http.StatusOK || !strings.Contains(words(parse(t, w)), `Line 2 group = "rot"`) {
		t.Errorf("a crop set aside cannot be mended: %d", w.Code)
	}
	if len(store.g.Own.Files) != n {
		t.Error("a crop with errors was kept")
	}
}

func attrText(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return b.String()
}

// A source that a person's own file cites and the list of sources has not is named, and no link leads nowhere.
func TestAnOwnSourceIsNoLink(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	text, _ := crop.FileText("beet")
	text = strings.Replace(text, `range = { v = "`, `range = { src = "MY-NOTES", note = "limed", v = "`, 1)
	text = strings.Replace(text, `, src = "ECOCROP", q = "published" }`+"\n\n[rotation]", `, q = "published" }`+"\n\n[rotation]", 1)
	store.g.Own.Files = append(store.g.Own.Files, crop.File{ID: "my-beet", Text: text})
	w := get(t, h, "/crop/my-beet")
	if body := w.Body.String(); w.Code != http.StatusOK || strings.Contains(body, "#MY-NOTES") || !strings.Contains(body, "from MY-NOTES. limed") {
		t.Errorf("status %d", w.Code)
	}
}

// The pages work on a book as they do on the storybook's shelf.
func TestOwnCropsInABook(t *testing.T) {
	ctx := t.Context()
	b, err := book.Create(ctx, t.TempDir()+"/garden.kailyard")
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if err := b.Import(ctx, storyBare()); err != nil {
		t.Fatal(err)
	}
	h := New(Config{Store: b, Crops: crop.Default(), Today: func() civil.Date { return civil.Of(2027, 3, 1) }, Season: noSeason})
	if w := post(t, h, "/crop/carrot/vary", url.Values{"name": {"early one"}, "days": {"60"}, "days_from": {"sowing"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	if says := errorOf(parse(t, post(t, h, "/crop/carrot/vary", url.Values{"name": {"Early Ones"}, "days_from": {"sowing"}})), "name"); !strings.Contains(says, "already means carrot") {
		t.Errorf("a name twice: %q", says)
	}
	if w := post(t, h, "/want/new", url.Values{"crop": {"early one"}, "amount": {"5"}, "unit": {"lb"}, "basis": {"total"}, "weight": {"3"}}); w.Code != http.StatusSeeOther {
		t.Errorf("it cannot be wanted: %d", w.Code)
	}
	w := post(t, h, "/crop/early-one/remove", nil)
	if text := words(parse(t, w)); w.Code != http.StatusConflict || !strings.Contains(text, `The want for "early one" names it.`) && !strings.Contains(text, `the want for "early one" names it`) {
		t.Errorf("taken out though it is wanted: %d %s", w.Code, text)
	}
	if w := post(t, h, "/crop/early-one/change", url.Values{"name": {"early one"}, "days": {"55"}, "days_from": {"sowing"}}); w.Code != http.StatusSeeOther {
		t.Errorf("changing it: %d", w.Code)
	}
	if page := words(parse(t, get(t, h, "/crops/own"))); !strings.Contains(page, "55 days from sowing") {
		t.Errorf("the change does not show: %s", page)
	}
}

// storyBare is the storybook's garden before anything was planned or said to stand in it.
func storyBare() garden.Garden {
	g := storyGarden()
	g.Standing, g.Own = nil, crop.OwnCrops{}
	return g
}

func noSeason(context.Context) (*season.Result, error) {
	return nil, errors.New("the book has no weather record yet")
}
