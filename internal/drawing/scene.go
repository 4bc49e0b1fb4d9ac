// Package drawing is scenes (shapes with numbers already settled) written as SVG or PDF; knows no gardens.
package drawing

// Scene is one picture. Its numbers are settled: the writer moves nothing and measures nothing.
type Scene struct {
	ID            string  // a slug, unique on the page; the ids of the picture's parts begin with it
	Title         string  // states the finding: read out in place of the picture
	Desc          string  // what is drawn along which axis
	Width, Height float64 // of the view box, in the scene's own units
	MinX, MinY    float64 // the view box's corner
	Class         string  // for the style sheet
	Fades         []Fade
	Hatches       []Hatch
	Clips         []Clip
	Nodes         []Node
}

// Node is one thing in a picture.
type Node interface {
	write(w *writer)
	draw(b *brush)
}

// Style is how a shape is painted. Colours are CSS colours or the result of Ref; an empty Fill is
// "none" for every node but Text and Group, which inherit.
type Style struct {
	Fill        string
	Stroke      string
	StrokeWidth float64
	Opacity     float64 // 0 means not stated, so that the zero Style is opaque
	FillOpacity float64 // 0 means not stated
	Dash        []float64
	Round       bool   // round caps and joins
	EvenOdd     bool   // fill rule
	Class       string // for the style sheet, which may repaint for a dark screen or print
}

// Ref is the paint made by a Fade or a Hatch of the scene.
func Ref(id string) string { return "url(#" + id + ")" }

// Rect is a rectangle, its corners rounded by Radius.
type Rect struct {
	X, Y, Width, Height, Radius float64
	Style
	Hint string // shown when a pointer rests on it
}

// Circle is a circle.
type Circle struct {
	X, Y, Radius float64
	Style
	Hint string
}

// Line is a straight line.
type Line struct {
	X1, Y1, X2, Y2 float64
	Style
}

// Shape is a path with its paint.
type Shape struct {
	Path *Path
	Style
	Hint string
}

// Anchor is where a text's position lies in it.
type Anchor string

// The anchors.
const (
	Start  Anchor = ""
	Middle Anchor = "middle"
	End    Anchor = "end"
)

// Text is one line of writing.
type Text struct {
	X, Y   float64 // of the base line
	Size   float64
	Anchor Anchor
	Turn   float64 // degrees clockwise about X, Y
	Bold   bool
	Italic bool
	Halo   string  // colour of an outline behind the letters, to keep them readable on a pattern
	Says   string  // the writing
	Fit    float64 // when above 0, letters are squeezed to this width
	Style
}

// Group is nodes moved, turned, clipped and painted together.
type Group struct {
	X, Y  float64 // moved by
	Turn  float64 // then turned clockwise by, in degrees
	Clip  string  // id of a Clip of the scene
	Link  string  // address opened by a click; the page must offer the same link outside the picture
	Hint  string
	Nodes []Node
	Style
}

// Stop is one colour on the way of a Fade.
type Stop struct {
	At      float64 // 0–1
	Colour  string
	Opacity float64 // 0–1, always written
	Class   string
}

// Fade is a linear gradient between two points of the scene: the soft edge.
type Fade struct {
	ID             string
	X1, Y1, X2, Y2 float64
	Stops          []Stop
}

// Hatch is parallel lines, for shading that does not rest on colour.
type Hatch struct {
	ID          string
	Apart       float64 // distance between lines
	Turn        float64 // degrees
	Colour      string
	StrokeWidth float64
	Ground      string // colour beneath the lines; empty for none
	Class       string
}

// Clip is a rectangle outside which a group is not drawn.
type Clip struct {
	ID                  string
	X, Y, Width, Height float64
	Radius              float64
}
