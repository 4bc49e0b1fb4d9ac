package plan

import (
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	sunlight "kailyard/internal/light"
	"kailyard/internal/quantity"
)

// cellLength is what a bed's length is cut into, nearly: places begin and end on whole cells.
const cellLength = 0.25 // m

// plot is a bed cut into cells along its length and lanes across its width.
type plot struct {
	bed         garden.Bed
	cells       int
	lanes       int
	cell, lane  float64 // m
	index       int
	drillGround bool // long and narrow: ground for drills
	open        bool // too wide to be reached across: blocks leave a path beside them
}

// rect is a block of whole cells and lanes, upper ends exclusive.
type rect struct{ a0, a1, l0, l1 int }

func (r rect) meets(o rect) bool { return r.a0 < o.a1 && o.a0 < r.a1 && r.l0 < o.l1 && o.l0 < r.l1 }

// workableDrill is the least width of a lane: a hoe's reach on either side of a drill (common practice).
// Source: PLAN-PRACTICE.
const workableDrill = 0.3 // m

// newPlot cuts a bed: a bed up to 1 m wide into lanes of a drill each, a wider one into halves, a
// piece of open ground into lanes of about 0.6 m.
func newPlot(b garden.Bed, index int) plot {
	length, width := float64(b.Length), float64(b.Width)
	p := plot{bed: b, index: index, cells: max(1, int(math.Round(length/cellLength)))}
	switch {
	case width < 1:
		p.lanes = max(1, int(width/workableDrill+1e-6))
	case width < 2:
		p.lanes = 2
	default:
		p.lanes = min(8, int(math.Round(width/0.6)))
	}
	p.cell, p.lane = length/float64(p.cells), width/float64(p.lanes)
	p.drillGround = length >= 6*width
	p.open = min(length, width) > reachWidth
	return p
}

// Open ground is trodden between what grows on it. A block of close rows is at most reachWidth
// across, so that its middle can be reached from both sides, and every block but that along the near
// edge leaves pathWidth free at its near side; between rows walkRows apart one walks (common practice).
// Source: PLAN-PRACTICE.
const (
	reachWidth = 1.5 // m
	pathWidth  = 0.3 // m
	walkRows   = 0.6 // m
)

// across is what of the bed's width a block plants: its lanes less the path.
func (p *plot) across(l0, l1 int) (from, to float64) {
	from, to = float64(l0)*p.lane, float64(l1)*p.lane
	if p.open && l0 > 0 {
		from += pathWidth
	}
	return from, to
}

// reached says whether a crop can be tended over some lanes: its middle reached without treading on it,
// and, of what is earthed up, soil drawn to it from both sides. In a bed that takes the whole width, for
// what grows beside it in the next lane would be buried; on wide ground there is the path.
func (p *plot) reached(c *crop.Crop, l0, l1 int) bool {
	from, to := p.across(l0, l1)
	_, between := spacing(c.Spacing)
	if !p.open {
		return !c.Practice.EarthUp || p.bed.RowsAcross || l1-l0 == p.lanes
	}
	return to-from <= reachWidth+1e-9 || between >= walkRows
}

// runsOut says whether a vine in a block may be led out of the bed and away from its neighbours: from
// an end of the bed, or over the side of ground too wide to step across.
func (p *plot) runsOut(r rect) bool {
	return r.a0 == 0 || r.a1 == p.cells || (p.open && (r.l0 == 0 || r.l1 == p.lanes))
}

// holds says whether the bed with nothing else in it takes a sensible stand.
func (p *plot) holds(c *crop.Crop) bool {
	for l0 := 0; l0 < p.lanes; l0++ {
		for l1 := p.lanes; l1 > l0; l1-- {
			if p.reached(c, l0, l1) && sensible(c, p.stand(c, rect{0, p.cells, l0, l1})) {
				return true
			}
		}
		if !p.open {
			break
		}
	}
	return false
}

// place is the rectangle in metres.
func (p *plot) place(r rect) garden.Place {
	end := func(i, n int, whole quantity.Metre) quantity.Metre {
		return quantity.Metre(math.Round(float64(whole)*float64(i)/float64(n)*1e4) / 1e4)
	}
	at := garden.Place{
		AlongFrom: end(r.a0, p.cells, p.bed.Length), AlongTo: end(r.a1, p.cells, p.bed.Length),
		AcrossFrom: end(r.l0, p.lanes, p.bed.Width), AcrossTo: end(r.l1, p.lanes, p.bed.Width),
	}
	if from, _ := p.across(r.l0, r.l1); p.open && r.l0 > 0 {
		at.AcrossFrom = quantity.Metre(math.Round(from*1e4) / 1e4)
	}
	return at
}

// covers is the smallest block that covers a rectangle in metres; an empty one covers the bed.
func (p *plot) covers(at garden.Place) rect {
	if at.Area() <= 0 {
		return rect{0, p.cells, 0, p.lanes}
	}
	const eps = 1e-3
	return rect{
		a0: max(0, int(math.Floor(float64(at.AlongFrom)/p.cell+eps))), a1: min(p.cells, int(math.Ceil(float64(at.AlongTo)/p.cell-eps))),
		l0: max(0, int(math.Floor(float64(at.AcrossFrom)/p.lane+eps))), l1: min(p.lanes, int(math.Ceil(float64(at.AcrossTo)/p.lane-eps))),
	}
}

// stand is how a crop fills a rectangle.
type stand struct {
	rows, perRow int
	length       float64 // m of one row
	reach        float64 // m that a row could be long in this bed
	open         bool    // on a piece of open ground, where rows need not be short
	area         float64 // m²
	full         float64 // m² that the plants fill at their spacing, at most area
}

func (s stand) plants() int { return s.rows * s.perRow }

// spacing is in-row and between-row distance, never zero.
func spacing(s crop.Spacing) (inRow, between float64) {
	inRow, between = float64(s.InRow), float64(s.BetweenRows)
	if inRow <= 0 {
		inRow = 0.05
	}
	if between <= 0 {
		between = inRow
	}
	return inRow, between
}

// vineLead is how far over a bed's edge a vine may be led, so that the path can still be walked
// (common practice). Source: PLAN-PRACTICE.
const vineLead = 0.3 // m

// stand sets a crop's rows in a block. Half a spacing stays free at each side, a quarter where the
// side is the bed's own edge: leaves may lean over the path. Vines in a row narrower than their own
// stand further apart in it, so that each has the ground of its spacing, vineLead of the path counted in.
func (p *plot) stand(c *crop.Crop, r rect) stand {
	inRow, between := spacing(c.Spacing)
	from, to := p.across(r.l0, r.l1)
	along, across := float64(r.a1-r.a0)*p.cell, to-from
	edges := 0.0
	s := stand{area: along * across, open: float64(p.bed.Width) > openWidth && float64(p.bed.Length) > openWidth}
	room := across
	if p.bed.RowsAcross {
		room, s.length, s.reach = along, across, float64(p.bed.Width)
		edges = count(r.a0 == 0) + count(r.a1 == p.cells)
	} else {
		s.length, s.reach = along, float64(p.bed.Length)
		edges = count(r.l0 == 0) + count(r.l1 == p.lanes)
	}
	s.rows = int(math.Floor(room/between + 0.25*edges + 1e-6))
	step := inRow
	if c.Practice.Vine && s.rows > 0 {
		step = max(inRow, inRow*between*float64(s.rows)/(room+vineLead*edges))
	}
	s.perRow = int(math.Floor(s.length/step + 1e-6))
	s.full = min(s.area, float64(s.rows*s.perRow)*inRow*between)
	return s
}

func count(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// fewest is the least number of plants worth a planting of their own.
func fewest(c *crop.Crop) int {
	inRow, between := spacing(c.Spacing)
	switch ground := inRow * between; {
	case c.Practice.Block:
		return 12
	case c.Group == crop.Herb && ground >= 0.06:
		return 2 // for the kitchen, in a corner
	case ground >= 0.4:
		return 1
	case ground >= 0.15:
		return 3
	case ground >= 0.06:
		return 5
	case ground >= 0.02:
		return 12
	}
	return 20
}

// blockRows is the least number of rows of a crop that wants a block. Source: PLAN-PRACTICE.
const blockRows = 3

// A bed more than openWidth each way is a piece of open ground, where no one plants many rows of a
// foot or two.
const (
	openWidth = 2.0 // m
	openRow   = 1.0 // m
)

// What is sown in drills wants a row of some length, and of what is set plant by plant a row holds
// two at least, wherever the bed has room for it.
const (
	closeDrill    = 0.15 // m between plants that are sown in drills
	shortestRow   = 0.75 // m
	shortestDrill = 1.5  // m over all rows
)

// sensible says whether a stand is worth planting.
func sensible(c *crop.Crop, s stand) bool {
	if s.rows < 1 || s.perRow < 1 || (c.Practice.Block && s.rows < blockRows) {
		return false
	}
	inRow, between := spacing(c.Spacing)
	switch {
	case s.open && s.rows > 1 && inRow*between < 0.4 && s.length < openRow-1e-6:
		return false
	case inRow < closeDrill:
		if s.length < min(shortestRow, s.reach)-1e-6 || float64(s.rows)*s.length < shortestDrill-1e-6 {
			return false
		}
	case s.rows > 1 && s.perRow < 2 && inRow*between < 0.4 && s.reach >= 2*inRow:
		return false
	}
	return s.plants() >= fewest(c)
}

// lightShare is the share of the full yield in a bed with sun hours of direct sun, by the rule that the pages of light have too.
func lightShare(sun quantity.Hour, l crop.Light) float64 { return sunlight.Share(sun, l) }
