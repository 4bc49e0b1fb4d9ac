package crop

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// early is an invented variety of the bush bean: its packet says 55 days and 4 in.
func early() Variety {
	return Variety{ID: "early-bean", Name: "The neighbour’s early bean", Base: "bean-bush", Days: "44–46", From: Sow, InRow: "4 in", Yield: "2 kg/m²", Note: "saved seed"}
}

func vary(t *testing.T, v Variety) *Crop {
	t.Helper()
	c, err := Default().Vary(v)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Days on the packet of what bears only in later years steer nothing, so they are refused; a variety that was kept with
// them is still made, with the type's own days. Asparagus is first cut in its third year (ISU-ASP, in the catalogue).
func TestDaysOfAPerennialAreRefused(t *testing.T) {
	v := Variety{ID: "ours", Name: "ours", Base: "asparagus", Days: "1400"}
	err := Default().Admit(v)
	if faults := Faults(err); len(faults) != 1 || faults[0].Field != "days" || !strings.Contains(err.Error(), "from year 3 after planting on") {
		t.Errorf("%v", err)
	}
	base := must(t, Default(), "asparagus")
	if own := vary(t, v); own.Methods[0].Days != base.Methods[0].Days || slices.ContainsFunc(own.Figures, func(f Figure) bool { return f.Quality == Own }) {
		t.Errorf("%v days: %+v", own.Methods[0].Days, own.Figures)
	}
	v.Days = ""
	if err := Default().Admit(v); err != nil {
		t.Errorf("without days: %v", err)
	}
	if err := Default().Admit(early()); err != nil {
		t.Errorf("of beans: %v", err)
	}
}

// The packet's figures stand in the place of the type's, each marked own; nothing else changes, and the type
// keeps its own figures.
func TestVary(t *testing.T) {
	base := must(t, Default(), "bean-bush")
	before := *base
	figures := slices.Clone(base.Figures)
	own := vary(t, early())
	if own.ID != "early-bean" || own.Name() != "snap bean, The neighbour’s early bean" || !own.Own || own.Base != "bean-bush" || own.Note != "saved seed" {
		t.Errorf("it is %s, %q of %s", own.ID, own.Name(), own.Base)
	}
	// 4 in is 0.1016 m by definition.
	if own.Methods[0].Days != (Range{44, 46}) || own.Methods[0].Reference != base.Methods[0].Reference || own.Spacing.InRow != 0.1016 {
		t.Errorf("days %v at %v, %v m apart", own.Methods[0].Days, own.Methods[0].Reference, own.Spacing.InRow)
	}
	if own.Harvest.Yield != 2 || diff(float64(own.Harvest.PerPlant), 2*0.1016*float64(base.Spacing.BetweenRows)) > 1e-9 {
		t.Errorf("it gives %v kg/m², %v kg a plant", own.Harvest.Yield, own.Harvest.PerPlant)
	}
	changed := map[string]string{}
	for i, f := range own.Figures {
		if f.Field != base.Figures[i].Field {
			t.Errorf("figure %d is of %s, the type's of %s", i, f.Field, base.Figures[i].Field)
		}
		if f != base.Figures[i] {
			changed[f.Field] = f.Text
			if f.Quality != Own || f.Source != "" || f.Note == "" {
				t.Errorf("%+v does not say that it is the person's own", f)
			}
		}
	}
	want := map[string]string{"method.1.days": "44–46 d", "spacing.in_row": "4 in", "harvest.yield": "2 kg/m²"}
	if d := cmp.Diff(want, changed); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(before, *base); d != "" || !slices.Equal(figures, base.Figures) {
		t.Errorf("the type was changed: %s", d)
	}
}

func diff(a, b float64) float64 { return max(a-b, b-a) }

// A packet tells of one way of growing; the other ways follow in proportion, at the type's temperature.
func TestVaryCountsFromWhatThePacketSays(t *testing.T) {
	base := must(t, Default(), "lettuce-romaine")
	at := map[Way]int{}
	for i, m := range base.Methods {
		at[m.Way] = i
	}
	if len(at) < 2 {
		t.Fatal("the test wants a crop both sown and set out")
	}
	v := Variety{ID: "own", Name: "own", Base: base.ID, Days: "40 days", From: SetOut}
	own := vary(t, v)
	share := 40 / base.Methods[at[SetOut]].Days.Mid()
	if own.Methods[at[SetOut]].Days != (Range{40, 40}) {
		t.Errorf("set out it takes %v", own.Methods[at[SetOut]].Days)
	}
	if got, want := own.Methods[at[Sow]].Days.Mid(), share*base.Methods[at[Sow]].Days.Mid(); diff(got, want) > 1 {
		t.Errorf("sown it takes %v d; want about %v, as the packet's days stand to the type's", got, want)
	}
	v.From = ""
	if usual := vary(t, v); usual.Methods[0].Days != (Range{40, 40}) {
		t.Errorf("without a word the days count as it is usually grown, not %v", usual.Methods[0].Days)
	}
	v.Days = ""
	if none := vary(t, v); none.Methods[0].Days != base.Methods[0].Days {
		t.Error("without days the type's hold")
	}
	v.Days = "6 weeks"
	if weeks := vary(t, v); weeks.Methods[0].Days != (Range{42, 42}) {
		t.Errorf("6 weeks are %v d", weeks.Methods[0].Days)
	}
}

func TestVaryRefuses(t *testing.T) {
	rows := []struct {
		name   string
		change func(*Variety)
		field  string
		says   string
	}{
		{"no name", func(v *Variety) { v.Name = " " }, "name", "is missing"},
		{"a page for a name", func(v *Variety) { v.Name = strings.Repeat("bean ", 40) }, "name", "at most 80 letters"},
		{"two lines", func(v *Variety) { v.Name = "a\nb" }, "name", "one line"},
		{"ID", func(v *Variety) { v.ID = "Early Bean" }, "id", "cannot be a crop's ID"},
		{"own base", func(v *Variety) { v.ID = "bean-bush" }, "id", "give it another"},
		{"no such base", func(v *Variety) { v.Base = "bean-of-gold" }, "base", `no crop "bean-of-gold"`},
		{"days in words", func(v *Variety) { v.Days = "soon" }, "days", `"soon" does not begin with a number`},
		{"days upside down", func(v *Variety) { v.Days = "60–50" }, "days", "runs from high to low"},
		{"days too few", func(v *Variety) { v.Days = "5" }, "days", "must lie between 10 and 1500 d"},
		{"not days", func(v *Variety) { v.Days = "55 in" }, "days", `"55 in" is not a number of days; write it like "55" or "55–60"`},
		{"another way", func(v *Variety) { v.From = Set }, "days_from", "snap bean is not grown so here; its days can count from sowing"},
		{"no unit", func(v *Variety) { v.InRow = "4" }, "in_row", `"4" is not a length; write it like "8 cm"`},
		{"far apart", func(v *Variety) { v.BetweenRows = "90 ft" }, "between_rows", "is not plausible"},
		{"no yield", func(v *Variety) { v.Yield = "much" }, "yield", "does not begin with a number"},
		{"no rate", func(v *Variety) { v.Yield = "3 kg" }, "yield", `"3 kg" is not a yield`},
		{"too great", func(v *Variety) { v.Yield = "300 kg/m²" }, "yield", "not plausible"},
	}
	for _, r := range rows {
		v := early()
		r.change(&v)
		c, err := Default().Vary(v)
		faults := Faults(err)
		if c != nil || len(faults) != 1 || faults[0].Field != r.field || !strings.Contains(faults[0].Text, r.says) {
			t.Errorf("%s: %v, %v", r.name, c != nil, err)
		}
	}
	many := early()
	many.Days, many.InRow, many.Name = "x", "y", ""
	if _, err := Default().Vary(many); len(Faults(err)) != 3 {
		t.Errorf("all faults are told at once, not %v", err)
	}
}

// The catalogue with own crops: what is good is there, what is bad is set aside with a sentence.
func TestWith(t *testing.T) {
	text, ok := FileText("carrot")
	if !ok {
		t.Fatal("no file of the carrot")
	}
	own := OwnCrops{
		Files: []File{
			{ID: "own-carrot", Text: strings.Replace(text, `kind = "carrot"`, `kind = "own carrot"`, 1)},
			{ID: "beet", Text: strings.Replace(text, `kind = "carrot"`, `kind = "odd beet"`, 1)},
			{ID: "bad", Text: "kind = 3"},
			{ID: "carrot", Text: text, Retired: true},
		},
		Varieties: []Variety{
			early(),
			{ID: "small-one", Name: "small one", Base: "own-carrot", Days: "50"},
			{ID: "lost", Name: "lost", Base: "bad"},
			{ID: "early-bean", Name: "twice", Base: "bean-bush"},
			{ID: "of-own", Name: "of own", Base: "early-bean"},
			{ID: "old", Name: "old one", Base: "bean-bush", Retired: true},
		},
	}
	c, aside := Default().With(own)
	var ids []string
	for _, a := range aside {
		ids = append(ids, a.ID)
		if !strings.Contains(a.Error(), "is set aside: ") || strings.Contains(a.Error(), "\n") {
			t.Errorf("%q is not a sentence about it", a.Error())
		}
	}
	if d := cmp.Diff([]string{"bad", "lost", "early-bean", "of-own"}, ids); d != "" {
		t.Error(d)
	}
	if beet := must(t, c, "beet"); beet.Kind != "odd beet" || !beet.Own {
		t.Error("a person's own file does not stand before the catalogue's")
	}
	if must(t, c, "carrot").Own {
		t.Error("a retired file hides the catalogue's own")
	}
	if must(t, c, "small-one").Kind != "own carrot" {
		t.Error("a variety of an own crop has not its figures")
	}
	if again, aside := c.With(own); len(again.All()) != len(c.All()) || len(aside) != 4 {
		t.Error("a second time is not the same")
	}
	if same, aside := Default().With(OwnCrops{}); same != Default() || aside != nil {
		t.Error("without own crops it is not the catalogue itself")
	}
	retired(t, c)
}

// retired: a retired crop is found by its ID, and stands in no list.
func retired(t *testing.T, c *Catalogue) {
	t.Helper()
	if !must(t, c, "old").Retired || slices.ContainsFunc(c.All(), func(c *Crop) bool { return c.ID == "old" }) {
		t.Error("the retired one is not kept aside")
	}
	if found, _ := c.Match("OLD"); len(found) != 1 || found[0].ID != "old" {
		t.Error("it is not found by its ID")
	}
	for _, word := range []string{"old one", "snap bean"} {
		if found, _ := c.Match(word); slices.ContainsFunc(found, func(c *Crop) bool { return c.ID == "old" }) {
			t.Errorf("it goes by %q", word)
		}
	}
}

// A variety goes by its own name and by its kind; where one crop is meant, the type comes before it.
func TestAVarietyIsNamed(t *testing.T) {
	c, _ := Default().With(OwnCrops{Varieties: []Variety{early()}})
	for word, want := range map[string]string{
		"early-bean": "early-bean", "the neighbour's early beans": "early-bean", "snap bean, the neighbour's early bean": "early-bean", "neighbour": "early-bean",
		"bush bean": "bean-bush", "bean-bush": "bean-bush", "carrot": "carrot",
	} {
		if one := c.One(word); one == nil || one.ID != want {
			t.Errorf("%q means %v, not %s", word, one, want)
		}
	}
	found, _ := c.Match("bush bean")
	if len(found) != 2 || found[0].ID != "bean-bush" || found[1].ID != "early-bean" {
		t.Errorf("any bush bean is %v", found)
	}
	if c.One("tomato") != nil || c.One("unobtainium") != nil {
		t.Error("several or none are one")
	}
	if _, near := c.Match("the neigbours early bean"); !slices.Contains(near, "The neighbour’s early bean") {
		t.Errorf("near are %v", near)
	}
	if c.Taken("Bush Beans", "") == nil || c.Taken("the neighbour's early bean", "") == nil || c.Taken("the neighbour's early bean", "early-bean") != nil || c.Taken("grandmother's pea", "") != nil {
		t.Error("names are taken or free against their use")
	}
}

func TestFreeID(t *testing.T) {
	c, _ := Default().With(OwnCrops{Varieties: []Variety{early()}})
	for name, want := range map[string]string{
		"Early Bean": "early-bean-2", "The Neighbour’s early pea!": "the-neighbours-early-pea", "Crème beans": "creme-beans", "早い豆": "bean-bush-own", "carrot": "carrot-2", "-": "bean-bush-own",
	} {
		got := c.FreeID(name, "bean-bush")
		if got != want || !slug.MatchString(got) {
			t.Errorf("%q gives %q, want %q", name, got, want)
		}
	}
	if long := c.FreeID(strings.Repeat("long ", 100), "bean-bush"); len(long) > longestID || !slug.MatchString(long) {
		t.Errorf("a long name gives %q", long)
	}
}

// The catalogue's own files are there to begin from, each as it is loaded.
func TestFileText(t *testing.T) {
	for _, c := range Default().All() {
		text, ok := FileText(c.ID)
		if one, err := (File{ID: c.ID, Text: text}).Load(); !ok || err != nil || one.Name() != c.Name() {
			t.Errorf("%s: %v", c.ID, err)
		}
	}
	for _, id := range []string{"unobtainium", "../crop", "", "data/carrot"} {
		if _, ok := FileText(id); ok {
			t.Errorf("there is a file of %q", id)
		}
	}
}

// Figures of one's own may stand in one's own file; the embedded catalogue has none.
func TestOwnQuality(t *testing.T) {
	c, err := Load("test-root.toml", strings.NewReader(strings.Replace(good, `"15 in", q = "from memory"`, `"15 in", q = "own"`, 1)))
	if err != nil {
		t.Fatal(err)
	}
	if f, _ := c.Figure("spacing.between_rows"); f.Quality != Own || f.Source != "" {
		t.Errorf("got %+v", f)
	}
	for _, c := range Default().All() {
		for _, f := range c.Figures {
			if f.Quality == Own {
				t.Errorf("%s: %s is somebody's own", c.ID, f.Field)
			}
		}
	}
}

// Whatever is written on a packet, it is taken or refused, and the crop taken has sound days.
func FuzzVary(f *testing.F) {
	f.Add("55", "4 in", "2 lb/plant", "name")
	f.Add("55–60 d", "", "", "")
	f.Fuzz(func(t *testing.T, days, apart, yield, name string) {
		c, err := Default().Vary(Variety{ID: "x", Name: name, Base: "lettuce-romaine", Days: days, InRow: apart, Yield: yield})
		if (c == nil) == (err == nil) || err != nil && len(Faults(err)) == 0 {
			t.Fatalf("crop %v, error %v", c, err)
		}
		if c != nil && !(c.Methods[0].Days.Low >= 10 && c.Methods[1].Days.Low >= 1 && c.Methods[0].Days.High <= 1500 && c.Harvest.PerPlant > 0) {
			t.Fatalf("days %v and %v, %v kg a plant", c.Methods[0].Days, c.Methods[1].Days, c.Harvest.PerPlant)
		}
	})
}

// The document of a crop's file tells of every field a file may have.
func TestTheDocumentTellsOfEveryField(t *testing.T) {
	text, err := os.ReadFile("../../doc/crop-files.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range fieldNames() {
		if !strings.Contains(string(text), "`"+name+"`") && !strings.Contains(string(text), "`[["+name+"]]`") {
			t.Errorf("doc/crop-files.md does not tell of %s", name)
		}
	}
	for _, q := range Qualities() {
		if !strings.Contains(string(text), "`\""+string(q)+"\"`") {
			t.Errorf("doc/crop-files.md does not tell of the quality %s", q)
		}
	}
}
