package soil

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The depths of organic matter that are spread. Source: none, common practice: three inches dug into ground that never
// had any, an inch or less a year after that.
const (
	firstDepth  quantity.Metre = 3 * inch
	yearlyDepth quantity.Metre = 0.75 * inch // 2 cm where it is measured so
	sandyDepth  quantity.Metre = inch        // a year, on sand: it burns off faster
)

// LooseOver is the loose volume that covers ground to a depth.
//
//	area    m², from 0
//	depth   m, from 0
//	result  litres; a negative or unmeasured side gives an error
func LooseOver(area quantity.SquareMetre, depth quantity.Metre) (quantity.Litre, error) {
	if !(area > 0) || math.IsInf(float64(area), 0) {
		return 0, fmt.Errorf("the ground to cover measures %v m²; give its length and width", float64(area))
	}
	if !(depth > 0) || depth > 1 {
		return 0, fmt.Errorf("a layer %v m deep cannot be spread; give a depth up to a metre", float64(depth))
	}
	return quantity.Litre(float64(area) * float64(depth) * 1000), nil
}

// Covers is the ground that a loose volume covers to a depth.
func Covers(loose quantity.Litre, depth quantity.Metre) quantity.SquareMetre {
	if !(depth > 0) {
		return 0
	}
	return quantity.SquareMetre(float64(loose) / 1000 / float64(depth))
}

// Loosened is what a volume sold compressed is once it is broken up: twice as much for a bale of peat.
//
// Source: PEAT-2X (by the material's own figure)
func Loosened(compressed quantity.Litre, m Material) quantity.Litre {
	if m.Expansion == nil {
		return compressed
	}
	return compressed * quantity.Litre(m.Expansion.Value)
}

const (
	cubicFoot quantity.Litre = 1728. / 231 * quantity.LitresPerGallon
	cubicYard                = 27 * cubicFoot
)

// Bulk is a loose volume in words: "340 L", "12 cu ft", "1.5 cu yd".
func Bulk(l quantity.Litre, units quantity.System) string {
	if units != quantity.US {
		if l >= 1000 {
			return fmt.Sprintf("%.1f m³", float64(l)/1000)
		}
		return units.Volume(l)
	}
	switch feet := float64(l / cubicFoot); {
	case feet >= 54:
		return fmt.Sprintf("%.1f cu yd", feet/27)
	case feet >= 10:
		return fmt.Sprintf("%.0f cu ft", feet)
	case feet >= 0.5:
		return fmt.Sprintf("%.1f cu ft", feet)
	}
	return units.Volume(l)
}

// Load is a way to count a volume: bags, barrows, cubic yards.
type Load struct {
	Unit  string         // "barrow of 3 cu ft", in the singular
	Holds quantity.Litre // loose
	Exact float64        // how many
	Whole int            // how many to fetch
}

// Loads counts a loose volume in what it is fetched and carried in: the packages on sale of that material,
// cubic yards or metres, barrows, and buckets, the person's own where it is known.
//
// A barrow is taken at 3 cu ft, a bucket at 5 gallons or 10 litres, a bale of peat at 3.8 cu ft; common practice.
func Loads(loose quantity.Litre, m Material, packages []garden.Package, units quantity.System, bucket quantity.Litre) []Load {
	var all []Load
	add := func(unit string, holds quantity.Litre) {
		if !(holds > 0) || !(loose > 0) {
			return
		}
		exact := float64(loose / holds)
		all = append(all, Load{Unit: unit, Holds: holds, Exact: exact, Whole: int(math.Ceil(exact - 1e-9))})
	}
	own := false
	for _, p := range packages {
		if p.Material != m.ID {
			continue
		}
		holds := p.Volume
		if holds == 0 && m.Density != nil && m.Density.Value > 0 {
			holds = quantity.Litre(float64(p.Mass) / m.Density.Value)
		}
		name := "package of " + units.ExactVolume(p.Volume)
		if p.Volume == 0 {
			name = "package of " + units.ExactMass(p.Mass)
		}
		if p.Name != "" {
			name = p.Name
		}
		add(name, holds)
		own = own || holds > 0
	}
	if m.Expansion != nil && !own && m.Expansion.Value < 4 {
		add("bale of "+units.ExactVolume(3.8*cubicFoot)+" compressed", Loosened(3.8*cubicFoot, m))
	}
	us := units == quantity.US
	switch {
	case us:
		add("cubic yard", cubicYard)
		add("bag of 2 cu ft", 2*cubicFoot)
		add("barrow of 3 cu ft", 3*cubicFoot)
	default:
		add("cubic metre", 1000)
		add("bag of 50 L", 50)
		add("barrow of 85 L", 3*cubicFoot)
	}
	switch {
	case bucket > 0:
		add("of your buckets", bucket)
	case us:
		add("bucket of 5 gal", 5*quantity.LitresPerGallon)
	default:
		add("bucket of 10 L", 10)
	}
	return all
}

// Enrichment is organic matter for a bed: how much, what it does to the lime and the nitrogen, and why.
type Enrichment struct {
	Material string // ID
	Area     quantity.SquareMetre
	Depth    quantity.Metre // of the loose layer
	Into     quantity.Metre // worked in to; 0: left on top
	Loose    quantity.Litre
	Mass     quantity.Kilogram // as it comes; 0 where its density is not known
	First    bool              // for ground that never had any

	Limestone quantity.KilogramPerSquareMetre // fine pure limestone that makes up for its acid; negative: as good as so much limestone
	Nitrogen  quantity.Kilogram               // to add, so that rotting does not rob the crops; 0: none, for what robs is left on top

	Instead  []string // IDs of other materials that do as well
	Reasons  []garden.Reason
	Cautions []string
}

// Patch is the ground that is enriched.
type Patch struct {
	Area    quantity.SquareMetre
	Texture garden.Texture // empty: not known
	First   bool           // it never had organic matter, or not for many years
	Dug     quantity.Metre // how deep it is dug; 0: a spade's depth
	Salty   bool           // a test showed salts
}

// Enrich is what a bed is given of a material. A depth of 0 is the usual one: three inches where ground never had any,
// an inch or less a year else, and no more than the material may be given at one time.
func Enrich(b Patch, m Material, depth quantity.Metre, units quantity.System) (Enrichment, error) {
	e := Enrichment{Material: m.ID, Area: b.Area, First: b.First, Depth: depth, Into: b.Dug}
	if e.Into == 0 {
		e.Into = spadeDepth
	}
	if depth == 0 {
		e.Depth = b.usualDepth(&e, units)
	}
	e.within(m, units)
	e.salty(b, m, units)
	loose, err := LooseOver(b.Area, e.Depth)
	if err != nil {
		return Enrichment{}, err
	}
	e.Loose = loose
	if m.Density != nil {
		e.Mass = quantity.Kilogram(float64(loose) * m.Density.Value)
	}
	e.explain(b.Texture)
	e.acid(m, units)
	e.rob(m, units)
	e.Cautions = append(e.Cautions, allInUnits(m.Cautions, units)...)
	if b.Salty && (m.Raw || m.ID == "compost-mushroom") {
		e.Cautions = append(e.Cautions, "The soil test shows salts: take leaf mould or garden compost here, not manure or mushroom compost.")
	}
	e.Cautions = append(e.Cautions, lightLoads)
	return e, nil
}

// spadeDepth is a spade's blade; common practice.
const spadeDepth quantity.Metre = 0.25

// usualDepth is the depth for ground as it is.
func (b Patch) usualDepth(e *Enrichment, units quantity.System) quantity.Metre {
	if b.First {
		e.why("three inches", "", "Ground that never had any organic matter is given "+units.Depth(firstDepth)+", dug in: about a third of the depth that is dug.")
		return firstDepth
	}
	if b.Texture == garden.Sand || b.Texture == garden.SandyLoam {
		e.why("a dressing a year", "", "Sandy ground burns its organic matter off within a year or two: "+units.Depth(sandyDepth)+" every year.")
		return sandyDepth
	}
	yearly := yearlyDepth
	if units == quantity.Metric {
		yearly = 0.02
	}
	e.why("a dressing a year", "", "Ground that has had its first dose is kept up with "+units.Depth(yearly)+" a year.")
	return yearly
}

// within cuts a depth to what the material may be given at one time.
func (e *Enrichment) within(m Material, units quantity.System) {
	if m.Most <= 0 || m.Density == nil || m.Density.Value <= 0 {
		return
	}
	most := quantity.Metre(float64(m.Most) / m.Density.Value / 1000)
	if e.Depth > most {
		e.why("no more at one time", "", fmt.Sprintf("Of %s no more than %s is given at one time: a layer of %s. Make up the rest with compost or leaf mould.", m.Name, units.Rate(m.Most), Layer(most, units)))
		e.Depth = most
	}
}

// thinLayer is the least depth that is told in figures.
const thinLayer = inch / 8

// Layer is the depth of a layer in words: "3 in", or "less than 1/8 in" for what is strewn thinly.
func Layer(depth quantity.Metre, units quantity.System) string {
	if depth < thinLayer {
		return "less than " + units.Depth(thinLayer)
	}
	return units.Depth(depth)
}

// Salty says whether a material is salty by its own caution.
func Salty(m Material) bool { return slices.Contains(m.Cautions, cautionTexts["salts"]) }

// saltyDepth is the most of a salty material that salty ground is given in a year, as its caution says.
const saltyDepth = inch

// salty cuts a salty material on salty ground to what its caution allows.
func (e *Enrichment) salty(b Patch, m Material, units quantity.System) {
	if !b.Salty || !Salty(m) || e.Depth <= saltyDepth {
		return
	}
	e.Depth = saltyDepth
	e.why("salty ground", "", fmt.Sprintf("The soil test shows salts and %s is salty itself: no more than %s a year. Leaf mould or garden compost does better.", m.Name, units.Depth(saltyDepth)))
	e.Instead = []string{"leaf-mould", "compost"}
}

// NotForFood says why a material is not put on ground that grows food; empty where it may be.
func NotForFood(m Material) string {
	switch {
	case slices.Contains(m.Cautions, cautionTexts["swine"]):
		return m.Name + " can carry parasites of people: it is not for ground that grows food"
	case m.ID == RawCompost:
		return m.Name + " counts as raw manure: it is written down when it was put on, and never asked for"
	}
	return ""
}

func (e *Enrichment) why(rule, source, says string) {
	if source == "" && rule == "" {
		rule = "common practice"
	}
	e.Reasons = append(e.Reasons, garden.Reason{Says: says, Rule: rule, Source: source})
}

// explain tells what organic matter does in the soil there is; common practice.
func (e *Enrichment) explain(t garden.Texture) {
	switch t {
	case garden.Sand, garden.SandyLoam:
		e.why("sandy soil", "", "In sand it holds the water and the plant food that would drain away.")
	case garden.Clay, garden.ClayLoam:
		e.why("clay soil", "", "In clay it parts the particles into crumbs, so that air gets in and water out. Do not mix sand into clay: until there is far more sand than clay it sets like brick.")
	case garden.SiltLoam:
		e.why("silty soil", "", "In silt it binds the crumbs, so that rain does not seal the surface.")
	case garden.Organic:
		e.why("peaty soil", "", "Peaty ground is organic matter already: it needs lime and plant food rather than more of it.")
	}
}

// acid reckons the limestone that makes up for what the material does to the reaction: its neutralising value, which is
// negative for peat, on the weight there is.
//
//	Limestone  kg/m² of pure fine limestone, as the prescriptions of lime count it
func (e *Enrichment) acid(m Material, units quantity.System) {
	if m.CCE == nil || m.CCE.Value == 0 || e.Mass == 0 || e.Area <= 0 {
		return
	}
	rate := func(cce float64) quantity.KilogramPerSquareMetre {
		return quantity.KilogramPerSquareMetre(math.Abs(cce) / 100 * float64(e.Mass) / float64(e.Area))
	}
	e.Limestone = quantity.KilogramPerSquareMetre(-m.CCE.Value / 100 * float64(e.Mass) / float64(e.Area))
	if e.Limestone > 0 {
		e.why("acid of peat", m.CCE.Source, fmt.Sprintf("%s is acid: unless the crop likes that, this layer takes about %s of limestone more to make up for it (estimated; between %s and %s).",
			title(m.Name), units.Rate(e.Limestone), units.Rate(rate(m.CCE.High)), units.Rate(rate(m.CCE.Low))))
		e.Instead = []string{"compost", "leaf-mould", "coir"}
	} else {
		e.why("lime in it", m.CCE.Source, fmt.Sprintf("%s holds lime, as much as about %s of limestone: count it against what is due.", title(m.Name), units.Rate(-e.Limestone)))
	}
}

// Robbing: microbes build about a third of the carbon they eat into themselves, with a part of nitrogen to eight of
// carbon; what the material's own nitrogen does not cover they take from the soil. Fast rotting straw is eaten within
// the year, woody stuff only in part.
//
// Source: none for the shares, from memory of soil biology: efficiency 0.35, cells 8 to 1, hence the ratio of about 23 at
// which nothing is taken or given.
const (
	eaten      = 0.35 // carbon built into cells, of what is eaten
	cellRatio  = 8.0
	safeRatio  = 25.0
	dryCarbon  = 0.47 // of dry plant matter
	woodyRatio = 150  // above it, only part rots in the first year
	woodyYear  = 0.45
)

// RobbedNitrogen is the nitrogen that a raw material takes from the soil in its first year, to be added with it.
//
//	dry     kg of dry matter
//	ratio   carbon to nitrogen; 25 and below: none
//	result  kg of nitrogen; for straw about 1 % of its weight
func RobbedNitrogen(dry quantity.Kilogram, ratio float64) quantity.Kilogram {
	if !(ratio > safeRatio) || !(dry > 0) {
		return 0
	}
	rots := 1.0
	if ratio > woodyRatio {
		rots = woodyYear
	}
	carbon := float64(dry) * dryCarbon
	return quantity.Kilogram(math.Max(0, rots*carbon*(eaten/cellRatio-1/ratio)))
}

// Robs says whether a raw material takes nitrogen from the soil when it is dug in, so that it is only left on top; peat and coir hardly rot.
func Robs(m Material) bool {
	return m.Family == Organic && !m.Raw && m.CN != nil && m.CN.Value > safeRatio && m.ID != "peat-moss" && m.ID != "coir"
}

func (e *Enrichment) rob(m Material, units quantity.System) {
	if !Robs(m) || e.Mass == 0 {
		return
	}
	wet := 0.0
	if m.Moisture != nil {
		wet = m.Moisture.Value / 100
	}
	robbed := RobbedNitrogen(e.Mass*quantity.Kilogram(1-wet), m.CN.Value)
	e.Into = 0
	e.why("nitrogen robbed", m.CN.Source, fmt.Sprintf("%s has %.0f parts of carbon to one of nitrogen: dug in it rots in the soil and takes nitrogen from the crops, about %s here in the first year, which is more than is safely given at once. So it is only left on top as a mulch, drawn aside from drills and stems, or composted first.",
		title(m.Name), m.CN.Value, units.Rate(quantity.KilogramPerSquareMetre(float64(robbed)/float64(e.Area)))))
	e.Instead = []string{"compost", "leaf-mould", "manure-horse-composted"}
}

func title(name string) string {
	if name == "" {
		return name
	}
	return string(name[0]-'a'+'A') + name[1:]
}
