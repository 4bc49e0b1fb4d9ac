package main

import (
	"bufio"
	"io"
	"math/rand/v2"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"strings"
	"testing"
	"time"

	"kailyard/internal/book"
	"kailyard/internal/civil"
)

// served is the program serving a book in a process of its own.
type served struct {
	t       *testing.T
	cmd     *exec.Cmd
	address string
}

func serveBook(t *testing.T, program, file, services string) *served {
	t.Helper()
	c := exec.Command(program, "--book", file, "serve", "--address", "127.0.0.1:0")
	c.Env = append(os.Environ(), servicesAt+"="+services)
	out, err := c.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	_, rest, ok := strings.Cut(line, "http://")
	if err != nil || !ok {
		t.Fatalf("the server says %q, %v", line, err)
	}
	address, _, _ := strings.Cut(rest, "/")
	return &served{t, c, "http://" + address}
}

func (s *served) kill() {
	_ = s.cmd.Process.Kill()
	_ = s.cmd.Wait()
}

// page is a page's text; a form is sent where there are fields.
func (s *served) page(path string, form url.Values) string {
	s.t.Helper()
	var answer *http.Response
	var err error
	if form == nil {
		answer, err = http.Get(s.address + path)
	} else {
		answer, err = http.PostForm(s.address+path, form)
	}
	if err != nil {
		s.t.Fatal(err)
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusOK {
		s.t.Fatalf("%s: %s, %v: %s", path, answer.Status, err, text)
	}
	return string(text)
}

// A server killed again and again while it fetches: each year in the book is whole, the next server goes on
// with what is missing, and what all of them brought is used.
func TestKilledServers(t *testing.T) {
	s, program, file := toBeKilled(t)
	draw := rand.New(rand.NewPCG(3, 4))
	kills, kept := 0, 0
	for kept < 20 && kills < 20 {
		one := serveBook(t, program, file, s.URL)
		if kills == 0 {
			one.page("/weather/network", url.Values{"service": {"power"}, "latitude": {"44.5"}, "longitude": {"-73.2"}, "years": {"31"}})
		} else {
			one.page("/weather/network/fetch/on", url.Values{})
		}
		time.Sleep(time.Duration(20+draw.IntN(90)) * time.Millisecond)
		one.kill()
		kills++
		kept = wholeYears(t, s, file, kept)
	}
	if kept == 0 {
		t.Fatalf("nothing arrived in %d runs", kills)
	}
	s.asked.Store(0)
	last := serveBook(t, program, file, s.URL)
	defer last.kill()
	if text := last.page("/weather/network/fetch", nil); !strings.Contains(text, "It was interrupted.") {
		t.Errorf("the last server does not tell of the fetch: %s", text)
	}
	last.page("/weather/network/fetch/on", url.Values{})
	for end := time.Now().Add(20 * time.Second); !strings.Contains(last.page("/weather/network/fetch", nil), "NASA POWER: all there"); time.Sleep(30 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatal("the fetch does not end")
		}
	}
	if asked := int(s.asked.Load()); asked != 32-kept {
		t.Errorf("%d years were there and %d were asked for", kept, asked)
	}
	if text := last.page("/weather/network/fetch", nil); !strings.Contains(text, "raised by 2.6 °C") {
		t.Error("the page does not tell the correction for height, as the shell does")
	}
	if text := last.page("/weather/network/fetch/use", url.Values{}); !strings.Contains(text, "The garden has this weather now") {
		t.Errorf("used: %s", text)
	}
	last.kill()
	if all := wholeYears(t, s, file, kept); all != 32 {
		t.Errorf("%d years at the end", all)
	}
	b, err := book.Open(t.Context(), file, book.Options{ReadOnly: true})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if r, err := b.Record(t.Context()); err != nil || r.Days[0].Date != civil.Of(1996, 1, 1) {
		t.Errorf("the record in use: %v", err)
	}
	t.Logf("%d kills, %d years there before the last server", kills, kept)
}
