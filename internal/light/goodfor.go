package light

import (
	"fmt"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// Use is what a bed's light is good for.
type Use string

// The uses, from the most light to the least. What wants less does too.
const (
	Fruit   Use = "fruiting" // tomatoes, peppers, squashes, and everything else
	Root    Use = "root"     // carrots, beets, potatoes, peas
	Leaf    Use = "leaf"     // lettuce, spinach, chard, kale, parsley, chives
	Nothing Use = "nothing"  // no vegetable
)

// Verdict is what hours of direct sun are good for.
type Verdict struct {
	Use    Use
	Full   bool   // as much as the use wants; else it will do, with less to eat
	Says   string // for the person
	Source string // key in doc/SOURCES.md; empty: common practice
	Spell  *Spell // a part of the year that is good for more; nil: none
}

// classes are the hours that each use wants for its full yield, and the least: as the catalogue has them for its crops, whose
// needs are the low end of the printed 8–10 h for fruiting crops and the middle of the printed 5–7 h and 4–6 h for roots and
// leaves.
//
// Source: TOH-SUN for what is wanted; ASKEXT-SUN for the least of fruiting crops; SHADE-VEG for that of roots and peas (4–5 h)
// and of leaf crops (3–4 h: part shade), CSU-1819 for their order.
var classes = map[Use]crop.Light{Fruit: {Needs: 8, Least: 6}, Root: {Needs: 6, Least: 4}, Leaf: {Needs: 5, Least: 3}}

// GoodFor tells what grows in the sun of a season's months, and how well, by the rule of Share.
func GoodFor(sun Sun) Verdict {
	share := func(u Use) float64 { return sun.Share(classes[u]) }
	fruit, root, leaf := share(Fruit), share(Root), share(Leaf)
	switch {
	case fruit >= 1-nearlyAll:
		return Verdict{Use: Fruit, Full: true, Says: "Sun enough for everything, tomatoes, peppers and squashes too.", Source: "TOH-SUN"}
	case fruit > 0:
		others := "Roots, peas and leaves have all they want."
		if root < 1-nearlyAll {
			others = fmt.Sprintf("Roots and peas do better: about %.0f %%.", 100*root)
		}
		return Verdict{Use: Fruit, Full: false, Says: "Fruiting crops do here, later and with less to pick than in full sun: " + CountedOn(fruit) + ". " + others, Source: "ASKEXT-SUN"}
	case root >= 1-nearlyAll:
		return Verdict{Use: Root, Full: true, Says: "Too little for tomatoes, peppers and squashes; roots, peas and leaves do well.", Source: "TOH-SUN"}
	case root > 0:
		says := "leaf crops have all they want."
		if leaf < 1-nearlyAll {
			says = fmt.Sprintf("leaf crops, such as lettuce, spinach, chard and kale, do better: about %.0f %%.", 100*leaf)
		}
		return Verdict{Use: Root, Full: false, Says: "Too little for tomatoes, peppers and squashes. Roots and peas do here, smaller and later: " + CountedOn(root) + "; " + says, Source: "SHADE-VEG"}
	case leaf > 0:
		return Verdict{Use: Leaf, Full: false, Says: "Part shade: leaf crops do here, such as lettuce, spinach, chard, kale, parsley and chives, smaller and later: " + CountedOn(leaf) +
			". Roots stay too small, and fruiting crops hardly fruit.", Source: "SHADE-VEG"}
	}
	return Verdict{Use: Nothing, Full: true, Says: "Vegetables will not do here, with whatever care. Mint may live, thinly. The ground is good for the compost heap, the water butt, " +
		"leaf mould, a place for pots to harden off, or shade plants that are not for eating."}
}

// spare tells where hours above what a use wants do not count, and what those that do come to: for the first use of which less is
// counted on than the plain mean would have; empty where there is none.
func spare(sun Sun, hours func(quantity.Hour) string) string {
	for _, of := range []struct {
		use   Use
		words string
	}{{Fruit, "fruiting crops"}, {Root, "roots and peas"}, {Leaf, "leaf crops"}} {
		wants, counts := classes[of.use], sun.For(classes[of.use])
		if Share(sun.Mean(), wants)-Share(counts, wants) > 0.005 {
			return fmt.Sprintf(" Of its %s a day over the season %s count for %s: hours above the %s they need do not make up for darker months.", hours(sun.Mean()), hours(counts), of.words, hours(wants.Needs))
		}
	}
	return ""
}

// Grows parts crops by what they want: those for which the direct sun is enough, and those that do with less to eat. What would
// not do is in neither.
func Grows(crops []*crop.Crop, sun Sun) (well, less []*crop.Crop) {
	for _, c := range crops {
		switch share := sun.Share(c.Light); {
		case share >= 1-nearlyAll:
			well = append(well, c)
		case share > 0:
			less = append(less, c)
		}
	}
	return well, less
}

// nearlyAll is how far below the whole yield is told as the whole: it reads as 100 %.
const nearlyAll = 0.005

// LessOf names the kinds of crops that do with less to eat, each once, with the share of the yield that is counted on.
func LessOf(less []*crop.Crop, sun Sun) (names []string) {
	had := map[string]bool{}
	for _, c := range less {
		if name := fmt.Sprintf("%s (%.0f %%)", c.Kind, 100*sun.Share(c.Light)); !had[name] {
			had[name] = true
			names = append(names, name)
		}
	}
	return names
}
