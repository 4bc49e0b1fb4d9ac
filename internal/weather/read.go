package weather

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// The most that is read of one file, packed or unpacked. A daily record of 150 years with every
// column a service can give is about 25 MB.
const maxBytes = 64 << 20

// FileError is a weather file that cannot be read: where, what is wrong, and what to do.
type FileError struct {
	Name   string
	Line   int // 0 where no one line is at fault
	Says   string
	Remedy string

	Nothing bool // readable, but without one day's temperatures: what a service says of a year it has nothing for
}

// Error is one sentence with the place and the remedy.
func (e *FileError) Error() string {
	var b strings.Builder
	b.WriteString(e.Name)
	if e.Line > 0 {
		fmt.Fprintf(&b, ", line %d", e.Line)
	}
	b.WriteString(": ")
	b.WriteString(e.Says)
	if e.Remedy != "" {
		b.WriteString("; ")
		b.WriteString(e.Remedy)
	}
	return b.String()
}

const knownFormats = "give a GHCN-Daily .dly file, an NCEI daily-summaries CSV, a NASA POWER daily CSV or JSON, " +
	"an Open-Meteo archive JSON, or a plain CSV that begins with the line date,tmin_c,tmax_c,rain_mm"

// Read recognises the format by its content and reads a record. name is used in messages only.
// A gzip-compressed file is unpacked first. Values that failed the source's own quality control, and
// values that fail the checks in check.go, are left out and told in the record's notes.
func Read(name string, r io.Reader) (*Record, error) {
	if name == "" {
		name = "weather file"
	}
	text, err := slurp(name, r)
	if err != nil {
		return nil, err
	}
	s, err := readAny(name, text)
	if err != nil {
		return nil, err
	}
	return s.record()
}

// slurp reads, unpacks and cleans the text, or says why it is none.
func slurp(name string, r io.Reader) ([]byte, error) {
	text, err := readLimited(name, r)
	if err != nil {
		return nil, err
	}
	if bytes.HasPrefix(text, []byte{0x1f, 0x8b}) {
		z, err := gzip.NewReader(bytes.NewReader(text))
		if err == nil {
			text, err = readLimited(name, z)
		}
		if err != nil {
			return nil, &FileError{Name: name, Says: "the compressed file is damaged or cut off (" + err.Error() + ")", Remedy: "download it again"}
		}
	}
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	if len(bytes.TrimSpace(text)) == 0 {
		return nil, &FileError{Name: name, Says: "the file is empty", Remedy: knownFormats, Nothing: true}
	}
	return text, refuse(name, text)
}

func readLimited(name string, r io.Reader) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return nil, fmt.Errorf("%s: reading stopped after %d bytes: %w", name, len(text), err)
	}
	if len(text) > maxBytes {
		return nil, &FileError{Name: name, Says: "the file is larger than 64 MB, more than any daily record of one place", Remedy: "ask the service for one station and only temperature and rain"}
	}
	return text, nil
}

// refuse names the kinds of file that people hand in by mistake.
func refuse(name string, text []byte) error {
	head := text[:min(len(text), 4096)]
	trimmed := bytes.TrimSpace(head)
	switch {
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return &FileError{Name: name, Says: "this is a zip archive or a spreadsheet", Remedy: "unpack it, or save the sheet as CSV"}
	case bytes.HasPrefix(head, []byte{0xff, 0xfe}), bytes.HasPrefix(head, []byte{0xfe, 0xff}):
		return &FileError{Name: name, Says: "this is text in UTF-16", Remedy: "save it as CSV in UTF-8"}
	case bytes.HasPrefix(trimmed, []byte("<")):
		return &FileError{Name: name, Line: 1, Says: "this is a web page, not a weather record", Remedy: "the service probably answered with an error page: open the address in a browser, then download again"}
	}
	for i, c := range text {
		if c < 0x20 && c != '\n' && c != '\r' && c != '\t' && c != '\f' && c != 0x1a {
			return &FileError{Name: name, Line: lineOf(text, i), Says: "this is not text (it has bytes that no text file has)", Remedy: knownFormats}
		}
	}
	if !utf8.Valid(trimmed) && bytes.Count(trimmed, []byte("\n")) == 0 && len(trimmed) > 1024 {
		return &FileError{Name: name, Line: 1, Says: "this is not text", Remedy: knownFormats}
	}
	return nil
}

// lineOf is the one-based line that holds the byte at an offset.
func lineOf(text []byte, offset int) int {
	offset = max(0, min(offset, len(text)))
	return 1 + bytes.Count(text[:offset], []byte("\n"))
}

// readAny tells the formats apart by their first meaningful line.
func readAny(name string, text []byte) (*sheet, error) {
	first, line := firstLine(text)
	switch {
	case strings.HasPrefix(first, "{"), strings.HasPrefix(first, "["):
		return readJSON(name, text)
	case strings.HasPrefix(strings.ToUpper(first), "-BEGIN HEADER-"), isPowerColumns(first):
		return readPowerCSV(name, text)
	case isDLY(first):
		return readDLY(name, text)
	}
	columns := splitHeader(first)
	switch {
	case len(columns) < 2:
		return nil, &FileError{Name: name, Line: line, Says: "the format is not one that is known: the line reads " + quoteShort(first), Remedy: knownFormats}
	case isNCEI(columns):
		return readNCEI(name, text)
	case isOpenMeteoCSV(columns):
		return readOpenMeteoCSV(name, text)
	}
	return readPlain(name, text)
}

// firstLine is the first line that is neither blank nor a # comment.
func firstLine(text []byte) (string, int) {
	number := 0
	for rest := text; len(rest) > 0; {
		number++
		var line []byte
		line, rest, _ = bytes.Cut(rest, []byte("\n"))
		trimmed := strings.TrimSpace(string(line))
		if trimmed != "" && !strings.HasPrefix(trimmed, "#") {
			return trimmed, number
		}
	}
	return "", max(number, 1)
}

// quoteShort quotes a line for a message, cut to a readable length.
func quoteShort(text string) string {
	if runes := []rune(text); len(runes) > 60 {
		text = string(runes[:60]) + "…"
	}
	return fmt.Sprintf("%q", text)
}
