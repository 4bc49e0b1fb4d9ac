package allot

import "math"

// evaluate is the bound at the prices; with steps, lack is made ready for the next step too.
func (x *Prices) evaluate(steps bool) float64 {
	x.weigh()
	total := x.beyondPrices() + x.alreadyHad(steps)
	for j := range x.ground {
		clear(x.ground[j])
	}
	for i, g := range x.order {
		if i == 0 || !x.alike(x.order[i-1], g) {
			x.chainOf(g)
		}
		for _, part := range x.Grounds[g].Parts {
			total += x.follow(g, part.From, part.Area, steps)
		}
	}
	if steps {
		x.countGrown()
	}
	return total
}

// beyondPrices is what the pieces are worth beyond their prices; lack begins with what is wanted.
func (x *Prices) beyondPrices() float64 {
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

// alreadyHad is what is paid for the harvest that is there already.
func (x *Prices) alreadyHad(note bool) float64 {
	total := 0.0
	for s := range x.Supplies {
		edge := 0.0
		for k, reach := range x.reach[s] {
			kg := min(x.Supplies[s].Had, reach) - edge
			if kg <= 0 {
				break
			}
			edge = reach
			total += x.paid[s][k] * kg
			if note {
				x.lack[x.payer[s][k]][k] += kg
			}
		}
	}
	return total
}

// chainOf finds the best chain of uses, one after another and none of a family of the one before, from every time of a
// ground on: a longest path. Beside the best it keeps the best that begins with other families.
func (x *Prices) chainOf(ground int) {
	ids, weight := x.Grounds[ground].Uses, x.weight[x.areaOf[ground]]
	best, other := x.chain[0], x.chain[1]
	first, second := x.from[0], x.from[1]
	best[x.Times], other[x.Times], x.head[x.Times] = 0, 0, 0
	z := len(ids)
	for t := x.Times - 1; t >= 0; t-- {
		best[t], other[t], first[t], second[t], x.head[t] = best[t+1], other[t+1], -1, -1, x.head[t+1]
		for ; z > 0 && x.uses[ids[z-1]].start == t; z-- {
			id := ids[z-1]
			u := &x.uses[id]
			v := weight[id] + x.after(u)
			switch {
			case v > best[t]:
				if u.families != x.head[t] {
					other[t], second[t] = best[t], first[t]
					if first[t] < 0 {
						second[t] = toBest
					}
				}
				best[t], first[t], x.head[t] = v, id, u.families
			case v > other[t] && u.families != x.head[t]:
				other[t], second[t] = v, id
			}
		}
	}
}

// toBest: the next best from a time is the best from the time after.
const toBest = -2

// after is the best that may follow a use.
func (x *Prices) after(u *use) float64 {
	if x.head[u.end]&u.families != 0 {
		return x.chain[1][u.end]
	}
	return x.chain[0][u.end]
}

// follow is what some area of a ground earns from a time on, taking note of the ground used.
func (x *Prices) follow(ground, time int, area float64, note bool) float64 {
	earned := area * x.chain[0][time]
	if !note {
		return earned
	}
	class := x.areaOf[ground]
	used := x.ground[class]
	for time, k := time, 0; time < x.Times; {
		id := x.from[k][time]
		if id < 0 {
			time++
			if id == toBest {
				k = 0
			}
			continue
		}
		used[id] += area
		if g := x.Uses[id].Friends; g >= 0 && x.friend[class][g] >= 0 {
			used[x.friend[class][g]] += area
		}
		u := &x.uses[id]
		time, k = u.end, 0
		if x.head[time]&u.families != 0 {
			k = 1
		}
	}
	return earned
}

// countGrown adds what the ground used grows, in plantings of the best area.
func (x *Prices) countGrown() {
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
				if c.supply < 0 {
					continue
				}
				kg := min(best, c.area) * c.kg
				if c.piece > 0 {
					kg -= x.reach[c.supply][c.piece-1]
				}
				if kg > 0 {
					x.lack[x.payer[c.supply][c.piece]][c.piece] += kg * plantings
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
func (x *Prices) improve(n int) bool {
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
func (x *Prices) step(above float64) bool {
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
	x.Lower(steps, stop)
	return x.Proven()
}

const stepsBetweenLooks = 8

// Lower looks for prices at which the bound is lower, in so many steps or until stop says so.
func (x *Prices) Lower(steps int, stop func() bool) {
	for done := 0; done < steps; done += stepsBetweenLooks {
		if !x.improve(min(stepsBetweenLooks, steps-done)) || stop != nil && stop() {
			break
		}
	}
	copy(x.price, x.leastAt)
}

// Proven is the least bound found, with room for the rounding of its sums.
func (x *Prices) Proven() float64 {
	if math.IsInf(x.least, 1) {
		x.least = x.evaluate(false)
	}
	return x.least + 1e-9*math.Abs(x.least)
}
