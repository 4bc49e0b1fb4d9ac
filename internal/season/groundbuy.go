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
	soil.Shopping                // Purchases: plant foods first, then lime and sulfur, then organic matter sold in packages
	For           []BuyFor       // what each bed takes of them
	Bulk          []BulkBuy      // organic matter of which no package is told: by the load
	Own           quantity.Litre // compost of the person's own ripe heaps, already taken off
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
	own := g.ripeCompost()
	var more []soil.Purchase
	for _, id := range order {
		offer, err := soil.OfferFor(id, in.Garden.Packages, g.Weighs)
		if err != nil {
			g.Buy.Left = append(g.Buy.Left, err.Error())
			continue
		}
		if id == compost {
			need[id] -= g.offPackages(need[id], own)
		}
		p, err := soil.Buy(offer, need[id])
		if err != nil {
			return fmt.Errorf("%s: %w", offer.Name, err)
		}
		more = append(more, p)
	}
	g.Buy.Shopping = g.Buy.With(more...)
	g.offLoose(own)
	g.tellOwn(own)
	for i, b := range g.Buy.Bulk {
		if m, ok := soil.Find(b.Material); ok {
			g.Buy.Bulk[i].Loads = soil.Loads(b.Loose, m, in.Garden.Packages, g.Weighs, in.Garden.Site.Soil.Bucket)
		}
	}
	return nil
}

// compost is the material that heaps give.
const compost = "compost"

// ripe is a heap that gives compost now.
func (h HeapGround) ripe() bool { return h.State.Stage == soil.Ripe && h.State.Fit && !h.State.Raw }

// ripeCompost is what the ripe heaps give that count as no raw manure.
func (g *Ground) ripeCompost() (own quantity.Litre) {
	for _, h := range g.Heaps {
		if h.ripe() {
			own += soil.Yield(h.Heap)
		}
	}
	return own
}

// offPackages is what the heaps spare of compost bought by weight.
func (g *Ground) offPackages(need quantity.Kilogram, own quantity.Litre) quantity.Kilogram {
	m, ok := soil.Find(compost)
	if !ok || m.Density == nil || m.Density.Value <= 0 {
		return 0
	}
	spared := min(need, quantity.Kilogram(float64(own)*m.Density.Value))
	g.Buy.Own += quantity.Litre(float64(spared) / m.Density.Value)
	return spared
}

// offLoose takes what the heaps spare off the compost fetched loose.
func (g *Ground) offLoose(own quantity.Litre) {
	for i, b := range g.Buy.Bulk {
		if b.Material == compost {
			spared := min(b.Loose, own)
			g.Buy.Bulk[i].Loose -= spared
			g.Buy.Own += spared
		}
	}
	g.Buy.Bulk = slices.DeleteFunc(g.Buy.Bulk, func(b BulkBuy) bool { return b.Loose < 1 })
}

// tellOwn says which heaps spare how much.
func (g *Ground) tellOwn(own quantity.Litre) {
	if g.Buy.Own < 1 {
		return
	}
	var names []string
	for _, h := range g.Heaps {
		if h.ripe() {
			names = append(names, fmt.Sprintf("“%s”", h.Heap.Name))
		}
	}
	is, gives := "is", "gives"
	if len(names) > 1 {
		is, gives = "are", "give"
	}
	says := fmt.Sprintf("%s %s ripe and %s about %s of compost (a third of what went in, estimated)", listed(names), is, gives, soil.Bulk(own, g.Weighs))
	if g.Buy.Own < own-1 {
		says += fmt.Sprintf("; %s of it is wanted", soil.Bulk(g.Buy.Own, g.Weighs))
	}
	g.Buy.Reasons = append(g.Buy.Reasons, garden.Reason{Says: says + ": so much less is to be fetched.", Rule: "own compost"})
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
