package web

import (
	"net/http"
	"slices"
	"strconv"

	"kailyard/internal/garden"
)

// historyPage is what grew where in the years before, and the form to add to it.
type historyPage struct {
	frame
	Years []historyYear
	Form  form
	Beds  bool // whether there is a bed for anything to have grown in
}

type historyYear struct {
	Year  int
	Lines []pastLine
}

func (s *site) historyFields(g garden.Garden) []*field {
	var beds []choice
	for _, b := range g.Beds {
		beds = append(beds, choice{Value: strconv.FormatInt(b.ID, 10), Label: b.Name})
	}
	return []*field{
		{Name: "bed", Label: "Bed", Kind: "choice", Options: beds, Required: true},
		{Name: "year", Label: "Year", Kind: "text", Value: strconv.Itoa(s.Today().Year() - 1), Required: true},
		{Name: "crop", Label: "Crop", Kind: "text", Suggest: s.cropIDs(g), Hint: "A crop of the catalogue; or leave it empty and give the family."},
		{Name: "family", Label: "Family", Kind: "text", Suggest: s.families(g), Hint: "Botanical family, if you know no more: Brassicaceae."},
		{Name: "note", Label: "Note", Kind: "text", Wide: true},
	}
}

func (s *site) cropIDs(g garden.Garden) []string {
	var ids []string
	for _, c := range s.cropsOf(g).All() {
		ids = append(ids, c.ID)
	}
	return ids
}

func (s *site) families(g garden.Garden) []string {
	var list []string
	for _, c := range s.cropsOf(g).All() {
		if !slices.Contains(list, c.Family) {
			list = append(list, c.Family)
		}
	}
	slices.Sort(list)
	return list
}

func (s *site) historyPage(r *http.Request, g garden.Garden, fields []*field, whole []string) historyPage {
	p := historyPage{
		frame: s.gardenFrame("What grew where", r, g), Beds: len(g.Beds) > 0,
		Form: form{Action: "/history", Submit: "Add to the history", Fields: fields, Whole: whole},
	}
	for _, f := range fields {
		if f.Error != "" {
			p.Form.Wrong++
		}
	}
	for _, l := range pastLines(s, g, 0) {
		i := slices.IndexFunc(p.Years, func(y historyYear) bool { return y.Year == l.Year })
		if i < 0 {
			p.Years = append(p.Years, historyYear{Year: l.Year})
			i = len(p.Years) - 1
		}
		p.Years[i].Lines = append(p.Years[i].Lines, l)
	}
	slices.SortFunc(p.Years, func(a, b historyYear) int { return b.Year - a.Year })
	return p
}

func (s *site) history(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "history", s.historyPage(r, g, s.historyFields(g), nil))
}

func (s *site) historyAdd(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	a := answers{r: r, fields: s.historyFields(g), units: g.Site.Units}
	v := garden.Past{Year: a.whole("year"), CropID: a.text("crop"), Family: a.text("family"), Note: a.text("note")}
	v.BedID, _ = strconv.ParseInt(a.text("bed"), 10, 64)
	if _, ok := g.Bed(v.BedID); !ok {
		a.field("bed").Error = "Choose a bed of the garden."
	}
	if v.CropID != "" {
		crops := s.cropsOf(g)
		found, _ := crops.Match(v.CropID)
		switch one := crops.One(v.CropID); {
		case one != nil:
			v.CropID = one.ID
		case len(found) > 1: // types of one kind are of one family, and rotation asks no more
			v.CropID, v.Family = "", found[0].Family
		}
	}
	whole := a.problems(v.Validate(s.cropsOf(g)), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.render(w, http.StatusUnprocessableEntity, "history", s.historyPage(r, g, a.fields, whole))
	}
	if _, err := s.Store.AddPast(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/history?done=saved")
}

func (s *site) historyRemove(w http.ResponseWriter, r *http.Request) error {
	if err := s.Store.RemovePast(r.Context(), idOf(r)); err != nil {
		return err
	}
	return seeOther(w, r, "/history?done=removed")
}
