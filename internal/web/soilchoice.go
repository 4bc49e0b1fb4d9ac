package web

import (
	"net/http"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// choiceView is what the person puts on their ground, in a line and as a form.
type choiceView struct {
	Says string
	Form form
}

// choiceForm asks what the person puts on their ground. It stands small on the soil's page and on the shopping list.
//
//	back  the page that is shown again afterwards
func choiceForm(g garden.Garden, back string) form {
	v := g.Site.Soil
	lime, organic := []choice{{"", "by the magnesium test", v.Lime == ""}}, []choice{{"", "garden compost", v.Organic == ""}}
	for _, m := range soil.OfFamily(soil.Liming) {
		lime = append(lime, choice{m.ID, m.Name, m.ID == v.Lime})
	}
	for _, m := range soil.OwnLimes(g.Packages) {
		lime = append(lime, choice{m.ID, m.Name + " (your own)", m.ID == v.Lime})
	}
	for _, m := range soil.OfFamily(soil.Organic) {
		if m.ID != "compost" && (!m.Raw && soil.NotForFood(m) == "" || m.ID == v.Organic) { // raw manure is put on by hand, with its days before harvest
			organic = append(organic, choice{m.ID, m.Name, m.ID == v.Organic})
		}
	}
	return form{Action: "/soil/choice?back=" + back, Submit: "Keep it so", Fields: []*field{
		{Name: "natural", Label: "Only plant foods from plants, animals or rock", Kind: "check", Checked: v.Natural},
		{Name: "lime", Label: "Lime", Kind: "choice", Options: lime},
		{Name: "organic", Label: "Organic matter", Kind: "choice", Options: organic},
	}}
}

// choiceSays is it in a line.
func choiceSays(g garden.Garden) string {
	v := g.Site.Soil
	says := "Plant foods of any kind"
	if v.Natural {
		says = "Only plant foods from plants, animals or rock"
	}
	if m, ok := soil.LimeOf(v.Lime, g.Packages); ok {
		says += ", " + m.Name
	} else {
		says += ", lime by the magnesium test"
	}
	if m, ok := soil.Find(v.Organic); ok {
		return says + ", " + m.Name + "."
	}
	return says + ", garden compost."
}

// choiceBacks are the pages the form stands on.
var choiceBacks = map[string]string{"soil": "/soil", "shopping": "/soil/shopping"}

func (s *site) choiceSave(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	v := g.Site
	back, ok := choiceBacks[r.URL.Query().Get("back")]
	if !ok {
		back = "/soil"
	}
	f := choiceForm(g, "soil")
	a := answers{r: r, fields: f.Fields, units: g.Site.Units}
	v.Soil.Natural, v.Soil.Lime, v.Soil.Organic = a.check("natural"), a.text("lime"), a.text("organic")
	if whole := a.problems(append(v.Validate(), soil.CheckChoice(v.Soil, g.Packages)...), nil); a.wrong() > 0 || len(whole) > 0 {
		f.Whole = whole
		return s.showForm(w, formPage{frame: s.gardenFrame("What you put on", r, g), Heading: "What you put on", Form: f, Back: navLink{Href: "/soil", Label: "Back to the soil"}})
	}
	if err := s.Store.SaveSite(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, back+"?done=told")
}
