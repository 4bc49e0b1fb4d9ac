package season

import (
	"fmt"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// BuyingList is what to buy for all beds: plant foods, lime and sulfur, and organic matter, in whole packages.
type BuyingList struct {
	soil.Shopping           // Purchases: plant foods first, then lime and sulfur, then organic matter sold in packages
	For           []BuyFor  // what each bed takes of them
	Bulk          []BulkBuy // organic matter of which no package is told: by the load
}

// BuyFor is a bed's part in a purchase.
type BuyFor struct {
	Material string // ID
	Bed      int64
	Mass     quantity.Kilogram
}

// BulkBuy is organic matter for all beds together, loose.
type BulkBuy struct {
	Material string // ID
	Name     string
	Loose    quantity.Litre
	Loads    []soil.Load
	Beds     []int64
}

// Beds are the parts of a purchase by bed.
func (l BuyingList) Beds(material string) []BuyFor {
	var all []BuyFor
	for _, f := range l.For {
		if f.Material == material {
			all = append(all, f)
		}
	}
	return all
}

// yearAhead is how far ahead lime and sulfur are bought, in days: parts due later are bought then.
const yearAhead = 365

// list puts what all beds take of lime, sulfur and organic matter to the plant foods, in whole packages.
func (g *Ground) list(in GroundInput) error {
	need := map[string]quantity.Kilogram{}
	var order []string
	take := func(id string, bed int64, mass quantity.Kilogram) {
		if mass <= 0 {
			return
		}
		if _, ok := need[id]; !ok {
			order = append(order, id)
		}
		need[id] += mass
		g.Buy.For = append(g.Buy.For, BuyFor{id, bed, mass})
	}
	for _, b := range g.Beds {
		g.feedFor(b)
		if d := b.Reaction.Dose; d != nil {
			mass := quantity.Kilogram(0)
			for _, p := range d.Parts {
				if p.From <= g.Day+yearAhead {
					mass += p.Mass
				}
			}
			take(d.Material.ID, b.Bed.ID, mass)
		}
	}
	for _, b := range g.Beds {
		if o := b.Organic; o != nil && o.Due <= in.Season.End() {
			if packaged(in.Garden.Packages, o.Material) {
				take(o.Material, b.Bed.ID, o.Mass)
			} else {
				g.bulk(o, b.Bed.ID)
			}
		}
	}
	var more []soil.Purchase
	for _, id := range order {
		offer, err := soil.OfferFor(id, in.Garden.Packages, g.Weighs)
		if err != nil {
			g.Buy.Left = append(g.Buy.Left, err.Error())
			continue
		}
		p, err := soil.Buy(offer, need[id])
		if err != nil {
			return fmt.Errorf("%s: %w", offer.Name, err)
		}
		more = append(more, p)
	}
	g.Buy.Shopping = g.Buy.With(more...)
	for i, b := range g.Buy.Bulk {
		if m, ok := soil.Find(b.Material); ok {
			g.Buy.Bulk[i].Loads = soil.Loads(b.Loose, m, in.Garden.Packages, g.Weighs, in.Garden.Site.Soil.Bucket)
		}
	}
	return nil
}

// feedFor notes what of each plant food a bed takes.
func (g *Ground) feedFor(b BedGround) {
	if b.Feeding == nil {
		return
	}
	for _, part := range b.Feeding.Mix.Parts {
		mass := quantity.Kilogram(part.Now+part.Later) * quantity.Kilogram(b.Feeding.Need.Planted)
		if mass > 0 {
			g.Buy.For = append(g.Buy.For, BuyFor{part.Offer.Material.ID, b.Bed.ID, mass})
		}
	}
}

// bulk notes a bed's organic matter of which no package is told.
func (g *Ground) bulk(o *OrganicGround, bed int64) {
	i := slices.IndexFunc(g.Buy.Bulk, func(b BulkBuy) bool { return b.Material == o.Material })
	if i < 0 {
		i, g.Buy.Bulk = len(g.Buy.Bulk), append(g.Buy.Bulk, BulkBuy{Material: o.Material, Name: o.Name})
	}
	g.Buy.Bulk[i].Loose += o.Loose
	g.Buy.Bulk[i].Beds = append(g.Buy.Bulk[i].Beds, bed)
}

// packaged says whether the person told of a package of a material.
func packaged(packages []garden.Package, material string) bool {
	return slices.ContainsFunc(packages, func(p garden.Package) bool { return p.Material == material })
}
