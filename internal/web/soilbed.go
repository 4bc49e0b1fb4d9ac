package web

import (
	"fmt"
	"net/http"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
)

// bedSoilShow is a bed's ground: how it stands, what it asks for, and its record.
type bedSoilShow struct {
	frame
	Name, Facts, Bed string
	ID               int64
	Alarms           []soil.Alarm
	Stopped          bool
	PH               string
	Word, Expected   string
	Colour           string
	Scale            figure
	Fits             []fitRow
	Test             *testView
	TestLink         string
	Asks             string
	Dose             *doseView
	Others           []doseView
	Reasons          []reasonLine
	Advice           []string
	Feeding          *feedingView
	Organic          *organicView
	Digging          *diggingView
	Holes            []holeView
	Held             []heldView
	Record           recordView
	Again            []againView
	Put              []fieldGroup
	PutForm          form
	Others2          []navLink // the other beds
}

type fitRow struct{ Crop, Range, Says, Yield string }

// doseView is a material to put on, measured out.
type doseView struct {
	Material string
	Mass     string
	ByHand   string
	Rate     string
	Depth    string
	Spread   string // what the sources span
	Parts    []dosePart
	Before   string
	Reasons  []reasonLine
	Cautions []string
}

type dosePart struct{ Mass, ByHand, When, Says, Done string }

type againView struct {
	What, When string
	Due        bool
	Reasons    []reasonLine
}

type heldView struct {
	Crop, Href, Until string
	Clash             bool
	Reasons           []reasonLine
}

func (s *site) bedSoil(w http.ResponseWriter, r *http.Request) error {
	g, err := s.Store.Garden(r.Context())
	if err != nil {
		return err
	}
	return s.bedSoilShown(w, r, s.putGroups(r, g), nil)
}

// bedSoilShown shows the page with its form, again with what is wrong when it was sent.
func (s *site) bedSoilShown(w http.ResponseWriter, r *http.Request, groups []fieldGroup, whole []string) error {
	known, err := s.groundOf(r)
	if err != nil {
		return err
	}
	b, ok := known.ground.Bed(idOf(r))
	if !ok {
		return missing("bed of that number")
	}
	p, err := s.bedSoilMatter(known, b)
	if err != nil {
		return err
	}
	p.Put, p.PutForm = groups, form{Action: soilHref(b.Bed.ID) + "/put", Submit: "Write it down", Whole: whole}
	status := http.StatusOK
	for _, f := range flat(groups) {
		p.PutForm.Wrong += count(f.Error != "")
	}
	if r.Method == http.MethodPost {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "soilbed", p)
}

func (s *site) bedSoilMatter(known soilKnown, b season.BedGround) (p bedSoilShow, err error) {
	g, u := known.garden, known.ground.Weighs
	r := b.Reaction
	p = bedSoilShow{
		frame: known.frame("The soil of " + b.Bed.Name), Name: b.Bed.Name, ID: b.Bed.ID, Bed: fmt.Sprintf("/bed/%d", b.Bed.ID), Facts: soilFactsOf(g, b), Alarms: r.Alarms, Stopped: b.Stopped != "",
		TestLink: fmt.Sprintf("/soil/tests?bed=%d", b.Bed.ID), Asks: askSays(b, u), Reasons: reasons(r.Reasons), Advice: r.Advice,
	}
	if p.Stopped {
		p.Advice = nil // what to grow and to give does not stand where nothing is to be grown
	}
	row := soilBedRowOf(b, known.ground)
	p.PH, p.Word, p.Colour = row.PH, row.Word, row.Colour
	if r.PH > 0 {
		p.Expected = fmt.Sprintf("Expected now, between %.1f and %.1f; tested %s.", r.Expected.Low, r.Expected.High, season.Dated(r.Tested))
	}
	if p.Scale, err = soilScale(fmt.Sprintf("scale-%d", b.Bed.ID), bedScaleTitle(b), []scaleBed{{b.Bed.Name, "", r, p.Stopped}}, cropRanges(b.Fits)); err != nil {
		return p, err
	}
	p.Fits = fitRows(b.Fits)
	if len(b.Tests) > 0 {
		v := testViewOf(g, b.Tests[0].Test)
		p.Test = &v
	}
	if r.Dose != nil {
		v := doseViewOf(known, b.Bed, *r.Dose)
		p.Dose = &v
	}
	for _, d := range r.Others {
		p.Others = append(p.Others, doseViewOf(known, b.Bed, d))
	}
	p.Feeding = feedingViewOf(known, b)
	p.Organic = organicViewOf(known, b)
	p.Digging = diggingViewOf(known, b)
	p.Holes = holeViews(known, b)
	for _, h := range b.Held {
		p.Held = append(p.Held, heldView{upper(h.Crop.Name()), "/planting/" + h.Planting.Key, season.Dated(h.Until), h.Clash, reasons([]garden.Reason{h.Reason})})
	}
	for _, a := range b.Again {
		p.Again = append(p.Again, againView{againSays[a.What], windowSays(a.On, a.On, known.ground.Day), a.Due, reasons([]garden.Reason{a.Reason})})
	}
	if p.Record, err = recordViewOf(known, b); err != nil {
		return p, err
	}
	for _, o := range known.ground.Beds {
		p.Others2 = append(p.Others2, navLink{soilHref(o.Bed.ID), o.Bed.Name, o.Bed.ID == b.Bed.ID})
	}
	return p, nil
}

var againSays = map[string]string{"lime": "Lime", "test": "A soil test", "organic matter": "Organic matter"}

// soilFactsOf is what is told of a bed's ground, in a line.
func soilFactsOf(g garden.Garden, b season.BedGround) string {
	u := g.Site.Units
	says := u.Area(b.Bed.Area())
	if b.Texture != "" {
		says += " of " + textureName(b.Texture)
		if b.TextureBy != 0 {
			says += " by the test of " + b.TextureBy.Long()
		}
	} else {
		says += ", of a soil not told yet"
	}
	told := g.SoilOf(b.Bed)
	if told.Topsoil > 0 {
		says += ", topsoil " + u.Depth(told.Topsoil) + " deep"
	}
	if told.Tilled > 0 {
		says += ", dug " + u.Depth(told.Tilled) + " deep"
	}
	if told.Spit == garden.Tiller {
		says += " with a tiller"
	}
	switch told.State {
	case garden.Sod:
		says += ", under grass"
	case garden.Neglected:
		says += ", overgrown"
	}
	return says
}

func textureName(t garden.Texture) string {
	if t == garden.Organic {
		return "peat or muck"
	}
	return string(t)
}

func bedScaleTitle(b season.BedGround) string {
	r := b.Reaction
	switch {
	case r.PH == 0:
		return b.Bed.Name + " was never tested; this is what its crops want"
	case reactionInk(r) == rightInk:
		return fmt.Sprintf("pH %.1f lies where the crops of %s want it", r.PH, b.Bed.Name)
	case r.PH < r.Target.Low:
		return fmt.Sprintf("pH %.1f is sourer than the crops of %s want", r.PH, b.Bed.Name)
	}
	return fmt.Sprintf("pH %.1f is limier than the crops of %s want", r.PH, b.Bed.Name)
}

// askSays is what a bed's reaction asks for, as a heading says it.
func askSays(b season.BedGround, u quantity.System) string {
	r := b.Reaction
	switch {
	case r.Verdict == soil.AskFirst:
		return "Nothing, before someone local was asked"
	case r.Dose != nil:
		return fmt.Sprintf("%s of %s", weighed(u, r.Dose.Mass), r.Dose.Material.Name)
	case r.Verdict == soil.LiveWithIt:
		return "It is not practical to change this pH"
	case r.PH == 0:
		return "Neither lime nor sulfur before it is tested"
	}
	return "Neither lime nor sulfur"
}

func fitRows(fits []season.CropFit) (rows []fitRow) {
	for _, f := range fits {
		row := fitRow{Crop: upper(f.Crop.Name()), Range: fmt.Sprintf("%.1f – %.1f", f.Low, f.High), Says: "–"}
		if !f.Planned {
			row.Crop += " (wanted)"
		}
		if f.Known {
			row.Says = f.Word()
			if f.Yield < .995 {
				row.Yield = fmt.Sprintf("about %.0f %%", 100*f.Yield)
			}
		}
		rows = append(rows, row)
	}
	return rows
}

func doseViewOf(known soilKnown, bed garden.Bed, d soil.Dose) doseView {
	u, length, bucket := known.ground.Weighs, known.garden.Site.Units, known.garden.Site.Soil.Bucket
	v := doseView{
		Material: d.Material.Name, Mass: weighed(u, d.Mass), ByHand: byHand(d.Mass, d.Material, u, bucket), Rate: u.Rate(d.Rate),
		Depth: "left on top", Reasons: reasons(d.Reasons), Cautions: uppers(d.Cautions),
	}
	depth := ""
	if d.Depth > 0 {
		depth = length.Depth(d.Depth)
		v.Depth = "worked in " + depth + " deep"
	}
	if d.Low < d.Rate*.98 || d.High > d.Rate*1.02 {
		area := quantity.Kilogram(bed.Area())
		v.Spread = fmt.Sprintf("The sources span %s to %s on this bed. The lower middle is followed: more can be given next year, too much cannot be taken back.", weighed(u, quantity.Kilogram(d.Low)*area), weighed(u, quantity.Kilogram(d.High)*area))
	}
	if d.Before > 0 {
		v.Before = fmt.Sprintf("At least %d days before sowing.", d.Before)
	}
	for _, part := range d.Parts {
		v.Parts = append(v.Parts, dosePart{
			Mass: weighed(u, part.Mass), ByHand: byHand(part.Mass, d.Material, u, bucket), When: windowSays(part.From, part.To, known.ground.Day), Says: part.When,
			Done: putLink(bed.ID, d.Material.ID, weighed(u, part.Mass), depth),
		})
	}
	return v
}

// byHand is a mass as it is measured out.
func byHand(mass quantity.Kilogram, m soil.Material, u quantity.System, bucket quantity.Litre) string {
	return "about " + soil.ByHand(mass, m, u, bucket).String()
}
