package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// journalPage is what happened, newest first, and the form to add to it.
type journalPage struct {
	frame
	Year     int
	Previous string
	Next     string
	Days     []journalDay
	Form     form
}

type journalDay struct {
	Date    string
	Entries []entryView
}

type entryView struct {
	Kind, Text, Amount, Bed, BedHref, Planting, PlantingHref string
}

func (s *site) journalFields(g garden.Garden) []*field {
	kinds, beds := []choice{}, []choice{{Label: "no bed"}}
	for _, k := range garden.EntryKinds() {
		kinds = append(kinds, choice{string(k), string(k), k == garden.Noted})
	}
	for _, b := range g.Beds {
		beds = append(beds, choice{Value: strconv.FormatInt(b.ID, 10), Label: b.Name})
	}
	return []*field{
		{Name: "date", Label: "Day", Kind: "date", Value: s.Today().String(), Required: true},
		{Name: "kind", Label: "What happened", Kind: "choice", Options: kinds, Required: true},
		{Name: "bed", Label: "Bed", Kind: "choice", Options: beds},
		{Name: "planting", Label: "Planting", Kind: "text", Hint: "Its number in the plan, as 2027-07; may be left empty."},
		{Name: "amount", Label: "Amount", Kind: "text", Hint: "Picked: “1.2 kg” or “3 lb”. Rained: “12 mm”. Watered: “30 L”, “12 mm”, “25 min” or “4 cans”."},
		{Name: "text", Label: "In your words", Kind: "lines", Wide: true},
	}
}

func (s *site) journalPage(r *http.Request, g garden.Garden, fields []*field, whole []string) (journalPage, error) {
	p := journalPage{frame: s.gardenFrame("Journal", r, g), Year: s.Today().Year(), Form: form{Action: "/journal", Submit: "Write it down", Fields: fields, Whole: whole}}
	if y, err := strconv.Atoi(r.URL.Query().Get("year")); err == nil && y >= 1900 && y <= 2200 {
		p.Year = y
	}
	for _, f := range fields {
		if f.Error != "" {
			p.Form.Wrong++
		}
	}
	p.Previous = "/journal?year=" + strconv.Itoa(p.Year-1)
	if p.Year < s.Today().Year() {
		p.Next = "/journal?year=" + strconv.Itoa(p.Year+1)
	}
	list, err := s.Store.Journal(r.Context(), civil.Span{From: civil.Of(p.Year, 1, 1), To: civil.Of(p.Year, 12, 31)})
	if err != nil {
		return p, err
	}
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b garden.Entry) int {
		if a.Date != b.Date {
			return int(b.Date - a.Date)
		}
		return int(b.ID - a.ID)
	})
	for _, e := range list {
		if n := len(p.Days); n == 0 || p.Days[n-1].Date != e.Date.Long() {
			p.Days = append(p.Days, journalDay{Date: e.Date.Long()})
		}
		v := entryView{Kind: string(e.Kind), Text: e.Text, Planting: e.Planting}
		if e.Planting != "" {
			v.PlantingHref = "/planting/" + e.Planting
		}
		if e.Amount > 0 {
			v.Amount = g.Site.Units.Mass(e.Amount)
		}
		if came := cameWords(e, g.Site.Units); came != "" {
			v.Amount = came
		}
		if e.Material != "" {
			v.Text = strings.TrimSpace(upper(materialName(g.Packages, e.Material)) + ". " + e.Text)
			if e.Amount == 0 {
				v.Amount = bulk(e.Volume, weighing(g))
			}
		}
		if b, ok := g.Bed(e.BedID); ok {
			v.Bed, v.BedHref = b.Name, "/bed/"+strconv.FormatInt(b.ID, 10)
		}
		last := &p.Days[len(p.Days)-1]
		last.Entries = append(last.Entries, v)
	}
	return p, nil
}

func (s *site) journal(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	fields := s.journalFields(g)
	if key := r.URL.Query().Get("planting"); key != "" {
		fields[3].Value = key
	}
	p, err := s.journalPage(r, g, fields, nil)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "journal", p)
}

func (s *site) journalAdd(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	a := answers{r: r, fields: s.journalFields(g), units: g.Site.Units}
	v := garden.Entry{Kind: garden.EntryKind(a.text("kind")), Planting: a.text("planting"), Text: a.text("text")}
	if d := a.date("date"); d != nil {
		v.Date = *d
	}
	if text := a.text("bed"); text != "" {
		v.BedID, _ = strconv.ParseInt(text, 10, 64)
	}
	if v.Planting != "" {
		now, err := s.Season(r.Context())
		if err == nil {
			if q, ok := now.Planting(v.Planting); !ok {
				a.field("planting").Error = "The plan has no planting of this number. Look it up on the bed's page, or leave it empty."
			} else if v.BedID == 0 {
				v.BedID = q.BedID
			}
		}
	}
	if v.Kind == garden.Rained || v.Kind == garden.Watered {
		a.cameDown("amount", &v, g)
	} else {
		v.Amount = a.mass("amount")
	}
	whole := a.problems(v.Validate(), map[string]string{"volume": "amount", "depth": "amount"})
	if a.wrong() > 0 || len(whole) > 0 {
		p, err := s.journalPage(r, g, a.fields, whole)
		if err != nil {
			return err
		}
		return s.render(w, http.StatusUnprocessableEntity, "journal", p)
	}
	if _, err := s.Store.Append(r.Context(), v); err != nil {
		return err
	}
	return seeOther(w, r, "/journal?done=noted")
}
