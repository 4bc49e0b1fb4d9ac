// Package garden is the user's nouns and their rules: site, bed, shade, soil test, want, planting, journal entry; the store's interfaces.
package garden

import (
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// Garden is everything the person has told about their ground.
type Garden struct {
	Site     Site
	Beds     []Bed  // in the person's order
	History  []Past // what grew where, by year
	Wants    []Want
	Vetoes   []Veto        // what the person will not have
	Standing []Planting    // in the ground now, or kept from before: the planner works around them
	Shades   []Shade       // what keeps the sun off
	Own      crop.OwnCrops // the person's own varieties and crops, besides the catalogue's

	Tests      []SoilTest  // by date
	Treatments []Treatment // what was put on the ground, by date
	Packages   []Package   // sizes on sale and their prices, as the person told
	Heaps      []Heap      // compost
}

// Site is the place.
type Site struct {
	Name         string
	Latitude     float64 // degrees, north positive, −90–90
	Longitude    float64 // degrees, east positive, −180–180
	Elevation    quantity.Metre
	Units        quantity.System
	Household    int            // people fed
	Invented     bool           // a demo: every page says so
	Width, Depth quantity.Metre // of the plot, east–west and north–south, for the picture
	Covers       []string       // IDs of the covers there are to grow under (crop.Protection); as much as is needed
	Soil         Soil           // of the whole garden
	Lie          Lie            // slope, north and skyline
	Supply       Supply         // where water comes from
	Watering     Watering       // of every bed that does not tell its own
	HoursAWeek   quantity.Hour  // that can be given to the garden; 0: not told, as many as it takes
	Trays        float64        // of seedlings that there is light for under cover; 0: not told, as many as it takes
	Note         string
}

// Bed is a rectangle of ground. Its length runs in the direction of Bearing; rows run along the
// length unless RowsAcross.
type Bed struct {
	ID         int64
	Name       string
	X, Y       quantity.Metre // of its centre, east and north of the plot's south-west corner
	Length     quantity.Metre // along the bed
	Width      quantity.Metre // across the bed
	Bearing    float64        // degrees clockwise from north of the length, 0–180
	RowsAcross bool
	Sun        quantity.Hour // hours of direct sun on a clear day of the growing season, typed in by the person
	Observed   []SunSeen     // when the person saw the sun on it, by month
	Perennial  bool          // kept for perennials
	Soil       Soil          // where it differs from the site's; zero: as there
	Watering   Watering      // where it differs from the site's; zero: as there
	Note       string
}

// Area is the ground of the bed.
func (b Bed) Area() quantity.SquareMetre { return quantity.SquareMetre(b.Length * b.Width) }

// Past is one crop that grew in a bed in a year before.
type Past struct {
	ID     int64
	BedID  int64
	Year   int
	CropID string // a crop of the catalogue; or empty with a family
	Family string // "Brassicaceae"
	Place  Place  // the ground it had, where that is known; empty: the whole bed
	Note   string
}

// Basis says how a want is counted.
type Basis string

// The bases.
const (
	Total  Basis = "total"  // over the season
	Weekly Basis = "weekly" // each week of the crop's possible season, or of From–To
)

// Want is what the household would like to eat.
type Want struct {
	ID       int64
	Crop     string // a crop's ID, or a kind ("lettuce") of which any type will do
	Basis    Basis
	Amount   float64     // in Unit
	Unit     string      // "kg", "lb", or the crop's own unit: "head", "root", "bunch"
	Weight   int         // 1 (nice to have) … 5 (first)
	From, To *civil.Date // for Weekly: the weeks wanted; nil means whenever the crop can be had
	// Under is what it is grown under: empty, in the open or under any cover the site has, as the planner sees fit;
	// InTheOpen; or the ID of a cover (crop.Protection), which is then there.
	Under string
	Note  string
}

// InTheOpen is a want's Under where no cover is wanted.
const InTheOpen = "open"

// Place is a rectangle inside a bed: metres along its length and across its width, from the
// corner at the south-west end.
type Place struct {
	AlongFrom, AlongTo   quantity.Metre
	AcrossFrom, AcrossTo quantity.Metre
}

// Area is the ground of the place.
func (p Place) Area() quantity.SquareMetre {
	return quantity.SquareMetre((p.AlongTo - p.AlongFrom) * (p.AcrossTo - p.AcrossFrom))
}

// Meets says whether two places share ground.
func (p Place) Meets(o Place) bool {
	const eps = 1e-6
	return p.AlongFrom < o.AlongTo-eps && o.AlongFrom < p.AlongTo-eps &&
		p.AcrossFrom < o.AcrossTo-eps && o.AcrossFrom < p.AcrossTo-eps
}

// Role is a planting's part in shared ground.
type Role string

// The roles.
const (
	Alone  Role = "alone"
	Slow   Role = "slow"   // keeps the ground after its partner is out
	Fast   Role = "fast"   // between the slow one's plants, out before the canopies meet
	Marker Role = "marker" // sown in the slow one's drill to show where it is
)

// Status is how far a planting has come.
type Status string

// The states of a planting.
const (
	Planned  Status = "planned"
	InGround Status = "in the ground"
	Over     Status = "over"
	Lost     Status = "lost"
)

// Spread is a date over the weather years: by then in one, five and nine years of ten.
type Spread struct {
	P10 civil.Date `json:"p10"`
	P50 civil.Date `json:"p50"`
	P90 civil.Date `json:"p90"`
}

// Planting is one crop in one place for one span of days.
type Planting struct {
	ID     int64
	Key    string // "2027-07": short name, unique in the plan, stable while it is kept
	PlanID int64
	Season int // the year the season starts
	BedID  int64
	CropID string
	Method int // index into the crop's methods
	Way    crop.Way
	// Protection is the ID of the cover it is grown under (crop.Protection); empty in the open.
	Protection string
	Place      Place
	Rows       int         // rows of plants; for sown drills, of drills
	Plants     int         // plants at final spacing
	RaiseOn    *civil.Date // SetOut: sow under cover
	Start      civil.Date  // goes into the ground
	Emerge     Spread      // Sow, Set: up by
	First      Spread      // first harvest
	Last       Spread      // last harvest
	Clear      civil.Date  // the ground is free from this day on (in the planner's share of years)
	Role       Role
	Partner    string            // Key of the planting it shares ground with
	Success    int               // weather years in which it succeeds
	Years      int               // weather years run
	Expect     quantity.Kilogram // mean harvest over the weather years
	Status     Status
	Pinned     bool // the person wants it exactly so
	Reasons    []Reason
}

// Span is the days the planting holds its ground.
func (p Planting) Span() civil.Span { return civil.Span{From: p.Start, To: p.Clear - 1} }

// Reason is why a figure or a choice is what it is.
type Reason struct {
	Says   string `json:"says"`             // a sentence for the person
	Rule   string `json:"rule,omitempty"`   // the rule's or equation's name
	Source string `json:"source,omitempty"` // key in doc/SOURCES.md
}

// EntryKind is what a journal entry tells.
type EntryKind string

// The kinds of journal entry.
const (
	Sowed     EntryKind = "sowed"
	SetOut    EntryKind = "set out"
	CameUp    EntryKind = "came up"
	Harvested EntryKind = "harvested"
	Cleared   EntryKind = "cleared"
	Failed    EntryKind = "failed"
	Dug       EntryKind = "dug"
	Fed       EntryKind = "fed"
	Watered   EntryKind = "watered"
	Rained    EntryKind = "rained"
	Frost     EntryKind = "frost"
	Noted     EntryKind = "noted"
)

// Entry is one line of the journal: appended, never overwritten.
type Entry struct {
	ID       int64
	Date     civil.Date
	Kind     EntryKind
	BedID    int64  // 0: no bed
	Planting string // Key; empty: none
	Amount   quantity.Kilogram
	Text     string
	// Fed, with a soil material's ID: what was put on the bed, by Amount or Volume, worked in to Depth.
	// Watered: what was given, by Volume or as Depth of water over the bed. Rained: Depth of what the gauge held.
	Material string
	Volume   quantity.Litre
	Depth    quantity.Metre
}
