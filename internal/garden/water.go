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
