package allot

import (
	"bytes"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// At any prices that fall from piece to piece the bound holds.
func TestBoundHoldsAtAnyPrices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64Range(0, 40).Draw(t, "seed")
		p := problemOf(t, seed, rapid.IntRange(1, 5).Draw(t, "beds"), rapid.IntRange(2, 9).Draw(t, "crops"))
		x := newPrices(p)
		for r := range x.price {
			share := rapid.Float64Range(0, 1.2).Draw(t, "share")
			for k := range x.price[r] {
				x.price[r][k] = x.rates[r][k] * share
			}
		}
		found := Find(p, seed, Effort{Steps: rapid.IntRange(0, 3000).Draw(t, "steps")})
		if bound := x.evaluate(false); bound < found.Value-1e-9*math.Abs(found.Value) {
			t.Fatalf("bound %g below a plan of %g", bound, found.Value)
		}
	})
}

// At the same prices more ground, light, season and fewer families in the history never lower the bound.
func TestBoundGrowsWithTheGarden(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed := rapid.Uint64Range(0, 40).Draw(t, "seed")
		p := problemOf(t, seed, rapid.IntRange(1, 5).Draw(t, "beds"), rapid.IntRange(2, 9).Draw(t, "crops"))
		x := newPrices(p)
		x.improve(rapid.IntRange(0, 30).Draw(t, "steps"))
		before := x.evaluate(false)
		bed := &p.Beds[rapid.IntRange(0, len(p.Beds)-1).Draw(t, "bed")]
		switch rapid.IntRange(0, 3).Draw(t, "what") {
		case 0:
			bed.Area *= 1.3
		case 1:
			bed.Sun = 2
		case 2:
			bed.History = 0
		case 3:
			bed.TakenArea = 0
		}
		y := newPrices(p)
		copy(y.price, x.price)
		if after := y.evaluate(false); after < before-1e-9*before {
			t.Fatalf("bound falls from %g to %g", before, after)
		}
	})
}

func TestBoundTightens(t *testing.T) {
	p, _ := invented(t, 2, 12, 24)
	last := math.Inf(1)
	for _, steps := range []int{1, 10, 100, 400} {
		bound := Bound(p, steps, nil)
		if bound > last+1e-6 {
			t.Errorf("%d steps: %g, fewer gave %g", steps, bound, last)
		}
		last = bound
	}
}

func TestPricesFall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p [MostPieces]float64
		sum := 0.0
		for k := range p {
			p[k] = rapid.Float64Range(0, 9).Draw(t, "price")
			sum += p[k]
		}
		fall(&p)
		for k := 1; k < MostPieces; k++ {
			sum -= p[k]
			if p[k] > p[k-1]+1e-12 {
				t.Fatalf("%v rises", p)
			}
		}
		if math.Abs(sum-p[0]) > 1e-9 {
			t.Fatalf("%v: the sum changed", p)
		}
	})
}

func problemOf(t *rapid.T, seed uint64, beds, crops int) *Problem {
	p, err := Read(bytes.NewReader(Invent(seed, beds, crops)))
	if err != nil {
		t.Fatal(err)
	}
	return p
}
