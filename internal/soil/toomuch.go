package soil

import (
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The most of anything that any ground is given at once: lime, sulfur and fertiliser forty times the largest dressing of the list
// (50 lb to 100 sq ft), everything else a layer of a metre, or as heavy as half a metre of wet manure. Common practice; they catch a slip
// of the unit or of the nought, not what is merely too much.
const (
	mostGrains quantity.KilogramPerSquareMetre = 100
	mostMatter quantity.KilogramPerSquareMetre = 400
	mostLayer  quantity.Metre                  = 1
)

// TooMuch refuses a treatment that cannot have been given to a bed: an amount that no ground is ever given.
func TooMuch(t garden.Treatment, b garden.Bed) (ps garden.Problems) {
	area := b.Area()
	if !(area > 0) {
		return nil
	}
	most := mostMatter
	if m, ok := Find(t.Material); ok && m.Family != Organic {
		most = mostGrains
	}
	u := quantity.Metric
	field, rate := "amount", quantity.KilogramPerSquareMetre(float64(Weighed(t))/float64(area))
	if t.Volume > 0 {
		field = "volume"
	}
	switch layer := quantity.Metre(float64(t.Volume) / 1000 / float64(area)); {
	case layer > mostLayer:
		ps = append(ps, garden.Problem{Field: field, Says: "it would lie " + u.Distance(layer) + " deep on the bed, which no bed is given", Remedy: "check the volume and its unit"})
	case max(rate, quantity.KilogramPerSquareMetre(float64(t.Amount)/float64(area))) > most:
		ps = append(ps, garden.Problem{Field: field, Says: u.Rate(rate) + " is more than any ground is given", Remedy: "check the amount and its unit"})
	}
	return ps
}
