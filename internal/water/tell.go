package water

import (
	"fmt"
	"math"
	"strings"

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
	t.Says = fmt.Sprintf("%s, %s", depth(t.Depth, units), units.Volume(water))
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

// depth is a depth of watering, in inches to the twentieth: nobody measures finer.
func depth(mm quantity.Millimetre, units quantity.System) string {
	const twentieth = 25.4 / 20
	if units == quantity.US && mm > 5*twentieth {
		mm = quantity.Millimetre(twentieth * math.Round(float64(mm)/twentieth))
	}
	return units.Rain(mm)
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

// PartTold is a week's watering of a part of a bed in words: how much, how often, each time.
type PartTold struct {
	Ground       string // "kale and pepper (3 m²)"; empty: all that grows in the bed
	Typical, Dry string // in a typical year, and in a dry one of ten
}

// TellParts says a week's watering part by part; none where nothing wants any in a dry year either.
func TellParts(n WeekNeed, w garden.Watering, s garden.Supply, units quantity.System) []PartTold {
	var told []PartTold
	for _, p := range n.Parts {
		if p.Dry.Water < 0.5 {
			continue
		}
		one := PartTold{Typical: p.Typical.says(p.Area, w, s, units), Dry: p.Dry.says(p.Area, w, s, units)}
		if p.Area < 0.9*n.Area || len(n.Parts) > 1 {
			one.Ground = fmt.Sprintf("%s (%s)", p.Grows(), units.Area(p.Area))
		}
		told = append(told, one)
	}
	return told
}

// Says is a part's water in a line.
func (p PartTold) Says() string {
	says := p.Typical
	if p.Typical != p.Dry {
		says += "; in a dry year " + p.Dry
	}
	if p.Ground != "" {
		return p.Ground + ": " + says
	}
	return says
}

// TellIn says what a week's sowing and setting out is watered in with; empty where nothing is.
func TellIn(n WeekNeed, units quantity.System) string {
	if n.In < 0.5 || len(n.GoesIn) == 0 {
		return ""
	}
	return fmt.Sprintf("about %s to water in %s", Rough(n.In, units), Part{Names: n.GoesIn}.Grows())
}

// Grows names what grows on ground.
func (p Part) Grows() string {
	const told = 3
	switch n := len(p.Names); {
	case n == 0:
		return "what grows there"
	case n == 1:
		return p.Names[0]
	case n > told:
		return fmt.Sprintf("%s and %d more", strings.Join(p.Names[:told-1], ", "), n-told+1)
	default:
		return strings.Join(p.Names[:n-1], ", ") + " and " + p.Names[n-1]
	}
}

func (a Amount) says(area quantity.SquareMetre, w garden.Watering, s garden.Supply, units quantity.System) string {
	every := a.rhythm()
	if a.Water < 0.5 {
		return noWatering
	}
	if a.Depth < hardly && every > seldom {
		return fmt.Sprintf("hardly any: %s %s", depth(a.Depth, units), a.span())
	}
	each := Tell(a.Water*quantity.Litre(every/a.Held()), area, w, s, units)
	switch {
	case !a.whole() && every > max(1, math.Round(a.Held())): // it is due after the ground is cleared, or on one of the days
		return fmt.Sprintf("%s %s, once at most: %s", depth(a.Depth, units), a.span(), Tell(a.Water, area, w, s, units).Says)
	case every == week:
		return "once a week: " + each.Says
	}
	return fmt.Sprintf("%s %s, every %s: each time %s", depth(a.Depth, units), a.span(), days(every), each.Says)
}

// whole says whether the ground is held all the week.
func (a Amount) whole() bool { return a.Held() > week-0.5 }

// span is what the depth is for: a week, or the days of it that the ground is held.
func (a Amount) span() string {
	if a.whole() {
		return "a week"
	}
	return "in " + quantity.Plural(max(1, math.Round(a.Held())), "day")
}

// rhythm is the interval as it is told, in days, and what is given each time goes by it: halves up to a week, then days, then weeks. It is
// no longer than what one watering can bring lasts.
func (a Amount) rhythm() float64 {
	every, told := a.Every(), 1.0
	longest := MostAtOnce * a.Held() / max(1e-9, float64(a.Depth))
	for every > told {
		next := told + 0.5
		switch {
		case told >= 21:
			next = told + week
		case told >= week:
			next = told + 1
		}
		if every < (told+next)/2 || next > longest+0.01 || next > mostDays {
			break
		}
		told = next
	}
	return told
}

// mostDays is the longest interval that is told.
const mostDays = 364

// noWatering is what is said where nothing is given.
const noWatering = "no watering"

// hardly is the depth, mm in a week, and seldom the days from one watering to the next, under and over which a week is not worth a number.
const (
	hardly = 2
	seldom = 42
)

// days is an interval of a rhythm in words.
func days(n float64) string {
	switch low, part := math.Modf(n); {
	case n == 1.5:
		return "day or two"
	case part > 0:
		return fmt.Sprintf("%.0f to %.0f days", low, low+1)
	case n <= 1:
		return "day"
	case n > 21:
		return fmt.Sprintf("%.0f weeks", math.Round(n/7))
	}
	return fmt.Sprintf("%.0f days", n)
}
