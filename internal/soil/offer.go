package soil

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Offer is a material that can be bought, with its sizes.
type Offer struct {
	Material Material
	Name     string // as the person calls it, else the material's
	Grade    Grade  // from the label, else the material's usual
	Sizes    []Size // at least one
	Usual    bool   // sizes and grade are the usual ones: the person told none
}

// Size is one package of an offer.
type Size struct {
	Name  string
	Mass  quantity.Kilogram
	Price float64 // in the person's money; 0: not told
}

// Priced says whether every size has its price.
func (o Offer) Priced() bool {
	return !slices.ContainsFunc(o.Sizes, func(s Size) bool { return !(s.Price > 0) })
}

// perKilogram is the least price of a kilogram.
func (o Offer) perKilogram() float64 {
	least := math.Inf(1)
	for _, s := range o.Sizes {
		least = min(least, s.Price/float64(s.Mass))
	}
	return least
}

// found is the share of the weight that the season's crops find as each plant food.
func (o Offer) found() [plantFoods]float64 {
	n, _ := o.Material.nitrogenShare(1)
	pk := pkShare(o.Material, 1)
	return [plantFoods]float64{o.Grade.N * n / 1e4, o.Grade.P2O5 * pk / 1e4, o.Grade.K2O * pk / 1e4}
}

// salt is the material's salt index by weight over that of sodium nitrate.
//
// Source: SALT-MORT (index by weight, sodium nitrate 100)
func (o Offer) salt() float64 {
	if o.Material.Salt == nil {
		return 0
	}
	return o.Material.Salt.Value / 100
}

// quick says whether it feeds growing plants soon enough to be strewn beside them.
func (o Offer) quick() bool {
	return o.Material.Family == Fertiliser && !o.Material.Raw && (o.Material.First == nil || o.Material.First.Value >= 60)
}

// Choice is what the person will have on their ground.
type Choice struct {
	Natural bool     // from plants, animals or rock only
	PH      *float64 // of the soil; nil: not known
	Units   quantity.System
}

// natural are the materials from plants, animals or rock as it was mined.
var natural = map[string]bool{
	"blood-meal": true, "feather-meal": true, "bone-meal": true, "cottonseed-meal": true, "fish-meal": true, "soybean-meal": true, "alfalfa-meal": true,
	"rock-phosphate": true, "greensand": true, "potassium-magnesium-sulfate": true, "potassium-sulfate": true, "magnesium-sulfate": true, "gypsum": true,
}

// Natural says whether a material comes from plants, animals or rock as it was mined. Growers who sell as organic
// must ask their certifier, who goes by the product and not by its sort.
func Natural(m Material) bool {
	return natural[m.ID] || m.Family == Organic && m.ID != "manure-swine-fresh" || m.ID == "wood-ash" || m.Family == Liming && m.ID != "lime-hydrated" && m.ID != "lime-burnt"
}

// usual are the materials offered when the person told of none on sale.
var (
	usual        = []string{"blend-10-10-10", "blend-5-10-10", "blend-5-10-5", "ammonium-sulfate", "calcium-nitrate", "superphosphate", "potassium-sulfate"}
	usualNatural = []string{"blood-meal", "cottonseed-meal", "soybean-meal", "alfalfa-meal", "bone-meal", "potassium-sulfate", "manure-poultry-composted"}
	usualSizes   = map[quantity.System][]quantity.Kilogram{
		quantity.Metric: {2, 10, 20},
		quantity.US:     {5 * quantity.KilogramsPerPound, 20 * quantity.KilogramsPerPound, 40 * quantity.KilogramsPerPound},
	}
)

// limeyPH: above it bone meal and rock phosphate give next to nothing.
const limeyPH = 7.0

// Offers are the materials to choose from: what the person said is on sale (with the label's figures where they told
// them), or without any the usual ones in the usual sizes, of which no price is known. What cannot be used is told in
// a sentence.
func Offers(packages []garden.Package, choice Choice) (offers []Offer, left []string) {
	for _, p := range packages {
		o, err := offerOf(p)
		switch {
		case err != nil:
			left = append(left, err.Error())
		case o.Grade == Grade{}: // lime and the like
		default:
			i := slices.IndexFunc(offers, func(x Offer) bool { return x.Material.ID == o.Material.ID && x.Grade == o.Grade })
			if i >= 0 {
				offers[i].Sizes = append(offers[i].Sizes, o.Sizes...)
			} else {
				offers = append(offers, o)
			}
		}
	}
	if len(offers) == 0 {
		offers = usualOffers(choice)
	}
	offers = slices.DeleteFunc(offers, func(o Offer) bool {
		says := choice.refuses(o)
		if says != "" {
			left = append(left, says)
		}
		return says != ""
	})
	return offers, left
}

func (c Choice) refuses(o Offer) string {
	id := o.Material.ID
	switch {
	case c.Natural && !Natural(o.Material):
		return fmt.Sprintf("%s is left out: only what comes from plants, animals or rock was asked for.", o.Name)
	case c.PH != nil && *c.PH > limeyPH && (id == "bone-meal" || id == "rock-phosphate"):
		return fmt.Sprintf("%s is left out: above pH %g its phosphate stays locked.", o.Name, limeyPH)
	case c.PH != nil && *c.PH > limeyPH && id == "wood-ash":
		return fmt.Sprintf("%s is left out: it would raise a pH that is already above %g.", o.Name, limeyPH)
	case id == "manure-swine-fresh":
		return fmt.Sprintf("%s is left out: it can carry parasites of people and does not belong on food ground.", o.Name)
	case o.Material.Raw:
		return fmt.Sprintf("%s is left out here: raw manure is dug in 90 to 120 days before harvest, in autumn for most crops, and counts then as put on.", o.Name)
	case o.Material.Family == Liming:
		return fmt.Sprintf("%s is left out here: it goes by the lime the ground needs, not by its potash.", o.Name)
	}
	return ""
}

func usualOffers(c Choice) (offers []Offer) {
	ids := usual
	if c.Natural {
		ids = usualNatural
	}
	for _, id := range ids {
		m, ok := Find(id)
		if !ok {
			continue
		}
		o := Offer{Material: m, Name: m.Name, Grade: m.grade(), Usual: true}
		for _, mass := range usualSizes[c.Units] {
			o.Sizes = append(o.Sizes, Size{Mass: mass})
		}
		offers = append(offers, o)
	}
	return offers
}

// offerOf is a package as an offer.
func offerOf(p garden.Package) (Offer, error) {
	m, ok := MaterialOf(p.Material, []garden.Package{p})
	if !ok {
		m = Material{ID: p.Material, Name: cmp.Or(p.Name, p.Material)}
	}
	o := Offer{Material: m, Name: cmp.Or(p.Name, m.Name), Grade: m.grade()}
	told := p.N != nil && p.P2O5 != nil && p.K2O != nil
	switch {
	case told:
		o.Grade = Grade{*p.N, *p.P2O5, *p.K2O}
	case !ok:
		return o, fmt.Errorf("%s has no label analysis and is not a material known here: write the three numbers of its label", o.Name)
	}
	if err := o.Grade.Validate(); err != nil {
		return o, fmt.Errorf("%s: %w", o.Name, err)
	}
	mass := p.Mass
	if !(mass > 0) && m.Density != nil {
		mass = quantity.Kilogram(float64(p.Volume) * m.Density.Value)
	}
	if !(mass > 0) || math.IsInf(float64(mass), 0) || !(p.Price >= 0) || math.IsInf(p.Price, 0) {
		return o, fmt.Errorf("%s: the package has no weight that can be reckoned with: write its weight and, if you like, its price", o.Name)
	}
	o.Sizes = []Size{{Name: p.Name, Mass: mass, Price: p.Price}}
	return o, nil
}

// OfferFor is a material with the sizes the person told of, else in the usual ones without a price.
func OfferFor(id string, packages []garden.Package, units quantity.System) (Offer, error) {
	var offer Offer
	limes := false
	if m, known := Find(id); known {
		limes = m.Family == Liming
	} else {
		_, limes = ownLime(id, packages)
	}
	label := labelAmong(packages, id)
	for _, p := range packages {
		if p.Material != id || limes && !ofLabel(p, label) {
			continue
		}
		o, err := offerOf(p)
		if err != nil {
			return o, err
		}
		if len(offer.Sizes) == 0 {
			offer = o
		} else {
			offer.Sizes = append(offer.Sizes, o.Sizes...)
		}
	}
	if len(offer.Sizes) > 0 {
		return offer, nil
	}
	m, ok := Find(id)
	if !ok {
		return offer, fmt.Errorf("%s is not a material known here: write its package with the label's figures", id)
	}
	offer = Offer{Material: m, Name: m.Name, Grade: m.grade(), Usual: true}
	for _, mass := range usualSizes[units] {
		offer.Sizes = append(offer.Sizes, Size{Mass: mass})
	}
	return offer, nil
}
