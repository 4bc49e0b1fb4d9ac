package allot

import "math"

// evaluate is the bound at the prices; with steps, lack is made ready for the next step too.
func (x *prices) evaluate(steps bool) float64 {
	x.weigh()
	total := x.beyondPrices()
	for j := range x.ground {
		clear(x.ground[j])
	}
	for b := range x.Beds {
		bed := &x.Beds[b]
		x.chainOf(b)
		total += x.follow(b, 0, max(0, bed.Area-bed.TakenArea), steps)
		if bed.TakenArea > 0 {
			total += x.follow(b, bed.TakenUntil+1, bed.TakenArea, steps)
		}
	}
	if steps {
		x.countGrown()
	}
	return total
}

// beyondPrices is what the pieces are worth beyond their prices; lack begins with what is wanted.
func (x *prices) beyondPrices() float64 {
	total := 0.0
	for r := range x.rates {
		edge := 0.0
		for k, rate := range x.rates[r] {
			kg := x.edges[r][k] - edge
			edge = x.edges[r][k]
			x.lack[r][k] = 0
			if beyond := rate - x.price[r][k]; beyond > 0 && kg > 0 {
				total += beyond * kg
				x.lack[r][k] = -kg
			}
		}
	}
	return total
}

// chainOf finds the best chain of uses, one after another, from every week of a bed on: a longest path.
func (x *prices) chainOf(bed int) {
	ids, weight := x.bedUses[bed], x.weight[x.areaOf[bed]]
	x.chain[x.Weeks] = 0
	z := len(ids)
	for w := x.Weeks - 1; w >= 0; w-- {
		best, from := x.chain[w+1], int32(-1)
		for ; z > 0 && x.Options[x.uses[ids[z-1]].option].Start == w; z-- {
			id := ids[z-1]
			if v := weight[id] + x.chain[x.uses[id].end+1]; v > best {
				best, from = v, id
			}
		}
		x.chain[w], x.from[w] = best, from
	}
}

// follow is what some area of a bed earns from a week on, taking note of the ground used.
func (x *prices) follow(bed, week int, area float64, note bool) float64 {
	earned := area * x.chain[week]
	if !note {
		return earned
	}
	ground := x.ground[x.areaOf[bed]]
	for week < x.Weeks {
		id := x.from[week]
		if id < 0 {
			week++
			continue
		}
		ground[id] += area
		week = x.uses[id].end + 1
	}
	return earned
}

// countGrown adds what the ground used grows, in plantings of the best area.
func (x *prices) countGrown() {
	for class, ground := range x.ground {
		for i, area := range ground {
			if area == 0 {
				continue
			}
			u := &x.uses[i]
			best := u.bestArea[class]
			plantings := area / best
			for k := range u.corners {
				c := &u.corners[k]
				kg := min(best, c.area) * c.kg
				if c.piece > 0 {
					kg -= x.edges[c.row][c.piece-1]
				}
				if kg > 0 {
					x.lack[c.row][c.piece] += kg * plantings
				}
			}
		}
	}
}

// leveller says how far to step. At first the steps aim a share below the least bound so far, which finds the neighbourhood
// fast; then at a fixed aim by a share of Polyak's step that shortens when steps bring nothing.
type leveller struct {
	depth float64 // of the first aim below the least bound, as a share of it
	aim   float64 // a value the bound may come near
	share float64 // of Polyak's step taken
	fails int
}

// Steps, found by trial on problems of four sizes.
const (
	firstDepth    = 0.06
	lastDepth     = 5e-3
	firstPatience = 12   // steps in vain before the first aim comes nearer
	aimBelow      = 0.97 // fixed aim, as a share of the least bound so far
	firstShare    = 0.3
	patience      = 30
	shorter       = 0.7
	shortest      = 1e-3
	heavy         = 0.7 // share of the direction before that is kept
)

// improve takes up to n steps of deflected subgradient towards the aim and says whether there is more to gain.
func (x *prices) improve(n int) bool {
	l := &x.level
	if l.depth == 0 {
		l.depth = firstDepth
	}
	for range n {
		value := x.evaluate(true)
		if value < x.least-1e-9 {
			if value < x.least*(1-1e-5)-1e-9 {
				l.fails = 0
			}
			x.least = value
			copy(x.leastAt, x.price)
		} else {
			l.fails++
		}
		if l.share == 0 && l.fails > firstPatience || l.fails > patience {
			l.fails = 0
			copy(x.price, x.leastAt)
			clear(x.direction)
			switch {
			case l.share > 0:
				l.share *= shorter
			case l.depth > lastDepth:
				l.depth *= 0.5
			default:
				l.share, l.aim = firstShare, aimBelow*x.least
			}
			if l.share > 0 && l.share < shortest {
				return false
			}
			continue
		}
		above := value - x.least*(1-l.depth)
		if l.share > 0 {
			above = l.share * (value - l.aim)
		}
		if !x.step(above) {
			return false
		}
	}
	return true
}

// step moves the prices along the direction by Polyak's rule.
func (x *prices) step(above float64) bool {
	norm := 0.0
	for r := range x.direction {
		for k := range x.direction[r] {
			d := heavy*x.direction[r][k] + (1-heavy)*x.lack[r][k]
			if x.price[r][k] <= 0 && d > 0 {
				d = 0
			}
			x.direction[r][k] = d
			norm += d * d * x.ease[r][k]
		}
	}
	if norm == 0 || above <= 0 {
		return false
	}
	length := above / norm
	for r := range x.price {
		p := &x.price[r]
		for k := range p {
			p[k] = min(max(0, p[k]-length*x.direction[r][k]*x.ease[r][k]), x.rates[r][k])
		}
		fall(p)
	}
	return true
}

// fall makes prices that rise from piece to piece level, at the mean of those that do.
func fall(p *[MostPieces]float64) {
	for k := 1; k < MostPieces; k++ {
		for j, sum := k-1, p[k]; j >= 0 && p[j] < p[k]; j-- {
			sum += p[j]
			mean := sum / float64(k-j+1)
			for m := j; m <= k; m++ {
				p[m] = mean
			}
		}
	}
}

// Bound is a value that no plan of a problem can exceed, the least found in so many steps or until stop says so.
func Bound(p *Problem, steps int, stop func() bool) float64 {
	x := newPrices(p)
	x.run(steps, stop)
	return x.proven()
}

const stepsBetweenLooks = 8

func (x *prices) run(steps int, stop func() bool) {
	for done := 0; done < steps; done += stepsBetweenLooks {
		if !x.improve(min(stepsBetweenLooks, steps-done)) || stop != nil && stop() {
			break
		}
	}
	copy(x.price, x.leastAt)
}

// proven is the bound with room for the rounding of its sums.
func (x *prices) proven() float64 {
	if math.IsInf(x.least, 1) {
		x.least = x.evaluate(false)
	}
	return x.least + 1e-9*math.Abs(x.least)
}
