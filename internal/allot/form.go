package allot

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"sort"
)

// The open form: one JSON object with weeks, families, crops, options and beds. Names not known are passed over.
type form struct {
	Weeks    int          `json:"weeks"`
	Families []string     `json:"families"`
	Crops    []cropForm   `json:"crops"`
	Options  []optionForm `json:"options"`
	Beds     []bedForm    `json:"beds"`
}

type cropForm struct {
	ID      int        `json:"id"`
	Name    string     `json:"name"`
	Family  string     `json:"family"`
	Sun     int        `json:"sun"`
	MinArea float64    `json:"minArea"`
	Value   float64    `json:"value"`
	Demand  demandForm `json:"demand"`
}

type demandForm struct {
	Kind  string       `json:"kind"`
	Weeks []int        `json:"weeks,omitempty"`
	Qty   float64      `json:"qty"`
	Segs  [][2]float64 `json:"segs"`
}

type optionForm struct {
	ID      int        `json:"id"`
	S       int        `json:"s"`
	E       int        `json:"e"`
	MinArea float64    `json:"minArea"`
	Sun     int        `json:"sun"`
	Fams    []string   `json:"fams"`
	Cost    float64    `json:"cost"`
	N       int        `json:"n"`
	Parts   []partForm `json:"parts"`
}

type partForm struct {
	Crop int          `json:"crop"`
	Y    float64      `json:"y"`
	Harv [][2]float64 `json:"harv"`
}

type bedForm struct {
	ID      int        `json:"id"`
	Width   float64    `json:"width"`
	Length  float64    `json:"length"`
	Area    float64    `json:"area"`
	Sun     int        `json:"sun"`
	History [][]string `json:"history"`
	Pre     *takenForm `json:"pre"`
	Most    int        `json:"maxPlantings"`
}

type takenForm struct {
	Area  float64 `json:"area"`
	Until int     `json:"until"`
}

// Read reads a problem in the open form. A mistake is told with the crop, option or bed it stands in.
func Read(r io.Reader) (*Problem, error) {
	var f form
	if err := json.NewDecoder(r).Decode(&f); err != nil {
		return nil, fmt.Errorf("the problem is not in the open JSON form: %w", err)
	}
	if f.Weeks < 1 || f.Weeks > MostWeeks {
		return nil, fmt.Errorf("weeks: %d, must be 1 to %d", f.Weeks, MostWeeks)
	}
	if len(f.Families) > MostFamilies {
		return nil, fmt.Errorf("families: %d, at most %d", len(f.Families), MostFamilies)
	}
	p := &Problem{Weeks: f.Weeks, Families: f.Families}
	d := demands{problem: p, at: map[demandKey]int{}, total: map[int]bool{}}
	for i := range f.Crops {
		if err := d.crop(&f.Crops[i]); err != nil {
			return nil, fmt.Errorf("crop %d: %w", f.Crops[i].ID, err)
		}
	}
	for i := range f.Options {
		o, err := d.option(&f.Options[i])
		if err != nil {
			return nil, fmt.Errorf("option %d: %w", f.Options[i].ID, err)
		}
		p.Options = append(p.Options, o)
	}
	for i := range f.Beds {
		b, err := bedOf(p, &f.Beds[i])
		if err != nil {
			return nil, fmt.Errorf("bed %d: %w", f.Beds[i].ID, err)
		}
		p.Beds = append(p.Beds, b)
	}
	return p, nil
}

type demandKey struct{ crop, week int }

// demands finds the row of a crop and week.
type demands struct {
	problem *Problem
	at      map[demandKey]int
	total   map[int]bool // by crop: over the season
}

func (d *demands) crop(c *cropForm) error {
	if _, twice := d.total[c.ID]; twice {
		return fmt.Errorf("its id stands twice")
	}
	pieces, err := piecesOf(c)
	if err != nil {
		return err
	}
	weeks := c.Demand.Weeks
	switch c.Demand.Kind {
	case "total":
		weeks = []int{-1}
	case "weekly":
		for _, w := range weeks {
			if w < 0 || w >= d.problem.Weeks {
				return fmt.Errorf("demand week %d, must be 0 to %d", w, d.problem.Weeks-1)
			}
		}
	default:
		return fmt.Errorf("demand kind %q, must be \"weekly\" or \"total\"", c.Demand.Kind)
	}
	d.total[c.ID] = c.Demand.Kind == "total"
	for _, w := range weeks {
		if _, twice := d.at[demandKey{c.ID, w}]; twice {
			return fmt.Errorf("demand week %d stands twice", w)
		}
		d.at[demandKey{c.ID, w}] = len(d.problem.Demands)
		d.problem.Demands = append(d.problem.Demands, Demand{Crop: c.ID, Week: w, Pieces: pieces})
	}
	return nil
}

func piecesOf(c *cropForm) ([]Piece, error) {
	if err := sound(number{"value", c.Value}, number{"demand qty", c.Demand.Qty}); err != nil {
		return nil, err
	}
	if len(c.Demand.Segs) > MostPieces {
		return nil, fmt.Errorf("%d demand segs, at most %d", len(c.Demand.Segs), MostPieces)
	}
	var pieces []Piece
	for _, s := range c.Demand.Segs {
		if err := sound(number{"demand segs", s[0]}, number{"demand segs", s[1]}); err != nil {
			return nil, err
		}
		piece := Piece{Kilograms: s[0] * c.Demand.Qty, ValuePerKilogram: s[1] * c.Value}
		if n := len(pieces); n > 0 && piece.ValuePerKilogram > pieces[n-1].ValuePerKilogram {
			return nil, fmt.Errorf("demand segs must fall in value, the one of factor %g rises", s[1])
		}
		pieces = append(pieces, piece)
	}
	return pieces, nil
}

func (d *demands) option(f *optionForm) (Option, error) {
	o := Option{ID: f.ID, Start: f.S, End: f.E, LeastArea: f.MinArea, Sun: f.Sun, Cost: f.Cost, Count: f.N}
	if f.S < 0 || f.E < f.S || f.E >= d.problem.Weeks {
		return o, fmt.Errorf("weeks %d to %d, must lie in order within 0 to %d", f.S, f.E, d.problem.Weeks-1)
	}
	if err := sound(number{"minArea", f.MinArea}, number{"cost", f.Cost}); err != nil {
		return o, err
	}
	if f.Sun < 0 || f.Sun > 2 {
		return o, fmt.Errorf("sun is %d, must be 0, 1 or 2", f.Sun)
	}
	if f.N < 1 {
		return o, fmt.Errorf("n is %d, must be 1 or more", f.N)
	}
	if len(f.Parts) == 0 {
		return o, fmt.Errorf("no parts; give at least one crop with its yield")
	}
	var err error
	if o.Families, err = familiesOf(d.problem, f.Fams); err != nil {
		return o, err
	}
	o.Crop = f.Parts[0].Crop
	sums := map[int]float64{}
	for _, part := range f.Parts {
		if _, known := d.total[part.Crop]; !known {
			return o, fmt.Errorf("part of crop %d, which is not among the crops", part.Crop)
		}
		for _, h := range part.Harv {
			if err := sound(number{"y", part.Y}, number{"harv", h[1]}); err != nil {
				return o, err
			}
			key := demandKey{part.Crop, int(h[0])}
			if d.total[part.Crop] {
				key.week = -1
			}
			if row, wanted := d.at[key]; wanted && part.Y*h[1] > 0 {
				sums[row] += part.Y * h[1]
			}
		}
	}
	for row, kg := range sums {
		o.Yields = append(o.Yields, Yield{row, kg})
	}
	sort.Slice(o.Yields, func(i, j int) bool { return o.Yields[i].Demand < o.Yields[j].Demand })
	return o, nil
}

func bedOf(p *Problem, f *bedForm) (Bed, error) {
	b := Bed{ID: f.ID, Width: f.Width, Length: f.Length, Area: f.Area, Sun: f.Sun, TakenUntil: -1, Most: f.Most}
	if err := sound(number{"width", f.Width}, number{"length", f.Length}, number{"area", f.Area}); err != nil {
		return b, err
	}
	if f.Sun < 0 || f.Sun > 2 {
		return b, fmt.Errorf("sun is %d, must be 0, 1 or 2", f.Sun)
	}
	for _, year := range f.History {
		families, err := familiesOf(p, year)
		if err != nil {
			return b, fmt.Errorf("history: %w", err)
		}
		b.History |= families
	}
	if f.Pre != nil && f.Pre.Until >= 0 {
		if err := sound(number{"pre area", f.Pre.Area}); err != nil {
			return b, err
		}
		b.TakenArea, b.TakenUntil = min(f.Pre.Area, f.Area), min(f.Pre.Until, p.Weeks-1)
	}
	return b, nil
}

func familiesOf(p *Problem, names []string) (uint64, error) {
	var mask uint64
names:
	for _, name := range names {
		for i, known := range p.Families {
			if known == name {
				mask |= 1 << i
				continue names
			}
		}
		return 0, fmt.Errorf("family %q is not among the families", name)
	}
	return mask, nil
}

type number struct {
	name  string
	value float64
}

// sound refuses what is below nothing or beyond reckoning.
func sound(numbers ...number) error {
	for _, n := range numbers {
		if !(n.value >= 0) || n.value > math.MaxInt32 {
			return fmt.Errorf("%s is %g, must be 0 or more and a plain figure", n.name, n.value)
		}
	}
	return nil
}
