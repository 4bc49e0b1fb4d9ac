package garden

import (
	"math"
	"strconv"

	"kailyard/internal/civil"
)

// Validate tells what is wrong with a soil test: what no soil can be is refused, what is odd is
// doubted. Whether the figures make sense together as chemistry is looked at in more detail where
// they are read.
func (t SoilTest) Validate() Problems {
	var ps Problems
	dayProblem(&ps, "date", t.Date)
	switch {
	case !within(t.Depth, 0, deepestDigging):
		ps.add("depth", "write how deep the sample was taken, for example \"15 cm\" or \"6 in\"", "the sample was taken %v m deep", float64(t.Depth))
	case t.Depth > 0 && t.Depth < 0.02:
		ps.doubt("depth", "check the unit", "the sample was taken only %v m deep", float64(t.Depth))
	}
	ps = append(ps, t.phProblems()...)
	ps = append(ps, t.bufferProblems()...)
	seen := map[Element]bool{}
	for _, r := range t.Elements {
		ps = append(ps, r.Validate()...)
		if seen[r.Element] {
			ps.add("element", "keep one; a second result is a test of its own", "%s is given twice", r.Element)
		}
		seen[r.Element] = true
	}
	ps = append(ps, t.figureProblems()...)
	if !t.measures() {
		ps.add("ph", "write what was measured, a pH at least", "the test tells nothing")
	}
	return ps
}

// measures says whether anything is told of the soil at all.
func (t SoilTest) measures() bool {
	return t.PH != nil || t.Buffer != nil || t.Acidity != nil || len(t.Elements) > 0 || t.Organic != nil || t.CEC != nil ||
		t.Texture != "" || t.Salts != nil || t.Lead != nil || t.FreeLime != nil
}

// phProblems refuses a pH that soil cannot have. Soils lie between about 3 (drained acid sulphate
// clays) and 10.5 (sodium carbonate soils); common practice.
func (t SoilTest) phProblems() Problems {
	var ps Problems
	if t.PH == nil {
		if t.Salt {
			ps.add("ph", "write the pH, or leave out what it was measured in", "what the pH was measured in is told, but no pH")
		}
		return ps
	}
	ph := *t.PH
	switch {
	case ph >= 25 && ph <= 105:
		ps.add("ph", "is a point missing: "+decimal(ph/10)+"?", "pH is %v, and pH goes from 0 to 14", ph)
	case !within(ph, 2, 11):
		ps.add("ph", "write the pH of the report, mostly between 4 and 9", "pH is %v, which no soil has", ph)
	case ph < 3.5 || ph > 9.5:
		ps.doubt("ph", "check the figure, and test again before anything is done about it", "pH %v is very unusual for a garden", ph)
	}
	return ps
}

// bufferStart is the pH that each buffer has before soil is stirred in: a reading can hardly lie
// above it, and over soil less acid than itself it tells of no need of lime. From memory of the methods.
var bufferStart = map[BufferMethod]float64{SMP: 7.5, Sikora: 7.7, Mehlich: 6.6, ModifiedMehlich: 6.6, AdamsEvans: 8.0, Woodruff: 7.0}

func (t SoilTest) bufferProblems() Problems {
	var ps Problems
	if t.Buffer == nil {
		if t.Method != "" {
			ps.add("buffer_ph", "write the buffer pH, or leave its method out", "a buffer method is named, but no buffer pH")
		}
		return ps
	}
	buffer := *t.Buffer
	start, known := bufferStart[t.Method]
	if !known {
		if t.Method == "" {
			ps.add("buffer_method", "write the method the report names: the same buffer pH means different amounts of lime", "the buffer pH has no method")
		} else {
			oneOf(&ps, "buffer_method", t.Method, BufferMethods)
		}
		start = 8
	}
	switch {
	case buffer >= 40 && buffer <= 80:
		ps.add("buffer_ph", "is a point missing: "+decimal(buffer/10)+"?", "buffer pH is %v", buffer)
	case !within(buffer, 3.5, 8.5):
		ps.add("buffer_ph", "write the buffer pH of the report, mostly between 5 and 7.5", "buffer pH is %v, which no report has", buffer)
	case t.PH != nil && within(*t.PH, 2, 11) && buffer < *t.PH && *t.PH < start:
		ps.add("buffer_ph", "look which is which: in acid soil the buffer pH is the higher", "buffer pH %v is below the soil's pH %v", buffer, *t.PH)
	case buffer > start+0.3:
		ps.doubt("buffer_ph", "check the figure and the method", "a %s buffer pH is not above %v", t.Method, start)
	}
	return ps
}

// figureProblems looks at the single figures.
func (t SoilTest) figureProblems() Problems {
	var ps Problems
	figure := func(field string, value *float64, most float64, unit, remedy string) {
		if value != nil && !within(*value, 0, most) {
			ps.add(field, remedy, "%s is %v %s", field, *value, unit)
		}
	}
	figure("acidity_meq", t.Acidity, 100, "meq/100 g", "write the exchangeable acidity in meq/100 g, the same as cmol/kg")
	figure("organic_percent", t.Organic, 100, "per cent", "write the organic matter in per cent of the dry soil")
	figure("cec_meq", t.CEC, 250, "meq/100 g", "write the exchange capacity in meq/100 g, the same as cmol/kg")
	figure("salts_ds_m", t.Salts, 100, "dS/m", "write the conductivity in dS/m, the same as mmho/cm; 1000 µS/cm are 1 dS/m")
	figure("lead_mg_kg", t.Lead, 1e6, "mg/kg", "write the lead in mg/kg, the same as ppm")
	if t.Organic != nil && *t.Organic > 25 && *t.Organic <= 100 && t.Texture != Organic {
		ps.doubt("organic_percent", `check the figure, or write texture = "organic"`, "%v per cent of organic matter is peat or muck, not common soil", *t.Organic)
	}
	if t.Salts != nil && *t.Salts > mostSaltsCropped && *t.Salts <= 100 {
		ps.doubt("salts_ds_m", "check the point and the unit: 1000 µS/cm are 1 dS/m", "at %v dS/m hardly any crop grows", *t.Salts)
	}
	if t.Texture != "" {
		oneOf(&ps, "texture", t.Texture, Textures)
	}
	switch {
	case t.SaltsBy != "":
		oneOf(&ps, "salts_in", t.SaltsBy, []SaltMethod{SaturatedPaste, OneToTwo, OneToFive})
		if t.Salts == nil {
			ps.add("salts_ds_m", "write the conductivity, or leave out what it was measured in", "no conductivity is given")
		}
	case t.Salts != nil:
		ps.add("salts_in", `write "saturated paste", "1:2" or "1:5": the same salt shows differently in each`, "what the conductivity was measured in is not told")
	}
	return ps
}

// Validate tells what is wrong with one element's reading.
func (r Reading) Validate() Problems {
	var ps Problems
	oneOf(&ps, "element", r.Element, []Element{Nitrogen, Phosphorus, Potassium, Magnesium, Calcium})
	if r.Class != "" {
		oneOf(&ps, "class", r.Class, TestClasses)
	}
	if r.Extractor != "" {
		oneOf(&ps, "extractor", r.Extractor, Extractors)
	}
	switch {
	case !(r.Value >= 0) || math.IsInf(r.Value, 0):
		ps.add("value", "write the figure of the report", "%s is %v", r.Element, r.Value)
	case r.Unit == "" && r.Value != 0:
		ps.add("unit", `write the unit the report names: "ppm" (the same as mg/kg), "lb/acre", "kg/ha", "mg/l" or "meq/100 g"`, "%s is %v of no unit", r.Element, r.Value)
	case r.Unit == "" && r.Class == "":
		ps.add("value", "write the figure with its unit, or the class the report prints", "nothing is told of %s", r.Element)
	case r.Unit != "":
		oneOf(&ps, "unit", r.Unit, []SoilUnit{PPM, PoundPerAcre, MgPerLitre, KgPerHectare, MeqPer100g})
	}
	return append(ps, r.plausible()...)
}

// elementLimit is how much of an element a laboratory finds, in mg/kg: below least or above unusual
// it may be a slip of the unit, above most it must be one.
type elementLimit struct{ least, unusual, most, perMeq float64 }

// The limits are estimated, wide of every class limit of the tables in use; a milliequivalent weighs
// the atomic weight by the charge (mg/kg for 1 meq/100 g: ten times that).
var elementLimits = map[Element]elementLimit{
	Nitrogen:   {0, 300, 5000, 0},
	Phosphorus: {0, 500, 5000, 0},
	Potassium:  {8, 1200, 8000, 391},
	Magnesium:  {5, 2000, 10000, 121.5},
	Calcium:    {20, 12000, 60000, 200.4},
}

// plausible looks for a figure in another unit than the one told.
func (r Reading) plausible() Problems {
	var ps Problems
	limit, ok := elementLimits[r.Element]
	if !ok || r.Unit == "" || !(r.Value > 0) {
		return ps
	}
	perKg, ok := r.MilligramPerKg()
	switch {
	case !ok && r.Unit == MeqPer100g:
		ps.add("unit", "write ppm or lb/acre", "%s is not counted in meq/100 g", r.Element)
	case !ok:
	case perKg > limit.most:
		ps.add("value", r.unitRemedy(), "%s of %v %s is more than any soil holds", r.Element, r.Value, r.Unit)
	case perKg > limit.unusual:
		ps.doubt("value", r.unitRemedy(), "%s of %v %s is unusually high", r.Element, r.Value, r.Unit)
	case perKg < limit.least:
		ps.doubt("value", "check the unit: is it meq/100 g?", "%s of %v %s is unusually low", r.Element, r.Value, r.Unit)
	}
	return ps
}

func (r Reading) unitRemedy() string {
	if r.Unit == PPM || r.Unit == MgPerLitre {
		return "check the unit: is it lb/acre? 2 lb/acre of a plough layer are about 1 ppm"
	}
	return "check the figure and its unit"
}

// MilligramPerKg is the reading in mg of the element in a kg of soil, false where its unit does not
// tell. An acre of soil to 6⅔ inches is taken as 2,000,000 lb, a hectare to 15–17 cm as 2,240,000 kg, and a litre of
// ground soil as a kilogram; common practice.
func (r Reading) MilligramPerKg() (float64, bool) {
	switch r.Unit {
	case PPM, MgPerLitre:
		return r.Value, true
	case PoundPerAcre:
		return r.Value / 2, true
	case KgPerHectare:
		return r.Value / 2.24, true
	case MeqPer100g:
		per := elementLimits[r.Element].perMeq
		return r.Value * per, per > 0
	}
	return 0, false
}

func dayProblem(ps *Problems, field string, d civil.Date) {
	if y := d.Year(); y < firstYear || y > lastYear {
		ps.add(field, "write the day, for example 2027-04-15", "%s is %s", field, d)
	}
}

// decimal writes a figure with one decimal.
func decimal(x float64) string { return strconv.FormatFloat(x, 'f', 1, 64) }

// mostSaltsCropped is the conductivity, dS/m, above which ground is strongly saline and only few tolerant crops yield at all. Common
// practice: the usual classes end at 2, 4, 8 and 16.
const mostSaltsCropped = 16
