package crop

import (
	"embed"
	"errors"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"
)

//go:embed data/*.toml
var files embed.FS

// Catalogue is a set of crops, found by ID, kind or alias.
type Catalogue struct {
	crops []*Crop
	byID  map[string]*Crop
}

// Default is the embedded catalogue. It is checked whole by a test; a bad embedded file is a
// programmer's error and panics.
func Default() *Catalogue { return embedded() }

var embedded = sync.OnceValue(func() *Catalogue {
	crops, err := loadAll(files, "data")
	if err != nil {
		panic("the embedded catalogue is bad: " + err.Error())
	}
	return New(crops...)
})

// New is a catalogue of the given crops. Of two with one ID the later counts, so that a person's
// own file stands before the embedded one.
func New(crops ...*Crop) *Catalogue {
	c := &Catalogue{byID: map[string]*Crop{}}
	for _, each := range crops {
		c.byID[each.ID] = each
	}
	for _, each := range c.byID {
		if !each.Retired {
			c.crops = append(c.crops, each)
		}
	}
	slices.SortFunc(c.crops, func(a, b *Crop) int { return strings.Compare(a.ID, b.ID) })
	return c
}

// loadAll reads every crop's file of a folder; the error joins those of all bad files.
func loadAll(system fs.FS, folder string) ([]*Crop, error) {
	names, err := fs.Glob(system, path.Join(folder, "*.toml"))
	if err != nil {
		return nil, err
	}
	var crops []*Crop
	var faults []error
	for _, name := range names {
		each, err := loadFile(system, name)
		if err != nil {
			faults = append(faults, err)
			continue
		}
		crops = append(crops, each)
	}
	return crops, errors.Join(faults...)
}

func loadFile(system fs.FS, name string) (*Crop, error) {
	file, err := system.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return Load(name, file)
}

// All are the crops that are grown, by ID.
func (c *Catalogue) All() []*Crop { return slices.Clone(c.crops) }

// Find is the crop with an ID, also one of a person's own that is retired.
func (c *Catalogue) Find(id string) (*Crop, bool) {
	found, ok := c.byID[id]
	return found, ok
}

// Kinds are the kinds, each once, in alphabetical order.
func (c *Catalogue) Kinds() []string {
	var kinds []string
	for _, each := range c.crops {
		kinds = append(kinds, each.Kind)
	}
	slices.Sort(kinds)
	return slices.Compact(kinds)
}

// Groups are all groups, in the order a seed list has them.
func Groups() []Group {
	return []Group{Root, Leaf, Brassica, Allium, Legume, Cucurbit, Nightshade, Corn, Herb, PerennialGroup, Cover, Other}
}

// Qualities are the qualities, best first.
func Qualities() []Quality { return []Quality{Published, Estimated, Own, CommonPractice, FromMemory} }

// Weakest are the crop's figures with the least trusted first, otherwise in file order.
func (c *Crop) Weakest() []Figure {
	order := Qualities()
	figures := slices.Clone(c.Figures)
	slices.SortStableFunc(figures, func(a, b Figure) int {
		return slices.Index(order, b.Quality) - slices.Index(order, a.Quality)
	})
	return figures
}

// Figure is the figure of one field, as its file states it.
func (c *Crop) Figure(field string) (Figure, bool) {
	for _, each := range c.Figures {
		if each.Field == field {
			return each, true
		}
	}
	return Figure{}, false
}
