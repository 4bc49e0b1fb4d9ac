package web

import (
	"fmt"
	"net/http"
	"strconv"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func bedFields(v garden.Bed, u quantity.System) []*field {
	example := "“9 m” or “30 ft”."
	return []*field{
		{Name: "name", Label: "Name", Kind: "text", Value: v.Name, Required: true, Wide: true},
		{Name: "length", Label: "Length", Kind: "text", Value: lengthOrNone(u, v.Length), Hint: "Along the bed: " + example, Required: true},
		{Name: "width", Label: "Width", Kind: "text", Value: lengthOrNone(u, v.Width), Hint: "Across it: “1.2 m” or “4 ft”.", Required: true},
		{Name: "x", Label: "Middle, from the west edge", Kind: "text", Value: u.ExactLength(v.X), Hint: "How far east of the plot's south-west corner the bed's middle lies."},
		{Name: "y", Label: "Middle, from the south edge", Kind: "text", Value: u.ExactLength(v.Y)},
		{Name: "bearing", Label: "Bearing of the length", Kind: "text", Value: degrees(v.Bearing), Hint: "Degrees clockwise from north: 0 runs north and south, 90 east and west."},
		{Name: "sun_hours", Label: "Hours of sun", Kind: "text", Value: degrees(float64(v.Sun)), Hint: "Direct sun on a clear day of the growing season.", Required: true},
		{Name: "rows_across", Label: "Rows run across the bed", Kind: "check", Checked: v.RowsAcross},
		{Name: "perennial", Label: "Kept for perennials", Kind: "check", Checked: v.Perennial},
		{Name: "note", Label: "Note", Kind: "lines", Value: v.Note, Wide: true},
	}
}

// bedAsked is the bed the address names, or a fresh one.
func (s *site) bedAsked(r *http.Request) (garden.Garden, garden.Bed, error) {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return g, garden.Bed{}, err
	}
	if r.PathValue("id") == "" {
		return g, garden.Bed{Sun: 8, X: g.Site.Width / 2, Y: g.Site.Depth / 2}, nil
	}
	b, ok := g.Bed(idOf(r))
	if !ok {
		return g, b, missing("bed of that number")
	}
	return g, b, nil
}

func (s *site) bedPage(r *http.Request, g garden.Garden, b garden.Bed, fields []*field, whole []string) formPage {
	p := formPage{
		frame: s.gardenFrame("A new bed", r, g), Heading: "A new bed", Back: navLink{Href: "/garden", Label: "Back to the garden"},
		Form: form{Action: "/bed/new", Submit: "Add the bed", Fields: fields, Whole: whole},
	}
	if b.ID != 0 {
		p.Title, p.Heading = "Change "+b.Name, "Change "+b.Name
		p.Form.Action, p.Form.Submit = fmt.Sprintf("/bed/%d/edit", b.ID), "Save the bed"
		p.Remove = &removal{fmt.Sprintf("/bed/%d/remove", b.ID), "Take this bed out of the garden. What grew in it stays in the book.", "Remove the bed"}
	}
	return p
}

func (s *site) bedForm(w http.ResponseWriter, r *http.Request) error {
	g, b, err := s.bedAsked(r)
	if err != nil {
		return err
	}
	return s.showForm(w, s.bedPage(r, g, b, lit(g, b, bedFields(b, g.Site.Units)), nil))
}

func (s *site) bedSave(w http.ResponseWriter, r *http.Request) error {
	g, b, err := s.bedAsked(r)
	if err != nil {
		return err
	}
	a := answers{r: r, fields: lit(g, b, bedFields(b, g.Site.Units)), units: g.Site.Units}
	v := b
	v.Name, v.Length, v.Width = a.text("name"), a.length("length"), a.length("width")
	v.X, v.Y, v.Bearing, v.Sun = a.length("x"), a.length("y"), a.number("bearing"), quantity.Hour(a.number("sun_hours"))
	v.RowsAcross, v.Perennial, v.Note = a.check("rows_across"), a.check("perennial"), a.text("note")
	whole := a.problems(v.Validate(), nil)
	for _, o := range g.Beds {
		if o.ID != v.ID && o.Name == v.Name && v.Name != "" {
			a.field("name").Error = "Another bed has this name. Give each bed a name of its own."
		}
		if o.ID != v.ID && a.wrong() == 0 && o.Overlaps(v) {
			whole = append(whole, fmt.Sprintf("The bed would lie over %s. Move its middle or change its size.", o.Name))
		}
	}
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showForm(w, s.bedPage(r, g, b, a.fields, whole))
	}
	if v.ID == 0 {
		_, err = s.Store.AddBed(r.Context(), v)
	} else {
		err = s.Store.SaveBed(r.Context(), v)
	}
	if err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=saved")
}

func (s *site) bedRemove(w http.ResponseWriter, r *http.Request) error {
	if err := s.Store.RemoveBed(r.Context(), idOf(r)); err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=removed")
}

// lit asks no hours of sun where they are reckoned or were seen.
func lit(g garden.Garden, b garden.Bed, fields []*field) []*field {
	if len(g.Shades) == 0 && g.Site.Lie.Level() && len(b.Observed) == 0 {
		return fields
	}
	for _, f := range fields {
		if f.Name == "sun_hours" {
			f.Required, f.Hint = false, "Not needed: it is reckoned from what throws shade, or was seen. Told, it is kept for when neither is known."
		}
	}
	return fields
}

func number(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
