package soil

import (
	"fmt"
	"strings"

	"kailyard/internal/garden"
)

// CheckMaterial refuses a material that nothing can be reckoned with: neither of the list nor a product whose own label
// is told in one of the packages.
func CheckMaterial(id string, packages []garden.Package) garden.Problems {
	if _, ok := Find(id); ok {
		return nil
	}
	for _, p := range packages {
		if p.Material == id && p.Labelled() {
			return nil
		}
	}
	remedy := "take one of the list of materials, or add the product as a package with the analysis of its label first"
	if near := alike(id); len(near) > 0 {
		remedy = "did you mean " + strings.Join(near, " or ") + "? Or add the product as a package with the analysis of its label first"
	}
	return garden.Problems{{Field: "material", Says: fmt.Sprintf("no material %q is known", id), Remedy: remedy}}
}

// CheckChoice refuses a lime that is no liming material and organic matter that is none, of what is told of the whole garden's soil.
// A lime of the person's own is known by the neutralising value on the label of one of the packages.
func CheckChoice(s garden.Soil, packages []garden.Package) (ps garden.Problems) {
	for _, one := range []struct {
		field, id, what string
		family          Family
	}{{"lime", s.Lime, "a liming material", Liming}, {"organic", s.Organic, "organic matter", Organic}} {
		if one.id == "" {
			continue
		}
		m, ok := Find(one.id)
		if !ok && one.family == Liming {
			m, ok = ownLime(one.id, packages)
		}
		switch {
		case !ok && one.family == Liming && CheckMaterial(one.id, packages) == nil:
			ps = append(ps, garden.Problem{Field: one.field, Says: fmt.Sprintf("%q is on sale, but nothing is told of what it neutralises", one.id), Remedy: "write the neutralising value (CCE) of its label to its package, or take a liming material of the list"})
		case !ok:
			near := CheckMaterial(one.id, nil)
			for i := range near {
				near[i].Field = one.field
			}
			ps = append(ps, near...)
		case NotForFood(m) != "":
			ps = append(ps, garden.Problem{Field: one.field, Says: NotForFood(m), Remedy: "take compost, leaf mould or manure that was composted hot"})
		case m.Family != one.family:
			ps = append(ps, garden.Problem{Field: one.field, Says: m.Name + " is not " + one.what, Remedy: "take one that the list of materials names as " + one.what})
		}
	}
	return ps
}

// CheckPackage refuses a product of no known material that has no label analysis either.
func CheckPackage(p garden.Package) garden.Problems {
	ps := CheckMaterial(p.Material, []garden.Package{p})
	for i := range ps {
		ps[i].Says += ", and the package has no label analysis"
		ps[i].Remedy = "write n, p2o5 and k2o (or cce, for lime) as the label prints them, or " + ps[i].Remedy
	}
	return ps
}

// CheckHeap refuses a heap with something in it that is not known as something to compost.
func CheckHeap(h garden.Heap) (ps garden.Problems) {
	for _, p := range h.Put {
		if _, ok := FindFeedstock(p.Feedstock); !ok {
			ps = append(ps, garden.Problem{Field: "feedstock", Says: fmt.Sprintf("%q is not known as something to compost", p.Feedstock), Remedy: "take the nearest of the list of feedstocks"})
		}
	}
	return ps
}

// alike are materials that share a word of an ID.
func alike(id string) (near []string) {
	list, _ := allMaterials()
	for _, m := range list {
		for word := range strings.SplitSeq(id, "-") {
			if len(word) > 3 && strings.Contains(m.ID, word) && len(near) < 3 {
				near = append(near, m.ID)
				break
			}
		}
	}
	return near
}
