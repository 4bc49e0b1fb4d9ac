package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/growth"
	"kailyard/internal/season"
)

// readyPage works back from a day.
type readyPage struct {
	frame
	Form    form
	Heading string
	Ways    []readyWay
	Lists   []readyList // of the whole catalogue, when no crop was named
}

type readyWay struct {
	Title, CropID string
	Says          []string
	Picture       template.HTML
	Rows          []readyRow
	Stores        bool
	Raises        bool
}

type readyRow struct{ Start, Under, Ready, Kept, Late, Over, Lost string }

type readyList struct {
	Title string
	None  string
	Crops []readyLine
}

type readyLine struct{ CropID, Href, Name, When string }

// shares that can be asked for, in percent.
var shares = []int{50, 60, 70, 80, 90, 95}

func (s *site) ready(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	q := r.URL.Query()
	word, by, percent := strings.TrimSpace(q.Get("crop")), strings.TrimSpace(q.Get("by")), q.Get("share")
	if percent == "" {
		percent = "80"
	}
	fields := []*field{
		{Name: "crop", Label: "Crop", Kind: "text", Value: word, Suggest: cropWords(now.Crops), Hint: "Leave it empty for everything the catalogue has."},
		{Name: "by", Label: "Ready by", Kind: "text", Value: by, Required: true, Hint: "A date such as 2027-12-24, or a feast with or without its year."},
		{Name: "share", Label: "How surely", Kind: "choice", Hint: "The share of weather years in which it must be ready."},
	}
	for _, f := range civil.Feasts() {
		fields[1].Suggest = append(fields[1].Suggest, f.ID)
	}
	share := 0.0
	for _, n := range shares {
		text := fmt.Sprint(n)
		fields[2].Options = append(fields[2].Options, choice{text, text + " % of the years", text == percent})
		if text == percent {
			share = float64(n) / 100
		}
	}
	p := readyPage{frame: s.seasonFrame("Ready by a day", r, now), Form: form{Action: "/ready", Submit: "Work back", Fields: fields, Asks: true}}
	if by == "" {
		return s.render(w, http.StatusOK, "ready", p)
	}
	day, feast, err := civil.ParseDay(by, s.Today())
	if err != nil {
		fields[1].Error = sentence(err.Error(), "")
	}
	if share == 0 {
		fields[2].Error = "Choose one of the list."
	}
	var found []*crop.Crop
	if word != "" {
		var near []string
		if found, near = now.Crops.Match(word); len(found) == 0 {
			fields[0].Error = sentence(season.UnknownCrop(word, near).Error(), "")
		}
	}
	for _, f := range fields {
		p.Form.Wrong += count(f.Error != "")
	}
	if p.Form.Wrong > 0 {
		return s.render(w, http.StatusUnprocessableEntity, "ready", p)
	}
	p.Heading = "By " + day.Long()
	if feast != "" {
		p.Heading = "By " + feast + ", " + day.Long()
	}
	if day < s.Today() {
		p.Heading += ", which is past"
	}
	if word == "" {
		p.Lists, err = s.readyLists(now, day, share, by, percent)
	} else {
		p.Ways, err = readyWays(now, found, day, share, s.Today())
	}
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "ready", p)
}

func readyWays(now *season.Result, crops []*crop.Crop, day civil.Date, share float64, today civil.Date) ([]readyWay, error) {
	var out []readyWay
	for _, c := range crops {
		list, err := now.Ready(c, day, share, today)
		if err != nil {
			return nil, err
		}
		for i, a := range list {
			v := readyWay{Title: upper(c.Name()) + ", " + wayWords(a.Method.Way), CropID: c.ID, Says: a.Says(), Raises: a.Method.Way == crop.SetOut, Stores: c.Harvest.StoreDays > 0}
			if v.Picture, err = readyChart(a, fmt.Sprintf("ready-%s-%d", c.ID, i)); err != nil {
				return nil, err
			}
			v.Rows = readyRows(a)
			out = append(out, v)
			if a.Never != "" {
				break // once is enough
			}
		}
	}
	return out, nil
}

func wayWords(w crop.Way) string {
	switch w {
	case crop.SetOut:
		return "raised and set out"
	case crop.Set:
		return "planted"
	}
	return "sown"
}

// readySpan is the start days worth showing: those with any chance, and a little around.
func readySpan(a season.Ready) (civil.Span, bool) {
	span, any := civil.Span{}, false
	for _, s := range a.Starts {
		if s.Ready+s.Kept > 0 {
			if !any {
				span.From = s.Start
			}
			span.To, any = s.Start, true
		}
	}
	if !any {
		return span, false
	}
	first := a.Starts[0].Start
	return civil.Span{From: max(span.From.Add(-21), first), To: min(span.To.Add(21), a.Day)}, true
}

func readyChart(a season.Ready, id string) (template.HTML, error) {
	span, any := readySpan(a)
	if !any || span.Days() < 3 {
		return "", nil
	}
	first := int(span.From - a.Starts[0].Start)
	fresh, kept := make([]float64, span.Days()), make([]float64, span.Days())
	for i := range fresh {
		fresh[i], kept[i] = 100*a.Starts[first+i].Chance(), 100*a.Starts[first+i].ChanceKept()
	}
	c := chart{id: id, span: span, high: 100, step: 20, tick: percentTick, today: a.Today, title: readyTitle(a),
		desc: "Across: the day it goes in. Up: the share of weather years in which it is ready on the day asked for. Shaded: the days that reach the share asked for."}
	c.shaded = a.Fresh.Spans
	if !a.Fresh.Can() && a.Stored != nil {
		c.shaded = a.Stored.Spans
	}
	c.begin()
	c.add(drawing.Line{X1: chartLeft, Y1: c.y(100 * a.Share), X2: chartWidth - chartRight, Y2: c.y(100 * a.Share), Style: drawing.Style{Stroke: faintInk, StrokeWidth: 1, Dash: []float64{4, 4}}})
	dark := mix(wash(a.Crop.Family), "#000000", .7)
	c.band(span.From, make([]float64, len(fresh)), fresh, wash(a.Crop.Family), .35)
	if a.Stored != nil {
		c.curve(span.From, kept, deepColour, 1.6, 6, 3)
	}
	c.curve(span.From, fresh, dark, 1.8)
	return svg(&c.scene)
}

func readyTitle(a season.Ready) string {
	switch {
	case a.Fresh.Can():
		return fmt.Sprintf("%s by %s: %s from %s to %s", upper(a.Crop.Kind), season.Dated(a.Day), a.Verb(), season.Dated(a.Fresh.Earliest()), season.Dated(a.Fresh.Latest()))
	case a.Stored != nil && a.Stored.Can():
		return fmt.Sprintf("%s by %s, from the store: %s from %s to %s", upper(a.Crop.Kind), season.Dated(a.Day), a.Verb(), season.Dated(a.Stored.Earliest()), season.Dated(a.Stored.Latest()))
	}
	return fmt.Sprintf("%s by %s: no day to %s reaches %.0f %% of the years", upper(a.Crop.Kind), season.Dated(a.Day), a.VerbIt(), 100*a.Share)
}

// readyRows are the same numbers as the picture's, a week apart.
func readyRows(a season.Ready) []readyRow {
	span, any := readySpan(a)
	if !any {
		return nil
	}
	var rows []readyRow
	for d := span.From; d <= span.To; d += 7 {
		s := a.Starts[d-a.Starts[0].Start]
		lost := 0
		for _, n := range s.Lost {
			lost += n
		}
		rows = append(rows, readyRow{season.Dated(d), season.Dated(a.Raised(d)), fmt.Sprint(s.Ready), fmt.Sprint(s.Kept), fmt.Sprint(s.Late), fmt.Sprint(s.Over), fmt.Sprint(lost)})
	}
	return rows
}

// readyLists sorts the catalogue by what can be on the table on a day.
func (s *site) readyLists(now *season.Result, day civil.Date, share float64, by, percent string) ([]readyList, error) {
	type made struct {
		lists []readyList
		err   error
	}
	m := remember(s, now, fmt.Sprintf("ready %s %v %s %s", day, share, by, s.Today()), func() made {
		all, err := now.ReadyAll(day, share, s.Today())
		if err != nil {
			return made{err: err}
		}
		lists := []readyList{
			{Title: "Picked on the day", None: "Nothing in the catalogue can be relied on fresh from the ground that day."},
			{Title: "From the store", None: "Nothing more comes from the store."},
			{Title: "Too late to begin", None: "Nothing has been missed."},
			{Title: "Not to be relied on"},
		}
		placed := map[string]int{}
		for k := range lists {
			for _, a := range all {
				if _, done := placed[a.Crop.ID]; done {
					continue
				}
				if when, fits := readyPlace(a, k); fits {
					placed[a.Crop.ID] = k
					href := "/ready?crop=" + a.Crop.ID + "&by=" + template.URLQueryEscaper(by) + "&share=" + percent
					lists[k].Crops = append(lists[k].Crops, readyLine{a.Crop.ID, href, upper(a.Crop.Name()), when})
				}
			}
		}
		return made{lists: lists}
	})
	return m.lists, m.err
}

// readyPlace says whether an answer belongs to a list of readyLists, and what stands beside it there.
func readyPlace(a season.Ready, list int) (string, bool) {
	if a.Never != "" {
		return "a perennial, in its own time", list == 3
	}
	spans := func(b season.Answer) string {
		open := b.Open(a.Today)
		if len(open) == 0 {
			return ""
		}
		from, to, bought := open[0].From, open[len(open)-1].To, ""
		if a.Raised(to) < a.Today {
			bought = ", bought plants"
		}
		if from == to {
			return a.Verb() + " " + season.Dated(from) + bought
		}
		return fmt.Sprintf("%s %s – %s%s", a.Verb(), season.Dated(from), season.Dated(to), bought)
	}
	fresh, stored := spans(a.Fresh), ""
	if a.Stored != nil {
		stored = spans(*a.Stored)
	}
	switch list {
	case 0:
		return fresh, fresh != ""
	case 1:
		return stored, stored != ""
	case 2:
		late := a.Fresh
		if !late.Can() && a.Stored != nil {
			late = *a.Stored
		}
		if !late.Can() {
			return "", false
		}
		return "until " + season.Dated(late.Latest()), true
	}
	best := a.Fresh.Best
	chance := growth.Readiness.Chance
	if a.Stored != nil && a.Stored.Best.ChanceKept() > best.Chance() {
		best, chance = a.Stored.Best, growth.Readiness.ChanceKept
	}
	if chance(best) == 0 {
		return "never", true
	}
	return fmt.Sprintf("at best %.0f %%, %s %s", 100*chance(best), a.Verb(), season.Dated(best.Start)), true
}
