package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strconv"

	"kailyard/internal/garden"
	"kailyard/internal/season"
)

// bedsPage is every bed in space and time.
type bedsPage struct {
	frame
	Beds   []bedSection
	Legend []legendEntry
}

// bedPage is one of them, with what grew there before.
type bedPage struct {
	frame
	Bed    bedSection
	Legend []legendEntry
	Past   []pastLine
	Others []navLink
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

func (s *site) beds(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	p := bedsPage{frame: s.seasonFrame("Beds in space and time", r, now), Legend: bedtimeLegend()}
	if p.Beds, err = s.bedSections(now); err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "beds", p)
}

// bedSections are all beds, drawn once for each change of the garden and each day.
func (s *site) bedSections(now *season.Result) ([]bedSection, error) {
	type made struct {
		list []bedSection
		err  error
	}
	m := remember(s, now, "beds "+s.Today().String(), func() made {
		var m made
		by, frost := inBeds(allPlantings(now)), frostDepths(now)
		for _, b := range now.Garden.Beds {
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
	p := bedPage{frame: s.seasonFrame(b.Name, r, now), Legend: bedtimeLegend()}
	if p.Bed, err = s.bedSection(now, b, inBeds(allPlantings(now))[b.ID], frostDepths(now)); err != nil {
		return err
	}
	p.Past = pastLines(s, now.Garden, b.ID)
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
		When: fmt.Sprintf("%s %s, picked from %s, ground free %s", put(p.Way), p.Start.Short(), spreadText(p.First), p.Clear.Short()),
		Part: partText(now, p),
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
	says := fmt.Sprintf("%s × %s (%s), %s of sun", u.Length(b.Length), u.Length(b.Width), u.Area(b.Area()), u.Hours(b.Sun))
	if b.Perennial {
		says += ", kept for perennials"
	}
	return says
}

func axisWords(st strip) string {
	says := "along the bed"
	if st.across {
		says = "across the bed"
	}
	if len(st.lanes) > 1 {
		says += fmt.Sprintf(", its %d lanes end to end", len(st.lanes))
	}
	return says
}

func pastLines(s *site, g garden.Garden, bed int64) []pastLine {
	names := map[int64]string{}
	for _, b := range g.Beds {
		names[b.ID] = b.Name
	}
	var out []pastLine
	for _, h := range g.History {
		if bed != 0 && h.BedID != bed {
			continue
		}
		what := h.Family
		if c, ok := s.Crops.Find(h.CropID); ok {
			what = c.Name() + " (" + c.Family + ")"
		} else if h.CropID != "" {
			what = h.CropID
		}
		out = append(out, pastLine{h.ID, h.Year, what, h.Note, names[h.BedID]})
	}
	return out
}
