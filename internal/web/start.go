package web

import (
	"cmp"
	"fmt"
	"html/template"
	"net/http"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
	"kailyard/internal/work"
)

// startPage is today at a glance.
type startPage struct {
	frame
	Steps      []step // what is still to be told; when there are any, the rest is empty
	Alarms     []alarmView
	LightSince *lightSince
	Trouble    string // why there is no season, when steps are done
	Plan       bool   // whether all is told and the plan can be made
	Week       civil.Span
	Jobs       []jobLine
	More       int // jobs of the week not listed
	Pick       []plantingLine
	Unsaid     int // plantings to pick that are not listed
	Ground     []groundLine
	Frost      string
	Beds       []thumbnail
	Chosen     string // which of the beds are shown, when not all
	Water      *waterDay
	Wanted     string // how far the wants are met
}

// step is one of the first things to tell a new garden.
type step struct {
	Done             bool
	Says, Href, Link string
}

type jobLine struct {
	Title, When, Href string
	Late              bool
}

type plantingLine struct {
	Name, Key, Bed, Says string
}

type groundLine struct {
	Bed, Href string
	Plants    []plantingLine
}

type thumbnail struct {
	Name, Href, Says string
	Picture          template.HTML
}

// What of a large garden the page of the day shows: enough to begin with, not so much that the page
// is slow or long. The rest is a link away.
const (
	jobsOnStart    = 8
	picksAtMost    = 16
	bedsOnStart    = 12
	thirstyOnStart = 6
)

func (s *site) start(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	p := startPage{frame: s.gardenFrame("Today", r, g)}
	p.Alarms = alarmViews(g, season.AlarmsOf(g, s.Today()))
	now, err := s.Season(r.Context())
	if len(g.Beds) == 0 || len(g.Wants) == 0 || err != nil {
		p.Steps = firstSteps(g, err)
		p.Plan = noPlan(err) && len(g.Beds) > 0 && len(g.Wants) > 0 && s.Replan != nil
		if err != nil && !noPlan(err) {
			p.Trouble = sentence(err.Error(), "")
		}
		return s.render(w, http.StatusOK, "start", p)
	}
	p.frame = s.seasonFrame("Today", r, now)
	today := s.Today()
	finished, err := s.finished(r.Context(), now)
	if err != nil {
		return err
	}
	p.Week = civil.Span{From: today, To: today.Monday() + 6}
	todo := toDo(now, p.Week, finished)
	startJobs(&p, todo, today)
	p.Pick = picking(now, today)
	if n := len(p.Pick); n > picksAtMost {
		p.Pick, p.Unsaid = p.Pick[:picksAtMost], n-picksAtMost
	}
	var beds []garden.Bed
	beds, p.Chosen = bedsOfTheWeek(now, todo)
	p.Ground = inGround(now, beds, today)
	p.Frost = frostSentence(now, today)
	p.Wanted = wantedSentence(now)
	p.LightSince = s.lightSince(now)
	if v, err := s.waterNow(r, now); err == nil { // the page of the day stands without it
		day := s.waterDay(v, now.Garden)
		if n := len(day.Due); n > thirstyOnStart {
			day.Due, day.More = day.Due[:thirstyOnStart], n-thirstyOnStart
		}
		day.Others = nil
		p.Water = &day
		if v.Exceeds != "" {
			p.Water.Notes = append(p.Water.Notes, v.Exceeds)
		}
	}
	p.Beds, err = s.thumbnails(now, beds, today)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "start", p)
}

// bedsOfTheWeek are the beds the page of the day shows: all of a small garden, of a large one those
// with work this week, the most pressing first.
func bedsOfTheWeek(now *season.Result, todo []work.Job) (beds []garden.Bed, chosen string) {
	all := now.Garden.Beds
	if len(all) <= bedsOnStart {
		return all, ""
	}
	seen := map[int64]bool{}
	for _, j := range todo {
		b, ok := now.Bed(j.BedID)
		if !ok || seen[b.ID] || len(beds) == bedsOnStart {
			continue
		}
		seen[b.ID] = true
		beds = append(beds, b)
	}
	if len(beds) == 0 {
		return all[:bedsOnStart], fmt.Sprintf("The first %d beds of %d.", bedsOnStart, len(all))
	}
	return beds, fmt.Sprintf("Of the garden's %d beds, the %s with the most pressing work this week.", len(all), plural(len(beds), "bed", "beds"))
}

func firstSteps(g garden.Garden, trouble error) []step {
	return []step{
		{g.Site.Latitude != 0 || g.Site.Longitude != 0, "Say where the garden lies: its name, latitude and longitude. Day length and the season follow from it.", "/site", "Describe the site"},
		{len(g.Beds) > 0, "Measure a bed: its length, its width and how much sun it gets.", "/bed/new", "Add a bed"},
		{len(g.Wants) > 0, "Say what the household would like to eat, and how much of it.", "/want/new", "Add a want"},
		{(trouble == nil || noPlan(trouble)) && len(g.Beds) > 0 && len(g.Wants) > 0, "Give the garden weather: a record of a station near it, by file or over the network, or a built-in climate to begin with.", recordAddress, "Give it weather"},
	}
}

// toDo are the jobs of a span that the journal does not tell as done, the most pressing first.
func toDo(now *season.Result, span civil.Span, finished map[string]civil.Date) []work.Job {
	jobs := slices.DeleteFunc(slices.Clone(work.Between(now.Jobs, span)), func(j work.Job) bool { _, done := finished[j.Key]; return done })
	slices.SortStableFunc(jobs, func(a, b work.Job) int { return cmp.Compare(a.Window.To, b.Window.To) })
	return jobs
}

func startJobs(p *startPage, todo []work.Job, today civil.Date) {
	for i, j := range todo {
		if i == jobsOnStart {
			p.More = len(todo) - i
			break
		}
		p.Jobs = append(p.Jobs, jobLine{Title: j.Title, When: windowWords(j.Window, today), Href: jobAddress(j, today), Late: j.Window.To < today+2})
	}
}

// windowWords says a span as seen from today.
func windowWords(w civil.Span, today civil.Date) string {
	switch {
	case w.To == today:
		return "today, the last day"
	case w.From <= today:
		return "until " + w.To.Short()
	case w.From == w.To:
		return "on " + w.From.Short()
	}
	return w.String()
}

func line(now *season.Result, p *garden.Planting, says string) plantingLine {
	return plantingLine{Name: cropName(now, p.CropID), Key: p.Key, Bed: bedName(now, p.BedID), Says: says}
}

// picking is what can be eaten today in at least one weather year of ten.
func picking(now *season.Result, today civil.Date) []plantingLine {
	var out []plantingLine
	for _, p := range allPlantings(now) {
		if p.Ended() || undated(p) || today < p.First.P10 || today > p.Last.P90 || today >= p.Clear {
			continue
		}
		says := "ready"
		switch {
		case inSeason(p):
			says = "in its season, to " + p.Last.P90.Short()
		case today < p.First.P50:
			says = "early, look whether it is ready"
		case today < p.First.P90:
			says = "ready in most years"
		case today > p.Last.P50:
			says = "nearly over"
		}
		out = append(out, line(now, p, says))
	}
	slices.SortStableFunc(out, func(a, b plantingLine) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

// inGround is what stands in beds today.
func inGround(now *season.Result, beds []garden.Bed, today civil.Date) []groundLine {
	by := inBeds(allPlantings(now))
	var out []groundLine
	for _, b := range beds {
		g := groundLine{Bed: b.Name, Href: fmt.Sprintf("/bed/%d", b.ID)}
		for _, p := range by[b.ID] {
			if p.Span().Has(today) && !p.Ended() {
				g.Plants = append(g.Plants, line(now, p, stage(p, today)))
			}
		}
		out = append(out, g)
	}
	return out
}

// stage is how far a planting has come by a day, in a few words.
func stage(p *garden.Planting, day civil.Date) string {
	switch {
	case p.Status == garden.Lost:
		return "failed"
	case p.Status == garden.Over:
		return "over"
	case day < p.Start:
		return put(p.Way) + " from " + p.Start.Short()
	case p.Emerge.P90 > p.Start && day < p.Emerge.P10:
		return put(p.Way) + " " + p.Start.Short() + ", not up yet"
	case p.Emerge.P90 > p.Start && day < p.Emerge.P90:
		return "coming up"
	case undated(p) && day < p.Clear:
		return "stands in its place"
	case inSeason(p) && day >= p.First.P10 && day <= p.Last.P90:
		return "in its season, to " + p.Last.P90.Short()
	case day < p.First.P10:
		return "growing, first picking about " + p.First.P50.Short()
	case day < p.First.P90:
		return "coming ready"
	case day <= p.Last.P50:
		return "ready"
	case stays(p) && day < p.Clear:
		return "harvest over, stays in its place"
	case day < p.Clear:
		return "nearly over"
	}
	return "over"
}

// frostSentence is the chance of the next frost as the season stands.
func frostSentence(now *season.Result, today civil.Date) string {
	f := now.Frost(0)
	if f.Years == 0 {
		return ""
	}
	later := 0
	for _, d := range f.Spring {
		if d >= today {
			later++
		}
	}
	if later > 0 {
		says := fmt.Sprintf("In %s of %d a spring frost came on this day or later.", plural(later, "year", "years"), f.Years)
		if c := f.LaterThan(10); !c.None && c.Date > today {
			says += fmt.Sprintf(" From %s the chance of a later one is 1 in 10.", c.Date.Short())
		}
		return says
	}
	if len(f.Autumn) == 0 {
		return fmt.Sprintf("None of %d weather years had an autumn frost.", f.Years)
	}
	come := 0
	for _, d := range f.Autumn {
		if d < today {
			come++
		}
	}
	if come == 0 {
		return fmt.Sprintf("No frost before %s in any of %d weather years; in half of them the first had come by %s.", f.Autumn[0].Short(), f.Years, halfDate(f.EarlierThan(50).Date, f.EarlierThan(50).None))
	}
	return fmt.Sprintf("In %s of %d the first autumn frost had already come by this day.", plural(come, "year", "years"), f.Years)
}

func halfDate(d civil.Date, none bool) string {
	if none {
		return "no day at all"
	}
	return d.Short()
}

func wantedSentence(now *season.Result) string {
	if now.Plan == nil || len(now.Plan.Supply) == 0 {
		return ""
	}
	met := 0
	for _, s := range now.Plan.Supply {
		if s.Met() {
			met++
		}
	}
	return fmt.Sprintf("%d of %s met in the mean of the weather years.", met, plural(len(now.Plan.Supply), "want is", "wants are"))
}

// thumbnails are beds in space and time, in small.
func (s *site) thumbnails(now *season.Result, beds []garden.Bed, today civil.Date) ([]thumbnail, error) {
	type made struct {
		list []thumbnail
		err  error
	}
	key := "thumbnails " + today.String()
	for _, b := range beds {
		key += fmt.Sprintf(" %d", b.ID)
	}
	m := remember(s, now, key, func() made {
		var m made
		frost := frostDepths(now)
		by := inBeds(allPlantings(now))
		for _, b := range beds {
			st := layStrip(b, by[b.ID])
			v := bedtime{now: now, strip: st, frost: frost, today: today, id: fmt.Sprintf("small-%d", b.ID), axis: min(max(13*float64(b.Area()), 44), 200), week: 3.6}
			pic, err := svg(v.draw())
			if err != nil {
				m.err = err
				return m
			}
			m.list = append(m.list, thumbnail{b.Name, fmt.Sprintf("/bed/%d", b.ID), plural(len(st.patches), "planting", "plantings"), pic})
		}
		return m
	})
	return m.list, m.err
}
