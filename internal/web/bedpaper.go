package web

import (
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// frostDepths is the chance of a frost through the season: one still to come in spring, one already
// come in autumn.
func frostDepths(now *season.Result) []depth {
	f := now.Frost(0)
	var list []depth
	if f.SpringNone < f.Years {
		list = append(list, depth{now.Season.Start, 1})
	}
	for _, percent := range []float64{90, 70, 50, 30, 10} {
		if c := f.LaterThan(percent); !c.None {
			list = append(list, depth{c.Date, percent / 100})
		}
	}
	for _, percent := range []float64{10, 30, 50, 70, 90} {
		if c := f.EarlierThan(percent); !c.None {
			list = append(list, depth{c.Date, percent / 100})
		}
	}
	for _, q := range list { // the spring after, for crops that stay the winter
		if q.d.Since(now.Season.Start) < now.Season.Days/2 {
			list = append(list, depth{q.d.Add(now.Season.Days), q.share})
		}
	}
	return list
}

// cold washes the paper by the chance of a frost still to come, or come already.
func (b *bedtime) cold() {
	if len(b.frost) == 0 || b.to <= b.from {
		return
	}
	fade := drawing.Fade{ID: b.id + "-cold", Y1: b.y(b.from), Y2: b.y(b.to)}
	last := 0.0
	for _, q := range b.frost {
		at := max(last, (b.y(q.d)-b.y(b.from))/(b.y(b.to)-b.y(b.from)))
		last = at
		fade.Stops = append(fade.Stops, drawing.Stop{At: at, Colour: coldInk, Opacity: .42 * q.share})
	}
	b.scene.Fades = append(b.scene.Fades, fade)
	b.add(drawing.Rect{X: b.left, Y: b.top, Width: b.axis, Height: b.y(b.to) - b.top, Style: drawing.Style{Fill: drawing.Ref(fade.ID)}})
}

// monthFoot is how far below its line a month's name stands, and monthRoom how far from that another
// line of writing must keep.
const monthFoot, monthRoom = 12.0, 10.5

// clearOfMonths is the place nearest to y for a line of writing in the margin that lies on no month's name.
func (b *bedtime) clearOfMonths(y float64) float64 {
	for year, month := b.from.Year(), int(b.from.Month()); ; month++ {
		d := civil.Of(year, month, 1)
		if d >= b.to {
			return y
		}
		name := b.y(d) + monthFoot
		if d < b.from || math.Abs(y-name) >= monthRoom {
			continue
		}
		if y < name {
			return name - monthRoom
		}
		return name + monthRoom
	}
}

// calendar rules the weeks and months.
func (b *bedtime) calendar() {
	weeks, months := drawing.NewPath(60), drawing.NewPath(16)
	for d := b.from.Monday() + 7; d < b.to && b.full; d += 7 {
		weeks.MoveTo(b.left, b.y(d)).LineTo(b.left+b.axis, b.y(d))
	}
	b.add(drawing.Shape{Path: weeks, Style: drawing.Style{Stroke: weekInk, StrokeWidth: .5}})
	for year, month := b.from.Year(), int(b.from.Month()); ; month++ {
		d := civil.Of(year, month, 1)
		if d >= b.to {
			break
		}
		if d < b.from {
			continue
		}
		start := b.left
		if b.full {
			start = 4
		}
		months.MoveTo(start, b.y(d)).LineTo(b.left+b.axis, b.y(d))
		if !b.full && (d.Month()-1)%3 == 0 {
			b.add(drawing.Text{X: 1, Y: b.y(d) + 8, Size: 8.5, Says: d.Month().String()[:1], Style: drawing.Style{Fill: faintInk}})
		}
		if b.full && b.y(b.to)-b.y(d) > monthFoot {
			b.add(drawing.Text{X: 4, Y: b.y(d) + monthFoot, Size: 11, Says: d.Month().String()[:3], Style: drawing.Style{Fill: faintInk}})
			if d > b.from+31 && d.Month() == 1 {
				b.add(drawing.Text{X: b.left - 4, Y: b.y(d) - 3, Size: 9.5, Anchor: drawing.End, Italic: true, Says: fmt.Sprint(d.Year()), Style: drawing.Style{Fill: faintInk}})
			}
		}
	}
	b.add(drawing.Shape{Path: months, Style: drawing.Style{Stroke: ruleInk, StrokeWidth: .8}})
}

// metres rules the bed along the top, lane by lane, in the person's units.
func (b *bedtime) metres() {
	if !b.full {
		return
	}
	units := b.now.Garden.Site.Units
	unit, word := 1.0, "m"
	if units == quantity.US {
		unit, word = quantity.MetresPerFoot, "ft"
	}
	ticks, between := drawing.NewPath(32), drawing.NewPath(8)
	names := b.strip.laneNames()
	for i, l := range b.strip.Lanes {
		x0, wide := b.x(l.On.From), b.x(l.On.To)-b.x(l.On.From)
		every := 1
		for wide*unit*float64(every)/b.strip.Length < 24 && float64(every)*unit < b.strip.Length {
			every = nextStep(every)
		}
		for n := 0; float64(n)*unit <= b.strip.Length+1e-6; n += every {
			x := x0 + float64(n)*unit/b.strip.Length*wide
			ticks.MoveTo(x, b.top-5).LineTo(x, b.top)
			anchor, says := drawing.Middle, fmt.Sprint(n)
			switch {
			case n == 0:
				anchor = drawing.Start
			case i+1 < len(b.strip.Lanes) && x > x0+wide-8:
				continue // the next lane's nought stands there
			case x > x0+wide-8:
				anchor = drawing.End
			}
			b.add(drawing.Text{X: x, Y: b.top - 8, Size: 10, Anchor: anchor, Says: says, Style: drawing.Style{Fill: faintInk}})
		}
		if names[i] != "" {
			b.add(drawing.Text{X: x0 + wide/2, Y: b.top - 22, Size: 11, Anchor: drawing.Middle, Italic: true, Says: names[i], Style: drawing.Style{Fill: faintInk}})
		}
		if i > 0 {
			between.MoveTo(x0, b.top-18).LineTo(x0, b.y(b.to))
		}
	}
	b.add(drawing.Text{X: b.left - 5, Y: b.top - 8, Size: 10, Anchor: drawing.End, Says: word, Style: drawing.Style{Fill: faintInk}})
	b.add(drawing.Shape{Path: ticks, Style: drawing.Style{Stroke: faintInk, StrokeWidth: .8}})
	b.add(drawing.Shape{Path: between, Style: drawing.Style{Stroke: soilInk, StrokeWidth: .8}})
}

func nextStep(n int) int {
	for _, s := range []int{1, 2, 5, 10, 20, 50, 100, 200, 500} {
		if s > n {
			return s
		}
	}
	return n * 2
}
