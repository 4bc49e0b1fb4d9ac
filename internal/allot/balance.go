package allot

// rate is what one unit more brings a planting and one unit less costs it.
type rate struct{ up, down float64 }

// never is the cost of what cannot be had.
const never = 1e9

func (s *search) rateOf(bed, i int) rate {
	it := &s.stand[bed].items[i]
	o := &s.options[it.option]
	scale := s.scale(bed, it.option)
	if it.units <= s.beds[bed].least[it.option] {
		return rate{s.gain(o, scale), never}
	}
	up, down := s.gains(o, scale)
	return rate{up, -down}
}

// grow makes a planting larger while it pays and ground is free.
func (s *search) grow(bed, i int) bool {
	it := &s.stand[bed].items[i]
	o := &s.options[it.option]
	free := s.free(bed, o)
	if free == 0 {
		return false
	}
	scale := s.scale(bed, it.option)
	more, gain := 0, 1e-9
	for step := 4; step >= 1; step /= 2 {
		for more+step <= free {
			g := s.gain(o, float64(more+step)*scale)
			if g <= gain {
				break
			}
			more, gain = more+step, g
		}
	}
	if more == 0 {
		return false
	}
	s.resize(bed, i, int(it.units)+more)
	return true
}

// balance shifts ground in a bed to where it brings most.
func (s *search) balance(bed, passes int) {
	bs := &s.stand[bed]
	for range passes {
		moved := false
		for i := range bs.count {
			if s.grow(bed, i) {
				moved = true
			}
		}
		for i := range bs.count {
			s.rates[i] = s.rateOf(bed, i)
		}
		for i := range bs.count {
			if s.rates[i].up <= 1e-9 {
				s.trim(bed, i)
				continue
			}
			for s.takeGround(bed, i) {
				moved = true
			}
		}
		if !moved {
			return
		}
	}
}

// trim gives up ground that brings nothing.
func (s *search) trim(bed, i int) {
	for s.rates[i].down <= 1e-12 {
		s.resize(bed, i, int(s.stand[bed].items[i].units)-1)
		s.rates[i] = s.rateOf(bed, i)
	}
}

// takeGround gives a planting one unit more by taking one from each of the plantings that stand in its way, those that
// lose least, if it gains more than they lose.
func (s *search) takeGround(bed, i int) bool {
	bs := &s.stand[bed]
	o := &s.options[bs.items[i].option]
	up := s.rates[i].up
	var givers [MostPlantings]int
	n, cost := 0, 0.0
	for w := o.start; w <= o.end; w++ {
		if bs.free[w] > 0 {
			continue
		}
		least, giver, end := up-cost-1e-9, -1, 0
		for j := range bs.items[:bs.count] {
			if j == i || s.rates[j].down >= least {
				continue
			}
			if p := &s.options[bs.items[j].option]; p.start <= w && w <= p.end {
				least, giver, end = s.rates[j].down, j, p.end
			}
		}
		if giver < 0 {
			return false
		}
		givers[n] = giver
		n++
		cost += least
		w = end
	}
	for _, j := range givers[:n] {
		s.resize(bed, j, int(bs.items[j].units)-1)
	}
	s.resize(bed, i, int(bs.items[i].units)+1)
	for _, j := range givers[:n] {
		s.rates[j] = s.rateOf(bed, j)
	}
	s.rates[i] = s.rateOf(bed, i)
	return s.rates[i].up > 1e-9
}
