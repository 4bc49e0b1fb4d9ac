package fetch

import (
	"context"
	"errors"
	"math"
	"net/http"
	"strings"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/fetch/standin"
	"kailyard/internal/weather"
)

// The stand-in and its faults, by short names.
type fault = standin.Fault

var (
	serve   = standin.Serve
	status  = standin.Status
	cut     = standin.Cut
	short   = standin.Short
	slow    = standin.Slow
	changed = standin.Changed
	typed   = standin.Typed
)

// desk is a fetcher at a stand-in, with a clock that only adds up.
type desk struct {
	Fetcher
	shelf  *standin.Shelf
	waited []time.Duration
	told   []Progress
}

var today = civil.Of(2026, 11, 20)

func at(s *standin.Server) *desk {
	d := &desk{shelf: &standin.Shelf{}}
	d.Fetcher = Fetcher{Shelf: d.shelf, Today: today, Base: map[string]string{}, HTTP: &http.Client{Timeout: 2 * time.Second}}
	d.Sleep = func(ctx context.Context, w time.Duration) error { d.waited = append(d.waited, w); return ctx.Err() }
	d.Tell = func(p Progress) { d.told = append(d.told, p) }
	for _, service := range services {
		d.Base[service.ID] = s.URL
	}
	return d
}

func wanted(id string) Request {
	s, _ := ServiceOf(id)
	return Request{Service: s, Latitude: 42.4461, Longitude: -76.4512, Station: "USC00304174", Years: 3}
}

// holdsWeather checks every day of a record against the invented weather.
func holdsWeather(t *testing.T, r *weather.Record, from, to civil.Date, station bool) {
	t.Helper()
	if r.Days[0].Date != from || r.Days[len(r.Days)-1].Date != to || len(r.Days) != int(to-from)+1 {
		t.Errorf("%d days from %s to %s, want %s to %s", len(r.Days), r.Days[0].Date, r.Days[len(r.Days)-1].Date, from, to)
	}
	for _, d := range r.Days {
		missing := station && d.Date.Day() == 13
		if d.HasTemp == missing || d.HasTemp && (math.Abs(float64(d.Min)-standin.Low(d.Date)) > 1e-9 || math.Abs(float64(d.Max)-standin.High(d.Date)) > 1e-9 || math.Abs(float64(d.Rain)-standin.Rain(d.Date)) > 1e-9) {
			t.Fatalf("%s is %+v, want %.2f to %.2f, %.2f mm", d.Date, d, standin.Low(d.Date), standin.High(d.Date), standin.Rain(d.Date))
		}
	}
}

func wantTrouble(t *testing.T, err error, kind Kind, holds ...string) {
	t.Helper()
	if !IsKind(err, kind) {
		t.Errorf("got %v, want trouble of kind %q", err, kind)
		return
	}
	for _, h := range holds {
		if !strings.Contains(err.Error(), h) {
			t.Errorf("%q does not say %q", err, h)
		}
	}
	var own *Error
	if errors.As(err, &own) && own.Remedy == "" && kind != Stopped {
		t.Errorf("%q says nothing to do", err)
	}
}
