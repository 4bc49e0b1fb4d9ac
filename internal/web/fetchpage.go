package web

import (
	"fmt"
	"net/http"
	"slices"
	"time"

	"kailyard/internal/fetch"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Fitted is a record as it would be taken: set to the garden's height and, where that is wanted, laid
// over the one in use.
type Fitted struct {
	Record *weather.Record
	Years  []int           // the years that can carry a plan
	Wrong  error           // why it cannot be taken; nil: it can
	InUse  *weather.Record // the one in use; nil: none
}

// fetchPage is an errand under way, in trouble, or done: then what it brought, to be used or not.
type fetchPage struct {
	frame
	Says     string // how it stands
	Running  bool
	Of, Kept int
	Waiting  string
	Years    []fetchedYear // what this run brought, the newest first
	Trouble  *trouble
	GoOn     bool
	Look     bool // offer to look at the years that are there
	Brought  *broughtView
	Service  serviceChoice
	Every    int // seconds between looks
}

type fetchedYear struct {
	Year int
	Says string
}

// broughtView is a record to look at before it is used.
type broughtView struct {
	Facts   []fact
	Months  []normalRow
	Notes   []string
	Wrong   string
	Over    bool // laid over the one in use
	CanOver bool // there is a measured one to lay it over
	Partial bool // years are missing that the service was not asked for
	Anyway  bool // shown because the person asked to, not because all is there
}

// lookEvery is how often the page of an errand under way is brought up to date, in seconds.
const lookEvery = 2

func standsSays(v fetch.State) string {
	asked := fmt.Sprintf("%s for %s, %d to %d", v.Service.Name, v.Where, v.First, v.Last)
	switch {
	case v.Running:
		return "Under way: " + asked + "."
	case v.Errand.Brought:
		return "Fetched and not used yet: " + asked + "."
	}
	return "Not finished: " + asked + "."
}

// fetchState is the errand, or a way to where one is begun.
func (s *site) fetchState(r *http.Request) (Fetching, fetch.State, error) {
	f, err := s.fetching()
	if err != nil {
		return nil, fetch.State{}, err
	}
	state, err := f.State(r.Context())
	return f, state, err
}

func (s *site) fetch(w http.ResponseWriter, r *http.Request) error {
	f, state, err := s.fetchState(r)
	if err != nil {
		return err
	}
	if state.Errand == nil {
		return seeOther(w, r, networkAddress)
	}
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	v := state.Service
	p := fetchPage{
		frame: s.gardenFrame(v.Name, r, g), Running: state.Running, Of: state.Last - state.First + 1, Kept: state.Kept, Every: lookEvery,
		Service: serviceChoice{v.ID, v.Name, v.Covers, v.Terms, v.TermsAt, v.Credit, true},
	}
	p.Says = fmt.Sprintf("%s, %d to %d.", upper(state.Where), state.First, state.Last)
	for _, y := range slices.Backward(state.Told) {
		says := plural(y.Days, "day", "days")
		if y.Days == 0 {
			says = "nothing there"
		}
		p.Years = append(p.Years, fetchedYear{y.Year, says})
	}
	asked := r.URL.Query().Get("look") != ""
	switch {
	case state.Running:
		p.Title, p.Refresh = "Asking "+v.Name, 2*lookEvery
		if state.Waiting != nil {
			p.Waiting = fmt.Sprintf("%d: %s Waiting %s before asking again.", state.Waiting.Year, sentence(state.Waiting.Why, ""), waitSays(state.Waiting.Waiting))
		}
		return s.render(w, http.StatusOK, "fetch", p)
	case state.Err != nil:
		p.Title = v.Name + ": not finished"
		t := troubleSays(state.Err)
		p.Trouble, p.GoOn = &t, true
	case !state.Errand.Brought:
		p.Title = v.Name + ": not finished"
		p.Trouble, p.GoOn = &trouble{"It was interrupted.", ""}, true
	default:
		p.Title = v.Name + ": all there"
	}
	p.Look = p.GoOn && state.Kept > 0 && !asked
	if !p.GoOn || asked && state.Kept > 0 {
		p.Brought, err = s.brought(r, f, r.URL.Query().Get("over") != "", p.GoOn, g.Site.Units)
		if err != nil {
			return err
		}
	}
	return s.render(w, http.StatusOK, "fetch", p)
}

func waitSays(d time.Duration) string {
	if d >= 2*time.Minute {
		return fmt.Sprintf("%.0f minutes", d.Minutes())
	}
	return plural(int(d.Round(time.Second).Seconds()), "second", "seconds")
}

// fitted is what the errand brought as it would be taken.
func (s *site) fitted(r *http.Request, f Fetching, over bool) (Fitted, error) {
	record, err := f.Record(r.Context())
	if err != nil {
		t := troubleSays(err)
		return Fitted{}, problem{notReady, t.Says, t.Remedy}
	}
	return s.Fit(r.Context(), record, over)
}

func (s *site) brought(r *http.Request, f Fetching, over, partial bool, u quantity.System) (*broughtView, error) {
	v, err := s.fitted(r, f, over)
	if err != nil {
		return nil, err
	}
	b := &broughtView{Facts: recordFacts(v, u), Over: over, CanOver: v.InUse != nil && v.InUse.Origin == weather.Measured, Partial: partial, Anyway: partial}
	if v.Wrong != nil {
		b.Wrong = sentence("This cannot be used: "+v.Wrong.Error(), "")
	}
	for _, n := range v.Record.Normals() {
		b.Months = append(b.Months, normalRow{
			Month: time.Month(n.Month).String(), Min: u.Temperature(n.Min), Max: u.Temperature(n.Max), Rain: u.Rain(n.Rain),
			WetDays: fmt.Sprintf("%.0f", n.WetDays), Years: fmt.Sprint(n.Years),
		})
	}
	const most = 30
	for _, n := range v.Record.Notes[:min(most, len(v.Record.Notes))] {
		b.Notes = append(b.Notes, n.Says)
	}
	if more := len(v.Record.Notes) - most; more > 0 {
		b.Notes = append(b.Notes, plural(more, "further remark", "further remarks")+".")
	}
	return b, nil
}

// recordFacts are a record in a few lines: where it is from, its days, what they are good for, its holes.
func recordFacts(v Fitted, u quantity.System) []fact {
	r := v.Record
	from := r.Source
	if r.Station.Name != "" {
		from += "; " + r.Station.Name
	}
	cold, wet, longest, run := 0, 0, 0, 0
	for _, d := range r.Days {
		if !d.HasRain {
			wet++
		}
		if d.HasTemp {
			run = 0
			continue
		}
		cold++
		run++
		longest = max(longest, run)
	}
	holes := "none"
	if cold > 0 {
		holes = fmt.Sprintf("%s, the longest hole %s", plural(cold, "day", "days"), plural(longest, "day", "days"))
	}
	rain := "none"
	if wet > 0 {
		rain = plural(wet, "day", "days")
	}
	facts := []fact{
		{"From", from},
		{"Days", fmt.Sprintf("%s to %s", r.Days[0].Date, r.Days[len(r.Days)-1].Date)},
		{"Years fit for plans", yearsSays(v.Years)},
		{"Days without a temperature", holes},
		{"Days without a rain figure", rain},
	}
	if r.Station.Levelled {
		facts = append(facts, fact{"Temperatures stand for", u.Height(r.Station.Elevation) + " above the sea"})
	}
	if v.InUse != nil {
		old := v.InUse
		facts = append(facts, fact{"In use now", fmt.Sprintf("%s, %s to %s (%s)", old.Source, old.Days[0].Date, old.Days[len(old.Days)-1].Date, old.Origin)})
	}
	return facts
}

func yearsSays(years []int) string {
	if len(years) == 0 {
		return "none"
	}
	return fmt.Sprintf("%d: %s", len(years), weather.YearRuns(years))
}

func (s *site) fetchGoOn(w http.ResponseWriter, r *http.Request) error {
	f, state, err := s.fetchState(r)
	if err != nil {
		return err
	}
	if !state.Running && state.Errand != nil {
		if err := f.GoOn(r.Context()); err != nil {
			t := troubleSays(err)
			return problem{refused, t.Says, t.Remedy}
		}
	}
	return seeOther(w, r, fetchAddress)
}

func (s *site) fetchStop(w http.ResponseWriter, r *http.Request) error {
	f, err := s.fetching()
	if err != nil {
		return err
	}
	f.Stop()
	return seeOther(w, r, fetchAddress)
}

// fetchLeave gives an errand up: its years stay in the book.
func (s *site) fetchLeave(w http.ResponseWriter, r *http.Request) error {
	f, err := s.fetching()
	if err != nil {
		return err
	}
	if err := f.Settle(r.Context()); err != nil {
		return err
	}
	return seeOther(w, r, networkAddress+"?done=left")
}

// fetchUse makes the garden compute from what was brought.
func (s *site) fetchUse(w http.ResponseWriter, r *http.Request) error {
	f, state, err := s.fetchState(r)
	switch {
	case err != nil:
		return err
	case state.Errand == nil:
		return problem{notReady, "No weather waits to be used.", "It may have been used already: look at what the garden has."}
	case state.Running:
		return problem{refused, "The weather is still being fetched.", "Wait until it is done, or stop it and use what is there."}
	}
	v, err := s.fitted(r, f, r.PostFormValue("over") != "")
	if err != nil {
		return err
	}
	if v.Wrong != nil {
		return problem{refused, sentence("This cannot be used: "+v.Wrong.Error(), ""), "Fetch more years, or lay it over the record in use. The garden keeps the weather it has."}
	}
	if err := s.TakeRecord(r.Context(), v.Record); err != nil {
		return err
	}
	if err := f.Settle(r.Context()); err != nil {
		return err
	}
	return seeOther(w, r, "/garden?done=weather")
}
