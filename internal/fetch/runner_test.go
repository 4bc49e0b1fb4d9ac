package fetch

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/fetch/standin"
	"kailyard/internal/weather"
)

// runner is a runner at a stand-in, with its shelf.
func runner(t *testing.T, life context.Context, s *standin.Server, shelf *standin.Shelf) *Runner {
	t.Helper()
	d := at(s)
	how := Fetcher{Base: d.Base, HTTP: d.HTTP, Sleep: func(ctx context.Context, _ time.Duration) error { return ctx.Err() }}
	r := NewRunner(life, how, shelf, func() civil.Date { return today })
	t.Cleanup(r.Stop)
	return r
}

func errand(id string) weather.Errand {
	return weather.Errand{Service: id, Latitude: 42.4461, Longitude: -76.4512, Station: "USC00304174", Years: 3}
}

// until waits for a state of the runner.
func until(t *testing.T, r *Runner, is func(State) bool) State {
	t.Helper()
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(2 * time.Millisecond) {
		s, err := r.State(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if is(s) {
			return s
		}
		if time.Now().After(end) {
			t.Fatalf("the state stays %+v", s)
		}
	}
}

func ended(s State) bool { return !s.Running }

func TestAnErrandIsRun(t *testing.T) {
	s, shelf := serve(t, standin.Any), &standin.Shelf{}
	r := runner(t, t.Context(), s, shelf)
	if st := until(t, r, ended); st.Errand != nil {
		t.Errorf("before anything is asked: %+v", st)
	}
	if _, err := r.Record(t.Context()); !IsKind(err, NothingAsked) {
		t.Errorf("got %v", err)
	}
	for _, id := range []string{"power", "ncei", "open-meteo"} {
		if err := r.Start(t.Context(), errand(id)); err != nil {
			t.Fatal(err)
		}
		st := until(t, r, ended)
		if st.Err != nil || !st.Errand.Brought || st.Kept != 4 || st.First != 2023 || st.Last != 2026 || len(st.Told) != 4 || st.Where == "" || st.Service.ID != id {
			t.Errorf("%s: %+v", id, st)
		}
		record, err := r.Record(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		service, _ := ServiceOf(id)
		holdsWeather(t, record, civil.Of(2023, 1, 1), today.Add(-service.Late), id == "ncei")
	}
	if err := r.Settle(t.Context()); err != nil {
		t.Fatal(err)
	}
	if st := until(t, r, ended); st.Errand != nil || len(shelf.All()) != 12 {
		t.Errorf("settled: %+v, %d years left", st, len(shelf.All()))
	}
}

// One at a time; a stop leaves whole years; the same errand goes on from there, in another program too.
func TestAnErrandIsStoppedAndGoesOn(t *testing.T) {
	begun := make(chan bool)
	hang := func(_ http.ResponseWriter, r *http.Request, _ string) bool {
		begun <- true
		<-r.Context().Done()
		return true
	}
	s, shelf := serve(t, standin.Any, nil, hang), &standin.Shelf{}
	life, end := context.WithCancel(t.Context())
	r := runner(t, life, s, shelf)
	if err := r.Start(t.Context(), errand("power")); err != nil {
		t.Fatal(err)
	}
	<-begun
	err := r.Start(t.Context(), errand("power"))
	if !IsKind(err, UnderWay) {
		t.Errorf("a second one: %v", err)
	}
	other := runner(t, t.Context(), s, shelf) // another program on the same book
	if err := other.Start(t.Context(), errand("power")); err == nil || !strings.Contains(err.Error(), "another program") {
		t.Errorf("a second program: %v", err)
	}
	if st := until(t, r, func(st State) bool { return true }); !st.Running || st.Kept != 1 || len(st.Told) != 1 {
		t.Errorf("at work: %+v", st)
	}
	end() // the program ends
	st := until(t, r, ended)
	if !WasStopped(st.Err) || st.Kept != 1 || st.Errand == nil || st.Errand.Brought {
		t.Errorf("stopped: %+v", st)
	}
	half, err := r.Record(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	holdsWeather(t, half, civil.Of(2026, 1, 1), civil.Of(2026, 11, 16), false)
	s.Forget()
	if st := until(t, other, ended); st.Errand == nil || st.Err != nil || st.Kept != 1 {
		t.Errorf("the other program finds %+v", st)
	}
	if err := other.GoOn(t.Context()); err != nil {
		t.Fatal(err)
	}
	if st := until(t, other, ended); st.Err != nil || !st.Errand.Brought || s.Years() != "2025 2024 2023" {
		t.Errorf("asked for %s; %+v", s.Years(), st)
	}
}

func TestAnErrandInTrouble(t *testing.T) {
	s, shelf := serve(t, standin.Any), &standin.Shelf{}
	r := runner(t, t.Context(), s, shelf)
	run := func(e weather.Errand) State {
		t.Helper()
		if err := r.Start(t.Context(), e); err != nil {
			t.Fatal(err)
		}
		return until(t, r, ended)
	}
	s.Spoil(status(429, "", "Retry-After", "7200"))
	var own *Error
	if st := run(errand("power")); !errors.As(st.Err, &own) || own.Kind != Busy || own.Wait != 2*time.Hour || st.Kept != 0 {
		t.Errorf("%+v", st)
	}
	s.Spoil(nil)
	shelf.Fail(errors.New("no room left"))
	if err := r.Start(t.Context(), errand("power")); err == nil || err.Error() != "no room left" {
		t.Errorf("got %v", err)
	}
	shelf.Fail(nil)
	if st := run(errand("power")); st.Err != nil || st.Kept != 4 { // nothing holds the service
		t.Errorf("%+v", st)
	}
	e := errand("ncei")
	e.Station = "Ithaca"
	if err := r.Start(t.Context(), e); !IsKind(err, Misplaced) {
		t.Errorf("got %v", err)
	}
	e.Service = "almanac"
	if err := r.Start(t.Context(), e); !IsKind(err, Misplaced) {
		t.Errorf("got %v", err)
	}
	if st := until(t, r, ended); st.Errand == nil || st.Errand.Service != "power" {
		t.Errorf("an errand nobody could run took the place of one: %+v", st)
	}
}

func TestWhere(t *testing.T) {
	for _, c := range [][3]string{
		{"power", "42.45,-76.45", "42.45° N, 76.45° W"}, {"open-meteo", "-37.80,144.90", "37.80° S, 144.90° E"},
		{"ncei", "USC00304174", "station USC00304174"}, {"almanac", "over the hill", "over the hill"}, {"power", "a,b", "a,b"}, {"power", "1,b", "1,b"},
	} {
		if got := Where(c[0], c[1]); got != c[2] {
			t.Errorf("%s of %s is %q, want %q", c[1], c[0], got, c[2])
		}
	}
}
