package web

import (
	"net/http"
	"strconv"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

func siteFields(v garden.Site) []*field {
	u := v.Units
	f := []*field{
		{Name: "name", Label: "Name of the garden", Kind: "text", Value: v.Name, Required: true, Wide: true},
		{Name: "latitude", Label: "Latitude", Kind: "text", Value: degrees(v.Latitude), Hint: "Degrees north of the equator; south is negative. 43.5", Required: true},
		{Name: "longitude", Label: "Longitude", Kind: "text", Value: degrees(v.Longitude), Hint: "Degrees east of Greenwich; west is negative. −72.3", Required: true},
		{Name: "elevation", Label: "Height above the sea", Kind: "text", Value: u.ExactLength(v.Elevation), Hint: "“150 m” or “500 ft”."},
		{Name: "units", Label: "Units", Kind: "choice", Options: []choice{
			{"metric", "metres, kilograms, °C", u == quantity.Metric}, {"us", "feet, pounds, °F", u == quantity.US},
		}},
		{Name: "household", Label: "People to feed", Kind: "text", Value: strconv.Itoa(v.Household)},
		{Name: "width", Label: "Plot, west to east", Kind: "text", Value: lengthOrNone(u, v.Width), Hint: "For the picture of the plot. May be left empty."},
		{Name: "depth", Label: "Plot, south to north", Kind: "text", Value: lengthOrNone(u, v.Depth)},
		{Name: "hours_a_week", Label: "Hours a week you can give", Kind: "text", Value: figureOrNone(float64(v.HoursAWeek)), Hint: "Of all who work in it together. A plan keeps near them; empty: as many as it takes."},
		{Name: "trays", Label: "Trays of seedlings under light", Kind: "text", Value: figureOrNone(v.Trays), Hint: "How many there is light for at a time. A plan never raises more; empty: as many as it takes."},
		{Name: "invented", Label: "An invented garden, to try things with", Kind: "check", Checked: v.Invented},
		{Name: "note", Label: "Note", Kind: "lines", Value: v.Note, Wide: true},
	}
	for _, p := range crop.Protections() {
		f = append(f, &field{Name: coverField + p.ID, Label: "There is " + p.Under() + " to grow under", Kind: "check", Checked: v.Has(p.ID)})
	}
	return f
}

// coverField begins the name of the field that asks for a cover.
const coverField = "cover-"

// coverNames are the names of covers by their IDs.
func coverNames(ids []string) []string {
	var names []string
	for _, id := range ids {
		if p, _ := crop.FindProtection(id); p != nil {
			names = append(names, p.Name)
		}
	}
	return names
}

func figureOrNone(v float64) string {
	if v == 0 {
		return ""
	}
	return degrees(v)
}

func degrees(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func lengthOrNone(u quantity.System, v quantity.Metre) string {
	if v == 0 {
		return ""
	}
	return u.ExactLength(v)
}

func (s *site) siteForm(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	return s.showForm(w, s.sitePage(r, g, siteFields(g.Site), nil))
}

func (s *site) sitePage(r *http.Request, g garden.Garden, fields []*field, whole []string) formPage {
	return formPage{
		frame: s.gardenFrame("The site", r, g), Heading: "The site", Back: navLink{Href: "/garden", Label: "Back to the garden"},
		Intro: "Lengths may be typed in either system: a number alone is read in the garden's own units.",
		Form:  form{Action: "/site", Submit: "Save the site", Fields: fields, Whole: whole},
	}
}

func (s *site) siteSave(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	a := answers{r: r, fields: siteFields(g.Site), units: g.Site.Units}
	v := g.Site
	v.Units = quantity.Metric
	if a.text("units") == "us" {
		v.Units = quantity.US
	}
	if g.Site.Soil.Weighs == g.Site.Units { // weighed in other units only where that was asked for
		v.Soil.Weighs = v.Units
	}
	v.Name, v.Latitude, v.Longitude = a.text("name"), a.number("latitude"), a.number("longitude")
	v.Elevation, v.Household = a.length("elevation"), a.whole("household")
	v.Width, v.Depth = a.length("width"), a.length("depth")
	v.HoursAWeek, v.Trays = quantity.Hour(a.number("hours_a_week")), a.number("trays")
	v.Covers = nil
	for _, p := range crop.Protections() {
		if a.check(coverField + p.ID) {
			v.Covers = append(v.Covers, p.ID)
		}
	}
	v.Invented, v.Note = a.check("invented"), a.text("note")
	whole := a.problems(v.Validate(), nil)
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showForm(w, s.sitePage(r, g, a.fields, whole))
	}
	if err := s.Store.SaveSite(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=saved")
}
