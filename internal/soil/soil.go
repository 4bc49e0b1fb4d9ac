// Package soil is reaction, nutrients, organic matter, water holding: from a test to a prescription.
package soil

import "kailyard/internal/quantity"

// Family says what a material is for.
type Family string

// The families of material.
const (
	Liming     Family = "liming"
	Acidifying Family = "acidifying"
	Fertiliser Family = "fertiliser"
	Organic    Family = "organic" // compost, manure, peat and the like
)

// Figure is one number of a material with where it comes from.
type Figure struct {
	Value   float64
	Low     float64 // of the range met with; Low = High = 0: no range told
	High    float64
	Source  string // keys in doc/SOURCES.md, parted by semicolons; empty where Quality says why
	Quality string // "published", "estimated", "common practice", "from memory"
	Note    string
}

// Material is something put on or into the ground.
type Material struct {
	ID     string // "limestone-ground"
	Name   string // "ground limestone"
	Family Family

	N, P2O5, K2O *Figure // per cent of weight; nil: none to speak of
	First        *Figure // share of N that a crop gets in the first year, per cent; nil: all
	CCE          *Figure // neutralising value, per cent of pure calcium carbonate; negative: it acidifies
	Fineness     *Figure // per cent that acts within about three years
	Magnesium    *Figure // per cent Mg
	Salt         *Figure // salt index, sodium nitrate = 100
	Density      *Figure // loose, kilograms a litre
	Expansion    *Figure // loose volume from a litre as sold compressed; nil: sold loose
	CN           *Figure // carbon to nitrogen
	Moisture     *Figure // per cent of fresh weight
	Raw          bool    // raw manure: days before harvest apply

	Most     quantity.KilogramPerSquareMetre // at one time; 0: no limit told
	Cautions []string
	Note     string
}
