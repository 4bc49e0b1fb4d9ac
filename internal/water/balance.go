package water

import (
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// State is the water of a piece of ground, as what is missing from field capacity, mm. The zero State has drained.
type State struct {
	Root    float64 // m that the roots reach now
	Missing float64 // mm missing within reach of the roots
	Below   float64 // mm missing between the roots and the deepest that any crop of the ground reaches
	Dry     float64 // mm missing at the surface of the part that is wetted and bare; part of Missing
	Wetted  float64 // share of the ground that the last water wetted; 0: all
}

// Asks is what one day asks of the ground.
type Asks struct {
	Reference float64 // mm of reference evapotranspiration
	Basal     float64 // coefficient of the crop
	Most      float64 // greatest coefficient of the day
	Cover     float64 // share of the ground shaded, 0–0.99
	Root      float64 // m
	Share     float64 // printed p
	Mulch     garden.Mulch
	Rain      float64 // mm
	Water     float64 // mm given, over the whole of the ground
	Wets      float64 // share of the ground that watering wets, 0.1–1
}

// Flows is what went where on a day, mm. Rain + Water = Runoff + Drained + Drawn + Lost + what the ground gained.
type Flows struct {
	Rain, Water, Runoff, Drained float64
	Drawn                        float64 // by the crop
	Lost                         float64 // from bare ground
	Wanted                       float64 // what the crop would have drawn without thirst, and the ground lost
	Stress                       float64 // 1: none
	Ready                        float64 // mm that may be missing before the crop suffers
}

// Column is a piece of ground down to the deepest roots of a season.
type Column struct {
	Ground Ground
	Deep   float64 // m
}

// wetsAll is the rain, mm, that wets the whole ground. Source: FAO56 (chapter 7: 3 mm and more)
const wetsAll = 3.0

// atFeet is the greatest share of the ground that is wetted where water is given at the plants' feet, by drip lines or a can: what is wetted
// then lies under the canopy rather than between.
//
// Source: FAO56 (chapter 7: for trickle the wetted share times 1 less two thirds of the cover)
const atFeet = 0.5

// closing is how far a day's balance may stand open, mm: the rounding of sums.
const closing = 1e-6

// OpenError is a day on which water came or went unaccounted for: a fault of the program, told rather than hidden.
type OpenError struct {
	Day  civil.Date
	Open float64 // mm
}

// Error is a sentence.
func (e *OpenError) Error() string {
	return fmt.Sprintf("the water balance of %s stands open by %.6f mm: this is a fault of the program, and its figures from that day on are not to be trusted; please report it", e.Day, e.Open)
}

// Day takes the ground through one day: water comes early, what is above field capacity drains, then sun and crop draw.
//
// Source: FAO56 eq. 69, 71, 73, 74, 77 (surface), 82, 84, 85 (root zone), with water early in the day as in its examples
// 35 and 38
func (c *Column) Day(s *State, day civil.Date, a Asks) (Flows, error) {
	before := s.Missing + s.Below
	c.reach(s, a.Root)
	f := Flows{Rain: a.Rain, Water: a.Water, Runoff: c.Ground.Runoff(a.Rain)}
	in := a.Rain - f.Runoff + a.Water
	f.Drained = c.soak(s, a, in, a.Rain-f.Runoff)
	c.draw(s, a, &f)
	after := s.Missing + s.Below
	if open := before - after + f.Drawn + f.Lost + f.Drained + f.Runoff - f.Rain - f.Water; !(math.Abs(open) < closing) {
		return f, &OpenError{Day: day, Open: open}
	}
	return f, nil
}

// reach moves the lower edge of the rooted ground: what is missing there changes hands.
func (c *Column) reach(s *State, root float64) {
	root = max(surface, min(root, c.Deep))
	switch {
	case s.Root == 0:
	case root > s.Root && c.Deep > s.Root:
		moved := s.Below * (root - s.Root) / (c.Deep - s.Root)
		s.Missing, s.Below = s.Missing+moved, s.Below-moved
	case root < s.Root:
		dry := min(s.Dry, s.Missing) // the surface stays within reach
		moved := (s.Missing - dry) * (s.Root - root) / s.Root
		s.Missing, s.Below = s.Missing-moved, s.Below+moved
	}
	s.Root = root
}

// soak lets water in: the surface first, then the rooted ground, then what lies below. The rest has drained.
func (c *Column) soak(s *State, a Asks, in, rain float64) float64 {
	wets := max(0.1, min(1, a.Wets))
	if a.Wets == 0 {
		wets = 1
	}
	s.Dry = max(0, s.Dry-rain-a.Water/wets) // eq. 77
	switch {
	case rain >= wetsAll:
		s.Wetted = 1
	case a.Water > 0:
		s.Wetted = wets
	}
	down := max(0, in-s.Missing)
	s.Missing -= in - down
	drained := max(0, down-s.Below)
	s.Below -= down - drained
	return drained
}

// draw lets the crop and the sun take water.
func (c *Column) draw(s *State, a Asks, f *Flows) {
	available := float64(c.Ground.Available(1)) * s.Root
	bare := max(0.01, 1-a.Cover)
	switch {
	case s.Wetted > 0 && s.Wetted <= atFeet:
		bare = min(bare, max(0.01, s.Wetted*(1-2./3*a.Cover))) // the canopy shades it first
	case s.Wetted > 0:
		bare = min(bare, s.Wetted) // eq. 75
	}
	free := c.Ground.Freely(s.Dry)
	evaporates := min(free*max(0, a.Most-a.Basal), bare*a.Most) // eq. 71
	basal, evaporates := mulched(a.Mulch, a.Basal, evaporates, a.Cover)
	share := ShareAt(a.Share, (basal+evaporates)*a.Reference)
	f.Ready, f.Stress = share*available, Stress(s.Missing, available, share)
	f.Wanted = (basal + evaporates) * a.Reference
	f.Drawn = min(f.Stress*basal*a.Reference, max(0, available-s.Missing))
	// Bare ground dries beyond the wilting point, to half of it.
	left := available + 500*c.Ground.Wilting*surface - s.Missing - f.Drawn
	f.Lost = min(evaporates*a.Reference, max(0, left))
	s.Dry = min(c.Ground.Evaporable(), s.Dry+f.Lost/bare)
	s.Missing += f.Drawn + f.Lost
}
