package water

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// countsOf is a number and what it counts: minutes, hours or cans.
var countsOf = regexp.MustCompile(`(?i)^\s*([0-9]+(?:[.,][0-9]+)?|½)\s*(min|mins|minute|minutes|h|hour|hours|can|cans)\.?\s*$`)

// ParseGiven reads what a bed was given in the person's words: a volume ("30 L"), a depth over the bed ("12 mm"), a time of its
// drip lines, sprinkler or hose ("25 min") or cans ("4 cans"), by the rates that were measured. One of the volume and the depth is 0.
func ParseGiven(text string, w garden.Watering, s garden.Supply, units quantity.System) (quantity.Litre, quantity.Metre, error) {
	if m := countsOf.FindStringSubmatch(text); m != nil {
		n, err := strconv.ParseFloat(strings.NewReplacer(",", ".", "½", "0.5").Replace(m[1]), 64)
		if err != nil || n <= 0 {
			return 0, 0, fmt.Errorf("%q gives no water; write more than nothing, for example 20 min", text)
		}
		switch unit := strings.ToLower(m[2]); unit[0] {
		case 'c':
			if s.Can <= 0 {
				return 0, 0, fmt.Errorf("it is not told what a can holds; tell it with the garden's water, or write litres")
			}
			return quantity.Litre(n) * s.Can, 0, nil
		case 'h':
			n *= 60
		}
		return ran(n, w, s)
	}
	volume, err := quantity.ParseVolume(text, units)
	if err == nil {
		return volume, 0, positive(text, float64(volume))
	}
	depth, other := quantity.ParseRain(text, units)
	if other == nil {
		return 0, quantity.Metre(depth / 1000), positive(text, float64(depth))
	}
	return 0, 0, fmt.Errorf("%q is no amount of water; write a volume, a depth, a time or cans, for example 30 L, 12 mm, 25 min or 4 cans", text)
}

func positive(text string, v float64) error {
	if !(v > 0) {
		return fmt.Errorf("%q gives no water; write more than nothing, for example 30 L", text)
	}
	return nil
}

// ran is what comes of minutes of a bed's watering.
func ran(minutes float64, w garden.Watering, s garden.Supply) (quantity.Litre, quantity.Metre, error) {
	switch {
	case w.By == garden.ByDrip && w.Drip > 0:
		return quantity.Litre(minutes / 60 * float64(w.Drip)), 0, nil
	case w.By == garden.BySprinkler && w.Rain > 0:
		return 0, quantity.Metre(minutes / 60 * float64(w.Rain) / 1000), nil
	case w.By == garden.ByHose && s.Tap > 0:
		return quantity.Litre(minutes / 60 * float64(s.Tap)), 0, nil
	case w.By == garden.ByDrip:
		return 0, 0, fmt.Errorf("minutes cannot be told from drip lines that were not measured; catch what they give in a jar and tell it, or write litres")
	case w.By == garden.BySprinkler:
		return 0, 0, fmt.Errorf("minutes cannot be told from a sprinkler that was not measured; stand tins under it and tell the depth of an hour, or write millimetres")
	case w.By == garden.ByHose:
		return 0, 0, fmt.Errorf("minutes cannot be told from a tap that was not measured; time how long a bucket takes to fill and tell it, or write litres")
	}
	return 0, 0, fmt.Errorf("this bed is watered with a can; write cans or litres, or tell the drip line, sprinkler or hose it has")
}

// More than this is asked back as a slip of the pen: rain that fell in a day only in a few storms of the world, and water that no bed takes
// in a day, mm. Source: common practice
const (
	mostFell  = 500
	mostGiven = 150
)

// Believable asks an entry of rain or a watering back that cannot be meant.
//
//	area  of the bed that was given it; 0: not known
func Believable(e garden.Entry, area quantity.SquareMetre, units quantity.System) error {
	depth := quantity.Millimetre(1000 * e.Depth)
	switch {
	case e.Kind == garden.Rained && depth > mostFell:
		return fmt.Errorf("%s is more rain than falls in a day but in the worst storms of the world; was a figure or the unit mistyped? What fell over several days goes into an entry for each", units.Rain(depth))
	case e.Kind != garden.Watered:
		return nil
	}
	if depth <= 0 && area > 0 {
		depth = quantity.Millimetre(float64(e.Volume) / float64(area))
	}
	if depth > mostGiven {
		return fmt.Errorf("%s over the bed is more than ground takes in a day (%s); was a figure or the unit mistyped? What was given over several days goes into an entry for each", units.Rain(depth), units.Rain(mostGiven))
	}
	return nil
}
