package plan

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"kailyard/internal/allot"
	"kailyard/internal/crop"
)

// market is the season's question with its rules of place loosened, as allot reckons a bound from it. Whatever plan the rules
// allow has its like here, worth no less: ground is taken by the square metre, not by the block; a stand is as full as the best
// block of its bed; a family may come twice; a fast crop may stand among every slow one that leaves it time; what nobody eats costs
// nothing; hours, shelf and water are without end.
type market struct {
	*field
	without limit
	r       *allot.Relaxation
	base    float64 // worth of what stands already
	at      map[useKey]int32
	tell    []useKey  // by use
	keys    []wantKey // by row
	grounds []int     // by plot: the first of its grounds
	first   []int     // by want: its first supply
	spans   [][]span  // by want: the weather years it is valued by
	ends    []int     // by want: the supplies of its early and late end, by span; then the promise, drills marked, ground covered among it
	fills   map[fillKey]filling
	groups  map[[2]int]int // by want and slow sowing
	lists   map[string][]int32
	bests   map[int]float64 // by sowing: the most that any bed leaves of its yield
}

// limit is a set of the things that keep a plan from answering every want.
type limit uint8

const (
	byLight limit = 1 << iota
	byRotation
	byWork
)

const byNothing limit = 0

// useKey is a sowing of a want in ground that leaves it a share of its yield, in steps; among: on another's ground.
type useKey struct {
	want, sow, share int
	host             int // one more than the want it stands among
	fill, least      float64
	cheap, drill     bool // no ground is counted; drills away from ground long enough for them
	among            bool
}

// wantKey tells a row of a want, whatever weather years it is for: in which part of them it stands, and where.
type wantKey struct {
	want, part, nth int
	share           float64 // of the years
}

// shareSteps is how finely the share of a yield is told apart; shares are taken up to the next step.
const shareSteps = 64

type fillKey struct {
	crop                string
	cells, lanes        int
	cell, lane          float64
	across, open, drill bool
}

// filling is how full a stand can be, the least ground a sensible one takes, and the most metres of row, and of ground between two
// rows, on a square metre.
type filling struct{ fill, least, rows, between float64 }

// relax loosens the season's question, and leaves one limit out.
func (f *field) relax(without limit) *market { return f.relaxed(without, f.settings.Risk) }

// relaxed is relax with the weather years counted as a setting of risk says.
func (f *field) relaxed(without limit, risk int) *market {
	m := &market{field: f, without: without, r: &allot.Relaxation{Times: 7*horizonWeeks(f.season) + 1}, at: map[useKey]int32{},
		fills: map[fillKey]filling{}, groups: map[[2]int]int{}, lists: map[string][]int32{}}
	m.spans = f.spans(risk)
	for i := range f.wants {
		m.addWant(i)
	}
	for i := range f.plots {
		m.addPlot(i)
	}
	return m
}

func inPoints(worth int64) float64 { return float64(worth) / float64(point) }

func perKilogram(price int64) float64 { return float64(price) * 1e6 / float64(point) }

// pieces are the parts of a demand beyond what there is already.
func (d *demand) pieces(asked, had int64) []allot.Piece {
	var out []allot.Piece
	from := had
	for part, upTo := range [4]int64{asked / 5, asked / 2, asked * 4 / 5, asked} {
		kg := float64(max(0, upTo-from)) / 1e6
		out = append(out, allot.Piece{Kilograms: kg, ValuePerKilogram: perKilogram(d.price[part])})
		from = max(from, upTo)
	}
	return out
}

// addWant adds a want's rows and supplies.
func (m *market) addWant(i int) {
	d := &m.wants[i]
	at := wantKey{want: i}
	row := func(pieces []allot.Piece) int32 {
		m.r.Rows = append(m.r.Rows, allot.Row{Pieces: pieces})
		m.keys = append(m.keys, at)
		at.nth++
		return int32(len(m.r.Rows) - 1)
	}
	span := func(of span) { at.nth, at.share = 0, of.share }
	supply := func(rows []int32, had float64) {
		m.r.Supplies = append(m.r.Supplies, allot.Supply{Rows: rows, Had: had})
	}
	m.first = append(m.first, len(m.r.Supplies))
	if d.weekly == nil {
		var had int64
		for _, mg := range d.fixed {
			had += mg
		}
		m.gain(d.worth(had, d.asked))
		for _, of := range m.spans[i] {
			span(of)
			supply([]int32{row(of.part(d.pieces(d.asked, had)))}, 0)
		}
	} else {
		m.addWeeks(d, m.spans[i], span, row, supply)
	}
	at.part = 1
	m.ends = append(m.ends, len(m.r.Supplies))
	half := []allot.Piece{{Kilograms: float64(d.asked/5) / 1e6, ValuePerKilogram: perKilogram(d.price[1] / 2)}}
	for _, of := range m.spans[i] {
		span(of)
		supply([]int32{row(of.part(half))}, 0)
		supply([]int32{row(of.part(half))}, 0)
	}
	at.part, at.nth, at.share = 2, 0, 1
	supply([]int32{row([]allot.Piece{{Kilograms: float64(d.asked) / 1e6, ValuePerKilogram: 3 * perKilogram(d.price[1]/10)}})}, 0)
	for _, worth := range []int64{worthMarker, worthAmong} {
		supply([]int32{row([]allot.Piece{{Kilograms: mostMarked / 1e4, ValuePerKilogram: inPoints(worth)}})}, 0)
	}
}

// addWeeks adds a weekly want's rows and the supplies of its weeks, span by span.
func (m *market) addWeeks(d *demand, spans []span, begin func(span), row func([]allot.Piece) int32, supply func([]int32, float64)) {
	for k, of := range spans {
		begin(of)
		rows := make([]int32, len(d.weekly))
		for w, ask := range d.weekly {
			rows[w] = -1
			if ask > 0 {
				had := d.fixed[w]
				if d.carry > 0 {
					had = 0
				}
				if k == 0 {
					m.gain(d.worth(had, ask))
				}
				rows[w] = row(of.part(d.pieces(ask, had)))
			}
		}
		for w := range d.weekly {
			var serves []int32
			for k := w; k <= w+d.carry && k < len(rows); k++ {
				if rows[k] >= 0 {
					serves = append(serves, rows[k])
				}
			}
			had := 0.0
			if d.carry > 0 {
				had = float64(d.fixed[w]) / 1e6
			}
			if len(serves) == 0 { // nobody eats it
				serves = []int32{row(nil)}
			}
			supply(serves, had)
		}
	}
}

// gain counts what stands already, in points.
func (m *market) gain(base int64) { m.base += inPoints(base) }

// addPlot adds a bed, in parts by what stands on them and which families they rest from.
func (m *market) addPlot(i int) {
	pl := &m.plots[i]
	cell := pl.cell * pl.lane
	parts := map[string]float64{}
	m.grounds = append(m.grounds, len(m.r.Grounds))
	var order []string
	sample := map[string]rect{}
	for l := 0; l < pl.lanes; l++ {
		for a := 0; a < pl.cells; a++ {
			r := rect{a, a + 1, l, l + 1}
			key := m.calendar(i, r)
			if _, ok := parts[key]; !ok {
				order = append(order, key)
				sample[key] = r
			}
			parts[key] += cell
		}
	}
	for _, key := range order {
		m.r.Grounds = append(m.r.Grounds, allot.Ground{
			Largest: float64(pl.bed.Area()), Uses: m.usesOn(i, sample[key], key), Parts: []allot.Part{{From: 0, Area: parts[key]}},
		})
	}
}

// calendar tells a cell's ground apart: by the standing plantings on it and what it rests from.
func (m *market) calendar(plot int, r rect) string {
	var b strings.Builder
	for k := range m.fixed {
		if x := &m.fixed[k]; x.bed == plot && x.r.meets(r) {
			fmt.Fprintf(&b, "%d-%d,", x.hold, x.clear)
		}
	}
	if m.without&byRotation == 0 {
		for o := range m.options {
			if m.rests(plot, o, r) {
				fmt.Fprintf(&b, "r%d,", o)
			}
		}
	}
	return b.String()
}

// usesOn are the uses that a part of a bed lets in, by start.
func (m *market) usesOn(plot int, cell rect, calendar string) []int32 {
	var ids []int32
	for w := range m.wants {
		for _, sow := range m.wants[w].sowings {
			if share := m.leaves(plot, sow); share > 0 && m.free(plot, cell, sow) {
				if id := m.useOf(plot, w, sow, share); id >= 0 {
					ids = append(ids, id)
				}
			}
		}
	}
	sort.SliceStable(ids, func(i, j int) bool { return m.r.Uses[ids[i]].Start < m.r.Uses[ids[j]].Start })
	key := fmt.Sprint(ids)
	if known, ok := m.lists[key]; ok {
		return known
	}
	m.lists[key] = ids
	return ids
}

// free says whether nothing that stands keeps a sowing from a cell, by its ground or as kin that it would follow.
func (m *market) free(plot int, cell rect, sow int) bool {
	s := &m.sows[sow]
	hold := s.hold(m.settings.TurnDays)
	for k := range m.fixed {
		x := &m.fixed[k]
		if x.bed != plot {
			continue
		}
		if x.hold < s.clear && hold < x.clear && x.r.meets(cell) || x.family == s.family && (x.start >= s.clear || s.start >= x.clear) {
			return false
		}
	}
	return m.without&byRotation != 0 || !m.rests(plot, s.option, cell)
}

// leaves is what light and soil of a bed leave of a sowing's yield, without the limit left out; 0 where it may not stand.
func (m *market) leaves(plot, sow int) float64 {
	s, pl := &m.sows[sow], &m.plots[plot]
	if m.without&(byLight|byRotation) == 0 {
		if !m.field.allowed(plot, sow) {
			return 0
		}
		return m.share(plot, sow)
	}
	c := m.options[s.option].crop
	for why := range m.refusals(pl, c) {
		if !(why == tooShady && m.without&byLight != 0 || why == tooSoon && m.without&byRotation != 0) {
			return 0
		}
	}
	if !m.ripeOnTime(plot, sow) || m.barred(plot, sow) {
		return 0
	}
	share := m.soilShare(pl.bed.ID, c)
	switch {
	case m.without&byLight != 0:
		if s.lag > 0 {
			return 0
		}
	case m.bright[plot] != nil:
		share *= m.bright[plot][sow]
	default:
		share *= m.toldLight(pl.bed, c)
	}
	return share
}

// filled is how full a bed's best block of a crop is, and the least ground it takes.
func (m *market) filled(pl *plot, c *crop.Crop) filling {
	key := fillKey{c.ID, pl.cells, pl.lanes, pl.cell, pl.lane, pl.bed.RowsAcross, pl.open, pl.drillGround}
	if known, ok := m.fills[key]; ok {
		return known
	}
	f := filling{least: math.Inf(1)}
	for l0 := 0; l0 < pl.lanes; l0++ {
		for l1 := l0 + 1; l1 <= pl.lanes; l1++ {
			if !pl.reached(c, l0, l1) {
				continue
			}
			for n := 1; n <= pl.cells; n++ {
				if st := pl.stand(c, rect{0, n, l0, l1}); sensible(c, st) && st.area > 0 {
					f.fill, f.least = max(f.fill, st.full/st.area), min(f.least, st.area)
					f.rows, f.between = max(f.rows, float64(st.rows)*st.length/st.area), max(f.between, float64(st.rows-1)*st.length/st.area)
				}
			}
		}
	}
	m.fills[key] = f
	return f
}

// keyOf tells a sowing of a want in a bed; ok is false where no stand of it is sensible.
func (m *market) keyOf(plot, want, sow int, share float64) (key useKey, ok bool) {
	pl, s := &m.plots[plot], &m.sows[sow]
	o := m.options[s.option]
	f := m.filled(pl, o.crop)
	return useKey{want: want, sow: sow, share: int(math.Ceil(share*shareSteps - 1e-9)), fill: f.fill, least: f.least, cheap: pl.bed.Perennial,
		drill: !pl.drillGround && s.drilled(o)}, f.fill > 0
}

// useOf is a sowing of a want in a bed; −1 where no stand of it is sensible.
func (m *market) useOf(plot, want, sow int, share float64) int32 {
	key, ok := m.keyOf(plot, want, sow, share)
	if !ok {
		return -1
	}
	if id, ok := m.at[key]; ok {
		return id
	}
	s := &m.sows[sow]
	u := m.harvestOf(want, sow, key.fill*float64(key.share)/shareSteps)
	u.Start, u.End, u.LeastArea, u.Families, u.Friends = max(0, s.hold(m.settings.TurnDays)), s.clear, key.least, s.families(), m.groupOf(want, sow)
	if m.without&byWork == 0 {
		m.workOf(&u, key)
	}
	return m.keep(key, u)
}

func (m *market) keep(key useKey, u allot.Use) int32 {
	id := int32(len(m.r.Uses))
	m.at[key] = id
	m.r.Uses, m.tell = append(m.r.Uses, u), append(m.tell, key)
	return id
}

// harvestOf is what a square metre of a sowing brings to its want when it bears a share of its yield.
func (m *market) harvestOf(want, sow int, share float64) allot.Use {
	d, s := &m.wants[want], &m.sows[sow]
	var u allot.Use
	brings := func(supply int, mg float64) {
		if kg := mg * share / 1e6; kg > 0 && len(m.r.Rows[m.r.Supplies[supply].Rows[0]].Pieces) > 0 {
			u.Yields = append(u.Yields, allot.Yield{Demand: supply, KilogramsPerSquare: kg})
		}
	}
	for k, of := range m.spans[want] {
		yield, total := m.meanIn(sow, of)
		if d.weekly != nil {
			for i, y := range yield {
				brings(m.first[want]+k*len(d.weekly)+s.week+i, y)
			}
			continue
		}
		brings(m.first[want]+k, total)
		if s.early {
			brings(m.ends[want]+2*k, total)
		}
		if s.late {
			brings(m.ends[want]+2*k+1, total)
		}
	}
	brings(m.extra(want), s.promise)
	return u
}

// families is a sowing's family as a set; beyond the first 64 families it is not counted.
func (s *sowing) families() uint64 {
	if s.family >= 64 {
		return 0
	}
	return 1 << s.family
}

// drilled says whether a sowing goes into drills.
func (s *sowing) drilled(o option) bool {
	return o.how().Way == crop.Sow && o.crop.Spacing.InRow < closeDrill
}

// workOf charges a use no more than the work of a planting is (state.cost).
func (m *market) workOf(u *allot.Use, key useKey) {
	s := &m.sows[key.sow]
	u.Cost += inPoints(workPlanting)
	u.CostPerSquare += inPoints(workArea)
	if m.options[s.option].cover != nil {
		u.Cost += inPoints(workCover)
		u.CostPerSquare += inPoints(workCovered)
	}
	if s.unusual {
		u.Cost += inPoints(workUnusual)
		u.CostPerSquare += m.raising(s, key.fill)
	}
	if key.drill {
		u.CostPerSquare += inPoints(workDrill)
	}
	u.Scrap = inPoints(workScrap)
	m.weighWork(u)
	if !key.cheap {
		u.CostPerSquare += inPoints(workGround) * m.settings.Ground * float64(s.clear-s.hold(m.settings.TurnDays))
	}
	u.CostPerSquare += (1 - float64(key.share)/shareSteps) * inPoints(workShade)
	m.waiting(u, key)
}

// weighWork makes a use's work as dear as the person has it.
func (m *market) weighWork(u *allot.Use) {
	u.Cost, u.CostPerSquare, u.Scrap = u.Cost*m.settings.Work, u.CostPerSquare*m.settings.Work, u.Scrap*m.settings.Work
}

// raising is the cost of the plants for a square metre of what is usually sown.
func (m *market) raising(s *sowing, fill float64) float64 {
	o := m.options[s.option]
	if o.how().Way != crop.SetOut {
		return 0
	}
	inRow, between := spacing(o.crop.Spacing)
	return inPoints(workRaised) * fill / (inRow * between)
}

// waiting charges a harvest away from its best time.
func (m *market) waiting(u *allot.Use, key useKey) {
	d, s := &m.wants[key.want], &m.sows[key.sow]
	perSquare := max(s.total, s.promise) * key.fill * float64(key.share-1) / shareSteps
	if s.wait <= 0 || d.asked <= 0 || perSquare <= 0 {
		return
	}
	u.Waiting = perSquare * float64(d.price[1]/1000) * float64(waitPerMille*s.wait) / float64(point)
	u.WaitingArea = float64(d.asked) / perSquare
}
