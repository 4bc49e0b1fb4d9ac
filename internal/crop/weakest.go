package crop

import (
	"slices"
	"strings"
)

// Tally counts figures by how far they can be trusted.
type Tally struct {
	Name  string // what is counted: a field's name, a crop's ID, or empty for the whole catalogue
	Moves string // of a field: what a wrong figure would move
	Count map[Quality]int
	All   int
}

// Share is the share of the figures, 0–1, that have a quality.
func (t Tally) Share(q Quality) float64 {
	if t.All == 0 {
		return 0
	}
	return float64(t.Count[q]) / float64(t.All)
}

func (t *Tally) add(f Figure) {
	if t.Count == nil {
		t.Count = map[Quality]int{}
	}
	t.Count[f.Quality]++
	t.All++
}

// CropFigure is a figure with the crop it belongs to.
type CropFigure struct {
	Crop *Crop
	Figure
}

// Tally counts every figure of the catalogue.
func (c *Catalogue) Tally() Tally {
	var t Tally
	for _, each := range c.crops {
		for _, f := range each.Figures {
			t.add(f)
		}
	}
	return t
}

// FieldTallies counts by field, the methods of one crop together; fields that move dates first, then the
// greater share from memory, then by name.
func (c *Catalogue) FieldTallies() []Tally {
	by := map[string]*Tally{}
	for _, each := range c.crops {
		for _, f := range each.Figures {
			name := plainField(f.Field)
			if by[name] == nil {
				by[name] = &Tally{Name: name, Moves: Moves(f.Field)}
			}
			by[name].add(f)
		}
	}
	return sorted(by)
}

// CropTallies counts by crop, the greater share from memory first, then by ID.
func (c *Catalogue) CropTallies() []Tally {
	by := map[string]*Tally{}
	for _, each := range c.crops {
		by[each.ID] = &Tally{Name: each.ID}
		for _, f := range each.Figures {
			by[each.ID].add(f)
		}
	}
	return sorted(by)
}

func sorted(by map[string]*Tally) []Tally {
	out := make([]Tally, 0, len(by))
	for _, t := range by {
		out = append(out, *t)
	}
	slices.SortFunc(out, func(a, b Tally) int {
		switch x, y := a.Share(FromMemory), b.Share(FromMemory); {
		case a.Moves != b.Moves:
			return slices.Index(moved, a.Moves) - slices.Index(moved, b.Moves)
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return strings.Compare(a.Name, b.Name)
	})
	return out
}

// Weakest are all figures of the catalogue, the least trusted first; of equals those that move dates first, then
// by field and crop.
func (c *Catalogue) Weakest() []CropFigure {
	var list []CropFigure
	for _, each := range c.crops {
		for _, f := range each.Figures {
			list = append(list, CropFigure{each, f})
		}
	}
	order := Qualities()
	slices.SortStableFunc(list, func(a, b CropFigure) int {
		if a.Quality != b.Quality {
			return slices.Index(order, b.Quality) - slices.Index(order, a.Quality)
		}
		if x, y := Moves(a.Field), Moves(b.Field); x != y {
			return slices.Index(moved, x) - slices.Index(moved, y)
		}
		return strings.Compare(plainField(a.Field), plainField(b.Field))
	})
	return list
}

// What a wrong figure would move, the gravest first.
var moved = []string{"dates", "amounts", "room", "advice"}

// Moves says what a wrong figure of a field would move: the dates of the plan, its amounts, the room that plants
// are given, or only advice.
func Moves(field string) string {
	group, rest, _ := strings.Cut(field, ".")
	switch group {
	case "emergence", "cardinal", "hardiness", "heat", "daylength":
		return "dates"
	case "method":
		if strings.HasSuffix(rest, "depth") {
			return "advice"
		}
		return "dates"
	case "harvest":
		if rest == "span" || rest == "first_year" {
			return "dates"
		}
		return "amounts"
	case "seed":
		return "amounts"
	case "spacing", "plant", "light", "rotation":
		return "room"
	}
	return "advice"
}

// plainField is a field's name without the number of its method: "method.days".
func plainField(field string) string {
	parts := strings.Split(field, ".")
	if len(parts) == 3 && parts[0] == "method" {
		return "method." + parts[2]
	}
	return field
}
