package allot

import "math/bits"

// dice draws numbers from a seed, the same on every machine.
type dice struct{ a, b uint64 }

func newDice(seed uint64) *dice {
	d := &dice{seed*0x9E3779B97F4A7C15 + 1, seed ^ 0xD1B54A32D192ED03}
	for range 8 {
		d.next()
	}
	return d
}

// next is the xorshift128+ generator.
func (d *dice) next() uint64 {
	x, y := d.a, d.b
	d.a = y
	x ^= x << 23
	d.b = x ^ y ^ (x >> 17) ^ (y >> 26)
	return d.b + y
}

// below draws 0 to n−1.
func (d *dice) below(n int) int {
	hi, _ := bits.Mul64(d.next(), uint64(n))
	return int(hi)
}

// share draws from 0 to below 1.
func (d *dice) share() float64 { return float64(d.next()>>11) / (1 << 53) }

// urn draws options by weight, in one step (the alias method).
type urn struct {
	options []int32
	limit   []float64
	other   []int32
}

func newUrn(options []int32, weights []float64) *urn {
	n := len(options)
	u := &urn{options: options, limit: make([]float64, n), other: make([]int32, n)}
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	var small, large []int
	for i, w := range weights {
		u.limit[i] = w / sum * float64(n)
		u.other[i] = options[i]
		if u.limit[i] < 1 {
			small = append(small, i)
		} else {
			large = append(large, i)
		}
	}
	for len(small) > 0 && len(large) > 0 {
		s, l := small[len(small)-1], large[len(large)-1]
		small = small[:len(small)-1]
		u.other[s] = options[l]
		u.limit[l] -= 1 - u.limit[s]
		if u.limit[l] < 1 {
			large = large[:len(large)-1]
			small = append(small, l)
		}
	}
	for _, i := range small {
		u.limit[i] = 1
	}
	return u
}

func (u *urn) draw(d *dice) int32 {
	x := d.share() * float64(len(u.options))
	i := int(x)
	if x-float64(i) < u.limit[i] {
		return u.options[i]
	}
	return u.other[i]
}
