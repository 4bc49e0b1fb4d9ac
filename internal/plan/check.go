package plan

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
)

// This file shares no code with the search: it reads a finished plan and holds it to every rule
// anew, from the garden, the catalogue and the growth tables. It errs to the strict side.

// Check says what is wrong with a plan; nothing when it keeps every rule.
func Check(in Input, p *Plan) []error {
	q, err := newProblem(in)
	if err != nil {
		return []error{err}
	}
	return q.check(p)
}

// checker gathers faults.
type checker struct {
	*problem
	plan   *Plan
	beds   map[int64]garden.Bed
	byKey  map[string]*garden.Planting
	stands map[string]bool
	faults []error
}

func (p *problem) check(out *Plan) []error {
	c := &checker{problem: p, plan: out, beds: map[int64]garden.Bed{}, byKey: map[string]*garden.Planting{}, stands: map[string]bool{}}
	for _, b := range p.garden.Beds {
		c.beds[b.ID] = b
	}
	c.standingUntouched()
	for i := range out.Plantings {
		x := &out.Plantings[i]
		if c.byKey[x.Key] != nil {
			c.fault(x, "has a key that another planting has")
		}
		c.byKey[x.Key] = x
	}
	for i := range out.Plantings {
		if x := &out.Plantings[i]; !c.stands[x.Key] {
			c.one(x)
		}
	}
	for i := range out.Plantings {
		for k := range i {
			c.two(&out.Plantings[k], &out.Plantings[i])
			c.overshadowed(&out.Plantings[k], &out.Plantings[i])
			c.overshadowed(&out.Plantings[i], &out.Plantings[k])
		}
	}
	c.shelf()
	c.vetoes()
	c.worth()
	if len(out.Supply) != len(p.garden.Wants) {
		c.faults = append(c.faults, fmt.Errorf("the plan answers %d wants of %d", len(out.Supply), len(p.garden.Wants)))
	}
	return c.faults
}

func (c *checker) fault(x *garden.Planting, format string, args ...any) {
	c.faults = append(c.faults, fmt.Errorf("planting %s (%s, bed %d, %s): %s", x.Key, x.CropID, x.BedID, x.Start, fmt.Sprintf(format, args...)))
}

// standingUntouched: what stands in the season is in the plan, the same in place and time.
func (c *checker) standingUntouched() {
	for _, s := range c.garden.Standing {
		if s.Clear > s.Start && s.Clear <= c.season.Start {
			continue
		}
		c.stands[s.Key] = true
		i := slices.IndexFunc(c.plan.Plantings, func(x garden.Planting) bool { return x.Key == s.Key })
		if i < 0 {
			c.fault(&s, "stands in the ground but is not in the plan")
			continue
		}
		x := c.plan.Plantings[i]
		if x.BedID != s.BedID || x.CropID != s.CropID || x.Place != s.Place || x.Start != s.Start || x.Clear != s.Clear || x.Pinned != s.Pinned || x.Status != s.Status {
			c.fault(&x, "stands in the ground or is pinned, and the plan changed it")
		}
	}
}

// begins: nothing new is begun before the day the plan is made from.
func (c *checker) begins(x *garden.Planting) {
	first := x.Start
	if x.RaiseOn != nil {
		first = min(first, *x.RaiseOn)
	}
	if first < c.from {
		c.fault(x, "is begun on %s, before %s", first, c.from)
	}
}

// one holds a single new planting to the rules.
func (c *checker) one(x *garden.Planting) {
	bed, ok := c.beds[x.BedID]
	if !ok {
		c.fault(x, "is in a bed the garden does not have")
		return
	}
	o, ok := c.optionOf(x)
	if !ok {
		c.fault(x, "has no growth table")
		return
	}
	c.begins(x)
	c.told(x, o)
	c.inside(x, bed)
	c.reach(x, o.crop, bed)
	c.succeeds(x, o)
	c.light(x, o, bed)
	c.soilAllows(x, o, bed)
	c.rotation(x, o.crop)
	c.plants(x, o.crop, bed)
	c.covered(x, o)
	if !c.wanted(o.crop) {
		c.fault(x, "is of a crop that no want names")
	}
}

func (c *checker) optionOf(x *garden.Planting) (option, bool) {
	for _, o := range c.options {
		if o.crop.ID == x.CropID && o.method == x.Method && o.under() == x.Protection {
			return o, true
		}
	}
	return option{}, false
}

func (c *checker) wanted(of *crop.Crop) bool {
	for _, w := range c.garden.Wants {
		found, _ := c.crops.Match(w.Crop)
		for _, f := range found {
			if f.ID == of.ID {
				return true
			}
		}
	}
	return false
}

func (c *checker) inside(x *garden.Planting, bed garden.Bed) {
	const eps = 1e-3
	at := x.Place
	if at.AlongFrom < -eps || at.AcrossFrom < -eps || at.AlongTo > bed.Length+eps || at.AcrossTo > bed.Width+eps ||
		at.AlongTo <= at.AlongFrom || at.AcrossTo <= at.AcrossFrom {
		c.fault(x, "does not lie inside its bed")
	}
}

// succeeds: the start day lies in the season and succeeds often enough; the ground is promised free
// only when the last harvest is over in the asked share of the years that bear.
func (c *checker) succeeds(x *garden.Planting, o option) {
	if x.Start < c.season.Start || x.Start > c.season.End() {
		c.fault(x, "starts outside the season")
		return
	}
	good, late := 0, 0
	_, _, delay := c.shadeOf(x, o, c.beds[x.BedID])
	for i := 0; i < x.Years; i++ {
		y := o.times.Outcome(x.Start, i)
		if y.Fate != growth.Ready || delay > 0 && o.times.Outcome(x.Start.Add(delay), i).Fate != growth.Ready {
			continue
		}
		good++
		last := y.Last
		if c.takenWhole(x, o.crop) { // within a week of being ready
			last = min(last, y.First+6)
		}
		if last.Add(delay) >= x.Clear {
			late++
		}
	}
	if x.Success > good { // fewer where what is there before it is late
		c.fault(x, "claims %d good years but has %d", x.Success, good)
	}
	if float64(good) < c.settings.Share*float64(x.Years)-1e-6 {
		c.fault(x, "succeeds in %d years of %d only", good, x.Years)
	}
	if !o.crop.Perennial && float64(late) > (1-c.settings.Share)*float64(good)+1e-6 {
		c.fault(x, "is still harvested in %d years of %d when its ground is promised free", late, good)
	}
}

// takenWhole says whether a planting is pulled or cut whole within a week of being ready: a marker,
// and a leaf crop between slow plants whose last day says so.
func (c *checker) takenWhole(x *garden.Planting, of *crop.Crop) bool {
	return x.Role == garden.Marker || (x.Role == garden.Fast && of.Harvest.Part == "leaf" && x.Last.P50 <= x.First.P50+6)
}

// reach: on ground more than 1.5 m each way close rows are at most that far across, with 0.3 m to
// tread on between neighbours; a vine stands where it can run out of the bed; what is earthed up in a bed
// with rows along it has the whole width, so that soil can be drawn to it from both sides.
func (c *checker) reach(x *garden.Planting, of *crop.Crop, bed garden.Bed) {
	const eps = 1e-3
	at := x.Place
	wide := bed.Length > 1.5 && bed.Width > 1.5
	if amid := x.Role == garden.Fast || x.Role == garden.Marker; amid { // reached with the slow one
		return
	}
	if wide && at.AcrossTo-at.AcrossFrom > 1.5+eps && of.Spacing.BetweenRows < 0.6 {
		c.fault(x, "is %.2f m across, more than can be reached from its sides", float64(at.AcrossTo-at.AcrossFrom))
	}
	end := at.AlongFrom < eps || at.AlongTo > bed.Length-eps
	side := at.AcrossFrom < eps || at.AcrossTo > bed.Width-eps
	if of.Practice.EarthUp && !wide && !bed.RowsAcross && at.AcrossTo-at.AcrossFrom < bed.Width-eps {
		c.fault(x, "is earthed up and has %.2f m of a bed %.2f m wide", float64(at.AcrossTo-at.AcrossFrom), float64(bed.Width))
	}
	if of.Practice.Vine && !end && !(wide && side) {
		c.fault(x, "is a vine amid its bed, where it would run over its neighbours")
	}
}

// path: neighbours side by side on wide ground leave room to tread.
func (c *checker) path(a, b *garden.Planting) {
	const eps = 1e-3
	bed, p, q := c.beds[a.BedID], a.Place, b.Place
	if bed.Length <= 1.5 || bed.Width <= 1.5 || c.stands[a.Key] || c.stands[b.Key] || a.Start >= b.Clear || b.Start >= a.Clear ||
		p.AlongFrom >= q.AlongTo-eps || q.AlongFrom >= p.AlongTo-eps {
		return
	}
	if gap := max(p.AcrossFrom-q.AcrossTo, q.AcrossFrom-p.AcrossTo); gap < 0.3-eps {
		c.fault(b, "leaves %.2f m to tread on beside %s", float64(gap), a.Key)
	}
}

func familyOf(of *crop.Crop) string {
	if of.Family == "" {
		return of.ID
	}
	return of.Family
}

func (c *checker) rotation(x *garden.Planting, of *crop.Crop) {
	rest := c.settings.Rotation
	if of.Rotation > rest {
		rest = of.Rotation
	}
	for _, h := range c.garden.History {
		fam := h.Family
		if was, ok := c.crops.Find(h.CropID); ok && h.CropID != "" {
			fam = familyOf(was)
		}
		elsewhere := h.Place.AlongTo > h.Place.AlongFrom && h.Place.AcrossTo > h.Place.AcrossFrom && !h.Place.Meets(x.Place)
		if h.BedID == x.BedID && !elsewhere && fam == familyOf(of) && h.Year < c.season.Year() && c.season.Year()-h.Year < rest {
			c.fault(x, "follows its family, %s, of %d in less than %d years", fam, h.Year, rest)
		}
	}
}

// plants: as many rows and plants as the spacing allows in the rectangle, no more, half a spacing
// from its sides and a quarter from the bed's.
func (c *checker) plants(x *garden.Planting, of *crop.Crop, bed garden.Bed) {
	if x.Role == garden.Fast || x.Role == garden.Marker {
		return // counted with its partner
	}
	row, gap := float64(of.Spacing.InRow), float64(of.Spacing.BetweenRows)
	if row <= 0 {
		row = 0.05
	}
	if gap <= 0 {
		gap = row
	}
	at := x.Place
	lo, hi, end, run := float64(at.AcrossFrom), float64(at.AcrossTo), float64(bed.Width), float64(at.AlongTo-at.AlongFrom)
	if bed.RowsAcross {
		lo, hi, end, run = float64(at.AlongFrom), float64(at.AlongTo), float64(bed.Length), float64(at.AcrossTo-at.AcrossFrom)
	}
	// n rows span (n−1) gaps and a margin on both sides.
	margin := func(edge bool) float64 {
		if edge {
			return gap / 4
		}
		return gap / 2
	}
	need := float64(x.Rows-1)*gap + margin(lo < 1e-3) + margin(hi > end-1e-3)
	if x.Rows < 1 || need > hi-lo+2e-3 {
		c.fault(x, "has %d rows, %.2f m apart, in %.2f m", x.Rows, gap, hi-lo)
	}
	if x.Plants < 1 || x.Plants > x.Rows*int(math.Floor(run/row+2e-3)) {
		c.fault(x, "has %d plants in %d rows of %.2f m, %.2f m apart", x.Plants, x.Rows, run, row)
	}
	lead := 0.0 // m over the bed's own edges
	for _, edge := range []bool{lo < 1e-3, hi > end-1e-3} {
		if edge {
			lead += 0.3
		}
	}
	if of.Practice.Vine && float64(x.Plants)*row*gap > (hi-lo+lead)*run*(1+2e-3) {
		c.fault(x, "has %d vines on %.2f m² with what they may be led over", x.Plants, (hi-lo+lead)*run)
	}
	if of.Practice.Block && x.Rows < 3 {
		c.fault(x, "wants a block of three rows and has %d", x.Rows)
	}
}

// two holds a pair of plantings to the rules of shared ground and of families in a bed.
func (c *checker) two(a, b *garden.Planting) {
	if a.BedID != b.BedID || (c.stands[a.Key] && c.stands[b.Key]) {
		return
	}
	if a.Partner == b.Key || b.Partner == a.Key {
		c.partners(a, b)
		return
	}
	from1, to1 := c.held(a)
	from2, to2 := c.held(b)
	turn := civil.Date(c.settings.TurnDays)
	if overlap(a.Place, b.Place, c.beds[a.BedID]) && from1 < to2+turn && from2 < to1+turn {
		c.fault(b, "overlaps %s in place and time, or leaves less than %d days between", a.Key, c.settings.TurnDays)
	}
	c.path(a, b)
	c.kin(a, b)
}

// held is the days a planting keeps its ground; one without a clearing day keeps it for good.
func (c *checker) held(x *garden.Planting) (from, to civil.Date) {
	if x.Clear <= x.Start {
		return x.Start, x.Start + 3650
	}
	return x.Start, x.Clear
}

// kin: plantings of one family in a bed stand there together, never one after another.
func (c *checker) kin(a, b *garden.Planting) {
	ca, _ := c.crops.Find(a.CropID)
	cb, _ := c.crops.Find(b.CropID)
	if ca == nil || cb == nil || familyOf(ca) != familyOf(cb) || a.Status == garden.Lost || b.Status == garden.Lost {
		return // what was lost may be sown again
	}
	from1, to1 := c.held(a)
	from2, to2 := c.held(b)
	if to1 <= from2 || to2 <= from1 {
		c.fault(b, "follows %s of its own family, %s, in the same bed", a.Key, familyOf(ca))
	}
}

func overlap(p, q garden.Place, bed garden.Bed) bool {
	whole := garden.Place{AlongTo: bed.Length, AcrossTo: bed.Width}
	if p.Area() <= 0 {
		p = whole
	}
	if q.Area() <= 0 {
		q = whole
	}
	const eps = 1e-3
	return p.AlongFrom < q.AlongTo-eps && q.AlongFrom < p.AlongTo-eps && p.AcrossFrom < q.AcrossTo-eps && q.AcrossFrom < p.AcrossTo-eps
}

// partners: a fast crop or a marker stands inside the slow one's ground, is of another kind, has
// room, and is out before the canopies meet in the year in ten that grows most.
func (c *checker) partners(a, b *garden.Planting) {
	slow, fast := a, b
	if a.Role == garden.Fast || a.Role == garden.Marker {
		slow, fast = b, a
	}
	if slow.Role != garden.Slow || slow.Partner != fast.Key || fast.Partner != slow.Key || (fast.Role != garden.Fast && fast.Role != garden.Marker) {
		c.fault(fast, "and %s do not name each other as slow and fast", slow.Key)
		return
	}
	so, ok1 := c.optionOf(slow)
	fo, ok2 := c.optionOf(fast)
	if !ok1 || !ok2 {
		return
	}
	const eps = 2e-3
	if in, out := fast.Place, slow.Place; in.AlongFrom < out.AlongFrom-eps || in.AlongTo > out.AlongTo+eps || in.AcrossFrom < out.AcrossFrom-eps || in.AcrossTo > out.AcrossTo+eps {
		c.fault(fast, "reaches out of the ground of %s", slow.Key)
	}
	if fast.Clear >= slow.Clear {
		c.fault(fast, "is not out before %s", slow.Key)
	}
	if so.crop.Kind == fo.crop.Kind {
		c.fault(fast, "stands among its own kind")
	}
	last := fast.Clear - 1
	_, _, wide := so.times.Canopy(slow.Start, last)
	_, _, narrow := fo.times.Canopy(fast.Start, last)
	if last < slow.Start {
		wide = 0
	}
	if fast.Role == garden.Marker {
		c.marker(slow, fast, so, fo, float64(wide))
		return
	}
	c.shares(slow, fast, so.crop, fo.crop)
	c.amid(slow, fast, so.crop, fo.crop, float64(wide+narrow)/2)
}

func (c *checker) marker(slow, fast *garden.Planting, so, fo option, wide float64) {
	if !fo.crop.Practice.Marker || !so.crop.Practice.SlowRow || slow.Start != fast.Start {
		c.fault(fast, "cannot mark the drill of %s", slow.Key)
	}
	if in, out := fast.Place, slow.Place; in != out {
		c.fault(fast, "does not mark the drills of %s over their whole length", slow.Key)
	}
	if wide > 0.75*float64(so.crop.Plant.Spread)+1e-9 {
		c.fault(fast, "is pulled when %s is already %.2f m wide and needs the room", slow.Key, wide)
	}
	if length := c.rowLength(fast); fast.Rows > slow.Rows || fast.Plants > fast.Rows*int(length/0.1+1e-3) {
		c.fault(fast, "has more marker plants than one each 0.1 m")
	}
}

func (c *checker) rowLength(x *garden.Planting) float64 {
	if c.beds[x.BedID].RowsAcross {
		return float64(x.Place.AcrossTo - x.Place.AcrossFrom)
	}
	return float64(x.Place.AlongTo - x.Place.AlongFrom)
}

// amid: the fast plants have a place among the slow plants' grid in which the two radii, reach in
// all, do not exceed the distance, and stand no closer to each other than in their own row.
func (c *checker) amid(slow, fast *garden.Planting, sc, fc *crop.Crop, reach float64) {
	row, gap := float64(sc.Spacing.InRow), float64(sc.Spacing.BetweenRows)
	own := float64(fc.Spacing.InRow)
	length := c.rowLength(fast)
	perRow := fast.Plants / max(fast.Rows, 1)
	type way struct {
		reach, between, along float64
		rows                  int
	}
	for _, w := range []way{
		{gap / 2, gap, own, slow.Rows - 1},                        // a row between two rows
		{math.Sqrt(row*row+gap*gap) / 2, gap, row, slow.Rows - 1}, // in the squares
		{row / 2, gap, row, slow.Rows},                            // in the rows
	} {
		if reach <= w.reach+1e-6 && w.between >= own-1e-6 && w.along >= own-1e-6 &&
			fast.Rows <= w.rows && perRow <= int(length/w.along+1e-3) {
			return
		}
	}
	c.fault(fast, "does not fit among the plants of %s: the two canopies reach %.2f m", slow.Key, reach)
}
