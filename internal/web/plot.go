package web

import (
	"fmt"
	"html/template"
	"net/http"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// plotPage is the ground to scale on one day.
type plotPage struct {
	frame
	Day        civil.Date
	Slider     slider
	Steps      []navLink // to other days
	Picture    template.HTML
	Finding    string
	Rows       []plotRow
	Portion    portion // of the rows; the picture holds all
	Legend     []legendEntry
	SunLegend  []legendEntry
	HasBeds    bool
	OutOfRange bool
}

// rowsAtOnce is how many plantings a page tells in words under the picture of them all.
const rowsAtOnce = 100

type slider struct{ From, Days, At int }

// plotRow is one planting of the picture in words.
type plotRow struct {
	Bed, BedHref, Name, Key, Plants, Wide, Stage string
}

type legendEntry struct {
	Mark  template.HTML
	Label string
}

func (s *site) plot(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	day, err := dayOf(r, "day", s.Today())
	if err != nil {
		return err
	}
	p := plotPage{frame: s.seasonFrame("Plot", r, now), HasBeds: len(now.Garden.Beds) > 0}
	first, last := now.Season.Start, now.Season.End()
	day = min(max(day, first), last)
	p.Day = day
	p.Slider = slider{int(first), now.Season.Days - 1, int(day - first)}
	for _, n := range []struct {
		by    int
		label string
	}{{-28, "4 weeks earlier"}, {-7, "a week earlier"}, {7, "a week later"}, {28, "4 weeks later"}} {
		if d := day.Add(n.by); d >= first && d <= last {
			p.Steps = append(p.Steps, navLink{Href: "/plot?day=" + d.String(), Label: n.label})
		}
	}
	list := standing(now, day)
	v := plotPicture{now: now, day: day}
	if p.Picture, err = svg(v.draw(list)); err != nil {
		return err
	}
	p.Finding = plotTitle(now, day, list)
	p.Legend, p.SunLegend = plotLegend(list), sunLegend()
	u := now.Garden.Site.Units
	by := map[int64][]stand{}
	for _, st := range list {
		by[st.p.BedID] = append(by[st.p.BedID], st)
	}
	part, err := portionAsked(r, len(list), rowsAtOnce)
	if err != nil {
		return err
	}
	p.Portion = portionOf(part, len(list), rowsAtOnce, "Plantings", func(k int) string { return fmt.Sprintf("/plot?day=%s&part=%d#words", day, k) })
	n := 0
	for _, b := range now.Garden.Beds {
		for _, st := range by[b.ID] {
			if n++; n <= p.Portion.From || n > p.Portion.To {
				continue
			}
			p.Rows = append(p.Rows, plotRow{
				Bed: b.Name, BedHref: fmt.Sprintf("/bed/%d", b.ID), Name: upper(cropName(now, st.p.CropID)), Key: st.p.Key,
				Plants: plantsText(u, st.p), Wide: canopyText(u, st), Stage: stage(st.p, day),
			})
		}
	}
	return s.render(w, http.StatusOK, "plot", p)
}

// dayOf is the day an address asks for, or the day given.
func dayOf(r *http.Request, name string, otherwise civil.Date) (civil.Date, error) {
	text := r.URL.Query().Get(name)
	if text == "" {
		return otherwise, nil
	}
	d, err := civil.Parse(text)
	if err != nil {
		return 0, problem{badRequest, upper(err.Error()) + ".", "Choose a day by the links on the page, or correct the address."}
	}
	return d, nil
}

// plantsText says how many plants in how many rows.
func plantsText(_ quantity.System, p *garden.Planting) string {
	if p.Rows > 1 {
		return fmt.Sprintf("%d in %d rows", p.Plants, p.Rows)
	}
	return fmt.Sprint(p.Plants)
}
