package fetch

import (
	"context"
	"errors"
	"fmt"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"syscall"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/fetch/standin"
	"kailyard/internal/weather"
)

// Each service, asked in its own form, gives the invented weather back, days and all.
func TestServices(t *testing.T) {
	for _, c := range []struct {
		id      string
		body    func(*http.Request) string
		holds   []string // of the newest year's query
		station bool
		height  float64
		credit  string
	}{
		{"power", standin.Power, []string{"start=20260101&", "end=20261116", "parameters=T2M_MAX,T2M_MIN,PRECTOTCORR,ALLSKY_SFC_SW_DWN", "community=ag", "latitude=42.45&", "longitude=-76.45&", "format=csv", "time-standard=LST"}, false, 512.25, "NASA Langley Research Center"},
		{"ncei", standin.NCEI, []string{"dataset=daily-summaries", "stations=USC00304174", "startDate=2026-01-01&", "endDate=2026-11-17&", "dataTypes=TMAX,TMIN,PRCP", "units=metric", "format=csv", "includeAttributes=true"}, true, 292.6, "NOAA"},
		{"open-meteo", standin.OpenMeteo, []string{"start_date=2026-01-01&", "end_date=2026-11-14&", "daily=temperature_2m_max,temperature_2m_min,precipitation_sum,shortwave_radiation_sum", "timezone=auto", "latitude=42.45&"}, false, 51, "CC BY 4.0"},
	} {
		t.Run(c.id, func(t *testing.T) {
			s := serve(t, c.body)
			d := at(s)
			r := wanted(c.id)
			got, err := d.Fetch(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			holdsWeather(t, got, civil.Of(2023, 1, 1), today.Add(-r.Service.Late), c.station)
			if s.Years() != "2026 2025 2024 2023" {
				t.Errorf("asked for %s", s.Years())
			}
			for _, h := range c.holds {
				if !strings.Contains(s.Queries()[0]+"&", h) {
					t.Errorf("the query %s does not hold %s", s.Queries()[0], h)
				}
			}
			if agents, top := s.Askers(); len(agents) != 1 || !agents[userAgent] || top != 1 {
				t.Errorf("asked as %v, %d at once", agents, top)
			}
			if len(d.waited) != 3 || d.waited[0] != r.Service.Pause {
				t.Errorf("paused %v", d.waited)
			}
			if float64(got.Station.Elevation) != c.height || !got.Station.Levelled || got.Station.Name == "" || got.Origin != weather.Measured {
				t.Errorf("the station is %+v", got.Station)
			}
			if text := fmt.Sprint(got.Notes); !strings.Contains(text, c.credit) {
				t.Errorf("the notes do not name the source: %s", text)
			}
			if first, last := d.told[0], d.told[len(d.told)-1]; first.Of != 4 || first.Kept != 0 || last.Done != 4 || last.Year != 2023 || last.Days < 350 {
				t.Errorf("told %+v … %+v", first, last)
			}
		})
	}
}

// Asked again on the same day nothing is asked for; on a later day only what may have changed.
func TestAskedAgain(t *testing.T) {
	s := serve(t, standin.Power)
	d := at(s)
	r := wanted("power")
	fetch := func(want string) {
		t.Helper()
		s.Forget()
		if _, err := d.Fetch(t.Context(), r); err != nil {
			t.Fatal(err)
		}
		if s.Years() != want {
			t.Errorf("on %s asked for %q, want %q", d.Today, s.Years(), want)
		}
	}
	fetch("2026 2025 2024 2023")
	fetch("")
	d.Today++
	fetch("2026")
	d.Today = civil.Of(2027, 1, 3) // the new year has nothing yet
	fetch("2026")
	d.Today = civil.Of(2027, 2, 1)
	fetch("2027 2026")
	d.Today = civil.Of(2027, 4, 20)
	fetch("2027 2026") // once more after its three months
	d.Today++
	fetch("2027")
	r.Years = 5
	d.Today++
	fetch("2027 2022") // from further back
	r.Again = true
	fetch("2027 2026 2025 2024 2023 2022")
	r.Again, r.Offline = false, true
	d.Today++
	fetch("")
	r.Offline, r.Longitude = false, 12 // another place
	fetch("2027 2026 2025 2024 2023 2022")
}

// Whatever stops a fetch, the years that arrived stay, and it goes on from there.
func TestAStopKeepsWholeYears(t *testing.T) {
	s := serve(t, standin.OpenMeteo)
	d := at(s)
	r := wanted("open-meteo")
	ctx, stop := context.WithCancel(t.Context())
	d.Tell = func(p Progress) {
		if p.Done == 2 {
			stop()
		}
	}
	_, err := d.Fetch(ctx, r)
	wantTrouble(t, err, Stopped, "stopped; 2 of 4 years are kept", "the same command goes on from there", "--offline")
	if errors.Is(err, context.Canceled) {
		t.Error("a stop must not pass as done")
	}
	r.Offline = true
	half, err := d.Fetch(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	holdsWeather(t, half, civil.Of(2025, 1, 1), civil.Of(2026, 11, 14), false)
	if text := fmt.Sprint(half.Notes); !strings.Contains(text, "2 of the 4 years from 2023 to 2026 are not there: they were not asked for") {
		t.Errorf("the notes do not tell of the missing years: %s", text)
	}
	r.Offline = false
	s.Forget()
	whole, err := d.Fetch(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	holdsWeather(t, whole, civil.Of(2023, 1, 1), civil.Of(2026, 11, 14), false)
	if s.Years() != "2024 2023" {
		t.Errorf("asked for %s", s.Years())
	}
}

// A stop in the middle of an answer keeps nothing of it.
func TestAStopInTheMiddleOfAnAnswer(t *testing.T) {
	begun := make(chan bool)
	s := serve(t, standin.Power, nil, func(w http.ResponseWriter, r *http.Request, body string) bool {
		fmt.Fprint(w, body[:len(body)/2])
		w.(http.Flusher).Flush()
		close(begun)
		<-r.Context().Done()
		return true
	})
	d := at(s)
	ctx, stop := context.WithCancel(t.Context())
	go func() { <-begun; stop() }()
	_, err := d.Fetch(ctx, wanted("power"))
	wantTrouble(t, err, Stopped, "1 of 4 years are kept")
	if len(d.shelf.All()) != 1 {
		t.Errorf("%d pieces on the shelf", len(d.shelf.All()))
	}
}

func TestAFullShelf(t *testing.T) {
	d := at(serve(t, standin.Power))
	d.shelf.Fail(errors.New("no room left"))
	if _, err := d.Fetch(t.Context(), wanted("power")); err == nil || err.Error() != "no room left" {
		t.Errorf("got %v", err)
	}
}

// Troubles that pass: the year is asked for again after a wait, and comes whole.
func TestTroublesThatPass(t *testing.T) {
	date := time.Date(2026, 11, 20, 12, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name   string
		faults []fault
		waits  []time.Duration
	}{
		{"500 then fine", []fault{status(500, "oops")}, []time.Duration{20 * time.Second}},
		{"503 twice", []fault{status(503, ""), status(502, standin.SignIn)}, []time.Duration{20 * time.Second, 80 * time.Second}},
		{"429 with seconds", []fault{status(429, "", "Retry-After", "37")}, []time.Duration{37 * time.Second}},
		{"429 with a date", []fault{status(429, "", "Retry-After", date.Add(2*time.Minute).Format(http.TimeFormat), "Date", date.Format(http.TimeFormat))}, []time.Duration{2 * time.Minute}},
		{"429 by the minute", []fault{status(429, `{"error":true,"reason":"Minutely API request limit exceeded. Please try again in one minute."}`)}, []time.Duration{20 * time.Second}},
		{"503 with seconds", []fault{status(503, "", "Retry-After", "5")}, []time.Duration{5 * time.Second}},
		{"cut off", []fault{cut(0.5)}, []time.Duration{5 * time.Second}},
		{"cut off before a word", []fault{cut(0)}, []time.Duration{5 * time.Second}},
		{"too short", []fault{short(0.7)}, []time.Duration{5 * time.Second}},
		{"damaged", []fault{changed("2025,100,", "2025,4x0,")}, []time.Duration{5 * time.Second}},
		{"empty", []fault{status(200, "")}, []time.Duration{5 * time.Second}},
		{"slow", []fault{slow(300 * time.Millisecond)}, []time.Duration{20 * time.Second}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := serve(t, standin.Power, append([]fault{nil}, c.faults...)...)
			d := at(s)
			d.HTTP = &http.Client{Timeout: 150 * time.Millisecond}
			r := wanted("power")
			got, err := d.Fetch(t.Context(), r)
			if err != nil {
				t.Fatal(err)
			}
			holdsWeather(t, got, civil.Of(2023, 1, 1), civil.Of(2026, 11, 16), false)
			var waits []time.Duration
			for _, w := range d.waited {
				if w != r.Service.Pause {
					waits = append(waits, w)
				}
			}
			if fmt.Sprint(waits) != fmt.Sprint(c.waits) {
				t.Errorf("waited %v, want %v", waits, c.waits)
			}
		})
	}
}

// Troubles that stay: one sentence that says what it is and what to do, after few tries, and the
// years before them kept.
func TestTroublesThatStay(t *testing.T) {
	all := func(f fault) []fault { return []fault{nil, f, f, f, f, f, f, f} }
	for _, c := range []struct {
		name  string
		id    string
		f     fault
		kind  Kind
		says  []string
		tries int // for the year in trouble
	}{
		{"always 500", "power", status(500, ""), Busy, []string{"NASA POWER has trouble of its own (500", "run the same command later", "1 of 4 years are kept"}, 4},
		{"wait for an hour", "power", status(429, "", "Retry-After", "2870"), Busy, []string{"come again later", "in 48 minutes"}, 1},
		{"wait for a day", "power", status(429, "", "Retry-After", "80000"), Busy, []string{"in 22 hours"}, 1},
		{"hourly limit", "open-meteo", status(429, `{"error":true,"reason":"Hourly API request limit exceeded. Please try again in the next hour."}`), Busy, []string{"too many requests", "Hourly API request limit exceeded"}, 1},
		{"daily limit", "open-meteo", status(429, `{"reason":"Daily API request limit exceeded. Please try again tomorrow."}`), Busy, []string{"tomorrow"}, 1},
		{"always too many", "ncei", status(429, ""), Busy, []string{"NOAA NCEI asks to come again later"}, 4},
		{"refused by Open-Meteo", "open-meteo", status(400, `{"error":true,"reason":"Cannot initialize WeatherVariable from invalid String value tempeture_2m for key hourly"}`), Refused, []string{"Open-Meteo refused the request for 42.45° N, 76.45° W: Cannot initialize", "coordinates"}, 1},
		{"refused by POWER", "power", status(422, `{"header":{"title":"x"},"messages":["The longitude is out of range.\nSecond line"]}`), Refused, []string{"The longitude is out of range. Second line"}, 1},
		{"refused in another form", "power", status(422, `{"detail":[{"loc":["query"],"msg":"value is not a valid float"}]}`), Refused, []string{"value is not a valid float"}, 1},
		{"refused by NCEI", "ncei", status(400, `{"errorCode":400,"errorMessage":"Validation Error","errors":[{"field":"stations","message":"no such station"}]}`), Refused, []string{"refused the request for station USC00304174: Validation Error no such station"}, 1},
		{"forbidden with a page", "power", status(403, standin.SignIn), Refused, []string{"(403 Forbidden)"}, 1},
		{"gone", "power", status(404, standin.SignIn), Changed, []string{"is not where it was (404", "try another"}, 1},
		{"a web page", "power", status(200, standin.SignIn, "Content-Type", "text/csv"), WebPage, []string{"a web page instead of data (“Café network — sign in”)", "sign-in"}, 1},
		{"a renamed column", "power", changed("T2M_MIN,", "T2MLOW,"), Changed, []string{"the answer of NASA POWER cannot be read", "T2M_MIN", "changed its form", "newer kailyard"}, 4},
		{"a renamed variable", "open-meteo", changed("temperature_2m_min", "temperature_low"), Changed, []string{"temperature_2m_min and temperature_2m_max are not both there"}, 4},
		{"a renamed element", "ncei", changed(`"TMIN"`, `"T_LOW"`), Changed, []string{"the columns TMIN and TMAX are not both there"}, 4},
		{"nothing but fill values", "power", fills, Changed, []string{"no day has both a minimum and a maximum temperature"}, 4},
		{"an unknown unit", "open-meteo", changed("°C", "°Ré"), Changed, []string{"°Ré"}, 4},
		{"another service's form", "power", func(w http.ResponseWriter, r *http.Request, _ string) bool {
			fmt.Fprint(w, "date,tmin_c,tmax_c,rain_mm\n2025-01-01,1,2,3\n")
			return true
		}, Changed, []string{"in the form of plain CSV"}, 4},
		{"another place", "open-meteo", changed(`"latitude":42.45`, `"latitude":52.45`), Changed, []string{"answers for 52.45, -76.45 where 42.45, -76.45 was asked for"}, 1},
		{"another station", "ncei", changed("USC00304174", "USC00304175"), Changed, []string{"with station USC00304175 where USC00304174"}, 1},
		{"other days", "power", changed("2025,", "2005,"), Changed, []string{"with the days 2005-01-01 to 2005-12-31 where 2025-01-01"}, 1},
		{"always short", "power", short(0.7), CutOff, []string{"has only the days 2025-01-01 to 2025-"}, 4},
		{"always cut off", "ncei", cut(0.3), CutOff, []string{"ended in the middle"}, 4},
		{"endless", "power", func(w http.ResponseWriter, _ *http.Request, body string) bool {
			for range 200 {
				fmt.Fprint(w, strings.Repeat(body, 2))
			}
			return true
		}, TooLarge, []string{"more than 4 MB for one year"}, 1},
		{"control characters", "power", status(400, "bad\x1b[31m\x00request\xff"), Refused, []string{"bad [31m request"}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			body := map[string]func(*http.Request) string{"power": standin.Power, "ncei": standin.NCEI, "open-meteo": standin.OpenMeteo}[c.id]
			s := serve(t, body, all(c.f)...)
			d := at(s)
			_, err := d.Fetch(t.Context(), wanted(c.id))
			wantTrouble(t, err, c.kind, c.says...)
			if tries := strings.Count(s.Years(), "2025"); tries != c.tries {
				t.Errorf("the year in trouble was asked for %d times, want %d", tries, c.tries)
			}
			if len(d.shelf.All()) != 1 {
				t.Errorf("%d pieces on the shelf, want the one before the trouble", len(d.shelf.All()))
			}
			if strings.ContainsAny(err.Error(), "\n\x1b\x00") {
				t.Errorf("%q is not one clean line", err)
			}
			if total := sum(d.waited); total > 12*time.Minute {
				t.Errorf("waited %v", total)
			}
		})
	}
}

func sum(of []time.Duration) (total time.Duration) {
	for _, w := range of {
		total += w
	}
	return total
}

// fills makes every figure of POWER's a fill value.
func fills(w http.ResponseWriter, _ *http.Request, body string) bool {
	head, days, _ := strings.Cut(body, "ALLSKY_SFC_SW_DWN\n")
	fmt.Fprint(w, head, "ALLSKY_SFC_SW_DWN\n")
	for line := range strings.Lines(days) {
		f := strings.Split(line, ",")
		fmt.Fprintf(w, "%s,%s,-999,-999,-999,-999\n", f[0], f[1])
	}
	return true
}

// Fill values at the end of the running year are days that are not there yet, and no more than that.
func TestFillValues(t *testing.T) {
	late := func(w http.ResponseWriter, _ *http.Request, body string) bool {
		lines := strings.SplitAfter(body, "\n")
		for i := len(lines) - 9; i < len(lines)-1; i++ {
			f := strings.Split(lines[i], ",")
			lines[i] = f[0] + "," + f[1] + ",-999,-999,-999,-999\n"
		}
		fmt.Fprint(w, strings.Join(lines, ""))
		return true
	}
	d := at(serve(t, standin.Power, late))
	got, err := d.Fetch(t.Context(), wanted("power"))
	if err != nil {
		t.Fatal(err)
	}
	holdsWeather(t, got, civil.Of(2023, 1, 1), civil.Of(2026, 11, 8), false)

	d = at(serve(t, standin.Power, fills)) // the first days of a year: nothing there yet
	d.Today = civil.Of(2027, 1, 7)
	got, err = d.Fetch(t.Context(), wanted("power"))
	if err != nil {
		t.Fatal(err)
	}
	holdsWeather(t, got, civil.Of(2024, 1, 1), civil.Of(2026, 12, 31), false)
}

// The type that an answer says it has does not count: its content does.
func TestContentTypesDoNotCount(t *testing.T) {
	for _, kind := range []string{"application/octet-stream", "text/html; charset=utf-8", "image/png", "application/json"} {
		d := at(serve(t, standin.NCEI, typed(kind), typed(kind)))
		got, err := d.Fetch(t.Context(), wanted("ncei"))
		if err != nil {
			t.Fatalf("%s: %v", kind, err)
		}
		holdsWeather(t, got, civil.Of(2023, 1, 1), civil.Of(2026, 11, 17), true)
	}
}

// A station that closed, one that paused, and one that never was.
func TestStationsWithoutReadings(t *testing.T) {
	from := func(first, last string) func(*http.Request) string {
		return func(r *http.Request) string {
			if y := r.URL.Query().Get("startDate")[:4]; y < first || y > last {
				return ""
			}
			return standin.NCEI(r)
		}
	}
	r := wanted("ncei")
	r.Years = 30
	s := serve(t, from("1900", "1899"))
	d := at(s)
	_, err := d.Fetch(t.Context(), r)
	wantTrouble(t, err, NoStation, "NOAA NCEI has no temperatures of station USC00304174 from 2022 to 2026", "--until YEAR", "station's ID")
	if s.Years() != "2026 2025 2024 2023 2022" {
		t.Errorf("asked for %s", s.Years())
	}
	s = serve(t, from("1950", "2010"))
	d = at(s)
	r.Until, r.Years = 2012, 4
	got, err := d.Fetch(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	holdsWeather(t, got, civil.Of(2008, 1, 1), civil.Of(2010, 12, 31), true)
	if text := fmt.Sprint(got.Notes); !strings.Contains(text, "2 of the 5 years from 2008 to 2012 are not there: NOAA NCEI has nothing for them") {
		t.Errorf("notes: %s", text)
	}
	s.Forget()
	if _, err = d.Fetch(t.Context(), r); err != nil || s.Years() != "" {
		t.Errorf("asked again for %q, %v", s.Years(), err)
	}
	s = serve(t, from("2024", "2026")) // a young one
	d = at(s)
	r.Until, r.Years = 0, 60
	if _, err = d.Fetch(t.Context(), r); err != nil || len(strings.Fields(s.Years())) != 3+emptyPast {
		t.Errorf("a station that began in 2024 was asked for %d years, %v", len(strings.Fields(s.Years())), err)
	}
	header := func(r *http.Request) string { return strings.SplitAfter(standin.NCEI(r), "\n")[0] }
	_, err = at(serve(t, header)).Fetch(t.Context(), wanted("ncei")) // only a header
	wantTrouble(t, err, NoStation)
}

func TestWhatNoServiceCouldAnswer(t *testing.T) {
	s := serve(t, standin.Power)
	for name, change := range map[string]func(*Request){
		"is no place on Earth":       func(r *Request) { r.Latitude = 91 },
		"181 is no place":            func(r *Request) { r.Longitude = 181 },
		"0 years":                    func(r *Request) { r.Years = 0 },
		"has nothing before 1981":    func(r *Request) { r.Until = 1975 },
		"not a station's ID":         func(r *Request) { r.Service, _ = ServiceOf("ncei"); r.Station = "Ithaca" },
		"\"\" is not a station's ID": func(r *Request) { r.Service, _ = ServiceOf("ncei"); r.Station = "" },
		"no service is named":        func(r *Request) { r.Service = Service{} },
	} {
		r := wanted("power")
		change(&r)
		_, err := at(s).Fetch(t.Context(), r)
		wantTrouble(t, err, Misplaced, name)
	}
	if s.Years() != "" {
		t.Errorf("somebody was asked: %s", s.Years())
	}
	r := wanted("power")
	r.Until, r.Years = 1983, 30 // only what there is
	if _, err := at(s).Fetch(t.Context(), r); err != nil || s.Years() != "1983 1982 1981" {
		t.Errorf("asked for %s, %v", s.Years(), err)
	}
}

func TestNobodyThere(t *testing.T) {
	s := httptest.NewServer(http.NotFoundHandler())
	s.Close() // its port now refuses
	d := at(&standin.Server{Server: s})
	_, err := d.Fetch(t.Context(), wanted("power"))
	wantTrouble(t, err, Offline, "NASA POWER cannot be reached", "refused", "check the network", "kailyard weather FILE")
	if len(d.waited) != 0 {
		t.Errorf("waited %v for a network that is not there", d.waited)
	}
	for says, trouble := range map[string]error{
		"no address is found for nowhere.invalid": &net.DNSError{Err: "no such host", Name: "nowhere.invalid", IsNotFound: true},
		"no address is found for elsewhere":       &net.DNSError{Err: "timeout", Name: "elsewhere", IsTimeout: true},
		"network is unreachable":                  &net.OpError{Op: "dial", Net: "tcp", Err: os.NewSyscallError("connect", syscall.ENETUNREACH)},
		"i/o timeout":                             &net.OpError{Op: "dial", Net: "tcp", Err: os.ErrDeadlineExceeded},
	} {
		d.waited = nil
		d.HTTP = &http.Client{Transport: &http.Transport{DialContext: func(context.Context, string, string) (net.Conn, error) { return nil, trouble }}}
		_, err = d.Fetch(t.Context(), wanted("power"))
		wantTrouble(t, err, Offline, "NASA POWER cannot be reached ("+says, "); check the network")
		if strings.Contains(err.Error(), "latitude") || len(d.waited) != 0 {
			t.Errorf("%q repeats the whole address, or it waited %v", err, d.waited)
		}
	}
	r := wanted("power")
	r.Offline = true
	_, err = d.Fetch(t.Context(), r)
	wantTrouble(t, err, Offline, "the book keeps no weather of NASA POWER for 42.45° N, 76.45° W yet", "without --offline")
}

// Sent on within reason; never from an encrypted address to a plain one.
func TestSentOn(t *testing.T) {
	to := serve(t, standin.Power)
	from := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		http.Redirect(w, r, to.URL+"/?"+r.URL.RawQuery, http.StatusFound)
	}))
	defer from.Close()
	d := at(to)
	d.Base["power"] = from.URL
	d.HTTP = nil
	if _, err := d.Fetch(t.Context(), wanted("power")); err != nil {
		t.Error(err)
	}
	ask := func(address string) *http.Request {
		r, err := http.NewRequest(http.MethodGet, address, nil)
		if err != nil {
			t.Fatal(err)
		}
		return r
	}
	if err := sameCare(ask("http://x.invalid"), []*http.Request{ask("https://x.invalid")}); err == nil {
		t.Error("an encrypted request was sent on in plain")
	}
	round := ask("https://x.invalid")
	if err := sameCare(round, []*http.Request{round, round, round, round, round}); err == nil {
		t.Error("sent on for ever")
	}
}

// Every service says on what terms, where they stand, and whom to name.
func TestTerms(t *testing.T) {
	for _, s := range Services() {
		if s.Terms == "" || s.Credit == "" || s.Covers == "" || !strings.HasPrefix(s.TermsAt, "https://") || !strings.HasPrefix(s.Base, "https://") || s.Pause < time.Second {
			t.Errorf("%+v", s)
		}
	}
}

func TestPlacesAcrossTheDateLine(t *testing.T) {
	for _, c := range []struct {
		latitude, longitude, stationLatitude, stationLongitude float64
		near                                                   bool
	}{{10, 179.9, 10, -179.9, true}, {10, -179.9, 10.4, 179.7, true}, {10, 0.2, 10, 359.9, true}, {10, 5, 10, 8, false}, {89, 5, 89, 100, true}, {10, 5, 12, 5, false}} {
		s := weather.Station{Latitude: c.stationLatitude, Longitude: c.stationLongitude}
		if got := near(s, Request{Latitude: c.latitude, Longitude: c.longitude}); got != c.near {
			t.Errorf("%+v: %v", c, got)
		}
	}
	r := Request{Latitude: -0.001, Longitude: 180}
	if r.place() != "0.00,180.00" || r.where() != "0.00° S, 180.00° E" && r.where() != "0.00° N, 180.00° E" {
		t.Errorf("%s, %s", r.place(), r.where())
	}
}

func FuzzAnswer(f *testing.F) {
	d := &Fetcher{Today: today}
	ask, _ := http.NewRequest(http.MethodGet, "http://x.invalid/?"+wanted("power").Service.query(wanted("power"), civil.Of(2025, 1, 1), civil.Of(2025, 1, 9)).Encode(), nil)
	f.Add([]byte(standin.Power(ask)))
	f.Add([]byte(standin.SignIn))
	f.Add([]byte(`{"reason":1,"messages":{"a":[]}}`))
	f.Add([]byte("<TİTLE>\xff</TITLE"))
	f.Fuzz(func(t *testing.T, body []byte) {
		for _, id := range []string{"power", "ncei", "open-meteo"} {
			a := asker{Fetcher: d, request: wanted(id)}
			record, failure := a.read(body, civil.Of(2025, 1, 1), civil.Of(2025, 1, 9))
			if record != nil && (failure != nil || record.Days[0].Date < civil.Of(2025, 1, 1) || len(record.Days) > 9) {
				t.Errorf("%v", failure)
			}
			if text := reason(body); strings.ContainsAny(text, "\n\x1b") || len([]rune(text)) > 161 {
				t.Errorf("%q", text)
			}
		}
	})
}
