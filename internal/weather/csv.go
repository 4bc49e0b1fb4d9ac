package weather

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
)

// splitHeader splits a header line by the separator it uses, names trimmed and in lower case.
func splitHeader(line string) []string {
	reader := csv.NewReader(strings.NewReader(line))
	reader.Comma, reader.LazyQuotes = separatorOf(line), true
	fields, err := reader.Read()
	if err != nil {
		return nil
	}
	for i := range fields {
		fields[i] = strings.ToLower(strings.TrimSpace(fields[i]))
	}
	return fields
}

// separatorOf is the separator of a header: comma, semicolon or tab, whichever comes most.
func separatorOf(line string) rune {
	best, most := ',', strings.Count(line, ",")
	for _, c := range []rune{';', '\t'} {
		if n := strings.Count(line, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}

// table reads delimited text line by line; skipped counts lines above the part handed in.
type table struct {
	s       *sheet
	reader  *csv.Reader
	skipped int
	header  []string // lower case
	line    int      // of the row last read
	decimal bool     // a comma is the decimal mark
}

// newTable reads the header. The text must begin with it, comments apart.
func newTable(s *sheet, text []byte, skipped int) (*table, error) {
	first, at := firstLine(text)
	t := &table{s: s, skipped: skipped, reader: csv.NewReader(bytes.NewReader(text))}
	t.reader.Comma = separatorOf(first)
	t.decimal = t.reader.Comma == ';'
	t.reader.Comment = '#'
	t.reader.FieldsPerRecord = -1
	t.reader.LazyQuotes = true
	t.reader.TrimLeadingSpace = t.reader.Comma != '\t'
	t.reader.ReuseRecord = true
	fields, err := t.reader.Read()
	if err != nil {
		return nil, s.fail(at+skipped, "the header line cannot be read: "+quoteShort(first), knownFormats)
	}
	for _, f := range fields {
		t.header = append(t.header, strings.ToLower(strings.TrimSpace(f)))
	}
	return t, nil
}

// next is the next row, or nil at the end. A row shorter than the header is a cut-off file.
func (t *table) next() ([]string, error) {
	for {
		fields, err := t.reader.Read()
		if errors.Is(err, io.EOF) {
			return nil, nil
		}
		if err != nil {
			var parse *csv.ParseError
			line := t.line + 1
			if errors.As(err, &parse) {
				line = parse.Line + t.skipped
			}
			return nil, t.s.fail(line, "the line cannot be split into columns", "look for a stray quotation mark there")
		}
		line, _ := t.reader.FieldPos(0)
		t.line = line + t.skipped
		if len(fields) == 1 && strings.TrimSpace(fields[0]) == "" {
			continue
		}
		if len(fields) < len(t.header) && !trailingOptional(t.header[len(fields):]) {
			return nil, t.s.fail(t.line, fmt.Sprintf("the line has %s where the header has %d", plural(len(fields), "column", "columns"), len(t.header)),
				"the file may be cut off: download it again")
		}
		if t.decimal {
			for i := range fields {
				fields[i] = strings.Replace(fields[i], ",", ".", 1)
			}
		}
		return fields, nil
	}
}

// trailingOptional says whether header names are empty, as a comma at the end of a header line leaves.
func trailingOptional(names []string) bool {
	for _, n := range names {
		if n != "" {
			return false
		}
	}
	return true
}

// column is the place of the first of some names, or −1.
func (t *table) column(names ...string) int {
	for _, name := range names {
		for i, h := range t.header {
			if h == name {
				return i
			}
		}
	}
	return -1
}

// field is a column of a row; −1 gives "".
func field(fields []string, column int) string {
	if column < 0 || column >= len(fields) {
		return ""
	}
	return fields[column]
}

// value reads a number from a column, with the line and the column's name where it is none.
func (t *table) value(fields []string, column int) (float64, error) {
	v, err := parseValue(field(fields, column))
	if err != nil {
		return v, t.s.fail(t.line, fmt.Sprintf("in column %s, %s", quoteShort(t.header[column]), err), "correct it, or leave the field empty if it was not measured")
	}
	return v, nil
}
