// Package weather is the daily record: readers, checks, gaps, normals, generated years, frost chances.
package weather

import (
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Origin says whether a record was measured or made.
type Origin string

// The origins.
const (
	Measured  Origin = "measured"
	Generated Origin = "generated" // from monthly figures: every page that rests on it says so
)

// Station is where a record was taken.
type Station struct {
	ID        string         `json:"id"`
	Name      string         `json:"name"`
	Latitude  float64        `json:"latitude_deg"`
	Longitude float64        `json:"longitude_deg"`
	Elevation quantity.Metre `json:"elevation_m"`
	Located   bool           `json:"located"`  // whether the file gave a position
	Levelled  bool           `json:"levelled"` // whether it gave the elevation
}

// Day is one day of a record. A value that was not measured is absent from its Has flag.
type Day struct {
	Date         civil.Date
	Min, Max     quantity.Celsius
	HasTemp      bool // both Min and Max
	Rain         quantity.Millimetre
	HasRain      bool
	Radiation    quantity.MegajoulePerSquareMetre
	HasRadiation bool
	Air          Air  // humidity, wind and sunshine, where they were measured
	Filled       bool // put in by the hole-filling rule
}

// Record is a station's daily weather: one Day for every date from the first to the last, in order.
type Record struct {
	Station Station
	Origin  Origin
	Source  string // what was read: "GHCN-Daily", "NCEI daily summaries", … or the built-in climate's name and source
	Days    []Day
	Notes   []Note // what was dropped, filled or doubted, for the person
	Lines   []int  // of the file just read, for each of Days: the line it stands on, 0 where none; nil once the record was merged or kept
}

// Line is the line of the file on which the day at an index stands, in brackets for a sentence; "" where it is not known.
func (r *Record) Line(at int) string {
	if at < 0 || at >= len(r.Lines) || r.Lines[at] == 0 {
		return ""
	}
	return fmt.Sprintf(" (line %d)", r.Lines[at])
}

// Note is one remark about the record's quality.
type Note struct {
	Kind string     `json:"kind"` // "swapped", "flagged", "filled", "year dropped", "implausible", "repeated", "merged", "elevation", "terms", …
	From civil.Date `json:"from"`
	To   civil.Date `json:"to"`
	Says string     `json:"says"` // a sentence
}

// The kinds of remark that ask the person to mend the file.
const (
	WrongUnit     = "wrong unit"
	AboveClearSky = "above clear sky" // radiation
)

// AsksToMend says whether the remark is one that the person should mend in the file.
func (n Note) AsksToMend() bool { return n.Kind == WrongUnit || n.Kind == AboveClearSky }

// Scenario is one recorded year laid over the season being planned: complete, without holes.
// Index 0 is Start; the days run on past the season's end so that an overwintered crop can finish.
type Scenario struct {
	Year           int        // the recorded year the season start falls in
	Start          civil.Date // the date, in the season being planned, of index 0
	Min, Max, Rain []float32  // °C, °C, mm
}
