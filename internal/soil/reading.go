package soil

import (
	"errors"
	"fmt"
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// PHWord is a pH in words, by the classes of soil surveys with the two about neutral as gardeners call them.
//
//	ph  in water
//
// Source: USDA-AH18 (classes of reaction)
func PHWord(ph float64) string {
	for _, step := range phWords {
		if ph < step.below {
			return step.word
		}
	}
	return "very strongly alkaline"
}

var phWords = []struct {
	below float64
	word  string
}{
	{4.45, "extremely acid"}, {5.05, "very strongly acid"}, {5.55, "strongly acid"}, {6.05, "moderately acid"}, {6.55, "slightly acid"},
	{7.35, "neutral"}, {7.85, "slightly alkaline"}, {8.45, "moderately alkaline"}, {9.05, "strongly alkaline"},
}

// The ends of the scale that a pH of ground is shown on.
const (
	ScaleLow  = 4.0
	ScaleHigh = 9.0
)

// saltStep is how far pH in 0.01 M calcium chloride lies below pH in water, usually 0.5 to 1.0.
//
// Source: UGA-PH (0.6 is added); ANZ-4B1 (commonly 0.5 to 1.0 lower)
const saltStep = 0.6

// InWater is a test's pH as it would be in water.
//
//	result  pH in water; one measured in calcium chloride with 0.6 added, ± 0.2
//
// Source: UGA-PH
func InWater(t garden.SoilTest) (ph float64, ok bool) {
	if t.PH == nil {
		return 0, false
	}
	if t.Salt {
		return *t.PH + saltStep, true
	}
	return *t.PH, true
}

// Alarm is a reading that has to stop the work, or make it wary.
type Alarm struct {
	Stop    bool // no food is grown before someone local has been asked
	Says    string
	Sources string
}

// Check says everything wrong with a test, in sentences; nil when it can be kept and all of it can be used. A reading of which no class
// can be told is among it.
func Check(t garden.SoilTest) error {
	var faults []error
	if err := Impossible(t); err != nil {
		faults = append(faults, err.(interface{ Unwrap() []error }).Unwrap()...)
	}
	for _, r := range t.Elements {
		if r.Class != "" && r.Value == 0 || t.Kit {
			continue
		}
		if _, err := PPM(r); err != nil {
			continue // said already
		}
		if _, err := Class(r); err != nil {
			faults = append(faults, err)
		}
	}
	return errors.Join(faults...)
}

// Impossible says what no ground has and no laboratory prints; nil when the test can be kept, though some of it may be of no use.
func Impossible(t garden.SoilTest) error {
	var faults []error
	wrong := func(format string, args ...any) { faults = append(faults, fmt.Errorf(format, args...)) }
	if t.PH == nil && t.Buffer == nil && t.Acidity == nil && len(t.Elements) == 0 && t.Organic == nil && t.CEC == nil && t.Salts == nil && t.Lead == nil && t.Texture == "" && t.FreeLime == nil {
		wrong("the test holds no reading: write at least the pH")
	}
	if t.PH != nil {
		if err := checkPH(*t.PH, "pH"); err != nil {
			faults = append(faults, err)
		}
	}
	checkBuffer(t, wrong)
	for what, v := range map[string]struct {
		value *float64
		most  float64
		unit  string
	}{"organic matter": {t.Organic, 100, "%"}, "CEC": {t.CEC, 200, "meq/100 g"}, "exchangeable acidity": {t.Acidity, 60, "meq/100 g"}, "salts": {t.Salts, 60, "dS/m"}, "lead": {t.Lead, 100000, "mg/kg"}} {
		if v.value != nil && (math.IsNaN(*v.value) || *v.value < 0 || *v.value > v.most) {
			wrong("%s of %v is not a value that ground has (0 to %g %s): check the number, the point and the unit", what, *v.value, v.most, v.unit)
		}
	}
	if t.Salts != nil && t.SaltsBy == "" {
		wrong("salts need how they were measured: saturated paste, 1:2 or 1:5 of soil to water")
	}
	if t.Depth < 0 || t.Depth > 1 {
		wrong("a sample to %.2f m is not topsoil: write the depth it was taken to, usually 15 cm (6 in)", float64(t.Depth))
	}
	for _, r := range t.Elements {
		if r.Class != "" && r.Value == 0 {
			continue
		}
		if r.Extractor == garden.HomeKit && r.Class == "" {
			wrong("a home kit gives %s as a class, not a number: write very low, low, medium, high or very high, as its card has it", elementName(r.Element))
			continue
		}
		if _, err := PPM(r); err != nil {
			faults = append(faults, err)
		}
	}
	return errors.Join(faults...)
}

// checkPH refuses what is no pH of ground, and guesses at a missing point.
func checkPH(ph float64, what string) error {
	switch {
	case math.IsNaN(ph) || math.IsInf(ph, 0) || ph <= 0:
		return fmt.Errorf("%s of %v is not a pH: write a number like 6.2", what, ph)
	case ph >= 30 && ph < 100:
		return fmt.Errorf("%s of %g cannot be: is a point missing, %.1f?", what, ph, ph/10)
	case ph >= 300 && ph < 1000:
		return fmt.Errorf("%s of %g cannot be: is a point missing, %.2f?", what, ph, ph/100)
	case ph < 3 || ph > 10.5:
		return fmt.Errorf("%s of %g is not one that ground has (3 to 10.5): measure again or check the number", what, ph)
	}
	return nil
}

// checkBuffer holds a buffer pH to its method and to the soil's own pH.
func checkBuffer(t garden.SoilTest, wrong func(string, ...any)) {
	if t.Buffer == nil {
		return
	}
	if err := checkPH(*t.Buffer, "a buffer pH"); err != nil {
		wrong("%w", err)
		return
	}
	m, ok := bufferMethods[t.Method]
	if !ok {
		wrong("a buffer pH says nothing without its method (got %q): the report names it, one of %v", t.Method, garden.BufferMethods)
		return
	}
	if *t.Buffer < m.low || *t.Buffer > m.high+readingError {
		wrong("a %s reads from %.1f to %.1f, not %g: check the number and which buffer the report names", m.name, m.low, m.high, *t.Buffer)
	}
	if ph, ok := InWater(t); ok && *t.Buffer < ph && ph < m.high {
		wrong("the buffer pH %g lies below the soil's own pH %g, which cannot be in acid ground: are the two exchanged?", *t.Buffer, ph)
	}
}

// AlarmsOf are the readings of a test that are matters of health or of salt, the gravest first.
func AlarmsOf(t garden.SoilTest) []Alarm {
	var out []Alarm
	if t.Lead != nil {
		if a, ok := leadAlarm(*t.Lead); ok {
			out = append(out, a)
		}
	}
	if t.Salts != nil {
		if a, ok := saltAlarm(t); ok {
			out = append(out, a)
		}
	}
	return out
}

// leadAlarm follows the most cautious of the limits met with, and shows the rest.
//
//	lead  mg/kg, total
//
// Source: EPA-LEAD-2024 (200, or 100 with other sources); UMN-PB (300, or 100 where children play); UCONN-PB (400 in bare play ground until then); UMD-PB (10 to 50 is usual)
func leadAlarm(lead float64) (Alarm, bool) {
	const limits = "Limits differ: 100 mg/kg where children touch the ground (Minnesota) or where there are other sources of lead, 200 for homes (US EPA since 2024), 300 for food gardens (Minnesota), 400 until 2024. The lowest is followed here."
	advice := " Wash hands and vegetables, peel roots, take shoes off at the door, keep the ground moist and covered, and keep its pH at 6.5 or above; fruits carry least, leaves and roots most."
	sources := "EPA-LEAD-2024; UMN-PB; UCONN-PB; UMD-PB"
	switch {
	case lead >= 100:
		return Alarm{true, fmt.Sprintf("Lead of %.0f mg/kg: stop, grow no food in this ground and keep children off it until the local health or extension office has been asked. %s%s", lead, limits, advice), sources}, true
	case lead > 50:
		return Alarm{false, fmt.Sprintf("Lead of %.0f mg/kg is above what ground usually has (10 to 50) and below the limits. %s%s", lead, limits, advice), sources}, true
	}
	return Alarm{}, false
}

// PasteSalts is a conductivity as it would be in the extract of a saturated paste.
//
//	result  dS/m; a 1:2 reading times 2.3, a 1:5 reading times 14 on sand, 10 on loam, 7 on clay
//
// Source: SALT-FACTORS (from memory; the factors follow texture and are good to about a third)
func PasteSalts(ec float64, by garden.SaltMethod, texture garden.Texture) float64 {
	switch by {
	case garden.OneToTwo:
		return ec * 2.3
	case garden.OneToFive:
		switch texture {
		case garden.Sand, garden.SandyLoam:
			return ec * 14
		case garden.ClayLoam, garden.Clay:
			return ec * 7
		}
		return ec * 10
	}
	return ec
}

// saltAlarm puts a conductivity in words: 2 dS/m harms the tenderest, 4 most.
//
// Source: SALT-FACTORS
func saltAlarm(t garden.SoilTest) (Alarm, bool) {
	paste := PasteSalts(*t.Salts, t.SaltsBy, t.Texture)
	switch {
	case paste >= 4:
		return Alarm{true, fmt.Sprintf("Salts of %.1f dS/m (as saturated paste) hold back most vegetables: give no fertiliser, manure or salty compost; ask the local extension office where the salt comes from and whether it can be washed out before planting.", paste), "SALT-FACTORS"}, true
	case paste >= 2:
		return Alarm{false, fmt.Sprintf("Salts of %.1f dS/m (as saturated paste) hold back beans, carrots, onions and strawberries: no manure or salty compost, fertiliser in small parts, and water deeply.", paste), "SALT-FACTORS"}, true
	}
	return Alarm{}, false
}

// Fit is how a pH suits a crop.
type Fit struct {
	Crop      *crop.Crop
	Low, High float64
	Below     float64 // pH units under its range; 0 when in or over it
	Above     float64
	Yield     float64 // share of the yield in its range
}

// Word says it: "in its range", "too acid by 0.6".
func (f Fit) Word() string {
	switch {
	case f.Below > 0:
		return fmt.Sprintf("too acid by %.1f", f.Below)
	case f.Above > 0:
		return fmt.Sprintf("too alkaline by %.1f", f.Above)
	}
	return "in its range"
}

// FitOf is how a pH suits a crop by the catalogue's range.
func FitOf(c *crop.Crop, ph float64) Fit {
	f := Fit{Crop: c, Low: c.PH.Low, High: c.PH.High, Yield: PHFactor(c.PH, ph)}
	f.Below, f.Above = math.Max(0, c.PH.Low-ph), math.Max(0, ph-c.PH.High)
	return f
}
