package web

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// gardenPage is what the person has told: site, beds, wants and how far the plan meets them.
type gardenPage struct {
	frame
	Site       []fact
	Beds       []bedRow
	Wants      []wantRow
	Doubts     []string // what is odd in the description
	Vetoes     []vetoRow
	HasPlan    bool
	Reach      string       // how near the plan comes to what any plan could
	Notes      []reasonLine // about the plan as a whole
	History    int
	Settings   []fact
	Trouble    string
	MakePlan   bool
	LightSince *lightSince
}

type bedRow struct {
	ID                int64
	Name, Size, Place string
	Sun, Note         string
}

type wantRow struct {
	ID                  int64
	Crop, Asked, Weight string
	Expected, Share     string
	Years               string // of the typical and of the poorest weather years
	Short               []reasonLine
	Met                 bool
}

func (s *site) garden(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	u := g.Site.Units
	p := gardenPage{frame: s.gardenFrame("The garden", r, g), History: len(g.History), Site: siteFacts(g.Site), Vetoes: vetoRows(g)}
	for _, b := range g.Beds {
		p.Beds = append(p.Beds, bedRow{b.ID, b.Name, u.Length(b.Length) + " × " + u.Length(b.Width), compassWord(b.Bearing), u.Hours(season.SunOf(g, nil, b)), b.Note})
	}
	for _, d := range g.Examine(s.Crops) {
		if d.Table == "crop_file" || d.Table == "variety" {
			continue // told below, a sentence for each crop
		}
		p.Doubts = append(p.Doubts, sentence(d.Error(), ""))
	}
	_, aside := s.catalogue(g)
	for _, a := range aside {
		p.Doubts = append(p.Doubts, sentence(a.Error(), "mend it under Crops of your own"))
	}
	supply := map[int64]plan.Supply{}
	now, err := s.Season(r.Context())
	p.Doubts = append(p.Doubts, s.recordDoubts(r.Context(), now)...)
	if err == nil && now.Plan != nil {
		p.frame = s.seasonFrame("The garden", r, now)
		p.HasPlan, p.Notes, p.LightSince = true, reasons(now.Plan.Notes), s.lightSince(now)
		if reach, known := now.Reaches(); known {
			p.Reach = reach.Says
		}
		for _, one := range now.Plan.Supply {
			supply[one.Want.ID] = one
		}
		for _, set := range plan.SettingsList() {
			if v, ok := now.Plan.Settings.Get(set.Name); ok {
				p.Settings = append(p.Settings, fact{upper(set.Meaning), strings.TrimSpace(fmt.Sprintf("%g %s", v, set.Unit))})
			}
		}
	} else if noPlan(err) {
		p.Trouble = s.unplannedSays(r)
		p.MakePlan = s.Replan != nil && len(g.Beds) > 0 && len(g.Wants) > 0
	} else if err != nil {
		p.Trouble = "There is no plan: " + sentence(err.Error(), "")
	}
	for _, v := range g.Wants {
		row := wantRow{ID: v.ID, Crop: v.Crop, Asked: askedText(v), Weight: fmt.Sprint(v.Weight)}
		if one, ok := supply[v.ID]; ok {
			row.Expected, row.Share, row.Met = expectedText(u, one)
			row.Years, row.Short = one.YearsSay(u), reasons(one.Short)
		}
		p.Wants = append(p.Wants, row)
	}
	return s.render(w, http.StatusOK, "garden", p)
}

// recordDoubts are what the weather record in use asks the person to mend; now may be nil.
func (s *site) recordDoubts(ctx context.Context, now *season.Result) (says []string) {
	var record *weather.Record
	switch {
	case now != nil:
		record = now.Record
	case s.Record != nil:
		var err error
		if record, err = s.Record(ctx); err != nil {
			return []string{sentence(err.Error(), "")}
		}
	}
	if record == nil {
		return nil
	}
	for _, n := range record.Notes {
		if n.AsksToMend() {
			says = append(says, "The weather record: "+n.Says)
		}
	}
	return says
}

func expectedText(u quantity.System, one plan.Supply) (expected, share string, met bool) {
	switch {
	case one.Weekless():
		return "no week can have it", "", false
	case one.Asked <= 0:
		return u.Mass(one.Expected), "", true
	}
	return u.Mass(one.Expected) + " of " + u.Mass(one.Asked), fmt.Sprintf("%.0f %%", 100*one.Share()), one.Met()
}

func askedText(v garden.Want) string {
	says := fmt.Sprintf("%g %s", v.Amount, quantity.Noun(v.Amount == 1, cmp.Or(v.Unit, "kg")))
	if v.Basis == garden.Weekly {
		says += " a week"
		switch {
		case v.From != nil && v.To != nil:
			says += ", " + v.From.Short() + " to " + v.To.Short()
		case v.From != nil:
			says += " from " + v.From.Short()
		case v.To != nil:
			says += " to " + v.To.Short()
		}
	}
	if v.Under == garden.InTheOpen {
		return says + ", in the open"
	} else if under := underText(v.Under); under != "" {
		return says + ", " + under
	}
	return says
}

func siteFacts(v garden.Site) []fact {
	u := v.Units
	f := []fact{
		{"Place", fmt.Sprintf("%.2f° %s, %.2f° %s, %s above the sea", abs(v.Latitude), pole(v.Latitude, "N", "S"), abs(v.Longitude), pole(v.Longitude, "E", "W"), u.Height(v.Elevation))},
		{"Household", plural(v.Household, "person", "people")},
		{"Units", u.String()},
	}
	if v.Width > 0 && v.Depth > 0 {
		f = append(f, fact{"Plot", u.Length(v.Width) + " west to east, " + u.Length(v.Depth) + " south to north"})
	}
	if names := coverNames(v.Covers); len(names) > 0 {
		f = append(f, fact{"Covers", strings.Join(names, ", ")})
	}
	if v.HoursAWeek > 0 {
		f = append(f, fact{"Work", "about " + u.Hours(v.HoursAWeek) + " a week can be given to it"})
	}
	if v.Trays > 0 {
		f = append(f, fact{"Seedlings", "light under cover for " + quantity.Plural(v.Trays, "tray")})
	}
	if v.Note != "" {
		f = append(f, fact{"Note", v.Note})
	}
	return f
}

// compassWord says how a bed lies.
func compassWord(bearing float64) string {
	words := []string{"north and south", "north-east and south-west", "east and west", "south-east and north-west"}
	return words[int(bearing/45+.5)%4]
}

func (s *site) replan(w http.ResponseWriter, r *http.Request) error {
	if s.Replan == nil {
		return problem{notReady, "This garden is served for reading only.", "Plan it anew in the shell: kailyard plan --help tells how."}
	}
	if err := s.Replan(r.Context()); err != nil {
		return problem{notReady, "The season could not be planned: " + err.Error() + ".", "Mend what is named and plan again; the old plan is kept."}
	}
	return seeOther(w, r, "/?done=planned")
}
