package main

import (
	"bytes"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/fetch/standin"
)

// While a service is asked the book is free: it is read, written to and served, and a second fetch from the
// same service is refused. Afterwards all of it is there.
func TestTheBookIsFreeDuringAFetch(t *testing.T) {
	begun, goOn := make(chan bool), make(chan bool)
	s := standin.Serve(t, standin.Any, nil, func(http.ResponseWriter, *http.Request, string) bool {
		begun <- true
		<-goOn
		return false
	})
	dir := t.TempDir()
	file := filepath.Join(dir, "garden.kailyard")
	if err := os.WriteFile(filepath.Join(dir, "g.toml"), []byte("[site]\nname = \"Strip (invented)\"\nlatitude = 44.5\nlongitude = -73.2\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	run := func(args ...string) (int, string) {
		var out bytes.Buffer
		m := Main{Stdout: &out, Stderr: &out, Today: civil.Of(2027, 1, 9), Services: askAt(s.URL)}
		code := m.Run(t.Context(), append([]string{"--book", file}, args...))
		return code, out.String()
	}
	if code, text := run("new", "--from", filepath.Join(dir, "g.toml")); code != exitDone {
		t.Fatal(text)
	}
	ended := make(chan string)
	go func() {
		_, text := run("weather", "--from", "power", "--years", "5")
		ended <- text
	}()
	<-begun
	if code, text := run("weather", "--fetched"); code != exitDone || !strings.Contains(text, "power:44.50,-73.20  1 year, 2027 to 2027") {
		t.Errorf("the first year is not in the book: %s", text)
	}
	if code, text := run("note", "dug", "the strip"); code != exitDone {
		t.Errorf("a note: %s", text)
	}
	if code, text := run("weather", "--from", "power"); code != exitCould || !strings.Contains(text, "another kailyard is fetching from NASA POWER into this book (since ") {
		t.Errorf("a second fetch: %s", text)
	}
	if code, text := run("weather", "--drop", "power:44.50,-73.20"); code != exitCould || !strings.Contains(text, "is fetching from NASA POWER") {
		t.Errorf("dropping what arrives: %s", text)
	}
	served, err := book.Open(t.Context(), file, book.Options{}) // as serve has it, to the end
	if err != nil {
		t.Fatal(err)
	}
	goOn <- true
	if text := <-ended; !strings.Contains(text, "2022-01-01 to 2027-01-05") {
		t.Errorf("the fetch beside a served book: %s", text)
	}
	if r, err := served.Record(t.Context()); err != nil || r.Days[0].Date != civil.Of(2022, 1, 1) {
		t.Errorf("the served book has %v", err)
	}
	if err := served.Close(); err != nil {
		t.Error(err)
	}
	if code, text := run("journal"); code != exitDone || !strings.Contains(text, "the strip") {
		t.Errorf("the journal: %s", text)
	}
}
