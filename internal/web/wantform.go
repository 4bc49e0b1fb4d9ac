package web

import (
	"cmp"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

func (s *site) wantFields(g garden.Garden, v garden.Want) []*field {
	day := func(d *civil.Date) string {
		if d == nil {
			return ""
		}
		return d.String()
	}
	f := []*field{
		{Name: "crop", Label: "Crop", Kind: "text", Value: v.Crop, Hint: "A kind (“lettuce”), of which any type will do, or one type of it.", Required: true, Suggest: cropWords(s.cropsOf(g))},
		{Name: "amount", Label: "Amount", Kind: "text", Value: number(v.Amount), Required: true},
		{Name: "unit", Label: "Unit", Kind: "text", Value: v.Unit, Hint: "kg, lb, or the crop's own: head, root, bunch …; without one " + garden.MassUnit(g.Site.Units)},
		{Name: "basis", Label: "Counted", Kind: "choice", Options: []choice{
			{string(garden.Total), "over the season", v.Basis != garden.Weekly}, {string(garden.Weekly), "each week", v.Basis == garden.Weekly},
		}},
		{Name: "weight", Label: "How much it matters", Kind: "choice"},
		{Name: "from", Label: "First week wanted", Kind: "date", Value: day(v.From), Hint: "For a weekly want; empty means whenever it can be had."},
		{Name: "to", Label: "Last week wanted", Kind: "date", Value: day(v.To)},
		{Name: "under", Label: "Grown under", Kind: "choice", Hint: underHint(g), Options: underOptions(v.Under)},
		{Name: "note", Label: "Note", Kind: "lines", Value: v.Note, Wide: true},
	}
	for i, word := range []string{"1, nice to have", "2", "3, as others", "4", "5, first of all"} {
		f[4].Options = append(f[4].Options, choice{strconv.Itoa(i + 1), word, v.Weight == i+1})
	}
	return f
}

// underOptions are what a want may be grown under.
func underOptions(chosen string) []choice {
	options := []choice{{"", "as the planner sees fit", chosen == ""}, {garden.InTheOpen, "in the open only", chosen == garden.InTheOpen}}
	for _, p := range crop.Protections() {
		options = append(options, choice{p.ID, "only under " + p.Under(), chosen == p.ID})
	}
	return options
}

// underHint says what the planner sees fit.
func underHint(g garden.Garden) string {
	if names := coverNames(g.Site.Covers); len(names) > 0 {
		return "Left to the planner, a cover of the garden’s (" + strings.Join(names, ", ") + ") is used where the open ground fails."
	}
	return "The garden is not said to have covers: left to the planner, all is grown in the open."
}

// cropWords are the kinds and types the catalogue knows, the person's own first.
func cropWords(crops *crop.Catalogue) []string {
	var words []string
	for _, c := range crops.All() {
		if c.Base != "" {
			words = append(words, c.Type)
		}
	}
	for _, c := range crops.All() {
		if !slices.Contains(words, c.Kind) {
			words = append(words, c.Kind)
		}
	}
	for _, c := range crops.All() {
		if !slices.Contains(words, c.ID) {
			words = append(words, c.ID)
		}
	}
	return words
}

func (s *site) wantAsked(r *http.Request) (garden.Garden, garden.Want, error) {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return g, garden.Want{}, err
	}
	if r.PathValue("id") == "" {
		return g, garden.Want{Basis: garden.Total, Weight: 3, Unit: garden.MassUnit(g.Site.Units)}, nil
	}
	for _, v := range g.Wants {
		if v.ID == idOf(r) {
			return g, v, nil
		}
	}
	return g, garden.Want{}, missing("want of that number")
}

func (s *site) wantPage(r *http.Request, g garden.Garden, v garden.Want, fields []*field, whole []string) formPage {
	p := formPage{
		frame: s.gardenFrame("A new want", r, g), Heading: "A new want", Back: navLink{Href: "/garden#wants", Label: "Back to the garden"},
		Intro: "What the household would like to eat. The planner serves wants of greater weight first.",
		Form:  form{Action: "/want/new", Submit: "Add the want", Fields: fields, Whole: whole},
	}
	if v.ID != 0 {
		p.Title, p.Heading = "Change a want", "Change the want for "+v.Crop
		p.Form.Action, p.Form.Submit = fmt.Sprintf("/want/%d", v.ID), "Save the want"
		p.Remove = &removal{fmt.Sprintf("/want/%d/remove", v.ID), "Strike this want off the list.", "Remove the want"}
	}
	return p
}

func (s *site) wantForm(w http.ResponseWriter, r *http.Request) error {
	g, v, err := s.wantAsked(r)
	if err != nil {
		return err
	}
	return s.showForm(w, s.wantPage(r, g, v, s.wantFields(g, v), nil))
}

func (s *site) wantSave(w http.ResponseWriter, r *http.Request) error {
	g, old, err := s.wantAsked(r)
	if err != nil {
		return err
	}
	a := answers{r: r, fields: s.wantFields(g, old), units: g.Site.Units}
	v := old
	v.Crop, v.Amount, v.Unit, v.Basis = a.text("crop"), a.number("amount"), cmp.Or(a.text("unit"), garden.MassUnit(g.Site.Units)), garden.Basis(a.text("basis"))
	v.Weight, v.From, v.To, v.Note = a.whole("weight"), a.date("from"), a.date("to"), a.text("note")
	v.Under = a.text("under")
	if a.field("crop").Error != "" {
		v.Crop = ""
	}
	whole := a.problems(v.Validate(s.cropsOf(g)), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showForm(w, s.wantPage(r, g, old, a.fields, whole))
	}
	if v.ID == 0 {
		_, err = s.Store.AddWant(r.Context(), v)
	} else {
		err = s.Store.SaveWant(r.Context(), v)
	}
	if err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=saved#wants")
}

func (s *site) wantRemove(w http.ResponseWriter, r *http.Request) error {
	if err := s.Store.RemoveWant(r.Context(), idOf(r)); err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=removed#wants")
}
