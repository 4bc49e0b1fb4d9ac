// Package audit is the judge of a shared-out ground: every rule and the value of a plan, reckoned anew from the problem's own text.
//
// It shares no code with what makes the plans: it has its own reader of the open form, its own geometry and its own sums.
package audit

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
)

// Planting is one line of a plan: ids as in the problem, area in m², the strip in m along the bed.
type Planting struct {
	Bed    int     `json:"bed"`
	Option int     `json:"option"`
	Area   float64 `json:"area"`
	Strip  Strip   `json:"strip"`
}

// Strip is where a planting stands: which side of the bed's width, and from where to where along it.
type Strip struct {
	Side string  `json:"side"` // "first", "second" or "both"
	From float64 `json:"from"`
	To   float64 `json:"to"`
}

type crop struct {
	ID     int
	Value  float64
	Demand struct {
		Kind  string
		Weeks []int
		Qty   float64
		Segs  [][]float64
	}
}

type option struct {
	ID, S, E, Sun, N int
	MinArea, Cost    float64
	Fams             []string
	Parts            []struct {
		Crop int
		Y    float64
		Harv [][]float64
	}
}

type bed struct {
	ID, Sun             int
	Width, Length, Area float64
	History             [][]string
	Pre                 *struct {
		Area  float64
		Until int
	}
	MaxPlantings int
}

// Case is a problem as the judge reads it.
type Case struct {
	weeks   int
	crops   map[int]crop
	options map[int]option
	beds    map[int]bed
}

// Read reads a problem in the open form.
func Read(r io.Reader) (*Case, error) {
	var text struct {
		Weeks   int
		Crops   []crop
		Options []option
		Beds    []bed
	}
	if err := json.NewDecoder(r).Decode(&text); err != nil {
		return nil, fmt.Errorf("the problem is not in the open JSON form: %w", err)
	}
	c := &Case{weeks: text.Weeks, crops: map[int]crop{}, options: map[int]option{}, beds: map[int]bed{}}
	for _, x := range text.Crops {
		c.crops[x.ID] = x
	}
	for _, x := range text.Options {
		c.options[x.ID] = x
	}
	for _, x := range text.Beds {
		c.beds[x.ID] = x
	}
	return c, nil
}

// tolerance is what sums of decimals may be off, in m² and m.
const tolerance = 1e-6

// Judge gives the value of a plan, and a sentence for each rule it breaks.
func (c *Case) Judge(plan []Planting) (value float64, faults []string) {
	byBed := map[int][]Planting{}
	for _, p := range plan {
		b, known := c.beds[p.Bed]
		o, knownToo := c.options[p.Option]
		if !known || !knownToo {
			faults = append(faults, fmt.Sprintf("bed %d, option %d: not in the problem", p.Bed, p.Option))
			continue
		}
		faults = append(faults, onItsOwn(p, o, b)...)
		byBed[p.Bed] = append(byBed[p.Bed], p)
	}
	for id, plantings := range byBed {
		faults = append(faults, c.together(c.beds[id], plantings)...)
	}
	return c.value(plan), faults
}

// onItsOwn checks what concerns one planting.
func onItsOwn(p Planting, o option, b bed) (faults []string) {
	say := func(form string, args ...any) {
		faults = append(faults, fmt.Sprintf("bed %d, option %d: ", p.Bed, p.Option)+fmt.Sprintf(form, args...))
	}
	if o.Sun-b.Sun > 1 {
		say("wants light %d, the bed has %d", o.Sun, b.Sun)
	}
	for _, year := range b.History {
		for _, family := range year {
			for _, own := range o.Fams {
				if own == family {
					say("family %s stood here in the years before", family)
				}
			}
		}
	}
	if p.Area < o.MinArea-tolerance {
		say("%g m² are less than the least area %g", p.Area, o.MinArea)
	}
	width := map[string]float64{"first": b.Width / 2, "second": b.Width / 2, "both": b.Width}[p.Strip.Side]
	if width == 0 {
		say("strip side %q, must be first, second or both", p.Strip.Side)
	}
	if p.Strip.From < -tolerance || p.Strip.To > b.Length+tolerance || p.Strip.To <= p.Strip.From {
		say("strip from %g to %g m does not lie in the bed's %g m", p.Strip.From, p.Strip.To, b.Length)
	}
	for _, at := range []float64{p.Strip.From, p.Strip.To} {
		if quarters := at * 4; math.Abs(quarters-math.Round(quarters)) > tolerance {
			say("strip end at %g m is not on a quarter of a metre", at)
		}
	}
	if got := width * (p.Strip.To - p.Strip.From); math.Abs(got-p.Area) > tolerance {
		say("the strip holds %g m², the plan says %g", got, p.Area)
	}
	return faults
}

// together checks what concerns the plantings of a bed with one another.
func (c *Case) together(b bed, plantings []Planting) (faults []string) {
	say := func(form string, args ...any) {
		faults = append(faults, fmt.Sprintf("bed %d: ", b.ID)+fmt.Sprintf(form, args...))
	}
	count := 0
	for i, p := range plantings {
		o := c.options[p.Option]
		count += o.N
		if b.Pre != nil && o.S <= b.Pre.Until && p.Strip.From*b.Width < b.Pre.Area-tolerance {
			say("option %d stands on ground taken up to week %d", p.Option, b.Pre.Until)
		}
		for _, q := range plantings[:i] {
			other := c.options[q.Option]
			meet := o.S <= other.E && other.S <= o.E
			if !meet && related(o, other) {
				say("options %d and %d share a family and no week", p.Option, q.Option)
			}
			sideways := p.Strip.Side == q.Strip.Side || p.Strip.Side == "both" || q.Strip.Side == "both"
			if meet && sideways && p.Strip.From < q.Strip.To-tolerance && q.Strip.From < p.Strip.To-tolerance {
				say("options %d and %d stand on the same ground", p.Option, q.Option)
			}
		}
	}
	if count > b.MaxPlantings {
		say("%d plantings, at most %d", count, b.MaxPlantings)
	}
	for w := range c.weeks {
		free := b.Area
		if b.Pre != nil && w <= b.Pre.Until {
			free -= b.Pre.Area
		}
		for _, p := range plantings {
			if o := c.options[p.Option]; o.S <= w && w <= o.E {
				free -= p.Area
			}
		}
		if free < -tolerance {
			say("%g m² too much in week %d", -free, w)
		}
	}
	return faults
}

func related(a, b option) bool {
	for _, x := range a.Fams {
		for _, y := range b.Fams {
			if x == y {
				return true
			}
		}
	}
	return false
}

// value sums what is harvested by crop and week, and what it is worth.
func (c *Case) value(plan []Planting) float64 {
	harvest := map[int]map[int]float64{} // by crop and week
	total := 0.0
	for _, p := range plan {
		o, b := c.options[p.Option], c.beds[p.Bed]
		total -= o.Cost
		light := 1.0
		if b.Sun < o.Sun {
			light = 0.65
		}
		for _, part := range o.Parts {
			if harvest[part.Crop] == nil {
				harvest[part.Crop] = map[int]float64{}
			}
			for _, h := range part.Harv {
				harvest[part.Crop][int(h[0])] += p.Area * light * part.Y * h[1]
			}
		}
	}
	for id, crop := range c.crops {
		if crop.Demand.Kind == "total" {
			sum := 0.0
			for _, kg := range harvest[id] {
				sum += kg
			}
			total += crop.worth(sum)
			continue
		}
		for _, w := range crop.Demand.Weeks {
			total += crop.worth(harvest[id][w])
		}
	}
	return total
}

func (c *crop) worth(kg float64) float64 {
	worth := 0.0
	for _, s := range c.Demand.Segs {
		part := math.Min(kg, s[0]*c.Demand.Qty)
		worth += part * s[1] * c.Value
		kg -= part
	}
	return worth
}
