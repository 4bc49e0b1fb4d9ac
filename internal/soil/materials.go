package soil

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	toml "github.com/pelletier/go-toml/v2"

	"kailyard/internal/quantity"
)

//go:embed materials.toml
var materialsFile []byte

// Materials are all soil materials the program knows, in the file's order. The slice is the caller's own.
func Materials() ([]Material, error) {
	list, err := allMaterials()
	return slices.Clone(list), err
}

// Find is the material with an ID.
func Find(id string) (Material, bool) {
	list, _ := allMaterials()
	i, ok := materialAt()[id]
	if !ok {
		return Material{}, false
	}
	return list[i], true
}

// materialAt is the place of each material in the list.
var materialAt = sync.OnceValue(func() map[string]int {
	at := map[string]int{}
	list, _ := allMaterials()
	for i, m := range list {
		at[m.ID] = i
	}
	return at
})

// OfFamily are the materials of a family, in the file's order.
func OfFamily(family Family) []Material {
	list, _ := allMaterials()
	var out []Material
	for _, m := range list {
		if m.Family == family {
			out = append(out, m)
		}
	}
	return out
}

var allMaterials = sync.OnceValues(func() ([]Material, error) { return readMaterials(materialsFile) })

// cell is one figure as the file writes it.
type cell struct {
	V    string `toml:"v"`
	Src  string `toml:"src"`
	Q    string `toml:"q"`
	Note string `toml:"note"`
}

// entry is one material of the file.
type entry struct {
	ID        string   `toml:"id"`
	Name      string   `toml:"name"`
	Family    Family   `toml:"family"`
	N         *cell    `toml:"n"`
	P2O5      *cell    `toml:"p2o5"`
	K2O       *cell    `toml:"k2o"`
	First     *cell    `toml:"first"`
	CCE       *cell    `toml:"cce"`
	Fineness  *cell    `toml:"fineness"`
	Magnesium *cell    `toml:"magnesium"`
	Salt      *cell    `toml:"salt"`
	Density   *cell    `toml:"density"`
	Expansion *cell    `toml:"expansion"`
	CN        *cell    `toml:"cn"`
	Moisture  *cell    `toml:"moisture"`
	Most      *cell    `toml:"most"`
	Raw       bool     `toml:"raw"`
	Cautions  []string `toml:"cautions"`
	Note      string   `toml:"note"`
}

// readMaterials reads and checks the whole file; the error joins everything found wrong with it.
func readMaterials(text []byte) ([]Material, error) {
	var sheet struct {
		Material []entry `toml:"material"`
	}
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&sheet); err != nil {
		return nil, fmt.Errorf("materials.toml: %w", err)
	}
	var list []Material
	var faults []error
	seen := map[string]bool{}
	for i := range sheet.Material {
		m, err := sheet.Material[i].material()
		faults = append(faults, err)
		if seen[m.ID] {
			faults = append(faults, fmt.Errorf("materials.toml: %s stands twice", m.ID))
		}
		seen[m.ID] = true
		list = append(list, m)
	}
	return list, errors.Join(faults...)
}

var (
	materialID = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)
	figureForm = regexp.MustCompile(`^(-?[0-9.]+)(?: ?([^ (][^(]*?))?(?: \((-?[0-9.]+)–(-?[0-9.]+)\))?$`)
	qualities  = []string{"published", "estimated", "common practice", "from memory"}
	families   = []Family{Liming, Acidifying, Fertiliser, Organic}
)

// kind is what a figure measures: the units it may be written in, and where its values lie.
type kind struct {
	units     map[string]float64 // to the program's own
	low, high float64
}

var (
	percent    = map[string]float64{"%": 1}
	bare       = map[string]float64{"": 1}
	litreOfFt3 = 1728. / 231 * quantity.LitresPerGallon
	densities  = map[string]float64{
		"kg/l": 1, "lb/ft³": quantity.KilogramsPerPound / litreOfFt3, "lb/yd³": quantity.KilogramsPerPound / litreOfFt3 / 27,
		"lb/pt": quantity.KilogramsPerPound / (quantity.LitresPerGallon / 8),
	}
)

// material converts and checks one entry.
func (e *entry) material() (Material, error) {
	m := Material{ID: e.ID, Name: e.Name, Family: e.Family, Raw: e.Raw, Note: e.Note}
	var faults []error
	wrong := func(format string, args ...any) {
		faults = append(faults, fmt.Errorf("materials.toml: %s: %s", e.ID, fmt.Sprintf(format, args...)))
	}
	if !materialID.MatchString(e.ID) {
		wrong("the id must be small letters, digits and single hyphens")
	}
	if e.Name == "" || !slices.Contains(families, e.Family) {
		wrong("needs a name and a family, one of %v", families)
	}
	read := func(field string, c *cell, k kind) *Figure {
		if c == nil {
			return nil
		}
		f, err := c.figure(k)
		if err != nil {
			wrong("%s: %v", field, err)
		}
		return f
	}
	part := kind{percent, 0, 100}
	m.N, m.P2O5, m.K2O = read("n", e.N, part), read("p2o5", e.P2O5, part), read("k2o", e.K2O, part)
	m.First, m.Fineness = read("first", e.First, part), read("fineness", e.Fineness, part)
	m.Magnesium, m.Moisture = read("magnesium", e.Magnesium, part), read("moisture", e.Moisture, part)
	m.CCE = read("cce", e.CCE, kind{percent, -320, 180})
	m.Salt = read("salt", e.Salt, kind{bare, 0, 200})
	m.Density = read("density", e.Density, kind{densities, 0.02, 2})
	m.Expansion = read("expansion", e.Expansion, kind{bare, 1, 10})
	m.CN = read("cn", e.CN, kind{bare, 1, 1000})
	if e.Most != nil {
		most, err := e.Most.rate()
		if err != nil {
			wrong("most: %v", err)
		}
		m.Most = most
	}
	if m.Density == nil {
		wrong("needs a density, or a measured bucket cannot be told")
	}
	for _, key := range e.Cautions {
		text, ok := cautionTexts[key]
		if !ok {
			wrong("no caution is called %q", key)
		}
		m.Cautions = append(m.Cautions, text)
	}
	return m, errors.Join(faults...)
}

// figure reads "value unit (low–high)" and checks unit, range, source and quality.
func (c *cell) figure(k kind) (*Figure, error) {
	found := figureForm.FindStringSubmatch(c.V)
	if found == nil {
		return nil, fmt.Errorf(`%q is not of the form "12 %% (10–13)"`, c.V)
	}
	factor, ok := k.units[found[2]]
	if !ok {
		return nil, fmt.Errorf("%q has not a unit that belongs here", c.V)
	}
	f := &Figure{Source: c.Src, Quality: c.Q, Note: c.Note}
	var err [3]error
	f.Value, err[0] = strconv.ParseFloat(found[1], 64)
	if found[3] != "" {
		f.Low, err[1] = strconv.ParseFloat(found[3], 64)
		f.High, err[2] = strconv.ParseFloat(found[4], 64)
		if f.Value < f.Low || f.Value > f.High {
			return nil, fmt.Errorf("%q does not lie in its own range", c.V)
		}
	}
	for _, e := range err {
		if e != nil {
			return nil, fmt.Errorf("%q is not a number", c.V)
		}
	}
	f.Value, f.Low, f.High = tidy(f.Value*factor), tidy(f.Low*factor), tidy(f.High*factor)
	if f.Value < k.low || f.Value > k.high || f.High > k.high || f.Low < math.Min(k.low, 0) {
		return nil, fmt.Errorf("%q lies outside %g to %g", c.V, k.low, k.high)
	}
	return f, c.check()
}

// rate reads the most at one time.
func (c *cell) rate() (quantity.KilogramPerSquareMetre, error) {
	r, err := quantity.ParseRate(c.V, quantity.Metric)
	if err != nil {
		return 0, err
	}
	return quantity.KilogramPerSquareMetre(tidy(float64(r))), c.check()
}

// check holds the quality to the source: what is published names one, what names none cannot be.
func (c *cell) check() error {
	switch {
	case !slices.Contains(qualities, c.Q):
		return fmt.Errorf("quality %q is not one of %s", c.Q, strings.Join(qualities, ", "))
	case c.Q == "published" && strings.TrimSpace(c.Src) == "":
		return errors.New("is called published and names no source")
	}
	return nil
}

// tidy takes off the dust that binary fractions leave.
func tidy(x float64) float64 {
	v, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if err != nil {
		return x
	}
	return v
}
