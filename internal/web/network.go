package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strconv"

	"kailyard/internal/fetch"
	"kailyard/internal/garden"
	"kailyard/internal/weather"
)

// Fetching is weather over the network as the pages see it: one errand at a time, kept until it is settled.
type Fetching interface {
	Services() []fetch.Service
	Start(ctx context.Context, e weather.Errand) error
	GoOn(ctx context.Context) error
	Stop()
	Settle(ctx context.Context) error
	State(ctx context.Context) (fetch.State, error)
	Record(ctx context.Context) (*weather.Record, error)
}

const (
	networkAddress = "/weather/network"
	fetchAddress   = "/weather/network/fetch"
)

// weatherRoutes are the addresses where weather is fetched and kept.
func (s *site) weatherRoutes() map[string]action {
	return map[string]action{
		"GET " + networkAddress:                     s.network,
		"POST " + networkAddress:                    s.networkStart,
		"GET " + fetchAddress:                       s.fetch,
		"POST " + fetchAddress + "/on":              s.fetchGoOn,
		"POST " + fetchAddress + "/stop":            s.fetchStop,
		"POST " + fetchAddress + "/leave":           s.fetchLeave,
		"POST " + fetchAddress + "/use":             s.fetchUse,
		"GET " + keptAddress:                        s.keptWeather,
		"POST " + keptAddress + "/record/{id}/use":  s.keptUse,
		"GET " + keptAddress + "/record/{id}/drop":  s.keptAsk,
		"POST " + keptAddress + "/record/{id}/drop": s.keptDrop,

		"GET " + keptAddress + "/fetched/{service}/{place}/drop":  s.fetchedAsk,
		"POST " + keptAddress + "/fetched/{service}/{place}/drop": s.fetchedDrop,
	}
}

// customaryYears are the whole years asked for unless the person says otherwise.
const customaryYears = 31

// networkPage asks which service to ask for weather.
type networkPage struct {
	frame
	Under    string // what is asked for already
	Services []serviceChoice
	Form     form
	Back     navLink
}

type serviceChoice struct {
	ID, Name, Covers, Terms, TermsAt, Credit string
	Chosen                                   bool
}

func networkFields(site garden.Site) []*field {
	f := []*field{
		{Name: "latitude", Label: "Latitude", Kind: "text", Hint: "The site's, unless you change it. Degrees north; south is negative."},
		{Name: "longitude", Label: "Longitude", Kind: "text", Hint: "Degrees east of Greenwich; west is negative."},
		{Name: "station", Label: "Station, for NOAA NCEI", Kind: "text", Hint: "Its eleven characters in GHCN-Daily, for example USC00304174."},
		{Name: "years", Label: "Whole years", Kind: "text", Value: strconv.Itoa(customaryYears), Hint: "Besides the running one. Thirty are customary.", Required: true},
		{Name: "until", Label: "The last year", Kind: "text", Hint: "Empty: the running one. For a station that was closed, its last."},
	}
	if site.Latitude != 0 || site.Longitude != 0 {
		f[0].Value, f[1].Value = degrees(site.Latitude), degrees(site.Longitude)
	}
	return f
}

// fetching is the way to the services, where there is one.
func (s *site) fetching() (Fetching, error) {
	if s.Fetching == nil || s.Fit == nil || s.TakeRecord == nil {
		return nil, missing("way to fetch weather here; do it in the shell: kailyard weather --help tells how")
	}
	return s.Fetching, nil
}

func (s *site) networkPage(r *http.Request, chosen string, fields []*field, whole ...string) (p networkPage, err error) {
	f, err := s.fetching()
	if err != nil {
		return p, err
	}
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return p, err
	}
	state, err := f.State(r.Context())
	if err != nil {
		return p, err
	}
	if fields == nil {
		fields = networkFields(g.Site)
	}
	p = networkPage{
		frame: s.gardenFrame("Weather over the network", r, g), Back: navLink{Href: recordAddress, Label: "A file or a built-in place instead"},
		Form: form{Action: networkAddress, Submit: "Ask for it", Fields: fields, Whole: whole},
	}
	for _, v := range f.Services() {
		p.Services = append(p.Services, serviceChoice{v.ID, v.Name, v.Covers, v.Terms, v.TermsAt, v.Credit, v.ID == chosen})
	}
	if state.Errand != nil {
		p.Under = standsSays(state)
	}
	return p, nil
}

func (s *site) network(w http.ResponseWriter, r *http.Request) error {
	p, err := s.networkPage(r, "power", nil)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "network", p)
}

// networkStart begins the errand that the form asks for.
func (s *site) networkStart(w http.ResponseWriter, r *http.Request) error {
	f, err := s.fetching()
	if err != nil {
		return err
	}
	a := answers{r: r, fields: networkFields(garden.Site{})}
	e, whole := a.errand(f.Services())
	if a.wrong() == 0 && len(whole) == 0 {
		err = f.Start(r.Context(), e)
		var own *fetch.Error
		switch {
		case err == nil:
			return seeOther(w, r, fetchAddress)
		case errors.As(err, &own) && own.Kind == fetch.UnderWay:
			return problem{refused, sentence(own.Says, ""), sentence(own.Remedy, "")}
		case errors.As(err, &own):
			whole = append(whole, troubleSays(own).Says)
		default:
			return err
		}
	}
	p, err := s.networkPage(r, r.PostFormValue("service"), a.fields, whole...)
	if err != nil {
		return err
	}
	p.Form.Wrong = a.wrong()
	return s.render(w, http.StatusUnprocessableEntity, "network", p)
}

// errand reads what the form asks for. What is of no use to the service chosen is not looked at.
func (a *answers) errand(services []fetch.Service) (e weather.Errand, whole []string) {
	var service fetch.Service
	for _, v := range services {
		if v.ID == a.r.PostFormValue("service") {
			service = v
		}
	}
	if service.ID == "" {
		whole = append(whole, "Choose one of the services.")
	}
	e.Service = service.ID
	e.Years, e.Until = a.whole("years"), a.whole("until")
	station := a.text("station")
	latitude, longitude := a.text("latitude"), a.text("longitude")
	switch {
	case service.ID == "":
	case service.ByStation && station == "":
		a.field("station").Error = service.Name + " is asked by a station's ID: give it, or choose another service."
	case service.ByStation:
		e.Station = station
	case latitude == "" || longitude == "":
		a.field("latitude").Error = service.Name + " is asked by coordinates: give both."
	default:
		e.Latitude, e.Longitude = a.number("latitude"), a.number("longitude")
	}
	within := func(name string, v, low, high float64, says string) {
		if f := a.field(name); f.Error == "" && !(low <= v && v <= high) {
			f.Error = says
		}
	}
	within("latitude", e.Latitude, -90, 90, "Latitudes run from −90 to 90.")
	within("longitude", e.Longitude, -180, 180, "Longitudes run from −180 to 180.")
	within("years", float64(e.Years), 1, 120, "Ask for 1 to 120 years.")
	if a.field("until").Value != "" {
		within("until", float64(e.Until), 1700, 2200, "Give a year in four digits, or leave it empty.")
	}
	return e, whole
}

// trouble is what went wrong with a service, and what to do.
type trouble struct{ Says, Remedy string }

// remedies are what to do on a page about each kind of trouble; the shell has its own words.
var remedies = map[fetch.Kind]string{
	fetch.Offline:   "Check the network, then go on. A file that was downloaded elsewhere serves as well.",
	fetch.Misplaced: "Correct it and ask again.",
	fetch.NoStation: "Check the station's ID. If it was closed earlier, give its last year; or choose another station.",
	fetch.Refused:   "Check the coordinates, or the station and the years, and ask again.",
	fetch.Changed:   "Go on once. Where it stays so, the service has changed its form: try another service, a newer Kailyard, or a file downloaded by hand.",
	fetch.WebPage:   "A network that wants a sign-in, or work on the service: open any page in the browser, sign in, then go on.",
	fetch.CutOff:    "Go on later.",
	fetch.TooLarge:  "The service may have changed: try another, or a file downloaded by hand.",
}

// troubleSays is trouble in the page's words.
func troubleSays(err error) trouble {
	var own *fetch.Error
	var store told
	switch {
	case fetch.WasStopped(err):
		return trouble{Says: "It was stopped."}
	case errors.As(err, &own) && own.Kind == fetch.Busy:
		return trouble{sentence(own.Says, ""), "Go on " + laterSays(own) + "."}
	case errors.As(err, &own):
		return trouble{sentence(own.Says, ""), remedies[own.Kind]}
	case errors.As(err, &store):
		_, says, remedy := store.Told()
		return trouble{sentence(says, ""), sentence(remedy, "")}
	}
	return trouble{Says: sentence(err.Error(), "")}
}

func laterSays(e *fetch.Error) string {
	switch minutes := e.Wait.Minutes(); {
	case minutes >= 120:
		return fmt.Sprintf("in %.0f hours", e.Wait.Hours())
	case minutes >= 2:
		return fmt.Sprintf("in %.0f minutes", minutes)
	}
	return "later: nothing is asked until you do"
}
