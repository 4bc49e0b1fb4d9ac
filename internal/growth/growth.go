// Package growth is one planting through one weather year, then through all of them; planting windows.
package growth

import (
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Option is one crop grown by one of its methods.
type Option struct {
	Crop   *crop.Crop
	Method int
}

// Climate is the weather years of a site made ready for growth: air, soil at several depths, light, thermal sums.
type Climate struct {
	Season   civil.Season
	Latitude float64
	Years    []int // the recorded years, in order
	// unexported: flat arrays by year and day
}

// NewClimate prepares the weather years for a season at a latitude. The scenarios must start at
// least Lead days before the season and run at least Tail days past its end.
func NewClimate(season civil.Season, latitude float64, years []weather.Scenario) (*Climate, error) {
	panic("growth helper writes this")
}

// Lead and Tail are the days a scenario must reach before the season's start and past its end.
const (
	Lead = 60
	Tail = 365
)

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
	Emerge civil.Date // Sow and Set
	First  civil.Date // first harvest; meaningful when Ready
	Last   civil.Date // last harvest
	Yield  float64    // share of the full yield, 0–1
}

// Table is one option through every start day of the season and every weather year.
type Table struct {
	Option  Option
	Climate *Climate
	// unexported: packed outcomes
}

// Tabulate runs every option from every day of the season through every weather year.
func Tabulate(c *Climate, options []Option) []*Table { panic("growth helper writes this") }

// Outcome is the fate of a start day (a day of the season) in the i-th weather year.
func (t *Table) Outcome(start civil.Date, i int) Outcome { panic("growth helper writes this") }

// Summary is a start day over all weather years.
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
}

// Summary sums up a start day.
func (t *Table) Summary(start civil.Date) Summary { panic("growth helper writes this") }

// Window is a run of start days on each of which at least the asked share of years succeed.
type Window struct {
	civil.Span
	Best civil.Date // the start day with the highest chance (the earliest of equals in spring … stated)
	Days [3]int     // days to first harvest from Best at 10, 50, 90 %
	// Opens and Closes say what ends the window on either side.
	Opens, Closes garden.Reason
}

// Windows are the spans of start days on which at least share (0–1) of the years succeed.
// Gaps of up to three days are bridged.
func (t *Table) Windows(share float64) []Window { panic("growth helper writes this") }

// Harvest is the mean share of the full yield taken in each week of the season and the year after
// (index 0 is the season's first week), from a start day.
func (t *Table) Harvest(start civil.Date) []float64 { panic("growth helper writes this") }

// Canopy is the plant's diameter on a day in the 10, 50 and 90 % weather years, from a start day.
// Before emergence it is 0; it never exceeds the crop's mature spread.
func (t *Table) Canopy(start, on civil.Date) (p10, p50, p90 quantity.Metre) {
	panic("growth helper writes this")
}
