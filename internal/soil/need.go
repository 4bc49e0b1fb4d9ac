package soil

import (
	"cmp"
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Ground is what is known of a bed when its feeding is reckoned.
type Ground struct {
	Bed        garden.Bed
	Texture    garden.Texture     // by the newest test that tells it, else as told of the bed or the site; empty: not known
	TextureBy  civil.Date         // of that test; 0: told
	From, To   civil.Date         // the season
	Plantings  []garden.Planting  // in the bed in that season: standing and planned
	Tests      []garden.SoilTest  // of any bed, by date; those of this bed and of the whole garden count
	Treatments []garden.Treatment // of any bed
	Coming     []garden.Treatment // of this bed: organic matter it is still to be given before its first planting
	History    []garden.Past      // of any bed
	Crops      *crop.Catalogue
	Units      quantity.System // in which it is said
}

// GroundOf gathers what a garden's book knows of a bed.
func GroundOf(g garden.Garden, bed garden.Bed, plantings []garden.Planting, season civil.Season, crops *crop.Catalogue) Ground {
	texture, by := TextureOf(g, bed)
	ground := Ground{Bed: bed, Texture: texture, TextureBy: by, From: season.Start, To: season.End(), Tests: g.Tests, Treatments: g.Treatments, History: g.History, Crops: crops, Units: g.Site.Soil.Weighs}
	for _, p := range plantings {
		if p.BedID == bed.ID && p.Status != garden.Lost && p.Start <= ground.To && (p.Clear > ground.From || p.Clear <= p.Start) {
			if p.Clear <= p.Start { // no clearing day is known: it stays
				p.Clear = max(ground.To, p.Start) + 366
			}
			ground.Plantings = append(ground.Plantings, p)
		}
	}
	return ground
}

// TextureOf is the texture of a bed's soil: by the newest test that stands for the bed and tells it, with the test's day, else as it
// is told of the bed or of the whole garden, with no day.
func TextureOf(g garden.Garden, bed garden.Bed) (texture garden.Texture, by civil.Date) {
	for _, t := range g.Tests {
		if t.Texture != "" && t.Date >= by && (len(t.Beds) == 0 || slices.Contains(t.Beds, bed.ID)) {
			texture, by = t.Texture, t.Date
		}
	}
	if texture == "" {
		return g.SoilOf(bed).Texture, 0
	}
	return texture, by
}

// PlantingNeed is the part of a bed's need that one planting makes.
type PlantingNeed struct {
	Key     string // of the planting; empty: mixed vegetables on ground with no plan
	Crop    string // its name
	Area    quantity.SquareMetre
	Row     Recommendation
	Follows bool // it comes into ground that bore in this season already
	Mass    Mass // on its ground: nitrogen for itself, phosphate and potash only beyond what the crops before it were given
	Start   civil.Date
}

// Need is what the crops of a bed are to find in a season.
type Need struct {
	BedID              int64
	Area               quantity.SquareMetre // of the whole bed
	Planted            quantity.SquareMetre // the ground that any planting takes, each piece once
	Parts              []PlantingNeed       // by day, then key
	Total              Mass
	units              quantity.System
	NLow, NHigh        quantity.Kilogram // what the tables' ranges of nitrogen come to
	Phosphorus, Potash TestedClass
	Reasons            []garden.Reason
	Cautions           []string
}

// TestedClass is a class with the test it comes from.
type TestedClass struct {
	Class  garden.TestClass
	Tested bool       // false: assumed
	Date   civil.Date // of the test
}

// Rate is the need spread over the planted ground.
func (n Need) Rate() Supply { return n.Total.On(n.Planted) }

// Years that a test of phosphorus and potassium is good for.
const testKeeps = 4

// NeedOf is what the crops of a bed are to find in the season: the tables' rates at the classes of the soil test,
// each on its own ground. Crops that stand on the same ground at the same time share the greatest of their rates; crops
// that follow one another each get their nitrogen, but phosphate and potash are given once, for the most demanding of
// them, since the first crop leaves most of both. Ground with no planting is given nothing; a bed with no planting at
// all, what mixed vegetables are given. Without a test the classes are taken as medium.
func NeedOf(g Ground) Need {
	n := Need{BedID: g.Bed.ID, Area: g.Bed.Area(), units: g.Units}
	n.Phosphorus, n.Potash = n.class(g, garden.Phosphorus), n.class(g, garden.Potassium)
	if n.Phosphorus.Tested != n.Potash.Tested || !n.Phosphorus.Tested {
		n.Cautions = append(n.Cautions, "Have the soil tested before you rely on these amounts: a test costs less than the fertiliser it saves.")
	}
	if _, _, ok := LatestReading(g.Tests, g.Bed.ID, garden.Nitrogen, g.To); ok {
		n.say("A test of nitrogen is not used: it changes with every rain and warm week, so what the crop takes is followed.", "nitrogen", "")
	}
	if len(g.Plantings) == 0 {
		n.Planted = n.Area
		n.add(PlantingNeed{Crop: "mixed vegetables", Area: n.Area, Row: Mixed(), Start: g.From}, n.Area, n.Area, n.Area)
		n.say("Nothing is planned here, so the bed is reckoned as mixed vegetables.", "no plan", "")
	}
	parts, planted := g.parts()
	n.Planted += planted
	for _, part := range parts {
		n.add(part.PlantingNeed, part.n, part.p, part.k)
	}
	if slices.ContainsFunc(n.Parts, func(p PlantingNeed) bool { return p.Follows }) {
		n.say("A crop that follows another gets its own nitrogen; phosphate and potash are given once, to the first.", "double cropping", "")
	}
	return n
}

func (n *Need) say(says, rule, source string) {
	n.Reasons = append(n.Reasons, garden.Reason{Says: says, Rule: rule, Source: source})
}

// add puts a planting's part to the need: its rates on the ground for which it is answerable.
func (n *Need) add(p PlantingNeed, ofN, ofP, ofK quantity.SquareMetre) {
	rate := p.Row.Rate(n.Phosphorus.Class, n.Potash.Class)
	p.Mass = Mass{N: quantity.Kilogram(rate.N) * quantity.Kilogram(ofN), P2O5: quantity.Kilogram(rate.P2O5) * quantity.Kilogram(ofP), K2O: quantity.Kilogram(rate.K2O) * quantity.Kilogram(ofK)}
	n.Total.N, n.Total.P2O5, n.Total.K2O = n.Total.N+p.Mass.N, n.Total.P2O5+p.Mass.P2O5, n.Total.K2O+p.Mass.K2O
	n.NLow += quantity.Kilogram(perAcre(p.Row.Low)) * quantity.Kilogram(ofN)
	n.NHigh += quantity.Kilogram(perAcre(p.Row.High)) * quantity.Kilogram(ofN)
	n.Parts = append(n.Parts, p)
	said := func(r garden.Reason) bool { return r.Rule == "rate of "+p.Row.Name }
	if !slices.ContainsFunc(n.Reasons, said) {
		f := p.Row.Figures[0]
		says := fmt.Sprintf("For %s the tables give %s of nitrogen (the middle is taken), and at these classes %s of phosphate and %s of potash.",
			p.Row.Name, rates(n.units, perAcre(p.Row.Low), perAcre(p.Row.High)), n.units.Rate(rate.P2O5), n.units.Rate(rate.K2O))
		if f.Quality != "published" {
			says += " This row is " + f.Quality + "."
		}
		n.say(says, "rate of "+p.Row.Name, f.Source)
	}
}

// class is an element's class from the latest test of the bed that tells it; medium without one.
func (n *Need) class(g Ground, e garden.Element) TestedClass {
	test, reading, ok := LatestReading(g.Tests, g.Bed.ID, e, g.To)
	if ok {
		classed, err := Class(reading)
		if err == nil {
			n.Reasons = append(n.Reasons, classed.Reasons...)
			if g.From > test.Date.InYear(test.Date.Year()+testKeeps) {
				n.Cautions = append(n.Cautions, fmt.Sprintf("The test of %s is more than %d years old: test again.", dated(test.Date), testKeeps))
			}
			return TestedClass{classed.Class, true, test.Date}
		}
		n.Cautions = append(n.Cautions, fmt.Sprintf("The test of %s could not be used: %v.", dated(test.Date), err))
	}
	if e == garden.Phosphorus && g.richlyManured() {
		n.say("Phosphorus is untested; with manure or compost in at least three of the last four years it is taken as high, so that little more is given.", "untested", "")
		return TestedClass{Class: garden.High}
	}
	n.say(fmt.Sprintf("%s is untested and taken as medium: about what the common dressing of an untested garden, %s of 10-10-10, brings.", elementTitle(e), g.Units.Rate(20*PoundPer1000SquareFeet)), "untested", "")
	return TestedClass{Class: garden.Medium}
}

// LatestReading is the newest reading of an element up to a day that stands for a bed, with its test.
func LatestReading(tests []garden.SoilTest, bedID int64, e garden.Element, upTo civil.Date) (test garden.SoilTest, reading garden.Reading, ok bool) {
	for _, t := range tests {
		if t.Date > upTo || len(t.Beds) > 0 && !slices.Contains(t.Beds, bedID) || ok && t.Date < test.Date {
			continue
		}
		for _, r := range t.Elements {
			if r.Element == e {
				test, reading, ok = t, r, true
			}
		}
	}
	return test, reading, ok
}

// richlyManured says whether manure or compost went on the bed in three of the four years before the season.
func (g Ground) richlyManured() bool {
	years := map[int]bool{}
	for _, t := range g.Treatments {
		m, ok := Find(t.Material)
		rich := ok && m.Family == Organic && m.P2O5 != nil && m.P2O5.Value >= 0.3
		if rich && t.BedID == g.Bed.ID && t.Date <= g.From && g.From.Since(t.Date) < 4*366 {
			years[t.Date.Year()] = true
		}
	}
	return len(years) >= 3
}

// share is a planting's need with the areas on which it is answerable for each plant food.
type share struct {
	PlantingNeed
	n, p, k quantity.SquareMetre
}

// parts cuts the bed along the edges of all plantings and gives each piece of ground to the crops that stand on it.
func (g Ground) parts() (shares []share, planted quantity.SquareMetre) {
	plantings := slices.Clone(g.Plantings)
	slices.SortFunc(plantings, func(a, b garden.Planting) int {
		return cmp.Or(cmp.Compare(a.Start, b.Start), cmp.Compare(a.Key, b.Key))
	})
	shares = make([]share, len(plantings))
	for i, p := range plantings {
		row, name := Mixed(), p.CropID
		if c := g.crop(p.CropID); c != nil {
			row, name = Recommended(c), c.Name()
		}
		shares[i].PlantingNeed = PlantingNeed{Key: p.Key, Crop: name, Area: p.Place.Area(), Row: row, Start: p.Start}
	}
	along, across := edges(plantings, false), edges(plantings, true)
	for i := 1; i < len(along); i++ {
		for j := 1; j < len(across); j++ {
			x, y := (along[i-1]+along[i])/2, (across[j-1]+across[j])/2
			var here []int
			for k, p := range plantings {
				if p.Place.AlongFrom < x && x < p.Place.AlongTo && p.Place.AcrossFrom < y && y < p.Place.AcrossTo {
					here = append(here, k)
				}
			}
			piece := quantity.SquareMetre((along[i] - along[i-1]) * (across[j] - across[j-1]))
			settle(plantings, shares, here, piece)
			if len(here) > 0 {
				planted += piece
			}
		}
	}
	return shares, planted
}

func edges(plantings []garden.Planting, across bool) []quantity.Metre {
	var all []quantity.Metre
	for _, p := range plantings {
		if across {
			all = append(all, p.Place.AcrossFrom, p.Place.AcrossTo)
		} else {
			all = append(all, p.Place.AlongFrom, p.Place.AlongTo)
		}
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// settle gives one piece of ground to the plantings on it (indices by start). Nitrogen goes, in each run of plantings
// whose days overlap, to the one that asks most; phosphate and potash to the one that asks most in the whole season.
func settle(plantings []garden.Planting, shares []share, here []int, piece quantity.SquareMetre) {
	if len(here) == 0 {
		return
	}
	greatest := func(among []int, of func(Recommendation) float64) int {
		best := among[0]
		for _, k := range among[1:] {
			if of(shares[k].Row) > of(shares[best].Row) {
				best = k
			}
		}
		return best
	}
	for from := 0; from < len(here); {
		end, to := plantings[here[from]].Clear, from+1
		for to < len(here) && plantings[here[to]].Start < end {
			end = max(end, plantings[here[to]].Clear)
			to++
		}
		shares[greatest(here[from:to], func(r Recommendation) float64 { return r.High + r.Low })].n += piece
		for _, k := range here[from:to] {
			shares[k].Follows = shares[k].Follows || from > 0
		}
		from = to
	}
	shares[greatest(here, func(r Recommendation) float64 { return sum(r.P2O5) })].p += piece
	shares[greatest(here, func(r Recommendation) float64 { return sum(r.K2O) })].k += piece
}

func sum(v [5]float64) float64 {
	total := 0.0
	for _, x := range v {
		total += x
	}
	return total
}

// crop is the crop with an ID, nil when there is none.
func (g Ground) crop(id string) *crop.Crop {
	if g.Crops == nil {
		return nil
	}
	c, _ := g.Crops.Find(id)
	return c
}
