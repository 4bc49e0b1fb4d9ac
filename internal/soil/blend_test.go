package soil_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// plainOffer is an invented product of which crops find all; price by the kilogram.
func plainOffer(id string, g soil.Grade, salt, price float64) soil.Offer {
	m := soil.Material{ID: id, Name: id, Family: soil.Fertiliser}
	if salt > 0 {
		m.Salt = &soil.Figure{Value: salt}
	}
	return soil.Offer{Material: m, Name: id, Grade: g, Sizes: []soil.Size{{Mass: 1, Price: price}}}
}

// grams makes a supply from grams a square metre.
func gramsOf(n, p, k float64) soil.Supply {
	return soil.Supply{N: quantity.KilogramPerSquareMetre(n / 1000), P2O5: quantity.KilogramPerSquareMetre(p / 1000), K2O: quantity.KilogramPerSquareMetre(k / 1000)}
}

func blend(t *testing.T, target soil.Demand, offers ...soil.Offer) (soil.Mix, map[string]float64) {
	t.Helper()
	mix, err := soil.Blend(target, offers)
	if err != nil {
		t.Fatal(err)
	}
	of := map[string]float64{}
	for _, p := range mix.Parts {
		of[p.Offer.Name] += float64(p.Now + p.Later)
	}
	return mix, of
}

// TestBlendOfThreeAgainstPublished: 19-19-19 from diammonium phosphate, urea and potassium chloride, in a batch of 100 kg
// (a question and answer seen in a stored copy; rounded to 0.1 kg there).
func TestBlendOfThreeAgainstPublished(t *testing.T) {
	mix, of := blend(t, soil.Demand{Need: soil.Supply{N: 19, P2O5: 19, K2O: 19}, Salt: 1e4},
		plainOffer("DAP", soil.Grade{N: 18, P2O5: 46}, 0, 0), plainOffer("urea", soil.Grade{N: 46}, 0, 0), plainOffer("KCl", soil.Grade{K2O: 60}, 0, 0))
	near(t, "KCl", of["KCl"], 31.7, 0.1)
	near(t, "DAP", of["DAP"], 41.3, 0.1)
	near(t, "urea", of["urea"], 25.2, 0.1)
	near(t, "together", of["KCl"]+of["DAP"]+of["urea"], 98.2, 0.1)
	near(t, "unmet", float64(mix.Unmet.N), 0, 1e-6)
}

// TestBlendPerHectareAgainstPublished: 125-68.125-125 kg/ha from 18-46-0, 21-0-53 and 34-0-0 (a question and answer of
// 2018 seen in a stored copy; it truncates on the way, so within 0.12).
func TestBlendPerHectareAgainstPublished(t *testing.T) {
	_, of := blend(t, soil.Demand{Need: soil.Supply{N: 125, P2O5: 68.125, K2O: 125}, Salt: 1e4},
		plainOffer("A", soil.Grade{N: 18, P2O5: 46}, 0, 0), plainOffer("B", soil.Grade{N: 21, K2O: 53}, 0, 0), plainOffer("C", soil.Grade{N: 34}, 0, 0))
	near(t, "A", of["A"], 148.09, 0.12)
	near(t, "B", of["B"], 235.84, 0.12)
	near(t, "C", of["C"], 143.64, 0.12)
	near(t, "together", of["A"]+of["B"]+of["C"], 527.57, 0.12)
}

// TestBlendOfPhosphateAndSulfate: 3 lb of nitrogen and 1 lb of phosphate on 1000 sq ft from 11-55-0 and 21-0-0 (an
// article on a plot of 25 by 25 ft seen in a stored copy; one decimal).
func TestBlendOfPhosphateAndSulfate(t *testing.T) {
	_, of := blend(t, soil.Demand{Need: soil.Supply{N: 3, P2O5: 1}, Salt: 1e4},
		plainOffer("MAP", soil.Grade{N: 11, P2O5: 55}, 0, 0), plainOffer("AS", soil.Grade{N: 21}, 0, 0))
	near(t, "MAP", of["MAP"], 1.8, 0.05)
	near(t, "nitrogen of the MAP", of["MAP"]*0.11, 0.2, 0.01)
	near(t, "AS", of["AS"], 13.3, 0.1)
}

// TestBlendAgainstGeneralSolvers: optima of the same programs, stated on their own as text and solved by GLPK 5.0
// (glpsol) and CBC 2.10.8, which agree to every digit printed. Prices and products are invented.
func TestBlendAgainstGeneralSolvers(t *testing.T) {
	a := plainOffer("A", soil.Grade{N: 10, P2O5: 10, K2O: 10}, 50, 0.9)
	b := plainOffer("B", soil.Grade{N: 5, P2O5: 10, K2O: 5}, 30, 0.8)
	c := plainOffer("C", soil.Grade{N: 21}, 69, 1.2)
	d := plainOffer("D", soil.Grade{P2O5: 46}, 10.1, 2.0)
	e := plainOffer("E", soil.Grade{K2O: 50}, 42.6, 2.6)
	f := plainOffer("F", soil.Grade{N: 12, P2O5: 1}, 0, 4.0)
	f.Material.First = &soil.Figure{Value: 70}
	six := []soil.Offer{a, b, c, d, e, f}
	for _, one := range []struct {
		name   string
		target soil.Demand
		offers []soil.Offer
		cost   float64 // thousandths of the money's unit
		unmet  float64 // weighted: nitrogen four times; g/m²
	}{
		{"plenty", soil.Demand{Need: gramsOf(14, 11, 9), Later: 0.006, Over: gramsOf(.7, 1.65, 1.35), Salt: 0.040, Times: 2}, six, 116.8332298, 0},
		{"little salt", soil.Demand{Need: gramsOf(14, 11, 9), Later: 0.006, Over: gramsOf(.7, 1.65, 1.35), Salt: 0.015, Times: 1}, six, 500.5796796, 0},
		{"no phosphate", soil.Demand{Need: gramsOf(20, 0, 5), Later: 0.008, Over: gramsOf(1, 0, 2), Salt: 0.060, Times: 2}, six, 140.2857143, 0},
		{"not to be met", soil.Demand{Need: gramsOf(14, 4, 9), Later: 0.006, Over: gramsOf(.7, .6, 1.35), Salt: 0.040, Times: 2}, []soil.Offer{a, b}, 41.4, 42},
	} {
		mix, _ := blend(t, one.target, one.offers...)
		near(t, one.name+": cost", mix.Cost*1000, one.cost, 1e-4*(1+one.cost))
		near(t, one.name+": unmet", 1000*(4*float64(mix.Unmet.N)+float64(mix.Unmet.P2O5+mix.Unmet.K2O)), one.unmet, 1e-3)
	}
}

// TestBlendAgainstBruteForce: on a grid of whole steps of two or three products no point inside the limits leaves less
// unmet, or costs less with as little unmet.
func TestBlendAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var offers []soil.Offer
		for i := range rapid.IntRange(1, 3).Draw(r, "offers") {
			draw := func(name string) float64 {
				return float64(rapid.IntRange(0, 20).Draw(r, fmt.Sprint(name, i)))
			}
			offers = append(offers, plainOffer(fmt.Sprint(i), soil.Grade{N: draw("n"), P2O5: draw("p"), K2O: draw("k")}, draw("salt")*4, 1+draw("price")))
		}
		draw := func(name string) float64 { return float64(rapid.IntRange(0, 12).Draw(r, name)) }
		target := soil.Demand{Need: gramsOf(draw("N"), draw("P"), draw("K")), Over: gramsOf(draw("oN")/4, draw("oP")/4, draw("oK")/4), Salt: quantity.KilogramPerSquareMetre(draw("salt") * 8 / 1000)}
		mix, err := soil.Blend(target, offers)
		if err != nil {
			r.Fatal(err)
		}
		got := score{weighted(mix.Unmet), mix.Cost * 1000}
		holds(r, target, offers, mix)
		best := bruteForce(target, offers)
		if best.unmet < got.unmet-1e-4 || best.unmet <= got.unmet+1e-9 && best.cost < got.cost-1e-4*(1+got.cost) {
			r.Fatalf("the program finds %+v, a grid point has %+v", got, best)
		}
	})
}

type score struct{ unmet, cost float64 }

// weighted is what is unmet in g/m², nitrogen counted four times.
func weighted(s soil.Supply) float64 {
	return 1000 * (4*float64(s.N) + float64(s.P2O5) + float64(s.K2O))
}

// holds refuses a mix outside the target's limits, by arithmetic of its own.
func holds(r *rapid.T, target soil.Demand, offers []soil.Offer, mix soil.Mix) {
	var n, p, k, salt float64
	for _, part := range mix.Parts {
		g := float64(part.Now+part.Later) * 1000
		n, p, k = n+g*part.Offer.Grade.N/100, p+g*part.Offer.Grade.P2O5/100, k+g*part.Offer.Grade.K2O/100
		if part.Offer.Material.Salt != nil {
			salt += g * part.Offer.Material.Salt.Value / 100
		}
	}
	const dust = 1e-4
	for _, over := range []float64{
		n - 1000*float64(target.Need.N+target.Over.N), p - 1000*float64(target.Need.P2O5+target.Over.P2O5), k - 1000*float64(target.Need.K2O+target.Over.K2O), salt - 1000*float64(target.Salt),
	} {
		if over > dust {
			r.Fatalf("a limit is exceeded by %g g/m²: %+v", over, mix)
		}
	}
	for _, v := range []float64{n - 1000*float64(mix.Supplied.N), p - 1000*float64(mix.Supplied.P2O5), k - 1000*float64(mix.Supplied.K2O)} {
		if math.Abs(v) > dust {
			r.Fatalf("what is said to come in is %g g/m² off", v)
		}
	}
}

func bruteForce(target soil.Demand, offers []soil.Offer) score {
	const steps, step = 24, 5. // g/m²
	best := score{math.Inf(1), math.Inf(1)}
	counts := make([]int, len(offers))
	var try func(i int)
	try = func(i int) {
		if i < len(offers) {
			for counts[i] = 0; counts[i] <= steps; counts[i]++ {
				try(i + 1)
			}
			return
		}
		var n, p, k, salt, cost float64
		for j, o := range offers {
			g := float64(counts[j]) * step
			n, p, k = n+g*o.Grade.N/100, p+g*o.Grade.P2O5/100, k+g*o.Grade.K2O/100
			cost += g * o.Sizes[0].Price
			if o.Material.Salt != nil {
				salt += g * o.Material.Salt.Value / 100
			}
		}
		of := func(s quantity.KilogramPerSquareMetre) float64 { return 1000 * float64(s) }
		if n > of(target.Need.N+target.Over.N) || p > of(target.Need.P2O5+target.Over.P2O5) || k > of(target.Need.K2O+target.Over.K2O) || salt > of(target.Salt) {
			return
		}
		unmet := 4*math.Max(0, of(target.Need.N)-n) + math.Max(0, of(target.Need.P2O5)-p) + math.Max(0, of(target.Need.K2O)-k)
		if unmet < best.unmet-1e-9 || unmet <= best.unmet+1e-9 && cost < best.cost {
			best = score{unmet, cost}
		}
	}
	try(0)
	return best
}

// TestBlendBalances: whatever is asked of whatever products, what comes in is the need less the unmet with the excess,
// nothing goes over what is allowed, and nothing is below zero.
func TestBlendBalances(t *testing.T) {
	offers, _ := soil.Offers(nil, soil.Choice{})
	natural, _ := soil.Offers(nil, soil.Choice{Natural: true})
	rapid.Check(t, func(r *rapid.T) {
		some := offers
		if rapid.Bool().Draw(r, "natural") {
			some = natural
		}
		figure := func(name string) float64 { return rapid.Float64Range(0, 40).Draw(r, name) }
		target := soil.Demand{Need: gramsOf(figure("n"), figure("p"), figure("k")), Over: gramsOf(figure("on")/10, figure("op")/10, figure("ok")/10),
			Salt: quantity.KilogramPerSquareMetre(figure("salt") / 200), Times: rapid.IntRange(1, 4).Draw(r, "times")}
		target.Later = target.Need.N * quantity.KilogramPerSquareMetre(rapid.Float64Range(0, 1).Draw(r, "later"))
		mix, err := soil.Blend(target, some)
		if err != nil {
			r.Fatal(err)
		}
		if err := mix.Balance(); err != nil {
			r.Fatal(err)
		}
		for _, v := range []quantity.KilogramPerSquareMetre{mix.Excess.N - target.Over.N, mix.Excess.P2O5 - target.Over.P2O5, mix.Excess.K2O - target.Over.K2O} {
			if v > 1e-7 {
				r.Fatalf("over what is allowed by %g: %+v", v, mix)
			}
		}
		for _, p := range mix.Parts {
			if p.Now < 0 || p.Later < 0 {
				r.Fatalf("a material is taken away: %+v", p)
			}
		}
	})
}

func TestBlendRefusesNonsense(t *testing.T) {
	for name, target := range map[string]soil.Demand{
		"below zero": {Need: soil.Supply{N: -1}}, "not a number": {Salt: quantity.KilogramPerSquareMetre(math.NaN())}, "more later than at all": {Need: gramsOf(1, 0, 0), Later: 1},
	} {
		if _, err := soil.Blend(target, nil); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
	mix, err := soil.Blend(soil.Demand{Need: gramsOf(1, 2, 3)}, nil)
	if err != nil || mix.Unmet != gramsOf(1, 2, 3) {
		t.Errorf("with nothing to choose from all is unmet: %+v %v", mix, err)
	}
}
