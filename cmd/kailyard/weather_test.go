package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/fetch"
	"kailyard/internal/weather"
)

// servicesAt is where the program under test finds the stand-in for the weather services.
const servicesAt = "KAILYARD_TEST_SERVICES"

// askAt makes the program ask a stand-in, without waiting.
func askAt(address string) fetch.Fetcher {
	f := fetch.Fetcher{Base: map[string]string{}, Sleep: func(ctx context.Context, _ time.Duration) error { return ctx.Err() }}
	for _, s := range fetch.Services() {
		f.Base[s.ID] = address + "/" + s.ID
	}
	return f
}

// standIn speaks the services' forms (see internal/fetch) with the weather of a built-in climate, at
// 500 m above the sea, and can be made to fail.
type standIn struct {
	*httptest.Server
	mode  atomic.Value // "", "busy", "page", "empty"
	asked atomic.Int32
	days  map[civil.Date]weather.Day
	delay time.Duration
}

func serveWeather() *standIn {
	s := &standIn{days: map[civil.Date]weather.Day{}}
	climate, _ := climateOf("burlington")
	for _, d := range weather.Generate(climate, 1985, 43, 3).Days {
		s.days[d.Date] = d
	}
	s.mode.Store("")
	s.Server = httptest.NewServer(s)
	return s
}

func (s *standIn) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	s.asked.Add(1)
	time.Sleep(s.delay)
	switch s.mode.Load() {
	case "busy":
		w.Header().Set("Retry-After", "7200")
		http.Error(w, "slow down", http.StatusTooManyRequests)
		return
	case "page":
		io.WriteString(w, "<html><title>Sign in</title></html>")
		return
	case "empty":
		return
	}
	q := r.URL.Query()
	from, to := day(q.Get("start")+q.Get("startDate")+q.Get("start_date")), day(q.Get("end")+q.Get("endDate")+q.Get("end_date"))
	if strings.HasSuffix(r.URL.Path, "ncei") {
		io.WriteString(w, `"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","TMAX","TMIN"`+"\n")
		for d := from; d <= to; d++ {
			fmt.Fprintf(w, `"%s","%s","44.468","-73.150","101.2","SOME AIRPORT, VT US","%.2f","%.2f","%.2f"`+"\n", q.Get("stations"), d, s.days[d].Rain, s.days[d].Max, s.days[d].Min)
		}
		return
	}
	fmt.Fprintf(w, "-BEGIN HEADER-\nNASA/POWER Source Native Resolution Daily Data \nLocation: latitude  %s   longitude %s \n"+
		"elevation from MERRA-2: Average for 0.5 x 0.625 degree lat/lon region = 500.0 meters\n-END HEADER-\nYEAR,DOY,T2M_MAX,T2M_MIN,PRECTOTCORR\n", q.Get("latitude"), q.Get("longitude"))
	for d := from; d <= to; d++ {
		fmt.Fprintf(w, "%d,%d,%.2f,%.2f,%.2f\n", d.Year(), d.YearDay(), s.days[d].Max, s.days[d].Min, s.days[d].Rain)
	}
}

func day(text string) civil.Date {
	if len(text) == 8 {
		text = text[:4] + "-" + text[4:6] + "-" + text[6:]
	}
	d, _ := civil.Parse(text)
	return d
}

// toBeKilled is what a test needs that kills the program: slow services, the program as a file of its own, and a book that
// knows where its garden is.
func toBeKilled(t *testing.T) (s *standIn, program, file string) {
	t.Helper()
	if testing.Short() {
		t.Skip("starts the program many times")
	}
	s = serveWeather()
	t.Cleanup(s.Close)
	s.delay = 15 * time.Millisecond
	dir := t.TempDir()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program, file = filepath.Join(dir, "kailyard"), filepath.Join(dir, "garden.kailyard")
	if err := os.Symlink(self, program); err != nil {
		t.Skip("no links here: " + err.Error())
	}
	garden := filepath.Join(dir, "g.toml")
	if err := os.WriteFile(garden, []byte("[site]\nname = \"Strip (invented)\"\nlatitude = 44.5\nlongitude = -73.2\nelevation = \"100 m\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	m := Main{Stdout: &out, Stderr: &out, Today: civil.Of(2027, 1, 9)}
	if code := m.Run(t.Context(), []string{"new", "--book", file, "--from", garden}); code != exitDone {
		t.Fatal(out.String())
	}
	return s, program, file
}

// A fetch that is killed, again and again, at any moment: the book opens, each year in it is whole and
// as the service gave it, and the last run asks only for what is missing.
func TestKilledFetches(t *testing.T) {
	s, program, file := toBeKilled(t)
	start := func() *exec.Cmd {
		c := exec.Command(program, "--book", file, "weather", "--from", "power")
		c.Env = append(os.Environ(), servicesAt+"="+s.URL)
		return c
	}
	kills, kept := 0, 0
	draw := rand.New(rand.NewPCG(1, 2))
	for kept < 24 && kills < 40 {
		c := start()
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(40+draw.IntN(90)) * time.Millisecond)
		_ = c.Process.Kill()
		_ = c.Wait()
		kills++
		kept = wholeYears(t, s, file, kept)
	}
	if kept == 0 {
		t.Fatalf("nothing arrived in %d runs", kills)
	}
	s.asked.Store(0)
	if text, err := start().CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	if asked := int(s.asked.Load()); asked != 32-kept {
		t.Errorf("%d years were there and %d were asked for", kept, asked)
	}
	if all := wholeYears(t, s, file, kept); all != 32 {
		t.Errorf("%d years at the end", all)
	}
	t.Logf("%d kills, %d years there before the last run", kills, kept)
}

// wholeYears checks that every year in the book is whole, and counts them.
func wholeYears(t *testing.T, s *standIn, file string, before int) int {
	t.Helper()
	b, err := book.Open(t.Context(), file, book.Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	pieces, err := b.Pieces(t.Context(), "power", "44.50,-73.20")
	if err != nil {
		t.Fatal(err)
	}
	if len(pieces) < before {
		t.Errorf("%d years are left of %d", len(pieces), before)
	}
	for _, p := range pieces {
		if n := int(p.Until-civil.Of(p.Year, 1, 1)) + 1; len(p.Record.Days) != n {
			t.Errorf("%d has %d days of %d", p.Year, len(p.Record.Days), n)
		}
		for _, d := range p.Record.Days {
			if want := s.days[d.Date]; math.Abs(float64(d.Min-want.Min)) > 0.0051 || math.Abs(float64(d.Max-want.Max)) > 0.0051 {
				t.Fatalf("%s is %+v, the service gave %+v", d.Date, d, want)
			}
		}
	}
	return len(pieces)
}
