package web

import (
	"net/http"

	"kailyard/doc"
)

// sourcesPage is every cited work, by what it serves.
type sourcesPage struct {
	frame
	Sections []sourceSection
}

type sourceSection struct {
	Title   string
	Sources []doc.Source
}

func (s *site) sources(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	p := sourcesPage{frame: s.gardenFrame("Sources", r, g)}
	for _, one := range doc.Sources() {
		if n := len(p.Sections); n == 0 || p.Sections[n-1].Title != one.Section {
			p.Sections = append(p.Sections, sourceSection{Title: one.Section})
		}
		last := &p.Sections[len(p.Sections)-1]
		last.Sources = append(last.Sources, one)
	}
	return s.render(w, http.StatusOK, "sources", p)
}
