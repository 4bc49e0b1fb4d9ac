package weather

import (
	_ "embed" // the table of shapes
	"fmt"
	"math"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

// Shape is how the days of a place lie about the means of the day and hang on the day before: what a mean and a spread
// do not tell. The coldest nights of a mild winter stop well short of where a normal curve would have them, those of a
// mountain autumn go well beyond.
type Shape struct {
	Min, Max [knots][12]float64 // °C from the mean of the day, by month: what stands at each of knotScores
	Links    [12]links
	// SlowShare is the part of the variance, 0–1, that swings slowly: see slowShare.
	SlowShare float64
	// WholeFahrenheit says that the place's thermometer was read in whole °F, so that its frosts were counted so: a night of
	// 0.2 °C stands in its record as 32 °F, 0.0 °C.
	WholeFahrenheit bool
	// Lent says that the shape is another place's, so that maximum and minimum may have to be tied closer: see mix.
	Lent bool
}

// links are correlations of the residuals' normal scores: of maximum and minimum on a day, and of each with each of the
// day before.
type links struct{ sameDay, maxAfterMax, maxAfterMin, minAfterMax, minAfterMin float64 }

// knots is how many points of a month's distribution are kept: the lowest value of the record, the quantiles of 1, 5, 25,
// 50, 75, 95 and 99 % and the highest value.
const knots = 9

// knotScores are the quantiles of the standard normal distribution at the knots. The lowest and highest of thirty
// years' days of a month stand at half a day of 930, ±3.27: nothing generated goes beyond what was measured.
var knotScores = [knots]float64{-widestScore, -2.3263, -1.6449, -0.6745, 0, 0.6745, 1.6449, 2.3263, widestScore}

const widestScore = 3.27

//go:embed shapes.toml
var shapesText string

type shapeFile struct {
	Shape []struct {
		ID, Like        string
		WholeFahrenheit bool        `toml:"whole_fahrenheit"`
		SlowShare       float64     `toml:"slow_share"`
		Min             [][]float64 `toml:"min_c"`
		Max             [][]float64 `toml:"max_c"`
		SameDay         []float64   `toml:"same_day"`
		MaxAfterMax     []float64   `toml:"max_after_max"`
		MaxAfterMin     []float64   `toml:"max_after_min"`
		MinAfterMax     []float64   `toml:"min_after_max"`
		MinAfterMin     []float64   `toml:"min_after_min"`
	}
}

// giveShapes reads the table of shapes and hands each place its own. A place "like" another has that one's, each month
// in proportion to the spreads.
func giveShapes(places []Climate, text string) error {
	var file shapeFile
	if err := toml.NewDecoder(strings.NewReader(text)).DisallowUnknownFields().Decode(&file); err != nil {
		return err
	}
	at := map[string]*Climate{}
	for i := range places {
		at[places[i].ID] = &places[i]
	}
	for _, f := range file.Shape {
		place := at[f.ID]
		if place == nil {
			return fmt.Errorf("a shape is of %q, which is no place", f.ID)
		}
		if f.Like != "" {
			other := at[f.Like]
			if other == nil || other.Shape == nil {
				return fmt.Errorf("the shape of %q is like that of %q, which has none above it", f.ID, f.Like)
			}
			place.Shape = scaled(other, place)
			continue
		}
		s := &Shape{SlowShare: f.SlowShare, WholeFahrenheit: f.WholeFahrenheit}
		if err := fill(&s.Min, f.Min); err != nil {
			return fmt.Errorf("shape %q, min_c: %w", f.ID, err)
		}
		if err := fill(&s.Max, f.Max); err != nil {
			return fmt.Errorf("shape %q, max_c: %w", f.ID, err)
		}
		for _, row := range [][]float64{f.SameDay, f.MaxAfterMax, f.MaxAfterMin, f.MinAfterMax, f.MinAfterMin} {
			if len(row) != 12 {
				return fmt.Errorf("shape %q: a row of correlations has %d months", f.ID, len(row))
			}
		}
		for m := range s.Links {
			s.Links[m] = links{f.SameDay[m], f.MaxAfterMax[m], f.MaxAfterMin[m], f.MinAfterMax[m], f.MinAfterMin[m]}
			if _, _, ok := s.Links[m].matrices(s.SlowShare); !ok {
				return fmt.Errorf("shape %q, month %d: no weather has these correlations", f.ID, m+1)
			}
		}
		place.Shape = s
	}
	return nil
}

// fill checks a table of quantiles: a row a knot, twelve months each, rising from row to row.
func fill(into *[knots][12]float64, rows [][]float64) error {
	if len(rows) != knots {
		return fmt.Errorf("%d rows, not %d", len(rows), knots)
	}
	for k, row := range rows {
		if len(row) != 12 {
			return fmt.Errorf("row %d has %d months", k+1, len(row))
		}
		copy(into[k][:], row)
		for m := range row {
			if k > 0 && into[k][m] < into[k-1][m] {
				return fmt.Errorf("month %d falls from row %d to the next", m+1, k)
			}
		}
	}
	return nil
}

// scaled is the shape of one place stretched, month by month, to the spreads of another.
func scaled(from, to *Climate) *Shape {
	s := *from.Shape
	s.WholeFahrenheit, s.Lent = false, true
	for m := range 12 {
		low := float64(to.Months[m].MinSD / from.Months[m].MinSD)
		high := float64(to.Months[m].MaxSD / from.Months[m].MaxSD)
		for k := range knots {
			s.Min[k][m] *= low
			s.Max[k][m] *= high
		}
	}
	return &s
}

// course is the quantiles of the residuals on every day of the year.
type course [366][knots]float64

// courseOf lays the months' quantiles over the year, each on its own curve, and moves every day's so that their mean is 0.
func courseOf(monthly [knots][12]float64) *course {
	c, weights := &course{}, knotWeights()
	for k := range monthly {
		for d, v := range curve(monthly[k]) {
			c[d][k] = v
		}
	}
	for d := range c {
		mean := 0.0
		for k := range c[d] {
			if k > 0 {
				c[d][k] = max(c[d][k], c[d][k-1])
			}
			mean += float64(weights[k] * c[d][k])
		}
		for k := range c[d] {
			c[d][k] -= mean
		}
	}
	return c
}

// at is the residual in °C at a standard normal score: straight between the knots, the outermost beyond them.
func (c *course) at(day int, score float64) float64 {
	row := &c[day]
	for k, upper := range knotScores {
		if score > upper {
			continue
		}
		if k == 0 {
			return row[0]
		}
		t := (score - knotScores[k-1]) / (upper - knotScores[k-1])
		return row[k-1] + float64(t*(row[k]-row[k-1]))
	}
	return row[knots-1]
}

// knotWeights are the weights of the knots in the mean over a standard normal score of a course straight between them:
// each piece from a to b gives its end ∫(z − a)/(b − a)·φ(z)dz = (φ(a) − φ(b) − a·(Φ(b) − Φ(a)))/(b − a), its start the rest.
func knotWeights() (w [knots]float64) {
	below := func(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }
	density := func(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
	w[0], w[knots-1] = below(knotScores[0]), below(-knotScores[knots-1])
	for k := 1; k < knots; k++ {
		a, b := knotScores[k-1], knotScores[k]
		share := below(b) - below(a)
		end := (density(a) - density(b) - float64(a*share)) / (b - a)
		w[k] += end
		w[k-1] += share - end
	}
	return w
}
