package garden

import (
	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// Texture is how coarse a soil is, in the classes that fertiliser and lime tables use; empty: not known.
type Texture string

// The textures, from coarse to fine, and soil that is mostly organic matter.
const (
	Sand      Texture = "sand"
	SandyLoam Texture = "sandy loam"
	Loam      Texture = "loam"
	SiltLoam  Texture = "silt loam"
	ClayLoam  Texture = "clay loam"
	Clay      Texture = "clay"
	Organic   Texture = "organic" // peat and muck
)

// Textures are all of them, in order.
var Textures = []Texture{Sand, SandyLoam, Loam, SiltLoam, ClayLoam, Clay, Organic}

// Soil is what the person knows of the ground without a test: of the site, or of a bed where it differs.
type Soil struct {
	Texture Texture         // empty: not known
	Topsoil quantity.Metre  // depth of dark soil over the subsoil, 0: not known
	State   GroundState     // of a bed; empty: cultivated
	Drift   Drift           // of the site; empty: to be told from the weather record
	Tilled  quantity.Metre  // depth to which it is dug, 0: the usual
	Spit    DiggingTool     // what it is dug with; empty: a fork and spade
	Bucket  quantity.Litre  // the person's measuring bucket, 0: none
	Weighs  quantity.System // the units they weigh soil materials in
	Natural bool            // of the site: only plant foods from plants, animals or rock are put on
	Lime    string          // of the site: ID of the liming material used; empty: by the magnesium test
	Organic string          // of the site: ID of the organic matter used; empty: compost
}

// GroundState is how far a bed has come from wild ground.
type GroundState string

// The states of ground.
const (
	Cultivated GroundState = "cultivated"
	Sod        GroundState = "sod"       // grass or weeds: to be broken
	Neglected  GroundState = "neglected" // once dug, overgrown since
)

// DiggingTool is what ground is turned with.
type DiggingTool string

// The tools.
const (
	ForkAndSpade DiggingTool = "fork and spade"
	Tiller       DiggingTool = "tiller"
)

// Drift is which way a region's soil goes when it is left alone.
type Drift string

// The drifts.
const (
	TowardsAcid     Drift = "acid"
	TowardsAlkaline Drift = "alkaline"
	Neither         Drift = "neither"
)

// SoilTest is one result, of a home kit or a laboratory, for the beds it was taken from. A figure
// that was not measured is nil. Tests are added, never changed; one taken back is withdrawn.
type SoilTest struct {
	ID    int64
	Date  civil.Date
	Beds  []int64        // the beds the sample stands for; empty: the whole garden
	Kit   bool           // a home kit: a pH and coarse classes
	Depth quantity.Metre // to which the sample was taken; 0: the usual 15 cm
	PH    *float64       // in water, unless Salt
	Salt  bool           // pH was measured in 0.01 M calcium chloride
	// Buffer pH by a named method, or the laboratory's own acidity.
	Buffer   *float64
	Method   BufferMethod
	Acidity  *float64 // exchangeable acidity, meq/100 g (cmol/kg)
	Elements []Reading
	Organic  *float64 // organic matter, per cent of dry weight
	CEC      *float64 // meq/100 g (cmol/kg)
	Texture  Texture
	Salts    *float64 // electrical conductivity, dS/m
	SaltsBy  SaltMethod
	Lead     *float64 // total lead, mg/kg
	FreeLime *bool    // it fizzes with vinegar or acid
	Lab      string   // whose result it is, as the person calls it
	Note     string
}

// BufferMethod names how a laboratory measures reserve acidity.
type BufferMethod string

// The buffer methods.
const (
	SMP             BufferMethod = "SMP"
	Sikora          BufferMethod = "Sikora"
	Mehlich         BufferMethod = "Mehlich"
	ModifiedMehlich BufferMethod = "modified Mehlich"
	AdamsEvans      BufferMethod = "Adams-Evans"
	Woodruff        BufferMethod = "Woodruff"
)

// BufferMethods are all of them.
var BufferMethods = []BufferMethod{SMP, Sikora, Mehlich, ModifiedMehlich, AdamsEvans, Woodruff}

// SaltMethod is in what the conductivity was measured.
type SaltMethod string

// The salt methods.
const (
	SaturatedPaste SaltMethod = "saturated paste"
	OneToTwo       SaltMethod = "1:2"
	OneToFive      SaltMethod = "1:5"
)

// Reading is one element as a laboratory or a kit gives it.
type Reading struct {
	Element   Element
	Value     float64   // in Unit; 0 with a Class alone
	Unit      SoilUnit  // how Value is counted
	Class     TestClass // the class printed; empty: to be told from the value
	Extractor Extractor // empty: not told
}

// Element is a plant food a test tells of.
type Element string

// The elements.
const (
	Nitrogen   Element = "N"
	Phosphorus Element = "P"
	Potassium  Element = "K"
	Magnesium  Element = "Mg"
	Calcium    Element = "Ca"
)

// SoilUnit is how an amount in the soil is counted.
type SoilUnit string

// The units.
const (
	PPM          SoilUnit = "ppm" // mg/kg
	PoundPerAcre SoilUnit = "lb/acre"
	MgPerLitre   SoilUnit = "mg/l"
	KgPerHectare SoilUnit = "kg/ha"
	MeqPer100g   SoilUnit = "meq/100 g"
)

// Extractor is the solution an element is extracted with.
type Extractor string

// The extractors.
const (
	Mehlich3        Extractor = "Mehlich 3"
	Mehlich1        Extractor = "Mehlich 1"
	Bray1           Extractor = "Bray 1"
	Olsen           Extractor = "Olsen"
	Morgan          Extractor = "Morgan"
	ModifiedMorgan  Extractor = "modified Morgan"
	AmmoniumAcetate Extractor = "ammonium acetate"
	HomeKit         Extractor = "home kit"
)

// Extractors are all of them.
var Extractors = []Extractor{Mehlich3, Mehlich1, Bray1, Olsen, Morgan, ModifiedMorgan, AmmoniumAcetate, HomeKit}

// TestClass is how much there is for a crop.
type TestClass string

// The classes.
const (
	VeryLow  TestClass = "very low"
	Low      TestClass = "low"
	Medium   TestClass = "medium"
	High     TestClass = "high" // optimum: enough
	VeryHigh TestClass = "very high"
)

// TestClasses are all of them, in order.
var TestClasses = []TestClass{VeryLow, Low, Medium, High, VeryHigh}

// Treatment is something put on or into the ground on a day: what a journal entry of kind Fed tells
// when it names a material. Treatments are added, never changed.
type Treatment struct {
	EntryID  int64
	Date     civil.Date
	BedID    int64
	Material string            // ID of a soil material ("limestone-ground")
	Amount   quantity.Kilogram // 0 where it was measured by volume and cannot be weighed
	Volume   quantity.Litre    // 0 where it was weighed
	Depth    quantity.Metre    // worked in to; 0: left on top
	Note     string
}

// Package is a size of a material that the person can buy, with its label.
type Package struct {
	ID       int64
	Material string            // ID of a soil material
	Name     string            // as the person calls it; empty: the material's name
	Mass     quantity.Kilogram // 0 where it is sold by volume
	Volume   quantity.Litre    // loose, 0 where it is sold by weight
	Price    float64           // in the person's money; 0: not told
	// Label figures; nil: the material's usual ones.
	N, P2O5, K2O *float64 // per cent of weight
	CCE          *float64 // neutralising value, per cent of pure calcium carbonate
	Fineness     *float64 // per cent effective, of what the label gives of sieves
}

// Heap is a compost heap: what went in, and what was seen of it since.
type Heap struct {
	ID      int64
	Name    string
	Started civil.Date
	Put     []HeapPart
	Log     []HeapEntry // in order of day
	Emptied *civil.Date
	Note    string
}

// HeapPart is one thing that went into a heap.
type HeapPart struct {
	Feedstock string         // ID of a compost feedstock ("leaves")
	Volume    quantity.Litre // loose
	Moisture  *float64       // per cent of fresh weight; nil: the feedstock's usual
}

// HeapEntry is what was done to or seen of a heap on a day.
type HeapEntry struct {
	Date    civil.Date
	Kind    HeapKind
	Celsius *quantity.Celsius // in the middle
	Text    string
}

// HeapKind is what a heap entry tells.
type HeapKind string

// The kinds of heap entry.
const (
	HeapHeat    HeapKind = "heat"
	HeapTurned  HeapKind = "turned"
	HeapWetted  HeapKind = "wetted"
	HeapAdded   HeapKind = "added"
	HeapChecked HeapKind = "checked"
)
