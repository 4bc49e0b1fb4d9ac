// Package quantity is Celsius, Millimetre, SquareMetre, Kilogram …: types, both unit systems, parsing, printing.
package quantity

// One unit per quantity in the whole program. Conversion happens where text is read and where it
// is shown, nowhere else.
type (
	// Celsius is a temperature in degrees Celsius.
	Celsius float64
	// CelsiusDay is thermal time: degrees Celsius above a base, summed over days.
	CelsiusDay float64
	// Millimetre is a depth of water, rain or soil in millimetres.
	Millimetre float64
	// Metre is a length on the ground in metres.
	Metre float64
	// SquareMetre is an area of ground in square metres.
	SquareMetre float64
	// Kilogram is a mass in kilograms.
	Kilogram float64
	// Gram is a small mass (seed) in grams.
	Gram float64
	// Litre is a volume in litres.
	Litre float64
	// KilogramPerSquareMetre is a rate on the ground: yield, lime, compost.
	KilogramPerSquareMetre float64
	// Hour is a span of hours, as of sunshine or of work.
	Hour float64
	// MegajoulePerSquareMetre is a day's radiation on the ground.
	MegajoulePerSquareMetre float64
)

// System is the set of units a person reads and types.
type System uint8

// The two systems.
const (
	Metric System = iota
	US
)

// Exact conversions by definition (international yard and pound agreement, 1959; US liquid gallon of 231 cubic inches).
// Source: NIST-HB44-C.
const (
	MetresPerInch       = 0.0254
	MetresPerFoot       = 0.3048
	KilogramsPerPound   = 0.45359237
	GramsPerOunce       = 28.349523125
	LitresPerGallon     = 3.785411784
	SquareMetresPerFoot = MetresPerFoot * MetresPerFoot // one square foot
)
