package web

import (
	"bytes"
	"net"
	"net/http"
	"strings"
)

// action answers one request or says why it cannot.
type action func(w http.ResponseWriter, r *http.Request) error

// handle turns an action into a handler: an error becomes the page for its kind.
func (s *site) handle(do action) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if err := do(w, r); err != nil {
			s.fail(w, r, err)
		}
	})
}

// policy lets a page load its own style sheet and script, which may ask this server, and nothing else.
const policy = "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; " +
	"connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// largestForm is more than any form of ours holds.
const largestForm = 64 << 10

// guard stands before every page: only known names of this host (a page elsewhere must not reach the
// garden by pointing its own name here), no forms sent from other sites, strict content policy.
func (s *site) guard(next http.Handler) http.Handler {
	cross := http.NewCrossOriginProtection()
	cross.SetDenyHandler(s.handle(func(http.ResponseWriter, *http.Request) error {
		return problem{forbidden, "This form was sent from another site.", "Open the garden's own page and send the form from there."}
	}))
	inner := cross.Handler(next)
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		if !s.knows(r.Host) {
			http.Error(w, "This garden is not served under the name "+quoted(r.Host)+
				". Open it by the address it printed when it was started, or add the name to its list of hosts.", http.StatusMisdirectedRequest)
			return
		}
		most := int64(largestForm)
		if r.URL.Path == recordAddress {
			most = largestRecord
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		inner.ServeHTTP(w, r)
	})
}

// quoted keeps a name from the network short and plain.
func quoted(name string) string {
	keep := func(r rune) rune {
		if r > ' ' && r < 0x7f && r != '"' && r != '<' {
			return r
		}
		return -1
	}
	name = strings.Map(keep, name)
	if len(name) > 80 {
		name = name[:80]
	}
	return `"` + name + `"`
}

// knows says whether the site answers to a host: loopback always, others by the list.
func (s *site) knows(host string) bool {
	name := host
	if h, _, err := net.SplitHostPort(host); err == nil {
		name = h
	}
	name = strings.Trim(strings.ToLower(name), "[]")
	if name == "localhost" {
		return true
	}
	if ip := net.ParseIP(name); ip != nil && ip.IsLoopback() {
		return true
	}
	for _, known := range s.Hosts {
		if strings.EqualFold(known, host) || strings.EqualFold(known, name) {
			return true
		}
	}
	return false
}

// render writes a page once the whole of it is made, so that a failure never leaves half a page.
func (s *site) render(w http.ResponseWriter, status int, name string, data any) error {
	var b bytes.Buffer
	if err := s.pages[name].tmpl.Execute(&b, data); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "text/html; charset=utf-8")
	h.Set("Cache-Control", "private, no-cache")
	w.WriteHeader(status)
	_, err := b.WriteTo(w)
	if err != nil {
		return nil // the reader has gone; there is nobody to tell
	}
	return nil
}

// seeOther ends a form: the answer is read by GET, so that going back does not send it again.
func seeOther(w http.ResponseWriter, r *http.Request, to string) error {
	http.Redirect(w, r, to, http.StatusSeeOther)
	return nil
}
