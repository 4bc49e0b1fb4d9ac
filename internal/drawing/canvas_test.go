package drawing

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// notes is a canvas that writes down what it is told.
type notes struct {
	lines []string
	path  [][2]float64 // where the pen has been, curves by their points at quarters
	at    [2]float64
	depth int
}

func (n *notes) say(format string, args ...any) {
	n.lines = append(n.lines, fmt.Sprintf(format, args...))
}
func (n *notes) pen(x, y float64)        { n.at = [2]float64{x, y}; n.path = append(n.path, n.at) }
func (n *notes) Save()                   { n.depth++; n.say("save") }
func (n *notes) Restore()                { n.depth--; n.say("restore") }
func (n *notes) Move(x, y, turn float64) { n.say("move %g %g %g", x, y, turn) }
func (n *notes) MoveTo(x, y float64)     { n.pen(x, y); n.say("M %g %g", x, y) }
func (n *notes) LineTo(x, y float64)     { n.pen(x, y); n.say("L %g %g", x, y) }
func (n *notes) ClosePath()              { n.say("close") }
func (n *notes) Clip()                   { n.say("clip") }
func (n *notes) Shade(f Fade)            { n.say("shade %s", f.ID) }
func (n *notes) Write(t Text)            { n.say("write %s", t.Says) }
func (n *notes) Paint(s Style) {
	n.say("paint %s %.2f %s %.2f", s.Fill, s.FillOpacity, s.Stroke, s.Opacity)
}

func (n *notes) CurveTo(ax, ay, bx, by, x, y float64) {
	from := n.at
	for _, t := range []float64{.25, .5, .75, 1} {
		u := 1 - t
		mix := func(p, a, b, q float64) float64 { return u*u*u*p + 3*u*u*t*a + 3*u*t*t*b + t*t*t*q }
		n.pen(mix(from[0], ax, bx, x), mix(from[1], ay, by, y))
	}
	n.say("C")
}

func drawn(t interface{ Fatal(...any) }, nodes ...Node) *notes {
	n := &notes{}
	s := &Scene{ID: "s", Title: "t", Width: 100, Height: 100, Nodes: nodes}
	s.Fades = []Fade{{ID: "fade", Y2: 10, Stops: []Stop{{At: 1, Colour: "#123456", Opacity: 1}}}}
	s.Hatches = []Hatch{{ID: "hatch", Apart: 10, Turn: 90, Colour: "#000000", StrokeWidth: 1}}
	s.Clips = []Clip{{ID: "clip", X: 1, Y: 2, Width: 3, Height: 4}}
	if err := s.DrawOn(n); err != nil {
		t.Fatal(err)
	}
	if n.depth != 0 {
		t.Fatal("saves and restores are not paired")
	}
	return n
}

// A circle of four cubics with control points at 4/3·(√2−1) of the radius leaves the true circle by
// no more than 2.73e-4 of the radius (the known bound of that construction: it touches the circle at
// eighths and strays outward between; from memory).
func TestCirclesAreRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := float64(rapid.IntRange(-500, 500).Draw(t, "x")), float64(rapid.IntRange(-500, 500).Draw(t, "y"))
		radius := float64(rapid.IntRange(1, 900).Draw(t, "r"))
		for name, n := range map[string]Node{
			"circle": Circle{X: x, Y: y, Radius: radius, Style: Style{Fill: "#000000"}},
			"ring":   Shape{Path: NewPath(4).Ring(x, y, radius), Style: Style{Fill: "#000000"}},
		} {
			quarters := map[[2]bool]bool{}
			for _, q := range drawn(t, n).path {
				if off := math.Abs(math.Hypot(q[0]-x, q[1]-y)/radius - 1); off > 2.73e-4 {
					t.Fatalf("%s: a point lies %.1e of the radius off", name, off)
				}
				quarters[[2]bool{q[0] > x, q[1] > y}] = true
			}
			if len(quarters) != 4 {
				t.Fatalf("%s: not all around: %v", name, quarters)
			}
		}
	})
}

// SVG's own rules (SVG 2, §9.3: quadratic and cubic Bézier commands, relative h and v).
func TestPathsAreReadBack(t *testing.T) {
	n := drawn(t, Shape{Path: NewPath(8).Box(-1.5, 2, 10, 20).MoveTo(0, 0).QuadTo(30, 0, 30, 60).Dot(7, -8.25), Style: Style{Stroke: "#000000"}})
	want := "M -1.5 2|L 8.5 2|L 8.5 22|L -1.5 22|close|M 0 0|C|M 7 -8.25|L 7 -8.25|paint  1.00 #000000 1.00"
	if got := strings.Join(n.lines, "|"); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	// the quadratic curve at its middle: (p + 2c + q)/4
	if mid := n.path[6]; math.Abs(mid[0]-22.5) > 1e-9 || math.Abs(mid[1]-15) > 1e-9 {
		t.Errorf("the curve's middle is %v, want [22.5 15]", mid)
	}
}

func TestFadesHatchesAndGroups(t *testing.T) {
	box := Rect{Width: 10, Height: 10, Style: Style{Fill: Ref("fade"), Stroke: "#aa0000", Opacity: .5}}
	if got := strings.Join(drawn(t, box).lines, "|"); !strings.HasPrefix(got, "save|M 0 0|L 10 0|L 10 10|L 0 10|close|clip|shade fade|restore|M 0 0|") || !strings.HasSuffix(got, "|paint  0.50 #aa0000 0.50") {
		t.Error(got)
	}
	box.Fill = Ref("hatch")
	if got := strings.Join(drawn(t, box).lines, "|"); strings.Count(got, "paint  0.50 #000000 0.50") != 1 || !strings.Contains(got, "clip|M ") {
		t.Error(got)
	}
	g := Group{X: 5, Turn: 30, Clip: "clip", Style: Style{Fill: "#0000aa"}, Nodes: []Node{Text{Size: 4, Says: "here"}}}
	if got := strings.Join(drawn(t, g).lines, "|"); got != "save|move 5 0 30|M 1 2|L 4 2|L 4 6|L 1 6|close|clip|write here|restore" {
		t.Error(got)
	}
}

func TestPaperRefusesWhatItCannotPaint(t *testing.T) {
	for name, n := range map[string]Node{
		"a colour by name": Rect{Width: 1, Height: 1, Style: Style{Fill: "red"}},
		"a short colour":   Line{X2: 1, Style: Style{Stroke: "#abc"}},
		"a missing fade":   Rect{Width: 1, Height: 1, Style: Style{Fill: Ref("nowhere")}},
		"no number":        Circle{Radius: math.NaN()},
	} {
		s := &Scene{ID: "s", Title: "t", Width: 1, Height: 1, Nodes: []Node{n}}
		if err := s.DrawOn(&notes{}); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
}
