package web

import (
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/soil"
	"kailyard/internal/work"
)

// jobsPage is the work of one week.
type jobsPage struct {
	frame
	Week       civil.Span
	Previous   string // addresses
	Next       string
	ThisWeek   string // empty when it is shown
	Alarms     []alarmView
	Begin      []jobView // jobs whose days begin in the week
	Under      []jobView // begun before and still in time
	Portion    portion
	Nothing    bool // neither
	Hours      string
	Water      []string // what the beds want in the week
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

// jobsAtOnce is how many jobs a page tells with measures and reasons.
const jobsAtOnce = 60

// ofWeek are the jobs of a week, those that begin in it first, then those begun before that are not done.
func ofWeek(now *season.Result, week civil.Span, finished map[string]civil.Date) (jobs []work.Job, begin int) {
	var under []work.Job
	for _, j := range work.Between(now.Jobs, week) {
		if j.Window.From >= week.From {
			jobs = append(jobs, j)
		} else if _, done := finished[j.Key]; !done {
			under = append(under, j)
		}
	}
	return append(jobs, under...), len(jobs)
}

// jobAddress is where a job is told in the week of a day: the page finds the part of the list.
func jobAddress(j work.Job, day civil.Date) string {
	q := url.Values{"week": {day.String()}, "job": {j.Key}}
	return "/jobs?" + q.Encode() + "#" + jobAnchor(j)
}

// jobsPart is the number of the part of the week's list the address asks for, by its number or by a
// job it names.
func jobsPart(r *http.Request, jobs []work.Job) (int, error) {
	key := r.URL.Query().Get("job")
	if i := slices.IndexFunc(jobs, func(j work.Job) bool { return j.Key == key }); i >= 0 {
		return i/jobsAtOnce + 1, nil
	}
	return portionAsked(r, len(jobs), jobsAtOnce)
}

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
	finished, err := s.finished(r.Context(), now)
	if err != nil {
		return err
	}
	p := jobsPage{
		Alarms: alarmViews(now.Garden, season.AlarmsOf(now.Garden, today)),
		frame:  s.seasonFrame("Jobs", r, now), Week: week, OrderCount: len(now.Orders),
		Previous: "/jobs?week=" + (week.From - 7).String(), Next: "/jobs?week=" + (week.From + 7).String(),
	}
	if !week.Has(today) {
		p.ThisWeek = "/jobs"
	}
	list, begin := ofWeek(now, week, finished)
	part, err := jobsPart(r, list)
	if err != nil {
		return err
	}
	p.Portion = portionOf(part, len(list), jobsAtOnce, "Jobs", func(k int) string { return fmt.Sprintf("/jobs?week=%s&part=%d", week.From, k) })
	hours := 0.0
	for i, j := range list {
		day, done := finished[j.Key]
		if i < begin && !done {
			hours += float64(j.Hours)
		}
		if i < p.Portion.From || i >= p.Portion.To {
			continue
		}
		v := viewOf(now, j)
		v.Week = week.From.String()
		if done {
			v.Done = day.Short()
		}
		if i < begin {
			p.Begin = append(p.Begin, v)
		} else {
			p.Under = append(p.Under, v)
		}
	}
	if hours > 0 {
		p.Hours = fmt.Sprintf("about %s", hoursText(hours))
	}
	p.Nothing = len(list) == 0
	if v, err := s.waterNow(r, now); err == nil { // the jobs stand without it
		for _, b := range v.InWeek(week.From) {
			p.Water = append(p.Water, b.Says()+".")
		}
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
	case h >= 10:
		return fmt.Sprintf("%.0f hours", h)
	}
	return fmt.Sprintf("%g hours", float64(int(h*4+.5))/4)
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
		for _, p := range putEntries(j, s.Today()) { // where compost came from is asked where it is written down
			if _, ps := soil.PutAs(p.Material, soil.Origin{}, now.Garden.Heaps, p.Date); ps.Err() != nil {
				return seeOther(w, r, originAsked(p, now.Garden))
			}
		}
		kind, ok := entryKinds[j.Kind]
		if !ok {
			kind = garden.Noted
		}
		_, err := s.Store.Append(r.Context(), garden.Entry{Date: s.Today(), Kind: kind, BedID: j.BedID, Planting: j.Planting, Text: doneNotes(now.Jobs)[key].text})
		if err != nil {
			return err
		}
		for _, e := range putEntries(j, s.Today()) {
			if _, err := s.Store.Append(r.Context(), e); err != nil {
				return err
			}
		}
		week := s.Today()
		if d, err := civil.Parse(r.PostFormValue("week")); err == nil {
			week = d
		}
		to, anchor, _ := strings.Cut(jobAddress(j, week), "#")
		return seeOther(w, r, to+"&done=noted#"+anchor)
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
		switch {
		case o.Supply():
			v.Count = o.Amount(u)
		case o.Count > 0:
			v.Count = fmt.Sprint(o.Count)
		}
		v.Mass = o.Weight(u)
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
