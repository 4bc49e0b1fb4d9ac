package web

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/light"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

// lightPage is the sun on the ground in a month, and what throws shade on it.
type lightPage struct {
	frame
	Month    string
	Number   int
	Months   []navLink
	Picture  template.HTML
	Finding  string
	Basis    string
	Sunshine string
	Counting string // from how high the sun counts
	Scale    string // centimetres of the ground to a unit of the picture, for dragging
	Legend   []legendEntry
	Heads    []monthCell
	Beds     []bedLightRow
	Shades   []shadeRow
	Add      []navLink
	Lie      string
}

type bedLightRow struct {
	Number     int // on the picture where it is narrow
	Href, Name string
	Hours      []monthCell
	Basis      string
	Good       string
}

type monthCell struct {
	Says    string
	Current bool
}

type shadeRow struct {
	ID         int64
	Name, Says string
	X, Y       string
}

// bedLightPage is a bed's light through the year.
type bedLightPage struct {
	frame
	Bed      string
	BedID    int64
	Picture  template.HTML
	Finding  string
	Counting string // from how high the sun counts
	Enough   bool   // it has sun enough for everything
	Rows     []bedMonthRow
	Basis    string
	Differs  string
	Good     string
	Keys     string
	Well     string
	Less     string
	Then     string // what does in a part of the year only
	Spell    string // which part
	Remedies []remedyLine
	Caution  string
	Seen     []seenLine
	Form     form
	Others   []navLink
}

type bedMonthRow struct{ Month, Hours, Open, Energy, Basis string }
type remedyLine struct{ Says, Href, Label, Key string }
type seenLine struct {
	Says   string
	Action string
}

// lightYear is the light of the garden as the book has it now; it needs no plan.
func (s *site) lightYear(r *http.Request) (light.Year, error) {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return light.Year{}, err
	}
	if s.Record == nil {
		return season.LightYearOf(g, nil), nil
	}
	record, err := s.Record(r.Context())
	if err != nil {
		return light.Year{}, err
	}
	return season.LightYearOf(g, record), nil
}

// monthAsked is the month an address asks for, else today's.
func (s *site) monthAsked(r *http.Request) (time.Month, error) {
	text := r.FormValue("month")
	if text == "" {
		return s.Today().Month(), nil
	}
	m, err := garden.ParseMonth(text)
	if err != nil {
		return 0, problem{badRequest, upper(err.Error()) + ".", "Choose a month by the links on the page, or correct the address."}
	}
	return m, nil
}

func lightHref(m time.Month) string { return fmt.Sprintf("/plot/light?month=%d", int(m)) }

func (s *site) light(w http.ResponseWriter, r *http.Request) error {
	month, err := s.monthAsked(r)
	if err != nil {
		return err
	}
	y, err := s.lightYear(r)
	if err != nil {
		return err
	}
	g := y.Garden
	v := newLightPicture(y, month)
	p := lightPage{frame: s.gardenFrame("Light on the plot", r, g), Month: month.String(), Number: int(month), Finding: v.finding(), Sunshine: y.Sunshine.Says, Counting: light.Counting, Legend: lightLegend(), Lie: lieSays(g.Site)}
	scene := v.draw()
	p.Scale = strconv.FormatFloat(v.depth, 'f', 1, 64)
	if p.Picture, err = svg(scene); err != nil {
		return err
	}
	p.Basis = basisOfPicture(g)
	for m := time.January; m <= time.December; m++ {
		p.Heads = append(p.Heads, monthCell{m.String()[:3], m == month})
		p.Months = append(p.Months, navLink{Href: lightHref(m), Label: m.String()[:3], Current: m == month})
	}
	for i, b := range g.Beds {
		row := bedLightRowOf(y, b, month)
		row.Number = i + 1
		p.Beds = append(p.Beds, row)
	}
	for _, shade := range g.Shades {
		p.Shades = append(p.Shades, shadeRow{shade.ID, shade.Name, shadeSays(shade, g.Site.Units), strconv.FormatFloat(float64(shade.X), 'f', 3, 64), strconv.FormatFloat(float64(shade.Y), 'f', 3, 64)})
	}
	for _, k := range garden.ShadeKinds {
		p.Add = append(p.Add, navLink{Href: "/plot/shade/new?kind=" + string(k), Label: shadeWord(k)})
	}
	return s.render(w, http.StatusOK, "light", p)
}

func bedLightRowOf(y light.Year, b garden.Bed, month time.Month) bedLightRow {
	months := y.Bed(b)
	row := bedLightRow{Href: fmt.Sprintf("/bed/%d/light", b.ID), Name: b.Name, Basis: basisWord(months)}
	for m := range months {
		row.Hours = append(row.Hours, monthCell{fmt.Sprintf("%.1f", float64(months[m].Hours)), m == int(month)-1})
	}
	row.Good = goodWords(y.GoodFor(b))
	return row
}

// goodWords is a verdict in a few words, with the part of the year that is good for more.
func goodWords(v light.Verdict) string {
	says := useWord(v)
	if s := v.Spell; s != nil {
		then := map[light.Use]string{light.Fruit: "fruit", light.Root: "roots", light.Leaf: "leaves"}[s.Use]
		says += fmt.Sprintf("; %s %s–%s", then, s.From.String()[:3], s.To.String()[:3])
	}
	return says
}

// useWord is a verdict in a word or two.
func useWord(v light.Verdict) string {
	switch {
	case v.Use == light.Nothing:
		return "no vegetable"
	case v.Use == light.Fruit && v.Full:
		return "everything"
	case v.Use == light.Fruit:
		return "roots, leaves; fruit later"
	case v.Use == light.Root && v.Full:
		return "roots and leaves"
	case v.Use == light.Root:
		return "leaves; roots smaller"
	}
	return "leaves, smaller"
}

// basisWord tells what the hours of the year rest on.
func basisWord(months [12]light.Month) string {
	var words []string
	for _, basis := range []light.Basis{light.Seen, light.Near, light.Reckoned, light.Lowered, light.Told} {
		if slices.ContainsFunc(months[:], func(m light.Month) bool { return m.Basis == basis }) {
			words = append(words, basisSays(basis))
		}
	}
	return joinWords(words)
}

func basisSays(b light.Basis) string {
	switch b {
	case light.Near:
		return "as seen in a month near"
	case light.Lowered:
		return "lowered by what you saw"
	}
	return string(b)
}

func basisOfPicture(g garden.Garden) string {
	if len(g.Shades) == 0 && g.Site.Lie.Level() {
		return "Nothing is told yet that throws shade, so the picture is of open ground. The table says for each bed what is used: the hours told for its season, or the sun seen on it."
	}
	return "The picture is reckoned from what is told below, on clear days. Where you saw the sun on a bed in a month, the table and the plan use what you saw, and where that is less than is reckoned, other months are lowered too."
}

// lieSays is how the plot lies, in a sentence.
func lieSays(site garden.Site) string {
	l := site.Lie
	var parts []string
	if l.Slope == 0 {
		parts = append(parts, "The ground is level")
	} else {
		parts = append(parts, fmt.Sprintf("The ground slopes %s° to the %s", degrees(l.Slope), towards(l.Aspect)))
	}
	if l.North != 0 {
		parts = append(parts, fmt.Sprintf("up on the picture is %s° from true north", degrees(l.North)))
	}
	if len(l.Horizon) > 0 {
		parts = append(parts, "the skyline is told in "+plural(len(l.Horizon), "place", "places"))
	}
	return strings.Join(parts, "; ") + "."
}

// towards is the nearest of eight directions to degrees clockwise from north.
func towards(bearing float64) string {
	const eighth = 45
	return [...]string{"north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"}[(int(bearing/eighth+.5)%8+8)%8]
}

// shadeSays is what throws shade in a few words.
func shadeSays(s garden.Shade, u quantity.System) string {
	says := fmt.Sprintf("%s, %s high", s.Kind, u.Length(s.Height))
	if s.Kind == garden.Tree {
		says += fmt.Sprintf(", its crown %s wide", u.Length(s.Spread))
		if s.CrownBase > 0 {
			says += " from " + u.Length(s.CrownBase) + " up"
		}
	} else {
		says += fmt.Sprintf(", %s long", u.Length(s.Length))
		if s.Ridge > s.Height {
			says += ", the ridge at " + u.Length(s.Ridge)
		}
	}
	if s.Deciduous() {
		says += fmt.Sprintf(", in leaf from %s to %s", s.LeafOn.In(2027).Short(), s.LeafOff.In(2027).Short())
	}
	return says
}

func (s *site) bedLight(w http.ResponseWriter, r *http.Request) error {
	y, b, err := s.bedLightAsked(r)
	if err != nil {
		return err
	}
	return s.showBedLight(w, r, y, b, form{Fields: seenFields()}, http.StatusOK)
}

func (s *site) bedLightAsked(r *http.Request) (light.Year, garden.Bed, error) {
	y, err := s.lightYear(r)
	if err != nil {
		return y, garden.Bed{}, err
	}
	b, ok := y.Garden.Bed(idOf(r))
	if !ok {
		return y, b, missing("bed of that number")
	}
	return y, b, nil
}

func (s *site) showBedLight(w http.ResponseWriter, r *http.Request, y light.Year, b garden.Bed, f form, status int) (err error) {
	u := y.Garden.Site.Units
	months := y.Bed(b)
	over := y.Sun(b)
	verdict := y.GoodFor(b)
	f.Action, f.Submit = fmt.Sprintf("/bed/%d/light", b.ID), "Keep what you saw"
	p := bedLightPage{frame: s.gardenFrame(b.Name+": light", r, y.Garden), Bed: b.Name, BedID: b.ID, Basis: basisWord(months), Counting: light.Counting, Enough: verdict.Use == light.Fruit && verdict.Full, Differs: y.Differs(b), Good: verdict.Says, Keys: verdict.Source, Form: f}
	if p.Picture, err = yearPicture(y, b); err != nil {
		return err
	}
	p.Finding = fmt.Sprintf("%s has %s of direct sun a day over the growing season, on clear days", b.Name, u.Hours(over.Mean()))
	for m := range months {
		p.Rows = append(p.Rows, bedMonthRow{time.Month(m + 1).String(), fmt.Sprintf("%.1f", float64(months[m].Hours)), fmt.Sprintf("%.1f", float64(y.Open[m].Hours)), fmt.Sprintf("%.1f", float64(months[m].Energy)), basisSays(months[m].Basis)})
	}
	var wanted []*crop.Crop
	crops := s.cropsOf(y.Garden)
	for _, want := range y.Garden.Wants {
		found, _ := crops.Match(want.Crop)
		for _, c := range found {
			if !slices.Contains(wanted, c) && c.Perennial == b.Perennial {
				wanted = append(wanted, c)
			}
		}
	}
	well, less := light.Grows(wanted, over)
	p.Well, p.Less = kindsOf(well), joinWords(light.LessOf(less, over))
	if s := verdict.Spell; s != nil {
		p.Then, p.Spell = joinWords(verdict.InSpell(wanted, over)), fmt.Sprintf("from %s to %s", s.From, s.To)
	}
	for _, remedy := range y.Remedies(b) {
		line := remedyLine{Says: remedy.Says, Key: remedy.Source}
		switch {
		case remedy.Shade != 0:
			line.Href, line.Label = fmt.Sprintf("/plot/shade/%d", remedy.Shade), "What is told of it"
		case remedy.To != nil:
			line.Href, line.Label = fmt.Sprintf("/bed/%d/edit", b.ID), "Change the bed"
		}
		p.Remedies = append(p.Remedies, line)
		if remedy.Caution != "" {
			p.Caution = remedy.Caution
		}
	}
	for i, seen := range b.Observed {
		p.Seen = append(p.Seen, seenLine{fmt.Sprintf("%s: sun from %s till %s", seen.Month, clockSays(seen.From), clockSays(seen.To)), fmt.Sprintf("/bed/%d/light/%d/remove", b.ID, i+1)})
	}
	for _, o := range y.Garden.Beds {
		p.Others = append(p.Others, navLink{fmt.Sprintf("/bed/%d/light", o.ID), o.Name, o.ID == b.ID})
	}
	return s.render(w, status, "bedlight", p)
}

// kindsOf names the kinds of crops once each.
func kindsOf(crops []*crop.Crop) string {
	var kinds []string
	for _, c := range crops {
		if !slices.Contains(kinds, c.Kind) {
			kinds = append(kinds, c.Kind)
		}
	}
	return joinWords(kinds)
}

func clockSays(h quantity.Hour) string {
	minutes := int(float64(h)*60 + .5)
	return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
}

func seenFields() []*field {
	months := make([]choice, 12)
	for m := range months {
		months[m] = choice{Value: strconv.Itoa(m + 1), Label: time.Month(m + 1).String(), Chosen: m == 5}
	}
	return []*field{
		{Name: "month", Label: "In", Kind: "choice", Options: months},
		{Name: "from", Label: "Sun from", Kind: "text", Hint: "By your clock: “10”, “10:30” or “10 am”.", Required: true},
		{Name: "to", Label: "till", Kind: "text", Hint: "“2” after “10” is taken for the afternoon.", Required: true},
	}
}

func (s *site) bedSeen(w http.ResponseWriter, r *http.Request) error {
	y, b, err := s.bedLightAsked(r)
	if err != nil {
		return err
	}
	a := answers{r: r, fields: seenFields(), units: y.Garden.Site.Units}
	month, err := garden.ParseMonth(a.text("month"))
	if err != nil {
		a.fault("month", err)
	}
	from, to := a.text("from"), a.text("to")
	f := form{Fields: a.fields}
	if a.wrong() == 0 {
		seen, err := garden.ParseSunSeen(month, from, to)
		if err != nil {
			a.fault("from", err)
		}
		v := b
		v.Observed = append(slices.Clone(b.Observed), seen)
		if err == nil {
			f.Whole = a.problems(append(v.Validate(), v.SeenAt(y.Garden.Site)...), map[string]string{"sun_seen": "to"})
		}
		if a.wrong() == 0 && len(f.Whole) == 0 {
			if err := s.Store.SaveBed(r.Context(), v); err != nil {
				return err
			}
			return seeOther(w, r, fmt.Sprintf("/bed/%d/light?done=saved", b.ID))
		}
	}
	f.Wrong = a.wrong()
	return s.showBedLight(w, r, y, b, f, http.StatusUnprocessableEntity)
}

func (s *site) bedSeenRemove(w http.ResponseWriter, r *http.Request) error {
	_, b, err := s.bedLightAsked(r)
	if err != nil {
		return err
	}
	n, err := strconv.Atoi(r.PathValue("n"))
	if err != nil || n < 1 || n > len(b.Observed) {
		return missing("sun seen of that number")
	}
	b.Observed = slices.Delete(slices.Clone(b.Observed), n-1, n)
	if err := s.Store.SaveBed(r.Context(), b); err != nil {
		return err
	}
	return seeOther(w, r, fmt.Sprintf("/bed/%d/light?done=removed", b.ID))
}
