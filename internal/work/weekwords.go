package work

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"kailyard/internal/garden"
)

// WeekWords writes one week for a terminal or a letter: what begins in it in full, with the week's
// cautions once; then, a line each, what was begun before and still serves, and what is being picked.
func WeekWords(w Week, beds map[int64]garden.Bed) string {
	var b strings.Builder
	head := fmt.Sprintf("Week of %s", w.Span.From.Long())
	if w.Hours > 0 {
		head += ", about " + hoursWords(w.Hours) + " of work"
	}
	fmt.Fprintf(&b, "%s\n%s\n", head, strings.Repeat("─", utf8.RuneCountInString(head)))
	if len(w.Begin)+len(w.Going) == 0 {
		b.WriteString("\n  Nothing to do.\n")
		return b.String()
	}
	var cautions []string
	for _, j := range w.Begin {
		b.WriteString("\n")
		writeJob(&b, j, beds)
		for _, c := range j.Cautions {
			cautions = unless(cautions, c, c)
		}
	}
	writeCautions(&b, cautions)
	var todo, picking []Job
	for _, j := range w.Going {
		if j.Kind == Harvest {
			picking = append(picking, j)
		} else {
			todo = append(todo, j)
		}
	}
	writeGoing(&b, "Begun before, if not yet done:", todo)
	writeGoing(&b, "To pick:", picking)
	return b.String()
}

func writeGoing(b *strings.Builder, head string, jobs []Job) {
	if len(jobs) == 0 {
		return
	}
	b.WriteString("\n  " + head + "\n")
	for _, j := range jobs {
		when := "to " + j.Window.To.Short()
		if j.Given != 0 {
			when = "given on " + j.Given.Short()
		}
		wrap(b, fmt.Sprintf("%s (%s)", j.Title, when), "    - ", "      ")
	}
}

func writeCautions(b *strings.Builder, cautions []string) {
	if len(cautions) == 0 {
		return
	}
	b.WriteString("\n  Take care:\n")
	for _, c := range cautions {
		wrap(b, c, "    ! ", "      ")
	}
}
