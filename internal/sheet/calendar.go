package sheet

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/work"
)

// Meta is what a calendar says of itself.
type Meta struct {
	Name  string    // shown by calendar programs: "Jobs, Hill Garden, 2027"
	Stamp time.Time // when it was written (DTSTAMP); handed in, so that the same jobs give the same file
	// Space keeps the entries of one garden apart from another's in the same calendar: a slug of
	// letters, digits and hyphens. It goes into every UID and must stay the same for a garden.
	Space string
}

// maxOctets is the longest line before it is folded, its break not counted.
//
// Source: RFC5545 §3.1.
const maxOctets = 75

// WriteCalendar writes jobs as an iCalendar file: one all-day entry for each, from its best day to
// the last it still serves. A job keeps its UID as long as it keeps its key, so that a calendar
// program that reads a newer file moves the entry and does not double it.
//
// Source: RFC5545 §3.1 (lines), §3.3.11 (text), §3.6.1 (all-day events), §3.8.4.7 (UID).
func WriteCalendar(w io.Writer, jobs []work.Job, meta Meta) error {
	c := &calendar{w: bufio.NewWriter(w)}
	c.line("BEGIN:VCALENDAR")
	c.line("VERSION:2.0")
	c.line("PRODID:-//kailyard//jobs//EN")
	c.line("CALSCALE:GREGORIAN")
	c.line("METHOD:PUBLISH")
	if meta.Name != "" {
		c.text("X-WR-CALNAME", meta.Name)
	}
	for _, j := range jobs {
		c.event(j, meta)
	}
	c.line("END:VCALENDAR")
	if err := c.w.Flush(); c.err == nil && err != nil {
		c.err = err
	}
	if c.err != nil {
		return fmt.Errorf("the calendar could not be written: %w", c.err)
	}
	return nil
}

type calendar struct {
	w   *bufio.Writer
	err error
}

func (c *calendar) event(j work.Job, meta Meta) {
	c.line("BEGIN:VEVENT")
	c.text("UID", uid(j.Key, meta.Space))
	c.line("DTSTAMP:" + meta.Stamp.UTC().Format("20060102T150405Z"))
	c.line("DTSTART;VALUE=DATE:" + compact(j.Window.From))
	c.line("DTEND;VALUE=DATE:" + compact(max(j.Window.To, j.Window.From).Add(1))) // the day after the last: the end is not part of it
	c.text("SUMMARY", j.Title)
	if d := description(j); d != "" {
		c.text("DESCRIPTION", d)
	}
	c.text("CATEGORIES", string(j.Kind))
	c.line("TRANSP:TRANSPARENT") // a job does not make its day busy
	c.line("END:VEVENT")
}

// uid is a globally unique, lasting name: the key, what it belongs to, and this program's name.
func uid(key, space string) string {
	if space != "" {
		space += "."
	}
	return strings.ReplaceAll(key, " ", "-") + "@" + space + "kailyard"
}

// description is the job's steps, weather, time, cautions and reasons as plain text.
func description(j work.Job) string {
	var b strings.Builder
	for i, step := range j.How {
		fmt.Fprintf(&b, "%d. %s\n", i+1, step)
	}
	if j.Weather != "" {
		fmt.Fprintf(&b, "Weather: %s\n", j.Weather)
	}
	if j.Hours > 0 {
		fmt.Fprintf(&b, "Time: about %.2g h\n", float64(j.Hours))
	}
	for _, c := range j.Cautions {
		fmt.Fprintf(&b, "Take care: %s\n", c)
	}
	for _, r := range j.Why {
		fmt.Fprintf(&b, "Why: %s\n", r.Says)
	}
	for _, r := range j.Conditions {
		fmt.Fprintf(&b, "%s\n", r.Says)
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// text writes a property whose value is text.
func (c *calendar) text(name, value string) { c.line(name + ":" + escape(value)) }

// line writes one content line, folded.
func (c *calendar) line(text string) {
	if c.err == nil {
		_, c.err = c.w.WriteString(fold(text))
	}
}

// compact is a DATE value: 20270403.
func compact(d civil.Date) string { return d.Time().Format("20060102") }

// escape writes text as a TEXT value: backslash, semicolon and comma behind a backslash, a line
// break as \n; other control characters, which the standard has no place for, are dropped.
//
// Source: RFC5545 §3.3.11.
func escape(text string) string {
	var b strings.Builder
	text = strings.ReplaceAll(text, "\r\n", "\n")
	for _, r := range text {
		switch {
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r < ' ' && r != '\t' || r == 0x7f:
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// fold breaks a content line so that none is longer than maxOctets, never inside a character, and
// ends it with CRLF. The space that begins a folded line counts in its length.
//
// Source: RFC5545 §3.1.
func fold(text string) string {
	var b strings.Builder
	room := maxOctets
	for text != "" {
		_, size := utf8.DecodeRuneInString(text)
		if size > room {
			b.WriteString("\r\n ")
			room = maxOctets - 1
		}
		b.WriteString(text[:size])
		room -= size
		text = text[size:]
	}
	b.WriteString("\r\n")
	return b.String()
}
