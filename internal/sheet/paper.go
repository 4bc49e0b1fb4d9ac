package sheet

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"

	"codeberg.org/go-pdf/fpdf"
)

// Head is what every sheet says of itself.
type Head struct {
	Site      garden.Site // its units choose the paper: A4, or US Letter
	Weather   string      // a sentence: what weather the figures rest on
	Generated bool        // the weather was made from monthly figures: every page says so
	Written   civil.Date  // printed at the foot; the only date the file carries, so that the same sheet gives the same bytes
}

// Inks of the paper. They are read in grey as well: a shed's printer may have no colour.
const (
	ink      = "#000000"
	softInk  = "#4a4a46"
	ruleInk  = "#b9b6ab"
	careInk  = "#9a2a12"
	careTint = "#f6ece6"
	rowTint  = "#f4f3ee"
)

// The margins, in points: the left one is wide enough to punch.
const (
	marginLeft  = 54.0
	marginRight = 40.0
	marginTop   = 40.0
	marginFoot  = 62.0
)

// paper lays writing on pages, in points from their top left corner. Nothing is drawn until write:
// a foot can then say how many pages there are.
type paper struct {
	pdf        *fpdf.Fpdf
	head       Head
	foot       string // what the sheet is, at the left of every foot
	again      string // heads a page that goes on with what the one before began; empty for none
	wide, high float64
	leaves     []*leaf
	y          float64 // where the next thing goes on the last leaf
}

// leaf is a page: what is to be drawn on it, and where its writing stands.
type leaf struct {
	marks []func()
	boxes []box
}

// box is the room a line of writing takes.
type box struct {
	x0, y0, x1, y1 float64
	says           string
	picture        bool // inside a picture, where writing may stand on writing's halo
}

func newPaper(head Head, title, foot string) *paper {
	size := "A4"
	if head.Site.Units == quantity.US {
		size = "Letter"
	}
	pdf := fpdf.New("P", "pt", size, "")
	pdf.SetCatalogSort(true)
	pdf.SetCompression(true)
	pdf.SetCreationDate(head.Written.Time())
	pdf.SetModificationDate(head.Written.Time())
	pdf.SetProducer("kailyard", false)
	pdf.SetCreator("kailyard", false)
	pdf.SetTitle(title, true)
	pdf.SetLang("en-GB")
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetLineJoinStyle("round")
	for _, f := range []face{upright, bold, italic} {
		pdf.AddUTF8FontFromBytes("sheet", string(f), faces[f])
	}
	p := &paper{pdf: pdf, head: head, foot: foot}
	p.wide, p.high = pdf.GetPageSize()
	p.turn()
	return p
}

// turn begins a new page.
func (p *paper) turn() {
	p.leaves = append(p.leaves, &leaf{})
	p.y = marginTop
	if p.again != "" && len(p.leaves) > 1 {
		p.line(marginLeft, p.y+9, italic, 9.5, softInk, p.fit(italic, 9.5, p.room(marginLeft), p.again))
		p.y += 20
	}
}

func (p *paper) leaf() *leaf            { return p.leaves[len(p.leaves)-1] }
func (p *paper) right() float64         { return p.wide - marginRight }
func (p *paper) bottom() float64        { return p.high - marginFoot }
func (p *paper) left() float64          { return p.bottom() - p.y }
func (p *paper) room(x float64) float64 { return p.right() - x }

func (p *paper) mark(draw func()) { p.leaf().marks = append(p.leaf().marks, draw) }

// measure is the width of a line.
func (p *paper) measure(f face, size float64, text string) float64 {
	p.pdf.SetFont("sheet", string(f), size)
	return p.pdf.GetStringWidth(text)
}

// How far letters reach above and below their base line, as a share of their size: the ascender and
// descender of the faces.
const (
	above = 0.91
	below = 0.22
)

// line writes one line from x on; text is readable already.
func (p *paper) line(x, base float64, f face, size float64, colour, text string) {
	if text == "" {
		return
	}
	p.leaf().boxes = append(p.leaf().boxes, box{x0: x, y0: base - above*size, x1: x + p.measure(f, size, text), y1: base + below*size, says: text})
	p.mark(func() {
		r, g, b := channels(colour)
		p.pdf.SetFont("sheet", string(f), size)
		p.pdf.SetFontSize(size) // written even if unchanged: a Restore may have undone it
		penOf(p.pdf, r, g, b)
		p.pdf.Text(x, base, text)
	})
}

// lineTo writes one line that ends at x.
func (p *paper) lineTo(x, base float64, f face, size float64, colour, text string) {
	p.line(x-p.measure(f, size, text), base, f, size, colour, text)
}

// rect fills a rectangle, or outlines it when only a pen is given.
func (p *paper) rect(x, y, wide, high float64, fill, pen string, thick float64) {
	p.mark(func() {
		c := &canvas{pdf: p.pdf}
		scene := drawing.Rect{X: x, Y: y, Width: wide, Height: high, Style: drawing.Style{Fill: fill, Stroke: pen, StrokeWidth: thick}}
		c.one(scene)
	})
}

func (p *paper) rule(x0, y, x1 float64, colour string, thick float64) {
	p.mark(func() {
		c := &canvas{pdf: p.pdf}
		c.one(drawing.Line{X1: x0, Y1: y, X2: x1, Y2: y, Style: drawing.Style{Stroke: colour, StrokeWidth: thick}})
	})
}

// picture draws a scene, whose units are points, with its corner at x and y.
func (p *paper) picture(x, y float64, s *drawing.Scene) error {
	at := canvas{pdf: p.pdf, x: x - s.MinX, y: y - s.MinY}
	noting := at
	noting.leaf, noting.measure = p.leaf(), p.measure
	if err := s.DrawOn(&noting); err != nil {
		return err
	}
	p.mark(func() {
		if err := s.DrawOn(&at); err != nil {
			p.pdf.SetError(err)
		}
	})
	return nil
}

// wrap breaks a text into lines no wider than the room. Words too long for a line are cut; line
// breaks of the person stay.
func (p *paper) wrap(f face, size, room float64, text string) []string {
	p.pdf.SetFont("sheet", string(f), size)
	var lines []string
	for paragraph := range strings.SplitSeq(readable(text), "\n") {
		line := ""
		for _, word := range strings.FieldsFunc(paragraph, func(r rune) bool { return r == ' ' }) {
			switch {
			case line == "":
				line = word
			case p.pdf.GetStringWidth(line+" "+word) <= room:
				line += " " + word
				continue
			default:
				lines = append(lines, line)
				line = word
			}
			for p.pdf.GetStringWidth(line) > room {
				head := p.fits(room, line)
				lines = append(lines, line[:head])
				line = line[head:]
			}
		}
		if line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// fits is how many bytes of a word have room; at least one letter.
func (p *paper) fits(room float64, word string) int {
	last := 0
	for at, r := range word {
		end := at + len(string(r))
		if last > 0 && p.pdf.GetStringWidth(word[:end]) > room {
			return last
		}
		last = end
	}
	return last
}

// fit is the text on one line: cut with an ellipsis when it is too long.
func (p *paper) fit(f face, size, room float64, text string) string {
	text = oneLine(text)
	if p.measure(f, size, text) <= room {
		return text
	}
	cut := text
	for cut != "" && p.measure(f, size, cut+"…") > room {
		_, last := utf8.DecodeLastRuneInString(cut)
		cut = strings.TrimRight(cut[:len(cut)-last], " ")
	}
	if cut == "" {
		return ""
	}
	return cut + "…"
}

// write draws the pages with their feet.
func (p *paper) write(w io.Writer, what string) error {
	for i := range p.leaves {
		p.footer(i)
	}
	for _, l := range p.leaves {
		p.pdf.AddPage()
		for _, draw := range l.marks {
			draw()
		}
	}
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("the %s could not be written: %w", what, err)
	}
	return nil
}

// footer says on every page what the sheet is, what it rests on, and which page of how many it is.
func (p *paper) footer(i int) {
	last := p.leaves
	p.leaves = p.leaves[:i+1] // so that marks go to that page
	defer func() { p.leaves = last }()
	const size = 8.5
	y := p.bottom() + 10
	p.rule(marginLeft, y, p.right(), ruleInk, .6)
	number := fmt.Sprintf("page %d of %d", i+1, len(last))
	p.lineTo(p.right(), y+12, upright, size, softInk, number)
	room := p.room(marginLeft) - p.measure(upright, size, number) - 12
	p.line(marginLeft, y+12, upright, size, softInk, p.fit(upright, size, room, p.foot+" · written "+p.head.Written.Long()))
	if notice := p.warning(); notice != "" {
		p.line(marginLeft, y+23, italic, size, softInk, p.fit(italic, size, p.room(marginLeft), notice))
	}
}

// warning is what a reader must know before trusting a figure, short enough for every foot.
func (p *paper) warning() string {
	says := ""
	if p.head.Site.Invented {
		says = "An invented garden, for show. "
	}
	if p.head.Generated {
		says += "Generated weather, not measured."
	}
	return strings.TrimSpace(says)
}

// notice is the same at length, for the first page.
func (p *paper) notice() block {
	says := p.head.Weather
	if p.head.Site.Invented {
		says = "An invented garden, for show. " + says
	}
	return p.paragraph(marginLeft, 0, style{italic, 9.5, 0, softInk}, "", says)
}

// penOf sets the colour of writing. Fill and text colour are kept the same, as then the PDF writer
// writes with whatever fill the page has: here, this one.
func penOf(pdf *fpdf.Fpdf, r, g, b int) {
	pdf.SetTextColor(r, g, b)
	pdf.SetFillColor(r, g, b)
}
