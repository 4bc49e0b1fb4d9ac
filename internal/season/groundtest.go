package season

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// ReadingWords is one reading of a test in words.
type ReadingWords struct {
	Of      string // "pH", "phosphorus"
	Value   string // with its unit; empty where the report gives only a class
	Word    string // "slightly acid", "medium"
	Reasons []garden.Reason
}

// tests are those that stand for a bed, the newest first.
func (r *bedReader) tests(bed int64) []TestRead {
	var all []TestRead
	for _, t := range r.in.Garden.Tests {
		if standsFor(t, bed) && t.Date <= r.in.Day {
			all = append(all, ReadTest(t))
		}
	}
	slices.SortStableFunc(all, func(a, b TestRead) int {
		return cmp.Or(cmp.Compare(b.Test.Date, a.Test.Date), cmp.Compare(b.Test.ID, a.Test.ID))
	})
	return all
}

// ReadTest is a test with its readings in words.
func ReadTest(t garden.SoilTest) TestRead {
	r := TestRead{Test: t}
	add := func(of, value, word string, reasons ...garden.Reason) {
		r.Readings = append(r.Readings, ReadingWords{of, value, word, reasons})
	}
	if ph, ok := soil.InWater(t); ok {
		value := number(*t.PH)
		if t.Salt {
			value += fmt.Sprintf(" in calcium chloride, about %.1f in water", ph)
		}
		add("pH", value, soil.PHWord(ph))
	}
	if t.Buffer != nil {
		add("buffer pH", number(*t.Buffer), string(t.Method)+" buffer: how much acid the ground holds back")
	}
	if t.Acidity != nil {
		add("exchangeable acidity", number(*t.Acidity)+" meq/100 g", "")
	}
	for _, e := range t.Elements {
		add(elementWords[e.Element], readingValue(e), classWord(e), classReasons(e)...)
	}
	if t.Organic != nil {
		add("organic matter", number(*t.Organic)+" %", organicWord(*t.Organic))
	}
	if t.CEC != nil {
		add("exchange capacity", number(*t.CEC)+" meq/100 g", capacityWord(*t.CEC))
	}
	if t.Texture != "" {
		add("texture", "", string(t.Texture))
	}
	hazards(t, add)
	if t.FreeLime != nil {
		word := "none: it does not fizz with vinegar"
		if *t.FreeLime {
			word = "it fizzes with vinegar: the ground holds lime as such"
		}
		add("free lime", "", word)
	}
	return r
}

func hazards(t garden.SoilTest, add func(of, value, word string, reasons ...garden.Reason)) {
	if t.Salts != nil {
		word := "few enough for all crops"
		if a := alarmOf(garden.SoilTest{Salts: t.Salts, SaltsBy: t.SaltsBy, Texture: t.Texture}); a != nil {
			word = a.Says
		}
		add("salts", number(*t.Salts)+" dS/m in "+string(t.SaltsBy), word)
	}
	if t.Lead != nil {
		word := "as ground usually has"
		if a := alarmOf(garden.SoilTest{Lead: t.Lead}); a != nil {
			word = a.Says
		}
		add("lead", number(*t.Lead)+" mg/kg", word)
	}
}

func alarmOf(t garden.SoilTest) *soil.Alarm {
	if list := soil.AlarmsOf(t); len(list) > 0 {
		return &list[0]
	}
	return nil
}

var elementWords = map[garden.Element]string{
	garden.Nitrogen: "nitrogen", garden.Phosphorus: "phosphorus", garden.Potassium: "potassium", garden.Magnesium: "magnesium", garden.Calcium: "calcium",
}

func readingValue(e garden.Reading) string {
	if e.Unit == "" {
		return ""
	}
	text := number(e.Value) + " " + string(e.Unit)
	if e.Extractor != "" {
		text += " by " + string(e.Extractor)
	}
	return text
}

func classWord(e garden.Reading) string {
	c, err := soil.Class(e)
	if err != nil {
		return "not read: " + err.Error()
	}
	return string(c.Class)
}

func classReasons(e garden.Reading) []garden.Reason {
	c, err := soil.Class(e)
	if err != nil {
		return nil
	}
	return c.Reasons
}

// organicWord is organic matter in words; common practice.
func organicWord(percent float64) string {
	switch {
	case percent < 2:
		return "little"
	case percent < 4:
		return "usual"
	case percent < 8:
		return "much, as in a garden that was fed for years"
	case percent <= 20:
		return "very much"
	}
	return "peat or muck"
}

// capacityWord is how much plant food the ground can hold; common practice.
func capacityWord(meq float64) string {
	switch {
	case meq < 6:
		return "holds little: feed little and often"
	case meq < 15:
		return "holds a usual amount"
	}
	return "holds much"
}

// number is a figure as the report has it.
func number(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
