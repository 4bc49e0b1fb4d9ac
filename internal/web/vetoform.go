package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// vetoRow is one thing the person will not have.
type vetoRow struct {
	ID         int64
	Says, Note string
}

func vetoRows(g garden.Garden) (rows []vetoRow) {
	for _, v := range g.Vetoes {
		rows = append(rows, vetoRow{v.ID, upper(g.VetoSays(v)), v.Note})
	}
	return rows
}

func (s *site) vetoFields(g garden.Garden) []*field {
	beds := []choice{{"", "in every bed", true}}
	for _, b := range g.Beds {
		beds = append(beds, choice{strconv.FormatInt(b.ID, 10), "in " + b.Name, false})
	}
	crops := s.cropsOf(g)
	families := []choice{{"", "–", true}}
	var names []string
	for _, c := range crops.All() {
		if c.Family != "" && !slices.Contains(names, c.Family) {
			names = append(names, c.Family)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		families = append(families, choice{name, name + familyKinds(crops, name), false})
	}
	return []*field{
		{Name: "crop", Label: "Not this crop", Kind: "text", Hint: "A kind (“tomato”) and so all its types, or one type. Empty means any crop.", Suggest: cropWords(crops)},
		{Name: "family", Label: "Or nothing of this family", Kind: "choice", Options: families},
		{Name: "bed", Label: "Where", Kind: "choice", Options: beds, Hint: "A bed alone, with nothing else, is left empty."},
		{Name: "way", Label: "Only if it is", Kind: "choice", Options: []choice{
			{"", "begun in any way", true}, {string(crop.Sow), "sown where it is to stand", false}, {string(crop.SetOut), "raised under cover and set out", false}, {string(crop.Set), "planted as sets, tubers, cloves", false},
		}},
		{Name: "before", Label: "Only before this day", Kind: "date", Hint: "It may then go into the ground from this day on; for the season that day is in."},
		{Name: "note", Label: "Why", Kind: "lines", Wide: true},
	}
}

// familyKinds are a few kinds of a family, to know it by.
func familyKinds(crops *crop.Catalogue, family string) string {
	var kinds []string
	for _, c := range crops.All() {
		if c.Family == family && !slices.Contains(kinds, c.Kind) {
			kinds = append(kinds, c.Kind)
		}
	}
	more := ""
	if len(kinds) > 3 {
		kinds, more = kinds[:3], " …"
	}
	says := ""
	for i, k := range kinds {
		if i > 0 {
			says += ", "
		}
		says += k
	}
	return " (" + says + more + ")"
}

func (s *site) vetoPage(r *http.Request, g garden.Garden, fields []*field, whole []string) formPage {
	return formPage{
		frame: s.gardenFrame("What you will not have", r, g), Heading: "What you will not have", Back: navLink{Href: "/garden#vetoes", Label: "Back to the garden"},
		Intro: "The planner keeps to it, and says what it makes impossible. What stands in the ground, or is kept exactly so, stays.",
		Form:  form{Action: "/veto/new", Submit: "Rule it out", Fields: fields, Whole: whole},
	}
}

func (s *site) vetoForm(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	fields := s.vetoFields(g)
	if bed := r.URL.Query().Get("bed"); bed != "" {
		for i := range fields[2].Options {
			fields[2].Options[i].Chosen = fields[2].Options[i].Value == bed
		}
	}
	fields[0].Value = r.URL.Query().Get("crop")
	return s.showForm(w, s.vetoPage(r, g, fields, nil))
}

func (s *site) vetoSave(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	a := answers{r: r, fields: s.vetoFields(g), units: g.Site.Units}
	v := garden.Veto{Crop: a.text("crop"), Family: a.text("family"), Way: crop.Way(a.text("way")), Before: a.date("before"), Note: a.text("note")}
	v.BedID, _ = strconv.ParseInt(a.text("bed"), 10, 64)
	whole := a.problems(v.Validate(s.cropsOf(g)), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showForm(w, s.vetoPage(r, g, a.fields, whole))
	}
	if _, err := s.Store.AddVeto(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=saved#vetoes")
}

func (s *site) vetoRemove(w http.ResponseWriter, r *http.Request) error {
	if err := s.Store.RemoveVeto(r.Context(), idOf(r)); err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=removed#vetoes")
}

// cannotPin is the sentence that stands in the stead of the button where a planting cannot be kept exactly so.
func cannotPin(why, remedy string) string {
	if why == "" {
		return ""
	}
	return fmt.Sprintf("It cannot be kept exactly so. %s %s", why, remedy)
}
