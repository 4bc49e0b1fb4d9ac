// Package allot is sharing the ground of beds among options over the weeks: search, packing and a bound no plan exceeds.
//
// It knows no gardens, crops or weather: a Problem holds beds with their light and history, options that hold ground from
// one week to another and yield so much of some demands, and demands of which more is worth less and less. Find looks for
// a plan, Bound says what no plan can exceed, and allot/audit judges plans with code of its own.
package allot

// Limits of a problem: what the compact state of the search holds.
const (
	MostWeeks     = 64 // weeks of a season
	MostFamilies  = 64 // families of crops
	MostPieces    = 4  // pieces of a demand's worth
	MostPlantings = 12 // plantings the search puts in one bed, whatever the bed allows
)

// CellLength is the step, in m, in which plantings begin and end along a bed.
const CellLength = 0.25

// Problem is beds to be shared among options, and what the yields are worth.
type Problem struct {
	Weeks    int
	Families []string
	Demands  []Demand
	Options  []Option
	Beds     []Bed
}

// Demand is one crop in one week, or over the whole season: the first kilograms are worth most.
type Demand struct {
	Crop   int
	Week   int // −1 for the season's total
	Pieces []Piece
}

// Piece is some kilograms at one value each, from 0 (exclusive) up; values fall from piece to piece.
type Piece struct {
	Kilograms        float64
	ValuePerKilogram float64
}

// Option is a way to use ground: from week Start to week End, both held, at a cost for each planting.
type Option struct {
	ID         int
	Start, End int
	LeastArea  float64 // m²
	Sun        int     // light wanted: 0, 1 or 2
	Families   uint64
	Cost       float64
	Count      int // plantings it counts for: an intercrop counts 2
	Crop       int // its first crop
	Yields     []Yield
}

// Yield is what 1 m² of an option in full light brings to a demand.
type Yield struct {
	Demand             int
	KilogramsPerSquare float64
}

// Bed is a rectangle of ground.
type Bed struct {
	ID            int
	Width, Length float64 // m
	Area          float64 // m²
	Sun           int
	History       uint64  // families that may not come
	TakenArea     float64 // m² not free up to TakenUntil
	TakenUntil    int     // last week, −1 for none
	Most          int     // plantings
}

// Light is the share of a full yield that an option wanting some light has where there is less; 0 forbids it.
func Light(wanted, had int) float64 {
	switch {
	case had >= wanted:
		return 1
	case had == wanted-1:
		return 0.65
	}
	return 0
}

// Allowed says whether a bed's light and history let an option in, and whether it can yield anything.
func (p *Problem) Allowed(bed, option int) bool {
	b, o := &p.Beds[bed], &p.Options[option]
	return o.Families&b.History == 0 && Light(o.Sun, b.Sun) > 0 && len(o.Yields) > 0 && o.Count <= b.Most
}

// Worth is the value of some kilograms of a demand.
func (d *Demand) Worth(kilograms float64) float64 {
	worth := 0.0
	for _, piece := range d.Pieces {
		part := min(kilograms, piece.Kilograms)
		if part <= 0 {
			break
		}
		worth += part * piece.ValuePerKilogram
		kilograms -= part
	}
	return worth
}
