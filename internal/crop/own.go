package crop

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// OwnCrops are a person's own crops: whole ones in the form of a crop's file, and varieties of others.
type OwnCrops struct {
	Files     []File
	Varieties []Variety
}

// File is the text of a crop's file under the crop's ID. It may stand in the place of one of the
// catalogue's own.
type File struct {
	ID, Text string
	Retired  bool // no longer grown; kept because the past names it
}

// Aside is an own crop that cannot be used as it stands.
type Aside struct {
	ID, Name string
	Variety  bool // or else a File
	Index    int  // which of the Varieties or Files
	Err      error
}

// Error says why, on one line, by the first of what is wrong.
func (a Aside) Error() string {
	what := fmt.Sprintf("your own crop %q", a.Name)
	if a.Variety {
		what = fmt.Sprintf("your own variety %q", a.Name)
	}
	what += " is set aside: "
	faults := Faults(a.Err)
	if len(faults) < 2 {
		return what + strings.ReplaceAll(a.Err.Error(), "\n", " ")
	}
	return fmt.Sprintf("%s%s; and %d more", what, faults[0].Error(), len(faults)-1)
}

// With is the catalogue with a person's own crops. What cannot be read is set aside, and the rest stands:
// a stored crop that no longer passes must not keep a person from their garden.
func (c *Catalogue) With(own OwnCrops) (*Catalogue, []Aside) {
	if len(own.Files) == 0 && len(own.Varieties) == 0 {
		return c, nil
	}
	var aside []Aside
	all := c.whole()
	seen := map[string]bool{}
	once := func(id string) error {
		if seen[id] {
			return &FileError{Field: "id", Text: fmt.Sprintf("%q is used by two of your own crops; give each an ID of its own", id)}
		}
		seen[id] = true
		return nil
	}
	for i, f := range own.Files {
		one, err := f.Load()
		if err == nil {
			err = once(f.ID)
		}
		if err != nil {
			aside = append(aside, Aside{f.ID, f.ID, false, i, err})
			continue
		}
		if other, there := c.byID[f.ID]; f.Retired && there && !other.Own {
			continue // the catalogue's own is back in its place
		}
		all = append(all, one)
	}
	with := New(all...)
	for i, v := range own.Varieties {
		one, err := with.Vary(v)
		if err == nil {
			err = once(v.ID)
		}
		if err != nil {
			aside = append(aside, Aside{v.ID, v.Name, true, i, err})
			continue
		}
		all = append(all, one)
	}
	return New(all...), aside
}

// Load reads the file's crop.
func (f File) Load() (*Crop, error) {
	c, err := Load(f.ID+".toml", strings.NewReader(f.Text))
	if err != nil {
		return nil, err
	}
	c.Own, c.Retired = true, f.Retired
	return c, nil
}

// whole are all crops, the retired ones too.
func (c *Catalogue) whole() []*Crop {
	all := slices.Clone(c.crops)
	for _, one := range c.byID {
		if one.Retired {
			all = append(all, one)
		}
	}
	return all
}

// Taken is a crop that already goes by a name, whatever its letter case and plural; nil when it is free.
// The crop with the given ID does not count: it is the one to be named.
func (c *Catalogue) Taken(name, id string) *Crop {
	phrase := strings.Join(plainWords(name), " ")
	for _, each := range c.crops {
		if each.ID != id && slices.Contains(phrases(each), phrase) {
			return each
		}
	}
	return nil
}

// FreeID is an ID for a new crop of a name: its words, with a number where that is taken.
func (c *Catalogue) FreeID(name, base string) string {
	var words []string
	for _, word := range smallWords(name) {
		word = strings.Map(func(r rune) rune {
			if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
				return r
			}
			return -1
		}, word)
		if word != "" && len(strings.Join(words, "-"))+len(word) < longestID {
			words = append(words, word)
		}
	}
	id := strings.Join(words, "-")
	if id == "" {
		id = base + "-own"
	}
	for free, n := id, 2; ; free, n = fmt.Sprintf("%s-%d", id, n), n+1 {
		if _, there := c.byID[free]; !there {
			return free
		}
	}
}

const longestID = 48

// Faults are what is wrong with an own crop, one by one, from the error of Load or Vary.
func Faults(err error) []*FileError {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var all []*FileError
		for _, one := range many.Unwrap() {
			all = append(all, Faults(one)...)
		}
		return all
	}
	var one *FileError
	if errors.As(err, &one) {
		return []*FileError{one}
	}
	if err == nil {
		return nil
	}
	return []*FileError{{Text: err.Error()}}
}

// FileText is the text of one of the catalogue's own files, to begin one's own from.
func FileText(id string) (text string, ok bool) {
	if !slug.MatchString(id) {
		return "", false
	}
	b, err := files.ReadFile("data/" + id + ".toml")
	return string(b), err == nil
}
