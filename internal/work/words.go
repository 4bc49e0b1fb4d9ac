package work

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// lineWidth is the columns of a plain terminal.
const lineWidth = 80

// Words writes jobs for a terminal or a letter: by week of their best day, each with its days,
// steps, weather and time, and the week's cautions once, at its end. The jobs are taken in the order
// given; those of a bed that is gone from beds are shown without it.
func Words(jobs []Job, beds map[int64]garden.Bed) string {
	if len(jobs) == 0 {
		return "No jobs.\n"
	}
	var b strings.Builder
	monday := civil.Date(-1 << 30)
	var cautions []string
	flush := func() {
		writeCautions(&b, cautions)
		cautions = nil
	}
	for _, j := range jobs {
		if m := j.Window.From.Monday(); m != monday {
			flush()
			if b.Len() > 0 {
				b.WriteString("\n")
			}
			monday = m
			head := fmt.Sprintf("Week of %s", m.Long())
			fmt.Fprintf(&b, "%s\n%s\n", head, strings.Repeat("─", utf8.RuneCountInString(head)))
		}
		b.WriteString("\n")
		writeJob(&b, j, beds)
		for _, c := range j.Cautions {
			if !slices.Contains(cautions, c) {
				cautions = append(cautions, c)
			}
		}
	}
	flush()
	return b.String()
}

// writeJob writes one job: title, days, weather, steps, the dates' spread.
func writeJob(b *strings.Builder, j Job, beds map[int64]garden.Bed) {
	wrap(b, j.Title, "  ", "    ")
	when := windowWords(j)
	if bed, ok := beds[j.BedID]; ok && bed.Name != "" && !strings.Contains(j.Title, bed.Name) {
		when += " · " + bed.Name
	}
	if j.Given != 0 {
		when += " · given on " + j.Given.Short()
	} else if j.Hours > 0 {
		when += " · about " + hoursWords(j.Hours)
	}
	wrap(b, when, "    ", "    ")
	if j.Weather != "" {
		wrap(b, "Weather: "+j.Weather, "    ", "    ")
	}
	for _, step := range j.How {
		wrap(b, step, "    - ", "      ")
	}
	for _, c := range j.Conditions {
		wrap(b, c.Says, "    ~ ", "      ")
	}
}

// windowWords is "Sat 3 Apr, at latest 10 Apr"; "to" for what goes on all through; or one day.
func windowWords(j Job) string {
	from := j.Window.From.Time().Format("Mon 2 Jan")
	if j.Window.Days() <= 1 {
		return from
	}
	if j.Kind == Harvest || j.Kind == HardenOff || j.Kind == Protect {
		return from + " to " + j.Window.To.Short()
	}
	return from + ", at latest " + j.Window.To.Short()
}

// hoursWords is time to a quarter of an hour: "15 min", "1¼ h".
func hoursWords(h quantity.Hour) string {
	quarters := int(float64(h)*4 + 0.5)
	whole, part := quarters/4, quarters%4
	if whole == 0 {
		return fmt.Sprintf("%d min", max(1, part)*15)
	}
	return fmt.Sprintf("%d%s h", whole, []string{"", "¼", "½", "¾"}[part])
}

// OrderWords writes the shopping list for a terminal: what, how much, by when, and what for.
func OrderWords(orders []Order, units quantity.System) string {
	if len(orders) == 0 {
		return "Nothing to buy.\n"
	}
	m := measures{units}
	wide := 0
	for _, o := range orders {
		wide = max(wide, utf8.RuneCountInString(o.What))
	}
	wide = min(wide, 40)
	var b strings.Builder
	month := ""
	for _, o := range orders {
		if in := o.By.Time().Format("January 2006"); in != month {
			if month != "" {
				b.WriteString("\n")
			}
			month = in
			fmt.Fprintf(&b, "In the house in %s\n\n", in)
		}
		head := fmt.Sprintf("  %6s  %s", o.By.Short(), o.What)
		column := 12 + wide
		if n := utf8.RuneCountInString(head); n+2 > column {
			b.WriteString(head + "\n") // a long name has a line to itself
			head = ""
		}
		head += strings.Repeat(" ", column-utf8.RuneCountInString(head))
		wrap(&b, amountWords(o, m), head, strings.Repeat(" ", column))
	}
	return b.String()
}

// wrap writes a paragraph to the line width, the first line after one prefix and the rest after another.
func wrap(b *strings.Builder, text, first, rest string) {
	line := first
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > lineWidth {
			b.WriteString(line + "\n")
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	b.WriteString(line + "\n")
}
