package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// soilTestsPage is the ways to tell of the soil, and every test told so far.
type soilTestsPage struct {
	frame
	Kit, Report string // addresses
	Sample      []string
	Tests       []testView
	Back        navLink
}

// testView is one test in words.
type testView struct {
	ID     int64
	Date   string
	Beds   string
	What   string // "laboratory report", "home kit"
	Found  []season.ReadingWords
	Alarms []soil.Alarm
	Note   string
}

// sampling is how a sample is taken; common practice.
func sampling(u quantity.System) []string {
	return []string{
		"Take ten to fifteen small samples from all over the bed, from the top " + u.Depth(.15) + ", with a clean trowel.",
		"Leave out edges, paths, and ground that was limed or fed within the last two months.",
		"Mix them in a clean bucket, take a cupful of the mixture, and let it dry in the air.",
		"Beds of like ground and like past can share one sample.",
		"Ask for pH, buffer pH, phosphorus, potassium, magnesium, calcium and organic matter; near old paint, roads or works, for lead as well.",
	}
}

func (s *site) soilTests(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	p := soilTestsPage{
		frame: s.gardenFrame("Soil tests", r, g), Kit: "/soil/test/kit", Report: "/soil/test/report", Sample: sampling(g.Site.Units),
		Back: navLink{Href: "/soil", Label: "Back to the soil"},
	}
	if bed := r.URL.Query().Get("bed"); bed != "" {
		if id, err := strconv.ParseInt(bed, 10, 64); err == nil {
			p.Kit, p.Report = fmt.Sprintf("%s?bed=%d", p.Kit, id), fmt.Sprintf("%s?bed=%d", p.Report, id)
		}
	}
	for _, t := range byDay(g.Tests) {
		p.Tests = append(p.Tests, testViewOf(g, t))
	}
	return s.render(w, http.StatusOK, "soiltests", p)
}

// byDay are tests with the newest first.
func byDay(tests []garden.SoilTest) []garden.SoilTest {
	list := slices.Clone(tests)
	slices.SortStableFunc(list, func(a, b garden.SoilTest) int { return int(b.Date - a.Date) })
	return list
}

func testViewOf(g garden.Garden, t garden.SoilTest) testView {
	v := testView{ID: t.ID, Date: season.Dated(t.Date), Beds: bedNames(g, t.Beds), What: "laboratory report", Found: season.ReadTest(t).Readings, Alarms: soil.AlarmsOf(t), Note: t.Note}
	if t.Kit {
		v.What = "home kit"
	}
	v.Found = slices.Clone(v.Found)
	for i, found := range v.Found {
		if slices.ContainsFunc(v.Alarms, func(a soil.Alarm) bool { return a.Says == found.Word }) {
			v.Found[i].Word = "see the warning"
		}
	}
	if t.Lab != "" {
		v.What += ", " + t.Lab
	}
	if t.Depth > 0 {
		v.What += ", to a depth of " + g.Site.Units.Depth(t.Depth)
	}
	return v
}

// bedNames are beds in a sentence.
func bedNames(g garden.Garden, ids []int64) string {
	if len(ids) == 0 {
		return "the whole garden"
	}
	var names []string
	for _, b := range g.Beds {
		if slices.Contains(ids, b.ID) {
			names = append(names, b.Name)
		}
	}
	if len(names) == 0 {
		return "beds that are no more"
	}
	return joinWords(names)
}

var elementNames = map[garden.Element]string{
	garden.Nitrogen: "nitrogen", garden.Phosphorus: "phosphorus", garden.Potassium: "potassium", garden.Magnesium: "magnesium", garden.Calcium: "calcium",
}

// plain is a figure as it was typed, to three decimals at most.
func plain(v float64) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(v, 'f', 3, 64), "0"), ".")
}

func (s *site) testWithdraw(w http.ResponseWriter, r *http.Request) error {
	if err := s.Store.WithdrawTest(r.Context(), idOf(r)); err != nil {
		return err
	}
	return seeOther(w, r, "/soil/tests?done=taken-back")
}

// testDraft is a form for a test: its groups, and how the answers become one.
type testDraft struct {
	kit    bool
	groups []fieldGroup
}

// bedField begins the name of the field that takes a bed into a group.
const bedField = "bed-"

// testSample is the day, the depth and the beds of a sample.
func (s *site) testSample(r *http.Request, g garden.Garden) []fieldGroup {
	groups := []fieldGroup{{Title: "The sample", Fields: []*field{
		{Name: "date", Label: "Day it was taken", Kind: "date", Value: s.Today().String(), Required: true},
		{Name: "depth", Label: "Taken to a depth of", Kind: "text", Hint: "“15 cm” or “6 in”; that is the usual, when left empty."},
	}}}
	beds := fieldGroup{Title: "The beds it stands for", Class: "ticks", Hint: "Tick none where it stands for the whole garden."}
	asked := r.URL.Query().Get("bed")
	for _, b := range g.Beds {
		id := strconv.FormatInt(b.ID, 10)
		beds.Fields = append(beds.Fields, &field{Name: bedField + id, Label: b.Name, Kind: "check", Checked: id == asked})
	}
	if len(beds.Fields) > 0 {
		groups = append(groups, beds)
	}
	return groups
}

var saltChoices = []choice{{"", "water", true}, {"salt", "calcium chloride (0.01 M)", false}}

func fizzes() *field {
	return &field{Name: "free_lime", Label: "With vinegar it", Kind: "choice", Options: []choice{{"", "was not tried", true}, {"yes", "fizzes", false}, {"no", "does not fizz", false}},
		Hint: "A few drops on a spoon of dry soil. Fizzing tells of free lime."}
}

// remarks ends every test.
func remarks(lab string) fieldGroup {
	return fieldGroup{Title: "Besides", Fields: []*field{
		{Name: "lab", Label: lab, Kind: "text"},
		{Name: "note", Label: "Note", Kind: "lines", Wide: true},
	}}
}

func (s *site) kitDraft(r *http.Request, g garden.Garden) testDraft {
	found := []*field{{Name: "ph", Label: "pH", Kind: "text", Hint: "As the colour card or the meter shows it: “6.2”"}, fizzes()}
	for _, e := range []garden.Element{garden.Nitrogen, garden.Phosphorus, garden.Potassium} {
		found = append(found, &field{Name: "class-" + string(e), Label: fmt.Sprintf("%s (%s)", upper(elementNames[e]), e), Kind: "choice", Options: wordChoices("not looked at", garden.TestClasses, "", nil)})
	}
	groups := append(s.testSample(r, g), fieldGroup{Title: "What the kit shows", Fields: found}, remarks("Which kit, in your words"))
	return testDraft{kit: true, groups: groups}
}

func (s *site) reportDraft(r *http.Request, g garden.Garden) testDraft {
	methods := wordChoices("choose the report's", garden.BufferMethods, "", nil)
	groups := append(s.testSample(r, g),
		fieldGroup{Title: "Reaction", Fields: []*field{
			{Name: "ph", Label: "pH", Kind: "text", Hint: "“6.2”"},
			{Name: "ph_in", Label: "Measured in", Kind: "choice", Options: slices.Clone(saltChoices)},
			{Name: "buffer_ph", Label: "Buffer pH", Kind: "text", Hint: "Also called lime index: an index of 65 is a buffer pH of 6.5."},
			{Name: "buffer_method", Label: "Buffer method", Kind: "choice", Options: methods, Hint: "The same figure means different lime by each."},
			{Name: "acidity_meq", Label: "Exchangeable acidity, meq/100 g", Kind: "text"}, fizzes(),
		}})
	for _, e := range []garden.Element{garden.Phosphorus, garden.Potassium, garden.Magnesium, garden.Calcium, garden.Nitrogen} {
		groups = append(groups, elementGroup(e))
	}
	groups = append(groups,
		fieldGroup{Title: "The soil itself", Fields: []*field{
			{Name: "organic_percent", Label: "Organic matter, %", Kind: "text"},
			{Name: "cec_meq", Label: "Exchange capacity (CEC), meq/100 g", Kind: "text"},
			{Name: "texture", Label: "Texture", Kind: "choice", Options: wordChoices("not on the report", garden.Textures, "", nil)},
		}},
		fieldGroup{Title: "Salts and lead", Fields: []*field{
			{Name: "salts_ds_m", Label: "Conductivity", Kind: "text"},
			{Name: "salts_unit", Label: "Counted in", Kind: "choice", Options: []choice{{"", "dS/m, mmho/cm or mS/cm", true}, {"micro", "µS/cm or µmho/cm", false}}},
			{Name: "salts_in", Label: "Measured in", Kind: "choice", Options: wordChoices("choose the report's", []garden.SaltMethod{garden.SaturatedPaste, garden.OneToTwo, garden.OneToFive}, "", map[garden.SaltMethod]string{garden.OneToTwo: "one of soil to two of water", garden.OneToFive: "one of soil to five of water"})},
			{Name: "lead_mg_kg", Label: "Lead, total, mg/kg", Kind: "text", Hint: "The same as ppm."},
		}},
		remarks("Laboratory, in your words"))
	return testDraft{groups: groups}
}

var unitMeans = map[garden.SoilUnit]string{garden.PPM: "the same as mg/kg", garden.MeqPer100g: "the same as cmol/kg"}

// elementGroup is the figure of an element as a report prints it.
func elementGroup(e garden.Element) fieldGroup {
	id := string(e)
	units := []garden.SoilUnit{garden.PPM, garden.PoundPerAcre, garden.MgPerLitre, garden.KgPerHectare}
	if e != garden.Nitrogen && e != garden.Phosphorus {
		units = append(units, garden.MeqPer100g)
	}
	by := slices.DeleteFunc(slices.Clone(garden.Extractors), func(x garden.Extractor) bool { return x == garden.HomeKit })
	return fieldGroup{Title: fmt.Sprintf("%s (%s)", upper(elementNames[e]), e), Class: "quad", Fields: []*field{
		{Name: "value-" + id, Label: "Figure", Kind: "text"},
		{Name: "unit-" + id, Label: "Unit", Kind: "choice", Options: wordChoices("choose", units, "", unitMeans)},
		{Name: "extractor-" + id, Label: "Extracted with", Kind: "choice", Options: wordChoices("not told", by, "", nil)},
		{Name: "class-" + id, Label: "Class printed", Kind: "choice", Options: wordChoices("none", garden.TestClasses, "", nil)},
	}}
}

func (s *site) testPage(r *http.Request, g garden.Garden, d testDraft, whole []string) groupsPage {
	p := groupsPage{
		frame: s.gardenFrame("Tell of a laboratory's report", r, g), Groups: d.groups,
		Intro: "Copy what the report prints and leave the rest empty. Its unit and its extracting solution matter as much as the figure.",
		Form:  form{Action: "/soil/test/report", Submit: "Keep the report", Whole: whole}, Back: navLink{Href: "/soil/tests", Label: "All soil tests"},
	}
	if d.kit {
		p.Title, p.Intro = "Tell of a home kit", "A kit tells roughly: good enough for the direction, not for the last half unit. Leave empty what it does not show."
		p.Form.Action, p.Form.Submit = "/soil/test/kit", "Keep the result"
	}
	p.Heading = p.Title
	return p
}

func (s *site) kitForm(w http.ResponseWriter, r *http.Request) error {
	return s.testForm(w, r, s.kitDraft)
}
func (s *site) reportForm(w http.ResponseWriter, r *http.Request) error {
	return s.testForm(w, r, s.reportDraft)
}
func (s *site) kitSave(w http.ResponseWriter, r *http.Request) error {
	return s.testSave(w, r, s.kitDraft)
}
func (s *site) reportSave(w http.ResponseWriter, r *http.Request) error {
	return s.testSave(w, r, s.reportDraft)
}

func (s *site) testForm(w http.ResponseWriter, r *http.Request, draft func(*http.Request, garden.Garden) testDraft) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	return s.showGroups(w, s.testPage(r, g, draft(r, g), nil))
}

func (s *site) testSave(w http.ResponseWriter, r *http.Request, draft func(*http.Request, garden.Garden) testDraft) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	d := draft(r, g)
	a := answers{r: r, fields: flat(d.groups), units: g.Site.Units}
	t := a.soilTest(g, d.kit)
	if t.Date > s.Today() && a.field("date").Error == "" {
		a.field("date").Error = "This day has not come yet. Write the day the sample was taken."
	}
	whole := a.testProblems(t)
	if a.wrong() == 0 && len(whole) == 0 && a.doubted() && r.PostFormValue("sure") == "" {
		d.groups = append(d.groups, sureGroup())
		return s.showDoubts(w, s.testPage(r, g, d, nil))
	}
	if a.wrong() > 0 || len(whole) > 0 {
		return s.showGroups(w, s.testPage(r, g, d, whole))
	}
	if _, err := s.Store.AddTest(r.Context(), t); err != nil {
		return err
	}
	if len(t.Beds) == 1 {
		return seeOther(w, r, soilHref(t.Beds[0])+"?done=tested")
	}
	return seeOther(w, r, "/soil?done=tested")
}

// sureGroup asks whether what is doubted is so.
func sureGroup() fieldGroup {
	return fieldGroup{Title: "Look again", Class: "sure", Hint: "Something above is unusual; it is said beside its field. Nothing was saved yet. Mend it, or say that it stands.",
		Fields: []*field{{Name: "sure", Label: "I have looked again: it is so", Kind: "check"}}}
}

// showDoubts shows a form that can be taken once its doubts are answered.
func (s *site) showDoubts(w http.ResponseWriter, p groupsPage) error {
	return s.render(w, http.StatusUnprocessableEntity, "groups", p)
}
