package sheet

import (
	"fmt"
	"io"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/work"
)

// Week is a week's work, to be pinned up in the shed.
type Week struct {
	Head
	Beds   []garden.Bed
	Work   work.Week
	Orders []work.Order    // of the season; those due in the week and the four after it are written
	Water  []work.BedWater // of the week, bed by bed; none: nothing is told
}

// ordersAhead is how many days past the week orders are told: time to send for seed.
const ordersAhead = 28

// WriteWeekPDF writes a week's jobs as a PDF file: what begins in the week with all its steps, then
// what was begun before, what is ready to pick, and what to buy in the weeks after. A job stands
// whole on a page unless it is longer than one.
func WriteWeekPDF(w io.Writer, week Week) error { return layWeek(week).write(w, "week's sheet") }

// layWeek lays the pages out.
func layWeek(week Week) *paper {
	span := spanYear(week.Work.Span)
	p := newPaper(week.Head, readable(week.Site.Name)+": "+span, week.Site.Name+" · "+span)
	p.weekHead(week)
	p.again = span + ", continued"
	names := bedNames(week.Beds)
	for i, j := range week.Work.Begin {
		b := p.job(j, names[j.BedID])
		if line := p.parting(); i > 0 && line.high+b.high() <= p.left() {
			b = append(block{line}, b...)
		}
		p.place(b, p.onward(j.Title))
	}
	if len(week.Work.Begin)+len(week.Work.Going) == 0 {
		p.place(p.paragraph(marginLeft, 0, style{upright, 13, 0, ink}, "", "Nothing to do this week."), piece{})
	}
	var begun, picking []work.Job
	for _, j := range week.Work.Going {
		if j.Kind == work.Harvest {
			picking = append(picking, j)
		} else {
			begun = append(begun, j)
		}
	}
	p.going("Begun before, if not yet done", begun, names)
	p.going("To pick", picking, names)
	p.waters(week.Water)
	p.orders(week)
	return p
}

// waters writes the week's water, a bed after the other.
func (p *paper) waters(list []work.BedWater) {
	if len(list) == 0 {
		return
	}
	head := append(p.heading("Water this week"), p.paragraph(marginLeft, 0, style{upright, 9, 1.25, softInk}, "", "The usual rain is counted in: after a wet week give none, and feel the soil a finger deep. A dry year is what nine of ten stay under.")...)
	head = append(head, gap(5))
	for i := range head {
		head[i].keep = true
	}
	for i, w := range list {
		row := p.ticked(marginLeft, 10, p.paragraph(textLeft, 0, style{upright, 12, 1.3, ink}, "", w.Says()+"."))
		row = append(row, gap(3))
		if i == 0 {
			row = append(head, row...)
		}
		p.place(row, piece{})
	}
}

// spanYear is "10 May – 16 May 2027".
func spanYear(s civil.Span) string { return fmt.Sprintf("%s %d", s, s.To.Year()) }

func (p *paper) weekHead(week Week) {
	b := p.paragraph(marginLeft, 0, style{upright, 12, 0, softInk}, "", week.Site.Name)
	b = append(b, p.paragraph(marginLeft, 0, style{bold, 25, 1.2, ink}, "", "The week of "+week.Work.Span.From.Long())...)
	says := fmt.Sprintf("Jobs that begin this week: %d; begun before: %d", len(week.Work.Begin), len(week.Work.Going))
	if t := work.TimeWords(week.Work.Hours); t != "" {
		says += "; about " + t + " of work"
	}
	b = append(b, p.paragraph(marginLeft, 0, style{upright, 12, 0, softInk}, "", says+".")...)
	b = append(b, p.notice()...)
	b = append(b, piece{high: 18, draw: func(y float64) { p.rule(marginLeft, y+7, p.right(), ink, 1.4) }})
	p.place(b, piece{})
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// parting is a thin line between two jobs.
func (p *paper) parting() piece {
	return piece{high: 17, draw: func(y float64) { p.rule(marginLeft, y+8, p.right(), ruleInk, .6) }}
}

// onward heads the rest of a job too long for a page.
func (p *paper) onward(title string) piece {
	const size = 11
	const more = " (continued)"
	says := p.fit(italic, size, p.room(marginLeft)-p.measure(italic, size, more), title) + more
	return piece{high: 18, draw: func(y float64) { p.line(marginLeft, y+11, italic, size, ink, says) }}
}

// reasonsTold is how many reasons of a job are printed; the first say most.
const reasonsTold = 3

// textLeft is where a job's writing begins, right of its tick box.
const textLeft = marginLeft + 25

// job is one job as a block: title, days, weather, steps, cautions, and small what it rests on.
func (p *paper) job(j work.Job, bed string) block {
	title := p.paragraph(textLeft, 0, style{bold, 14.5, 1.22, ink}, "", j.Title)
	b := p.ticked(marginLeft, 14, title)
	when := j.When()
	if bed != "" && !strings.Contains(j.Title, bed) {
		when += " · " + bed
	}
	if t := j.Takes(); t != "" {
		when += " · about " + t
	}
	b = append(b, p.paragraph(textLeft, 0, style{upright, 12, 1.35, ink}, "", when)...)
	if j.Weather != "" {
		b = append(b, p.paragraph(textLeft, 0, style{italic, 12, 1.3, ink}, "", "Weather: "+j.Weather)...)
	}
	for i := range b {
		b[i].keep = true // the head stays with the first step
	}
	if len(j.How) > 0 {
		b = append(b, gap(3))
	}
	for i, step := range j.How {
		b = append(b, p.paragraph(textLeft, 0, style{upright, 12, 1.3, ink}, fmt.Sprintf("%d.", i+1), step)...)
		b = append(b, gap(1.5))
	}
	if len(j.Cautions) > 0 {
		care := p.paragraph(textLeft+10, 8, style{bold, 11, 0, careInk}, "", "Take care")
		for _, c := range j.Cautions {
			care = append(care, p.paragraph(textLeft+10, 8, style{upright, 11, 0, ink}, "", c)...)
		}
		care[0].keep = true
		b = append(b, gap(3))
		b = append(b, p.boxed(textLeft, careTint, careInk, care)...)
	}
	if small := sentences(j.Conditions, j.Why[:min(len(j.Why), reasonsTold)]); small != "" {
		b = append(b, gap(3))
		b = append(b, p.paragraph(textLeft, 0, style{upright, 9, 1.25, softInk}, "", small)...)
	}
	return b
}

// sentences are reasons run together, each ending like a sentence.
func sentences(lists ...[]garden.Reason) string {
	var parts []string
	for _, list := range lists {
		for _, r := range list {
			says := strings.TrimSpace(r.Says)
			if says == "" {
				continue
			}
			if !strings.HasSuffix(says, ".") {
				says += "."
			}
			parts = append(parts, says)
		}
	}
	return strings.Join(parts, " ")
}

// going lists jobs of a line or two each.
func (p *paper) going(head string, jobs []work.Job, names map[int64]string) {
	for i, j := range jobs {
		says := j.Title
		if bed := names[j.BedID]; bed != "" && !strings.Contains(says, bed) {
			says += ", " + bed
		}
		row := p.ticked(marginLeft, 10, p.paragraph(textLeft, 0, style{upright, 12, 1.3, ink}, "", fmt.Sprintf("%s (to %s)", says, j.Window.To.Short())))
		row = append(row, gap(3))
		if i == 0 {
			row = append(p.heading(head), row...)
		}
		p.place(row, piece{})
	}
}

// orders are the lines of the shopping list due in the week and soon after.
func (p *paper) orders(week Week) {
	span := civil.Span{From: week.Work.Span.From, To: week.Work.Span.To + ordersAhead}
	head := "To have in the house by " + span.To.Short()
	first := true
	for _, o := range week.Orders {
		if !span.Has(o.By) {
			continue
		}
		row := p.order(o)
		if first {
			row, first = append(p.heading(head), row...), false
		}
		p.place(row, piece{})
	}
	if first {
		b := append(p.heading(head), p.paragraph(marginLeft, 0, style{upright, 12, 0, ink}, "", "Nothing to buy.")...)
		p.place(b, piece{})
	}
}

// order is one line: a tick box, the day, what and how much.
func (p *paper) order(o work.Order) block {
	const whatLeft = textLeft + 52
	b := p.ticked(marginLeft, 10, p.paragraph(whatLeft, 0, style{upright, 12, 1.3, ink}, "", o.What+" – "+o.Amount(p.head.Site.Units)))
	if len(b) > 0 {
		inner := b[0].draw
		b[0].draw = func(y float64) {
			p.line(textLeft, y+12*1.3*.5+12*.34, bold, 12, ink, readable(o.By.Short()))
			inner(y)
		}
	}
	return append(b, gap(3))
}
