package web

import (
	"errors"
	"net/http"
	"slices"
	"strconv"

	"kailyard/internal/civil"
)

// seasonChoice is the seasons one may look at; nil where there is nothing to choose.
type seasonChoice struct {
	Back    string // where the form leads afterwards
	Seasons []seasonLink
}

type seasonLink struct {
	Year    int
	Label   string
	Current bool
}

// seasonChoice offers the seasons there are, when there is more than one.
func (s *site) seasonChoice(r *http.Request) (*seasonChoice, civil.Season) {
	if s.Seasons == nil {
		return nil, civil.Season{}
	}
	list, shown, err := s.Seasons(r.Context())
	if err != nil || len(list) < 2 || s.Choose == nil {
		return nil, shown
	}
	c := seasonChoice{Back: "/"}
	for _, n := range navFor(r.URL.Path) {
		if n.Current {
			c.Back = n.Href
		}
	}
	for _, one := range list {
		c.Seasons = append(c.Seasons, seasonLink{one.Year(), one.String(), one == shown})
	}
	return &c, shown
}

func (s *site) seasonChosen(w http.ResponseWriter, r *http.Request) error {
	if s.Seasons == nil || s.Choose == nil {
		return missing("other season to choose")
	}
	list, _, err := s.Seasons(r.Context())
	if err != nil {
		return err
	}
	year, err := strconv.Atoi(r.PostFormValue("year"))
	if err != nil || !slices.ContainsFunc(list, func(one civil.Season) bool { return one.Year() == year }) {
		return problem{badRequest, quoted(r.PostFormValue("year")) + " is none of the seasons there are.", "Choose one by the buttons at the head of the page."}
	}
	if err := s.Choose(r.Context(), year); err != nil {
		return err
	}
	back := "/"
	for _, n := range navigation {
		if n.href == r.PostFormValue("back") {
			back = n.href
		}
	}
	return seeOther(w, r, back)
}

// noPlan says whether an error is only that the season has still to be planned.
func noPlan(err error) bool {
	var none interface{ NoPlan() bool }
	return errors.As(err, &none) && none.NoPlan()
}
