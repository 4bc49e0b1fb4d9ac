// Package growth is one planting through one weather year, then through all of them; planting windows.
package growth

import (
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// Option is one crop grown by one of its methods, in the open or under a cover.
type Option struct {
	Crop       *crop.Crop
	Method     int
	Protection *crop.Protection // nil: open ground
}

// method is the way of growing that the option names.
func (o Option) method() crop.Method { return o.Crop.Methods[o.Method] }

// Fate is how a planting ends in one weather year.
type Fate uint8

// The fates.
const (
	Ready        Fate = iota // harvested
	TooCold                  // the soil or nights were below what it needs when it should go in
	DidNotComeUp             // not up within its limit
	Frozen                   // killed by cold before harvest
	Bolted                   // spoiled by heat or day length
	DidNotSet                // flowered in heat or cold too great to set
	OutOfTime                // not ready before the weather year or the season's useful days ran out
)

// Outcome is one planting in one weather year. Dates are those of the season being planned.
type Outcome struct {
	Fate   Fate
	In     civil.Date // the day it goes in: the start day, or in a late year some days later; the start day when it never does
	Emerge civil.Date // Sow and Set: up; SetOut: the day it goes in. Zero when it never came up
	First  civil.Date // first harvest; meaningful when Ready
	Last   civil.Date // last harvest; meaningful when Ready
	Yield  float64    // share of the full yield, 0–1
}

// Summary is a start day over all weather years. A spread over no years is zero.
type Summary struct {
	Start   civil.Date
	Success int // weather years that end Ready
	Years   int
	Emerge  garden.Spread // over the years in which it came up
	First   garden.Spread // over the years that end Ready
	Last    garden.Spread
	Days    [3]int  // days from start to first harvest, 10, 50 and 90 %
	Yield   float64 // mean share of the full yield over all years, failures as 0
	Fates   [7]int  // years by fate
	Losses  Losses  // the years that fail, by what ended the planting
}

// Window is a run of start days on which at least the asked share of years succeed, short gaps bridged (see Windows).
type Window struct {
	civil.Span
	Best civil.Date // the middle of the earliest days that are as good as any, or nearly (see Table.best)
	Days [3]int     // days to first harvest from Best at 10, 50, 90 %
	// Opens and Closes say what ends the window on either side.
	Opens, Closes Edge
}
