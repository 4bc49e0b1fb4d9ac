package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"testing"

	"github.com/jba/templatecheck"
	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"
)

func get(tb testing.TB, h http.Handler, path string) *httptest.ResponseRecorder {
	tb.Helper()
	r := httptest.NewRequest("GET", path, nil)
	r.Host = "127.0.0.1:8080"
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func post(tb testing.TB, h http.Handler, path string, v url.Values) *httptest.ResponseRecorder {
	tb.Helper()
	r := httptest.NewRequest("POST", path, strings.NewReader(v.Encode()))
	r.Host = "localhost"
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Sec-Fetch-Site", "same-origin")
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

func parse(tb testing.TB, w *httptest.ResponseRecorder) *html.Node {
	tb.Helper()
	n, err := html.Parse(w.Body)
	if err != nil {
		tb.Fatal(err)
	}
	return n
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func all(n *html.Node, tag atom.Atom) (out []*html.Node) {
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && d.DataAtom == tag {
			out = append(out, d)
		}
	}
	return out
}

func words(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data)
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func TestTemplatesFitTheirPages(t *testing.T) {
	pages := mustPages(mustFiles())
	for name, p := range pages {
		data, ok := pageTypes[name]
		if !ok {
			t.Errorf("the template %s has no page struct", name)
			continue
		}
		if err := templatecheck.CheckHTML(p.tmpl, data); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name := range pageTypes {
		if pages[name] == nil {
			t.Errorf("the page %s has no template", name)
		}
	}
}

// Every page of the storybook: status, one h1, a title, landmarks, unique ids, labels on fields,
// named pictures, no inline style or script, and links that lead somewhere.
func TestEveryPageIsSoundAndItsLinksResolve(t *testing.T) {
	now := mustStory(t)
	h, _ := storySite(t, now, storyToday)
	seen := map[string]bool{}
	anchors := map[string]map[string]bool{}
	type link struct{ from, to string }
	var wanted []link
	queue := storyPaths(now)
	for _, p := range queue {
		seen[p] = true
	}
	for len(queue) > 0 && len(seen) < 600 {
		path := queue[0]
		queue = queue[1:]
		w := get(t, h, path)
		want := http.StatusOK
		if path == "/nowhere" {
			want = http.StatusNotFound
		}
		if w.Code != want {
			t.Errorf("%s: status %d: %s", path, w.Code, words(parse(t, w)))
			continue
		}
		if dir := os.Getenv("KAILYARD_PAGES"); dir != "" {
			_ = os.WriteFile(dir+"/"+strings.Map(fileRune, path)+".html", w.Body.Bytes(), 0o644)
		}
		doc := parse(t, w)
		anchors[path] = checkPage(t, path, doc)
		for _, a := range all(doc, atom.A) {
			to := attr(a, "href")
			if to == "" {
				t.Errorf("%s: a link without an address: %s", path, words(a))
				continue
			}
			u, err := url.Parse(to)
			if err != nil {
				t.Errorf("%s: %v", path, err)
				continue
			}
			if u.Host != "" {
				continue // a service's own word on its terms: no test asks the network
			}
			abs := (&url.URL{Path: strings.SplitN(path, "?", 2)[0]}).ResolveReference(u)
			if u.Path == "" && u.RawQuery == "" {
				wanted = append(wanted, link{path, path + "#" + u.Fragment})
				continue
			}
			if u.Fragment != "" {
				wanted = append(wanted, link{path, abs.String()})
			}
			abs.Fragment = ""
			next := abs.String()
			endless := strings.HasPrefix(next, "/plot?") || strings.HasPrefix(next, "/jobs?week") || strings.HasPrefix(next, "/journal?") || strings.HasPrefix(next, "/ready?")
			if !seen[next] && (!endless || len(seen) < 120) {
				seen[next] = true
				queue = append(queue, next)
			}
		}
	}
	for _, l := range wanted {
		page, id, _ := strings.Cut(l.to, "#")
		if ids, ok := anchors[page]; ok && !ids[id] {
			t.Errorf("%s links to %s, where nothing has that id", l.from, l.to)
		}
	}
	if len(anchors) < 60 {
		t.Errorf("only %d pages were reached", len(anchors))
	}
}

func fileRune(r rune) rune {
	if strings.ContainsRune("/?=#", r) {
		return '_'
	}
	return r
}

func checkPage(t *testing.T, path string, doc *html.Node) map[string]bool {
	t.Helper()
	ids, labels := map[string]bool{}, map[string]bool{}
	for d := range doc.Descendants() {
		if d.Type != html.ElementNode {
			continue
		}
		if id := attr(d, "id"); id != "" {
			if ids[id] {
				t.Errorf("%s: id %q twice", path, id)
			}
			ids[id] = true
		}
		if attr(d, "style") != "" || d.Data == "style" || d.Data == "script" && attr(d, "src") == "" {
			t.Errorf("%s: inline style or script in <%s>", path, d.Data)
		}
		for _, a := range d.Attr {
			if strings.HasPrefix(a.Key, "on") {
				t.Errorf("%s: inline handler %s", path, a.Key)
			}
		}
		if d.Data == "label" {
			labels[attr(d, "for")] = true
		}
	}
	for d := range doc.Descendants() {
		if d.Type != html.ElementNode {
			continue
		}
		switch d.Data {
		case "input", "select", "textarea":
			kind := attr(d, "type")
			if kind != "hidden" && kind != "checkbox" && kind != "range" && !labels[attr(d, "id")] {
				t.Errorf("%s: the field %s has no label", path, attr(d, "name"))
			}
		case "svg":
			if attr(d, "role") != "img" || !ids[attr(d, "aria-labelledby")] {
				t.Errorf("%s: a picture without role or name", path)
			}
		}
		if ref := attr(d, "aria-labelledby"); ref != "" && !ids[ref] {
			t.Errorf("%s: aria-labelledby %q leads nowhere", path, ref)
		}
		for _, ref := range strings.Fields(attr(d, "aria-describedby")) {
			if !ids[ref] {
				t.Errorf("%s: aria-describedby %q leads nowhere", path, ref)
			}
		}
	}
	for _, tag := range []atom.Atom{atom.H1, atom.Main, atom.Nav, atom.Header} {
		if n := len(all(doc, tag)); n != 1 {
			t.Errorf("%s: %d <%s>, want one", path, n, tag)
		}
	}
	if text := words(doc); strings.Contains(text, "NaN") || strings.Contains(text, "%!") || strings.Contains(text, "Inf ") {
		t.Errorf("%s: a number that is none is shown", path)
	}
	return ids
}
