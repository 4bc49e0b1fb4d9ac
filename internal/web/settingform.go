package web

import (
	"fmt"
	"net/http"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/plan"
)

// settingFields are the planner's settings as questions, from their descriptions.
func settingFields(v plan.Settings) []*field {
	var fields []*field
	for _, set := range plan.SettingsList() {
		value, _ := v.Get(set.Name)
		fields = append(fields, &field{
			Name: set.Name, Label: upper(strings.ReplaceAll(set.Name, "_", " ")), Kind: "text", Value: degrees(value), Required: true, Wide: true,
			Hint: fmt.Sprintf("%s. From %s to %s; without your word %s.", upper(set.Meaning), degrees(set.Low), withUnit(set.High, set.Unit), degrees(set.Default)),
		})
	}
	return fields
}

func withUnit(v float64, unit string) string { return strings.TrimSpace(degrees(v) + " " + unit) }

func (s *site) settings(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	v, err := s.Store.Settings(r.Context())
	if err != nil {
		return err
	}
	return s.showForm(w, s.settingsPage(r, g, settingFields(v), nil))
}

func (s *site) settingsPage(r *http.Request, g garden.Garden, fields []*field, whole []string) formPage {
	return formPage{
		frame: s.gardenFrame("The planner's settings", r, g), Heading: "The planner's settings", Back: navLink{Href: "/garden", Label: "Back to the garden"},
		Intro: "They count from the next planning on; the plan there is stays as it is until then.",
		Form:  form{Action: "/settings", Submit: "Save the settings", Fields: fields, Whole: whole},
	}
}

func (s *site) settingsSave(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	v, err := s.Store.Settings(r.Context())
	if err != nil {
		return err
	}
	a := answers{r: r, fields: settingFields(v), units: g.Site.Units}
	for _, set := range plan.SettingsList() {
		value, f := a.number(set.Name), a.field(set.Name)
		switch {
		case f.Error != "":
		case set.Check(value) == nil:
			if err := v.Put(set.Name, value); err != nil {
				return err
			}
		case value >= set.Low && value <= set.High:
			f.Error = "Write a whole number."
		default:
			f.Error = fmt.Sprintf("It must lie between %s and %s.", degrees(set.Low), withUnit(set.High, set.Unit))
		}
	}
	if a.wrong() > 0 {
		return s.showForm(w, s.settingsPage(r, g, a.fields, nil))
	}
	if err := s.Store.SaveSettings(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=saved")
}
