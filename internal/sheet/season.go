package sheet

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
	"kailyard/internal/work"
)

// Season is a season's plan, to be kept with the seed.
type Season struct {
	Head
	Garden garden.Garden
	Plan   *plan.Plan
	Crops  *crop.Catalogue
	Frost  weather.Frost  // of freezing; the zero value draws none
	Soil   *work.SoilBook // what the ground asks for; nil: the page of the ground is left out
	Jobs   []work.Job
	Orders []work.Order
}

// WriteSeasonPDF writes a season's plan as a PDF file: the plot to scale, a page for each bed with
// its picture in space and time and its plantings, and what the table gets.
func WriteSeasonPDF(w io.Writer, s Season) error {
	p, err := laySeason(s)
	if err != nil {
		return err
	}
	return p.write(w, "season's sheet")
}

// laySeason lays the pages out.
func laySeason(s Season) (*paper, error) {
	if s.Plan == nil {
		return nil, fmt.Errorf("there is no plan to write; make one first")
	}
	title := "Season " + s.Plan.Season.String()
	p := newPaper(s.Head, readable(s.Site.Name)+": "+title, s.Site.Name+" · "+title)
	if err := p.seasonFront(s); err != nil {
		return nil, err
	}
	for i, b := range s.Garden.Beds {
		if list := s.in(b); len(list) > 0 {
			if err := p.bedPages(s, i+1, b, list); err != nil {
				return nil, err
			}
		}
	}
	if s.Soil != nil {
		p.groundPages(s)
	}
	p.again = ""
	p.turn()
	p.again = "What the table gets, continued"
	p.supply(s)
	return p, nil
}

// in are the plantings of a bed, in the order they go in.
func (s Season) in(b garden.Bed) []garden.Planting {
	var list []garden.Planting
	for _, q := range s.Plan.Plantings {
		if q.BedID == b.ID {
			list = append(list, q.AsItStands())
		}
	}
	slices.SortStableFunc(list, func(a, b garden.Planting) int { return int(a.Start) - int(b.Start) })
	return list
}

func (s Season) name(id string) string {
	if c, ok := s.Crops.Find(id); ok {
		return c.Name()
	}
	return id
}

// seasonFront is the plot with the list of its beds.
func (p *paper) seasonFront(s Season) error {
	b := p.paragraph(marginLeft, 0, style{upright, 12, 0, softInk}, "", s.Site.Name)
	b = append(b, p.paragraph(marginLeft, 0, style{bold, 25, 1.2, ink}, "", "Season "+s.Plan.Season.String())...)
	b = append(b, p.notice()...)
	b = append(b, piece{high: 18, draw: func(y float64) { p.rule(marginLeft, y+7, p.right(), ink, 1.4) }})
	p.place(b, piece{})
	scene := p.plotScene(s.Garden, p.room(marginLeft), min(360, p.left()*.62))
	if err := p.picture(marginLeft, p.y, scene); err != nil {
		return err
	}
	p.y += scene.Height + 6
	p.again = "The beds, continued"
	t := ledger{paper: p, columns: []column{{head: "", wide: 22}, {head: "bed", wide: 118}, {head: "length × width", wide: 96}, {head: "sun", wide: 34}, {head: "what grows in it"}}}
	for i, bed := range s.Garden.Beds {
		u := s.Site.Units
		t.row(nil, fmt.Sprint(i+1), bed.Name, u.Length(bed.Length)+" × "+u.Length(bed.Width), u.Hours(bed.Sun), s.sequence(bed))
	}
	return nil
}

// sequence names what grows in a bed, in the order it goes in.
func (s Season) sequence(b garden.Bed) string {
	var names []string
	for _, q := range s.in(b) {
		name := q.CropID
		if c, ok := s.Crops.Find(q.CropID); ok {
			name = c.Kind
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return "nothing this season"
	}
	return strings.Join(names, ", ")
}

// bedPages are a bed's picture and its plantings.
func (p *paper) bedPages(s Season, number int, bed garden.Bed, list []garden.Planting) error {
	u := s.Site.Units
	p.again = ""
	p.turn()
	b := p.paragraph(marginLeft, 0, style{bold, 20, 1.2, ink}, fmt.Sprintf("%d", number), bed.Name)
	says := fmt.Sprintf("%s long, %s wide; %s of sun. Places are measured from its south-west corner.", u.Length(bed.Length), u.Length(bed.Width), u.Hours(bed.Sun))
	b = append(b, p.paragraph(marginLeft, 0, style{upright, 10.5, 0, softInk}, "", says)...)
	if bed.Note != "" {
		b = append(b, p.paragraph(marginLeft, 0, style{upright, 10.5, 0, softInk}, "", "Note: "+bed.Note)...)
	}
	p.place(append(b, gap(6)), piece{})
	p.again = fmt.Sprintf("%d %s, continued", number, bed.Name)
	t := ledger{paper: p, columns: plantingColumns}
	var rows []block
	legend := p.bedLegend(list)
	rest := p.left() - legend.high() - t.heading().high()
	for _, q := range list {
		row := t.body(p.plantingNote(s, bed, q), shortKey(q, s.Plan.Season), s.name(q.CropID), s.went(q), s.picking(q), s.free(q), fmt.Sprintf("%d in %s", q.Plants, count(max(q.Rows, 1), "row")), expected(s, q))
		rows = append(rows, row)
		rest -= row.high()
	}
	// the picture leaves the table the room it needs, as far as it can
	scene := p.bedScene(s, garden.LayStrip(bed, places(list)), list, p.room(marginLeft), min(max(230, rest-4), p.left()*.56))
	if scene.Height > p.left() {
		p.turn()
	}
	if err := p.picture(marginLeft, p.y, scene); err != nil {
		return err
	}
	p.y += scene.Height
	p.place(legend, piece{})
	for _, row := range rows {
		t.add(row)
	}
	return nil
}

var plantingColumns = []column{
	{head: "", wide: 40}, {head: "crop", wide: 104}, {head: "into the bed", wide: 98}, {head: "pick", wide: 90}, {head: "free", wide: 54}, {head: "plants", wide: 68}, {head: "about"},
}

// went is how and when a planting goes into the bed, and what it stands under.
func (s Season) went(q garden.Planting) string {
	if p, _ := crop.FindProtection(q.Protection); p != nil {
		return s.wentIn(q) + ",\nunder " + p.Under()
	}
	return s.wentIn(q)
}

func (s Season) wentIn(q garden.Planting) string {
	day := s.short(q.Start)
	switch {
	case q.Status == garden.Lost:
		return "went in " + day + ",\nfailed"
	case q.Status == garden.InGround:
		return "standing since " + day
	case q.RaiseOn != nil:
		return fmt.Sprintf("raise %s,\nset out %s", s.short(*q.RaiseOn), day)
	case q.Way == crop.SetOut:
		return "set out " + day
	case q.Way == crop.Set:
		return "plant " + day
	}
	return "sow " + day
}

// short is a day that no line break parts, with its year outside the season.
func (s Season) short(d civil.Date) string {
	says := strings.ReplaceAll(d.Short(), " ", " ")
	if !s.Plan.Season.Span().Has(d) {
		says += fmt.Sprintf(" %d", d.Year())
	}
	return says
}

func (s Season) picking(q garden.Planting) string {
	if q.First.P50 < q.Start || q.First.P50 == 0 {
		return "–"
	}
	return s.short(q.First.P50) + " – " + s.short(max(q.Last.P50, q.First.P50))
}

// free is the day from which the ground is free; of one that failed it is free already.
func (s Season) free(q garden.Planting) string {
	if q.Status == garden.Lost {
		return "–"
	}
	return s.short(q.Clear)
}

func expected(s Season, q garden.Planting) string {
	if q.Expect <= 0 {
		return "–"
	}
	return s.Site.Units.Mass(q.Expect)
}

// plantingNote is the small print of a planting: where it lies, how far apart its plants, with whom
// it shares, and how sure it is.
func (p *paper) plantingNote(s Season, bed garden.Bed, q garden.Planting) []string {
	u := s.Site.Units
	var says []string
	says = append(says, where(u, bed, q.Place))
	if c, ok := s.Crops.Find(q.CropID); ok && c.Spacing.InRow > 0 {
		apart := u.Distance(c.Spacing.InRow) + " in the row"
		if q.Rows > 1 && !isGuest(q) && q.Place.Area() > 0 {
			apart += ", rows " + u.Distance(rowsApart(bed, q)) + " apart"
		}
		says = append(says, apart)
	}
	if q.Partner != "" {
		says = append(says, "shares its ground with "+strings.TrimPrefix(q.Partner, fmt.Sprintf("%d-", s.Plan.Season.Year())))
	}
	if q.First.P90 > q.First.P10 && q.First.P10 >= q.Start {
		says = append(says, fmt.Sprintf("first picking between %s and %s in eight years of ten", q.First.P10.Short(), q.First.P90.Short()))
	}
	if q.Years > 0 {
		says = append(says, fmt.Sprintf("succeeds in %d of %d weather years", q.Success, q.Years))
	}
	return []string{strings.Join(says, "; ")}
}

// places are where some plantings stand.
func places(list []garden.Planting) []garden.Place {
	out := make([]garden.Place, len(list))
	for i, q := range list {
		out[i] = q.Place
	}
	return out
}

// where is a place in words: "7.5 m to 9 m along", "the whole bed".
func where(u quantity.System, b garden.Bed, at garden.Place) string {
	reach := func(from, to, whole quantity.Metre, word string) string {
		switch {
		case from < garden.SameEdge && whole-to < garden.SameEdge:
			return ""
		case from < garden.SameEdge:
			return "the first " + u.Length(to) + " " + word
		}
		return u.Length(from) + " to " + u.Length(to) + " " + word
	}
	along, across := reach(at.AlongFrom, at.AlongTo, b.Length, "along"), reach(at.AcrossFrom, at.AcrossTo, b.Width, "across")
	switch {
	case at.Area() <= 0 || along == "" && across == "":
		return "the whole bed"
	case along == "" || across == "":
		return along + across
	}
	return along + ", " + across
}

// rowsApart is the room each row has in a planting's place.
func rowsApart(b garden.Bed, q garden.Planting) quantity.Metre {
	wide := q.Place.AcrossTo - q.Place.AcrossFrom
	if b.RowsAcross {
		wide = q.Place.AlongTo - q.Place.AlongFrom
	}
	return wide / quantity.Metre(q.Rows)
}

// bedLegend explains the picture's marks in a line or two below it.
func (p *paper) bedLegend(list []garden.Planting) block {
	says := "Dotted edge: sown; full edge: set out or planted. Pale: ground taken; deeper: growing; deepest: to pick; fading: ground free in more and more weather years. "
	if slices.ContainsFunc(list, func(q garden.Planting) bool { return q.RaiseOn != nil }) {
		says += "Dashes: raised under cover. "
	}
	if slices.ContainsFunc(list, isGuest) {
		says += "Brown: between another crop’s plants. "
	}
	says += "The band at the left is the chance of frost. The numbers are those of the table."
	return append(p.paragraph(marginLeft, 0, style{italic, 8.5, 1.25, softInk}, "", says), gap(8))
}

// supply is what the table gets, want by want.
func (p *paper) supply(s Season) {
	p.place(append(p.paragraph(marginLeft, 0, style{bold, 20, 1.2, ink}, "", "What the table gets"), gap(4)), piece{})
	p.place(append(p.paragraph(marginLeft, 0, style{upright, 10.5, 0, softInk}, "", "The mean of the weather years; of a weekly want only what a week can use."), gap(8)), piece{})
	u := s.Site.Units
	t := ledger{paper: p, columns: []column{{head: "wanted", wide: 140}, {head: "", wide: 50}, {head: "asked", wide: 66}, {head: "expected", wide: 66}, {head: "", wide: 40}, {head: ""}}}
	for _, v := range s.Plan.Supply {
		share := v.Share()
		var small []string
		for _, why := range v.Short {
			small = append(small, why.Says)
		}
		if v.Weekless() {
			t.bar = nil
			t.row(append([]string{"No week can have it."}, small...), v.Want.Crop, string(v.Want.Basis), "–", "–", "", "")
			continue
		}
		t.bar = &share
		t.row(small, v.Want.Crop, string(v.Want.Basis), u.Mass(v.Asked), u.Mass(v.Expected), fmt.Sprintf("%.0f %%", 100*share), "")
	}
	t.bar = nil
	if len(s.Plan.Notes) > 0 {
		p.place(p.heading("Of the plan as a whole"), piece{})
		for _, n := range s.Plan.Notes {
			p.place(append(p.paragraph(marginLeft, 0, style{upright, 10.5, 1.3, ink}, "–", n.Says), gap(2)), piece{})
		}
	}
}

// share draws how much of a want is met, as a bar.
func (p *paper) share(x, y, wide, share float64) {
	p.mark(func() {
		c := &canvas{pdf: p.pdf}
		c.one(drawing.Rect{X: x, Y: y, Width: wide * min(1, max(0, share)), Height: 7, Style: drawing.Style{Fill: plantInk, FillOpacity: .7}})
		c.one(drawing.Rect{X: x, Y: y, Width: wide, Height: 7, Style: drawing.Style{Stroke: softInk, StrokeWidth: .6}})
	})
}
