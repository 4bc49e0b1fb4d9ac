package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// putField and wetField begin the names of the fields that ask how much there is of a feedstock.
const putField = "put-"

// feedstockFields ask of each feedstock how much there is, or went in.
func feedstockFields(put []garden.HeapPart, u quantity.System) (brown, green []*field) {
	for _, f := range soil.Feedstocks() {
		one := &field{Name: putField + f.ID, Label: upper(f.Name), Kind: "text"}
		for _, p := range put {
			if p.Feedstock == f.ID {
				one.Value = u.ExactVolume(p.Volume)
			}
		}
		if f.Ratio() >= 35 {
			brown = append(brown, one)
		} else {
			green = append(green, one)
		}
	}
	return brown, green
}

func heapParts(put []garden.HeapPart, u quantity.System) []fieldGroup {
	brown, green := feedstockFields(put, u)
	hint := "Loose, by volume: “60 L”, “2 cu ft” or “2 barrows”. Leave empty what there is none of."
	return []fieldGroup{
		{Title: "Brown and dry, slow to rot", Class: "stuff", Hint: hint, Fields: brown},
		{Title: "Green and wet, quick to rot", Class: "stuff", Fields: green},
	}
}

// parts reads how much there is of each feedstock. What is there with a moisture of its own keeps it.
func (a *answers) parts(g garden.Garden, was []garden.HeapPart, take func(name string) string) (put []garden.HeapPart) {
	for _, f := range soil.Feedstocks() {
		name := putField + f.ID
		one := a.field(name)
		one.Value = strings.TrimSpace(take(name))
		if one.Value == "" {
			continue
		}
		volume := a.loose(one, g.Site.Soil.Bucket)
		part := garden.HeapPart{Feedstock: f.ID, Volume: volume}
		for _, p := range was {
			if p.Feedstock == f.ID {
				part.Moisture = p.Moisture
			}
		}
		if one.Error == "" {
			if ps := part.Validate(); ps.Err() != nil {
				one.Error = sentence(ps[0].Says, ps[0].Remedy)
			}
		}
		put = append(put, part)
	}
	return put
}

// loose is a loose volume: litres, cubic feet, buckets or barrows.
func (a *answers) loose(f *field, bucket quantity.Litre) quantity.Litre {
	if n, holds, ok, says := vessels(f.Value, bucket); ok {
		f.Error = says
		return quantity.Litre(n) * holds
	}
	v, err := quantity.ParseVolume(f.Value, a.units)
	if err != nil {
		a.fault(f.Name, err)
	}
	return v
}

// heapGroups are a heap's name and days, and what went in.
func (s *site) heapGroups(g garden.Garden, h garden.Heap) []fieldGroup {
	started, emptied := h.Started.String(), ""
	if h.Started == 0 {
		started = s.Today().String()
	}
	if h.Emptied != nil {
		emptied = h.Emptied.String()
	}
	first := fieldGroup{Title: "The heap", Fields: []*field{
		{Name: "name", Label: "Name", Kind: "text", Value: h.Name, Required: true},
		{Name: "started", Label: "Begun on", Kind: "date", Value: started, Required: true},
	}}
	if h.ID != 0 {
		first.Fields = append(first.Fields, &field{Name: "emptied", Label: "Used up on", Kind: "date", Value: emptied, Hint: "Empty while there is some of it."})
	}
	first.Fields = append(first.Fields, &field{Name: "note", Label: "Note", Kind: "lines", Value: h.Note, Wide: true})
	return append([]fieldGroup{first}, heapParts(h.Put, weighing(g))...)
}

func (s *site) heapPage(r *http.Request, g garden.Garden, h garden.Heap, groups []fieldGroup, whole []string) groupsPage {
	p := groupsPage{
		frame: s.gardenFrame("A new heap", r, g), Groups: groups, Intro: "Write down what went in; more can be added later.",
		Form: form{Action: "/soil/heap/new", Submit: "Begin the heap", Whole: whole}, Back: navLink{Href: "/soil/heaps", Label: "All heaps"},
	}
	if h.ID != 0 {
		p.Title, p.Form.Action, p.Form.Submit = "Change "+h.Name, fmt.Sprintf("/soil/heap/%d/change", h.ID), "Save the heap"
		p.Back = navLink{Href: heapHref(h.ID), Label: "Back to the heap"}
	}
	p.Heading = p.Title
	return p
}

func heapHref(id int64) string { return fmt.Sprintf("/soil/heap/%d", id) }

// heapAsked is the heap the address names, or a fresh one with what the address says there is.
func (s *site) heapAsked(r *http.Request) (garden.Garden, garden.Heap, error) {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return g, garden.Heap{}, err
	}
	if r.PathValue("id") == "" {
		return g, garden.Heap{Name: freshName(g.Heaps)}, nil
	}
	i := slices.IndexFunc(g.Heaps, func(h garden.Heap) bool { return h.ID == idOf(r) })
	if i < 0 {
		return g, garden.Heap{}, missing("heap of that number")
	}
	return g, g.Heaps[i], nil
}

// freshName is a name that no heap has.
func freshName(heaps []garden.Heap) string {
	for n := len(heaps) + 1; ; n++ {
		name := fmt.Sprintf("Heap %d", n)
		if !slices.ContainsFunc(heaps, func(h garden.Heap) bool { return h.Name == name }) {
			return name
		}
	}
}

func (s *site) heapForm(w http.ResponseWriter, r *http.Request) error {
	g, h, err := s.heapAsked(r)
	if err != nil {
		return err
	}
	groups := s.heapGroups(g, h)
	if h.ID == 0 {
		for _, f := range flat(groups) {
			if text := r.URL.Query().Get(f.Name); text != "" && strings.HasPrefix(f.Name, putField) {
				f.Value = text
			}
		}
	}
	return s.showGroups(w, s.heapPage(r, g, h, groups, nil))
}

func (s *site) heapSave(w http.ResponseWriter, r *http.Request) error {
	g, h, err := s.heapAsked(r)
	if err != nil {
		return err
	}
	groups := s.heapGroups(g, h)
	a := answers{r: r, fields: flat(groups), units: weighing(g)}
	v := h
	v.Name, v.Note = a.text("name"), a.text("note")
	if d := a.date("started"); d != nil {
		v.Started = *d
	}
	if h.ID != 0 {
		v.Emptied = a.date("emptied")
	}
	v.Put = a.parts(g, h.Put, r.PostFormValue)
	var whole []string
	if a.wrong() == 0 {
		whole = a.problems(append(v.Validate(), soil.CheckHeap(v)...), nil)
	}
	if v.Started > s.Today() && a.field("started").Error == "" {
		a.field("started").Error = "This day has not come yet. Write the day it was begun."
	}
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showGroups(w, s.heapPage(r, g, h, groups, whole))
	}
	id := h.ID
	if id == 0 {
		id, err = s.Store.AddHeap(r.Context(), v)
	} else {
		err = s.Store.SaveHeap(r.Context(), v)
	}
	if err != nil {
		return err
	}
	return seeOther(w, r, heapHref(id)+"?done=told")
}

func (s *site) heapRemove(w http.ResponseWriter, r *http.Request) error {
	if err := s.Store.RemoveHeap(r.Context(), idOf(r)); err != nil {
		return err
	}
	return seeOther(w, r, "/soil/heaps?done=removed")
}

var heapKindSays = map[garden.HeapKind]string{
	garden.HeapHeat: "its heat was read", garden.HeapTurned: "turned", garden.HeapWetted: "wetted", garden.HeapAdded: "something was added", garden.HeapChecked: "looked at",
}

func (s *site) heapLogFields(u quantity.System) []*field {
	var kinds []choice
	for _, k := range garden.HeapKinds {
		kinds = append(kinds, choice{string(k), heapKindSays[k], k == garden.HeapHeat})
	}
	example := "“58 °C”"
	if u == quantity.US {
		example = "“136 °F”"
	}
	return []*field{
		{Name: "date", Label: "Day", Kind: "date", Value: s.Today().String(), Required: true},
		{Name: "kind", Label: "What", Kind: "choice", Options: kinds, Required: true},
		{Name: "temperature", Label: "Heat in the middle", Kind: "text", Hint: example + "; may go with any entry."},
		{Name: "text", Label: "In your words", Kind: "text"},
	}
}

func (s *site) heapLog(w http.ResponseWriter, r *http.Request) error {
	g, h, err := s.heapAsked(r)
	if err != nil {
		return err
	}
	a := answers{r: r, fields: s.heapLogFields(g.Site.Units), units: g.Site.Units}
	e := garden.HeapEntry{Kind: garden.HeapKind(a.text("kind")), Text: a.text("text")}
	if d := a.date("date"); d != nil {
		e.Date = *d
	}
	if text := a.text("temperature"); text != "" {
		v, err := quantity.ParseTemperature(text, g.Site.Units)
		if err != nil {
			a.fault("temperature", err)
		}
		e.Celsius = &v
	}
	var whole []string
	if a.wrong() == 0 {
		whole = a.problems(e.Validate(), nil)
	}
	switch f := a.field("date"); {
	case f.Error != "":
	case e.Date > s.Today():
		f.Error = "This day has not come yet. Write it down when it is done."
	case e.Date < h.Started:
		f.Error = "The heap was begun on " + h.Started.Long() + ". Write a day since then."
	}
	if a.wrong() > 0 || len(whole) > 0 {
		return s.heapShown(w, r, g, h, a.fields, whole)
	}
	if err := s.Store.AppendHeap(r.Context(), h.ID, e); err != nil {
		return err
	}
	return seeOther(w, r, heapHref(h.ID)+"?done=logged")
}
