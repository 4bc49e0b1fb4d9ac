package web

import (
	"fmt"
	"html/template"
	"math"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/light"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// lightSteps are the hours of sun from which ground is drawn in a colour: dusk where the sun never comes, straw in full sun.
var lightSteps = []struct {
	least  float64
	colour string
}{{0, "#3c4152"}, {1, "#525767"}, {2, "#6b6e79"}, {3, "#878585"}, {4, "#a49c8a"}, {5, "#beb08a"}, {6, "#d5c287"}, {7, "#e4d08a"}, {8, "#eedd9c"}, {10, "#f5e9b9"}, {12, "#faf3d6"}}

// lightColour is the colour of ground with so many hours of sun.
func lightColour(hours float64) string {
	colour := lightSteps[0].colour
	for _, s := range lightSteps {
		if hours+1e-6 >= s.least {
			colour = s.colour
		}
	}
	return colour
}

// lightLegend explains the colours.
func lightLegend() (out []legendEntry) {
	for i, s := range lightSteps {
		says := fmt.Sprintf("%.0f hours", s.least)
		switch {
		case i == 0:
			says = "less than 1 hour"
		case s.least == 1:
			says = "1 hour"
		case i == len(lightSteps)-1:
			says += " and more"
		}
		out = append(out, legendEntry{mark(fmt.Sprintf("light-step-%d", i), []drawing.Node{
			drawing.Rect{X: 2, Y: 3, Width: 20, Height: 18, Radius: 2, Style: drawing.Style{Fill: s.colour, Stroke: soilInk, StrokeWidth: .6}},
		}), says})
	}
	return out
}

// lightPicture draws the sun of a month on the ground, and what throws shade, to scale.
type lightPicture struct {
	plotPicture
	year  light.Year
	month time.Month
}

func newLightPicture(y light.Year, month time.Month) *lightPicture {
	return &lightPicture{plotPicture: plotPicture{now: &season.Result{Garden: y.Garden}, day: civil.Of(2027, int(month), 1)}, year: y, month: month}
}

// beyond is how far past the plot things that throw shade are drawn, m.
const beyond = 6

func (v *lightPicture) draw() *drawing.Scene {
	g := v.year.Garden
	minX, minY, maxX, maxY := plotExtent(g)
	left, low, right, high := minX, minY, maxX, maxY
	for _, s := range g.Shades {
		reach := s.Footprint().Corners()
		corners := reach[:]
		if s.Kind == garden.Tree {
			r := s.Spread / 2
			corners = []garden.Point{{East: s.X - r, North: s.Y - r}, {East: s.X + r, North: s.Y + r}}
		}
		for _, c := range corners {
			left, low = min(left, max(float64(c.East)-.3, minX-beyond)), min(low, max(float64(c.North)-.3, minY-beyond))
			right, high = max(right, min(float64(c.East)+.3, maxX+beyond)), max(high, min(float64(c.North)+.3, maxY+beyond))
		}
	}
	v.depth = high * 100
	width, height := (right-left)*100, (high-low)*100
	v.letters = width / wideLetters
	small := width / narrowLetters
	foot := small * 2.7
	v.scene = drawing.Scene{
		ID: "light", Class: "plotpicture lightpicture", MinX: left * 100, Width: width, Height: height + foot, Title: v.finding(),
		Desc:  "A plan of the ground seen from above. The darker the ground the fewer hours of direct sun it has on a clear day of the month. What throws shade is drawn to scale.",
		Clips: []drawing.Clip{{ID: "light-frame", X: left * 100, Width: width, Height: height}},
	}
	v.add(drawing.Rect{X: left * 100, Width: width, Height: height + foot, Style: drawing.Style{Fill: pathGrass}})
	v.ground()
	for _, b := range g.Beds {
		v.add(drawing.Shape{Path: v.outline(b, b.Whole()), Style: drawing.Style{Stroke: soilInk, StrokeWidth: v.letters / 6}, Hint: v.bedHint(b)})
	}
	frame := room{left * 100, 0, left*100 + width, height}
	layers := []*lettering{v.lettering("wide", v.letters, frame, false), v.lettering("narrow", small, frame, true)}
	v.shades(layers)
	for _, l := range layers {
		v.scene.Nodes = append(v.scene.Nodes, l.beds...)
		v.foot(l, left*100, height, width, foot)
	}
	return &v.scene
}

// foot is the measure, the month and north under the ground, in the letters of a layer.
func (v *lightPicture) foot(l *lettering, x, y, width, high float64) {
	before, letters := len(v.scene.Nodes), v.letters
	v.letters = l.size
	top := y + (high-2.6*l.size)/2
	v.north(x+width-l.size*1.3, top+l.size*1.1)
	v.measure(x+l.size*.6, top+l.size*.7, width)
	v.letters = letters
	nodes := append([]drawing.Node(nil), v.scene.Nodes[before:]...)
	v.scene.Nodes = append(v.scene.Nodes[:before], drawing.Group{Nodes: nodes, Style: drawing.Style{Class: l.class}})
}

// finding is what the picture says in a sentence.
func (v *lightPicture) finding() string {
	beds := v.year.Garden.Beds
	if len(beds) == 0 {
		return fmt.Sprintf("Hours of direct sun on the ground in %s", v.month)
	}
	low, high := 0, 0
	hours := make([]quantity.Hour, len(beds))
	for i, b := range beds {
		hours[i] = v.year.Bed(b)[v.month-1].Hours
		if hours[i] < hours[low] {
			low = i
		}
		if hours[i] > hours[high] {
			high = i
		}
	}
	u := v.year.Garden.Site.Units
	if hours[high]-hours[low] < .25 {
		return fmt.Sprintf("In %s the beds have about %s of direct sun on a clear day", v.month, u.Hours(hours[high]))
	}
	return fmt.Sprintf("In %s %s has the most direct sun of the beds, %s on a clear day, and %s the least, %s", v.month, beds[high].Name, u.Hours(hours[high]), beds[low].Name, u.Hours(hours[low]))
}

func (v *lightPicture) bedHint(b garden.Bed) string {
	m := v.year.Bed(b)[v.month-1]
	return fmt.Sprintf("%s: %s of sun in %s, %s", b.Name, v.year.Garden.Site.Units.Hours(m.Hours), v.month, m.Basis)
}

// ground paints the cells, each step of light over those before it, so that no seam is left between them.
func (v *lightPicture) ground() {
	grid, hours := v.year.Grid, v.year.Hours[v.month-1]
	cell := float64(grid.Cell) * 100
	x0, y0 := float64(grid.SouthWest.East)*100, v.depth-float64(grid.SouthWest.North)*100
	v.add(drawing.Rect{X: x0, Y: y0 - cell*float64(grid.Rows), Width: cell * float64(grid.Columns), Height: cell * float64(grid.Rows), Style: drawing.Style{Fill: lightSteps[0].colour}})
	for _, step := range lightSteps[1:] {
		path := drawing.NewPath(64)
		lit := func(row, column int) bool { return float64(hours[row*grid.Columns+column])+1e-6 >= step.least }
		done := make([]bool, len(hours))
		for row := range grid.Rows {
			for column := 0; column < grid.Columns; column++ {
				if done[row*grid.Columns+column] || !lit(row, column) {
					continue
				}
				wide := 1
				for column+wide < grid.Columns && lit(row, column+wide) && !done[row*grid.Columns+column+wide] {
					wide++
				}
				deep := 1
			down:
				for row+deep < grid.Rows {
					for k := range wide {
						if !lit(row+deep, column+k) {
							break down
						}
					}
					deep++
				}
				for r := range deep {
					for k := range wide {
						done[(row+r)*grid.Columns+column+k] = true
					}
				}
				path.Box(x0+cell*float64(column)-.5, y0-cell*float64(row+deep)-.5, cell*float64(wide)+1, cell*float64(deep)+1)
			}
		}
		if !path.Empty() {
			v.add(drawing.Shape{Path: path, Style: drawing.Style{Fill: step.colour}})
		}
	}
}

// shades draws what throws shade; each can be opened, and dragged where the browser has the script.
func (v *lightPicture) shades(layers []*lettering) {
	for i, s := range v.year.Garden.Shades {
		u := v.year.Garden.Site.Units
		g := drawing.Group{Link: fmt.Sprintf("/plot/shade/%d", s.ID), Clip: "light-frame", Hint: fmt.Sprintf("%s, %s, %s high", s.Name, s.Kind, u.Length(s.Height))}
		if s.Kind == garden.Tree {
			g.Nodes = v.tree(s)
		} else {
			g.Nodes = v.box(s)
		}
		for _, l := range layers {
			g.Nodes = append(g.Nodes, l.shades[i]...)
		}
		v.add(g)
	}
}

func (v *lightPicture) tree(s garden.Shade) []drawing.Node {
	at := v.point(garden.Point{East: s.X, North: s.Y})
	radius := float64(s.Spread) * 50
	fill, opacity := "#5d7f4a", .5
	if s.Through(v.month) > .2 {
		fill, opacity = "#8a7a5c", .22 // bare
	}
	pen := drawing.Style{Stroke: "#37502c", StrokeWidth: v.letters / 12}
	edge := drawing.NewPath(64)
	const lobes = 14
	for i := range lobes + 1 {
		a := 2 * math.Pi * float64(i) / lobes
		x, y := at[0]+radius*math.Cos(a), at[1]+radius*math.Sin(a)
		if i == 0 {
			edge.MoveTo(x, y)
			continue
		}
		mid := a - math.Pi/lobes
		edge.QuadTo(at[0]+radius*1.13*math.Cos(mid), at[1]+radius*1.13*math.Sin(mid), x, y)
	}
	edge.Close()
	nodes := []drawing.Node{drawing.Shape{Path: edge, Style: drawing.Style{Fill: fill, FillOpacity: opacity, Stroke: pen.Stroke, StrokeWidth: pen.StrokeWidth}}}
	if s.Crown == garden.ConeCrown {
		spokes := drawing.NewPath(32)
		for i := range 8 {
			a := math.Pi * float64(i) / 4
			spokes.MoveTo(at[0], at[1]).LineTo(at[0]+.8*radius*math.Cos(a), at[1]+.8*radius*math.Sin(a))
		}
		nodes = append(nodes, drawing.Shape{Path: spokes, Style: pen})
	}
	return append(nodes, drawing.Circle{X: at[0], Y: at[1], Radius: max(float64(s.TrunkThick())*50, v.letters/5), Style: drawing.Style{Fill: "#5b432c"}})
}

// shadeInks are how the boxes are drawn: fill, pen.
var shadeInks = map[garden.ShadeKind][2]string{
	garden.House: {"#b98f78", "#5a3b2c"}, garden.Roof: {"#a79a93", "#4d4541"}, garden.Shed: {"#a98d66", "#55432a"},
	garden.Wall: {"#8d8780", "#45413c"}, garden.Fence: {"#7a5f3f", "#4b3924"}, garden.Hedge: {"#5d7f4a", "#37502c"},
}

func (v *lightPicture) box(s garden.Shade) []drawing.Node {
	foot := s.Footprint()
	inks := shadeInks[s.Kind]
	style := drawing.Style{Fill: inks[0], FillOpacity: .92, Stroke: inks[1], StrokeWidth: v.letters / 10}
	if s.Kind == garden.Fence {
		a, b := v.point(foot.On(0, foot.Width/2)), v.point(foot.On(foot.Length, foot.Width/2))
		thick := max(float64(foot.Width)*100, v.letters/4)
		return []drawing.Node{ // posts and boards; a wider, unseen line is there to be caught hold of
			drawing.Line{X1: a[0], Y1: a[1], X2: b[0], Y2: b[1], Style: drawing.Style{Stroke: inks[0], StrokeWidth: v.letters * 1.6, Opacity: .02}},
			drawing.Line{X1: a[0], Y1: a[1], X2: b[0], Y2: b[1], Style: drawing.Style{Stroke: inks[0], StrokeWidth: thick}},
			drawing.Line{X1: a[0], Y1: a[1], X2: b[0], Y2: b[1], Style: drawing.Style{Stroke: inks[1], StrokeWidth: thick * 1.9, Dash: []float64{v.letters / 5, 200 - v.letters/5}}},
		}
	}
	if s.Kind == garden.Hedge {
		style.Round, style.StrokeWidth = true, v.letters/4
	}
	nodes := []drawing.Node{drawing.Shape{Path: v.outline(foot, foot.Whole()), Style: style}}
	if s.Ridge > s.Height || s.Kind == garden.House {
		a, b := v.point(foot.On(0, foot.Width/2)), v.point(foot.On(foot.Length, foot.Width/2))
		nodes = append(nodes, drawing.Line{X1: a[0], Y1: a[1], X2: b[0], Y2: b[1], Style: drawing.Style{Stroke: inks[1], StrokeWidth: v.letters / 9}})
	}
	return nodes
}

// north points to true north, wherever the plot's own north points.
func (v *lightPicture) north(x, y float64) {
	before := len(v.scene.Nodes)
	v.compass(0, 0)
	nodes := append([]drawing.Node(nil), v.scene.Nodes[before:]...)
	v.scene.Nodes = append(v.scene.Nodes[:before], drawing.Group{X: x, Y: y, Turn: -v.year.Garden.Site.Lie.North, Nodes: nodes})
}

// measure is the scale with the month beside it.
func (v *lightPicture) measure(x, y, width float64) {
	v.scale(x, y, width)
	last := len(v.scene.Nodes) - 1
	if t, ok := v.scene.Nodes[last].(drawing.Text); ok {
		t.Says = v.month.String()
		v.scene.Nodes[last] = t
	}
}

// yearPicture is a bed's hours of sun through the year, with those of open ground behind.
func yearPicture(y light.Year, b garden.Bed) (template.HTML, error) {
	const width, height, left, foot, top, letters = 460.0, 200.0, 42.0, 30.0, 12.0, 15.0 // letters of 12 pixels on a telephone
	months := y.Bed(b)
	most := 1.0
	for m := range months {
		most = max(most, float64(y.Open[m].Hours))
	}
	up := func(h float64) float64 { return height - foot - h/most*(height-foot-top) }
	mean := light.InSeason(y.Garden.Site.Latitude, months).Hours
	s := drawing.Scene{ID: "bed-light", Class: "chart", Width: width, Height: height,
		Title: fmt.Sprintf("%s has %s of direct sun a day over the growing season", b.Name, y.Garden.Site.Units.Hours(mean)),
		Desc:  "Across: the months. Up: hours of direct sun on a clear day. The outline is open ground, the filled part the bed."}
	for h := 0.0; h <= most; h += 4 {
		s.Nodes = append(s.Nodes, drawing.Line{X1: left, Y1: up(h), X2: width, Y2: up(h), Style: drawing.Style{Stroke: "#b9b29f", StrokeWidth: .6, Class: "rule"}},
			drawing.Text{X: left - 5, Y: up(h) + 5, Size: letters, Anchor: drawing.End, Says: fmt.Sprintf("%.0f h", h), Style: drawing.Style{Class: "letters"}})
	}
	each := (width - left) / 12
	for m := range months {
		x := left + each*float64(m)
		open, has := float64(y.Open[m].Hours), float64(months[m].Hours)
		hint := fmt.Sprintf("%s: %.1f h (%s), open ground %.1f h", time.Month(m+1), has, months[m].Basis, open)
		s.Nodes = append(s.Nodes,
			drawing.Rect{X: x + 4, Y: up(open), Width: each - 8, Height: up(0) - up(open), Style: drawing.Style{Stroke: "#8c8672", StrokeWidth: 1, Dash: []float64{3, 2}}, Hint: hint},
			drawing.Rect{X: x + 4, Y: up(has), Width: each - 8, Height: up(0) - up(has), Style: drawing.Style{Fill: lightColour(has), Stroke: soilInk, StrokeWidth: .8}, Hint: hint},
			drawing.Text{X: x + each/2, Y: height - 9, Size: letters, Anchor: drawing.Middle, Says: time.Month(m + 1).String()[:3], Style: drawing.Style{Class: "letters"}})
	}
	return svg(&s)
}
