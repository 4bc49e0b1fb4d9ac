package soil

import (
	"fmt"
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Hole is the hole or trench that a perennial is planted in.
type Hole struct {
	Crop   string // ID
	Trench bool   // a trench of Width and Depth along the row; else a round hole
	Width  quantity.Metre
	Depth  quantity.Metre
	Crown  quantity.Metre // how deep the crown, the bud or the root's neck lies under the finished surface at the most; 0: level with it
	Level  string         // the same in words
	Fill   []Filling      // of what is put back
	How    []string
	Reason []garden.Reason
}

// Filling is a share of a hole's volume.
type Filling struct {
	Material string  // ID
	Share    float64 // of the hole
}

// plantingHoles are the perennials that want more than a dibber's hole.
//
// Source: none for the sizes of hole where none is named, common practice; RHU-SHF; ILL-ASP; ISU-ASP; RASP; MOBOT-GRAPE
var plantingHoles = []Hole{
	{
		Crop: "rhubarb", Width: 18 * inch, Depth: 18 * inch, Crown: inch, Level: "the bud at the surface, at most 2.5 cm (1 in) under it",
		Fill: []Filling{{"compost", 1. / 3}},
		How:  []string{"Dig it 45 cm (18 in) across and deep; put the topsoil aside.", "Loosen the bottom; mix a third of compost or rotted manure into what goes back.", "Set the crown with its bud just under the surface, firm it, water."},
		Reason: []garden.Reason{
			{Says: "It stands for years and feeds deep: a hole 45 cm (18 in) across and deep.", Rule: "common practice"},
			{Says: "Growers disagree on the depth, from level with the surface to 5 cm (2 in) under: the shallow side is followed, because a buried bud rots.", Source: "RHU-SHF; RHU-WFF"},
		},
	},
	{
		Crop: "grape", Width: 24 * inch, Depth: 24 * inch, Level: "as deep as it stood before; a graft stays above the ground",
		Fill: []Filling{{"compost", 1. / 5}},
		How:  []string{"Dig it 60 cm (2 ft) across and deep and loosen the sides, so that roots get out.", "Spread the roots over a cone of earth; fill with topsoil and a fifth of compost, no fresh manure, no fertiliser on the roots.", "Cut it back to two or three buds; drive the stake before filling."},
		Reason: []garden.Reason{
			{Says: "A hole 60 cm (2 ft) each way is the rule of the trade; 30–40 cm (12–16 in) will do in deep loose soil, where it need only take the spread roots.", Rule: "common practice"},
			{Says: "At planting it is cut back to two or three buds.", Source: "MOBOT-GRAPE"},
		},
	},
	{
		Crop: "asparagus", Trench: true, Width: 15 * inch, Depth: 8 * inch, Crown: 8 * inch, Level: "15–20 cm (6–8 in) under the finished surface in heavy soil, 20–25 cm (8–10 in) in light",
		Fill: []Filling{{"compost", 1. / 4}},
		How:  []string{"Dig a trench 30–45 cm (12–18 in) wide; work compost into the bottom.", "Set the crowns on a ridge of 5 cm (2 in), roots spread to both sides, and cover with as much earth.", "Fill the trench as the spears grow; it is level by autumn."},
		Reason: []garden.Reason{
			{Says: "Trench 30–45 cm (12–18 in) wide, crowns on a low ridge, filled in as they grow.", Source: "ILL-ASP"},
			{Says: "Crowns 15–20 cm (6–8 in) deep in heavy soil, 20–25 cm (8–10 in) in light.", Source: "ISU-ASP"},
		},
	},
	{
		Crop: "raspberry", Width: 12 * inch, Depth: 12 * inch, Crown: 2 * inch, Level: "as it stood before, at most 5 cm (2 in) deeper",
		Fill: []Filling{{"compost", 1. / 4}},
		How:  []string{"Dig holes, or one trench, 30 cm (1 ft) wide and deep; work in compost.", "Spread the roots; cut the canes to three or four buds.", "Not where tomatoes, potatoes, peppers or eggplants grew: a wilt of theirs takes raspberries too."},
		Reason: []garden.Reason{
			{Says: "At planting canes are cut to three or four buds.", Source: "RASP"},
			{Says: "Set deeper than 2–5 cm (1–2 in) the buds at the crown come late or not at all.", Rule: "common practice"},
		},
	},
	{
		Crop: "strawberry", Width: 6 * inch, Depth: 6 * inch, Level: "the crown's middle level with the surface: buried it rots, raised it dries",
		Fill:   nil,
		How:    []string{"Dig over the whole row with compost beforehand; each plant then needs only a hole for its roots.", "Fan the roots over a small cone; the crown level with the surface; firm and water."},
		Reason: []garden.Reason{{Says: "The crown level with the surface, roots just covered.", Rule: "common practice"}},
	},
	{
		Crop: "horseradish", Width: 8 * inch, Depth: 12 * inch, Crown: 3 * inch, Level: "the thick end 5–8 cm (2–3 in) under the surface, the root slanting",
		Fill:   []Filling{{"compost", 1. / 4}},
		How:    []string{"Where it cannot spread: every piece of root grows again.", "Lay the root slanting, thick end up."},
		Reason: []garden.Reason{{Says: "Root cuttings, 5–10 cm (2–4 in) under, slanting.", Rule: "common practice"}},
	},
	{
		Crop: "artichoke-globe", Width: 12 * inch, Depth: 12 * inch, Level: "as it stood in its pot",
		Fill:   []Filling{{"compost", 1. / 3}},
		How:    []string{"Dig deep and mix in a third of compost; it wants water that drains away in winter."},
		Reason: []garden.Reason{{Says: "It feeds heavily and stands for years.", Rule: "common practice"}},
	},
}

// HoleFor is the hole for a crop in a texture of soil; false for what needs none.
func HoleFor(c *crop.Crop, texture garden.Texture, units quantity.System) (Hole, bool) {
	if c == nil {
		return Hole{}, false
	}
	for _, h := range plantingHoles {
		if h.Crop != c.ID && h.Crop != c.Base {
			continue
		}
		if h.Crop == "asparagus" && (texture == garden.Sand || texture == garden.SandyLoam) {
			h.Depth, h.Crown = 10*inch, 10*inch
		}
		return h.said(units), true
	}
	return Hole{}, false
}

// said is the hole with its words in the person's units.
func (h Hole) said(units quantity.System) Hole {
	h.Level, h.How = inUnits(h.Level, units), allInUnits(h.How, units)
	reasons := make([]garden.Reason, len(h.Reason))
	for i, r := range h.Reason {
		r.Says = inUnits(r.Says, units)
		reasons[i] = r
	}
	h.Reason = reasons
	return h
}

// holeAnHour is the earth that is dug out and put back in an hour, litres; estimated.
const holeAnHour = 300.0

// Digging is the holes of a planting.
type Digging struct {
	Holes  int                       // 0 for a trench
	Earth  quantity.Litre            // dug out
	Mix    map[string]quantity.Litre // by material
	Spoil  quantity.Litre            // earth left over for elsewhere, what is mixed in takes its place
	Hours  quantity.Hour
	Says   string
	Stints int // of about 40 minutes
}

// Volume is the earth of one hole, or of a metre of trench.
func (h Hole) Volume() quantity.Litre {
	if h.Trench {
		return quantity.Litre(float64(h.Width*h.Depth) * 1000)
	}
	return quantity.Litre(math.Pi / 4 * float64(h.Width*h.Width*h.Depth) * 1000)
}

// Dig reckons the holes for plants, or the trench for a length of row.
func (h Hole) Dig(plants int, row quantity.Metre, units quantity.System) (Digging, error) {
	d := Digging{Holes: plants, Mix: map[string]quantity.Litre{}}
	if h.Trench {
		if !(row > 0) {
			return d, fmt.Errorf("the trench has no length; give the length of the row")
		}
		d.Holes, d.Earth = 0, h.Volume()*quantity.Litre(row)
	} else {
		if plants <= 0 {
			return d, fmt.Errorf("there is nothing to plant; give how many plants there are")
		}
		d.Earth = h.Volume() * quantity.Litre(plants)
	}
	for _, f := range h.Fill {
		d.Mix[f.Material] += d.Earth * quantity.Litre(f.Share)
		d.Spoil += d.Earth * quantity.Litre(f.Share)
	}
	d.Hours = quantity.Hour(float64(d.Earth) / holeAnHour)
	d.Stints = int(math.Ceil(float64(d.Hours)*60/stintMinutes - 1e-9))
	what := fmt.Sprintf("%d holes", d.Holes)
	if d.Holes == 1 {
		what = "1 hole"
	}
	if h.Trench {
		what = units.Length(row) + " of trench"
	}
	d.Says = fmt.Sprintf("%s: %s of earth to dig out and put back, about %.1f hours in short spells, %d of them (estimated).", what, Bulk(d.Earth, units), float64(d.Hours), d.Stints)
	return d, nil
}
