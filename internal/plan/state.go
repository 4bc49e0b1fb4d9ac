package plan

import (
	"fmt"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The work of a planting, so that land is not wasted and plantings are not cut into silly bits.
const (
	workPlanting = 12 * point     // for every planting
	workArea     = 3 * point      // for every square metre planted
	workGround   = point / 20 / 7 // for every square metre and day
	workScrap    = 16 * point     // for a planting next to nothing in size, less up to a square metre
	workDrill    = 5 * point      // for every square metre of drills away from ground long enough for them
	workShade    = 25 * point     // for every square metre of a full yield that want of light or a pH out of range takes
	workStrip    = 2 * point      // for part of a bed's width where whole rows across would do
	workUnusual  = 8 * point      // for another method than the crop's usual one
	workRaised   = point          // for each plant raised under cover of a crop that is usually sown: two minutes in all for filling, watering, hardening off and planting
	workCover    = 10 * point     // for a cover put on, aired through the spring and taken off
	workCovered  = 3 * point      // for every square metre of it
	worthMarker  = 60 * point     // for every square metre, up to mostMarked, of a want's slow drills that can be seen, and hoed, before they are up
	worthAmong   = 6 * point      // for every square metre, up to mostMarked, that a fast crop keeps covered among a want's slow plants
	waitPerMille = 9              // of the harvest's worth for a week away from its best time
)

// placed is a planting in the search.
type placed struct {
	want, sow   int // −1, −1 for what stands already
	bed         int
	r           rect
	rows        int
	plants      int
	area, full  float64 // m²; full is area × how well it is filled × light × soil
	hold        int     // days from the season's start
	start       int
	clear       int
	family      int
	mode        mode // of a fast planting
	partner     int  // slot of the other, −1 for none
	live, fixed bool
	kept        bool   // of the plan that this one goes on from
	key         string // of a standing one
}

// field is what never changes in a search: beds, sowings, wants, what goes where.
type field struct {
	*problem
	plots    []plot
	sows     []sowing
	wants    []demand
	welcome  [][]float64      // by plot and option: the share that light and soil leave; 0 where it may not stand
	held     [][]int          // by plot and option: no harvest is counted on before this day, from the season's start
	among    map[int][]friend // by slow sowing
	wide     [][]float64      // by sowing and week from its start; −1 for not read yet
	widest   []float64        // by sowing: on its last day; 0 for not read yet
	fixed    []placed
	rest     [][][]rect                   // by plot and option: ground that rests from its family
	bars     [][]bool                     // by plot and sowing: what a veto keeps out of the bed; nil where none does
	struck   map[int]map[string]bool      // by veto and crop: it took sowings
	meant    map[int]map[string]bool      // by veto: the crops its word means
	bright   [][]float64                  // by plot and sowing: the share that light by month leaves; nil where it is not known
	rows     map[rowKey][12]quantity.Hour // what tall crops take from beds behind them
	facing   [][]int                      // by plot: those that a tall crop in it shades, or that shade it
	guide    *guide
	uprights []upright // by sowing, read when asked for

	yearlies []*yearly // by sowing; nil for not read yet
}

// state is a plan in the making: slots of plantings, what the wants get, and a log to undo by.
type state struct {
	*field
	loads
	slots   []placed
	free    []int
	inBed   [][]int   // slots by bed
	harvest [][]int64 // by want and week
	total   []int64   // by want
	ends    []ends    // by want
	promise []int64
	marked  []marks // by want
	worth   []int64 // by want
	value   int64
	log     []change
	scratch []int64
	trial   []int64
	grid    []bool
	late    map[lateKey]bool // where what was there before it made a sowing too late too often

	years     int        // weather years that the value is told apart by; 0: it is that of the mean harvest
	inYear    []harvests // by want
	trialYear harvests
	byWorth   []int64
}

// change is one step that can be taken back: a planting added to or removed from a slot.
type change struct {
	slot  int
	added bool
	was   placed
}

// newField prepares a problem for the search.
func newField(p *problem) (*field, error) {
	f := &field{problem: p, among: map[int][]friend{}}
	number := p.families()
	for i, b := range p.garden.Beds {
		f.plots = append(f.plots, newPlot(b, i))
	}
	byOption, brief := make([][]int, len(p.options)), make([][]int, len(p.options))
	needed, matched, err := p.wanted()
	if err != nil {
		return nil, err
	}
	for i, o := range p.options {
		if !needed[o.crop.ID] {
			continue
		}
		for _, s := range f.strike(p.sowings(i, number[family(o.crop)])) {
			byOption[i] = append(byOption[i], len(f.sows))
			f.sows = append(f.sows, s)
		}
	}
	for i := range p.options {
		if needed[p.options[i].crop.ID] {
			for _, s := range f.strike(append(f.markersFor(i, number[family(p.options[i].crop)]), f.cutsFor(i)...)) {
				brief[i] = append(brief[i], len(f.sows))
				f.sows = append(f.sows, s)
			}
		}
	}
	f.wide, f.widest = make([][]float64, len(f.sows)), make([]float64, len(f.sows))
	for i, w := range p.garden.Wants {
		var serve, whole []int
		for o := range p.options {
			for _, c := range matched[i] {
				if c.ID == p.options[o].crop.ID {
					serve, whole = append(serve, byOption[o]...), append(whole, brief[o]...)
				}
			}
		}
		d, err := p.newDemand(w, matched[i], f.sows, f.suiting(w, serve), f.suiting(w, whole))
		if err != nil {
			return nil, err
		}
		f.thisSeason(&d)
		f.weigh(&d)
		f.wants = append(f.wants, d)
	}
	f.bar()
	f.brighten()
	f.behind()
	for i := range f.plots {
		light := make([]float64, len(p.options))
		for j, o := range p.options {
			if p.refuses(&f.plots[i], o.crop) == welcome {
				light[j] = p.toldLight(f.plots[i].bed, o.crop) * p.soilShare(f.plots[i].bed.ID, o.crop)
			}
		}
		f.welcome, f.held = append(f.welcome, light), append(f.held, p.heldIn(f.plots[i].bed.ID))
	}
	f.fixStanding(number)
	return f, nil
}

// wanted is the crops each want names, and the set of them; each must have a growth table.
func (p *problem) wanted() (needed map[string]bool, matched map[int][]*crop.Crop, err error) {
	has := map[string]bool{}
	for _, o := range p.options {
		has[o.crop.ID] = true
	}
	needed, matched = map[string]bool{}, map[int][]*crop.Crop{}
	for i, w := range p.garden.Wants {
		found, err := p.matchWant(w)
		if err != nil {
			return nil, nil, err
		}
		any := false
		for _, c := range found {
			needed[c.ID] = true
			any = any || has[c.ID]
		}
		if !any {
			return nil, nil, fmt.Errorf("the want for %q has no growth table; tabulate every crop the wants name before planning", w.Crop)
		}
		matched[i] = found
	}
	return needed, matched, nil
}

// lostKin is the family of what was lost: kin may be sown again at once, for it left next to nothing in the ground (common
// practice). Source: PLAN-PRACTICE.
const lostKin = -1

// fixStanding lays the standing plantings on their beds and counts what they will bear.
func (f *field) fixStanding(number map[string]int) {
	for _, s := range f.standing() {
		c, _ := f.crops.Find(s.CropID)
		x := placed{want: -1, sow: -1, partner: -1, fixed: true, live: true, family: number[family(c)], key: s.Key}
		for i := range f.plots {
			if f.plots[i].bed.ID == s.BedID {
				x.bed = i
			}
		}
		x.r = f.plots[x.bed].covers(s.Place)
		x.start = s.Start.Since(f.season.Start)
		x.hold, x.clear = x.start-f.settings.TurnDays, s.Clear.Since(f.season.Start)
		if s.Status == garden.Lost {
			x.family = lostKin
		}
		if x.clear <= x.start { // no clearing day is known: it keeps the ground all season
			x.clear = 7 * horizonWeeks(f.season)
		}
		f.fixed = append(f.fixed, x)
		for i := range f.wants {
			if f.wants[i].serves(c.ID) {
				f.standingHarvest(&f.wants[i], s)
				break
			}
		}
	}
}

// serves says whether a crop is one the want names.
func (d *demand) serves(id string) bool {
	for _, c := range d.crops {
		if c.ID == id {
			return true
		}
	}
	return false
}

// newState is the ground with only the standing plantings.
func newState(f *field) *state {
	s := &state{field: f, inBed: make([][]int, len(f.plots))}
	n := horizonWeeks(f.season)
	s.scratch, s.trial = make([]int64, n), make([]int64, n)
	s.harvest, s.total = make([][]int64, len(f.wants)), make([]int64, len(f.wants))
	s.promise, s.worth = make([]int64, len(f.wants)), make([]int64, len(f.wants))
	s.ends, s.marked = make([]ends, len(f.wants)), make([]marks, len(f.wants))
	cells := 0
	for i := range f.plots {
		cells = max(cells, f.plots[i].cells*f.plots[i].lanes)
	}
	s.grid = make([]bool, cells)
	s.shelf, s.busy = f.newShelf(), f.newBusy()
	s.stint = make([]int64, len(s.busy))
	for _, x := range f.fixed {
		s.slots = append(s.slots, x)
		s.inBed[x.bed] = append(s.inBed[x.bed], len(s.slots)-1)
	}
	for i := range f.wants {
		s.harvest[i] = append([]int64(nil), f.wants[i].fixed...)
		for _, v := range s.harvest[i] {
			s.total[i] += v
		}
		s.reckon(i)
	}
	return s
}

// reckon brings a want's worth, and the value, up to date.
func (s *state) reckon(want int) {
	var v int64
	if s.years > 0 {
		v = s.worthOver(want, &s.inYear[want], s.promise[want])
	} else {
		v = s.wants[want].value(s.harvest[want], s.total[want], s.promise[want], s.ends[want], s.scratch)
	}
	s.value += v - s.worth[want]
	s.worth[want] = v
}

// cost is what a planting costs the plan: its work and the ground it holds, as dear as the person has them, the shade it stands in
// and the wait for its harvest.
func (s *state) cost(x *placed) int64 {
	if x.fixed {
		return 0
	}
	c := dear(s.workOf(x), s.settings.Work)
	sow, pl := &s.sows[x.sow], &s.plots[x.bed]
	if sow.wait > 0 {
		d := &s.wants[x.want]
		c += min(int64(max(sow.total, sow.promise)*x.full), d.asked) * (d.price[1] / 1000) * int64(waitPerMille*sow.wait)
	}
	if x.mode != apart {
		return c
	}
	if dim := 1 - s.share(x.bed, x.sow); dim > 0 {
		c += int64(x.area * dim * float64(workShade))
	}
	if !pl.bed.Perennial {
		c += dear(int64(x.area*float64(x.clear-x.hold)*float64(workGround)), s.settings.Ground)
	}
	return c
}

// dear is a cost as dear as a weight makes it.
func dear(cost int64, weight float64) int64 { return int64(float64(cost) * weight) }

// workOf is the work of a planting at weight 1.
func (s *state) workOf(x *placed) int64 {
	sow := &s.sows[x.sow]
	c := workPlanting + int64(x.area*float64(workArea))
	switch x.mode {
	case apart:
	case inTheDrill:
		c = 0
	default: // the ground is dug already
		c = workPlanting*3/4 + int64(x.full*float64(workArea))
	}
	if sow.unusual {
		c += workUnusual
		if s.options[sow.option].how().Way == crop.SetOut {
			c += int64(x.plants) * workRaised
		}
	}
	if s.options[sow.option].cover != nil {
		c += workCover + int64(x.area*float64(workCovered))
	}
	if x.mode != apart {
		return c
	}
	pl := &s.plots[x.bed]
	if x.area < 1 {
		c += int64((1 - x.area) * float64(workScrap))
	}
	if o := s.options[sow.option]; !pl.drillGround && o.how().Way == crop.Sow && o.crop.Spacing.InRow < closeDrill {
		c += int64(x.area * float64(workDrill))
	}
	if x.r.l1-x.r.l0 < pl.lanes && !pl.drillGround && float64(pl.bed.Width) <= 1.6 {
		c += workStrip
	}
	return c
}

// reap adds (sign 1) or takes away (−1) a planting's harvest.
func (s *state) reap(x *placed, sign int64) {
	if x.want < 0 {
		return
	}
	sow := &s.sows[x.sow]
	h := s.harvest[x.want]
	for i, y := range sow.yield {
		mg := sign * int64(y*x.full)
		h[sow.week+i] += mg
		s.total[x.want] += mg
		s.ends[x.want].add(sow, mg)
	}
	s.promise[x.want] += sign * int64(sow.promise*x.full)
	if s.years > 0 {
		s.reapYears(&s.inYear[x.want], x, sign)
	}
}

// put adds a planting and returns its slot.
func (s *state) put(x placed) int {
	var slot int
	if n := len(s.free); n > 0 {
		slot, s.free = s.free[n-1], s.free[:n-1]
	} else {
		slot = len(s.slots)
		s.slots = append(s.slots, placed{})
	}
	x.live = true
	s.enter(slot, x)
	s.log = append(s.log, change{slot: slot, added: true})
	return slot
}

// take removes the planting in a slot, and what stands among it.
func (s *state) take(slot int) {
	x := s.slots[slot]
	if x.partner >= 0 && x.mode == apart {
		s.take(x.partner)
		x = s.slots[slot]
	}
	s.leave(slot)
	s.free = append(s.free, slot)
	s.log = append(s.log, change{slot: slot, was: x})
}

func (s *state) enter(slot int, x placed) {
	s.slots[slot] = x
	s.inBed[x.bed] = append(s.inBed[x.bed], slot)
	if x.mode != apart {
		s.slots[x.partner].partner = slot
	}
	s.value -= s.cost(&x)
	s.shelve(&x, 1)
	s.toil(&x, 1)
	s.mark(&x, 1)
	s.reap(&x, 1)
	if x.want >= 0 {
		s.reckon(x.want)
	}
}

func (s *state) leave(slot int) {
	x := s.slots[slot]
	list := s.inBed[x.bed]
	for i, v := range list {
		if v == slot {
			list[i] = list[len(list)-1]
			s.inBed[x.bed] = list[:len(list)-1]
			break
		}
	}
	if x.mode != apart {
		s.slots[x.partner].partner = -1
	}
	s.slots[slot].live = false
	s.value += s.cost(&x)
	s.shelve(&x, -1)
	s.toil(&x, -1)
	s.mark(&x, -1)
	s.reap(&x, -1)
	if x.want >= 0 {
		s.reckon(x.want)
	}
}

// undo takes back the changes since a mark in the log.
func (s *state) undo(mark int) {
	for len(s.log) > mark {
		c := s.log[len(s.log)-1]
		s.log = s.log[:len(s.log)-1]
		if c.added {
			s.leave(c.slot)
			s.free = append(s.free, c.slot)
			continue
		}
		for i := len(s.free) - 1; i >= 0; i-- { // the slot freed last is nearly always on top
			if s.free[i] == c.slot {
				s.free = append(s.free[:i], s.free[i+1:]...)
				break
			}
		}
		s.enter(c.slot, c.was)
	}
}
