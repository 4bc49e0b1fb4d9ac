// Package crop is the catalogue: every crop's figures, units and sources, embedded and checked.
package crop

import "kailyard/internal/quantity"

// Crop is one kind and type of plant that a garden grows, with every figure the models need,
// already in the program's own units. Where a figure came from is kept in Figures.
type Crop struct {
	ID        string   // slug, the file's name: "lettuce-loose-leaf"
	Kind      string   // "lettuce": types of one kind share it
	Type      string   // "loose-leaf, early"; empty when the kind has one type
	Group     Group    // what a gardener calls its sort
	Botanical string   // "Lactuca sativa"
	Family    string   // "Asteraceae": rotation goes by it
	Aliases   []string // other names people type
	Perennial bool     // stays in its place for years
	// Biennial: grown for its first year; after a winter it flowers in spring and is no longer fit
	// to eat, so a sowing that is not ready before the winter comes to nothing.
	Biennial bool

	Emergence Emergence
	Cardinal  Cardinal
	Methods   []Method // at least one; the first is the usual one
	Spacing   Spacing
	Plant     Plant
	Hardiness Hardiness
	Heat      Heat
	DayLength DayLength
	Light     Light
	Water     Water
	Harvest   Harvest
	Seed      Seed
	PH        Range
	Rotation  int // years before the family may return to the bed
	Practice  Practice

	Figures []Figure // every value of the file with unit, source key and quality, in file order

	Own     bool   // a person's own, not the catalogue's
	Base    string // of a person's own variety: the ID of the crop it is a variety of; its Type is its name
	Note    string // the person's, on a variety
	Retired bool   // an own crop no longer grown: found by its ID, in no list
}

// Name is what pages show: "lettuce, loose-leaf, early".
func (c *Crop) Name() string {
	if c.Type == "" {
		return c.Kind
	}
	return c.Kind + ", " + c.Type
}

// Group is the sort of crop by what a gardener does with it.
type Group string

// The groups.
const (
	Root           Group = "root"
	Leaf           Group = "leaf"
	Brassica       Group = "brassica"
	Allium         Group = "allium"
	Legume         Group = "legume"
	Cucurbit       Group = "cucurbit"
	Nightshade     Group = "nightshade"
	Corn           Group = "corn"
	Herb           Group = "herb"
	PerennialGroup Group = "perennial"
	Cover          Group = "cover" // cover crops and green manures
	Other          Group = "other"
)

// Quality says how far a figure can be trusted.
type Quality string

// The qualities, best first. Own is what stands on a person's seed packet or in their own notes: printed
// for that very seed, checked by nobody else. The embedded catalogue has none.
const (
	Published      Quality = "published"
	Estimated      Quality = "estimated"
	Own            Quality = "own"
	CommonPractice Quality = "common practice"
	FromMemory     Quality = "from memory"
)

// Figure is one value as its file states it, before conversion.
type Figure struct {
	Field   string // dotted path in the file: "spacing.in_row"
	Text    string // the value as printed by the source, with its unit: "18–24 in"
	Source  string // key in doc/SOURCES.md; empty only for own, common practice and from memory
	Quality Quality
	Note    string
}

// Range is a low and a high value of one figure; equal when the source gives one number.
type Range struct{ Low, High float64 }

// Mid is the middle of the range.
func (r Range) Mid() float64 { return (r.Low + r.High) / 2 }

// Emergence is days from sowing to emergence against steady soil temperature
// (Harrington and Minges 1954 or a like table).
type Emergence struct {
	Points []EmergencePoint // ascending by temperature, at least two
	Least  quantity.Celsius // below this soil temperature nothing comes up in useful time
	Most   quantity.Celsius // above this soil temperature nothing comes up
	// GiveUp is the days after which a gardener counts the sowing as lost (seed rots, is eaten).
	GiveUp float64
}

// EmergencePoint is one column of the table.
type EmergencePoint struct {
	Soil quantity.Celsius
	Days float64
}

// Cardinal holds the air temperatures that govern development: none below Base, full speed
// between OptLow and OptHigh, none above Max; linear between.
type Cardinal struct{ Base, OptLow, OptHigh, Max quantity.Celsius }

// Way is how a crop comes into its bed.
type Way string

// The ways.
const (
	Sow    Way = "sow"     // seed into the ground
	SetOut Way = "set out" // plants raised under cover, then set out
	Set    Way = "set"     // tubers, sets, cloves, crowns, slips into the ground
)

// Method is one way of growing the crop with the days it takes.
type Method struct {
	Way Way
	// Days from sowing (Sow), from setting out (SetOut) or from setting (Set) to first harvest, at Reference.
	Days      Range
	Reference quantity.Celsius // steady mean air temperature at which Days hold
	// For Sow, Days counts from sowing and includes the emergence time at a soil temperature equal to Reference.

	WeeksIndoors Range            // SetOut: weeks from seed to setting out, hardening included
	Hardening    int              // SetOut: days of hardening off, the last days indoors
	Depth        quantity.Metre   // depth of seed, set, tuber or crown
	SoilAtLeast  quantity.Celsius // soil at depth must be this warm when it goes in (3-day mean)
	// AirAtLeast is the coldest night the planting should meet in the fortnight after it goes in (or,
	// sown, after it comes up): milder than death, the point at which growers call it checked. Nil: none.
	AirAtLeast *quantity.Celsius
}

// Spacing is the ground each plant gets.
type Spacing struct {
	InRow       quantity.Metre // final distance in the row
	BetweenRows quantity.Metre // between rows or drills in a bed
	SowApart    quantity.Metre // distance between seeds in the drill before thinning; equals InRow where seed is placed
	RowWidth    quantity.Metre // width of a wide drill or trench sown thickly; 0 for a line
}

// Plant is the size of a grown plant.
type Plant struct {
	Spread quantity.Metre // canopy diameter
	Height quantity.Metre
	Root   quantity.Metre // rooting depth
}

// Hardiness is the air temperature (daily minimum) that kills, by stage.
type Hardiness struct {
	Class       string           // very hardy, hardy, half-hardy, tender, very tender
	Seedling    quantity.Celsius // just emerged, or set out without hardening
	Established quantity.Celsius // growing well
	Mature      quantity.Celsius // harvest-ready part spoiled or plant dead
	Overwinters bool             // survives dormant in the ground to Dormant
	Dormant     quantity.Celsius
	// Hardened is what kills a growing plant hardened by weeks of cool weather, of a crop that does not overwinter.
	// Equal to Established where nothing is known of it.
	Hardened quantity.Celsius
}

// Heat is what too much warmth does. Absent limits are nil.
type Heat struct {
	// BoltAbove: daily means near and above it cost yield; as much heat as BoltDays days well above it spoils the crop
	// (bolting, bitterness, loose heads). How much is well above is growth's rule.
	BoltAbove *quantity.Celsius
	BoltDays  int
	// SetDayAbove and SetNightAbove: fruit does not set on days with maximum or minimum above.
	SetDayAbove, SetNightAbove *quantity.Celsius
	// SetNightBelow: fruit does not set on nights below.
	SetNightBelow *quantity.Celsius
}

// DayLength is how the crop answers the length of day.
type DayLength struct {
	// BulbsAbove: bulbing begins only when days are longer than this.
	BulbsAbove *quantity.Hour
	// BoltsAbove: flowers after some weeks of days longer than this, counted from when it is an established seedling.
	BoltsAbove *quantity.Hour
}

// Light is hours of direct sun.
type Light struct {
	Needs quantity.Hour // full yield from here up
	Least quantity.Hour // below this do not plant it
}

// Water is FAO-56's single crop coefficient by stage.
type Water struct{ KcInitial, KcMid, KcEnd float64 }

// Manner is how a harvest is taken.
type Manner string

// The manners.
const (
	Once     Manner = "once"     // pulled or cut within a short span
	Repeated Manner = "repeated" // picked over a span of weeks
	Keeps    Manner = "keeps"    // stands in the ground, lifted as wanted
)

// Harvest is from first picking to clearing.
type Harvest struct {
	Manner Manner
	Part   string                          // what is eaten: "root", "leaf", "head", "fruit", "bulb", "pod", "seed", "stalk", "tuber"
	Span   Range                           // days from first to last harvest in kind weather
	Yield  quantity.KilogramPerSquareMetre // marketable yield of ground wholly given to it at Spacing
	// PerPlant is the yield of one plant (kg), from Yield and Spacing.
	PerPlant  quantity.Kilogram
	StoreDays int               // days it keeps after harvest in ordinary household storage; 0 means eat fresh
	Unit      string            // what people count: "root", "head", "kg", "bunch"
	UnitMass  quantity.Kilogram // mass of one Unit
	FirstYear int               // perennials: full harvest in this year after planting
	FromBloom float64           // d, from the opening of its flowers to the first fruit fit to pick; 0 when nobody says
}

// Seed is what to buy.
type Seed struct {
	PerGram     float64 // seeds in a gram; 0 when the crop is not grown from seed
	Keeps       float64 // years of useful keeping
	Germination float64 // share that should come up, 0–1 (7 CFR 201.31 standard where there is one)
	Sets        float64 // sets, tubers or cloves to a kilogram; 0 when not so grown
}

// Practice is how it is sown and kept, in the trade's words.
type Practice struct {
	Sowing     string // "drill", "trench and fill", "hill", "broadcast", "station", "furrow"
	Marker     bool   // quick enough to mark a slow row
	SlowRow    bool   // so slow to come up that a marker is sown with it
	Inoculant  bool
	Collar     bool   // cutworm collar at setting out
	Support    string // "", "stakes", "trellis", "brush", "poles", "wires"
	EarthUp    bool
	Thin       bool
	SideDress  string   // when to feed again; empty for never
	Block      bool     // wants a block rather than one long row (wind-pollinated corn)
	Vine       bool     // runs: belongs at the edge of the plot
	Succession int      // days between successive sowings; 0 when one sowing serves
	Jobs       []string // sentences for the sowing or setting-out job, in order
	Cautions   []string // safety sentences shown with its jobs
}
