package water

import (
	"fmt"
	"math"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Told is an amount of water in the person's own terms.
type Told struct {
	Water   quantity.Litre
	Depth   quantity.Millimetre
	Cans    float64 // 0: no can was told
	Minutes float64 // of the drip line, sprinkler or hose at its measured rate; 0: not measured
	Says    string  // "16 mm (0.6 in), 48 L: 5 cans"
}

// Tell says how much to give to a piece of ground, by the way the bed is watered and at the rates the person measured.
//
//	water  L as given, what does not reach the roots with it
//	area   m² that it is given to
func Tell(water quantity.Litre, area quantity.SquareMetre, w garden.Watering, s garden.Supply, units quantity.System) Told {
	t := Told{Water: water}
	if area > 0 {
		t.Depth = quantity.Millimetre(float64(water) / float64(area))
	}
	t.Says = fmt.Sprintf("%s, %s", units.Rain(t.Depth), units.Volume(water))
	switch w.By {
	case garden.ByDrip:
		t.Minutes = minutes(float64(water), float64(w.Drip))
		t.Says += during(t.Minutes, "the drip lines", "time what they give into a jar, and minutes can be told")
	case garden.BySprinkler:
		t.Minutes = minutes(float64(t.Depth), float64(w.Rain))
		t.Says += during(t.Minutes, "the sprinkler", "set out straight-sided tins for an hour, and minutes can be told")
	case garden.ByHose:
		t.Minutes = minutes(float64(water), float64(s.Tap))
		t.Says += during(t.Minutes, "the hose", "time how long a bucket takes to fill, and minutes can be told")
	case garden.ByCan, "":
		if s.Can > 0 {
			t.Cans = float64(water) / float64(s.Can)
			t.Says += ": " + cans(t.Cans)
		}
	}
	return t
}

func minutes(amount, anHour float64) float64 {
	if anHour <= 0 {
		return 0
	}
	return 60 * amount / anHour
}

func during(minutes float64, what, remedy string) string {
	switch {
	case minutes <= 0:
		return " (" + remedy + ")"
	case minutes >= 120:
		return fmt.Sprintf(": %.1f hours of %s", minutes/60, what)
	}
	return fmt.Sprintf(": %.0f min of %s", math.Max(1, minutes), what)
}

// cans counts to the half can: "1 can", "2½ cans".
func cans(n float64) string {
	halves := math.Max(1, math.Round(2*n))
	whole, half := math.Floor(halves/2), math.Mod(halves, 2) == 1
	switch {
	case whole == 0:
		return "½ can"
	case half:
		return fmt.Sprintf("%.0f½ cans", whole)
	case whole == 1:
		return "1 can"
	}
	return fmt.Sprintf("%.0f cans", whole)
}

// TellWeek says a week's watering in a sentence: how much, how often, each time.
func TellWeek(a Amount, area quantity.SquareMetre, w garden.Watering, s garden.Supply, units quantity.System) string {
	if a.Water < 0.5 || a.Times < 0.5 {
		return "no watering"
	}
	times := math.Max(1, math.Round(a.Times))
	each := Tell(a.Water/quantity.Litre(times), area, w, s, units)
	if times == 1 {
		return "once: " + each.Says
	}
	return fmt.Sprintf("%s in the week, every %s: each time %s", units.Rain(a.Depth), days(7/times), each.Says)
}

func days(n float64) string {
	if n < 1.5 {
		return "day"
	}
	return fmt.Sprintf("%.0f days", math.Round(n))
}
