package web

import (
	"cmp"
	"fmt"
	"html/template"
	"slices"

	"kailyard/internal/crop"
	"kailyard/internal/drawing"
)

// mark is a small drawing for a legend; its meaning stands beside it.
func mark(id string, nodes []drawing.Node, hatches ...drawing.Hatch) template.HTML {
	s := drawing.Scene{ID: id, Title: "mark", Width: 24, Height: 24, Class: "mark", Hatches: hatches, Nodes: nodes}
	b, err := svg(&s)
	if err != nil {
		panic(err) // constant drawings
	}
	return b
}

// plotLegend explains the plants that stand in the picture: each family and sort once.
func plotLegend(list []stand) []legendEntry {
	type sort struct {
		family string
		group  crop.Group
	}
	kinds := map[sort][]string{}
	var order []sort
	for _, s := range list {
		if s.crop == nil {
			continue
		}
		k := sort{s.crop.Family, s.crop.Group}
		if _, ok := kinds[k]; !ok {
			order = append(order, k)
		}
		if !slices.Contains(kinds[k], s.crop.Kind) {
			kinds[k] = append(kinds[k], s.crop.Kind)
		}
	}
	slices.SortFunc(order, func(a, b sort) int {
		return cmp.Or(cmp.Compare(a.family, b.family), cmp.Compare(a.group, b.group))
	})
	var out []legendEntry
	for i, k := range order {
		names := kinds[k]
		slices.Sort(names)
		out = append(out, legendEntry{plantMark(fmt.Sprintf("mark-%d", i), k.family, k.group), joinWords(names) + " (" + k.family + ")"})
	}
	return out
}

// plantMark is one plant of a sort in its family's colour.
func plantMark(id, family string, g crop.Group) template.HTML {
	f, colour := glyphFor(g), wash(family)
	pen := mix(colour, "#000000", .72)
	return mark(id, []drawing.Node{
		drawing.Shape{Path: drawing.NewPath(20).Stamp(f.leaf, 12, 12, 10.5, 0), Style: drawing.Style{Fill: colour, Stroke: pen, StrokeWidth: .8}},
		drawing.Shape{Path: drawing.NewPath(20).Stamp(f.vein, 12, 12, 10.5, 0), Style: drawing.Style{Stroke: pen, StrokeWidth: .7}},
	})
}

func sunLegend() []legendEntry {
	var out []legendEntry
	for i, s := range sunSteps {
		id := fmt.Sprintf("sunmark-%d", i)
		nodes := []drawing.Node{drawing.Rect{X: 1, Y: 4, Width: 22, Height: 16, Style: drawing.Style{Fill: ground(s.least + 1), Stroke: soilInk, StrokeWidth: 1}}}
		var hatches []drawing.Hatch
		if s.apart > 0 {
			hatches = append(hatches, drawing.Hatch{ID: id + "-hatch", Apart: s.apart * 11, Turn: 45, Colour: "#7a7768", StrokeWidth: .6})
			nodes = append(nodes, drawing.Rect{X: 1, Y: 4, Width: 22, Height: 16, Style: drawing.Style{Fill: drawing.Ref(id + "-hatch"), Opacity: .6}})
		}
		out = append(out, legendEntry{mark(id, nodes, hatches...), s.says})
	}
	return out
}

// joinWords is "a, b and c".
func joinWords(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	s := words[0]
	for _, w := range words[1 : len(words)-1] {
		s += ", " + w
	}
	return s + " and " + words[len(words)-1]
}

// bedtimeLegend explains the marks of the bed in space and time.
func bedtimeLegend() []legendEntry {
	const colour = "#5b6470"
	fade := drawing.Fade{ID: "bt-fade", Y1: 2, Y2: 22, Stops: []drawing.Stop{{At: 0, Colour: colour, Opacity: eaten}, {At: .35, Colour: colour, Opacity: eaten}, {At: 1, Colour: colour, Opacity: 0}}}
	deepen := drawing.Fade{ID: "bt-deep", Y1: 2, Y2: 22, Stops: []drawing.Stop{{At: 0, Colour: colour, Opacity: taken}, {At: .3, Colour: colour, Opacity: taken}, {At: .5, Colour: colour, Opacity: growing}, {At: .75, Colour: colour, Opacity: growing}, {At: 1, Colour: colour, Opacity: eaten}}}
	box := func(f drawing.Fade) template.HTML {
		s := drawing.Scene{ID: f.ID + "-mark", Title: "mark", Width: 24, Height: 24, Class: "mark", Fades: []drawing.Fade{f}, Nodes: []drawing.Node{drawing.Rect{X: 2, Y: 2, Width: 20, Height: 20, Style: drawing.Style{Fill: drawing.Ref(f.ID)}}}}
		b, err := svg(&s)
		if err != nil {
			panic(err) // constant drawings
		}
		return b
	}
	pen := mix(colour, "#000000", .75)
	rule := func(id string, st drawing.Style) template.HTML {
		return mark(id, []drawing.Node{drawing.Line{X1: 2, Y1: 12, X2: 22, Y2: 12, Style: st}})
	}
	return []legendEntry{
		{rule("bt-sown", drawing.Style{Stroke: pen, StrokeWidth: 2, Dash: []float64{.1, 3.6}, Round: true}), "sown on this day"},
		{rule("bt-set", drawing.Style{Stroke: pen, StrokeWidth: 1.6}), "set out or planted"},
		{box(deepen), "ground taken, growing, ready to eat"},
		{box(fade), "ground free in more and more weather years"},
		{mark("bt-raise", []drawing.Node{drawing.Line{X1: 12, Y1: 4, X2: 12, Y2: 23, Style: drawing.Style{Stroke: pen, StrokeWidth: 1.4, Dash: []float64{6, 3, .1, 3}, Round: true}}, drawing.Circle{X: 12, Y: 3.5, Radius: 2.6, Style: drawing.Style{Fill: paper, Stroke: pen, StrokeWidth: 1.4}}}), "raised under cover"},
		{mark("bt-cold", []drawing.Node{drawing.Rect{X: 2, Y: 4, Width: 20, Height: 16, Style: drawing.Style{Fill: coldInk, FillOpacity: .42}}}), "frost likely (paler: less likely)"},
		{rule("bt-today", drawing.Style{Stroke: todayInk, StrokeWidth: 1.4}), "today"},
	}
}
