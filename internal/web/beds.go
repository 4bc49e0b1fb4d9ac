package web

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strconv"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// bedsPage is every bed in space and time.
type bedsPage struct {
	frame
	Alarms     []alarmView
	LightSince *lightSince
	Reach      string // how near the plan comes to what any plan could
	Beds       []bedSection
	Portion    portion
	Index      []navLink // all beds, wherever they are shown
	Legend     []legendEntry
}

// bedPage is one of them, with what grew there before.
type bedPage struct {
	frame
	Alarms     []alarmView
	LightSince *lightSince
	Bed        bedSection
	Legend     []legendEntry
	Past       []pastLine
	Others     []navLink
	Water      []string
}

type bedSection struct {
	ID        int64
	Name      string
	Facts     string
	Note      string
	Picture   template.HTML
	Finding   string
	Axis      string
	Plantings []bedLine
}

// bedLine is one planting of a bed's list.
type bedLine struct {
	Key, Number, Name, Mark string
	When                    string
	Part                    string
	Reasons                 []reasonLine
}

type reasonLine struct{ Says, Rule, Source string }

type pastLine struct {
	ID   int64
	Year int
	What string
	Note string
	Bed  string
}

// bedsAtOnce is how many beds a page draws: more would be slow to make, heavy to send and long to read.
const bedsAtOnce = 24

func (s *site) beds(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	all := now.Garden.Beds
	part, err := portionAsked(r, len(all), bedsAtOnce)
	if err != nil {
		return err
	}
	p := bedsPage{frame: s.seasonFrame("Beds in space and time", r, now), Alarms: alarmViews(now.Garden, season.AlarmsOf(now.Garden, s.Today())), LightSince: s.lightSince(now), Legend: bedtimeLegend()}
	if reach, known := now.Reaches(); known {
		p.Reach = reach.Says
	}
	p.Portion = portionOf(part, len(all), bedsAtOnce, "Beds", bedsPart)
	for i, b := range all {
		to := fmt.Sprintf("#bed-%d", b.ID)
		if i < p.Portion.From || i >= p.Portion.To {
			to = bedsPart(i/bedsAtOnce+1) + to
		}
		p.Index = append(p.Index, navLink{Href: to, Label: b.Name})
	}
	if p.Beds, err = s.bedSections(now, all[p.Portion.From:p.Portion.To], part); err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "beds", p)
}

func bedsPart(part int) string {
	if part == 1 {
		return "/beds"
	}
	return fmt.Sprintf("/beds?part=%d", part)
}

// bedSections are the beds of one part, drawn once for each change of the garden and each day.
func (s *site) bedSections(now *season.Result, beds []garden.Bed, part int) ([]bedSection, error) {
	type made struct {
		list []bedSection
		err  error
	}
	m := remember(s, now, fmt.Sprintf("beds %s %d", s.Today(), part), func() made {
		var m made
		by, frost := inBeds(allPlantings(now)), frostDepths(now)
		for _, b := range beds {
			section, err := s.bedSection(now, b, by[b.ID], frost)
			if err != nil {
				return made{err: err}
			}
			m.list = append(m.list, section)
		}
		return m
	})
	return m.list, m.err
}

func (s *site) bed(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	b, ok := now.Bed(idOf(r))
	if !ok {
		return missing("bed of that number")
	}
	p := bedPage{frame: s.seasonFrame(b.Name, r, now), LightSince: s.lightOfBedSince(now, b.ID), Legend: bedtimeLegend()}
	for _, a := range season.AlarmsOf(now.Garden, s.Today()) {
		if slices.Contains(a.Beds, b.ID) {
			p.Alarms = append(p.Alarms, alarmViews(now.Garden, []season.GroundAlarm{a})...)
		}
	}
	if p.Bed, err = s.bedSection(now, b, inBeds(allPlantings(now))[b.ID], frostDepths(now)); err != nil {
		return err
	}
	p.Past = pastLines(s, now.Garden, b.ID)
	if v, err := s.waterNow(r, now); err == nil { // the bed's page stands without it
		p.Water = bedWaterWords(v, b.ID)
	}
	for _, o := range now.Garden.Beds {
		p.Others = append(p.Others, navLink{fmt.Sprintf("/bed/%d", o.ID), o.Name, o.ID == b.ID})
	}
	return s.render(w, http.StatusOK, "bed", p)
}

// idOf is the number in the address; one that nothing has when it is none.
func idOf(r *http.Request) int64 {
	id, err := strconv.ParseInt(r.PathValue("id"), 10, 64)
	if err != nil || id <= 0 {
		return -1
	}
	return id
}

func (s *site) bedSection(now *season.Result, b garden.Bed, plantings []*garden.Planting, frost []depth) (bedSection, error) {
	st := layStrip(b, plantings)
	v := bedtime{now: now, strip: st, frost: frost, today: s.Today(), id: fmt.Sprintf("bed-%d", b.ID), axis: 312, week: 11, full: true}
	var pic template.HTML
	var err error
	if len(plantings) > 0 {
		if pic, err = svg(v.draw()); err != nil {
			return bedSection{}, err
		}
	}
	section := bedSection{ID: b.ID, Name: b.Name, Facts: bedFacts(now.Garden, b), Note: b.Note, Picture: pic, Finding: bedtimeTitle(now, st), Axis: axisWords(st)}
	for _, p := range plantings {
		section.Plantings = append(section.Plantings, bedLineOf(now, p))
	}
	return section, nil
}

func bedLineOf(now *season.Result, p *garden.Planting) bedLine {
	l := bedLine{
		Key: p.Key, Number: shortKey(p.Key), Name: upper(cropName(now, p.CropID)),
		When: fmt.Sprintf("%s %s, picked from %s, ground free %s", put(p.Way), dayText(now, p.Start), spreadText(p.First), dayText(now, p.Clear)),
		Part: partText(now, p),
	}
	switch {
	case p.Status == garden.Lost:
		l.When = fmt.Sprintf("%s %s, failed", put(p.Way), dayText(now, p.Start))
	case undated(p):
		l.When = fmt.Sprintf("%s %s, ground free %s", put(p.Way), dayText(now, p.Start), dayText(now, p.Clear))
	case inSeason(p):
		l.When = fmt.Sprintf("%s %s, in its season %s, ground free %s", put(p.Way), dayText(now, p.Start), civil.Span{From: p.First.P10, To: p.Last.P90}, dayText(now, p.Clear))
	}
	if p.RaiseOn != nil {
		l.When = "sown under cover " + p.RaiseOn.Short() + ", " + l.When
	}
	l.Reasons = reasons(p.Reasons)
	return l
}

func reasons(list []garden.Reason) []reasonLine {
	out := make([]reasonLine, len(list))
	for i, r := range list {
		out[i] = reasonLine{r.Says, r.Rule, r.Source}
	}
	return out
}

// partText says how a planting shares its ground.
func partText(now *season.Result, p *garden.Planting) string {
	if p.Partner == "" {
		return ""
	}
	other := p.Partner
	if o, ok := now.Planting(p.Partner); ok {
		other = cropName(now, o.CropID)
	}
	switch p.Role {
	case garden.Fast:
		return "between the plants of " + other + ", out before the leaves meet"
	case garden.Marker:
		return "marks the drills of " + other
	case garden.Slow:
		return "with " + other + " between its plants"
	}
	return ""
}

func bedFacts(g garden.Garden, b garden.Bed) string {
	u := g.Site.Units
	says := fmt.Sprintf("%s × %s (%s), %s of sun", u.Length(b.Length), u.Length(b.Width), u.Area(b.Area()), u.Hours(season.SunOf(g, nil, b)))
	if b.Perennial {
		says += ", kept for perennials"
	}
	return says
}

func axisWords(st strip) string {
	says := "along the bed"
	if st.Across {
		says = "across the bed"
	}
	if len(st.Lanes) > 1 {
		says += fmt.Sprintf(", its %d lanes end to end", len(st.Lanes))
	}
	return says
}

func pastLines(s *site, g garden.Garden, bed int64) []pastLine {
	names := map[int64]string{}
	for _, b := range g.Beds {
		names[b.ID] = b.Name
	}
	var out []pastLine
	crops := s.cropsOf(g)
	for _, h := range g.History {
		if bed != 0 && h.BedID != bed {
			continue
		}
		what := h.Family
		if c, ok := crops.Find(h.CropID); ok {
			what = c.Name() + " (" + c.Family + ")"
		} else if h.CropID != "" {
			what = h.CropID
		}
		out = append(out, pastLine{h.ID, h.Year, what, h.Note, names[h.BedID]})
	}
	return out
}
