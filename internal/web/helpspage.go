package web

import (
	"fmt"
	"net/http"

	"kailyard/internal/plan"
	"kailyard/internal/season"
)

// helpsPage is what would help the plan, reckoned when it is asked for.
type helpsPage struct {
	frame
	Told    bool // it is reckoned; else the page asks whether it shall be
	Large   bool // too large a garden to wait for it in the browser
	Helps   []helpRow
	Nothing string
}

type helpRow struct {
	Title, Says, Share string
	Href, Do           string // where one does it
}

// bedsToWaitFor is the largest garden, in beds, in which where the rest goes and what would help are reckoned while the browser waits.
const bedsToWaitFor = 60

func (s *site) helps(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	p := helpsPage{frame: s.seasonFrame("What would help", r, now), Large: len(now.Garden.Beds) > bedsToWaitFor}
	if !now.HelpsTold() && (p.Large || r.URL.Query().Get("reckon") == "") {
		return s.render(w, http.StatusOK, "helps", p)
	}
	list, err := now.Helps()
	if err != nil {
		return problem{notReady, sentence(err.Error(), ""), "Plan the season again; what would help goes by the plan as it is."}
	}
	p.Told, p.Large = true, false
	for _, h := range list {
		p.Helps = append(p.Helps, helpRowOf(h))
	}
	if len(list) == 0 {
		p.Nothing = season.NothingHelps
	}
	return s.render(w, http.StatusOK, "helps", p)
}

func helpRowOf(h season.Helped) helpRow {
	row := helpRow{Title: together(h.Title), Says: together(h.Says), Share: together(fmt.Sprintf("%.0f %% more", 100*h.Share))}
	switch h.Kind {
	case plan.MoreGround:
		row.Href, row.Do = "/bed/new", "Add a bed"
	case plan.MoreSun:
		row.Href, row.Do = fmt.Sprintf("/bed/%d/light", h.Bed.ID), "Its light, and what to do about shade"
	case plan.MoreCover:
		row.Href, row.Do = "/site", "Tell that the garden has one"
	case plan.FewerWants:
		row.Href, row.Do = fmt.Sprintf("/want/%d", h.Want.ID), "Change the want"
	}
	return row
}
