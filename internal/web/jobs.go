package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/work"
)

// jobsPage is the work of one week.
type jobsPage struct {
	frame
	Week       civil.Span
	Previous   string // addresses
	Next       string
	ThisWeek   string    // empty when it is shown
	Begin      []jobView // jobs whose days begin in the week
	Under      []jobView // begun before and still in time
	Hours      string
	OrderCount int
}

type jobView struct {
	Key, Anchor, Title, When, Kind string
	Until, Week                    string
	Bed, BedHref, PlantingHref     string
	How                            []string
	Weather, Hours                 string
	Why, Conditions                []reasonLine
	Cautions                       []string
	Done                           string // when it was done, as the journal has it
	CanDo                          bool
}

// ordersPage is what to buy.
type ordersPage struct {
	frame
	Orders []orderView
}

type orderView struct {
	What, Count, Mass, Spare, By string
	For                          []navLink
	Why                          []reasonLine
	Late                         bool
}

func jobAnchor(j work.Job) string { return drawing.Slug("job", j.Key) }

// entryKinds is what the journal says when a job is done.
var entryKinds = map[work.Kind]garden.EntryKind{
	work.Sow: garden.Sowed, work.SetOut: garden.SetOut, work.Plant: garden.SetOut,
	work.Harvest: garden.Harvested, work.Clear: garden.Cleared, work.Feed: garden.Fed, work.Prepare: garden.Dug,
}

// doneText is how a journal entry names the job it ends.
func doneText(j work.Job) string { return "Done: " + j.Title }

func (s *site) jobs(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	today := s.Today()
	day, err := dayOf(r, "week", today)
	if err != nil {
		return err
	}
	week := civil.Span{From: day.Monday(), To: day.Monday() + 6}
	entries, err := s.Store.Journal(r.Context(), civil.Span{From: now.Season.Start - 60, To: now.Season.End() + 366})
	if err != nil {
		return err
	}
	p := jobsPage{
		frame: s.seasonFrame("Jobs", r, now), Week: week, OrderCount: len(now.Orders),
		Previous: "/jobs?week=" + (week.From - 7).String(), Next: "/jobs?week=" + (week.From + 7).String(),
	}
	if !week.Has(today) {
		p.ThisWeek = "/jobs"
	}
	finished := doneBy(entries)
	hours := 0.0
	for _, j := range work.Between(now.Jobs, week) {
		v := viewOf(now, j)
		v.Done, v.Week = finished[doneText(j)], week.From.String()
		if j.Window.From >= week.From {
			p.Begin = append(p.Begin, v)
		} else if v.Done == "" {
			p.Under = append(p.Under, v)
		}
		if v.Done == "" && j.Window.From >= week.From {
			hours += float64(j.Hours)
		}
	}
	if hours > 0 {
		p.Hours = fmt.Sprintf("about %s", hoursText(hours))
	}
	return s.render(w, http.StatusOK, "jobs", p)
}

// hoursText is a fair guess in words: no finer than a quarter of an hour.
func hoursText(h float64) string {
	switch {
	case h < 1:
		return fmt.Sprintf("%.0f minutes", max(5, 5*float64(int(h*12+.5))))
	case h < 1.25:
		return "an hour"
	}
	return fmt.Sprintf("%.2g hours", float64(int(h*4+.5))/4)
}

// doneBy is the day each job was done, by the text of its entry.
func doneBy(entries []garden.Entry) map[string]string {
	by := map[string]string{}
	for _, e := range entries {
		if strings.HasPrefix(e.Text, "Done: ") {
			by[e.Text] = e.Date.Short()
		}
	}
	return by
}

func viewOf(now *season.Result, j work.Job) jobView {
	v := jobView{
		Key: j.Key, Anchor: jobAnchor(j), Title: j.Title, Kind: string(j.Kind),
		When: j.Window.String(), Until: j.Window.To.Short(), How: j.How, Weather: j.Weather, Cautions: j.Cautions,
		Why: reasons(j.Why), Conditions: reasons(j.Conditions), CanDo: true,
	}
	if j.Window.From == j.Window.To {
		v.When = j.Window.From.Short()
	}
	if j.Hours > 0 {
		v.Hours = hoursText(float64(j.Hours))
	}
	if b, ok := now.Bed(j.BedID); ok {
		v.Bed, v.BedHref = b.Name, fmt.Sprintf("/bed/%d", b.ID)
	}
	if j.Planting != "" {
		v.PlantingHref = "/planting/" + j.Planting
	}
	return v
}

func (s *site) jobDone(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	key := r.PostFormValue("key")
	for _, j := range now.Jobs {
		if j.Key != key {
			continue
		}
		kind, ok := entryKinds[j.Kind]
		if !ok {
			kind = garden.Noted
		}
		_, err := s.Store.Append(r.Context(), garden.Entry{Date: s.Today(), Kind: kind, BedID: j.BedID, Planting: j.Planting, Text: doneText(j)})
		if err != nil {
			return err
		}
		week := url.QueryEscape(s.Today().String())
		if d, err := civil.Parse(r.PostFormValue("week")); err == nil {
			week = d.String()
		}
		return seeOther(w, r, "/jobs?week="+week+"&done=noted#"+jobAnchor(j))
	}
	return missing("job of that name in this season's plan")
}

func (s *site) orders(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	p := ordersPage{frame: s.seasonFrame("What to buy", r, now)}
	u := now.Garden.Site.Units
	for _, o := range now.Orders {
		v := orderView{What: upper(o.What), By: o.By.Short(), Why: reasons(o.Why), Late: o.By < s.Today()}
		if o.Count > 0 {
			v.Count = fmt.Sprint(o.Count)
		}
		if o.Mass > 0 {
			v.Mass = u.SeedMass(o.Mass)
		}
		if o.Spare > 0 {
			v.Spare = fmt.Sprintf("%.0f %%", o.Spare*100)
		}
		for _, key := range o.For {
			v.For = append(v.For, navLink{Href: "/planting/" + key, Label: shortKey(key)})
		}
		p.Orders = append(p.Orders, v)
	}
	return s.render(w, http.StatusOK, "orders", p)
}
