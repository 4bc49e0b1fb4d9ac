package web

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// plotPicture draws the ground to scale on one day, a unit of the picture being a centimetre.
type plotPicture struct {
	now     *season.Result
	day     civil.Date
	scene   drawing.Scene
	depth   float64 // of the plot, cm: north is up, so y is counted from it
	letters float64 // height of the writing, cm
	pixel   float64 // about what one pixel of a desk's screen shows, cm
	leafy   float64 // canopy radius from which plants are drawn with leaves, cm
}

// point is a place of the plot on the paper, north up.
func (v *plotPicture) point(at garden.Point) [2]float64 {
	return [2]float64{float64(at.East) * 100, v.depth - float64(at.North)*100}
}

func (v *plotPicture) add(n drawing.Node) { v.scene.Nodes = append(v.scene.Nodes, n) }

// plotExtent is the plot as drawn, metres, with room around beds at its edge.
func plotExtent(g garden.Garden) (minX, minY, maxX, maxY float64) {
	southWest, northEast := g.Extent()
	minX, minY, maxX, maxY = float64(southWest.East), float64(southWest.North), float64(northEast.East), float64(northEast.North)
	for _, b := range g.Beds {
		for _, c := range b.Corners() {
			minX, minY = min(minX, float64(c.East)-.5), min(minY, float64(c.North)-.5)
			maxX, maxY = max(maxX, float64(c.East)+.5), max(maxY, float64(c.North)+.9)
		}
	}
	return minX, minY, max(maxX, minX+1), max(maxY, minY+1)
}

// stand is one planting on the day, worked out once for picture and table.
type stand struct {
	p       *garden.Planting
	crop    *crop.Crop
	canopy  float64 // m, median year
	low     float64
	high    float64
	ready   bool // some years pick by now
	leaving bool // some years have cleared it
}

// standing are the plantings that hold ground on a day.
func standing(now *season.Result, day civil.Date) []stand {
	var list []stand
	for _, p := range allPlantings(now) {
		if p.Ended() || !p.Span().Has(day) {
			continue
		}
		s := stand{p: p, ready: ready(p, day), leaving: p.Last.P10 < day && !stays(p)}
		s.crop, _ = now.Crops.Find(p.CropID)
		s.low, s.canopy, s.high = canopyOn(now, p, s.crop, day)
		list = append(list, s)
	}
	return list
}

// ready says whether a planting is being eaten from in the middle weather year.
func ready(p *garden.Planting, day civil.Date) bool {
	return !undated(p) && p.First.P50 <= day && (day <= p.Last.P90 || !stays(p))
}

// canopyOn is a plant's width on a day, metres, in the narrow, the middle and the wide weather year. An
// established perennial has its full width while the days are warm enough for it to grow; a crop that
// stood through the winter is looked up as one of this season, a year on.
func canopyOn(now *season.Result, p *garden.Planting, c *crop.Crop, day civil.Date) (low, middle, high float64) {
	if c != nil && c.Perennial && p.Start < now.Season.Start {
		if _, air, _ := now.Climate.AirOn(day); air <= c.Cardinal.Base {
			return 0, 0, 0
		}
		w := float64(c.Plant.Spread)
		return w, w, w
	}
	t := now.TableOf(*p)
	if t == nil {
		return 0, 0, 0
	}
	start := p.Start
	if start < now.Season.Start {
		start, day = start.Add(now.Season.Days), day.Add(now.Season.Days)
	}
	a, b, w := t.Canopy(start, day)
	return float64(a), float64(b), float64(w)
}

func (v *plotPicture) draw(list []stand) *drawing.Scene {
	minX, minY, maxX, maxY := plotExtent(v.now.Garden)
	v.depth = maxY * 100
	width, height := (maxX-minX)*100, (maxY-minY)*100
	v.letters = min(max(width/40, 11), 60)
	foot := v.letters * 3
	v.pixel = width / 1050
	v.leafy = v.leavesFrom(list)
	v.scene = drawing.Scene{
		ID: "plot", Class: "plotpicture", MinX: minX * 100, Width: width, Height: height + foot,
		Title: plotTitle(v.now, v.day, list),
		Desc:  "A plan of the ground seen from above, north at the top. Each plant is drawn as wide as it stands on this day in the middle one of the weather years. Beds with less sun are darker and hatched.",
	}
	v.hatches()
	v.add(drawing.Rect{X: minX * 100, Width: width, Height: height + foot, Style: drawing.Style{Fill: pathGrass}})
	by := map[int64][]stand{}
	for _, s := range list {
		by[s.p.BedID] = append(by[s.p.BedID], s)
	}
	for _, b := range v.now.Garden.Beds {
		v.bed(b, by[b.ID])
	}
	for _, b := range v.now.Garden.Beds {
		v.bedLabel(b)
	}
	v.compass(minX*100+width-v.letters*1.3, height+v.letters*1.4)
	v.scale(minX*100+v.letters, height+v.letters*1.2, width)
	return &v.scene
}

var sunSteps = []struct {
	least float64
	apart float64 // distance of hatching as a share of the letters; 0: none
	says  string
}{{8, 0, "8 hours of sun and more"}, {6, 1.1, "6 to 8 hours"}, {4, .62, "4 to 6 hours"}, {0, .34, "less than 4 hours"}}

func sunStep(hours quantity.Hour) int {
	for i, s := range sunSteps {
		if float64(hours) >= s.least {
			return i
		}
	}
	return len(sunSteps) - 1
}

func (v *plotPicture) hatches() {
	for i, s := range sunSteps {
		if s.apart > 0 {
			v.scene.Hatches = append(v.scene.Hatches, drawing.Hatch{
				ID: fmt.Sprintf("plot-sun-%d", i), Apart: s.apart * v.letters, Turn: 45, Colour: "#7a7768", StrokeWidth: v.letters / 22,
			})
		}
	}
}

func (v *plotPicture) outline(b garden.Bed, p garden.Place) *drawing.Path {
	var corners [][2]float64
	for _, c := range b.Outline(p) {
		corners = append(corners, v.point(c))
	}
	return drawing.NewPath(5).Polygon(corners...)
}

func (v *plotPicture) bed(b garden.Bed, list []stand) {
	whole := v.outline(b, b.Whole())
	hours := season.SunOf(v.now.Garden, nil, b)
	hint := fmt.Sprintf("%s: %s of sun", b.Name, v.now.Garden.Site.Units.Hours(hours))
	v.add(drawing.Shape{Path: whole, Style: drawing.Style{Fill: ground(float64(hours))}, Hint: hint})
	if step := sunStep(hours); sunSteps[step].apart > 0 {
		v.add(drawing.Shape{Path: whole, Style: drawing.Style{Fill: drawing.Ref(fmt.Sprintf("plot-sun-%d", step)), Opacity: .5}, Hint: hint})
	}
	slices.SortStableFunc(list, func(a, b stand) int { return cmpBool(a.p.Role == garden.Slow, b.p.Role == garden.Slow) })
	for _, s := range list {
		v.planting(b, s)
	}
	v.add(drawing.Shape{Path: whole, Style: drawing.Style{Stroke: soilInk, StrokeWidth: v.letters / 9}})
}

// planting draws the rows and every plant in them as wide as it is.
func (v *plotPicture) planting(b garden.Bed, s stand) {
	places := plantPlaces(b, s.p, v.partner(s.p))
	colour := wash(familyOf(s.crop))
	g := drawing.Group{Link: "/planting/" + s.p.Key, Hint: standHint(v.now, s)}
	place := s.p.Place
	if place.Area() <= 0 {
		place = b.Whole()
	}
	g.Nodes = append(g.Nodes, drawing.Shape{Path: v.outline(b, place), Style: drawing.Style{Fill: colour, FillOpacity: .1}})
	rows := drawing.NewPath(2 * len(places))
	for _, row := range places {
		if len(row) > 1 {
			rows.Polyline(v.point(row[0]), v.point(row[len(row)-1]))
		}
	}
	g.Nodes = append(g.Nodes, drawing.Shape{Path: rows, Style: drawing.Style{Stroke: soilInk, StrokeWidth: v.letters / 26, Opacity: .6}})
	radius := s.canopy * 50
	pen := mix(colour, "#000000", .72)
	switch {
	case radius >= v.leafy:
		leaf, vein := v.leaves(places, glyphFor(groupOf(s.crop)), radius)
		g.Nodes = append(g.Nodes,
			drawing.Shape{Path: leaf, Style: drawing.Style{Fill: colour, Stroke: pen, StrokeWidth: v.letters / 30, FillOpacity: .88}},
			drawing.Shape{Path: vein, Style: drawing.Style{Stroke: pen, StrokeWidth: v.letters / 34, Opacity: .7}})
	case radius < v.letters/16: // not up, or just: a row of seeds
		g.Nodes = append(g.Nodes, drawing.Shape{Path: v.dots(places), Style: drawing.Style{Stroke: seedPen(s, pen), StrokeWidth: max(2*radius, v.letters/11), Round: true}})
	default: // too small for leaves: discs
		g.Nodes = append(g.Nodes, drawing.Shape{Path: v.dots(places), Style: drawing.Style{Stroke: colour, StrokeWidth: 2 * radius, Round: true}})
	}
	v.add(g)
}

// mostLeaves is how many plants are drawn leaf by leaf: more would make the page heavy, and the eye
// would not find them.
const mostLeaves = 700

// leavesFrom is the canopy radius, cm, from which plants are drawn with leaves: large enough to be
// seen on the screen, and so many plants at most.
func (v *plotPicture) leavesFrom(list []stand) float64 {
	large := slices.Clone(list)
	slices.SortStableFunc(large, func(a, b stand) int { return cmp.Compare(b.canopy, a.canopy) })
	least, drawn := 5*v.pixel, 0
	for _, s := range large {
		radius := s.canopy * 50
		if radius < least {
			break
		}
		if drawn += min(s.p.Plants, mostDrawn); drawn > mostLeaves {
			return radius + 1e-9
		}
	}
	return least
}

// seedPen is the soil's colour until something is up.
func seedPen(s stand, pen string) string {
	if s.canopy <= 0 {
		return soilInk
	}
	return pen
}

func (v *plotPicture) partner(p *garden.Planting) *garden.Planting {
	if p.Partner == "" {
		return nil
	}
	if o, ok := v.now.Planting(p.Partner); ok {
		return &o
	}
	return nil
}

func groupOf(c *crop.Crop) crop.Group {
	if c == nil {
		return crop.Other
	}
	return c.Group
}

func (v *plotPicture) dots(places [][]garden.Point) *drawing.Path {
	path := drawing.NewPath(64)
	for _, row := range places {
		if first, last := v.point(row[0]), v.point(row[len(row)-1]); math.Hypot(last[0]-first[0], last[1]-first[1]) < 1.5*v.pixel*float64(len(row)) {
			path.Polyline(first, last) // closer than the eye can part
			continue
		}
		for _, q := range row {
			at := v.point(q)
			path.Dot(at[0], at[1])
		}
	}
	return path
}

func (v *plotPicture) leaves(places [][]garden.Point, f glyph, radius float64) (leaf, vein *drawing.Path) {
	leaf, vein = drawing.NewPath(256), drawing.NewPath(128)
	for i, row := range places {
		for j, q := range row {
			at := v.point(q)
			turn := float64((i*7+j*13)%16) * math.Pi / 8 // no two neighbours alike
			leaf.Stamp(f.leaf, at[0], at[1], radius, turn)
			vein.Stamp(f.vein, at[0], at[1], radius, turn)
		}
	}
	return leaf, vein
}

// mostDrawn is the number of plants of one planting above which several are drawn as one: more
// than the eye tells apart in a drill.
const mostDrawn = 240

// plantPlaces is where each plant stands, by row, in metres of the plot. A fast crop among a slow
// one (partner) stands between its rows, or between its plants.
func plantPlaces(b garden.Bed, p, partner *garden.Planting) [][]garden.Point {
	at := p.Place
	if at.Area() <= 0 {
		at = b.Whole()
	}
	rows := max(1, p.Rows)
	each := max(1, (min(max(p.Plants, 1), mostDrawn)+rows-1)/rows)
	rowShift, plantShift, of := .5, .5, float64(rows)
	if p.Role == garden.Fast && partner != nil {
		switch {
		case rows < partner.Rows:
			rowShift, of = 1, float64(partner.Rows)
		case rows == partner.Rows:
			plantShift = 1
		}
	}
	al, ac := at.AlongTo-at.AlongFrom, at.AcrossTo-at.AcrossFrom
	corner, u, v := b.On(0, 0), b.On(1, 0), b.On(0, 1) // and the bed's two directions, a metre each
	u, v = garden.Point{East: u.East - corner.East, North: u.North - corner.North}, garden.Point{East: v.East - corner.East, North: v.North - corner.North}
	out := make([][]garden.Point, rows)
	for i := range rows {
		out[i] = make([]garden.Point, each)
		r := (float64(i) + rowShift) / of
		for j := range each {
			along, across := (float64(j)+plantShift)/(float64(each)+2*plantShift-1), r
			if b.RowsAcross {
				along, across = across, along
			}
			l, w := at.AlongFrom+quantity.Metre(along)*al, at.AcrossFrom+quantity.Metre(across)*ac
			out[i][j] = garden.Point{East: corner.East + l*u.East + w*v.East, North: corner.North + l*u.North + w*v.North}
		}
	}
	return out
}

// bedLabel writes the bed's name above it, or up its side when it is too narrow.
func (v *plotPicture) bedLabel(b garden.Bed) {
	lowX, highX, lowY, highY := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, c := range b.Corners() {
		at := v.point(c)
		lowX, highX, lowY, highY = min(lowX, at[0]), max(highX, at[0]), min(lowY, at[1]), max(highY, at[1])
	}
	t := drawing.Text{X: (lowX + highX) / 2, Y: lowY - v.letters*.35, Size: v.letters, Anchor: drawing.Middle, Halo: pathGrass, Says: b.Name, Style: drawing.Style{Fill: ink}}
	if long := float64(len([]rune(b.Name))) * v.letters * .5; long > (highX-lowX)*1.3 && long <= (highY-lowY)*1.1 {
		t.Turn, t.X, t.Y = -90, lowX-v.letters*.4, (highY+lowY)/2
	}
	v.add(drawing.Group{Link: fmt.Sprintf("/bed/%d", b.ID), Nodes: []drawing.Node{t}})
}

// compass points north.
func (v *plotPicture) compass(x, y float64) {
	u := v.letters
	needle := drawing.NewPath(4).Polygon([2]float64{x, y - 1.1*u}, [2]float64{x + .42*u, y + .5*u}, [2]float64{x, y + .22*u}, [2]float64{x - .42*u, y + .5*u})
	v.add(drawing.Shape{Path: needle, Style: drawing.Style{Fill: ink}, Hint: "north"})
	v.add(drawing.Text{X: x, Y: y + 1.45*u, Size: u * .95, Anchor: drawing.Middle, Says: "N", Style: drawing.Style{Fill: ink}})
}

// scale is a measure along the foot of the plan, in the person's units.
func (v *plotPicture) scale(x, y, width float64) {
	units := v.now.Garden.Site.Units
	unit, word := 100.0, "m"
	if units == quantity.US {
		unit, word = 100*quantity.MetresPerFoot, "ft"
	}
	n := 1
	for float64(nextStep(n))*unit < width*.4 && n < 100 {
		n = nextStep(n)
	}
	long, u := float64(n)*unit, v.letters
	half := drawing.NewPath(4).Box(x, y, long/2, u*.3)
	v.add(drawing.Shape{Path: half, Style: drawing.Style{Fill: ink}})
	v.add(drawing.Rect{X: x, Y: y, Width: long, Height: u * .3, Style: drawing.Style{Stroke: ink, StrokeWidth: u / 14}})
	v.add(drawing.Text{X: x, Y: y + 1.4*u, Size: u * .9, Says: "0", Style: drawing.Style{Fill: ink}})
	v.add(drawing.Text{X: x + long, Y: y + 1.4*u, Size: u * .9, Anchor: drawing.End, Says: fmt.Sprintf("%d %s", n, word), Style: drawing.Style{Fill: ink}})
	v.add(drawing.Text{X: x + width - 3.6*u, Y: y + 1.4*u, Size: u * .9, Anchor: drawing.End, Italic: true, Says: v.day.Long(), Style: drawing.Style{Fill: ink}})
}

func plotTitle(now *season.Result, day civil.Date, list []stand) string {
	if len(list) == 0 {
		return fmt.Sprintf("Nothing stands in the beds on %s", day.Long())
	}
	ready := 0
	for _, s := range list {
		if s.ready {
			ready++
		}
	}
	says := fmt.Sprintf("On %s %s in the ground", day.Long(), plural(len(list), "planting is", "plantings are"))
	if ready > 0 {
		says += fmt.Sprintf(", %d of them ready to eat", ready)
	}
	return says
}

func standHint(now *season.Result, s stand) string {
	parts := []string{upper(cropName(now, s.p.CropID))}
	parts = append(parts, canopyText(now.Garden.Site.Units, s))
	if s.ready {
		parts = append(parts, "ready to eat")
	}
	return strings.Join(parts, ", ")
}

// canopyText says how wide a plant is.
func canopyText(u quantity.System, s stand) string {
	switch {
	case s.high <= 0 && (undated(s.p) || s.p.Start < s.p.First.P10-200):
		return "at rest"
	case s.high <= 0:
		return "not up yet"
	case s.low <= 0 && s.canopy <= 0:
		return "coming up in some years, to " + u.Distance(quantity.Metre(s.high)) + " across"
	case s.high < .01:
		return "under " + u.Distance(.01) + " across"
	case s.high-s.low < .01:
		return u.Distance(quantity.Metre(s.canopy)) + " across"
	}
	return fmt.Sprintf("%s across (%s – %s)", u.Distance(quantity.Metre(s.canopy)), u.Distance(quantity.Metre(s.low)), u.Distance(quantity.Metre(s.high)))
}
