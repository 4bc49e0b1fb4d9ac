package web

import (
	"fmt"
	"html/template"
	"net/http"

	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// othersPage is other plans for the season beside the one as set.
type othersPage struct {
	frame
	Asked   bool // they were compared; else only the question is shown
	Head    []string
	Rows    []besideRow
	Plans   []otherPlan
	Chosen  string // which of the beds are shown, when not all
	Settled bool   // none is really another
}

// besideRow is one figure of every plan.
type besideRow struct {
	Name  string
	Cells []string
}

// otherPlan is one of them in words and small pictures.
type otherPlan struct {
	ID, Name, Says string
	Alike          string // the name of the plan it comes out nearly the same as
	Differs        string
	Same           string
	Set            bool // it is the plan as set
	Beds           []thumbnail
}

const othersAddress = "/plan/others"

func (s *site) others(w http.ResponseWriter, r *http.Request) error {
	if s.Others == nil {
		return missing("page for this")
	}
	now, err := s.current(r)
	if err != nil {
		return err
	}
	p := othersPage{frame: s.seasonFrame("Other plans", r, now)}
	all, err := s.Others(r.Context())
	if err != nil {
		return err
	}
	if all != nil {
		p.Asked = true
		if err := s.beside(&p, all); err != nil {
			return err
		}
	}
	return s.render(w, http.StatusOK, "others", p)
}

// beside fills the page with plans that were compared; one that is nearly another is told in a sentence and not shown.
func (s *site) beside(p *othersPage, all *season.Alternatives) error {
	u := all.Plans[0].Result.Garden.Site.Units
	rows := []struct {
		name string
		says func(f season.Figures) string
	}{
		{"Wants met", func(f season.Figures) string { return fmt.Sprintf("%d of %d", f.Met, f.Wants) }},
		{"To eat", func(f season.Figures) string { return u.Mass(f.Expect) }},
		{"In a poor year", func(f season.Figures) string { return f.PoorText(u) }},
		{"Plantings", func(f season.Figures) string { return fmt.Sprint(f.Plantings) }},
		{"Ground held", func(f season.Figures) string { return fmt.Sprintf("%.0f %%", 100*f.GroundShare) }},
		{"Ground × time", func(f season.Figures) string { return groundWeeks(u, f.GroundWeeks) }},
		{"Work", func(f season.Figures) string { return fmt.Sprintf("%.0f h", f.Hours) }},
		{"Least sure", func(f season.Figures) string { return fmt.Sprintf("%.0f %%", 100*f.Least) }},
		{"Sure, mean", func(f season.Figures) string { return fmt.Sprintf("%.0f %%", 100*f.Mean) }},
	}
	for _, r := range rows {
		p.Rows = append(p.Rows, besideRow{Name: r.name})
	}
	p.Settled = true
	for i, a := range all.Plans {
		o := otherPlan{ID: a.Way.ID, Name: a.Way.Name, Says: a.Way.Says, Differs: a.Differs, Same: fmt.Sprintf("%.0f %%", 100*a.Same), Set: i == 0}
		if like, ok := all.Plan(a.Alike); ok {
			o.Alike = like.Way.Name
			p.Plans = append(p.Plans, o)
			continue
		}
		p.Settled = p.Settled && i == 0
		p.Head = append(p.Head, a.Way.Name)
		for k, r := range rows {
			p.Rows[k].Cells = append(p.Rows[k].Cells, r.says(a.Figures))
		}
		var err error
		if o.Beds, err = smallBeds(a.Result, a.Way.ID); err != nil {
			return err
		}
		if n := len(a.Result.Garden.Beds); n > bedsOnStart {
			p.Chosen = fmt.Sprintf("The first %d of %d beds are drawn.", bedsOnStart, n)
		}
		p.Plans = append(p.Plans, o)
	}
	return nil
}

// groundWeeks is square metres × weeks in the person's units.
func groundWeeks(u quantity.System, weeks float64) string {
	return u.Area(quantity.SquareMetre(weeks)) + " weeks"
}

// smallBeds are the beds of a plan that is not the season's, smaller still than on the day's page and leading nowhere.
func smallBeds(now *season.Result, id string) (list []thumbnail, err error) {
	frost, by := frostDepths(now), inBeds(allPlantings(now))
	for i, b := range now.Garden.Beds {
		if i == bedsOnStart {
			break
		}
		st := layStrip(b, by[b.ID])
		v := bedtime{now: now, strip: st, frost: frost, id: fmt.Sprintf("%s-%d", id, b.ID), axis: min(max(9*float64(b.Area()), 36), 110), week: 2.2, unlinked: true}
		var pic template.HTML
		if pic, err = svg(v.draw()); err != nil {
			return nil, err
		}
		list = append(list, thumbnail{Name: b.Name, Picture: pic, Says: plural(len(st.patches), "planting", "plantings")})
	}
	return list, nil
}

// othersCompared makes the plans and compares them.
func (s *site) othersCompared(w http.ResponseWriter, r *http.Request) error {
	if s.Compare == nil {
		return missing("page for this")
	}
	if err := s.Compare(r.Context()); err != nil {
		return problem{notReady, "The season could not be planned in other ways: " + err.Error() + ".", "Mend what is named and compare again; the plan there is stays."}
	}
	return seeOther(w, r, othersAddress)
}

// otherUsed keeps one of them as the season's plan.
func (s *site) otherUsed(w http.ResponseWriter, r *http.Request) error {
	if s.Use == nil {
		return missing("page for this")
	}
	kept, err := s.Use(r.Context(), r.PostFormValue("plan"))
	if err != nil {
		return err
	}
	if !kept {
		return problem{refused, "The garden, or the day, has changed since these plans were compared.", "Compare them again and choose then: nothing was changed."}
	}
	return seeOther(w, r, "/?done=chosen")
}
