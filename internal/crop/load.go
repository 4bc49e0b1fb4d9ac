package crop

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"regexp"
	"sort"
	"strings"

	toml "github.com/pelletier/go-toml/v2"
)

// LargestFile is the most bytes a crop's file may have; the embedded ones are about 5 kB.
const LargestFile = 1 << 20

// FileError is one thing wrong with a crop's file: where it stands and what to do about it.
type FileError struct {
	File   string // empty for what stands in no file
	Line   int    // from 1; 0 when it belongs to no line
	Column int    // from 1; 0 when it belongs to the whole line
	Field  string
	Text   string
}

// Error is "carrot.toml:12:1: spacing.in_row: …".
func (e *FileError) Error() string {
	var b strings.Builder
	if e.File != "" {
		b.WriteString(e.Where() + ": ")
	}
	if e.Field != "" {
		b.WriteString(e.Field + ": ")
	}
	b.WriteString(e.Text)
	return b.String()
}

// Where is the file with the line and column, where they are known: "carrot.toml:12:1".
func (e *FileError) Where() string {
	where := e.File
	if e.Line > 0 {
		where += fmt.Sprintf(":%d", e.Line)
		if e.Column > 0 {
			where += fmt.Sprintf(":%d", e.Column)
		}
	}
	return where
}

var slug = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// Load reads one crop from its file, converts every value and checks it. The name gives the
// crop's ID: "carrot.toml", with or without folders before it. When the file is bad the error joins
// one *FileError for everything found wrong with it, in the order of the lines.
func Load(name string, r io.Reader) (*Crop, error) {
	var sheet crop
	reading, err := readSheet(name, r, &sheet)
	if err != nil {
		return nil, err
	}
	reading.all(&sheet)
	reading.check()
	if len(reading.faults) > 0 {
		return nil, reading.err()
	}
	return reading.crop, nil
}

// readSheet decodes a file of the catalogue into a sheet and refuses what is not one.
func readSheet(name string, r io.Reader, sheet any) (*reading, error) {
	file := path.Base(strings.ReplaceAll(name, `\`, "/"))
	id := strings.TrimSuffix(file, ".toml")
	if !slug.MatchString(id) {
		return nil, &FileError{File: file, Text: fmt.Sprintf(
			"the file's name is the crop's ID and %q cannot be one: use small letters, digits and single hyphens, like lettuce-loose-leaf.toml", id)}
	}
	text, err := io.ReadAll(io.LimitReader(r, LargestFile+1))
	if err != nil {
		return nil, fmt.Errorf("%s: could not be read: %w", file, err)
	}
	if len(text) > LargestFile {
		return nil, &FileError{File: file, Text: "is longer than 1 MiB, so it is not a crop's file; name the right file"}
	}
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(sheet); err != nil {
		return nil, decodeErrors(file, err)
	}
	return &reading{file: file, places: places(text), crop: &Crop{ID: id}}, nil
}

// decodeErrors puts the decoder's errors into sentences about a crop's file.
func decodeErrors(file string, err error) error {
	var missing *toml.StrictMissingError
	if errors.As(err, &missing) {
		joined := make([]error, 0, len(missing.Errors))
		for i := range missing.Errors {
			row, column := missing.Errors[i].Position()
			field := strings.Join(missing.Errors[i].Key(), ".")
			joined = append(joined, &FileError{file, row, column, field, unknownField(field)})
		}
		return errors.Join(joined...)
	}
	var bad *toml.DecodeError
	if errors.As(err, &bad) {
		row, column := bad.Position()
		field := strings.Join(bad.Key(), ".")
		text := strings.TrimPrefix(bad.Error(), "toml: ")
		if strings.Contains(text, "cannot decode") || strings.Contains(text, "cannot store") || strings.Contains(text, "incompatible types") {
			text = "is not in the form this field takes: a measured value is written { v = \"12–18 in\", src = \"KEY\", q = \"published\" }, words in quotes, true or false without"
		}
		return &FileError{file, row, column, field, text}
	}
	return &FileError{File: file, Text: err.Error()}
}

// unknownField says that a field is not known and which known one may have been meant.
func unknownField(field string) string {
	last := field[strings.LastIndex(field, ".")+1:]
	near := nearest(last, fieldNames(), 3)
	if len(near) == 0 {
		return "is not a field of a crop's file; take it out"
	}
	return fmt.Sprintf("is not a field of a crop's file; did you mean %s?", strings.Join(near, " or "))
}

// reading is one file on its way to a Crop: what was wrong, and the figures met so far.
type reading struct {
	file   string
	places map[string]place
	crop   *Crop
	faults []*FileError
}

// fault records that a field is wrong.
func (r *reading) fault(field, format string, args ...any) {
	at := r.placeOf(field)
	r.faults = append(r.faults, &FileError{r.file, at.line, at.column, field, fmt.Sprintf(format, args...)})
}

// placeOf is where a field stands, or the table it is missing from.
func (r *reading) placeOf(field string) place {
	for field != "" {
		if at, ok := r.places[field]; ok {
			return at
		}
		dot := strings.LastIndex(field, ".")
		if dot < 0 {
			break
		}
		field = field[:dot]
	}
	return place{}
}

func (r *reading) err() error {
	sort.SliceStable(r.faults, func(i, j int) bool { return r.faults[i].Line < r.faults[j].Line })
	joined := make([]error, len(r.faults))
	for i, fault := range r.faults {
		joined[i] = fault
	}
	return errors.Join(joined...)
}
