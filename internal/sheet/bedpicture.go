package sheet

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// bedPicture draws a bed in space and time for paper: the bed from end to end across, the weeks down,
// each planting the ground it takes for the days it takes it. One ink serves for all, so that it reads
// the same from a grey printer: paler while the ground is only taken, deeper while it grows, deepest
// while it is picked, and fading out over the days on which the weather years disagree.
type bedPicture struct {
	paper      *paper
	season     Season
	strip      garden.Strip
	list       []garden.Planting
	from, to   civil.Date
	left, top  float64
	wide, high float64 // of the bed's field
	scene      drawing.Scene
	written    []box // labels so far
}

const (
	plantInk = "#35632f" // a planting
	guestInk = "#8a5a1c" // one among another's plants
	frostInk = "#3f6ea8"

	takenShare   = .12
	growingShare = .30
	pickedShare  = .62
)

func (p *paper) bedScene(s Season, r garden.Strip, list []garden.Planting, wide, high float64) *drawing.Scene {
	b := &bedPicture{paper: p, season: s, strip: r, list: list, left: 50, top: 24}
	if len(r.Lanes) > 1 {
		b.top = 38
	}
	b.days()
	b.wide = wide - b.left - 2
	b.high = min(high-b.top-4, float64(b.to-b.from)/7*14)
	b.scene = drawing.Scene{ID: "bed", Title: "The bed in space and time", Width: wide, Height: b.top + b.high + 4}
	b.frost()
	b.calendar()
	b.rulers()
	order := slices.Clone(list)
	slices.SortStableFunc(order, func(a, c garden.Planting) int { return rank(a) - rank(c) })
	for i, q := range order {
		b.patch(i, q)
	}
	for _, q := range order {
		b.raising(q)
	}
	b.add(drawing.Rect{X: b.left, Y: b.top, Width: b.wide, Height: b.high, Style: drawing.Style{Stroke: ink, StrokeWidth: 1}})
	for _, q := range order {
		b.label(q)
	}
	return &b.scene
}

// rank puts a guest over its host.
func rank(q garden.Planting) int {
	if isGuest(q) {
		return 1
	}
	return 0
}

func isGuest(q garden.Planting) bool {
	return q.Partner != "" && (q.Role == garden.Fast || q.Role == garden.Marker)
}

func (b *bedPicture) add(n drawing.Node) { b.scene.Nodes = append(b.scene.Nodes, n) }

// latest is the last day a planting may still hold its ground.
func latest(q garden.Planting) civil.Date { return max(q.Clear, q.Last.P90, q.Start+1) }

// days are the whole months in which anything happens, within the season and what grows on past it.
func (b *bedPicture) days() {
	s := b.season.Plan.Season
	b.from, b.to = s.End(), s.Start
	for _, q := range b.list {
		first := q.Start
		if q.RaiseOn != nil {
			first = min(first, *q.RaiseOn)
		}
		b.from = min(b.from, max(first, s.Start))
		if end := latest(q); end <= s.End()+growth.Tail {
			b.to = max(b.to, end)
		} else { // it stands for years
			b.to = max(b.to, s.End())
		}
	}
	if b.to <= b.from {
		b.from, b.to = s.Start, s.End()
	}
	b.from = civil.Of(b.from.Year(), int(b.from.Month()), 1)
	b.to = civil.Of(b.to.Year(), int(b.to.Month())+1, 1)
}

func (b *bedPicture) y(d civil.Date) float64 {
	return b.top + float64(min(max(d, b.from), b.to)-b.from)/float64(b.to-b.from)*b.high
}

func (b *bedPicture) x(metres float64) float64 { return b.left + metres/b.strip.Length*b.wide }

// frost is a narrow band beside the weeks: the chance of a frost still to come in spring, or come
// already in autumn.
func (b *bedPicture) frost() {
	f := b.season.Frost
	if f.Years == 0 {
		return
	}
	fade := drawing.Fade{ID: "bed-frost", Y1: b.top, Y2: b.top + b.high}
	add := func(d civil.Date, share float64) {
		at := (b.y(d) - b.top) / b.high
		if n := len(fade.Stops); n > 0 {
			at = max(at, fade.Stops[n-1].At)
		}
		fade.Stops = append(fade.Stops, drawing.Stop{At: at, Colour: frostInk, Opacity: .75 * share})
	}
	if f.SpringNone < f.Years {
		add(b.from, 1)
	}
	for _, percent := range []float64{90, 70, 50, 30, 10} {
		if c := f.LaterThan(percent); !c.None {
			add(c.Date, percent/100)
		}
	}
	for _, percent := range []float64{10, 30, 50, 70, 90} {
		if c := f.EarlierThan(percent); !c.None {
			add(c.Date, percent/100)
		}
	}
	if len(fade.Stops) == 0 {
		return
	}
	b.scene.Fades = append(b.scene.Fades, fade)
	end := b.y(b.season.Plan.Season.End() + 1) // of the next year's frosts nothing is said
	b.add(drawing.Rect{X: b.left - 9, Y: b.top, Width: 6, Height: end - b.top, Style: drawing.Style{Fill: drawing.Ref(fade.ID)}})
}

// calendar rules weeks and months.
func (b *bedPicture) calendar() {
	weeks, months := drawing.NewPath(60), drawing.NewPath(16)
	for d := b.from.Monday() + 7; d < b.to; d += 7 {
		weeks.MoveTo(b.left, b.y(d)).LineTo(b.left+b.wide, b.y(d))
	}
	month := b.high / float64(b.to-b.from) * 30
	every := 1 + int(12/month) // where months are low, only some are named
	last := -every
	for i, d := 0, b.from; d < b.to; i, d = i+1, civil.Of(d.Year(), int(d.Month())+1, 1) {
		months.MoveTo(4, b.y(d)).LineTo(b.left+b.wide, b.y(d))
		if i-last < every || b.top+b.high-b.y(d) < 12 {
			continue
		}
		last = i
		b.add(drawing.Text{X: 4, Y: b.y(d) + 10, Size: 9.5, Bold: true, Says: d.Month().String()[:3], Style: drawing.Style{Fill: ink}})
		if (d == b.from || d.Month() == 1) && month > 22 {
			b.add(drawing.Text{X: 4, Y: b.y(d) + 19, Size: 8, Says: fmt.Sprint(d.Year()), Style: drawing.Style{Fill: softInk}})
		}
	}
	b.add(drawing.Shape{Path: weeks, Style: drawing.Style{Stroke: "#e3e1d8", StrokeWidth: .4}})
	b.add(drawing.Shape{Path: months, Style: drawing.Style{Stroke: ruleInk, StrokeWidth: .7}})
}

// rulers measure each lane along the top, in the person's units.
func (b *bedPicture) rulers() {
	unit, word := 1.0, "m"
	if b.season.Site.Units == quantity.US {
		unit, word = quantity.MetresPerFoot, "ft"
	}
	ticks := drawing.NewPath(32)
	small := drawing.Style{Fill: softInk}
	for i, l := range b.strip.Lanes {
		x0, x1 := b.x(l.On.From), b.x(l.On.To)
		perUnit := (x1 - x0) * unit / b.strip.Length
		every := 1
		for float64(every)*perUnit < 26 && float64(every)*unit < b.strip.Length {
			every = nextStep(every)
		}
		for n := 0; float64(n)*unit <= b.strip.Length+1e-6; n += every {
			x := x0 + float64(n)*perUnit
			ticks.MoveTo(x, b.top-4).LineTo(x, b.top)
			switch {
			case n == 0 && x1-x0 < 9: // no room in so narrow a lane
			case n == 0:
				b.add(drawing.Text{X: x + 1.5, Y: b.top - 6, Size: 8.5, Says: "0", Style: small})
			case x < x1-10:
				b.add(drawing.Text{X: x, Y: b.top - 6, Size: 8.5, Anchor: drawing.Middle, Says: fmt.Sprint(n), Style: small})
			case i == len(b.strip.Lanes)-1:
				b.add(drawing.Text{X: min(x, x1), Y: b.top - 6, Size: 8.5, Anchor: drawing.End, Says: fmt.Sprint(n), Style: small})
			}
		}
		if i > 0 {
			b.add(drawing.Line{X1: x0, Y1: b.top - 16, X2: x0, Y2: b.top + b.high, Style: drawing.Style{Stroke: ink, StrokeWidth: .8}})
		}
	}
	b.add(drawing.Shape{Path: ticks, Style: drawing.Style{Stroke: softInk, StrokeWidth: .7}})
	b.add(drawing.Text{X: b.left - 4, Y: b.top - 6, Size: 8.5, Anchor: drawing.End, Says: word, Style: small})
	b.names()
}

// names say which end of the bed, and which side, is where.
func (b *bedPicture) names() {
	soft := drawing.Style{Fill: softInk}
	first, last := b.strip.Ends()
	if n := len(b.strip.Lanes); n == 1 {
		b.add(drawing.Text{X: b.left, Y: b.top - 16, Size: 8.5, Italic: true, Says: first + " end", Style: soft})
		b.add(drawing.Text{X: b.left + b.wide, Y: b.top - 16, Size: 8.5, Anchor: drawing.End, Italic: true, Says: last + " end", Style: soft})
		return
	}
	b.add(drawing.Text{X: b.left, Y: b.top - 30, Size: 8.5, Italic: true, Says: fmt.Sprintf("the bed in %d strips side by side, each from its %s end to its %s end", len(b.strip.Lanes), first, last), Style: soft})
	west, east := b.strip.SideNames()
	for i, l := range b.strip.Lanes {
		says := fmt.Sprintf("%s – %s from the %s", b.metres(l.Beside.From), b.metres(l.Beside.To), west)
		if i == 0 {
			says = fmt.Sprintf("0 – %s from the %s", b.metres(l.Beside.To), west)
		}
		room := l.On.Long() / b.strip.Length * b.wide
		if b.paper.measure(italic, 8.5, says) > room-4 {
			says = map[int]string{0: west, len(b.strip.Lanes) - 1: east}[i]
		}
		if says == "" || b.paper.measure(italic, 8.5, says) > room-2 {
			continue
		}
		b.add(drawing.Text{X: b.x((l.On.From + l.On.To) / 2), Y: b.top - 17, Size: 8.5, Anchor: drawing.Middle, Italic: true, Says: says, Style: soft})
	}
}

func (b *bedPicture) metres(v float64) string {
	return b.season.Site.Units.Length(quantity.Metre(v))
}

// depths are the days on which a planting's ink changes, and to what share.
func depths(q garden.Planting) (days []civil.Date, shares []float64) {
	add := func(d civil.Date, share float64) {
		if n := len(days); n > 0 {
			d = max(d, days[n-1]) // spreads of a kept plan may cross
		}
		days, shares = append(days, max(d, q.Start)), append(shares, share)
	}
	if q.Way == crop.SetOut || q.Emerge.P90 <= q.Start {
		add(q.Start, growingShare*.8)
	} else {
		add(q.Start, takenShare)
		add(q.Emerge.P10, takenShare)
		add(q.Emerge.P90, growingShare*.8)
	}
	if q.First.P50 >= q.Start {
		add(q.First.P10, growingShare)
		add(q.First.P90, pickedShare)
	}
	if q.Last.P50 >= q.Start {
		add(q.Last.P10, shares[len(shares)-1])
		add(q.Last.P50, .35)
		add(q.Last.P90, .06)
	} else {
		add(latest(q), shares[len(shares)-1])
	}
	add(latest(q), 0)
	return days, shares
}

// shareOn is the share on a day, between those on the days before and after it.
func shareOn(d civil.Date, days []civil.Date, shares []float64) float64 {
	last := len(days) - 1
	for k := last; k >= 0; k-- {
		if days[k] > d {
			continue
		}
		if k == last {
			return shares[k]
		}
		return shares[k] + (shares[k+1]-shares[k])*float64(d-days[k])/float64(days[k+1]-days[k])
	}
	return shares[0]
}

// patch draws one planting.
func (b *bedPicture) patch(i int, q garden.Planting) {
	start, end := max(q.Start, b.from), min(latest(q), b.to)
	if end <= start {
		return
	}
	pen := plantInk
	if isGuest(q) {
		pen = guestInk
	}
	y0, y1 := b.y(start), b.y(end)
	fade := drawing.Fade{ID: fmt.Sprintf("bed-%d", i), Y1: y0, Y2: y1}
	days, shares := depths(q)
	stop := func(d civil.Date, share float64) {
		fade.Stops = append(fade.Stops, drawing.Stop{At: (b.y(d) - y0) / (y1 - y0), Colour: pen, Opacity: share})
	}
	stop(start, shareOn(start, days, shares))
	for k, d := range days {
		if d > start && d < end {
			stop(d, shares[k])
		}
	}
	stop(end, shareOn(end-1, days, shares)) // what stands on past the picture does not fade in it
	b.scene.Fades = append(b.scene.Fades, fade)
	foot := b.y(min(max(q.Clear, start), b.to))
	for _, at := range b.strip.Parts(q.Place) {
		x0, x1 := b.sides(q, at)
		b.add(drawing.Rect{X: x0, Y: y0, Width: x1 - x0, Height: y1 - y0, Style: drawing.Style{Fill: drawing.Ref(fade.ID)}})
		b.add(drawing.Shape{Path: drawing.NewPath(4).MoveTo(x0, y0).LineTo(x0, foot).MoveTo(x1, y0).LineTo(x1, foot), Style: drawing.Style{Stroke: pen, StrokeWidth: .7}})
		if q.Start < b.from {
			continue
		}
		edge := drawing.Style{Stroke: pen, StrokeWidth: 2}
		if q.Way == crop.Sow {
			edge = drawing.Style{Stroke: pen, StrokeWidth: 2.4, Dash: []float64{.1, 4}, Round: true}
		}
		b.add(drawing.Line{X1: x0, Y1: y0, X2: x1, Y2: y0, Style: edge})
	}
}

// sides are a part's sides on the paper; a guest keeps inside its host's.
func (b *bedPicture) sides(q garden.Planting, at garden.Stretch) (x0, x1 float64) {
	x0, x1 = b.x(at.From)+.8, b.x(at.To)-.8
	if isGuest(q) {
		inset := min((x1-x0)*.2, 16)
		x0, x1 = x0+inset, x1-inset
	}
	if x1-x0 < 2 {
		middle := (x0 + x1) / 2
		x0, x1 = middle-1, middle+1
	}
	return x0, x1
}

// raising is the time under cover: a line of dashes that ends where the plants go out.
func (b *bedPicture) raising(q garden.Planting) {
	parts := b.strip.Parts(q.Place)
	if q.RaiseOn == nil || q.Start <= b.from || len(parts) == 0 {
		return
	}
	x0, x1 := b.sides(q, parts[0])
	x := x0 + (x1-x0)*.5
	if isGuest(q) {
		x = x0 + (x1-x0)*.25
	}
	y0, y1 := b.y(*q.RaiseOn), b.y(q.Start)
	b.add(drawing.Line{X1: x, Y1: y0, X2: x, Y2: y1, Style: drawing.Style{Stroke: "#ffffff", StrokeWidth: 3.4}})
	b.add(drawing.Line{X1: x, Y1: y0, X2: x, Y2: y1, Style: drawing.Style{Stroke: ink, StrokeWidth: 1.1, Dash: []float64{5, 3}}})
	if *q.RaiseOn >= b.from {
		b.add(drawing.Circle{X: x, Y: y0, Radius: 2.5, Style: drawing.Style{Fill: "#ffffff", Stroke: ink, StrokeWidth: 1.1}})
	}
}
