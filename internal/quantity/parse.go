package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// ParseError is a text that is not the quantity asked for: what is wrong, and what would be right.
type ParseError struct {
	Text   string // what was typed
	Says   string // what is wrong with it, a clause: `"9 kg" is not a length: kg is no unit of length`
	Remedy string // what to write instead
}

// Error is both halves in one sentence.
func (e *ParseError) Error() string { return e.Says + "; " + e.Remedy }

// unit is one unit a person may type.
type unit struct {
	names  string  // its spellings, lower case, without blanks, separated by blanks
	factor float64 // size in the program's unit
	parts  string  // the first name of the unit that may follow it in one text, as inches follow feet
}

// measure is one quantity as it can be typed.
type measure struct {
	noun     string
	units    []unit
	bare     [2]string // unit of a number alone, by System
	examples [2]string // by System, for the remedy
	negative bool      // whether a minus sign makes sense
	powers   bool      // whether a unit may end in a power, as m2
}

const kilogramsPerSquareMetrePerPoundPer100SqFt = KilogramsPerPound / (100 * SquareMetresPerFoot)

var lengthUnits = []unit{
	{names: "m metre metres meter meters", factor: 1, parts: "cm"},
	{names: "cm centimetre centimetres centimeter centimeters", factor: 0.01, parts: "mm"},
	{names: "mm millimetre millimetres millimeter millimeters", factor: 0.001},
	{names: "km kilometre kilometres kilometer kilometers", factor: 1000},
	{names: "yd yds yard yards", factor: 3 * MetresPerFoot, parts: "ft"},
	{names: "ft foot feet '", factor: MetresPerFoot, parts: "in"},
	{names: `in ins inch inches "`, factor: MetresPerInch},
}

var (
	length = measure{
		noun: "length", units: lengthUnits, negative: true,
		bare: [2]string{"m", "ft"}, examples: [2]string{"9 m or 45 cm", "30 ft, 4 ft 6 in or 18 in"},
	}
	distance = measure{
		noun: "distance", units: lengthUnits,
		bare: [2]string{"cm", "in"}, examples: [2]string{"45 cm", "18 in or 1½ in"},
	}
	area = measure{
		noun: "area", powers: true,
		units: []unit{
			{names: "m² m2 m^2 sqm sq.m squaremetre squaremetres squaremeter squaremeters", factor: 1},
			{names: "cm² cm2 cm^2", factor: 1e-4},
			{names: "ha hectare hectares", factor: 1e4},
			{names: "sqft sq.ft. sq.ft ft² ft2 ft^2 squarefoot squarefeet", factor: SquareMetresPerFoot},
			{names: "sqyd sq.yd. yd² yd2 yd^2 squareyard squareyards", factor: 9 * SquareMetresPerFoot},
			{names: "acre acres", factor: 43560 * SquareMetresPerFoot},
		},
		bare: [2]string{"m²", "sqft"}, examples: [2]string{"12 m²", "120 sq ft"},
	}
	mass = measure{
		noun: "mass",
		units: []unit{
			{names: "kg kilo kilos kilogram kilograms", factor: 1, parts: "g"},
			{names: "g gram grams", factor: 0.001},
			{names: "t tonne tonnes", factor: 1000},
			{names: "lb lbs pound pounds lb.", factor: KilogramsPerPound, parts: "oz"},
			{names: "oz ounce ounces oz.", factor: GramsPerOunce / 1000},
		},
		bare: [2]string{"kg", "lb"}, examples: [2]string{"4.5 kg or 450 g", "10 lb, 8 oz or 1 lb 4 oz"},
	}
	volume = measure{
		noun: "volume", powers: true,
		units: []unit{
			{names: "l litre litres liter liters", factor: 1, parts: "ml"},
			{names: "ml millilitre millilitres milliliter milliliters", factor: 0.001},
			{names: "m³ m3 m^3 cubicmetre cubicmetres cubicmeter cubicmeters", factor: 1000},
			{names: "gal gal. gallon gallons", factor: LitresPerGallon, parts: "qt"},
			{names: "qt quart quarts", factor: LitresPerGallon / 4, parts: "pt"},
			{names: "pt pint pints", factor: LitresPerGallon / 8},
			{names: "cuft ft³ ft3 ft^3 cubicfoot cubicfeet", factor: 1728. / 231 * LitresPerGallon},
			{names: "cuyd yd³ yd3 yd^3 cubicyard cubicyards", factor: 27 * 1728. / 231 * LitresPerGallon},
		},
		bare: [2]string{"l", "gal"}, examples: [2]string{"15 L", "4 gal"},
	}
	rain = measure{
		noun: "depth of rain",
		units: []unit{
			{names: "mm millimetre millimetres millimeter millimeters", factor: 1},
			{names: "cm centimetre centimetres centimeter centimeters", factor: 10},
			{names: `in inch inches "`, factor: 1000 * MetresPerInch},
		},
		bare: [2]string{"mm", "in"}, examples: [2]string{"12 mm", "0.5 in"},
	}
	rate = measure{
		noun: "rate", powers: true,
		units: []unit{
			{names: "kg/m² kg/m2 kg/m^2 kgperm² kgperm2 kgpersqm", factor: 1},
			{names: "g/m² g/m2 g/m^2 gperm² gperm2 gpersqm", factor: 0.001},
			{names: "kg/ha kgperha", factor: 1e-4},
			{names: "t/ha tperha", factor: 0.1},
			{names: "lb/100sqft lbs/100sqft lb/100ft² lb/100ft2 lbper100sqft lbsper100sqft poundsper100squarefeet", factor: kilogramsPerSquareMetrePerPoundPer100SqFt},
			{names: "lb/1000sqft lbs/1000sqft lbper1000sqft lbsper1000sqft", factor: kilogramsPerSquareMetrePerPoundPer100SqFt / 10},
			{names: "lb/sqft lbs/sqft lb/ft² lb/ft2 lbpersqft", factor: kilogramsPerSquareMetrePerPoundPer100SqFt * 100},
			{names: "oz/sqyd oz/yd² oz/yd2 ozpersqyd ozpersquareyard", factor: GramsPerOunce / 1000 / (9 * SquareMetresPerFoot)},
			{names: "oz/100sqft ozper100sqft", factor: kilogramsPerSquareMetrePerPoundPer100SqFt / 16},
			{names: "lb/acre lbs/acre lbperacre", factor: KilogramsPerPound / (43560 * SquareMetresPerFoot)},
		},
		bare: [2]string{"kg/m²", "lb/100sqft"}, examples: [2]string{"3 kg/m² or 120 g/m²", "5 lb per 100 sq ft"},
	}
)

// ParseLength reads a length on the ground. A bare number is metres, or feet in the US system.
func ParseLength(text string, s System) (Metre, error) {
	v, err := length.parse(text, s)
	return Metre(v), err
}

// ParseDistance reads the room between plants or a depth. A bare number is centimetres, or inches in the US system.
func ParseDistance(text string, s System) (Metre, error) {
	v, err := distance.parse(text, s)
	return Metre(v), err
}

// ParseArea reads an area. A bare number is square metres, or square feet in the US system.
func ParseArea(text string, s System) (SquareMetre, error) {
	v, err := area.parse(text, s)
	return SquareMetre(v), err
}

// ParseMass reads a mass. A bare number is kilograms, or pounds in the US system.
func ParseMass(text string, s System) (Kilogram, error) {
	v, err := mass.parse(text, s)
	return Kilogram(v), err
}

// ParseVolume reads a volume. A bare number is litres, or US gallons in the US system.
func ParseVolume(text string, s System) (Litre, error) {
	v, err := volume.parse(text, s)
	return Litre(v), err
}

// ParseRain reads a depth of rain or watering. A bare number is millimetres, or inches in the US system.
func ParseRain(text string, s System) (Millimetre, error) {
	v, err := rain.parse(text, s)
	return Millimetre(v), err
}

// ParseRate reads a mass on the ground. A bare number is kg/m², or lb per 100 sq ft in the US system.
func ParseRate(text string, s System) (KilogramPerSquareMetre, error) {
	v, err := rate.parse(text, s)
	return KilogramPerSquareMetre(v), err
}

// ParseSystem reads the name of a system of units: "metric", "US" and what people call them.
func ParseSystem(text string) (System, error) {
	switch strings.ToLower(strings.TrimSpace(text)) {
	case "metric", "si", "m", "cm":
		return Metric, nil
	case "us", "u.s.", "us customary", "customary", "imperial", "ft", "feet":
		return US, nil
	}
	return Metric, &ParseError{
		Text:   text,
		Says:   fmt.Sprintf("%q is not a system of units", text),
		Remedy: `write "metric" (°C, m, kg, L) or "US" (°F, ft, lb, gal)`,
	}
}

// String is the system's name as ParseSystem reads it.
func (s System) String() string {
	if s == US {
		return "US"
	}
	return "metric"
}

// MarshalText writes the system's name.
func (s System) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads the system's name.
func (s *System) UnmarshalText(text []byte) error {
	v, err := ParseSystem(string(text))
	if err != nil {
		return err
	}
	*s = v
	return nil
}

// parse reads one or more numbers with units, each of the next smaller unit: "4 ft 6 in".
func (m *measure) parse(text string, s System) (float64, error) {
	rest := tidy(text)
	if rest == "" {
		return 0, m.refuse(text, s, "nothing is written where "+article(m.noun)+" is wanted")
	}
	sign := 1.0
	if after, ok := strings.CutPrefix(rest, "-"); ok {
		sign, rest = -1, strings.TrimLeft(after, " ")
	} else {
		rest = strings.TrimLeft(strings.TrimPrefix(rest, "+"), " ")
	}
	var sum float64
	next := "" // the unit a following number must have
	converted := false
	for first := true; first || rest != ""; first = false {
		value, after, err := scanNumber(rest)
		if err != "" {
			return 0, m.refuse(text, s, fmt.Sprintf("%q is not %s: %s", text, article(m.noun), err))
		}
		name, after := scanUnit(after, m.powers)
		switch {
		case name == "" && first && after == "":
			name = m.bare[s&1]
		case name == "" && !first && after == "" && next != "":
			name = next
		}
		u, ok := m.find(name)
		switch {
		case name == "":
			return 0, m.refuse(text, s, fmt.Sprintf("%q is not %s: %q does not belong there", text, article(m.noun), after))
		case !ok:
			return 0, m.refuse(text, s, fmt.Sprintf("%q is not %s: %q is not a unit of it", text, article(m.noun), strings.TrimSpace(name)))
		case !first && !u.is(next):
			return 0, m.refuse(text, s, fmt.Sprintf("%q is not %s: the units do not go together", text, article(m.noun)))
		}
		sum += value * u.factor
		converted = converted || u.factor != 1
		next, rest = u.parts, after
	}
	if sign < 0 && sum != 0 && !m.negative {
		return 0, m.refuse(text, s, fmt.Sprintf("%q is below nothing, which %s cannot be", text, article(m.noun)))
	}
	if math.IsInf(sum, 0) {
		return 0, m.refuse(text, s, fmt.Sprintf("%q is too large", text))
	}
	if converted {
		sum = plain(sum)
	}
	return sign * sum, nil
}

// plain drops the noise of the last bit that a conversion leaves, so that 12 ft is 3.6576 m and
// not 3.6576000000000004. Fifteen figures always survive a float64.
func plain(x float64) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 15, 64), 64)
	if err != nil {
		return x
	}
	return short
}

func (m *measure) find(name string) (unit, bool) {
	plain := strings.ReplaceAll(name, " ", "")
	for _, u := range m.units {
		if u.is(plain) {
			return u, true
		}
	}
	return unit{}, false
}

// is says whether a spelling, lower case and without blanks, is the unit's.
func (u unit) is(name string) bool {
	if name == "" {
		return false
	}
	for _, n := range strings.Fields(u.names) {
		if n == name {
			return true
		}
	}
	return false
}

func (m *measure) refuse(text string, s System, says string) error {
	return &ParseError{Text: text, Says: says, Remedy: fmt.Sprintf(
		"write a number and a unit, for example %s (a number alone counts as %s)", m.examples[s&1], spaced(m.bare[s&1]))}
}

// spaced is the name of a bare unit as people write it.
func spaced(name string) string {
	switch name {
	case "sqft":
		return "sq ft"
	case "l":
		return "L"
	case "lb/100sqft":
		return "lb per 100 sq ft"
	}
	return name
}

func article(noun string) string {
	if strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}
