package web

import (
	"fmt"
	"net/http"
	"slices"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// varietyFields ask for what a seed packet says; base is the crop it is a variety of.
func varietyFields(v crop.Variety, base *crop.Crop, u quantity.System) []*field {
	apart, yield := "“10 cm” or “8–12 cm”", "“2 kg/m²” or “0.5 kg/plant”"
	if u == quantity.US {
		apart, yield = "“4 in” or “3–5 in”", "“100 lb/100 ft” of row or “2 lb/plant”"
	}
	days := "As on the packet: “55” or “55–60”. Empty: the type's, " + daysWords(base) + "."
	if base.BearsLater() {
		days = fmt.Sprintf("Leave it empty: it bears from year %d after planting on, each year at its own time.", base.Harvest.FirstYear)
	}
	from := &field{Name: "days_from", Label: "Counted from", Kind: "choice", Hint: "As the packet says."}
	var ways []crop.Way
	for _, m := range base.Methods {
		if !slices.Contains(ways, m.Way) {
			ways = append(ways, m.Way)
			from.Options = append(from.Options, choice{m.Way.Begins(), m.Way.Begins(), m.Way == v.From})
		}
	}
	return []*field{
		{Name: "name", Label: "What you call it", Kind: "text", Value: v.Name, Required: true, Wide: true},
		{Name: "days", Label: "Days to the first harvest", Kind: "text", Value: v.Days, Hint: days},
		from,
		{Name: "in_row", Label: "Apart in the row", Kind: "text", Value: v.InRow, Hint: apart + ". Empty: the type's, " + u.Distance(base.Spacing.InRow) + "."},
		{Name: "between_rows", Label: "Between rows", Kind: "text", Value: v.BetweenRows, Hint: "Empty: the type's, " + u.Distance(base.Spacing.BetweenRows) + "."},
		{Name: "yield", Label: "Yield", Kind: "text", Value: v.Yield, Hint: yield + ". Empty: what the type gives on the same ground, " + u.Rate(base.Harvest.Yield) + "."},
		{Name: "note", Label: "Note", Kind: "lines", Value: v.Note, Wide: true},
	}
}

// varietyAsked is the crop the address names, with the variety it is or a fresh one of it.
func (s *site) varietyAsked(r *http.Request) (g garden.Garden, base *crop.Crop, v crop.Variety, err error) {
	if g, err = s.Store.Garden(r.Context()); err != nil {
		return g, nil, v, err
	}
	crops, id := s.cropsOf(g), r.PathValue("id")
	for _, one := range g.Own.Varieties {
		if one.ID == id {
			v, id = one, one.Base
		}
	}
	base, ok := crops.Find(id)
	if !ok || base.Base != "" {
		return g, nil, v, missing("crop of that name in the catalogue to be a variety of")
	}
	if v.ID == "" {
		v.Base = base.ID
	}
	return g, base, v, nil
}

func (s *site) varietyPage(r *http.Request, g garden.Garden, base *crop.Crop, v crop.Variety, fields []*field, whole []string) formPage {
	p := formPage{
		frame: s.gardenFrame("A variety of your own", r, g), Heading: "A variety of " + base.Name() + " of your own",
		Intro: varietyIntro, Back: navLink{Href: "/crop/" + base.ID, Label: "Back to " + base.Name()},
		Form: form{Action: "/crop/" + base.ID + "/vary", Submit: "Keep the variety", Fields: fields, Whole: whole},
	}
	if v.ID != "" {
		p.Title, p.Heading = "Change "+v.Name, "Change "+v.Name
		p.Form.Action, p.Form.Submit = "/crop/"+v.ID+"/change", "Save the variety"
		p.Back = navLink{Href: "/crops/own", Label: "Crops of your own"}
		if v.Retired {
			p.Intro = "It is no longer grown; saving it offers it again. " + varietyIntro
			return p
		}
		p.Remove = &removal{"/crop/" + v.ID + "/remove", "Take this variety out. Where history or plans name it, the book keeps it.", "Remove the variety"}
	}
	return p
}

const varietyIntro = "Write what the seed packet says; the rest stays the type's. A packet names no temperature: its days are taken to hold in the weather in which the type's days hold, and each weather year makes of them what it does."

func (s *site) varietyForm(w http.ResponseWriter, r *http.Request) error {
	g, base, v, err := s.varietyAsked(r)
	if err != nil {
		return err
	}
	return s.showForm(w, s.varietyPage(r, g, base, v, varietyFields(v, base, g.Site.Units), nil))
}

func (s *site) varietySave(w http.ResponseWriter, r *http.Request) error {
	g, base, old, err := s.varietyAsked(r)
	if err != nil {
		return err
	}
	a := answers{r: r, fields: varietyFields(old, base, g.Site.Units), units: g.Site.Units}
	v := crop.Variety{
		ID: old.ID, Base: base.ID, Name: a.text("name"), Days: a.text("days"), Yield: a.text("yield"), Note: a.text("note"),
		InRow: garden.PacketLength(a.text("in_row"), a.units), BetweenRows: garden.PacketLength(a.text("between_rows"), a.units),
	}
	v.From, _ = crop.WayFrom(a.text("days_from"))
	if a.wrong() > 0 {
		return s.showForm(w, s.varietyPage(r, g, base, old, a.fields, nil))
	}
	if v.ID == "" {
		v.ID, err = s.Store.AddVariety(r.Context(), v)
	} else {
		err = s.Store.SaveVariety(r.Context(), v)
	}
	if err != nil {
		whole, handled := a.besideFields(err)
		if !handled {
			return err
		}
		return s.showForm(w, s.varietyPage(r, g, base, old, a.fields, whole))
	}
	return seeOther(w, r, "/crop/"+v.ID+"?done=varied")
}

// changeCrop is the form for an own crop: a variety's fields, or a crop's text.
func (s *site) changeCrop(w http.ResponseWriter, r *http.Request) error {
	return s.byKind(w, r, s.varietyForm, s.cropFileForm)
}

func (s *site) changeCropSave(w http.ResponseWriter, r *http.Request) error {
	return s.byKind(w, r, s.varietySave, s.cropFileSave)
}

func (s *site) byKind(w http.ResponseWriter, r *http.Request, variety, file action) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	id := r.PathValue("id")
	switch {
	case slices.ContainsFunc(g.Own.Varieties, func(v crop.Variety) bool { return v.ID == id }):
		return variety(w, r)
	case slices.ContainsFunc(g.Own.Files, func(f crop.File) bool { return f.ID == id }):
		return file(w, r)
	}
	return missing("crop of your own of that name")
}

// cropOwn is what of a crop's page is the person's own: what they called a variety, and the form for another.
type cropOwn struct {
	ID, Base, BaseID, Note string
	Yours, Retired         bool
	Text                   bool     // it has a file to begin one's own from
	Varieties              []choice // the person's varieties of the crop
	Intro                  string
	Form                   form
}

func (s *site) cropOwn(crops *crop.Catalogue, c *crop.Crop, u quantity.System) cropOwn {
	o := cropOwn{ID: c.ID, BaseID: c.Base, Note: c.Note, Yours: c.Own, Retired: c.Retired, Intro: varietyIntro}
	if base, ok := crops.Find(c.Base); ok {
		o.Base = base.Name()
		return o
	}
	_, o.Text = crop.FileText(c.ID)
	for _, one := range crops.All() {
		if one.Base == c.ID {
			o.Varieties = append(o.Varieties, choice{Value: one.ID, Label: one.Type})
		}
	}
	o.Form = form{Action: "/crop/" + c.ID + "/vary", Submit: "Keep the variety", Fields: varietyFields(crop.Variety{}, c, u)}
	return o
}
