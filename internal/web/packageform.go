package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"

	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// ownProduct is the choice of a product that no material of the list is.
const ownProduct = "own"

func packageGroups(g garden.Garden, p garden.Package) []fieldGroup {
	u := weighing(g)
	holds := ""
	switch {
	case p.Mass > 0:
		holds = u.ExactMass(p.Mass)
	case p.Volume > 0:
		holds = u.ExactVolume(p.Volume)
	}
	_, known := soil.Find(p.Material)
	own := p.Material != "" && !known
	figure := func(v *float64) string {
		if v == nil {
			return ""
		}
		return plain(*v)
	}
	return []fieldGroup{
		{Title: "What is on sale", Fields: []*field{
			{Name: "material", Label: "What it is", Kind: "choice", Required: true, Wide: true,
				Options: []choice{{"", "choose", p.Material == ""}, {ownProduct, "a product that is none of these, by its label", own}}, Groups: materialGroups(nil, p.Material)},
			{Name: "name", Label: "What you call it", Kind: "text", Value: p.Name, Hint: "Empty: as the list calls it."},
			{Name: "holds", Label: "One package holds", Kind: "text", Value: holds, Required: true, Hint: "“20 kg”, “40 lb”, “50 L” or “2 cu ft”. A bale as it is once broken up."},
			{Name: "price", Label: "It costs", Kind: "text", Value: number(p.Price), Hint: "In your own money; empty when you do not know."},
		}},
		{Title: "What the label prints", Class: "quad", Hint: "Empty: the usual figures of what it is. N, P₂O₅ and K₂O go together.", Fields: []*field{
			{Name: "n", Label: "Nitrogen, N, %", Kind: "text", Value: figure(p.N)},
			{Name: "p2o5", Label: "Phosphate, P₂O₅, %", Kind: "text", Value: figure(p.P2O5)},
			{Name: "k2o", Label: "Potash, K₂O, %", Kind: "text", Value: figure(p.K2O)},
			{Name: "cce", Label: "Neutralising value, %", Kind: "text", Value: figure(p.CCE), Hint: "Of lime: CCE."},
			{Name: "fineness", Label: "Fineness, %", Kind: "text", Value: figure(p.Fineness), Hint: "Of lime: the share that acts."},
		}},
	}
}

// packageAsked is the package the address names, or a fresh one.
func (s *site) packageAsked(r *http.Request) (garden.Garden, garden.Package, error) {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return g, garden.Package{}, err
	}
	if r.PathValue("id") == "" {
		return g, garden.Package{Material: r.URL.Query().Get("material")}, nil
	}
	i := slices.IndexFunc(g.Packages, func(p garden.Package) bool { return p.ID == idOf(r) })
	if i < 0 {
		return g, garden.Package{}, missing("package of that number")
	}
	return g, g.Packages[i], nil
}

func (s *site) packagePage(r *http.Request, g garden.Garden, p garden.Package, groups []fieldGroup, whole []string) groupsPage {
	page := groupsPage{
		frame: s.gardenFrame("A size on sale", r, g), Heading: "A size on sale", Groups: groups, Intro: "Tell what your shop has, a package at a time. The shopping list then uses these and no others of the same kind.",
		Form: form{Action: "/soil/package/new", Submit: "Add it", Whole: whole}, Back: navLink{Href: "/soil/shopping", Label: "Back to the shopping list"},
	}
	if p.ID != 0 {
		page.Form.Action, page.Form.Submit = "/soil/package/"+strconv.FormatInt(p.ID, 10), "Save it"
		page.Title, page.Heading = "Change "+packageName(p), "Change "+packageName(p)
		page.Remove = &removal{page.Form.Action + "/remove", "It is on sale no more.", "Take it off the list"}
	}
	return page
}

func (s *site) packageForm(w http.ResponseWriter, r *http.Request) error {
	g, p, err := s.packageAsked(r)
	if err != nil {
		return err
	}
	return s.showGroups(w, s.packagePage(r, g, p, packageGroups(g, p), nil))
}

func (s *site) packageSave(w http.ResponseWriter, r *http.Request) error {
	g, p, err := s.packageAsked(r)
	if err != nil {
		return err
	}
	groups := packageGroups(g, p)
	a := answers{r: r, fields: flat(groups), units: weighing(g)}
	v := garden.Package{ID: p.ID, Material: a.text("material"), Name: a.text("name"), Price: a.number("price")}
	v.Mass, v.Volume = a.holds("holds")
	v.N, v.P2O5, v.K2O, v.CCE, v.Fineness = a.figure("n"), a.figure("p2o5"), a.figure("k2o"), a.figure("cce"), a.figure("fineness")
	if v.Material == ownProduct {
		a.ownProduct(&v, p)
	}
	var whole []string
	if a.wrong() == 0 {
		whole = a.problems(append(v.Validate(), soil.CheckPackage(v)...), map[string]string{"mass": "holds", "volume": "holds"})
	}
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showGroups(w, s.packagePage(r, g, p, groups, whole))
	}
	if v.ID == 0 {
		_, err = s.Store.AddPackage(r.Context(), v)
	} else {
		err = s.Store.SavePackage(r.Context(), v)
	}
	if err != nil {
		return err
	}
	return seeOther(w, r, "/soil/shopping?done=told")
}

// ownProduct gives a product of the person's own its ID; without a label nothing can be reckoned with it.
func (a *answers) ownProduct(v *garden.Package, was garden.Package) {
	if v.Name == "" && a.field("name").Error == "" {
		a.field("name").Error = "A product that is none of the list needs a name."
		return
	}
	v.Material = was.Material
	if _, known := soil.Find(was.Material); known || was.Material == "" {
		v.Material = "own-" + drawing.Slug(v.Name)
		if len(v.Material) > 60 {
			v.Material = v.Material[:60]
		}
	}
	if !v.Labelled() && a.field("n").Error == "" {
		a.field("n").Error = "Nothing can be reckoned with a product that has no label analysis. Write the three figures of its label, or its neutralising value where it is a lime."
	}
}

// holds takes a weight or a volume.
func (a *answers) holds(name string) (mass quantity.Kilogram, volume quantity.Litre) {
	text := a.text(name)
	if text == "" {
		return 0, 0
	}
	mass, err := quantity.ParseMass(text, a.units)
	if err == nil {
		return mass, 0
	}
	volume, wrong := quantity.ParseVolume(text, a.units)
	if wrong != nil {
		a.fault(name, err)
		a.field(name).Error += " Or write a volume, as “50 L” or “2 cu ft”."
	}
	return 0, volume
}

func (s *site) packageRemove(w http.ResponseWriter, r *http.Request) error {
	if err := s.Store.RemovePackage(r.Context(), idOf(r)); err != nil {
		return err
	}
	return seeOther(w, r, "/soil/shopping?done=removed")
}

// money is a price in the person's own money.
func money(v float64) string { return fmt.Sprintf("%.2f", v) }
