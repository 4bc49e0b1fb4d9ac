package fetch

import (
	"fmt"
	"math"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"time"

	"kailyard/internal/civil"
)

// Service is an open service of daily weather.
type Service struct {
	ID        string
	Name      string
	Base      string        // the address without the query
	Covers    string        // what it has, for the person
	Terms     string        // on what terms, as far as is known
	Credit    string        // what a record made of it says of its origin
	TermsAt   string        // where its own terms stand
	FirstYear int           // the first it has
	Late      int           // days until a day is there
	Pause     time.Duration // between requests
	ByStation bool          // asked by a station's ID, not by coordinates

	source string // the reader's name for its format
	query  func(r Request, from, to civil.Date) url.Values
}

// services in the order they are shown. The request forms are those of the services' own
// descriptions. Source: NASA-POWER; NCEI-ACCESS; OPEN-METEO.
var services = []Service{
	{
		ID: "power", Name: "NASA POWER", Base: "https://power.larc.nasa.gov/api/temporal/daily/point",
		Covers:  "by coordinates, worldwide, from 1981; a model's values for cells of about 50 km",
		Terms:   "free; the project asks to be named where its data are used",
		Credit:  "The data were obtained from the NASA Langley Research Center (LaRC) POWER Project, funded through the NASA Earth Science/Applied Science Program.",
		TermsAt: "https://power.larc.nasa.gov/docs/referencing/", FirstYear: 1981, Late: 4, Pause: 2 * time.Second, source: "NASA POWER",
		query: func(r Request, from, to civil.Date) url.Values {
			return url.Values{
				"parameters": {"T2M_MAX,T2M_MIN,PRECTOTCORR,ALLSKY_SFC_SW_DWN,T2MDEW,RH2M,WS2M"}, "community": {"ag"}, "longitude": {r.degrees(r.Longitude)}, "latitude": {r.degrees(r.Latitude)},
				"start": {compact(from)}, "end": {compact(to)}, "format": {"csv"}, "time-standard": {"LST"},
			}
		},
	},
	{
		ID: "ncei", Name: "NOAA NCEI", Base: "https://www.ncei.noaa.gov/access/services/data/v1",
		Covers:  "by station, measured: most of the United States, many elsewhere; GHCN-Daily",
		Terms:   "U.S. government data, in the public domain; readings from other countries may have conditions for commercial use",
		Credit:  "Daily summaries of NOAA's National Centers for Environmental Information (GHCN-Daily).",
		TermsAt: "https://www.ncei.noaa.gov/products/land-based-station/global-historical-climatology-network-daily", FirstYear: 1750, Late: 3, Pause: 2 * time.Second, ByStation: true, source: "NCEI daily summaries",
		query: func(r Request, from, to civil.Date) url.Values {
			return url.Values{
				"dataset": {"daily-summaries"}, "stations": {r.Station}, "startDate": {from.String()}, "endDate": {to.String()}, "dataTypes": {"TMAX,TMIN,PRCP"},
				"units": {"metric"}, "format": {"csv"}, "includeAttributes": {"true"}, "includeStationName": {"true"}, "includeStationLocation": {"true"},
			}
		},
	},
	{ // a year counts as 26 calls of the 600 a minute that are free: hence the longer pause
		ID: "open-meteo", Name: "Open-Meteo", Base: "https://archive-api.open-meteo.com/v1/archive",
		Covers:  "by coordinates, worldwide, from 1940; a model's values for cells of about 10 to 25 km, moved to the ground's height",
		Terms:   "free for non-commercial use, fewer than 10,000 calls a day; data under CC BY 4.0, to be named with a link",
		Credit:  "Weather data by Open-Meteo.com (https://open-meteo.com/), CC BY 4.0.",
		TermsAt: "https://open-meteo.com/en/terms", FirstYear: 1940, Late: 6, Pause: 4 * time.Second, source: "Open-Meteo archive",
		query: func(r Request, from, to civil.Date) url.Values {
			return url.Values{
				"latitude": {r.degrees(r.Latitude)}, "longitude": {r.degrees(r.Longitude)}, "start_date": {from.String()}, "end_date": {to.String()},
				"daily": {"temperature_2m_max,temperature_2m_min,precipitation_sum,shortwave_radiation_sum"}, "timezone": {"auto"},
			}
		},
	},
}

// Services are the services that can be asked.
func Services() []Service { return append([]Service(nil), services...) }

// ServiceOf is the service with an ID.
func ServiceOf(id string) (Service, bool) {
	for _, s := range services {
		if s.ID == id {
			return s, true
		}
	}
	return Service{}, false
}

// address is the request for the days from one to another.
func (f *Fetcher) address(r Request, from, to civil.Date) string {
	base := r.Service.Base
	if other := f.Base[r.Service.ID]; other != "" {
		base = other
	}
	// the services' own examples write commas as they are
	return base + "?" + strings.ReplaceAll(r.Service.query(r, from, to).Encode(), "%2C", ",")
}

func compact(d civil.Date) string { return strings.ReplaceAll(d.String(), "-", "") }

// degrees writes a coordinate to a hundredth of a degree: about a kilometre, finer than any of the
// services' cells, and coarse enough not to tell whose garden it is.
func (r Request) degrees(v float64) string { return strconv.FormatFloat(rounded(v), 'f', 2, 64) }

func rounded(v float64) float64 { return math.Round(v*100)/100 + 0 } // + 0: no negative zero

// place is the key under which pieces are kept.
func (r Request) place() string {
	if r.Service.ByStation {
		return r.Station
	}
	return r.degrees(r.Latitude) + "," + r.degrees(r.Longitude)
}

// Where is in words the place under which a service's pieces are kept.
func Where(service, place string) string {
	s, _ := ServiceOf(service)
	r := Request{Service: s, Station: place}
	if latitude, longitude, ok := strings.Cut(place, ","); ok && !s.ByStation {
		var wrong error
		if r.Latitude, wrong = strconv.ParseFloat(latitude, 64); wrong != nil {
			return place
		}
		if r.Longitude, wrong = strconv.ParseFloat(longitude, 64); wrong != nil {
			return place
		}
		return r.where()
	}
	if s.ByStation {
		return r.where()
	}
	return place
}

// where is the place in words.
func (r Request) where() string {
	if r.Service.ByStation {
		return "station " + r.Station
	}
	side := func(v float64, plus, minus string) string {
		if v < 0 {
			plus = minus
		}
		return r.degrees(math.Abs(v)) + "° " + plus
	}
	return side(r.Latitude, "N", "S") + ", " + side(r.Longitude, "E", "W")
}

// stationID is the form of GHCN-Daily's identifiers: a country, a network's letter, eight characters
// of the network's own. Source: GHCN-README, section IV.
var stationID = regexp.MustCompile(`^[A-Z]{2}[A-Z0-9][A-Z0-9_-]{8}$`)

// check refuses what no service could answer, before anybody is asked.
func (r Request) check(today civil.Date) error {
	switch {
	case r.Service.query == nil:
		return &Error{Kind: Misplaced, Says: "no service is named", Remedy: "name one of power, ncei, open-meteo"}
	case r.Service.ByStation && !stationID.MatchString(r.Station):
		return &Error{Kind: Misplaced, Says: fmt.Sprintf("%q is not a station's ID of GHCN-Daily", r.Station), Remedy: "give its eleven characters with --station, for example USC00304174"}
	case !r.Service.ByStation && (!(math.Abs(r.Latitude) <= 90) || !(math.Abs(r.Longitude) <= 180)):
		return &Error{Kind: Misplaced, Says: fmt.Sprintf("%v, %v is no place on Earth", r.Latitude, r.Longitude), Remedy: "correct the site's latitude and longitude: degrees, south and west negative"}
	case r.Years < 1:
		return &Error{Kind: Misplaced, Says: fmt.Sprintf("%d years cannot be asked for", r.Years), Remedy: "ask for one or more; thirty are customary"}
	case len(r.years(today)) == 0:
		return &Error{Kind: Misplaced, Says: fmt.Sprintf("%s has nothing before %d", r.Service.Name, r.Service.FirstYear), Remedy: "ask for later years"}
	}
	return nil
}
