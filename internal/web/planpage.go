package web

import (
	"fmt"
	"html/template"
	"net/http"
	"regexp"

	"kailyard/internal/drawing"
	"kailyard/internal/season"
)

// planPage is how near the plan comes to what any plan could, and where the rest of all that is wanted goes.
type planPage struct {
	frame
	Says   string // how near; empty where the plan does not know
	Rest   string
	Untold string
	Shares *figure
	Rows   []portionRow
	Wanted string
	Plan   bool // whether the page can have it planned again
}

// portionRow is one part of all that is wanted.
type portionRow struct {
	Mark               template.HTML
	Name, Share, Means string
}

// planRoutes are the addresses about the plan as a whole.
func (s *site) planRoutes() map[string]action {
	return map[string]action{"GET /plan": s.plan, "GET /plan/helps": s.helps}
}

func (s *site) plan(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	p := planPage{frame: s.seasonFrame("How far the plan goes", r, now), Wanted: wantedSentence(now), Plan: s.Replan != nil}
	reach, known := now.Reaches()
	switch {
	case !known:
		return s.render(w, http.StatusOK, "plan", p)
	case len(now.Garden.Beds) > bedsToWaitFor:
		reach.Untold = "Where the rest goes takes a while to reckon in so large a garden. In the shell: kailyard gain."
	default:
		reach, _ = now.Reach()
	}
	p.Says, p.Rest, p.Untold = together(reach.Says), together(reach.Rest), reach.Untold
	if len(reach.Parts) > 0 {
		shares, err := sharesPicture(reach)
		if err != nil {
			return err
		}
		p.Shares = &shares
	}
	for _, part := range inBar(reach.Parts) {
		style := portionStyles[part.Name]
		p.Rows = append(p.Rows, portionRow{style.mark(part.Name), style.name, shareWord(part.Cent), upper(part.Means)})
	}
	return s.render(w, http.StatusOK, "plan", p)
}

// shareWord is a share in whole per cent, as it is told.
func shareWord(cent int) string {
	if cent < 1 {
		return "a trace"
	}
	return together(fmt.Sprintf("%d %%", cent))
}

// together keeps figures and what they are of on one line.
func together(text string) string { return figureOf.ReplaceAllString(text, "$1\u00a0") }

var figureOf = regexp.MustCompile(`([0-9]) `)

// portionStyle is how a part of all that is wanted is called and drawn: ground in leaf, ground fallow, and what is beyond the bed.
type portionStyle struct {
	name, colour string
	hatch        float64 // degrees of its lines; 0: none
	pale         bool
}

var portionStyles = map[string]portionStyle{
	"had":      {name: "What the plan brings, less its work", colour: "#6f9a5b"},
	"search":   {name: "May be left in the plan", colour: "#6f9a5b", hatch: 45, pale: true},
	"work":     {name: "Work and held ground", colour: soilInk, hatch: 135, pale: true},
	"rotation": {name: "Rotation", colour: "#7b6bb0", pale: true},
	"light":    {name: "Light", colour: "#e0b020", pale: true},
	"ground":   {name: "Room", colour: soilInk},
	"season":   {name: "Season", colour: coldInk},
}

// barOrder is the way along the bar: what the plan has first, what no ground could bring last.
var barOrder = []string{"had", "search", "work", "rotation", "light", "ground", "season"}

func inBar(parts []season.Portion) []season.Portion {
	var out []season.Portion
	for _, name := range barOrder {
		for _, p := range parts {
			if p.Name == name {
				out = append(out, p)
			}
		}
	}
	return out
}

// patch is a rectangle in the style, with its hatch.
func (v portionStyle) patch(id string, x, y, width, height float64) (drawing.Node, []drawing.Hatch) {
	r := drawing.Rect{X: x, Y: y, Width: width, Height: height, Style: drawing.Style{Fill: v.colour, FillOpacity: .85, Stroke: paper, StrokeWidth: 1}}
	if v.pale {
		r.FillOpacity = .3
	}
	if v.hatch == 0 {
		return r, nil
	}
	r.Fill, r.FillOpacity = drawing.Ref(id), 1
	return r, []drawing.Hatch{{ID: id, Apart: 5, Turn: v.hatch, Colour: v.colour, StrokeWidth: 1.4, Ground: mix(v.colour, paper, .2)}}
}

func (v portionStyle) mark(name string) template.HTML {
	node, hatch := v.patch("mark-"+name+"-lines", 3, 3, 18, 18)
	return mark("mark-"+name, []drawing.Node{node}, hatch...)
}

// sharesPicture lays all that is wanted out as one bed, end to end: what of it the plan has, and what keeps back the rest.
func sharesPicture(reach season.Reach) (figure, error) {
	const width, height, left, top = 440.0, 46.0, 6.0, 24.0
	had := 0
	for _, p := range reach.Parts {
		if p.Name == "had" {
			had = p.Cent
		}
	}
	sc := drawing.Scene{ID: "shares", Class: "chart", Width: width + 2*left, Height: top + height + 6,
		Title: fmt.Sprintf("What the plan brings, less its work, is %d %% of everything wanted", had),
		Desc:  "From left to right: what of everything wanted the plan brings less its work, what may be left in it, and what work and held ground, rotation, light, room and season keep back."}
	x := left
	for _, p := range inBar(reach.Parts) {
		long := p.Share * width
		if long < .8 {
			continue
		}
		node, hatch := portionStyles[p.Name].patch("shares-"+p.Name, x, top, long, height)
		sc.Nodes, sc.Hatches = append(sc.Nodes, node), append(sc.Hatches, hatch...)
		if long > 30 {
			sc.Nodes = append(sc.Nodes, drawing.Text{X: x + long/2, Y: top - 7, Size: 14, Anchor: drawing.Middle, Says: fmt.Sprintf("%d %%", p.Cent), Style: drawing.Style{Fill: ink}})
		}
		x += long
	}
	sc.Nodes = append(sc.Nodes, drawing.Rect{X: left, Y: top, Width: width, Height: height, Style: drawing.Style{Stroke: soilInk, StrokeWidth: 1.2}})
	pic, err := svg(&sc)
	return figure{pic, sc.Title}, err
}
