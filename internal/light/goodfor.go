package light

import (
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// Use is what a bed's light is good for.
type Use string

// The uses, from the most light to the least.
const (
	Fruit   Use = "fruiting" // tomatoes, peppers, squashes, and everything else
	Root    Use = "root"     // carrots, beets, potatoes, peas, and leaves
	Leaf    Use = "leaf"     // lettuce, spinach, chard, kale
	Herb    Use = "herb"     // parsley, chives, mint, sorrel
	Nothing Use = "nothing"  // no vegetable
)

// Verdict is what hours of direct sun are good for.
type Verdict struct {
	Use    Use
	Full   bool   // as much as the use wants; else it will do, with less to eat
	Says   string // for the person
	Source string // key in doc/SOURCES.md; empty: common practice
}

// The hours of direct sun that each use wants, and with which it still does.
//
// Source: TOH-SUN for fruiting crops (8–10), roots and peas (5–7) and leaves (4–6); ASKEXT-SUN for 6 as the least of fruiting
// crops; 3 for shade herbs is common practice.
const (
	fruitFull  quantity.Hour = 8
	fruitLeast quantity.Hour = 6
	rootLeast  quantity.Hour = 5
	leafLeast  quantity.Hour = 4
	herbLeast  quantity.Hour = 3
)

// GoodFor tells what grows with so many hours of direct sun a day over the season. What is written as 6.0 counts as 6.
func GoodFor(hours quantity.Hour) Verdict {
	const rounding = 0.05
	switch h := hours + rounding; {
	case h >= fruitFull:
		return Verdict{Fruit, true, "Sun enough for everything, tomatoes, peppers and squashes too.", "TOH-SUN"}
	case h >= fruitLeast:
		return Verdict{Fruit, false, "Fruiting crops do here, later and with less to pick than in full sun; roots, peas and leaves have all they want.", "ASKEXT-SUN"}
	case h >= rootLeast:
		return Verdict{Root, true, "Too little for tomatoes, peppers and squashes; roots, peas and leaves do well.", "TOH-SUN"}
	case h >= leafLeast:
		return Verdict{Leaf, true, "Leaves do here: lettuce, spinach, chard, kale. Roots stay small, and fruiting crops hardly fruit.", "TOH-SUN"}
	case h >= herbLeast:
		return Verdict{Herb, true, "For most vegetables this is too dark. Parsley, chives, mint and sorrel bear it; lettuce for small leaves, slowly.", ""}
	}
	return Verdict{Nothing, true, "Vegetables will not do here, with whatever care. Mint may live, thinly. The ground is good for the compost heap, the water butt, " +
		"leaf mould, a place for pots to harden off, or shade plants that are not for eating.", ""}
}

// Grows parts crops by what they want: those for which the hours of direct sun are enough, and those that do with less to eat.
// What would not do is in neither.
func Grows(crops []*crop.Crop, hours quantity.Hour) (well, less []*crop.Crop) {
	for _, c := range crops {
		switch {
		case hours >= c.Light.Needs:
			well = append(well, c)
		case hours >= c.Light.Least:
			less = append(less, c)
		}
	}
	return well, less
}
