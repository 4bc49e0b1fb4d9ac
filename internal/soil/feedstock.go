package soil

import (
	"cmp"
	"slices"
)

// Feedstock is something that goes into a compost heap, as the mixture formulas count it.
type Feedstock struct {
	ID, Name string
	Carbon   float64 // per cent of dry weight
	Nitrogen float64 // per cent of dry weight
	Moisture float64 // per cent of fresh weight
	Density  float64 // loose, kilograms a litre
	Raw      bool    // raw manure: it can carry germs
	Source   string  // keys in doc/SOURCES.md; empty where Quality says why
	Quality  string
	Cautions []string
}

// Ratio is its carbon to nitrogen.
func (f Feedstock) Ratio() float64 { return f.Carbon / f.Nitrogen }

const poundPerCubicYard = 0.45359237 / float64(27*cubicFoot) // kg/L

// ofHeapOnly are feedstocks that nobody spreads on ground: ratio, moisture and weight.
//
// Source: NRAES54; CN-POP; CN-MAG
var ofHeapOnly = []Feedstock{
	plain("kitchen-scraps", "kitchen scraps", 15, 69, 1000, "NRAES54; CN-MAG", "from memory", "Plants only: no meat, fat, bones or dairy food, which draw vermin."),
	plain("vegetable-waste", "vegetable waste", 12, 87, 1200, "NRAES54; CN-MAG", "from memory"),
	plain("fruit-waste", "fruit waste", 35, 75, 1200, "NRAES54; CN-POP", "from memory"),
	plain("coffee-grounds", "coffee grounds", 20, 58, 430, "NRAES54; CN-MAG", "from memory"),
	plain("weeds", "green weeds and crop remains", 30, 75, 400, "CN-POP", "estimated", "No weeds in seed, no creeping roots and no diseased plants unless the heap gets hot right through.", "Rhubarb and tomato leaves may go in; they are harmless once rotted."),
	plain("corn-stalks", "corn stalks, chopped", 67, 12, 100, "NRAES54; CN-POP", "estimated"),
	plain("cardboard", "cardboard, torn", 450, 8, 150, "NRAES54; CN-POP", "estimated", "Plain brown cardboard without tape or glossy print."),
	plain("newspaper", "newspaper, torn", 300, 6, 200, "NRAES54; CN-POP", "estimated"),
	plain("seaweed", "seaweed", 19, 53, 700, "NRAES54; CN-POP", "from memory", "Rinse off the salt, and gather only where that is allowed."),
	plain("pine-needles", "pine needles", 80, 30, 200, "CN-POP", "estimated"),
	// Turf is mostly earth: 4 % carbon of its dry weight by the roots and humus in it; estimated.
	{ID: "sod", Name: "stripped sod", Carbon: 4, Nitrogen: 0.3, Moisture: 20, Density: 1.2, Quality: "estimated"},
}

// plain makes a feedstock of ordinary plant matter of its ratio.
func plain(id, name string, ratio, moisture, pounds float64, source, quality string, cautions ...string) Feedstock {
	const carbon = dryCarbon * 100
	return Feedstock{ID: id, Name: name, Carbon: carbon, Nitrogen: carbon / ratio, Moisture: moisture, Density: pounds * poundPerCubicYard, Source: source, Quality: quality, Cautions: cautions}
}

// Feedstocks are what a heap can be made of: the organic materials whose ratio, moisture and weight are known, and
// kitchen and garden waste; by name.
func Feedstocks() []Feedstock {
	all := slices.Clone(ofHeapOnly)
	for _, m := range OfFamily(Organic) {
		if f, ok := feedstockOf(m); ok {
			all = append(all, f)
		}
	}
	slices.SortFunc(all, func(a, b Feedstock) int { return cmp.Compare(a.Name, b.Name) })
	return all
}

// FindFeedstock is the feedstock with an ID.
func FindFeedstock(id string) (Feedstock, bool) {
	for _, f := range ofHeapOnly {
		if f.ID == id {
			return f, true
		}
	}
	m, ok := Find(id)
	if !ok {
		return Feedstock{}, false
	}
	return feedstockOf(m)
}

// feedstockOf reads a material: its nitrogen where that and its ratio make a carbon that plant matter can have, else the
// nitrogen that its ratio makes of ordinary carbon.
func feedstockOf(m Material) (Feedstock, bool) {
	if m.Family != Organic || m.CN == nil || m.Moisture == nil || m.Density == nil || m.CN.Value <= 0 || m.Density.Value <= 0 {
		return Feedstock{}, false
	}
	f := Feedstock{ID: m.ID, Name: m.Name, Moisture: m.Moisture.Value, Density: m.Density.Value, Raw: m.Raw, Source: m.CN.Source, Quality: m.CN.Quality, Cautions: m.Cautions}
	f.Carbon = dryCarbon * 100
	if m.N != nil && m.N.Value > 0 && f.Moisture < 100 {
		if carbon := m.N.Value / (1 - f.Moisture/100) * m.CN.Value; carbon >= 20 && carbon <= 52 {
			f.Carbon = carbon
		}
	}
	f.Nitrogen = f.Carbon / m.CN.Value
	return f, true
}
