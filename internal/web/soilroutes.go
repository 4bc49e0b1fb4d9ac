package web

import (
	"net/http"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// soilRoutes are the addresses about the ground.
func (s *site) soilRoutes() map[string]action {
	return map[string]action{
		"GET /soil/facts":                s.soilFacts,
		"POST /soil/facts":               s.soilFactsSave,
		"GET /soil/bed/{id}/facts":       s.bedSoilFacts,
		"POST /soil/bed/{id}/facts":      s.bedSoilFactsSave,
		"POST /soil/choice":              s.choiceSave,
		"GET /soil/tests":                s.soilTests,
		"GET /soil/test/kit":             s.kitForm,
		"POST /soil/test/kit":            s.kitSave,
		"GET /soil/test/report":          s.reportForm,
		"POST /soil/test/report":         s.reportSave,
		"POST /soil/test/{id}/withdraw":  s.testWithdraw,
		"POST /soil/bed/{id}/put":        s.soilPut,
		"POST /soil/put/{id}/withdraw":   s.putWithdraw,
		"GET /soil/heaps":                s.heaps,
		"GET /soil/heaps/recipe":         s.recipe,
		"GET /soil/heap/new":             s.heapForm,
		"POST /soil/heap/new":            s.heapSave,
		"GET /soil/heap/{id}":            s.heap,
		"GET /soil/heap/{id}/change":     s.heapForm,
		"POST /soil/heap/{id}/change":    s.heapSave,
		"POST /soil/heap/{id}/log":       s.heapLog,
		"POST /soil/heap/{id}/remove":    s.heapRemove,
		"GET /soil/shopping":             s.shopping,
		"GET /soil/package/new":          s.packageForm,
		"POST /soil/package/new":         s.packageSave,
		"GET /soil/package/{id}":         s.packageForm,
		"POST /soil/package/{id}":        s.packageSave,
		"POST /soil/package/{id}/remove": s.packageRemove,
		"GET /soil":                      s.soil,
		"GET /soil/bed/{id}":             s.bedSoil,
		"GET /soil/dig":                  s.digging,
	}
}

// fieldGroup is fields of a form that belong together.
type fieldGroup struct {
	Title, Hint string
	Class       string // how they are laid out
	Fields      []*field
}

// groupsPage is a long form in groups.
type groupsPage struct {
	frame
	Heading string
	Intro   string
	Groups  []fieldGroup
	Form    form // without fields of its own
	Aside   *soilAside
	Remove  *removal
	Back    navLink
}

// soilAside is help beside a form, opened on demand.
type soilAside struct {
	Title string
	Steps []string
	Note  string
}

// flat is every field of the groups.
func flat(groups []fieldGroup) (all []*field) {
	for _, g := range groups {
		all = append(all, g.Fields...)
	}
	return all
}

// showGroups shows a form in groups, again with its errors when it was sent.
func (s *site) showGroups(w http.ResponseWriter, p groupsPage) error {
	status := http.StatusOK
	for _, f := range flat(p.Groups) {
		p.Form.Wrong += count(f.Error != "")
	}
	if p.Form.Wrong > 0 || len(p.Form.Whole) > 0 {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "groups", p)
}

// wordChoices are the words of a list as choices, with what each means after it.
func wordChoices[T ~string](none string, list []T, chosen T, means map[T]string) []choice {
	out := []choice{{"", none, chosen == ""}}
	for _, v := range list {
		label := string(v)
		if m := means[v]; m != "" {
			label += ": " + m
		}
		out = append(out, choice{string(v), label, v == chosen})
	}
	return out
}

// weighing is the units soil materials are weighed in.
func weighing(g garden.Garden) quantity.System { return g.Site.Soil.Weighs }

// without are the problems that are not of some fields.
func without(ps garden.Problems, fields ...string) garden.Problems {
	return slices.DeleteFunc(slices.Clone(ps), func(p garden.Problem) bool { return slices.Contains(fields, p.Field) })
}
