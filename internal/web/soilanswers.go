package web

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// doubted says whether something typed is unusual.
func (a *answers) doubted() bool {
	return slices.ContainsFunc(a.fields, func(f *field) bool { return f.Doubt != "" })
}

// has says whether the form asks something.
func (a *answers) has(name string) bool {
	return slices.ContainsFunc(a.fields, func(f *field) bool { return f.Name == name })
}

// soilTest reads the form.
func (a *answers) soilTest(g garden.Garden, kit bool) garden.SoilTest {
	t := garden.SoilTest{Kit: kit, Depth: a.distance("depth"), PH: a.figure("ph"), Lab: a.text("lab"), Note: a.text("note")}
	if d := a.date("date"); d != nil {
		t.Date = *d
	}
	for _, b := range g.Beds {
		if a.check(bedField + strconv.FormatInt(b.ID, 10)) {
			t.Beds = append(t.Beds, b.ID)
		}
	}
	if len(t.Beds) == len(g.Beds) {
		t.Beds = nil // all of them is the whole garden
	}
	if fizz := a.text("free_lime"); fizz != "" {
		yes := fizz == "yes"
		t.FreeLime = &yes
	}
	for _, e := range []garden.Element{garden.Nitrogen, garden.Phosphorus, garden.Potassium, garden.Magnesium, garden.Calcium} {
		if r, told := a.reading(e); told {
			t.Elements = append(t.Elements, r)
		}
	}
	if kit {
		return t
	}
	t.Salt = a.text("ph_in") != ""
	t.Buffer, t.Method, t.Acidity = a.figure("buffer_ph"), garden.BufferMethod(a.text("buffer_method")), a.figure("acidity_meq")
	t.Organic, t.CEC, t.Texture = a.figure("organic_percent"), a.figure("cec_meq"), garden.Texture(a.text("texture"))
	t.Salts, t.SaltsBy, t.Lead = a.figure("salts_ds_m"), garden.SaltMethod(a.text("salts_in")), a.figure("lead_mg_kg")
	if micro := a.text("salts_unit") != ""; micro && t.Salts != nil {
		v := *t.Salts / 1000
		t.Salts = &v
	}
	return t
}

// reading is what the form tells of an element.
func (a *answers) reading(e garden.Element) (r garden.Reading, told bool) {
	id := string(e)
	r = garden.Reading{Element: e}
	if a.has("class-" + id) {
		r.Class = garden.TestClass(a.text("class-" + id))
	}
	if !a.has("value-" + id) {
		r.Extractor = garden.HomeKit
		return r, r.Class != ""
	}
	r.Unit, r.Extractor = garden.SoilUnit(a.text("unit-"+id)), garden.Extractor(a.text("extractor-"+id))
	value := a.figure("value-" + id)
	if value == nil {
		if f := a.field("value-" + id); f.Error == "" && (r.Unit != "" || r.Extractor != "") && r.Class == "" {
			f.Error = "Write the figure, or leave its unit and its solution out."
		}
		r.Unit = ""
		return r, r.Class != ""
	}
	r.Value = *value
	return r, true
}

// testProblems puts what is wrong with a test beside its fields, by the garden's rules and by the chemistry.
func (a *answers) testProblems(t garden.SoilTest) (whole []string) {
	perElement := []string{"element", "value", "unit", "extractor", "class"}
	ps := without(t.Validate(), perElement...)
	if len(t.Elements) == 0 && a.wrong() > 0 {
		ps = slices.DeleteFunc(ps, func(p garden.Problem) bool { return strings.Contains(p.Says, "tells nothing") }) // it tells something that cannot be read
	}
	whole = a.problems(ps, map[string]string{"ph_in": "ph_in"})
	for _, r := range t.Elements {
		other := map[string]string{}
		for _, name := range perElement {
			other[name] = name + "-" + string(r.Element)
		}
		whole = append(whole, a.problems(r.Validate(), other)...)
		a.classProblem(r, other)
	}
	if a.wrong() > 0 || len(whole) > 0 {
		return whole
	}
	t.Elements = nil // said of each above
	for _, says := range sentences(soil.Check(t)) {
		name := cmp.Or(map[bool]string{strings.Contains(says, "uffer"): "buffer_ph", strings.HasPrefix(says, "pH"): "ph"}[true], "")
		switch {
		case strings.Contains(says, "holds no reading"):
		case name != "" && a.has(name):
			a.field(name).Error = sentence(says, "")
		default:
			whole = append(whole, sentence(says, ""))
		}
	}
	return whole
}

// classProblem asks for what it takes to read a figure: its solution, or the class the report prints.
func (a *answers) classProblem(r garden.Reading, other map[string]string) {
	if r.Class != "" || r.Unit == "" || !a.has(other["value"]) || a.field(other["value"]).Error != "" {
		return
	}
	_, err := soil.Class(r)
	switch {
	case err == nil:
	case r.Extractor == "":
		a.field(other["extractor"]).Error = "The same figure means different things by each solution. Choose the report's, or the class it prints."
	default:
		a.field(other["class"]).Doubt = sentence(err.Error(), "Without it the figure is kept, but nothing is reckoned from it.")
	}
}

// sentences are the errors joined in one.
func sentences(err error) (says []string) {
	if err == nil {
		return nil
	}
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			says = append(says, e.Error())
		}
		return says
	}
	return []string{err.Error()}
}
