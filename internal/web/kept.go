package web

import (
	"context"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/fetch"
	"kailyard/internal/weather"
)

// KeptWeather is the weather the book keeps: records, of which one is in use, and what services gave, which
// records are made of.
type KeptWeather interface {
	Records(ctx context.Context) ([]weather.Kept, error)
	UseRecord(ctx context.Context, id int64) error
	DropRecord(ctx context.Context, id int64) error
	Fetched(ctx context.Context) ([]weather.Fetched, error)
	DropFetched(ctx context.Context, service, place string) error
}

const keptAddress = "/weather/kept"

// keptPage lists the weather that is kept.
type keptPage struct {
	frame
	Records []keptRow
	Fetched []fetchedRow
	Links   []navLink
}

type keptRow struct {
	ID                        int64
	Kept, Days, Source, Holes string
	InUse                     bool
}

type fetchedRow struct {
	Name, Place, Years, Holes, Asked string
	Drop                             string
}

func (s *site) keptWeather(w http.ResponseWriter, r *http.Request) error {
	if s.Kept == nil {
		return missing("list of the weather kept here; the shell has one: kailyard weather --kept")
	}
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	p := keptPage{frame: s.gardenFrame("The weather that is kept", r, g), Links: s.weatherLinks(keptAddress)}
	records, err := s.Kept.Records(r.Context())
	if err != nil {
		return err
	}
	for _, k := range records {
		p.Records = append(p.Records, keptRowOf(k))
	}
	fetched, err := s.Kept.Fetched(r.Context())
	if err != nil {
		return err
	}
	for _, f := range fetched {
		p.Fetched = append(p.Fetched, fetchedRowOf(f))
	}
	return s.render(w, http.StatusOK, "kept", p)
}

func keptRowOf(k weather.Kept) keptRow {
	row := keptRow{ID: k.ID, Kept: "before that was noted", Days: fmt.Sprintf("%s to %s", k.First, k.Last), Source: k.Source, Holes: "none", InUse: k.InUse}
	if !k.Kept.IsZero() {
		row.Kept = civil.OfTime(k.Kept).String()
	}
	switch {
	case k.Station.Name != "" && k.Station.Name != k.Source:
		row.Source += "; " + k.Station.Name
	case k.Station.ID != "":
		row.Source += "; " + k.Station.ID
	}
	if k.Origin == weather.Generated {
		row.Source += "; generated, not measured"
	}
	if k.NoTemperature > 0 {
		row.Holes = plural(k.NoTemperature, "day", "days") + " in " + weather.YearRuns(k.Missing)
	}
	return row
}

func fetchedRowOf(f weather.Fetched) fetchedRow {
	row := fetchedRow{Name: f.Service, Place: fetch.Where(f.Service, f.Place), Asked: f.LastAsked().String(), Drop: keptAddress + "/fetched/" + f.Service + "/" + f.Place + "/drop"}
	if v, ok := fetch.ServiceOf(f.Service); ok {
		row.Name = v.Name
	}
	if f.Station.Name != "" {
		row.Place += ", " + f.Station.Name
	}
	unasked, empty, days := f.Holes()
	var years []int
	for _, y := range f.Years {
		if y.Days > 0 {
			years = append(years, y.Year)
		}
	}
	row.Years = weather.YearRuns(years)
	if row.Years == "" {
		row.Years = "none"
	}
	var holes []string
	if len(unasked) > 0 {
		holes = append(holes, "not asked for: "+weather.YearRuns(unasked))
	}
	if len(empty) > 0 {
		holes = append(holes, "nothing there: "+weather.YearRuns(empty))
	}
	if days > 0 {
		holes = append(holes, plural(days, "day", "days")+" without a temperature")
	}
	if row.Holes = strings.Join(holes, "; "); len(holes) == 0 {
		row.Holes = "none"
	}
	return row
}

// keptRecord is the record that an address names.
func (s *site) keptRecord(r *http.Request) (weather.Kept, error) {
	if s.Kept == nil {
		return weather.Kept{}, missing("weather kept here")
	}
	records, err := s.Kept.Records(r.Context())
	for _, k := range records {
		if strconv.FormatInt(k.ID, 10) == r.PathValue("id") {
			return k, nil
		}
	}
	if err == nil {
		err = missing("weather record of this number")
	}
	return weather.Kept{}, err
}

func (s *site) keptUse(w http.ResponseWriter, r *http.Request) error {
	k, err := s.keptRecord(r)
	if err != nil {
		return err
	}
	if err := s.Kept.UseRecord(r.Context(), k.ID); err != nil {
		return err
	}
	return seeOther(w, r, keptAddress+"?done=weather")
}

// keptAsk asks before a record is dropped for good.
func (s *site) keptAsk(w http.ResponseWriter, r *http.Request) error {
	k, err := s.keptRecord(r)
	if err != nil {
		return err
	}
	if k.InUse {
		return problem{refused, "This record is the one in use, and is not dropped.", "Give the garden another record, or go back to one, and drop this one then."}
	}
	row := keptRowOf(k)
	says := fmt.Sprintf("%s, %s, kept since %s.", row.Source, row.Days, row.Kept)
	if strings.Contains(k.Source, " + ") {
		says += " It was merged from several sources: to have it again you would need them all."
	}
	return s.askDrop(w, r, fmt.Sprintf("Drop weather record %d?", k.ID), says+" Dropped, it is gone for good; the record in use stays.")
}

// askDrop is a page that asks whether something is to be dropped; its form goes to its own address.
func (s *site) askDrop(w http.ResponseWriter, r *http.Request, title, says string) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "form", formPage{
		frame: s.gardenFrame(title, r, g), Heading: title, Intro: says,
		Form: form{Action: r.URL.EscapedPath(), Submit: "Drop it"}, Back: navLink{Href: keptAddress, Label: "Keep it"},
	})
}

func (s *site) keptDrop(w http.ResponseWriter, r *http.Request) error {
	k, err := s.keptRecord(r)
	if err != nil {
		return err
	}
	if err := s.Kept.DropRecord(r.Context(), k.ID); err != nil {
		return err
	}
	return seeOther(w, r, keptAddress+"?done=dropped")
}

// fetchedAt is what a service gave for the place that an address names.
func (s *site) fetchedAt(r *http.Request) (weather.Fetched, error) {
	if s.Kept == nil {
		return weather.Fetched{}, missing("weather kept here")
	}
	all, err := s.Kept.Fetched(r.Context())
	for _, f := range all {
		if f.Service == r.PathValue("service") && f.Place == r.PathValue("place") {
			return f, nil
		}
	}
	if err == nil {
		err = missing("weather of this service for this place")
	}
	return weather.Fetched{}, err
}

func (s *site) fetchedAsk(w http.ResponseWriter, r *http.Request) error {
	f, err := s.fetchedAt(r)
	if err != nil {
		return err
	}
	row := fetchedRowOf(f)
	return s.askDrop(w, r, "Drop what "+row.Name+" gave?", fmt.Sprintf("%s for %s: years %s. The records made of them stay, and so does the one in use; to bring one up to date, these years would have to be fetched again.", row.Name, row.Place, row.Years))
}

// fetchedDrop drops a service's years, not from under an errand that is bringing them.
func (s *site) fetchedDrop(w http.ResponseWriter, r *http.Request) error {
	f, err := s.fetchedAt(r)
	if err != nil {
		return err
	}
	if s.Fetching != nil {
		state, err := s.Fetching.State(r.Context())
		if err != nil {
			return err
		}
		if state.Errand != nil && state.Service.ID == f.Service && state.Place == f.Place {
			if state.Running {
				return problem{refused, "These years are being fetched just now.", "Stop the fetch first, or let it end."}
			}
			if err := s.Fetching.Settle(r.Context()); err != nil {
				return err
			}
		}
	}
	if err := s.Kept.DropFetched(r.Context(), f.Service, f.Place); err != nil {
		return err
	}
	return seeOther(w, r, keptAddress+"?done=dropped")
}

// weatherLinks lead to the ways to give the garden weather, but for the page they stand on.
func (s *site) weatherLinks(here string) (links []navLink) {
	add := func(there bool, href, label string) {
		if there && href != here {
			links = append(links, navLink{Href: href, Label: label})
		}
	}
	add(s.Fetching != nil && s.TakeRecord != nil, networkAddress, "Weather over the network")
	add(s.TakeRecord != nil, recordAddress, "A file or a built-in place")
	add(s.Kept != nil, keptAddress, "The weather that is kept")
	return links
}
