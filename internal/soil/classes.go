package soil

import (
	"fmt"
	"math"
	"strings"

	"kailyard/internal/garden"
)

// scale is where the classes of an element begin by one extractor, in ppm (mg/kg).
type scale struct {
	element garden.Element
	by      garden.Extractor
	unit    garden.SoilUnit // of From
	from    [5]float64      // where each class from very low to very high begins; NaN: the table has no such class
	Source  string          // key
	Quality string          // as a Figure's
	note    string          // what a reader must know of it
}

var none = math.NaN()

// scales are the tables followed. Laboratories calibrate their classes to their own soils, so a class printed
// on the report stands before any of these.
var scales = []scale{
	{element: garden.Phosphorus, by: garden.Mehlich3, unit: garden.PoundPerAcre, from: [5]float64{0, 25, 46, 72, 138}, Source: "RUTGERS-M3", Quality: "published"},
	{element: garden.Potassium, by: garden.Mehlich3, unit: garden.PoundPerAcre, from: [5]float64{0, 41, 82, 146, 278}, Source: "RUTGERS-M3", Quality: "published",
		note: "laboratories of the western states ask for about twice as much potassium before they call it high"},
	{element: garden.Magnesium, by: garden.Mehlich3, unit: garden.PoundPerAcre, from: [5]float64{0, 46, 84, 144, 296}, Source: "RUTGERS-M3", Quality: "published"},
	{element: garden.Calcium, by: garden.Mehlich3, unit: garden.PoundPerAcre, from: [5]float64{0, 616, 1008, 1401, 1791}, Source: "RUTGERS-M3", Quality: "published"},

	{element: garden.Phosphorus, by: garden.Bray1, unit: garden.PPM, from: [5]float64{0, 10, 20, 40, 80}, Source: "MWVEG-2022", Quality: "estimated",
		note: "response is likely below 35–40 ppm and nothing is recommended above 80; the steps below are from memory"},
	{element: garden.Phosphorus, by: garden.Olsen, unit: garden.PPM, from: [5]float64{0, 5, 10, 26, 46}, Source: "NI-OLSEN", Quality: "estimated",
		note: "steps of the Olsen indices; asparagus is already unlikely to answer above 15 ppm, tomato above 25"},
	{element: garden.Potassium, by: garden.AmmoniumAcetate, unit: garden.PPM, from: [5]float64{0, 65, 130, 250, 800}, Source: "UCIPM-TOMATO", Quality: "estimated",
		note: "the steps at 130 and 250 ppm are printed for tomato, the outer ones are from memory"},

	{element: garden.Phosphorus, by: garden.Mehlich1, unit: garden.PPM, from: [5]float64{0, 10, 16, 31, 61}, Source: "UF-M1", Quality: "from memory"},
	{element: garden.Potassium, by: garden.Mehlich1, unit: garden.PPM, from: [5]float64{0, 20, 36, 61, 126}, Source: "UF-M1", Quality: "from memory"},
	{element: garden.Phosphorus, by: garden.Morgan, unit: garden.PoundPerAcre, from: [5]float64{0, 1, 4, 9, 40}, Source: "CORNELL-MORGAN", Quality: "from memory"},
	{element: garden.Phosphorus, by: garden.ModifiedMorgan, unit: garden.PPM, from: [5]float64{0, 2, none, 4, 14}, Source: "UMASS-MM", Quality: "from memory"},
	{element: garden.Potassium, by: garden.ModifiedMorgan, unit: garden.PPM, from: [5]float64{0, 50, none, 100, 160}, Source: "UMASS-MM", Quality: "from memory"},
}

// Classed is a reading in words, with why.
type Classed struct {
	Class   garden.TestClass
	Reasons []garden.Reason
}

// Class is how much of an element a reading tells of. The class that the laboratory or the kit printed stands;
// without one, the value is laid on the scale of its extractor. Between two steps of a scale the lower class holds.
//
//	r.Value in r.Unit, 0 and up; ppm, mg/l, lb/acre, kg/ha, or meq/100 g for K, Mg and Ca
//
// An unknown extractor, a unit that an element is not counted in and a value that no soil has are errors.
func Class(r garden.Reading) (Classed, error) {
	if r.Class != "" {
		return Classed{r.Class, []garden.Reason{{Says: fmt.Sprintf("%s is %s, as the report prints it.", elementTitle(r.Element), r.Class), Rule: "class as reported"}}}, nil
	}
	if r.Extractor == garden.HomeKit {
		return Classed{}, fmt.Errorf("a home kit gives %s as a class, not a number: write very low, low, medium, high or very high", elementName(r.Element))
	}
	if r.Extractor == "" {
		return Classed{}, fmt.Errorf("a number for %s says nothing without its extractor: write which it is (the report names it, for example Mehlich 3 or Olsen), or the class printed beside it", elementName(r.Element))
	}
	for _, s := range scales {
		if s.element == r.Element && s.by == r.Extractor {
			return s.class(r)
		}
	}
	return Classed{}, fmt.Errorf("no scale is known here for %s by %s: write the class that the report prints", elementName(r.Element), r.Extractor)
}

func (s scale) class(r garden.Reading) (Classed, error) {
	ppm, err := PPM(r)
	if err != nil {
		return Classed{}, err
	}
	value := ppm
	if s.unit == garden.PoundPerAcre {
		value *= poundsPerAcrePerPPM
	}
	class := garden.VeryLow
	for i, from := range s.from {
		if value >= from { // false for NaN
			class = garden.TestClasses[i]
		}
	}
	says := fmt.Sprintf("%s at %.3g ppm by %s is %s.", elementTitle(r.Element), ppm, r.Extractor, class)
	if s.note != "" {
		says += " Mind that " + s.note + "."
	}
	return Classed{class, []garden.Reason{{Says: says, Rule: "soil test class", Source: s.Source}}}, nil
}

// poundsPerAcrePerPPM: an acre of ground to about seven inches weighs two million pounds.
//
// Source: PSU-AGGUIDE (ppm × 2 = lb/acre)
const poundsPerAcrePerPPM = 2

// mostPPM are the values above which a reading is a slip of the unit or the decimal point.
var mostPPM = map[garden.Element]float64{
	garden.Nitrogen: 500, garden.Phosphorus: 2000, garden.Potassium: 5000, garden.Magnesium: 5000, garden.Calcium: 50000,
}

// PPM is a reading in parts per million by weight (mg/kg), refused where its unit does not tell or no soil holds so much.
func PPM(r garden.Reading) (float64, error) {
	ppm, ok := r.MilligramPerKg()
	switch {
	case !ok && r.Unit == garden.MeqPer100g:
		return 0, fmt.Errorf("%s is not counted in meq/100 g: look for ppm or lb/acre on the report", elementName(r.Element))
	case !ok:
		return 0, fmt.Errorf("%q is not a unit that %s is counted in: write ppm, lb/acre, mg/l, kg/ha or meq/100 g", r.Unit, elementName(r.Element))
	case math.IsNaN(ppm) || ppm < 0 || ppm > mostPPM[r.Element]:
		return 0, fmt.Errorf("%s of %v %s is not a value that soils have: check the number and whether the report counts in ppm or lb/acre", elementName(r.Element), r.Value, r.Unit)
	}
	return ppm, nil
}

func elementName(e garden.Element) string {
	switch e {
	case garden.Nitrogen:
		return "nitrogen"
	case garden.Phosphorus:
		return "phosphorus"
	case garden.Potassium:
		return "potassium"
	case garden.Magnesium:
		return "magnesium"
	case garden.Calcium:
		return "calcium"
	}
	return fmt.Sprintf("element %q", e)
}

// elementTitle is an element's name at the head of a sentence.
func elementTitle(e garden.Element) string {
	name := elementName(e)
	return strings.ToUpper(name[:1]) + name[1:]
}
