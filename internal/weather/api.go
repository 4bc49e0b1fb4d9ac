package weather

import (
	"io"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Read recognises the format by its content and reads a record. name is used in messages only.
func Read(name string, r io.Reader) (*Record, error) { panic("weather helper writes this") }

// Scenarios lays every usable recorded year over a season: index 0 is lead days before the
// season's start and the run is lead + season.Days + tail days long. Short holes are filled by the
// stated rule; a year with too many is dropped; both are told in notes. At most limit years, the latest.
func (r *Record) Scenarios(season civil.Season, lead, tail, limit int) (years []Scenario, notes []Note, err error) {
	panic("weather helper writes this")
}

// Chance is a date with its exceedance.
type Chance struct {
	Percent int        // spring: chance of a later frost; autumn: chance of an earlier frost
	Date    civil.Date // in the season asked for
	None    bool       // in so few years is there such a frost that the date does not exist
}

// Frost is the spread of last spring and first autumn days at or below a threshold.
type Frost struct {
	Threshold  quantity.Celsius
	Spring     []civil.Date // one per year that had one, laid over the season, ascending
	Autumn     []civil.Date
	Years      int // years looked at
	SpringNone int // years with no spring frost
	AutumnNone int
	FreeDays   []int // length of the frost-free season per year, ascending
}

// Frost counts over scenarios (from Scenarios with the same season).
func FrostOf(season civil.Season, lead int, years []Scenario, threshold quantity.Celsius) Frost {
	panic("weather helper writes this")
}

// LaterThan is the day after which a frost still comes in percent of all years (spring):
// LaterThan(10) is the late, safe date.
func (f Frost) LaterThan(percent float64) Chance { panic("weather helper writes this") }

// EarlierThan is the day before which a frost already comes in percent of all years (autumn).
func (f Frost) EarlierThan(percent float64) Chance { panic("weather helper writes this") }

// Normal is one month over the years.
type Normal struct {
	Month        int
	Min, Max     quantity.Celsius    // means
	MinSD, MaxSD quantity.Celsius    // of daily values
	Rain         quantity.Millimetre // mean total
	WetDays      float64             // mean days with at least 1 mm
	Years        int
}

// Normals are the monthly figures of a record.
func (r *Record) Normals() [12]Normal { panic("weather helper writes this") }

// Climate is one built-in place: published monthly figures with their source.
type Climate struct {
	ID, Name            string
	Latitude, Longitude float64
	Elevation           quantity.Metre
	Months              [12]Normal
	Source              string // key in doc/SOURCES.md
	Note                string
}

// Climates are the built-in places by ID.
func Climates() []Climate { panic("weather helper writes this") }

// Generate makes years of daily weather from monthly figures: seeded, reproducing means, spread and day-to-day persistence.
func Generate(c Climate, firstYear, years int, seed uint64) *Record {
	panic("weather helper writes this")
}
