package web

import (
	"net/http"
	"slices"
	"strings"

	"kailyard/doc"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// owned is the catalogue with the garden's own crops, as it was last made.
type owned struct {
	own   crop.OwnCrops
	crops *crop.Catalogue
	aside []crop.Aside
}

// catalogue is the catalogue with the garden's own crops, made anew only when those change, and those of
// them that had to be set aside.
func (s *site) catalogue(g garden.Garden) (*crop.Catalogue, []crop.Aside) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if o := s.owned; o == nil || !slices.Equal(o.own.Files, g.Own.Files) || !slices.Equal(o.own.Varieties, g.Own.Varieties) {
		crops, aside := g.Catalogue(s.Crops)
		own := crop.OwnCrops{Files: slices.Clone(g.Own.Files), Varieties: slices.Clone(g.Own.Varieties)}
		s.owned = &owned{own, crops, aside}
	}
	return s.owned.crops, s.owned.aside
}

// cropsOf is the catalogue alone.
func (s *site) cropsOf(g garden.Garden) *crop.Catalogue {
	crops, _ := s.catalogue(g)
	return crops
}

// ownPage lists the person's own crops.
type ownPage struct {
	frame
	Varieties, Files []ownLine
	Retired          []ownLine
	Aside            []ownLine
}

type ownLine struct {
	ID, Name, Base, BaseID, Days, Note, Says string
	There                                    bool // it has a page of its own
	Instead                                  bool // it stands in the place of the catalogue's own
}

func (s *site) ownCrops(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	crops, aside := s.catalogue(g)
	p := ownPage{frame: s.gardenFrame("Crops of your own", r, g)}
	wrong := map[string]string{}
	for _, a := range aside {
		wrong[a.ID] = sentence(a.Error(), "")
	}
	put := func(list *[]ownLine, l ownLine, retired bool) {
		switch c, ok := crops.Find(l.ID); {
		case wrong[l.ID] != "":
			l.Says = wrong[l.ID]
			list = &p.Aside
		case retired:
			l.There = ok && c.Own
			list = &p.Retired
		case ok:
			l.There, l.Days = true, daysWords(c)
			if l.Name == "" {
				l.Name = c.Name()
			}
		}
		if l.Name == "" {
			l.Name = l.ID
		}
		*list = append(*list, l)
	}
	for _, v := range g.Own.Varieties {
		l := ownLine{ID: v.ID, Name: v.Name, BaseID: v.Base, Base: v.Base, Note: v.Note}
		if base, ok := crops.Find(v.Base); ok {
			l.Base = base.Name()
		} else {
			l.BaseID = ""
		}
		put(&p.Varieties, l, v.Retired)
	}
	for _, f := range g.Own.Files {
		_, instead := s.Crops.Find(f.ID)
		put(&p.Files, ownLine{ID: f.ID, Instead: instead}, f.Retired)
	}
	return s.render(w, http.StatusOK, "own", p)
}

// daysWords are a crop's days to harvest by each way it is grown.
func daysWords(c *crop.Crop) string {
	var parts []string
	for _, m := range c.Methods {
		parts = append(parts, rangeText(m.Days, "days")+" from "+m.Way.Begins())
	}
	return strings.Join(parts, ", ")
}

func (s *site) cropRemove(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.Store.RemoveCrop(r.Context(), r.PathValue("id")); err != nil {
		return err
	}
	return seeOther(w, r, "/crops/own?done=removed")
}

// besideFields puts what is wrong with an own crop beside the fields of its form; handled is false for
// errors of another kind.
func (a *answers) besideFields(err error) (whole []string, handled bool) {
	ps, ok := err.(garden.Problems)
	if !ok {
		return nil, false
	}
	for i := range ps {
		ps[i].Says = strings.TrimPrefix(ps[i].Says, ps[i].Field+": ")
	}
	return a.problems(ps, nil), true
}

// citable says whether the list of sources has a key; a person's own file may cite others.
func citable(key string) bool {
	for _, one := range doc.Sources() {
		if one.Key == key {
			return true
		}
	}
	return false
}

// figureRowOf is a figure as the page shows it, in the person's units with its source's beside them where they differ.
func figureRowOf(f crop.Figure, u quantity.System) figureRow {
	row := figureRow{strings.NewReplacer(".", ", ", "_", " ").Replace(f.Field), f.In(u), f.Source, string(f.Quality), f.Note}
	if f.Source != "" && !citable(f.Source) {
		row.Source = ""
		row.Note = strings.TrimSpace("from " + f.Source + ". " + f.Note)
	}
	return row
}
