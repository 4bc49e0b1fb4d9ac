package garden

import (
	"kailyard/internal/quantity"
)

// Supply is where the garden's water comes from, as the person measured it. What is 0 is not there or not known.
type Supply struct {
	Tap  quantity.LitrePerHour // what the tap gives, from the time a bucket takes to fill
	Can  quantity.Litre        // the watering can
	Roof quantity.SquareMetre  // seen from above, that drains into the tank
	Tank quantity.Litre        // butts and barrels together
}

// WateringWay is how a bed is watered.
type WateringWay string

// The ways.
const (
	ByCan       WateringWay = "can"
	ByHose      WateringWay = "hose"
	ByDrip      WateringWay = "drip"
	BySprinkler WateringWay = "sprinkler"
	Unwatered   WateringWay = "none"
)

// WateringWays are all of them.
var WateringWays = []WateringWay{ByCan, ByHose, ByDrip, BySprinkler, Unwatered}

// Mulch is what lies between a bed's plants.
type Mulch string

// The mulches.
const (
	NoMulch      Mulch = ""
	OrganicMulch Mulch = "organic" // straw, leaves, grass, chips, a hand deep over all the ground
	FilmMulch    Mulch = "film"    // plastic sheet
)

// Mulches are all that can be told.
var Mulches = []Mulch{OrganicMulch, FilmMulch}

// Watering is how one bed is watered; of the site, how its beds are unless one tells otherwise.
type Watering struct {
	By    WateringWay                // empty: as the site's; of the site: can
	Drip  quantity.LitrePerHour      // what the bed's drip lines give together
	Rain  quantity.MillimetrePerHour // what the sprinkler lays down, measured in straight-sided tins
	Mulch Mulch                      // empty: none
}

// The largest that garden taps, cans, roofs and tanks are.
const (
	largestFlow   = quantity.LitrePerHour(20000)
	largestCan    = quantity.Litre(50)
	largestRoof   = quantity.SquareMetre(5000)
	largestTank   = quantity.Litre(1e6)
	heaviestSpray = quantity.MillimetrePerHour(200)
)

// Validate tells what is wrong with the supply.
func (s Supply) Validate() Problems {
	var ps Problems
	if !within(s.Tap, 0, largestFlow) {
		ps.add("tap", `time how long a bucket takes to fill and write it as "12 L/min" or "3 gal/min"`, "the tap gives %v L an hour", float64(s.Tap))
	} else if s.Tap > 0 && s.Tap < 30 {
		ps.doubt("tap", "check the unit: L/min or L/h", "the tap gives %.0f L an hour, which is a trickle", float64(s.Tap))
	}
	if !within(s.Can, 0, largestCan) {
		ps.add("can", `write what it holds, for example "9 L" or "2 gal"`, "the watering can holds %v L", float64(s.Can))
	}
	if !within(s.Roof, 0, largestRoof) {
		ps.add("roof", `write its area seen from above, for example "24 m²" or "260 sq ft"`, "the roof is %v m²", float64(s.Roof))
	}
	if !within(s.Tank, 0, largestTank) {
		ps.add("tank", `write what it holds, for example "200 L" or "55 gal"`, "the tank holds %v L", float64(s.Tank))
	}
	if s.Tank > 0 && s.Roof == 0 {
		ps.doubt("roof", "write the area of roof that drains into it", "there is a tank but no roof to fill it")
	}
	return ps
}

// Validate tells what is wrong with how a bed is watered.
func (w Watering) Validate() Problems {
	var ps Problems
	if w.By != "" {
		oneOf(&ps, "watered_by", w.By, WateringWays)
	}
	if w.Mulch != NoMulch {
		oneOf(&ps, "mulch", w.Mulch, Mulches)
	}
	if !within(w.Drip, 0, largestFlow) {
		ps.add("drip", `write what all its lines give together, for example "24 L/h" or "6 gal/h"`, "the drip lines give %v L an hour", float64(w.Drip))
	}
	if !within(w.Rain, 0, heaviestSpray) {
		ps.add("sprinkler", `set out straight-sided tins for an hour and write the depth, for example "12 mm/h" or "0.5 in/h"`, "the sprinkler lays down %v mm an hour", float64(w.Rain))
	}
	return ps
}

// WateredBy is how a bed is watered, its own way or the site's.
func (g Garden) WateredBy(b Bed) Watering {
	w, site := b.Watering, g.Site.Watering
	if w.By == "" {
		w.By = site.By
		if w.By == "" {
			w.By = ByCan
		}
	}
	if w.Drip == 0 {
		w.Drip = site.Drip
	}
	if w.Rain == 0 {
		w.Rain = site.Rain
	}
	if w.Mulch == NoMulch {
		w.Mulch = site.Mulch
	}
	return w
}

// waterProblems tells what is wrong with the water of a journal entry.
func (e Entry) waterProblems() Problems {
	var ps Problems
	if !(e.Volume >= 0) || e.Volume > largestVolume {
		ps.add("volume", "check the volume and its unit", "volume is %v L", float64(e.Volume))
	}
	if !within(e.Depth, 0, deepestWater) {
		ps.add("depth", `check the depth and its unit, for example "12 mm" or "0.5 in"`, "the water was %v mm deep", 1000*float64(e.Depth))
	}
	switch {
	case e.Kind == Rained && e.Volume != 0:
		ps.add("volume", `write the depth that the gauge held, for example "12 mm" or "0.5 in"`, "rain is told as a depth, not as a volume")
	case e.Kind == Rained && e.Depth == 0:
		ps.doubt("depth", `write what the gauge held, for example "12 mm" or "0.5 in"`, "no depth is given, so the rain will not count")
	case (e.Volume != 0 || e.Depth != 0) && e.Kind == Watered && e.BedID == 0:
		ps.add("bed", "name the bed that was watered", "no bed is given for the water")
	}
	return ps
}

// deepestWater is more than falls or is given in a day: 2 m.
const deepestWater = quantity.Metre(2)

// watering reads how a bed, or the site's beds, are watered.
func (f *fields) watering() Watering {
	return Watering{
		By:    WateringWay(f.text("watered_by", optional)),
		Drip:  measured(f, "drip", `"24 L/h" or "6 gal/h"`, optional, quantity.ParseFlow),
		Rain:  measured(f, "sprinkler", `"12 mm/h" or "0.5 in/h"`, optional, quantity.ParseSpray),
		Mulch: Mulch(f.text("mulch", optional)),
	}
}

// supply reads where the site's water comes from.
func (f *fields) supply() Supply {
	return Supply{
		Tap:  measured(f, "tap", `"12 L/min" or "3 gal/min"`, optional, quantity.ParseFlow),
		Can:  measured(f, "can", `"9 L" or "2 gal"`, optional, quantity.ParseVolume),
		Roof: measured(f, "roof", `"24 m²" or "260 sq ft"`, optional, quantity.ParseArea),
		Tank: measured(f, "tank", `"200 L" or "55 gal"`, optional, quantity.ParseVolume),
	}
}

func (s *scribe) watering(w Watering) {
	s.text("watered_by", string(w.By))
	if w.Drip != 0 {
		s.put("drip", quoted(s.units.ExactFlow(w.Drip)))
	}
	if w.Rain != 0 {
		s.put("sprinkler", quoted(s.units.ExactSpray(w.Rain)))
	}
	s.text("mulch", string(w.Mulch))
}

func (s *scribe) supply(of Supply) {
	if of.Tap != 0 {
		s.put("tap", quoted(s.units.ExactFlow(of.Tap)))
	}
	s.someVolume("can", of.Can)
	if of.Roof != 0 {
		s.put("roof", quoted(s.units.ExactArea(of.Roof)))
	}
	s.someVolume("tank", of.Tank)
}
