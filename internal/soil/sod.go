package soil

import (
	"errors"
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// BreakWay is what becomes of the sod on new ground.
type BreakWay string

// The ways.
const (
	StripAndStack BreakWay = "strip and stack"
	TurnUnder     BreakWay = "turn under"
	ForkOver      BreakWay = "fork over" // overgrown ground without a sod
	DigOver       BreakWay = "dig over"  // ground that is dug already
)

// The figures of breaking ground, all estimated for an able person who does not hurry, and common practice: sod is cut a spade's
// thickness of about 1¾ in; with 6 in of topsoil and more under it there is earth to spare for the heap, with less there is not.
const (
	enoughTopsoil quantity.Metre = 6 * inch
	sodThickness  quantity.Metre = 1.75 * inch
	sodDensity                   = 1.2 // kg/L, moist
	stripAnHour                  = 5.0 // m² stripped and carted to the heap
	turnAnHour                   = 4.0 // m² of sod cut, turned grass side down and chopped
	forkAnHour                   = 5.0 // m² forked, roots shaken out
	digAnHour                    = 7.0 // m² dug one spade deep and raked
	passAnHour                   = 60.0
	fetchTiller                  = 0.5 // hours: fetch, fuel, clean
	rotWeeks                     = 4   // until turned sod has stopped robbing and growing
)

// Toil is one way to do it with one tool.
type Toil struct {
	Tool   garden.DiggingTool
	Passes []string // what is done, in order
	Hours  quantity.Hour
	Low    quantity.Hour // soft ground, a practised hand
	High   quantity.Hour // stones, roots, clay
}

// Breaking is how new ground is made ready.
type Breaking struct {
	Way    BreakWay
	Area   quantity.SquareMetre
	Toils  []Toil         // by hand, by tiller
	Sod    quantity.Litre // for the heap
	Weighs quantity.Kilogram
	Heap   *garden.HeapPart // what goes on the heap; nil: nothing
	Wait   int              // days from the work to planting
	Told   bool             // the depth of topsoil is known

	Reasons  []garden.Reason
	Cautions []string
}

// Break decides how ground is broken, and reckons the work with a fork and spade and with a tiller. How much topsoil lies under the
// sod decides: where there is plenty the sod is stripped and stacked, which leaves clean ground at once; where it is thin, the sod is most
// of the good earth there is, and is turned under.
func Break(area quantity.SquareMetre, s garden.Soil, units quantity.System) (Breaking, error) {
	if !(area > 0) || math.IsInf(float64(area), 0) {
		return Breaking{}, errors.New("the ground to break has no size; give the bed's length and width")
	}
	b := Breaking{Area: area, Told: s.Topsoil > 0}
	why := func(rule, says string) {
		b.Reasons = append(b.Reasons, garden.Reason{Says: says, Rule: rule})
	}
	switch {
	case s.State == garden.Sod && s.Topsoil >= enoughTopsoil:
		b.Way = StripAndStack
		b.Sod = quantity.Litre(float64(area) * float64(sodThickness) * 1000)
		b.Weighs = quantity.Kilogram(float64(b.Sod) * sodDensity)
		b.Heap = &garden.HeapPart{Feedstock: "sod", Volume: b.Sod}
		why("topsoil under the sod", fmt.Sprintf("There are %s of topsoil, so the sod can be spared: stripped, it leaves no grass to grow again and the ground can be planted at once. Stacked grass side down and covered from light it is good loam within a year.", units.Depth(s.Topsoil)))
	case s.State == garden.Sod:
		b.Way, b.Wait = TurnUnder, rotWeeks*7
		if b.Told {
			why("topsoil under the sod", fmt.Sprintf("There are only %s of topsoil, and the sod holds the best of it: turn it under, grass side down and a spade deep, so that it rots there.", units.Depth(s.Topsoil)))
		} else {
			why("topsoil under the sod", fmt.Sprintf("How much topsoil lies under the sod is not known: dig one hole and look how deep the dark earth reaches. With %s and more the sod can be stripped and stacked; until that is known it is reckoned as turned under, which loses nothing.", units.Depth(enoughTopsoil)))
		}
		why("sod rots first", fmt.Sprintf("Turned-under sod takes nitrogen while it rots and may grow again: turn it in autumn, or at least %d weeks before planting.", rotWeeks))
	case s.State == garden.Neglected:
		b.Way, b.Wait = ForkOver, 14
		why("overgrown ground", "Dug once and overgrown since: fork it over and shake out the roots of couch, bindweed and dock; two weeks later hoe what has come up.")
	default:
		b.Way = DigOver
		why("ground that is dug", "It is garden ground already: dig it one spade deep for the first crop of the year, and only loosen it after that.")
	}
	b.toils(s, units)
	b.Cautions = append(b.Cautions,
		"Ask where cables and pipes run before anyone digs: the utilities mark them.",
		"A sharpened spade cuts boots too: feet apart, eyes on the blade, and leave it standing upright.",
		"Lift with the legs, small spits, and change sides; stop before the back tires.",
		"With a powered tiller: stones and people out of the way first, sturdy shoes, and the engine stopped and its spark lead off before anything is cleared from the tines.")
	if b.Way == StripAndStack {
		b.Cautions = append(b.Cautions, fmt.Sprintf("This sod weighs about %s, %s on each barrow: cut small pieces, half barrows.", units.Mass(b.Weighs), units.Mass(quantity.Kilogram(sodDensity*float64(3*cubicFoot)))))
	}
	return b, nil
}

// toils reckons the work by hand and by tiller.
func (b *Breaking) toils(s garden.Soil, units quantity.System) {
	area := float64(b.Area)
	hand := Toil{Tool: garden.ForkAndSpade}
	tiller := Toil{Tool: garden.Tiller}
	strip := 0.0
	passes := 0
	switch b.Way {
	case StripAndStack:
		strip = area / stripAnHour
		hand.Passes = []string{"strip the sod with a sharp spade", "cart and stack it", "dig one spade deep and rake"}
		hand.Hours = quantity.Hour(strip + area/digAnHour)
		tiller.Passes = []string{"strip the sod with a sharp spade", "cart and stack it", "till shallow, along", "till to full depth, across"}
		passes = 2
	case TurnUnder:
		hand.Passes = []string{"cut the sod in squares", "turn each spit grass side down, a spade deep", "chop and rake"}
		hand.Hours = quantity.Hour(area / turnAnHour)
		tiller.Passes = []string{"mow close", "till " + units.Depth(2*inch) + " deep, along", "till " + units.Depth(2*inch) + " deep, across", "a week later till to full depth, along", "and across"}
		passes = 4
	case ForkOver:
		hand.Passes = []string{"cut down what stands", "fork over a spade deep, roots out", "two weeks later hoe"}
		hand.Hours = quantity.Hour(area / forkAnHour)
		tiller.Passes = []string{"cut down what stands", "rake out roots by hand: a tiller cuts them up and each piece grows", "till shallow, along", "till deeper, across", "two weeks later once more"}
		passes = 3
	default:
		hand.Passes = []string{"dig one spade deep and rake"}
		hand.Hours = quantity.Hour(area / digAnHour)
		tiller.Passes = []string{"till to full depth, along"}
		passes = 1
	}
	tiller.Hours = quantity.Hour(fetchTiller + strip + float64(passes)*area/passAnHour)
	heavy := 1.0
	if s.Texture == garden.Clay || s.Texture == garden.ClayLoam {
		heavy = 1.4
		b.Reasons = append(b.Reasons, garden.Reason{Says: "Clay takes about half as long again.", Rule: "time by soil"})
	}
	for _, t := range []Toil{hand, tiller} {
		t.Hours *= quantity.Hour(heavy)
		t.Low, t.High = t.Hours*0.6, t.Hours*1.6
		b.Toils = append(b.Toils, t)
	}
	faster := "the spade is done sooner"
	if b.Toils[1].Hours < b.Toils[0].Hours {
		faster = "the tiller is done sooner"
	}
	b.Reasons = append(b.Reasons, garden.Reason{
		Says: fmt.Sprintf("With fork and spade it takes about %s (%.0f to %.0f), with a tiller %.1f (%.1f to %.1f) in %s and the fetching: here %s (estimated).",
			quantity.Plural(math.Max(1, math.Round(float64(b.Toils[0].Hours))), "hour"), float64(b.Toils[0].Low), float64(b.Toils[0].High), float64(b.Toils[1].Hours), float64(b.Toils[1].Low), float64(b.Toils[1].High), passesWord(passes), faster),
		Rule: "time by tool",
	})
}

// By is the work with a tool; a fork and spade where none is told.
func (b Breaking) By(tool garden.DiggingTool) Toil {
	for _, t := range b.Toils {
		if t.Tool == tool {
			return t
		}
	}
	return b.Toils[0]
}

// A stint of digging; common practice: half an hour to three quarters, once a day, twice when it must be, and never a whole day.
const (
	stintMinutes = 40
	mostADay     = 2
)

// Stint is one short spell of digging.
type Stint struct {
	Day     civil.Date
	Minutes int
	Area    quantity.SquareMetre // of the ground to be planted next
}

// Stints plans digging in short spells on the days before planting, the last on the eve: one a day, a second one only where the days
// are too few. It never plans a whole day.
//
//	hours  of the whole work
//	from   the first day on which there may be digging
//	plant  the day of planting
//	fit    whether a day will do; nil: every day
//	left   what cannot be done in time: plant later, begin earlier, or get help
func Stints(hours quantity.Hour, area quantity.SquareMetre, from, plant civil.Date, fit func(civil.Date) bool) (stints []Stint, left quantity.SquareMetre) {
	if !(hours > 0) || !(area > 0) || math.IsInf(float64(hours), 0) {
		return nil, 0
	}
	var days []civil.Date
	for d := plant - 1; d >= from && len(days) < 366; d-- {
		if fit == nil || fit(d) {
			days = append(days, d)
		}
	}
	minutes := float64(hours) * 60
	need := int(math.Ceil(minutes/stintMinutes - 1e-9))
	planned := min(need, mostADay*len(days))
	if planned == 0 {
		return nil, area
	}
	each := quantity.SquareMetre(float64(area) / float64(need))
	length := int(math.Ceil(minutes / float64(need)))
	// One a day while the days last, the nearest to planting first; what is over is second spells on the same days.
	count := make([]int, len(days))
	for i := range planned {
		count[i%len(days)]++
	}
	for i := len(days) - 1; i >= 0; i-- {
		for range count[i] {
			stints = append(stints, Stint{Day: days[i], Minutes: length, Area: each})
		}
	}
	return stints, area - each*quantity.SquareMetre(planned)
}
