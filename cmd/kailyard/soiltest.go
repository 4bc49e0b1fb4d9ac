package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

type soilTestCmd struct {
	List     soilTestListCmd     `cmd:"" default:"1" help:"List the tests with their readings in words."`
	Add      soilTestAddCmd      `cmd:"" help:"Keep a result: of a home kit, or of a laboratory."`
	Withdraw soilTestWithdrawCmd `cmd:"" help:"Let a test count no more; the book keeps it, marked."`
}

func (soilTestCmd) example() string { return "kailyard soil test" }

type soilTestAddCmd struct {
	Beds  []string  `arg:"" optional:"" help:"The beds the sample stands for; none: the whole garden."`
	On    civilFlag `help:"The day the sample was taken; default: today." placeholder:"DATE"`
	Depth string    `help:"How deep it was taken; default: 15 cm (6 in)." placeholder:"LENGTH"`
	Kit   bool      `help:"It is a home kit's result."`

	PH           figureFlag `name:"ph" help:"The pH." placeholder:"PH"`
	InSalt       bool       `help:"The pH was measured in calcium chloride, not in water."`
	Buffer       figureFlag `help:"The buffer pH of the report." placeholder:"PH"`
	BufferMethod string     `help:"The buffer the report names: SMP, Sikora, Mehlich, modified Mehlich, Adams-Evans, Woodruff." placeholder:"METHOD"`
	Acidity      figureFlag `help:"Exchangeable acidity, meq/100 g." placeholder:"MEQ"`

	Nitrogen   string `help:"As the report has it: '20 ppm', or a class: very low, low, medium, high, very high." placeholder:"READING"`
	Phosphorus string `help:"Likewise, with what it was extracted by: '34 ppm by Mehlich 3'." placeholder:"READING"`
	Potassium  string `help:"Likewise." placeholder:"READING"`
	Magnesium  string `help:"Likewise." placeholder:"READING"`
	Calcium    string `help:"Likewise." placeholder:"READING"`
	Extractor  string `help:"What all of these were extracted by, where they do not say: Mehlich 3, Mehlich 1, Bray 1, Olsen, Morgan, modified Morgan, ammonium acetate." placeholder:"NAME"`

	OrganicMatter figureFlag `help:"Organic matter, per cent." placeholder:"PERCENT"`
	CEC           figureFlag `name:"cec" help:"Exchange capacity, meq/100 g." placeholder:"MEQ"`
	Texture       string     `help:"sand, sandy loam, loam, silt loam, clay loam, clay or organic." placeholder:"TEXTURE"`
	Salts         figureFlag `help:"Soluble salts, dS/m (the same as mmho/cm)." placeholder:"DS/M"`
	SaltsIn       string     `help:"What the salts were measured in: saturated paste, 1:2 or 1:5." placeholder:"METHOD"`
	Lead          figureFlag `help:"Lead, mg/kg (the same as ppm)." placeholder:"MG/KG"`
	Fizz          string     `help:"Whether dry earth fizzes with vinegar: yes or no." placeholder:"YES|NO"`
	Lab           string     `help:"Whose result it is, as you call it." placeholder:"NAME"`
	Note          string     `help:"In your own words." placeholder:"TEXT"`
}

func (soilTestAddCmd) example() string {
	return "kailyard soil test add 'South bed' --kit --ph 5.5 --phosphorus low\n" +
		"kailyard soil test add 'Middle bed' Square --ph 5.8 --buffer 6.6 --buffer-method SMP --extractor 'Mehlich 3' --phosphorus '34 ppm' --potassium '120 ppm' --organic-matter 3.1"
}

// Run keeps a test.
func (c *soilTestAddCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, changing, func(b *book.Book, g garden.Garden) error {
		t, err := c.test(e, g)
		if err != nil {
			return err
		}
		if t.Date > e.clock() {
			return usageError{fmt.Sprintf("--on %s: the day is still to come; write the day the sample was taken", t.Date)}
		}
		odd := t.Validate()
		if err := odd.Err(); err != nil {
			return err
		}
		if err := soil.Check(t); err != nil {
			return err
		}
		if t.ID, err = b.AddTest(ctx, t); err != nil {
			return err
		}
		e.oddButKept(odd)
		if e.json {
			return e.printJSON(testOf(season.ReadTest(t), g))
		}
		e.printf("Kept as test %d, for %s.\n", t.ID, bedsWords(t.Beds, g))
		e.printReadings(season.ReadTest(t))
		for _, a := range soil.AlarmsOf(t) {
			e.printf("%s\n", wrapped("! "+a.Says, "  ", 92))
		}
		return nil
	})
}

// test is what the flags tell.
func (c *soilTestAddCmd) test(e *env, g garden.Garden) (garden.SoilTest, error) {
	t := garden.SoilTest{Date: e.clock(), Kit: c.Kit, PH: c.PH.pointer(), Salt: c.InSalt, Buffer: c.Buffer.pointer(), Method: garden.BufferMethod(asListed(c.BufferMethod, garden.BufferMethods)),
		Acidity: c.Acidity.pointer(), Organic: c.OrganicMatter.pointer(), CEC: c.CEC.pointer(), Texture: garden.Texture(strings.ToLower(c.Texture)),
		Salts: c.Salts.pointer(), SaltsBy: garden.SaltMethod(strings.ToLower(c.SaltsIn)), Lead: c.Lead.pointer(), Lab: c.Lab, Note: c.Note}
	if c.On.set {
		t.Date = c.On.date
	}
	beds, err := bedsNamed(g, c.Beds)
	if err != nil {
		return t, err
	}
	for _, b := range beds {
		t.Beds = append(t.Beds, b.ID)
	}
	if c.Depth != "" {
		if t.Depth, err = quantity.ParseDistance(c.Depth, g.Site.Units); err != nil {
			return t, usageError{"--depth: " + err.Error()}
		}
		if t.Depth == 0 {
			return t, usageError{"--depth: no sample is taken 0 deep; write how deep it was, usually 15 cm or 6 in, or leave it out"}
		}
	}
	switch strings.ToLower(c.Fizz) {
	case "":
	case "yes", "no":
		fizz := strings.EqualFold(c.Fizz, "yes")
		t.FreeLime = &fizz
	default:
		return t, usageError{fmt.Sprintf("--fizz %s: write yes or no", c.Fizz)}
	}
	for _, one := range []struct {
		flag, text string
		element    garden.Element
	}{{"--nitrogen", c.Nitrogen, garden.Nitrogen}, {"--phosphorus", c.Phosphorus, garden.Phosphorus}, {"--potassium", c.Potassium, garden.Potassium}, {"--magnesium", c.Magnesium, garden.Magnesium}, {"--calcium", c.Calcium, garden.Calcium}} {
		if one.text == "" {
			continue
		}
		r, err := c.reading(one.text)
		if err != nil {
			return t, usageError{one.flag + ": " + err.Error()}
		}
		r.Element = one.element
		t.Elements = append(t.Elements, r)
	}
	return t, nil
}

// reading is "34 ppm by Mehlich 3", "120 lb/acre" or "low".
func (c *soilTestAddCmd) reading(text string) (garden.Reading, error) {
	value, by, named := strings.Cut(text, " by ")
	if !named {
		by = c.Extractor
	}
	r := garden.Reading{Extractor: garden.Extractor(asListed(by, garden.Extractors))}
	if c.Kit && by == "" {
		r.Extractor = garden.HomeKit
	}
	value = strings.TrimSpace(value)
	if class := garden.TestClass(strings.ToLower(value)); slices.Contains(garden.TestClasses, class) {
		r.Class = class
		return r, nil
	}
	end := strings.IndexFunc(value, func(r rune) bool { return !strings.ContainsRune("0123456789.-+", r) })
	if end < 0 {
		end = len(value)
	}
	v, err := strconv.ParseFloat(value[:end], 64)
	if err != nil {
		return r, fmt.Errorf("%q is no reading; write a number with its unit ('34 ppm', '68 lb/acre', '0.4 meq/100 g'), or a class: very low, low, medium, high, very high", text)
	}
	r.Value, r.Unit = v, garden.SoilUnit(strings.TrimSpace(value[end:]))
	if strings.EqualFold(string(r.Unit), "mg/kg") {
		r.Unit = garden.PPM
	}
	r.Unit = garden.SoilUnit(asListed(string(r.Unit), []garden.SoilUnit{garden.PPM, garden.PoundPerAcre, garden.MgPerLitre, garden.KgPerHectare, garden.MeqPer100g}))
	if r.Unit == "" {
		return r, errors.New("the unit is missing: write what the report counts in, ppm (the same as mg/kg), lb/acre, kg/ha, mg/l or meq/100 g; ppm and lb/acre differ twofold")
	}
	return r, nil
}

// asListed is a word as a list writes it, whatever its capitals; the word itself where the list has it not.
func asListed[T ~string](word string, list []T) string {
	word = strings.TrimSpace(word)
	for _, one := range list {
		if strings.EqualFold(string(one), word) {
			return string(one)
		}
	}
	return word
}

type soilTestListCmd struct {
	Withdrawn bool `help:"List those that count no more."`
}

func (soilTestListCmd) example() string { return "kailyard soil test list --json" }

type testJSON struct {
	ID       int64         `json:"id"`
	Date     civil.Date    `json:"date"`
	Beds     []string      `json:"beds"`
	Kit      bool          `json:"kit"`
	Lab      string        `json:"lab"`
	DepthM   float64       `json:"depth_m"`
	Readings []readingJSON `json:"readings"`
	Alarms   []alarmJSON   `json:"alarms"`
	Note     string        `json:"note"`
}

type readingJSON struct {
	Of      string          `json:"of"`
	Value   string          `json:"value"`
	Word    string          `json:"word"`
	Reasons []garden.Reason `json:"reasons"`
}

type alarmJSON struct {
	Stop    bool     `json:"stop"`
	Says    string   `json:"says"`
	Sources string   `json:"sources"`
	Beds    []string `json:"beds,omitempty"`
}

func testOf(r season.TestRead, g garden.Garden) testJSON {
	t := r.Test
	v := testJSON{ID: t.ID, Date: t.Date, Beds: bedNames(t.Beds, g), Kit: t.Kit, Lab: t.Lab, DepthM: float64(t.Depth), Readings: []readingJSON{}, Alarms: []alarmJSON{}, Note: t.Note}
	for _, one := range r.Readings {
		v.Readings = append(v.Readings, readingJSON{one.Of, one.Value, one.Word, orEmpty(one.Reasons)})
	}
	for _, a := range soil.AlarmsOf(t) {
		v.Alarms = append(v.Alarms, alarmJSON{Stop: a.Stop, Says: a.Says, Sources: a.Sources})
	}
	return v
}

// bedNames are the names of beds by their IDs; empty for the whole garden.
func bedNames(ids []int64, g garden.Garden) []string {
	names := []string{}
	for _, b := range g.Beds {
		if slices.Contains(ids, b.ID) {
			names = append(names, b.Name)
		}
	}
	return names
}

func bedsWords(ids []int64, g garden.Garden) string {
	if len(ids) == 0 {
		return "the whole garden"
	}
	return strings.Join(bedNames(ids, g), ", ")
}

// Run lists the tests.
func (c *soilTestListCmd) Run(ctx context.Context, e *env) error {
	return e.withGarden(ctx, reading, func(b *book.Book, g garden.Garden) error {
		tests := g.Tests
		if c.Withdrawn {
			var err error
			if tests, err = b.WithdrawnTests(ctx); err != nil {
				return err
			}
		}
		if e.json {
			list := []testJSON{}
			for _, t := range tests {
				list = append(list, testOf(season.ReadTest(t), g))
			}
			return e.printJSON(list)
		}
		if len(tests) == 0 {
			e.printf("No soil test yet. Keep one with `kailyard soil test add`; a test costs less than the lime or fertiliser it saves.\n")
		}
		for _, t := range tests {
			e.printTest(season.ReadTest(t), g)
		}
		return nil
	})
}

// printTest prints a test with its readings in words.
func (e *env) printTest(r season.TestRead, g garden.Garden) {
	what := "laboratory"
	switch {
	case r.Test.Kit:
		what = "home kit"
	case r.Test.Lab != "":
		what = r.Test.Lab
	}
	e.printf("Test %d, %s, %s: %s\n", r.Test.ID, r.Test.Date.Long(), what, bedsWords(r.Test.Beds, g))
	e.printReadings(r)
}

func (e *env) printReadings(r season.TestRead) {
	for _, one := range r.Readings {
		text := one.Of
		if one.Value != "" {
			text += " " + one.Value
		}
		if one.Word != "" {
			text += ": " + one.Word
		}
		e.printf("%s\n", wrapped(text, "    ", 92))
	}
}

type soilTestWithdrawCmd struct {
	Test int64 `arg:"" help:"The number of the test, as 'kailyard soil test' lists it."`
}

func (soilTestWithdrawCmd) example() string { return "kailyard soil test withdraw 3" }

// Run withdraws a test.
func (c *soilTestWithdrawCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, changing, func(b *book.Book) error {
		if err := b.WithdrawTest(ctx, c.Test); err != nil {
			return err
		}
		e.printf("Test %d counts no more.\n", c.Test)
		return nil
	})
}
