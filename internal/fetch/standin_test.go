package fetch

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// The stand-in speaks the three services' forms as they were captured (doc/SOURCES.md: NASA-POWER,
// NCEI-ACCESS, OPEN-METEO) with invented weather: the figures follow from the date.

// low, high and rain are the invented weather of a day: two decimals at most.
func low(d civil.Date) float64  { return float64(d%23) - 7.5 }
func high(d civil.Date) float64 { return low(d) + 9.25 }
func rain(d civil.Date) float64 { return float64(d%4) * 1.5 }

// fault spoils one answer; it says whether it wrote all of it.
type fault func(w http.ResponseWriter, r *http.Request, body string) bool

// standIn is a local server with its memory of what it was asked.
type standIn struct {
	*httptest.Server
	mu       sync.Mutex
	faults   []fault // the next answers, nil for a good one
	body     func(r *http.Request) string
	asked    []string // years, in the order they came
	queries  []string
	agents   map[string]bool
	now, top int // requests at work, and the most at once
}

func serve(t *testing.T, body func(r *http.Request) string, faults ...fault) *standIn {
	t.Helper()
	s := &standIn{faults: faults, body: body, agents: map[string]bool{}}
	s.Server = httptest.NewServer(http.HandlerFunc(s.answer))
	t.Cleanup(s.Close)
	return s
}

func (s *standIn) answer(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	q := r.URL.Query()
	from := q.Get("start") + q.Get("startDate") + q.Get("start_date")
	s.asked = append(s.asked, from[:4])
	s.queries = append(s.queries, r.URL.RawQuery)
	s.agents[r.Header.Get("User-Agent")] = true
	s.now++
	s.top = max(s.top, s.now)
	var f fault
	if len(s.faults) > 0 {
		f, s.faults = s.faults[0], s.faults[1:]
	}
	s.mu.Unlock()
	defer func() { s.mu.Lock(); s.now--; s.mu.Unlock() }()
	body := s.body(r)
	if f != nil && f(w, r, body) {
		return
	}
	fmt.Fprint(w, body)
}

func (s *standIn) years() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return strings.Join(s.asked, " ")
}

func dates(from, to string) (a, b civil.Date) {
	parse := func(text string) civil.Date {
		if len(text) == 8 {
			text = text[:4] + "-" + text[4:6] + "-" + text[6:]
		}
		d, err := civil.Parse(text)
		if err != nil {
			panic(err)
		}
		return d
	}
	return parse(from), parse(to)
}

// powerBody is NASA POWER's CSV for the AG community, days in local solar time.
func powerBody(r *http.Request) string {
	q := r.URL.Query()
	from, to := dates(q.Get("start"), q.Get("end"))
	var b strings.Builder
	fmt.Fprintf(&b, `-BEGIN HEADER-
NASA/POWER Source Native Resolution Daily Data 
Dates (month/day/year): %s through %s in LST
Location: latitude  %s   longitude %s 
elevation from MERRA-2: Average for 0.5 x 0.625 degree lat/lon region = 512.25 meters
The value for missing source data that cannot be computed or is outside of the sources availability range: -999 
parameter(s): 
T2M_MAX                   MERRA-2 Temperature at 2 Meters Maximum (C) 
T2M_MIN                   MERRA-2 Temperature at 2 Meters Minimum (C) 
PRECTOTCORR               MERRA-2 Precipitation Corrected (mm/day) 
ALLSKY_SFC_SW_DWN         CERES SYN1deg All Sky Surface Shortwave Downward Irradiance (MJ/m^2/day) 
-END HEADER-
YEAR,DOY,T2M_MAX,T2M_MIN,PRECTOTCORR,ALLSKY_SFC_SW_DWN
`, from.Time().Format("01/02/2006"), to.Time().Format("01/02/2006"), q.Get("latitude"), q.Get("longitude"))
	for d := from; d <= to; d++ {
		fmt.Fprintf(&b, "%d,%d,%.2f,%.2f,%.2f,-999\n", d.Year(), d.YearDay(), high(d), low(d), rain(d))
	}
	return b.String()
}

// nceiBody is NCEI's daily summaries as CSV, with attributes, metric; each month's 13th is missing.
func nceiBody(r *http.Request) string {
	q := r.URL.Query()
	from, to := dates(q.Get("startDate"), q.Get("endDate"))
	var b strings.Builder
	b.WriteString(`"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"` + "\n")
	for d := from; d <= to; d++ {
		if d.Day() == 13 {
			continue
		}
		fmt.Fprintf(&b, `"%s","%s","42.449","-76.449","292.6","SOME COLLEGE, NY US","%7.1f",",,7,0700","%7.2f",",,7","%7.2f",",,7"`+"\n", q.Get("stations"), d, rain(d), high(d), low(d))
	}
	return b.String()
}

// openMeteoBody is Open-Meteo's archive as JSON.
func openMeteoBody(r *http.Request) string {
	q := r.URL.Query()
	from, to := dates(q.Get("start_date"), q.Get("end_date"))
	var days, lows, highs, rains, suns []string
	for d := from; d <= to; d++ {
		days = append(days, strconv.Quote(d.String()))
		lows = append(lows, fmt.Sprintf("%.2f", low(d)))
		highs = append(highs, fmt.Sprintf("%.2f", high(d)))
		rains = append(rains, fmt.Sprintf("%.2f", rain(d)))
		suns = append(suns, "null")
	}
	list := func(of []string) string { return strings.Join(of, ",") }
	return fmt.Sprintf(`{"latitude":%s,"longitude":%s,"generationtime_ms":0.07,"utc_offset_seconds":3600,"timezone":"Europe/Oslo","timezone_abbreviation":"CET","elevation":51.0,`+
		`"daily_units":{"time":"iso8601","temperature_2m_max":"°C","temperature_2m_min":"°C","precipitation_sum":"mm","shortwave_radiation_sum":"MJ/m²"},`+
		`"daily":{"time":[%s],"temperature_2m_max":[%s],"temperature_2m_min":[%s],"precipitation_sum":[%s],"shortwave_radiation_sum":[%s]}}`,
		q.Get("latitude"), q.Get("longitude"), list(days), list(highs), list(lows), list(rains), list(suns))
}

// shelf is a shelf in memory.
type shelf struct {
	mu     sync.Mutex
	pieces map[string]weather.Piece
	fail   error // of the next keeping
}

func (s *shelf) Pieces(_ context.Context, service, place string) (all []weather.Piece, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, p := range s.pieces {
		if p.Service == service && p.Place == place {
			all = append(all, p)
		}
	}
	return all, nil
}

func (s *shelf) KeepPiece(_ context.Context, p weather.Piece) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.fail != nil {
		return s.fail
	}
	if s.pieces == nil {
		s.pieces = map[string]weather.Piece{}
	}
	s.pieces[fmt.Sprint(p.Service, p.Place, p.Year)] = p
	return nil
}

// desk is a fetcher at a stand-in, with a clock that only adds up.
type desk struct {
	Fetcher
	shelf  *shelf
	waited []time.Duration
	told   []Progress
}

var today = civil.Of(2026, 11, 20)

func at(s *standIn) *desk {
	d := &desk{shelf: &shelf{}}
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
		if d.HasTemp == missing || d.HasTemp && (math.Abs(float64(d.Min)-low(d.Date)) > 1e-9 || math.Abs(float64(d.Max)-high(d.Date)) > 1e-9 || math.Abs(float64(d.Rain)-rain(d.Date)) > 1e-9) {
			t.Fatalf("%s is %+v, want %.2f to %.2f, %.2f mm", d.Date, d, low(d.Date), high(d.Date), rain(d.Date))
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

// Faults.

func status(code int, body string, headers ...string) fault {
	return func(w http.ResponseWriter, _ *http.Request, _ string) bool {
		for i := 0; i+1 < len(headers); i += 2 {
			w.Header().Set(headers[i], headers[i+1])
		}
		w.WriteHeader(code)
		fmt.Fprint(w, body)
		return true
	}
}

// cut sends a part of the answer and drops the connection.
func cut(share float64) fault {
	return func(w http.ResponseWriter, _ *http.Request, body string) bool {
		w.Header().Set("Content-Length", strconv.Itoa(len(body)))
		fmt.Fprint(w, body[:int(share*float64(len(body)))])
		w.(http.Flusher).Flush()
		panic(http.ErrAbortHandler)
	}
}

// short ends an answer at a line, as if it were whole.
func short(share float64) fault {
	return func(w http.ResponseWriter, _ *http.Request, body string) bool {
		end := strings.LastIndex(body[:int(share*float64(len(body)))], "\n") + 1
		fmt.Fprint(w, body[:end])
		return true
	}
}

func slow(by time.Duration) fault {
	return func(w http.ResponseWriter, r *http.Request, _ string) bool {
		select {
		case <-time.After(by):
		case <-r.Context().Done():
		}
		return false
	}
}

// changed replaces words in a good answer.
func changed(words ...string) fault {
	return func(w http.ResponseWriter, _ *http.Request, body string) bool {
		fmt.Fprint(w, strings.NewReplacer(words...).Replace(body))
		return true
	}
}

func typed(kind string) fault {
	return func(w http.ResponseWriter, _ *http.Request, _ string) bool {
		w.Header().Set("Content-Type", kind)
		return false
	}
}

const signIn = `<!DOCTYPE html><html><head><title>Café network — sign in</title></head><body>Welcome</body></html>`
