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
			Name: set.Name, Label: settingLabel(set.Name), Kind: "text", Value: degrees(value), Required: true, Wide: true,
			Hint: fmt.Sprintf("%s. From %s; %s unless you say otherwise.", upper(set.Meaning), settingRange(set), grouped(set.Default)),
		})
	}
	return fields
}

// settingLabels are the settings in few words; one that has none goes by its name.
var settingLabels = map[string]string{
	"success_share": "Share of the years that must succeed", "rotation_years": "Years before a family returns",
	"turnaround_days": "Days between two crops", "seed": "Start of the search", "improvement_rounds": "Changes to try",
	"work_weight": "How much the work counts", "ground_weight": "How much held ground counts",
	"risk": "How the weather years count",
}

func settingLabel(name string) string {
	if label, ok := settingLabels[name]; ok {
		return label
	}
	return upper(strings.ReplaceAll(name, "_", " "))
}

// settingRange is "3 to 8 years"; a share of one needs no unit.
func settingRange(set plan.Setting) string {
	says := grouped(set.Low) + " to " + grouped(set.High)
	if set.Unit == "" || set.Unit == "of 1" {
		return says
	}
	return says + " " + set.Unit
}

// grouped is a number with its digits in threes, as a reader counts them.
func grouped(v float64) string {
	digits := degrees(v)
	whole, rest, _ := strings.Cut(digits, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "\u202f" + whole[i:]
	}
	if rest != "" {
		return whole + "." + rest
	}
	return whole
}

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
			f.Error = "Write a number from " + settingRange(set) + "."
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
