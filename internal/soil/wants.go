package soil

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"slices"
	"sync"

	toml "github.com/pelletier/go-toml/v2"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

//go:embed needs.toml
var needsFile []byte

// Recommendation is what the tables give a sort of crop, in pounds an acre as they print it.
type Recommendation struct {
	Name      string // "cabbage and cauliflower"
	Low, High float64
	P2O5, K2O [5]float64 // by class, from very low to very high
	Figures   [plantFoods]Figure
}

// Recommended is the table's row for a crop: by its kind, else by its group.
//
// Source: UDEL-COLE; TAMU-PB; else from memory, as each row says
func Recommended(c *crop.Crop) Recommendation {
	rows, _ := needRows()
	for _, r := range rows {
		if slices.Contains(r.kinds, c.Kind) {
			return r.Recommendation
		}
	}
	for _, r := range rows {
		if slices.Contains(r.groups, c.Group) {
			return r.Recommendation
		}
	}
	return Mixed()
}

// Mixed is the row for a bed of mixed vegetables, and for what no other row fits.
func Mixed() Recommendation {
	rows, _ := needRows()
	return rows[slices.IndexFunc(rows, func(r needRow) bool { return r.Name == "mixed vegetables" })].Recommendation
}

// Rate is what the row gives at the classes of phosphorus and potassium; nitrogen is the middle of its range.
func (r Recommendation) Rate(phosphorus, potassium garden.TestClass) Supply {
	return Supply{N: perAcre((r.Low + r.High) / 2), P2O5: perAcre(r.P2O5[classIndex(phosphorus)]), K2O: perAcre(r.K2O[classIndex(potassium)])}
}

// classIndex is a class's place in the tables; an empty one stands for medium.
func classIndex(c garden.TestClass) int {
	if i := slices.Index(garden.TestClasses, c); i >= 0 {
		return i
	}
	return slices.Index(garden.TestClasses, garden.Medium)
}

type needRow struct {
	Recommendation
	kinds  []string
	groups []crop.Group
}

var needRows = sync.OnceValues(func() ([]needRow, error) { return readNeeds(needsFile) })

// listed is a list of numbers as the file writes it.
type listed struct {
	V    []float64 `toml:"v"`
	Src  string    `toml:"src"`
	Q    string    `toml:"q"`
	Note string    `toml:"note"`
}

// readNeeds reads and checks the whole file; the error joins everything found wrong with it.
func readNeeds(text []byte) ([]needRow, error) {
	var sheet struct {
		Row []struct {
			Name   string       `toml:"name"`
			Kinds  []string     `toml:"kinds"`
			Groups []crop.Group `toml:"groups"`
			N      listed       `toml:"n"`
			P2O5   listed       `toml:"p2o5"`
			K2O    listed       `toml:"k2o"`
		} `toml:"row"`
	}
	if err := toml.NewDecoder(bytes.NewReader(text)).DisallowUnknownFields().Decode(&sheet); err != nil {
		return nil, fmt.Errorf("needs.toml: %w", err)
	}
	var rows []needRow
	var faults []error
	for _, e := range sheet.Row {
		row := needRow{Recommendation{Name: e.Name}, e.Kinds, e.Groups}
		for i, l := range []listed{e.N, e.P2O5, e.K2O} {
			if err := l.check(i); err != nil {
				faults = append(faults, fmt.Errorf("needs.toml: %s: %s: %w", e.Name, foodNames[i], err))
				continue
			}
			row.Figures[i] = Figure{Value: l.V[0], Low: slices.Min(l.V), High: slices.Max(l.V), Source: l.Src, Quality: l.Q, Note: l.Note}
			switch i {
			case 0:
				row.Low, row.High = l.V[0], l.V[1]
			case 1:
				row.P2O5 = [5]float64(l.V)
			case 2:
				row.K2O = [5]float64(l.V)
			}
		}
		rows = append(rows, row)
	}
	return rows, errors.Join(faults...)
}

// check holds a list to its form: a low and a high of nitrogen, or five classes that ask for less and less.
func (l listed) check(food int) error {
	want, falls := 5, true
	if food == 0 {
		want, falls = 2, false
	}
	if len(l.V) != want {
		return fmt.Errorf("has %d numbers and needs %d", len(l.V), want)
	}
	for i, v := range l.V {
		if v < 0 || v > 400 {
			return fmt.Errorf("%g lb/acre is not plausible", v)
		}
		if i > 0 && (falls && v > l.V[i-1] || !falls && v < l.V[i-1]) {
			return fmt.Errorf("%v is out of order", l.V)
		}
	}
	return (&cell{Src: l.Src, Q: l.Q}).check()
}
