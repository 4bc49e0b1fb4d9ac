// Package standin is a stand-in for the weather services, for tests: their forms with invented weather, and every fault.
//
// It speaks the three services' forms as they were captured (doc/SOURCES.md: NASA-POWER, NCEI-ACCESS,
// OPEN-METEO) with invented weather: the figures follow from the date.
package standin

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"kailyard/internal/civil"
)

// Low is the invented minimum of a day, °C: two decimals at most, as for the others.
func Low(d civil.Date) float64 { return float64(d%23) - 7.5 }

// High is the maximum, °C.
func High(d civil.Date) float64 { return Low(d) + 9.25 }

// Rain is the rain, mm.
func Rain(d civil.Date) float64 { return float64(d%4) * 1.5 }

// Fault spoils one answer; it says whether it wrote all of it.
type Fault func(w http.ResponseWriter, r *http.Request, body string) bool

// Server is a local server with its memory of what it was asked.
type Server struct {
	*httptest.Server
	mu       sync.Mutex
	faults   []Fault // the next answers, nil for a good one
	all      Fault   // every further answer
	body     func(r *http.Request) string
	asked    []string // years, in the order they came
	queries  []string
	agents   map[string]bool
	now, top int // requests at work, and the most at once
}

// Serve starts a stand-in whose answers a function writes, with faults in the first of them; a nil fault is
// a good answer.
func Serve(t testing.TB, body func(r *http.Request) string, faults ...Fault) *Server {
	t.Helper()
	s := &Server{faults: faults, body: body, agents: map[string]bool{}}
	s.Server = httptest.NewServer(http.HandlerFunc(s.answer))
	t.Cleanup(s.Close)
	return s
}

// Spoil puts a fault in every answer from now on, nil in none.
func (s *Server) Spoil(f Fault) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.all = f
}

func (s *Server) answer(w http.ResponseWriter, r *http.Request) {
	s.mu.Lock()
	q := r.URL.Query()
	from := q.Get("start") + q.Get("startDate") + q.Get("start_date")
	s.asked = append(s.asked, from[:4])
	s.queries = append(s.queries, r.URL.RawQuery)
	s.agents[r.Header.Get("User-Agent")] = true
	s.now++
	s.top = max(s.top, s.now)
	f := s.all
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

// Years are those that were asked for, in order.
func (s *Server) Years() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return strings.Join(s.asked, " ")
}

// Forget forgets which years were asked for.
func (s *Server) Forget() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.asked = nil
}

// Queries are all that were sent.
func (s *Server) Queries() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.queries
}

// Askers is who asked, and how many requests there were at once at the most.
func (s *Server) Askers() (agents map[string]bool, top int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.agents, s.top
}

// Any answers in the form of whichever service is asked, told by the names in the query.
func Any(r *http.Request) string {
	switch q := r.URL.Query(); {
	case q.Has("stations"):
		return NCEI(r)
	case q.Has("daily"):
		return OpenMeteo(r)
	}
	return Power(r)
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

// Power is NASA POWER's CSV for the AG community, days in local solar time.
func Power(r *http.Request) string {
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
		fmt.Fprintf(&b, "%d,%d,%.2f,%.2f,%.2f,-999\n", d.Year(), d.YearDay(), High(d), Low(d), Rain(d))
	}
	return b.String()
}

// NCEI is NCEI's daily summaries as CSV, with attributes, metric; each month's 13th is missing.
func NCEI(r *http.Request) string {
	q := r.URL.Query()
	from, to := dates(q.Get("startDate"), q.Get("endDate"))
	var b strings.Builder
	b.WriteString(`"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"` + "\n")
	for d := from; d <= to; d++ {
		if d.Day() == 13 {
			continue
		}
		fmt.Fprintf(&b, `"%s","%s","42.449","-76.449","292.6","SOME COLLEGE, NY US","%7.1f",",,7,0700","%7.2f",",,7","%7.2f",",,7"`+"\n", q.Get("stations"), d, Rain(d), High(d), Low(d))
	}
	return b.String()
}

// OpenMeteo is Open-Meteo's archive as JSON.
func OpenMeteo(r *http.Request) string {
	q := r.URL.Query()
	from, to := dates(q.Get("start_date"), q.Get("end_date"))
	var days, lows, highs, rains, suns []string
	for d := from; d <= to; d++ {
		days = append(days, strconv.Quote(d.String()))
		lows = append(lows, fmt.Sprintf("%.2f", Low(d)))
		highs = append(highs, fmt.Sprintf("%.2f", High(d)))
		rains = append(rains, fmt.Sprintf("%.2f", Rain(d)))
		suns = append(suns, "null")
	}
	list := func(of []string) string { return strings.Join(of, ",") }
	return fmt.Sprintf(`{"latitude":%s,"longitude":%s,"generationtime_ms":0.07,"utc_offset_seconds":3600,"timezone":"Europe/Oslo","timezone_abbreviation":"CET","elevation":51.0,`+
		`"daily_units":{"time":"iso8601","temperature_2m_max":"°C","temperature_2m_min":"°C","precipitation_sum":"mm","shortwave_radiation_sum":"MJ/m²"},`+
		`"daily":{"time":[%s],"temperature_2m_max":[%s],"temperature_2m_min":[%s],"precipitation_sum":[%s],"shortwave_radiation_sum":[%s]}}`,
		q.Get("latitude"), q.Get("longitude"), list(days), list(highs), list(lows), list(rains), list(suns))
}

// Status answers with a status, words and headers.
func Status(code int, body string, headers ...string) Fault {
	return func(w http.ResponseWriter, _ *http.Request, _ string) bool {
		for i := 0; i+1 < len(headers); i += 2 {
			w.Header().Set(headers[i], headers[i+1])
		}
		w.WriteHeader(code)
		fmt.Fprint(w, body)
		return true
	}
}

// Cut sends a part of the answer and drops the connection.
func Cut(share float64) Fault {
	return func(w http.ResponseWriter, _ *http.Request, body string) bool {
		w.Header().Set("Content-Length", strconv.Itoa(len(body)))
		fmt.Fprint(w, body[:int(share*float64(len(body)))])
		w.(http.Flusher).Flush()
		panic(http.ErrAbortHandler)
	}
}

// Short ends an answer at a line, as if it were whole.
func Short(share float64) Fault {
	return func(w http.ResponseWriter, _ *http.Request, body string) bool {
		end := strings.LastIndex(body[:int(share*float64(len(body)))], "\n") + 1
		fmt.Fprint(w, body[:end])
		return true
	}
}

// Slow waits before an answer.
func Slow(by time.Duration) Fault {
	return func(w http.ResponseWriter, r *http.Request, _ string) bool {
		select {
		case <-time.After(by):
		case <-r.Context().Done():
		}
		return false
	}
}

// Changed replaces words in a good answer.
func Changed(words ...string) Fault {
	return func(w http.ResponseWriter, _ *http.Request, body string) bool {
		fmt.Fprint(w, strings.NewReplacer(words...).Replace(body))
		return true
	}
}

// Typed names a content type that need not be the true one.
func Typed(kind string) Fault {
	return func(w http.ResponseWriter, _ *http.Request, _ string) bool {
		w.Header().Set("Content-Type", kind)
		return false
	}
}

// SignIn is the page of a network that wants a sign-in.
const SignIn = `<!DOCTYPE html><html><head><title>Café network — sign in</title></head><body>Welcome</body></html>`
