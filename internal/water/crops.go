package water

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"slices"
	"sync"

	toml "github.com/pelletier/go-toml/v2"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

//go:embed crops.toml
var cropsFile []byte

// Quality says how far a figure can be trusted.
type Quality string

// The qualities.
const (
	Published      Quality = "published"
	Estimated      Quality = "estimated"
	CommonPractice Quality = "common practice"
	FromMemory     Quality = "from memory"
)

// Figure is one figure of the table, or a few that belong together.
type Figure struct {
	V    []float64 `toml:"v"`
	Src  string    `toml:"src"`
	Q    Quality   `toml:"q"`
	Note string    `toml:"note"`
}

// Row is what crops of one kind draw, with where each figure comes from.
type Row struct {
	Name  string   `toml:"name"`
	Crops []string `toml:"crops"` // of the catalogue
	Near  struct {
		Crops []string `toml:"crops"` // that the row stands in for
		Note  string   `toml:"note"`
	} `toml:"near"`
	Basal  Figure `toml:"kcb"`
	Height Figure `toml:"height_m"`
	Root   Figure `toml:"root_m"`
	Share  Figure `toml:"p"`
	Stages Figure `toml:"stages_d"`
}

// Crop is how a crop draws water.
type Crop struct {
	Basal   [3]float64     // basal coefficient: initial, middle, end
	Height  quantity.Metre // grown
	Sown    quantity.Metre // how deep roots draw at first
	Root    quantity.Metre // grown
	Share   float64        // part of the water in reach that is taken before it suffers, at 5 mm a day
	Stages  [4]float64     // days of the four stages as printed: their proportions count
	Row     string
	Quality Quality
	Note    string
}

// Rows are all rows of the table; the slice is the caller's own.
func Rows() ([]Row, error) {
	rows, err := allRows()
	return slices.Clone(rows), err
}

var allRows = sync.OnceValues(func() ([]Row, error) { return readRows(cropsFile) })

func readRows(text []byte) ([]Row, error) {
	var sheet struct {
		Row []Row `toml:"row"`
	}
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&sheet); err != nil {
		return nil, fmt.Errorf("the table of what crops draw cannot be read: %w", err)
	}
	var wrong []error
	seen := map[string]string{}
	for _, r := range sheet.Row {
		wrong = append(wrong, r.check())
		for _, id := range append(slices.Clone(r.Crops), r.Near.Crops...) {
			if other, twice := seen[id]; twice {
				wrong = append(wrong, fmt.Errorf("%s stands in the rows %q and %q", id, other, r.Name))
			}
			seen[id] = r.Name
		}
	}
	return sheet.Row, errors.Join(wrong...)
}

// check holds a row to what figures of its kind can be.
func (r Row) check() error {
	var wrong []error
	for _, c := range []struct {
		name      string
		f         Figure
		n         int
		low, high float64
	}{{"kcb", r.Basal, 3, 0.1, 1.25}, {"height_m", r.Height, 1, 0.05, 4}, {"root_m", r.Root, 2, 0.1, 3}, {"p", r.Share, 1, 0.1, 0.8}, {"stages_d", r.Stages, 4, 0, 300}} {
		if len(c.f.V) != c.n {
			wrong = append(wrong, fmt.Errorf("%s: %s has %d figures, not %d", r.Name, c.name, len(c.f.V), c.n))
			continue
		}
		for _, v := range c.f.V {
			if !(v >= c.low && v <= c.high) {
				wrong = append(wrong, fmt.Errorf("%s: %s is %v, outside %v–%v", r.Name, c.name, v, c.low, c.high))
			}
		}
		if !slices.Contains([]Quality{Published, Estimated, CommonPractice, FromMemory}, c.f.Q) || c.f.Q == Published && c.f.Src == "" {
			wrong = append(wrong, fmt.Errorf("%s: %s has no source or no quality", r.Name, c.name))
		}
	}
	if len(wrong) == 0 && (r.Root.V[0] > r.Root.V[1] || r.Basal.V[0] > r.Basal.V[1]) {
		wrong = append(wrong, fmt.Errorf("%s: roots or coefficients shrink", r.Name))
	}
	return errors.Join(wrong...)
}

// sownDepth is how deep the roots of a seedling draw. Source: FAO56 (chapter 8, 0.15–0.20 m)
const sownDepth = quantity.Metre(0.15)

// CropOf is how a crop of the catalogue draws water. A crop that the table does not have, as the person's own, goes by the
// single coefficients of its catalogue entry: basal ones lie about 0.1 below (tables 12 and 17 side by side).
//
// Source: FAO56-T11, FAO56-T12, FAO56-T17, FAO56-T22
func CropOf(c *crop.Crop) Crop {
	rows, _ := allRows()
	for _, r := range rows {
		own, near := slices.Contains(r.Crops, c.ID), slices.Contains(r.Near.Crops, c.ID)
		if !own && !near {
			continue
		}
		out := Crop{Basal: [3]float64(r.Basal.V), Height: quantity.Metre(r.Height.V[0]), Sown: sownDepth, Share: r.Share.V[0], Stages: [4]float64(r.Stages.V),
			Root: quantity.Metre(r.Root.V[0]+r.Root.V[1]) / 2, Row: r.Name, Quality: Published}
		if near {
			out.Quality, out.Note = Estimated, "goes by the row for "+r.Name+": "+r.Near.Note
			out.Basal[1], out.Basal[2] = min(out.Basal[1], max(0.2, c.Water.KcMid-0.05)), min(out.Basal[2], max(0.15, c.Water.KcEnd-0.05))
		}
		if c.Plant.Root > 0 {
			out.Root = c.Plant.Root
		}
		out.Sown = min(out.Sown, out.Root)
		return out
	}
	return Crop{
		Basal: [3]float64{0.15, max(0.2, c.Water.KcMid-0.1), max(0.15, c.Water.KcEnd-0.1)}, Height: max(0.1, c.Plant.Height), Sown: sownDepth,
		Root: max(sownDepth, c.Plant.Root), Share: 0.4, Stages: [4]float64{20, 30, 35, 15}, Quality: Estimated,
		Note: "goes by its catalogue coefficients; stages and the water it may take are those of middling vegetables",
	}
}
