package soil

import (
	"cmp"
	"math"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// LimeOf is a liming material, of the list or of the person's own: a product known by the neutralising value on the label of one
// of the packages.
func LimeOf(id string, packages []garden.Package) (Material, bool) {
	if m, ok := Find(id); ok {
		return m, m.Family == Liming
	}
	return ownLime(id, packages)
}

// MaterialOf is a material of the list, or a product of the person's own that only the label of one of the packages tells of: a lime
// by its neutralising value, else a plant food by its analysis, of which nothing else is known.
func MaterialOf(id string, packages []garden.Package) (Material, bool) {
	if m, ok := Find(id); ok {
		return m, true
	}
	for _, p := range packages {
		if p.Material == id && p.N != nil && p.P2O5 != nil && p.K2O != nil {
			return Material{ID: id, Name: cmp.Or(p.Name, id), Family: Fertiliser}, true
		}
	}
	return ownLime(id, packages)
}

// OwnLimes are the liming products that only the labels of packages tell of, in the packages' order.
func OwnLimes(packages []garden.Package) (own []Material) {
	for _, p := range packages {
		m, ok := ownLime(p.Material, packages)
		if ok && !slices.ContainsFunc(own, func(o Material) bool { return o.ID == m.ID }) {
			own = append(own, m)
		}
	}
	return own
}

// ownLime is a liming product of the person's own, known by the neutralising value on its label alone.
func ownLime(id string, packages []garden.Package) (Material, bool) {
	if id == "" {
		return Material{}, false
	}
	if _, known := Find(id); known {
		return Material{}, false
	}
	for _, p := range packages {
		if p.Material != id || p.CCE == nil || !(*p.CCE > 0) {
			continue
		}
		stone, _ := Find("limestone-ground")
		m := Material{ID: id, Name: id, Family: Liming, CCE: &Figure{Value: *p.CCE, Quality: "label"}, Fineness: stone.Fineness,
			Density: stone.Density, Most: stone.Most, Cautions: stone.Cautions}
		if p.Name != "" {
			m.Name = p.Name
		}
		if p.Fineness != nil {
			m.Fineness = &Figure{Value: *p.Fineness, Quality: "label"}
		}
		return m, true
	}
	return Material{}, false
}

// byLabel counts what was given by what its label says it is worth: as so much of the material as it is usually sold, and a product
// of the person's own as so much ground limestone.
func (s Sour) byLabel() Sour {
	if s.labelled {
		return s
	}
	s.labelled = true
	given := make([]garden.Treatment, len(s.Treatments))
	for i, t := range s.Treatments {
		given[i] = asUsual(t, s)
	}
	s.Treatments = given
	return s
}

func asUsual(t garden.Treatment, s Sour) garden.Treatment {
	m, known := Find(t.Material)
	usual := m
	if !known {
		own, ok := ownLime(t.Material, s.Packages)
		if !ok {
			return t
		}
		m = own
		usual, _ = Find("limestone-ground")
	}
	label := labelOf(s, t.Material)
	if m.CCE == nil || known && (label == nil || m.Family != Liming) {
		return t
	}
	worth, err := StrengthOf(m, label)
	if err != nil {
		return t
	}
	as, err := StrengthOf(usual, nil)
	if err != nil || !(as.Share > 0) {
		return t
	}
	share := worth.Share / as.Share
	t.Material = usual.ID
	t.Amount *= quantity.Kilogram(share)
	t.Volume *= quantity.Litre(share)
	return t
}

// labelAmong is the label of a material that doses, buying and what is put on are all reckoned by: of the packages with a price the
// one that costs least for what it is worth, else the first with a neutralising value or a fineness; nil where the usual figures do.
func labelAmong(packages []garden.Package, id string) *garden.Package {
	m, ok := Find(id)
	if !ok {
		if m, ok = ownLime(id, packages); !ok {
			return nil
		}
	}
	var first, best *garden.Package
	least := math.Inf(1)
	for i := range packages {
		p := &packages[i]
		if p.Material != id {
			continue
		}
		if first == nil && labelled(p) {
			first = p
		}
		worth, err := StrengthOf(m, p)
		if err != nil || !(worth.Share > 0) || !(p.Mass > 0) || !(p.Price > 0) {
			continue
		}
		if cost := p.Price / (float64(p.Mass) * worth.Share); cost < least {
			least, best = cost, p
		}
	}
	switch {
	case best == nil:
		return first
	case labelled(best):
		return best
	}
	return nil
}

func labelled(p *garden.Package) bool { return p.CCE != nil || p.Fineness != nil }

// ofLabel says whether a package carries the label reckoned with: packages of another strength are another product.
func ofLabel(p garden.Package, label *garden.Package) bool {
	if label == nil {
		return !labelled(&p)
	}
	same := func(a, b *float64) bool { return a == nil && b == nil || a != nil && b != nil && *a == *b }
	return same(p.CCE, label.CCE) && same(p.Fineness, label.Fineness)
}
