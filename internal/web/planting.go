package web

import (
	"fmt"
	"net/http"
	"net/url"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// plantingPage is one planting whole.
type plantingPage struct {
	frame
	Key, Name, CropID string
	Bed, BedHref      string
	Stage             string
	Dates             []dateRow
	Place             []fact
	Partner           *navLink
	Part              string
	Success, Expect   string
	Reasons           []reasonLine
	LightSince        *lightSince
	Jobs              []jobLine
	PlotHref          string
	Pin               string // what the button says; empty where the planner cannot move it
	Pinned            bool
	CannotPin         string       // why it cannot be
	Shelter           *shelterView // what it may grow under
}

type dateRow struct {
	What          string
	Early, Middle string // by then in one, five, nine years of ten
	Late          string
	Fixed         string // a day of the plan
}

func (s *site) planting(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	q, ok := plantingOf(now, r.PathValue("key"))
	if !ok {
		return missing("planting of that name in this season's plan")
	}
	name := upper(cropName(now, q.CropID))
	p := plantingPage{
		frame: s.seasonFrame(name, r, now), Key: q.Key, Name: name, CropID: q.CropID,
		Bed: bedName(now, q.BedID), BedHref: fmt.Sprintf("/bed/%d", q.BedID),
		Stage: stage(q, s.Today()), Dates: dateRows(q), Place: placeFacts(now, q), Part: partText(now, q),
		Reasons:    reasons(q.Reasons),
		LightSince: s.lightOfBedSince(now, q.BedID),
		Shelter:    s.shelter(now, *q),
		PlotHref:   "/plot?day=" + min(max(s.Today(), q.Start), q.Clear-1).String(),
	}
	if q.Status == garden.Planned {
		p.Pinned, p.Pin = q.Pinned, "Keep it exactly so"
		if q.Pinned {
			p.Pin = "Let the planner move it"
		} else if p.CannotPin = cannotPin(now.PinRefused(*q)); p.CannotPin != "" {
			p.Pin = ""
		}
	}
	if q.Years > 0 {
		p.Success = fmt.Sprintf("%d of %d weather years", q.Success, q.Years)
	}
	if q.Expect > 0 {
		p.Expect = now.Garden.Site.Units.Mass(q.Expect)
	}
	if q.Partner != "" {
		if o, ok := now.Planting(q.Partner); ok {
			p.Partner = &navLink{Href: "/planting/" + o.Key, Label: upper(cropName(now, o.CropID))}
		}
	}
	for _, j := range now.Jobs {
		if j.Planting == q.Key {
			p.Jobs = append(p.Jobs, jobLine{Title: j.Title, When: j.Window.String(), Href: jobAddress(j, j.Window.From)})
		}
	}
	return s.render(w, http.StatusOK, "planting", p)
}

// pin keeps a planting exactly so in every new plan, or lets the planner move it again.
func (s *site) pin(w http.ResponseWriter, r *http.Request) error {
	key, pinned := r.PathValue("key"), r.PostFormValue("pinned") == "yes"
	if now, err := s.current(r); pinned && err == nil {
		if q, ok := plantingOf(now, key); ok {
			if why, remedy := now.PinRefused(*q); why != "" {
				return problem{refused, why, remedy}
			}
		}
	}
	if err := s.Store.SetPinned(r.Context(), key, pinned); err != nil {
		return err
	}
	word := "freed"
	if pinned {
		word = "pinned"
	}
	return seeOther(w, r, "/planting/"+url.PathEscape(key)+"?done="+word)
}

func dateRows(q *garden.Planting) []dateRow {
	spread := func(what string, s garden.Spread) dateRow {
		return dateRow{What: what, Early: s.P10.Short(), Middle: s.P50.Short(), Late: s.P90.Short()}
	}
	var rows []dateRow
	if q.RaiseOn != nil {
		rows = append(rows, dateRow{What: "Sown under cover", Fixed: q.RaiseOn.Long()})
	}
	rows = append(rows, dateRow{What: upper(put(q.Way)), Fixed: q.Start.Long()})
	if q.Status == garden.Lost {
		return rows
	}
	if q.Way != crop.SetOut && q.Emerge != (garden.Spread{}) {
		rows = append(rows, spread("Up by", q.Emerge))
	}
	if inSeason(q) {
		rows = append(rows, dateRow{What: "In its season", Fixed: civil.Span{From: q.First.P10, To: q.Last.P90}.String()})
		return append(rows, dateRow{What: "Ground free from", Fixed: q.Clear.Long()})
	}
	if !undated(q) {
		rows = append(rows, spread("First picking by", q.First))
	}
	if q.Last != (garden.Spread{}) {
		rows = append(rows, spread("Last picking by", q.Last))
	}
	return append(rows, dateRow{What: "Ground free from", Fixed: q.Clear.Long()})
}

func stretchText(u quantity.System, from, to quantity.Metre) string {
	if from == 0 {
		return "the first " + u.Length(to)
	}
	return u.Length(from) + " to " + u.Length(to)
}

func placeFacts(now *season.Result, q *garden.Planting) []fact {
	u := now.Garden.Site.Units
	f := []fact{
		{"Along the bed", stretchText(u, q.Place.AlongFrom, q.Place.AlongTo)},
		{"Across the bed", stretchText(u, q.Place.AcrossFrom, q.Place.AcrossTo)},
		{"Plants", plantsText(u, q)},
	}
	if under := underText(q.Protection); under != "" {
		f = append(f, fact{"Stands", under})
	}
	if c, ok := now.Crops.Find(q.CropID); ok {
		f = append(f, fact{"Spacing", u.Distance(c.Spacing.InRow) + " in the row, " + u.Distance(c.Spacing.BetweenRows) + " between rows"})
		if q.Method < len(c.Methods) && c.Methods[q.Method].Depth > 0 {
			f = append(f, fact{"Depth", u.Depth(c.Methods[q.Method].Depth)})
		}
	}
	if q.Status == garden.Lost {
		return f
	}
	span := civil.Span{From: q.Start, To: q.Clear - 1}
	return append(f, fact{"Holds its ground", fmt.Sprintf("%d days", span.Days())})
}
