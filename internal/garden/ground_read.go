package garden

import (
	"cmp"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// soil reads what is told of the ground without a test, of the site or of a bed.
func (f *fields) soil() Soil {
	return Soil{
		Texture: Texture(f.text("texture", optional)),
		Topsoil: f.distance("topsoil", optional),
		Tilled:  f.distance("dug_to", optional),
		Spit:    DiggingTool(f.text("dug_with", optional)),
	}
}

func (f *fields) siteSoil() Soil {
	s := f.soil()
	s.Drift = Drift(f.text("drift", optional))
	s.Bucket = f.volume("bucket")
	s.Natural, s.Lime, s.Organic = f.truth("natural"), f.text("lime", optional), f.text("organic", optional)
	s.Weighs = f.units
	if name := f.text("weighs", optional); name != "" {
		units, err := quantity.ParseSystem(name)
		f.refused("weighs", err)
		s.Weighs = units
	}
	return s
}

// readGround reads tests, treatments, packages and heaps.
func (d *describer) readGround(f *fields, g *Garden) {
	for i, t := range f.some("soil_test", mostRows) {
		g.Tests = append(g.Tests, d.readTest(i, t))
	}
	for i, t := range f.some("treatment", mostRows) {
		g.Treatments = append(g.Treatments, d.readTreatment(i, t))
	}
	for i, t := range f.some("package", mostRows) {
		g.Packages = append(g.Packages, d.readPackage(i, t))
	}
	for i, t := range f.some("heap", mostRows) {
		g.Heaps = append(g.Heaps, d.readHeap(i, t))
	}
}

// byDay puts tests, treatments and the logs of heaps in the order of their days.
func (g *Garden) byDay() {
	slices.SortStableFunc(g.Tests, func(a, b SoilTest) int { return cmp.Compare(a.Date, b.Date) })
	slices.SortStableFunc(g.Treatments, func(a, b Treatment) int { return cmp.Compare(a.Date, b.Date) })
	for _, h := range g.Heaps {
		slices.SortStableFunc(h.Log, func(a, b HeapEntry) int { return cmp.Compare(a.Date, b.Date) })
	}
}

func (d *describer) readTest(i int, t *table) SoilTest {
	f := d.fields("soil_test", i, t)
	s := SoilTest{Date: f.day("date"), Lab: f.text("lab", optional)}
	f.part = testName(s, i)
	s.Beds = f.bedsNamed("beds")
	s.Kit = f.truth("kit")
	s.Depth = f.distance("depth", optional)
	s.PH = f.figure("ph")
	switch word := f.text("ph_in", optional); strings.ToLower(word) {
	case "", "water":
	case "salt":
		s.Salt = true
	default:
		f.complain("ph_in", f.spots[f.path+"/ph_in"], Problem{Says: "ph_in is " + quoted(word), Remedy: `write "water" or "salt" (0.01 M calcium chloride)`})
	}
	s.Buffer, s.Method = f.figure("buffer_ph"), BufferMethod(f.text("buffer_method", optional))
	s.Acidity = f.figure("acidity_meq")
	s.Organic, s.CEC = f.figure("organic_percent"), f.figure("cec_meq")
	s.Texture = Texture(f.text("texture", optional))
	s.Salts, s.SaltsBy = f.figure("salts_ds_m"), SaltMethod(f.text("salts_in", optional))
	s.Lead = f.figure("lead_mg_kg")
	if _, told := t.values["free_lime"]; told {
		free := f.truth("free_lime")
		s.FreeLime = &free
	} else {
		f.known = append(f.known, "free_lime")
	}
	for _, r := range f.tables("reading") {
		s.Elements = append(s.Elements, f.reading(len(s.Elements), r))
	}
	s.Note = f.text("note", optional)
	f.done()
	return s
}

// reading reads one element of a test. What is wrong with it is told at its own place.
func (f *fields) reading(i int, t *table) Reading {
	r := f.under("reading", i, t)
	one := Reading{
		Element: Element(r.text("element", required)), Value: r.number("value", optional), Unit: SoilUnit(r.text("unit", optional)),
		Class: TestClass(r.text("class", optional)), Extractor: Extractor(r.text("extractor", optional)),
	}
	r.judge(one.Validate(), f)
	r.done()
	return one
}

func (d *describer) readTreatment(i int, t *table) Treatment {
	f := d.fields("treatment", i, t)
	one := Treatment{Material: f.text("material", required)}
	f.part = partName("treatment", one.Material, i)
	one.Date, one.BedID = f.day("date"), f.bed("bed")
	one.Amount, one.Volume = f.mass("amount"), f.volume("volume")
	one.Depth = f.distance("depth", optional)
	one.Note = f.text("note", optional)
	f.done()
	return one
}

func (d *describer) readPackage(i int, t *table) Package {
	f := d.fields("package", i, t)
	p := Package{Material: f.text("material", required), Name: f.text("name", optional)}
	f.part = partName("package", p.Material, i)
	p.Mass, p.Volume, p.Price = f.mass("mass"), f.volume("volume"), f.number("price", optional)
	p.N, p.P2O5, p.K2O = f.figure("n"), f.figure("p2o5"), f.figure("k2o")
	p.CCE, p.Fineness = f.figure("cce"), f.figure("fineness")
	f.done()
	return p
}

func (d *describer) readHeap(i int, t *table) Heap {
	f := d.fields("heap", i, t)
	h := Heap{Name: f.text("name", required)}
	f.part = partName("heap", h.Name, i)
	h.Started, h.Emptied = f.day("started"), f.date("emptied")
	for _, p := range f.tables("part") {
		r := f.under("part", len(h.Put), p)
		part := HeapPart{Feedstock: r.text("feedstock", required), Volume: r.volume("volume"), Moisture: r.figure("moisture")}
		r.judge(part.Validate(), f)
		r.done()
		h.Put = append(h.Put, part)
	}
	for _, e := range f.tables("log") {
		r := f.under("log", len(h.Log), e)
		entry := HeapEntry{Date: r.day("date"), Kind: HeapKind(r.text("kind", required)), Text: r.text("text", optional)}
		entry.Celsius = r.temperature("temperature")
		r.judge(entry.Validate(), f)
		r.done()
		h.Log = append(h.Log, entry)
	}
	h.Note = f.text("note", optional)
	f.done()
	return h
}

// under reads a table that stands in a list under another.
func (f *fields) under(kind string, index int, t *table) *fields {
	r := f.describer.fields(kind, index, t)
	delete(f.spots, r.path)
	r.path, r.part = f.path+"/"+r.path, f.part
	r.spots[r.path] = t.at
	return r
}

// judge tells what is wrong with a table under another at its own place, and keeps the whole from
// telling it again.
func (f *fields) judge(ps Problems, of *fields) {
	for _, p := range ps.Refused() {
		of.wrong[of.path+"/"+p.Field] = true
		at, ok := f.spots[f.path+"/"+p.Field]
		if !ok {
			at = f.table.at
		}
		f.complain(p.Field, at, p)
	}
}

// day reads a day that must be there.
func (f *fields) day(key string) civil.Date {
	d := f.date(key)
	if d == nil {
		f.complain(key, f.table.at, Problem{Says: key + " is missing", Remedy: "write " + key + " = year-month-day, for example 2027-04-15"})
		return 0
	}
	return *d
}

// figure reads a number that may be left out.
func (f *fields) figure(key string) *float64 {
	if _, told := f.table.values[key]; !told {
		f.known = append(f.known, key)
		return nil
	}
	v := f.number(key, optional)
	return &v
}

// measured reads a text with its unit.
func measured[T any](f *fields, key, example string, n need, parse func(string, quantity.System) (T, error)) (x T) {
	v, ok := f.want(key, n, key+" with its unit in quotes, for example "+example, textKind)
	if !ok {
		return x
	}
	x, err := parse(v.text, f.units)
	if err != nil {
		f.refusedAt(key, v.at, err)
	}
	return x
}

// distance reads a short length: a bare number counts as centimetres or inches.
func (f *fields) distance(key string, n need) quantity.Metre {
	return measured(f, key, `"15 cm" or "6 in"`, n, quantity.ParseDistance)
}

func (f *fields) mass(key string) quantity.Kilogram {
	return measured(f, key, `"2 kg" or "5 lb"`, optional, quantity.ParseMass)
}

func (f *fields) volume(key string) quantity.Litre {
	return measured(f, key, `"40 L" or "2 cu ft"`, optional, quantity.ParseVolume)
}

func (f *fields) temperature(key string) *quantity.Celsius {
	if _, told := f.table.values[key]; !told {
		f.known = append(f.known, key)
		return nil
	}
	c := measured(f, key, `"58 °C" or "136 °F"`, optional, quantity.ParseTemperature)
	return &c
}

// bedsNamed reads a list of beds' names.
func (f *fields) bedsNamed(key string) (ids []int64) {
	v, ok := f.want(key, optional, key+` = ["…", "…"], the names of beds`, listKind)
	if !ok {
		return nil
	}
	for _, item := range v.items {
		b, known := Garden{Beds: f.beds}.BedNamed(item.text)
		if item.kind != textKind || !known {
			says := "there is no bed " + quoted(item.text)
			if item.kind != textKind {
				says = key + " holds " + item.words() + ", where names of beds are wanted"
			}
			f.complain(key, item.at, Problem{Says: says, Remedy: didYouMean(nearest(item.text, f.bedNames()), "the beds are "+strings.Join(f.bedNames(), ", "))})
			continue
		}
		ids = append(ids, b.ID)
	}
	return ids
}

func (f *fields) bedNames() (names []string) {
	for _, b := range f.beds {
		names = append(names, b.Name)
	}
	return names
}
