package allot

// planting is an option in a bed: so many units, in one lane (1 or 2) or both (3), from a cell on; lane 0: no place yet.
type planting struct {
	option int32
	units  int16
	lane   uint8
	from   uint8
}

func (p planting) cells() int {
	if p.lane == 3 {
		return int(p.units) / 2
	}
	return int(p.units)
}

// bedState is what stands in a bed, and the units free in each week.
type bedState struct {
	count int
	items [MostPlantings]planting
	free  [MostWeeks]int16
}

// row is a demand's pieces.
type row struct {
	edge [MostPieces]float64 // kg, cumulative
	rate [MostPieces]float64
}

func newRow(d *Demand) row {
	var r row
	kg := 0.0
	for k := range r.edge {
		if k < len(d.Pieces) {
			r.rate[k] = d.Pieces[k].ValuePerKilogram
			kg += d.Pieces[k].Kilograms
		}
		r.edge[k] = kg
	}
	return r
}

// store is a demand with what is harvested for it: worth is concave and piecewise linear in the quantity, and so a sum of
// slopes that each end at an edge. No branches: on which piece the quantity lies is as good as random to a processor.
type store struct {
	quantity, worth float64
	edge            [MostPieces]float64 // kg, cumulative
	drop            [MostPieces]float64 // by how much the rate falls there
}

func (r *store) at(q float64) float64 {
	return r.drop[0]*min(q, r.edge[0]) + r.drop[1]*min(q, r.edge[1]) + r.drop[2]*min(q, r.edge[2]) + r.drop[3]*min(q, r.edge[3])
}

func newStore(d *Demand) store {
	r := newRow(d)
	s := store{edge: r.edge, drop: r.rate}
	for k := range MostPieces - 1 {
		s.drop[k] -= r.rate[k+1]
	}
	return s
}

// state is a plan under change: every change between begin and commit can be rolled back.
type state struct {
	*board
	rows   []store
	stand  []bedState
	value  float64
	before float64 // value at begin
	log    []undo
	stamp  []uint32
	epoch  uint32
	saved  []savedBed
	number int // of saved
	isHeld []bool
}

type undo struct {
	row             int32
	quantity, worth float64
}

type savedBed struct {
	bed  int
	kept bedState
}

func newState(b *board) *state {
	st := &state{board: b, rows: make([]store, len(b.Demands)), stand: make([]bedState, len(b.beds)),
		stamp: make([]uint32, len(b.Demands)), isHeld: make([]bool, len(b.beds)), saved: make([]savedBed, 4)}
	for i := range b.Demands {
		st.rows[i] = newStore(&b.Demands[i])
	}
	for i := range st.stand {
		st.stand[i].free = b.beds[i].capacity
	}
	return st
}

func (st *state) begin() {
	st.epoch++
	st.log = st.log[:0]
	st.number = 0
	st.before = st.value
}

// hold keeps a bed as it is, before its first change.
func (st *state) hold(bed int) *bedState {
	bs := &st.stand[bed]
	if !st.isHeld[bed] {
		st.isHeld[bed] = true
		if st.number == len(st.saved) {
			st.saved = append(st.saved, savedBed{})
		}
		st.saved[st.number].bed = bed
		st.saved[st.number].kept = *bs
		st.number++
	}
	return bs
}

func (st *state) commit() {
	for i := range st.saved[:st.number] {
		st.isHeld[st.saved[i].bed] = false
	}
}

func (st *state) rollback() {
	for i := range st.log {
		l := &st.log[i]
		r := &st.rows[l.row]
		r.quantity, r.worth = l.quantity, l.worth
	}
	for i := range st.saved[:st.number] {
		s := &st.saved[i]
		st.stand[s.bed] = s.kept
		st.isHeld[s.bed] = false
	}
	st.value = st.before
}

// gain is what more (or less) of an option, in m² of full light, brings.
func (st *state) gain(o *flatOption, area float64) float64 {
	g := 0.0
	rows := st.rows
	for i := range o.yields {
		y := &o.yields[i]
		r := &rows[y.row]
		g += r.at(r.quantity+y.kg*area) - r.worth
	}
	return g
}

func (st *state) change(o *flatOption, area float64) {
	g := 0.0
	for i := range o.yields {
		y := &o.yields[i]
		r := &st.rows[y.row]
		if st.stamp[y.row] != st.epoch {
			st.stamp[y.row] = st.epoch
			st.log = append(st.log, undo{y.row, r.quantity, r.worth})
		}
		r.quantity = max(0, r.quantity+y.kg*area)
		worth := r.at(r.quantity)
		g += worth - r.worth
		r.worth = worth
	}
	st.value += g
}

// scale is m² of full light per unit of an option in a bed.
func (st *state) scale(bed int, option int32) float64 {
	return st.beds[bed].scale[option]
}

func (st *state) add(bed int, option int32, units int) {
	bs := st.hold(bed)
	o := &st.options[option]
	bs.items[bs.count] = planting{option: option, units: int16(units)}
	bs.count++
	free := bs.free[o.start : o.end+1]
	for w := range free {
		free[w] -= int16(units)
	}
	st.change(o, float64(units)*st.scale(bed, option))
	st.value -= o.cost
}

func (st *state) resize(bed, i, units int) {
	bs := st.hold(bed)
	it := &bs.items[i]
	o := &st.options[it.option]
	d := int16(units) - it.units
	free := bs.free[o.start : o.end+1]
	for w := range free {
		free[w] -= d
	}
	it.units = int16(units)
	it.lane = 0
	st.change(o, float64(d)*st.scale(bed, it.option))
}

func (st *state) remove(bed, i int) {
	bs := st.hold(bed)
	it := bs.items[i]
	o := &st.options[it.option]
	free := bs.free[o.start : o.end+1]
	for w := range free {
		free[w] += it.units
	}
	st.change(o, -float64(it.units)*st.scale(bed, it.option))
	st.value += o.cost
	bs.count--
	bs.items[i] = bs.items[bs.count]
}

// free is the least free units of a bed while an option stands.
func (st *state) free(bed int, o *flatOption) int {
	free := st.stand[bed].free[o.start : o.end+1]
	f := free[0]
	for _, x := range free[1:] {
		if x < f {
			f = x
		}
	}
	return int(f)
}

// gains is what some area more and as much less of an option brings.
func (st *state) gains(o *flatOption, area float64) (more, less float64) {
	rows := st.rows
	for i := range o.yields {
		y := &o.yields[i]
		r := &rows[y.row]
		kg := y.kg * area
		more += r.at(r.quantity+kg) - r.worth
		less += r.at(r.quantity-kg) - r.worth
	}
	return more, less
}

// loss is what taking a planting out would cost.
func (st *state) loss(bed int, it planting) float64 {
	o := &st.options[it.option]
	return -st.gain(o, -float64(it.units)*st.scale(bed, it.option)) - o.cost
}

// recount sums everything anew, against the drift of many small steps.
func (st *state) recount() {
	for i := range st.rows {
		st.rows[i].quantity = 0
	}
	st.value = 0
	for b := range st.stand {
		bs := &st.stand[b]
		bs.free = st.beds[b].capacity
		for _, it := range bs.items[:bs.count] {
			o := &st.options[it.option]
			for w := o.start; w <= o.end; w++ {
				bs.free[w] -= it.units
			}
			for _, y := range o.yields {
				st.rows[y.row].quantity += y.kg * float64(it.units) * st.scale(b, it.option)
			}
			st.value -= o.cost
		}
	}
	for i := range st.rows {
		st.rows[i].worth = st.rows[i].at(st.rows[i].quantity)
		st.value += st.rows[i].worth
	}
}

// restore puts a plan back.
func (st *state) restore(plan []bedState) {
	copy(st.stand, plan)
	st.recount()
}
