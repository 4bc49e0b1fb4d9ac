package allot

// Hopes: what balancing, seating and refilling may still bring to a move that has lost value so far; found by trial.
const (
	hopeInsert  = 10.0
	hopeBalance = 8.0
	hopeMigrate = 10.0
	hopeEject   = 8.0
	hopeSeat    = 12.0
)

// mostOf is the number of units up to most that brings the most, and what it brings, cost off.
func (s *search) mostOf(bed int, option int32, most int) (int, float64) {
	o := &s.options[option]
	scale := s.scale(bed, option)
	units := int(s.beds[bed].least[option])
	if units == 0 || units > most {
		return 0, -1e9
	}
	gain := s.gain(o, float64(units)*scale)
	for step := 4; step >= 1; step /= 2 {
		for units+step <= most {
			more := s.gain(o, float64(units+step)*scale)
			if more <= gain+1e-12 {
				break
			}
			units, gain = units+step, more
		}
	}
	return units, gain - o.cost
}

// insertAny puts a drawn option in a bed.
func (s *search) insertAny(bed int) bool {
	option := s.guide.any[bed].draw(s.dice)
	bs := &s.stand[bed]
	before := bs.count
	if s.hopeless(bed, option) || !s.insert(bed, option) || s.short(hopeSeat) {
		return false
	}
	if s.seatDriven(bed); s.short(hopeInsert) {
		return false
	}
	s.balance(bed, 2)
	if bs.count <= before && s.value < s.before+1 && !s.short(hopeInsert) {
		if s.refill(bed, 4) {
			s.balance(bed, 1)
		}
	}
	return true
}

// hopeless says that an option can never bring enough in a bed: what it brings on all the ground, less its cost and what
// its family drives out.
func (s *search) hopeless(bed int, option int32) bool {
	o := &s.options[option]
	f := &s.beds[bed]
	top := s.gain(o, float64(f.room(o))*s.scale(bed, option)) - o.cost
	if top < s.floor-hopeInsert {
		return true
	}
	bs := &s.stand[bed]
	for _, it := range bs.items[:bs.count] {
		p := &s.options[it.option]
		if p.families&o.families == 0 || overlap(p, o) {
			continue
		}
		if p.crop == o.crop {
			return false
		}
		if top -= s.loss(bed, it); top < s.floor-hopeInsert {
			return true
		}
	}
	return false
}

// insert puts an option in a bed, making room by taking out and shrinking others.
func (s *search) insert(bed int, option int32) bool {
	f := &s.beds[bed]
	least := int(f.least[option])
	if least == 0 {
		return false
	}
	o := &s.options[option]
	s.makeWay(bed, o)
	room := f.room(o)
	want := least
	if s.dice.below(4) > 0 {
		want, _ = s.mostOf(bed, option, room)
	}
	for {
		free := s.free(bed, o)
		if free >= want {
			break
		}
		if free >= least && s.dice.below(3) > 0 {
			want = free
			break
		}
		if !s.squeeze(bed, o, want) {
			return false
		}
	}
	s.add(bed, option, want)
	return true
}

// makeWay takes out what an option's family or the number of plantings forbids beside it.
func (s *search) makeWay(bed int, o *flatOption) {
	bs := &s.stand[bed]
	for i := 0; i < bs.count; {
		p := &s.options[bs.items[i].option]
		if p.families&o.families != 0 && !overlap(p, o) {
			s.driven = append(s.driven, int32(p.crop))
			s.remove(bed, i)
			continue
		}
		i++
	}
	count := o.count
	for i := range bs.items[:bs.count] {
		count += s.options[bs.items[i].option].count
	}
	for bs.count > 0 && (count > s.beds[bed].most || bs.count >= MostPlantings) {
		i := s.dice.below(bs.count)
		count -= s.options[bs.items[i].option].count
		s.remove(bed, i)
	}
}

// squeeze shrinks or takes out one planting that stands in the fullest week of an option.
func (s *search) squeeze(bed int, o *flatOption, want int) bool {
	bs := &s.stand[bed]
	week := o.start
	for w := o.start + 1; w <= o.end; w++ {
		if bs.free[w] < bs.free[week] {
			week = w
		}
	}
	seen, pick := 0, -1
	for i := range bs.items[:bs.count] {
		p := &s.options[bs.items[i].option]
		if p.start <= week && week <= p.end {
			seen++
			if s.dice.below(seen) == 0 {
				pick = i
			}
		}
	}
	if pick < 0 {
		return false
	}
	it := bs.items[pick]
	left := int(it.units) - (want - int(bs.free[week]))
	least := int(s.beds[bed].least[it.option])
	switch {
	case left >= least && s.dice.below(4) > 0:
		s.resize(bed, pick, left)
	case int(it.units) > least && s.dice.below(3) == 0:
		s.resize(bed, pick, least)
	default:
		s.driven = append(s.driven, int32(s.options[it.option].crop))
		s.remove(bed, pick)
	}
	return true
}

// fits is how many units of an option a bed has free without touching what stands there.
func (s *search) fits(bed int, option int32) int {
	least := int(s.beds[bed].least[option])
	if least == 0 {
		return 0
	}
	o := &s.options[option]
	free := s.free(bed, o)
	if free < least {
		return 0
	}
	bs := &s.stand[bed]
	if bs.count >= MostPlantings {
		return 0
	}
	count := o.count
	for i := range bs.items[:bs.count] {
		p := &s.options[bs.items[i].option]
		if p.families&o.families != 0 && !overlap(p, o) {
			return 0
		}
		count += p.count
	}
	if count > s.beds[bed].most {
		return 0
	}
	return free
}

// refill adds the best of some drawn options that fit.
func (s *search) refill(bed, draws int) bool { return s.bestOf(bed, s.guide.any[bed], draws) }

func (s *search) bestOf(bed int, from *urn, draws int) bool {
	best, option, units := 1e-9, int32(-1), 0
	for range draws {
		o := from.draw(s.dice)
		free := s.fits(bed, o)
		if free == 0 || s.gain(&s.options[o], float64(free)*s.scale(bed, o))-s.options[o].cost <= best {
			continue
		}
		if n, gain := s.mostOf(bed, o, free); gain > best {
			best, option, units = gain, o, n
		}
	}
	if option < 0 {
		return false
	}
	s.add(bed, option, units)
	return true
}

// exchange puts another option of a planting's crop in its stead.
func (s *search) exchange(bed int) bool {
	bs := &s.stand[bed]
	i := s.dice.below(bs.count)
	option := s.guide.crop[bed][s.options[bs.items[i].option].crop].draw(s.dice)
	s.remove(bed, i)
	if !s.insert(bed, option) || s.short(hopeSeat) {
		return false
	}
	if s.seatDriven(bed); s.short(hopeBalance) {
		return false
	}
	s.balance(bed, 2)
	return true
}

// migrate takes a planting to another bed and fills the hole.
func (s *search) migrate(bed, other int) bool {
	bs := &s.stand[bed]
	i := s.dice.below(bs.count)
	option := bs.items[i].option
	if other == bed || s.beds[other].least[option] == 0 {
		return false
	}
	s.remove(bed, i)
	if s.hopeless(other, option) || !s.insert(other, option) || s.short(hopeSeat) {
		return false
	}
	if s.seatDriven(other); s.short(hopeMigrate) {
		return false
	}
	s.balance(other, 2)
	if s.short(hopeMigrate) {
		return false
	}
	s.refill(bed, 6)
	s.balance(bed, 1)
	return true
}

// eject takes a planting out and fills the hole.
func (s *search) eject(bed int) bool {
	s.remove(bed, s.dice.below(s.stand[bed].count))
	s.refill(bed, 4)
	s.refill(bed, 4)
	if s.short(hopeEject) {
		return false
	}
	s.balance(bed, 2)
	return true
}

// resizeAny makes a planting larger or smaller and lets others grow into what it leaves.
func (s *search) resizeAny(bed int) bool {
	bs := &s.stand[bed]
	i := s.dice.below(bs.count)
	it := bs.items[i]
	units := int(it.units) + s.dice.below(9) - 4
	if units < int(s.beds[bed].least[it.option]) || units == int(it.units) || units-int(it.units) > s.free(bed, &s.options[it.option]) {
		return false
	}
	s.resize(bed, i, units)
	for k := range bs.count {
		if k != i {
			s.grow(bed, k)
		}
	}
	return true
}

// clear takes most of a bed's plantings out and fills it anew.
func (s *search) clear(bed int) bool {
	bs := &s.stand[bed]
	for bs.count > 0 && s.dice.below(8) > 0 {
		s.remove(bed, s.dice.below(bs.count))
	}
	for fails := 0; fails < 2; {
		if !s.refill(bed, 5) {
			fails++
		}
	}
	if s.short(hopeEject) {
		return false
	}
	s.balance(bed, 2)
	return true
}

// swapFamilies lets two beds change the plantings of a family each, now and then all of them.
func (s *search) swapFamilies(bed, other int) bool {
	if bed == other || s.stand[other].count == 0 {
		return false
	}
	one, two := s.anyFamily(bed), s.anyFamily(other)
	if s.dice.below(5) == 0 {
		one, two = ^uint64(0), ^uint64(0)
	}
	var leave, come [MostPlantings]int32
	leaving := s.takeOut(bed, one, leave[:0])
	coming := s.takeOut(other, two, come[:0])
	s.putIn(bed, coming)
	s.putIn(other, leaving)
	return true
}

func (s *search) anyFamily(bed int) uint64 {
	bs := &s.stand[bed]
	return s.options[bs.items[s.dice.below(bs.count)].option].families
}

func (s *search) takeOut(bed int, families uint64, out []int32) []int32 {
	bs := &s.stand[bed]
	for i := 0; i < bs.count; {
		option := bs.items[i].option
		if s.options[option].families&families == 0 {
			i++
			continue
		}
		out = append(out, option)
		s.remove(bed, i)
	}
	return out
}

func (s *search) putIn(bed int, options []int32) {
	for _, option := range options {
		if free := s.fits(bed, option); free > 0 {
			if units, gain := s.mostOf(bed, option, free); gain > 0 {
				s.add(bed, option, units)
			}
		}
	}
	s.balance(bed, 2)
	if s.refill(bed, 6) {
		s.balance(bed, 1)
	}
}

// seatDriven gives crops that were driven out other weeks in their bed, or a place in another.
func (s *search) seatDriven(bed int) {
	for _, crop := range s.driven {
		if !s.seat(bed, crop) && s.dice.below(2) == 0 {
			if other := s.bed(); other != bed && s.seat(other, crop) {
				s.balance(other, 1)
			}
		}
	}
}

// seat adds the best of some drawn options of a crop that fit.
func (s *search) seat(bed int, crop int32) bool {
	u := s.guide.crop[bed][crop]
	if u == nil {
		return false
	}
	return s.bestOf(bed, u, seatDraws)
}

// seatDraws is how many weeks a crop driven out is tried in.
const seatDraws = 4
