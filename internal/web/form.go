package web

import (
	"errors"
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// formPage is a form on a page of its own.
type formPage struct {
	frame
	Heading string
	Intro   string
	Form    form
	Remove  *removal
	Back    navLink
}

// form is fields and where they go.
type form struct {
	Action string
	Submit string
	Whole  []string // what is wrong with the whole
	Fields []*field
	Wrong  int  // fields with an error
	Asks   bool // it changes nothing: sent as part of the address
}

// field is one question.
type field struct {
	Name, Label, Hint string
	Kind              string // "text", "number", "date", "check", "choice", "lines"
	Value             string
	Checked           bool
	Options           []choice
	Groups            []choiceGroup // of a long list, after Options
	Suggest           []string      // words offered while typing
	Error             string
	Doubt             string
	Required          bool
	Wide              bool
}

// Described is the ids of what explains the field, for readers of screens.
func (f field) Described() string {
	var ids []string
	if f.Hint != "" {
		ids = append(ids, "hint-"+f.Name)
	}
	if f.Error != "" {
		ids = append(ids, "error-"+f.Name)
	}
	return strings.Join(ids, " ")
}

// choiceGroup is part of a long list under a word of its own.
type choiceGroup struct {
	Label   string
	Options []choice
}

type choice struct {
	Value, Label string
	Chosen       bool
}

// removal is the button that takes a thing away.
type removal struct{ Action, Says, Label string }

// answers reads a sent form, field by field, and keeps what is wrong beside the field.
type answers struct {
	r      *http.Request
	fields []*field
	units  quantity.System
}

func (a *answers) field(name string) *field {
	for _, f := range a.fields {
		if f.Name == name {
			return f
		}
	}
	panic("web: the form has no field " + name)
}

// text takes a field's words as typed and keeps them in the field.
func (a *answers) text(name string) string {
	f := a.field(name)
	v := strings.TrimSpace(a.r.PostFormValue(name))
	f.Value = v
	for i := range f.Options {
		f.Options[i].Chosen = f.Options[i].Value == v
	}
	known := hasChoice(f.Options, v)
	for _, g := range f.Groups {
		for i := range g.Options {
			g.Options[i].Chosen = g.Options[i].Value == v
			known = known || g.Options[i].Chosen
		}
	}
	if f.Kind == "choice" && v != "" && !known {
		f.Error = "Choose one of the list."
	}
	if v == "" && f.Required {
		f.Error = "This is needed."
	}
	return v
}

func hasChoice(list []choice, v string) bool {
	for _, c := range list {
		if c.Value == v {
			return true
		}
	}
	return false
}

func (a *answers) check(name string) bool {
	f := a.field(name)
	f.Checked = a.r.PostFormValue(name) != ""
	return f.Checked
}

func (a *answers) fault(name string, err error) {
	var p *quantity.ParseError
	f := a.field(name)
	if errors.As(err, &p) {
		f.Error = sentence(p.Says, p.Remedy)
		return
	}
	f.Error = sentence(err.Error(), "")
}

// length takes "9 m", "30 ft" or a bare number in the person's units; nothing is 0.
func (a *answers) length(name string) quantity.Metre {
	text := a.text(name)
	if text == "" {
		return 0
	}
	v, err := quantity.ParseLength(text, a.units)
	if err != nil {
		a.fault(name, err)
	}
	return v
}

// distance takes "15 cm", "6 in" or a bare number of centimetres or inches; nothing is 0.
func (a *answers) distance(name string) quantity.Metre {
	text := a.text(name)
	if text == "" {
		return 0
	}
	v, err := quantity.ParseDistance(text, a.units)
	if err != nil {
		a.fault(name, err)
	}
	return v
}

// volume takes "40 L", "2 cu ft" or a bare number of litres or gallons; nothing is 0.
func (a *answers) volume(name string) quantity.Litre {
	text := a.text(name)
	if text == "" {
		return 0
	}
	v, err := quantity.ParseVolume(text, a.units)
	if err != nil {
		a.fault(name, err)
	}
	return v
}

// figure takes a plain number that may be left out.
func (a *answers) figure(name string) *float64 {
	v := a.number(name)
	if f := a.field(name); f.Value == "" || f.Error != "" {
		return nil
	}
	return &v
}

func (a *answers) mass(name string) quantity.Kilogram {
	text := a.text(name)
	if text == "" {
		return 0
	}
	v, err := quantity.ParseMass(text, a.units)
	if err != nil {
		a.fault(name, err)
	}
	return v
}

// number takes a plain number; a comma or a true minus sign is taken for what it means.
func (a *answers) number(name string) float64 {
	text := a.text(name)
	if text == "" {
		return 0
	}
	plain := strings.NewReplacer(",", ".", "−", "-", "°", "", "h", "").Replace(text)
	v, err := strconv.ParseFloat(strings.TrimSpace(plain), 64)
	if err != nil || v != v || v > 1e12 || v < -1e12 {
		a.field(name).Error = fmt.Sprintf("%q is not a number. Write it in digits, for example 6.5.", text)
		return 0
	}
	return v
}

func (a *answers) whole(name string) int {
	v := a.number(name)
	if v != float64(int(v)) {
		a.field(name).Error = "Write a whole number."
	}
	return int(v)
}

func (a *answers) date(name string) *civil.Date {
	text := a.text(name)
	if text == "" {
		return nil
	}
	d, err := civil.Parse(text)
	if err != nil {
		a.fault(name, err)
		return nil
	}
	return &d
}

// problems puts what the garden's rules refuse beside the fields; other names map the rules' fields
// to the form's. What belongs to no field is said of the whole.
func (a *answers) problems(ps garden.Problems, other map[string]string) (whole []string) {
	for _, p := range ps {
		name := p.Field
		if n, ok := other[name]; ok {
			name = n
		}
		says := sentence(p.Says, p.Remedy)
		i := -1
		for k, f := range a.fields {
			if f.Name == name {
				i = k
			}
		}
		switch {
		case p.Doubt && i >= 0:
			a.fields[i].Doubt = says
		case p.Doubt:
		case i >= 0 && a.fields[i].Error == "":
			a.fields[i].Error = says
		case i < 0:
			whole = append(whole, says)
		}
	}
	return whole
}

// ok says whether nothing is wrong.
func (a *answers) wrong() int {
	n := 0
	for _, f := range a.fields {
		if f.Error != "" {
			n++
		}
	}
	return n
}

// sentence joins a clause and its remedy to sentences.
func sentence(says, remedy string) string {
	end := func(s string) string {
		s = upper(strings.TrimSpace(s))
		if s != "" && !strings.ContainsAny(s[len(s)-1:], ".?!") {
			s += "."
		}
		return s
	}
	if remedy == "" {
		return end(says)
	}
	return end(says) + " " + end(remedy)
}

// showForm shows a form, again with its errors when it was sent.
func (s *site) showForm(w http.ResponseWriter, p formPage) error {
	status := http.StatusOK
	for _, f := range p.Form.Fields {
		if f.Error != "" {
			p.Form.Wrong++
		}
	}
	if p.Form.Wrong > 0 || len(p.Form.Whole) > 0 {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "form", p)
}
