package soil

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Portion is a fresh weight of a feedstock, as the mixture formulas take it.
type Portion struct {
	Fresh    quantity.Kilogram
	Moisture float64 // per cent of fresh weight
	Carbon   float64 // per cent of dry weight
	Nitrogen float64 // per cent of dry weight
}

// MixtureRatio is the carbon to nitrogen of a mixture; 0 where there is no nitrogen in it.
//
//	R = Σ Qi·Ci·(100 − Mi) / Σ Qi·Ni·(100 − Mi)
//
// Source: CORNELL-CN
func MixtureRatio(parts []Portion) float64 {
	var carbon, nitrogen float64
	for _, p := range parts {
		dry := float64(p.Fresh) * (100 - p.Moisture)
		carbon += dry * p.Carbon
		nitrogen += dry * p.Nitrogen
	}
	if nitrogen <= 0 {
		return 0
	}
	return carbon / nitrogen
}

// MixtureMoisture is the water of a mixture, per cent of its fresh weight.
//
//	G = Σ Qi·Mi / Σ Qi
//
// Source: CORNELL-CN
func MixtureMoisture(parts []Portion) float64 {
	var water, fresh float64
	for _, p := range parts {
		water += float64(p.Fresh) * p.Moisture
		fresh += float64(p.Fresh)
	}
	if fresh <= 0 {
		return 0
	}
	return water / fresh
}

// ForMoisture is how much of a second feedstock brings a first to a moisture: Q2 = (Q1·G − Q1·M1) / (M2 − G).
// Where the second lies on the same side of the goal as the first, no amount does, and it says so.
//
// Source: CORNELL-CN
func ForMoisture(first quantity.Kilogram, m1, m2, goal float64) (quantity.Kilogram, error) {
	q := float64(first) * (goal - m1) / (m2 - goal)
	if !(q >= 0) || math.IsInf(q, 0) {
		return 0, fmt.Errorf("with %.0f %% water in one and %.0f %% in the other no mixture has %.0f %%", m1, m2, goal)
	}
	return quantity.Kilogram(q), nil
}

// ForRatio is how much of a second feedstock brings a first to a ratio of carbon to nitrogen:
//
//	Q2 = Q1·N1·(R − C1/N1)·(100 − M1) / (N2·(C2/N2 − R)·(100 − M2))
//
// Source: CORNELL-CN
func ForRatio(first, second Portion, ratio float64) (quantity.Kilogram, error) {
	above := float64(first.Fresh) * (ratio*first.Nitrogen - first.Carbon) * (100 - first.Moisture)
	below := (second.Carbon - ratio*second.Nitrogen) * (100 - second.Moisture)
	q := above / below
	if !(q >= 0) || math.IsInf(q, 0) {
		return 0, fmt.Errorf("both lie on the same side of %.0f to 1: no mixture of the two has it", ratio)
	}
	return quantity.Kilogram(q), nil
}

// WaterToAdd is the water, kg or litres, that brings a fresh weight to a moisture; 0 where it is as wet already.
func WaterToAdd(fresh quantity.Kilogram, moisture, goal float64) quantity.Litre {
	if goal >= 100 || moisture >= goal {
		return 0
	}
	return quantity.Litre(float64(fresh) * (goal - moisture) / (100 - goal))
}

// The bounds of a heap that heats: carbon to nitrogen and moisture; best, and what will do.
//
// Source: COOPERBAND
const (
	bestRatioLow, bestRatioHigh = 25.0, 35.0
	someRatioLow, someRatioHigh = 20.0, 40.0
	bestWater                   = 55.0
	mostWater                   = 60.0
	someWater                   = 65.0
)

// What becomes of a heap's volume. Source: none, common practice: it packs to about four fifths when it is built and wetted,
// and comes out at a third to a half of what went in.
const (
	packed             = 0.8
	leftLow, leftHigh  = 0.33, 0.5
	heats              = 700.0 // litres built: about 3 ft each way, less cools as fast as it heats
	handled            = 2000.0
	soakedWeightAtMost = 0.65 // kg/L at which a heap is too dense for air; COOPERBAND's 1000 lb to a cubic yard
)

// MixedPart is one feedstock of a heap.
type MixedPart struct {
	Feedstock Feedstock
	Volume    quantity.Litre // loose, of what there is
	Left      quantity.Litre // of it that is not used
	Mass      quantity.Kilogram
}

// HeapMix is a heap made of what there is.
type HeapMix struct {
	Parts    []MixedPart
	Ratio    float64        // carbon to nitrogen
	Moisture float64        // per cent, before water is added
	Water    quantity.Litre // to add while building
	In       quantity.Litre // loose volume of what goes in
	Built    quantity.Litre // of the heap as it stands
	OutLow   quantity.Litre // ripe compost
	OutHigh  quantity.Litre

	Best     bool // within the best bounds, not only those that will do
	Short    string
	Doubts   []string
	Reasons  []garden.Reason
	Cautions []string
}

// MixHeap chooses volumes of what there is for the largest heap whose ratio and moisture are right: a linear program that
// uses as much as it can. Where the best bounds use less than half of what those that will do use, the wider are taken. Where no heap
// at all can be made, everything is listed as it stands with what is missing.
func MixHeap(have []garden.HeapPart, units quantity.System) (HeapMix, error) {
	parts, err := feedstocksOf(have)
	if err != nil {
		return HeapMix{}, err
	}
	best := chooseVolumes(parts, bestRatioLow, bestRatioHigh, mostWater)
	some := chooseVolumes(parts, someRatioLow, someRatioHigh, someWater)
	h := HeapMix{Best: true}
	chosen := best
	if total(best) < total(some)/2 {
		h.Best, chosen = false, some
	}
	if total(chosen) <= 0 {
		h.Best = false
		for i := range chosen {
			chosen[i] = float64(parts[i].Volume)
		}
		h.missing(parts, units)
	}
	for i, p := range parts {
		p.Left = p.Volume - quantity.Litre(chosen[i])
		p.Volume = quantity.Litre(chosen[i])
		if float64(p.Left) < 1e-6 {
			p.Left = 0
		}
		p.Mass = quantity.Kilogram(float64(p.Volume) * p.Feedstock.Density)
		h.Parts = append(h.Parts, p)
	}
	h.sum()
	h.tell(units)
	return h, nil
}

func feedstocksOf(have []garden.HeapPart) (parts []MixedPart, err error) {
	if len(have) == 0 {
		return nil, errors.New("say what there is for the heap: a feedstock and its volume")
	}
	for _, p := range have {
		if err := p.Validate().Err(); err != nil {
			return nil, err
		}
		f, ok := FindFeedstock(p.Feedstock)
		if !ok {
			return nil, fmt.Errorf("%q is not known as something to compost; take the nearest of the list of feedstocks", p.Feedstock)
		}
		if p.Moisture != nil {
			f.Moisture = *p.Moisture
		}
		parts = append(parts, MixedPart{Feedstock: f, Volume: p.Volume})
	}
	return parts, nil
}

// chooseVolumes makes the largest heap within bounds: most litres v, each at most what there is, with carbon between low and
// high times nitrogen and not more water than most per cent.
func chooseVolumes(parts []MixedPart, low, high, most float64) []float64 {
	n := len(parts)
	// Variables: shares of what there is (n), what is left of each (n), and a slack for each of the three bounds.
	a := mat.NewDense(n+3, 2*n+3, nil)
	right := make([]float64, n+3)
	cost := make([]float64, 2*n+3)
	var largest float64
	for _, p := range parts {
		largest = max(largest, float64(p.Volume))
	}
	for i, p := range parts {
		volume := float64(p.Volume) / largest
		cost[i] = -volume
		a.Set(i, i, 1)
		a.Set(i, n+i, 1)
		right[i] = 1
		f := p.Feedstock
		fresh := volume * f.Density
		dry := fresh * (1 - f.Moisture/100)
		a.Set(n, i, dry*(low*f.Nitrogen-f.Carbon)/100)
		a.Set(n+1, i, dry*(f.Carbon-high*f.Nitrogen)/100)
		a.Set(n+2, i, fresh*(f.Moisture-most)/100)
	}
	for k := range 3 {
		a.Set(n+k, 2*n+k, 1)
	}
	out := make([]float64, n)
	_, x, err := lp.Simplex(cost, a, right, 1e-10, nil)
	if err != nil {
		return out // nothing: 0 is always possible, so this does not come up
	}
	for i, p := range parts {
		out[i] = math.Max(0, math.Min(1, x[i])) * float64(p.Volume)
		if x[i] < 1e-9 {
			out[i] = 0
		}
	}
	return out
}

func total(volumes []float64) (sum float64) {
	for _, v := range volumes {
		sum += v
	}
	return sum
}

func (h *HeapMix) portions() (all []Portion) {
	for _, p := range h.Parts {
		if p.Volume > 0 {
			all = append(all, Portion{p.Mass, p.Feedstock.Moisture, p.Feedstock.Carbon, p.Feedstock.Nitrogen})
		}
	}
	return all
}

func (h *HeapMix) sum() {
	portions := h.portions()
	h.Ratio, h.Moisture = MixtureRatio(portions), MixtureMoisture(portions)
	var fresh quantity.Kilogram
	for _, p := range h.Parts {
		h.In += p.Volume
		fresh += p.Mass
	}
	h.Water = WaterToAdd(fresh, h.Moisture, bestWater)
	h.Built = h.In * packed
	h.OutLow, h.OutHigh = h.In*leftLow, h.In*leftHigh
	if wet := float64(fresh) + float64(h.Water); h.Built > 0 && wet/float64(h.Built) > soakedWeightAtMost+0.25 {
		h.Doubts = append(h.Doubts, "It will lie dense and want air: build it over coarse stalks, and turn it often.")
	}
}

// missing says what has to be found where nothing mixes.
func (h *HeapMix) missing(parts []MixedPart, units quantity.System) {
	all := HeapMix{}
	for _, p := range parts {
		p.Mass = quantity.Kilogram(float64(p.Volume) * p.Feedstock.Density)
		all.Parts = append(all.Parts, p)
	}
	portions := all.portions()
	ratio, water := MixtureRatio(portions), MixtureMoisture(portions)
	with := func(id string, goal float64) (quantity.Litre, string) {
		f, ok := FindFeedstock(id)
		if !ok {
			return 0, ""
		}
		one := Portion{1, f.Moisture, f.Carbon, f.Nitrogen}
		mix := Portion{Moisture: water, Nitrogen: 1, Carbon: ratio}
		for _, p := range portions { // the mixture as one feedstock of nitrogen 1 %
			mix.Fresh += p.Fresh
		}
		scale := 0.0
		for _, p := range portions {
			scale += float64(p.Fresh) * (100 - p.Moisture) * p.Nitrogen
		}
		if mix.Fresh > 0 && water < 100 {
			mix.Nitrogen = scale / (float64(mix.Fresh) * (100 - water))
			mix.Carbon = ratio * mix.Nitrogen
		}
		need, err := ForRatio(mix, one, goal)
		if err != nil {
			return 0, ""
		}
		return quantity.Litre(float64(need) / f.Density), f.Name
	}
	switch {
	case ratio > someRatioHigh:
		litres, name := with("grass-clippings", bestRatioHigh)
		h.Short = fmt.Sprintf("All of it is brown stuff: %.0f parts of carbon to one of nitrogen, where a heap that heats has 25 to 35. It wants about %s of %s, or as much other green stuff or manure; without that it rots slowly, in a year or two.", ratio, Bulk(litres, units), name)
	case ratio < someRatioLow:
		litres, name := with("leaves", bestRatioLow)
		h.Short = fmt.Sprintf("All of it is green stuff: %.0f parts of carbon to one of nitrogen, where a heap that heats has 25 to 35. It would turn slimy and smell of ammonia. It wants about %s of %s, or straw, or torn cardboard.", ratio, Bulk(litres, units), name)
	default:
		h.Short = fmt.Sprintf("It is too wet: %.0f %% water, where a heap has up to 60. Let the wettest wilt for a day or two, or mix in something dry.", water)
	}
}

func (h *HeapMix) tell(units quantity.System) {
	why := func(rule, source, says string) {
		h.Reasons = append(h.Reasons, garden.Reason{Says: says, Rule: rule, Source: source})
	}
	why("carbon to nitrogen", "CORNELL-CN; COOPERBAND", fmt.Sprintf("The mixture has %.0f parts of carbon to one of nitrogen; 25 to 35 heats well, 20 to 40 will do.", h.Ratio))
	if h.Water > 0 {
		why("moisture", "CORNELL-CN; COOPERBAND", fmt.Sprintf("It has %.0f %% water and wants 45 to 60: sprinkle %s over the layers as they go on, so that a handful feels like a wrung sponge.", h.Moisture, units.Volume(h.Water)))
	} else if h.Moisture > mostWater+.5 {
		why("moisture", "CORNELL-CN; COOPERBAND", fmt.Sprintf("It has %.0f %% water, which is too wet: 45 to 60 is best. Mix in something dry, or let the wettest wilt for a day or two.", h.Moisture))
	} else {
		why("moisture", "CORNELL-CN; COOPERBAND", fmt.Sprintf("It has %.0f %% water: no more is needed; 45 to 60 is best.", h.Moisture))
	}
	why("volume", "", fmt.Sprintf("%s go in; it settles to about %s as it is built, and %s to %s of compost come out (estimated).", Bulk(h.In, units), Bulk(h.Built, units), Bulk(h.OutLow, units), Bulk(h.OutHigh, units)))
	if float64(h.Built) < heats {
		h.Doubts = append(h.Doubts, "It is smaller than about "+units.Length(36*inch)+" each way, so it will hardly heat: it rots cold, in half a year to a year, and weed seeds live.")
	}
	if float64(h.Built) > handled {
		h.Doubts = append(h.Doubts, "It is more than one heap: build several of about "+units.Length(48*inch)+" each way.")
	}
	h.Cautions = append(h.Cautions, "Turning throws up dust and spores: damp it down, and wear a mask if chest or lungs are weak; gloves, and washed hands after.")
	seen := map[string]bool{}
	raw := false
	for _, p := range h.Parts {
		if p.Volume <= 0 {
			continue
		}
		raw = raw || p.Feedstock.Raw
		for _, c := range p.Feedstock.Cautions {
			if !seen[c] && !(p.Feedstock.Raw && strings.Contains(c, "120 days")) {
				seen[c], h.Cautions = true, append(h.Cautions, c)
			}
		}
	}
	if raw {
		h.Cautions = append(h.Cautions, "With manure in it, the heap counts as raw manure until it has been hot enough for long enough ("+units.Temperature(killLow)+" for 15 days and five turnings).")
	}
}
