package sheet

import (
	"fmt"
	"math"

	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// plot draws the ground to scale, north up: each bed with its number and, where there is room, its
// name; a measure and the north below.
type plot struct {
	paper *paper
	scene drawing.Scene
	scale float64 // points to a metre
	west  float64 // of the drawn ground, m
	north float64
}

// The plot's letters, in points.
const (
	plotLetters = 10.0
	plotFoot    = 30.0 // room for measure and arrow
)

// plotScene draws a garden into a room on the page.
func (p *paper) plotScene(g garden.Garden, wide, high float64) *drawing.Scene {
	southWest, northEast := g.Extent()
	v := &plot{paper: p, west: float64(southWest.East), north: float64(northEast.North)}
	east, north := max(float64(northEast.East)-v.west, .5), max(v.north-float64(southWest.North), .5)
	v.scale = min((wide-2)/east, (high-plotFoot-2)/north)
	v.scene = drawing.Scene{ID: "plot", Title: "The plot", Width: wide, Height: north*v.scale + plotFoot + 2}
	v.add(drawing.Rect{X: 1, Y: 1, Width: east * v.scale, Height: north * v.scale, Style: drawing.Style{Stroke: ruleInk, StrokeWidth: .8, Dash: []float64{5, 3}}})
	for i, b := range g.Beds {
		v.bed(i+1, b)
	}
	v.measure(g.Site.Units, min(wide*.6, east*v.scale), v.scene.Height-plotFoot+12)
	v.arrow(wide-14, v.scene.Height-plotFoot+4)
	return &v.scene
}

func (v *plot) add(n drawing.Node) { v.scene.Nodes = append(v.scene.Nodes, n) }

// at is a place of the ground on the paper.
func (v *plot) at(q garden.Point) [2]float64 {
	return [2]float64{1 + (float64(q.East)-v.west)*v.scale, 1 + (v.north-float64(q.North))*v.scale}
}

func (v *plot) bed(number int, b garden.Bed) {
	var corners [][2]float64
	for _, c := range b.Corners() {
		corners = append(corners, v.at(c))
	}
	v.add(drawing.Shape{Path: drawing.NewPath(5).Polygon(corners...), Style: drawing.Style{Fill: "#ecebe2", Stroke: ink, StrokeWidth: 1}})
	from, to := corners[0], corners[1] // along the length
	long, short := float64(b.Length)*v.scale, float64(b.Width)*v.scale
	if short > long {
		from, to = corners[1], corners[2]
		long, short = short, long
	}
	turn := math.Atan2(to[1]-from[1], to[0]-from[0]) * 180 / math.Pi
	if turn > 89 {
		turn -= 180
	}
	if turn < -91 {
		turn += 180
	}
	middle := v.at(garden.Point{East: b.X, North: b.Y})
	says := fmt.Sprintf("%d  %s", number, b.Name)
	size := min(plotLetters, short*.8)
	if size < 6.5 || v.paper.measure(bold, size, oneLine(says)) > long-6 {
		says, turn = fmt.Sprint(number), 0
		size = max(6.5, min(plotLetters, short*.8))
	}
	halo := ""
	if v.paper.measure(bold, size, oneLine(says)) > long || size > short {
		halo = "#ffffff" // the number of a bed smaller than its number
	}
	sin, cos := math.Sincos(turn * math.Pi / 180)
	x := min(max(middle[0]-sin*size*.36, 8), v.scene.Width-8)
	v.add(drawing.Text{X: x, Y: middle[1] + cos*size*.36, Size: size, Anchor: drawing.Middle, Turn: turn, Bold: true, Halo: halo, Says: says, Style: drawing.Style{Fill: ink}})
}

// measure is a rule of whole metres or feet, at most so long on the paper.
func (v *plot) measure(units quantity.System, longest, y float64) {
	unit, word := 1.0, "m"
	if units == quantity.US {
		unit, word = quantity.MetresPerFoot, "ft"
	}
	n := 1
	for float64(nextStep(n))*unit*v.scale <= longest {
		n = nextStep(n)
	}
	long := float64(n) * unit * v.scale
	v.add(drawing.Rect{X: 1, Y: y, Width: long / 2, Height: 4, Style: drawing.Style{Fill: ink}})
	v.add(drawing.Rect{X: 1, Y: y, Width: long, Height: 4, Style: drawing.Style{Stroke: ink, StrokeWidth: .8}})
	v.add(drawing.Text{X: 1, Y: y + 14, Size: 9, Says: "0", Style: drawing.Style{Fill: ink}})
	v.add(drawing.Text{X: 1 + long + 5, Y: y + 5, Size: 9, Says: fmt.Sprintf("%d %s", n, word), Style: drawing.Style{Fill: ink}})
}

// nextStep is the next length a rule may have.
func nextStep(n int) int {
	for _, s := range []int{1, 2, 5, 10, 20, 50, 100, 200, 500} {
		if s > n {
			return s
		}
	}
	return n * 2
}

// arrow points north.
func (v *plot) arrow(x, y float64) {
	v.add(drawing.Shape{Path: drawing.NewPath(4).Polygon([2]float64{x, y}, [2]float64{x + 5, y + 15}, [2]float64{x, y + 12}, [2]float64{x - 5, y + 15}), Style: drawing.Style{Fill: ink}})
	v.add(drawing.Text{X: x, Y: y + 25, Size: 9, Anchor: drawing.Middle, Bold: true, Says: "N", Style: drawing.Style{Fill: ink}})
}
