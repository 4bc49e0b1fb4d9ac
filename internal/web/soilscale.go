package web

import (
	"fmt"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// scaleBed is a bed on the scale of pH.
type scaleBed struct {
	name, link string
	reaction   soil.Reaction
	stopped    bool
}

// scaleCrop is a crop's range on it.
type scaleCrop struct {
	name      string
	low, high float64
	colour    string
	here      bool // planned in the bed, and not only wanted in the garden
}

// Inks of the scale: ground that is too sour, as wanted, too limy.
const (
	sourInk  = "#b5622f"
	rightInk = "#2f5d3a"
	limyInk  = "#4a6f8f"
)

const (
	scaleWidth                  = 440.0
	scaleLeft, scaleRight       = 132.0, 14.0
	scaleTop                    = 34.0
	scaleBedHeight, scaleHeight = 23.0, 15.0
)

func scaleX(ph float64) float64 {
	ph = min(max(ph, soil.ScaleLow), soil.ScaleHigh)
	return scaleLeft + (ph-soil.ScaleLow)/(soil.ScaleHigh-soil.ScaleLow)*(scaleWidth-scaleLeft-scaleRight)
}

// soilScale draws beds and the ranges of crops over one scale of pH.
func soilScale(id, title string, beds []scaleBed, crops []scaleCrop) (figure, error) {
	foot := scaleTop + 6 + scaleBedHeight*float64(len(beds))
	if len(crops) > 0 {
		foot += 12 + scaleHeight*float64(len(crops))
	}
	s := drawing.Scene{ID: id, Title: title, Width: scaleWidth, Height: foot + 22, Class: "chart",
		Desc: "Across: pH from 4, sour, to 9, limy. A dot is a bed's pH as expected now, its line how sure that is, the green bar what is wanted there. Below, the range of each crop.",
		Fades: []drawing.Fade{{ID: id + "-ground", X1: scaleLeft, X2: scaleWidth - scaleRight, Stops: []drawing.Stop{
			{At: 0, Colour: sourInk, Opacity: .30}, {At: .36, Colour: sourInk, Opacity: .06}, {At: .6, Colour: limyInk, Opacity: .04}, {At: 1, Colour: limyInk, Opacity: .28}}}}}
	add := func(n ...drawing.Node) { s.Nodes = append(s.Nodes, n...) }
	add(drawing.Rect{X: scaleLeft, Y: scaleTop, Width: scaleWidth - scaleLeft - scaleRight, Height: foot - scaleTop, Style: drawing.Style{Fill: drawing.Ref(id + "-ground")}})
	rules := drawing.NewPath(24)
	for ph := soil.ScaleLow; ph <= soil.ScaleHigh; ph++ {
		rules.MoveTo(scaleX(ph), scaleTop).LineTo(scaleX(ph), foot)
		for _, y := range []float64{scaleTop - 5, foot + 14} {
			add(drawing.Text{X: scaleX(ph), Y: y, Size: 11.5, Anchor: drawing.Middle, Says: wholeTick(ph), Style: drawing.Style{Fill: faintInk}})
		}
	}
	add(drawing.Shape{Path: rules, Style: drawing.Style{Stroke: ruleInk, StrokeWidth: .8}})
	for _, w := range []struct {
		ph   float64
		says string
	}{{4.55, "sour"}, {7, "neutral"}, {8.45, "limy"}} {
		add(drawing.Text{X: scaleX(w.ph), Y: 13, Size: 11.5, Anchor: drawing.Middle, Italic: true, Says: w.says, Style: drawing.Style{Fill: faintInk}})
	}
	y := scaleTop + 6
	for _, b := range beds {
		add(scaleBedRow(b, y+scaleBedHeight/2))
		y += scaleBedHeight
	}
	y += 12
	if len(crops) > 0 && len(beds) > 0 {
		add(drawing.Line{X1: 4, Y1: y - 8, X2: scaleWidth - scaleRight, Y2: y - 8, Style: drawing.Style{Stroke: ruleInk, StrokeWidth: .8}})
	}
	for _, c := range crops {
		add(scaleCropRow(c, y+scaleHeight/2)...)
		y += scaleHeight
	}
	pic, err := svg(&s)
	return figure{pic, title}, err
}

func scaleBedRow(b scaleBed, y float64) drawing.Node {
	r := b.reaction
	g := drawing.Group{Link: b.link}
	add := func(n ...drawing.Node) { g.Nodes = append(g.Nodes, n...) }
	add(drawing.Text{X: scaleLeft - 8, Y: y + 4, Size: 12.5, Anchor: drawing.End, Bold: true, Says: shortened(b.name, 18), Style: drawing.Style{Fill: ink}})
	x0, x1 := scaleX(r.Target.Low), scaleX(r.Target.High)
	add(drawing.Rect{X: x0, Y: y - 6, Width: max(0, x1-x0), Height: 12, Radius: 6, Style: drawing.Style{Fill: rightInk, FillOpacity: .2}, Hint: fmt.Sprintf("wanted: pH %.1f to %.1f", r.Target.Low, r.Target.High)})
	if r.PH == 0 {
		add(drawing.Text{X: scaleX(4.1), Y: y + 4, Size: 11.5, Italic: true, Says: "never tested", Style: drawing.Style{Fill: faintInk}})
		return g
	}
	colour := reactionInk(r)
	low, high := scaleX(r.Expected.Low), scaleX(r.Expected.High)
	add(drawing.Line{X1: low, Y1: y, X2: high, Y2: y, Style: drawing.Style{Stroke: colour, StrokeWidth: 2.2, Round: true}},
		drawing.Circle{X: scaleX(r.PH), Y: y, Radius: 5.2, Style: drawing.Style{Fill: colour, Stroke: paper, StrokeWidth: 1.2}, Hint: fmt.Sprintf("%s: pH %.1f", b.name, r.PH)})
	if b.stopped {
		add(drawing.Text{X: high + 6, Y: y + 4, Size: 11.5, Bold: true, Halo: paper, Says: "ask first", Style: drawing.Style{Fill: todayInk, StrokeWidth: 3}})
	}
	return g
}

// reactionInk is the colour of a pH by where it lies against what is wanted.
func reactionInk(r soil.Reaction) string {
	switch {
	case r.PH < r.Target.Low-.05:
		return sourInk
	case r.PH > r.Target.High+.25: // as the rule for sulfur has it
		return limyInk
	}
	return rightInk
}

func scaleCropRow(c scaleCrop, y float64) []drawing.Node {
	opacity, label := .85, ink
	if !c.here {
		opacity, label = .45, faintInk
	}
	x0, x1 := scaleX(c.low), scaleX(c.high)
	return []drawing.Node{
		drawing.Text{X: scaleLeft - 8, Y: y + 4, Size: 11.5, Anchor: drawing.End, Says: shortened(c.name, 21), Style: drawing.Style{Fill: label}},
		drawing.Rect{X: x0, Y: y - 3.5, Width: x1 - x0, Height: 7, Radius: 3.5, Style: drawing.Style{Fill: c.colour, FillOpacity: opacity}, Hint: fmt.Sprintf("%s: pH %.1f to %.1f", c.name, c.low, c.high)},
	}
}

// shortened cuts a name to so many letters.
func shortened(name string, letters int) string {
	runes := []rune(name)
	if len(runes) <= letters {
		return name
	}
	return strings.TrimSpace(string(runes[:letters-1])) + "…"
}

// cropRanges are the ranges of crops that the scale shows: those planned here by name, those only wanted by kind.
func cropRanges(fits []season.CropFit) (out []scaleCrop) {
	seen := map[string]bool{}
	for _, here := range []bool{true, false} {
		for _, f := range fits {
			if f.Planned != here {
				continue
			}
			add := scaleCropOf(f.Crop, here)
			key := fmt.Sprint(add.name, add.low, add.high)
			if !seen[key] {
				seen[key] = true
				out = append(out, add)
			}
		}
	}
	return out
}

func scaleCropOf(c *crop.Crop, here bool) scaleCrop {
	return scaleCrop{name: c.Kind, low: c.PH.Low, high: c.PH.High, colour: wash(c.Family), here: here}
}
