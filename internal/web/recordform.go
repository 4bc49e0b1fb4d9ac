package web

import (
	"errors"
	"net/http"
	"slices"
	"strings"

	"kailyard/internal/weather"
)

// largestRecord is more than a century of daily weather takes in any of the forms that are read.
const largestRecord = 32 << 20

// recordAddress is where a weather record is sent to.
const recordAddress = "/weather/record"

// recordPage takes the garden's weather: a file of the person's, or a built-in climate.
type recordPage struct {
	frame
	Wrong   []string // sentences about what was sent
	Places  []choice
	Network *navLink  // the way to the services, where there is one
	Links   []navLink // what else there is
	Back    navLink
}

func (s *site) recordPage(r *http.Request, chosen string) (recordPage, error) {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return recordPage{}, err
	}
	if s.TakeRecord == nil {
		return recordPage{}, missing("way to give weather here; do it in the shell: kailyard weather --help tells how")
	}
	p := recordPage{frame: s.gardenFrame("Give the garden weather", r, g), Back: navLink{Href: "/garden", Label: "The garden"}}
	if s.Fetching != nil {
		p.Network = &navLink{Href: networkAddress, Label: "Weather over the network"}
	}
	if s.Kept != nil {
		p.Links = []navLink{{Href: keptAddress, Label: "The weather that is kept"}}
	}
	for _, c := range weather.Climates() {
		p.Places = append(p.Places, choice{c.ID, c.Name, c.ID == chosen})
	}
	slices.SortStableFunc(p.Places, func(a, b choice) int { return strings.Compare(a.Label, b.Label) })
	return p, nil
}

func (s *site) recordForm(w http.ResponseWriter, r *http.Request) error {
	p, err := s.recordPage(r, "")
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "record", p)
}

func (s *site) recordSave(w http.ResponseWriter, r *http.Request) error {
	record, err := s.sentRecord(r)
	if err == nil {
		err = s.TakeRecord(r.Context(), record)
	}
	if err == nil {
		return seeOther(w, r, "/garden?done=weather")
	}
	var told told
	if errors.As(err, &told) {
		return err // trouble with the book, not with what was sent
	}
	p, wrong := s.recordPage(r, r.PostFormValue("place"))
	if wrong != nil {
		return wrong
	}
	p.Wrong = append(p.Wrong, sentence("This cannot be taken: "+err.Error(), ""))
	return s.render(w, http.StatusUnprocessableEntity, "record", p)
}

// sentRecord is the record in the file that was sent, or the generated years of the place chosen.
func (s *site) sentRecord(r *http.Request) (*weather.Record, error) {
	place := r.PostFormValue("place") // reads the whole form
	file, header, err := r.FormFile("file")
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		return nil, errors.New("the file is larger than a century of daily weather in any form that is read here; choose a daily record")
	case err == nil && header.Filename != "":
		defer file.Close()
		record, err := weather.Read(header.Filename, file)
		if err != nil {
			return nil, err
		}
		return s.levelled(r, record)
	}
	for _, c := range weather.Climates() {
		if c.ID == place {
			return s.levelled(r, s.Generate(c))
		}
	}
	return nil, errors.New("nothing was chosen; choose a file of daily weather, or one of the built-in places")
}

// levelled is a record set against the garden: its height, its distance.
func (s *site) levelled(r *http.Request, record *weather.Record) (*weather.Record, error) {
	if s.Fit == nil {
		return record, nil
	}
	v, err := s.Fit(r.Context(), record, false)
	return v.Record, err
}
