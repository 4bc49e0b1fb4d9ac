package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
)

// label writes number and kind on each part of a patch where they fit and stand on no other writing,
// else the number alone.
func (b *bedPicture) label(q garden.Planting) {
	name := q.CropID
	if c, ok := b.season.Crops.Find(q.CropID); ok {
		name = c.Kind
	}
	number := shortKey(q, b.season.Plan.Season)
	y0, y1 := b.y(max(q.Start, b.from)), b.y(min(max(q.Clear, q.Start+1), b.to))
parts:
	for _, at := range b.strip.Parts(q.Place) {
		x0, x1 := b.sides(q, at)
		for _, says := range []string{number + " " + name, number} {
			for _, size := range []float64{10.5, 8.5, 7} {
				if b.tryLabel(says, size, x0, y0, x1, y1) {
					continue parts
				}
			}
		}
	}
}

// tryLabel looks for room in a patch: across it, then down it, from its middle outward.
func (b *bedPicture) tryLabel(says string, size, x0, y0, x1, y1 float64) bool {
	long, tall := b.paper.measure(bold, size, oneLine(says))+3, size*1.15
	for _, down := range []bool{false, true} {
		w, h := long, tall
		if down {
			w, h = tall, long
		}
		if w > x1-x0 || h > y1-y0-3 {
			continue
		}
		for _, share := range [][2]float64{{.5, .5}, {.5, .25}, {.5, .75}, {.5, 0}, {.5, 1}, {.25, .5}, {.75, .5}, {0, .5}, {1, .5}, {0, 0}, {1, 0}, {0, 1}, {1, 1}} {
			x := x0 + w/2 + (x1-x0-w)*share[0]
			y := y0 + 3 + h/2 + (y1-y0-3-h)*share[1]
			at := box{x0: x - w/2, y0: y - h/2, x1: x + w/2, y1: y + h/2}
			if slices.ContainsFunc(b.written, at.meets) {
				continue
			}
			b.written = append(b.written, at)
			t := drawing.Text{X: x, Y: y + size*.35, Size: size, Anchor: drawing.Middle, Bold: true, Halo: "#ffffff", Says: says, Style: drawing.Style{Fill: ink, StrokeWidth: 2.4}}
			if down {
				t.X, t.Y, t.Turn = x+size*.35, y, -90
			}
			b.add(t)
			return true
		}
	}
	return false
}

func (a box) meets(b box) bool {
	return math.Min(a.x1, b.x1)-math.Max(a.x0, b.x0) > .01 && math.Min(a.y1, b.y1)-math.Max(a.y0, b.y0) > .01
}

// shortKey is a planting's key without the season it is of.
func shortKey(q garden.Planting, s civil.Season) string {
	return strings.TrimPrefix(q.Key, fmt.Sprintf("%d-", s.Year()))
}
