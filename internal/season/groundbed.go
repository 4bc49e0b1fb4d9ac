package season

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/soil"
)

// BedGround is one bed in the soil book.
type BedGround struct {
	Bed       garden.Bed
	Texture   garden.Texture // by the newest test that tells it, else as told of the bed or the site; empty: not known
	TextureBy civil.Date     // of the test that tells the texture; 0: it is told
	Tests     []TestRead     // that stand for the bed, the newest first
	Reaction  soil.Reaction  // pH expected now, its target, lime or sulfur with dated parts
	Fits      []CropFit      // what is planned here, then what is wanted in the garden
	Feeding   *soil.Prescription
	Organic   *OrganicGround
	New       *NewGround // how it is dug for its next planting; nil: nothing is to be planted in it
	Holes     []HoleGround
	Fitness   *soil.Fitness // when it is dry enough to dig; nil: Ground.Weeks says why
	Held      []HeldHarvest // harvests that raw manure holds back
	Years     []GroundYear  // what was tested and put on, the latest year first
	Again     []Again       // what is due again, by day
	Stopped   string        // why nothing is prescribed here: lead, or salts; else empty
}

// CropFit is how the bed's pH suits a crop.
type CropFit struct {
	soil.Fit      // Below, Above and Yield only where Known
	Known    bool // the pH is known
	Planned  bool // here; else it is wanted in the garden
}

// TestRead is a test with its readings in words.
type TestRead struct {
	Test     garden.SoilTest
	Readings []ReadingWords
}

// OrganicGround is organic matter for a bed.
type OrganicGround struct {
	soil.Enrichment
	Name  string   // of the material
	Stead []string // why it stands in place of what was chosen; nil: it is what was chosen
	Loads []soil.Load
	Last  civil.Date // organic matter was last given; 0: never, as far as the book knows
	Due   civil.Date
}

// NewGround is how a bed is dug for its next planting, in short spells.
type NewGround struct {
	soil.Breaking
	Broken  bool      // it is dug ground already, so this is the season's digging
	Toil    soil.Toil // with the person's own tool
	From    civil.Date
	Plant   civil.Date // the planting it is dug for
	Stints  []soil.Stint
	Left    quantity.SquareMetre // what cannot be dug in time
	Planned bool                 // there is a planting to dig for; else Stints is empty
}

// HoleGround is the holes of a perennial planting.
type HoleGround struct {
	Planting string // its key
	Crop     *crop.Crop
	Hole     soil.Hole
	Digging  soil.Digging
}

// HeldHarvest is a planting whose harvest raw manure holds back.
type HeldHarvest struct {
	Planting garden.Planting
	Crop     *crop.Crop
	soil.Held
	Clash bool // the plan counts on a harvest before
}

// GroundYear is a year of the bed's record.
type GroundYear struct {
	Year  int
	Tests []garden.SoilTest
	Put   []PutOn
}

// PutOn is one thing put on the bed.
type PutOn struct {
	garden.Treatment
	Name   string                          // of the material
	Family soil.Family                     // empty: not a material known here
	Raw    bool                            // raw manure
	Rate   quantity.KilogramPerSquareMetre // 0 where it cannot be weighed
}

// Again is something due again.
type Again struct {
	What   string // "lime", "test", "organic matter"
	On     civil.Date
	Due    bool // on the day, or past
	Reason garden.Reason
}

// layerKey is what the days fit to work go by.
type layerKey struct {
	texture garden.Texture
	limit   float64 // wettest at which it can be dug, part of its volume
}

// bedReader reads the beds one after another.
type bedReader struct {
	in      GroundInput
	ground  *Ground
	drying  soil.Drying // of the weather years
	told    bool        // there are weather years
	all     []garden.Planting
	fitness map[layerKey]*soil.Fitness
}

// read is everything of a bed but its feeding, which is reckoned for all beds together.
func (r *bedReader) read(ground soil.Ground) (BedGround, error) {
	b := BedGround{Bed: ground.Bed, Texture: ground.Texture, TextureBy: ground.TextureBy}
	sour := soil.SourOf(r.in.Garden, ground, r.ground.Drift.Drift, r.in.Day)
	sour.Lime = r.in.Choice.Lime
	reaction, err := soil.ReactionOf(sour)
	if err != nil {
		return b, err
	}
	b.Reaction = reaction
	for _, a := range b.Reaction.Alarms {
		if a.Stop && b.Stopped == "" {
			b.Stopped = a.Says
		}
	}
	if b.Stopped != "" { // lead or salts: no dose stands
		b.Reaction.Dose, b.Reaction.Others, b.Reaction.Due = nil, nil, 0
	}
	b.Tests = r.tests(b.Bed.ID)
	b.Fits = r.fits(b, sour.Crops)
	b.Years = r.record(b.Bed)
	if b.Fitness, err = r.fit(b); err != nil {
		return b, err
	}
	b.waitForGround()
	b.Held = r.held(ground)
	b.Holes = r.holes(ground)
	if b.Stopped == "" {
		if b.New, err = r.dig(b, ground); err != nil {
			return b, err
		}
		if b.Organic, err = r.enrich(b, sour); err != nil {
			return b, err
		}
		if err = b.limeBeside(sour); err != nil {
			return b, err
		}
	}
	b.Again = r.again(b)
	return b, nil
}

// limeBeside reckons the lime anew with the acid, or the lime, of the organic matter that goes in.
func (b *BedGround) limeBeside(sour soil.Sour) error {
	if b.Organic == nil || b.Organic.Limestone == 0 {
		return nil
	}
	sour.Beside = b.Organic.Limestone
	reaction, err := soil.ReactionOf(sour)
	if err != nil {
		return err
	}
	b.Reaction = reaction
	b.waitForGround()
	return nil
}

// feed reckons the feeding of all beds that may be fed.
func (r *bedReader) feed(grounds []soil.Ground) error {
	if err := r.feedOnce(grounds, nil); err != nil || !r.in.Whole {
		return err
	}
	strays := slices.ContainsFunc(r.ground.Beds, r.strays)
	if !strays {
		return nil
	}
	asked := make([][]string, len(grounds))
	for i, b := range r.ground.Beds {
		asked[i] = b.asked()
	}
	return r.feedOnce(grounds, asked)
}

// feedOnce reckons it with only those materials, bed by bed, as jobs that what was given closes; nil: all.
func (r *bedReader) feedOnce(grounds []soil.Ground, asked [][]string) error {
	var fed []soil.Ground
	var at []int
	choice := soil.Choice{Natural: r.in.Choice.Natural, Units: r.ground.Weighs}
	for i, g := range grounds {
		b := r.ground.Beds[i]
		if b.Stopped != "" || r.in.Whole && !growsIn(g) {
			continue
		}
		var only []string
		if asked != nil {
			only = asked[i]
		}
		fed, at = append(fed, r.planned(g, b, only)), append(at, i)
		if ph := b.Reaction.PH; ph > 0 && (choice.PH == nil || ph > *choice.PH) {
			choice.PH = &ph
		}
	}
	list, shopping, err := soil.Feed(fed, r.in.Garden.Packages, choice, r.in.Garden.Site.Soil.Bucket)
	if err != nil {
		return err
	}
	for k := range list {
		r.ground.Beds[at[k]].Feeding = &list[k]
	}
	r.ground.Buy.Shopping = shopping
	return nil
}

// fits are the crops planned in the bed and those wanted in the garden, each kind and range once.
func (r *bedReader) fits(b BedGround, planned []*crop.Crop) []CropFit {
	var all []CropFit
	add := func(c *crop.Crop, here bool) {
		if c == nil || c.PH.High <= 0 || slices.ContainsFunc(all, func(f CropFit) bool {
			return f.Crop.ID == c.ID || !here && f.Crop.Kind == c.Kind && f.Crop.PH.Low == c.PH.Low && f.Crop.PH.High == c.PH.High
		}) {
			return
		}
		f := CropFit{Fit: soil.Fit{Crop: c, Low: c.PH.Low, High: c.PH.High, Yield: 1}, Planned: here}
		if b.Reaction.PH > 0 {
			f.Fit, f.Known = soil.FitOf(c, b.Reaction.PH), true
		}
		all = append(all, f)
	}
	for _, c := range planned {
		add(c, true)
	}
	for _, w := range r.in.Garden.Wants {
		found, _ := r.in.Crops.Match(w.Crop)
		for _, c := range found {
			add(c, false)
		}
	}
	return all
}

// record is the bed's tests and treatments by year.
func (r *bedReader) record(bed garden.Bed) []GroundYear {
	var years []GroundYear
	of := func(d civil.Date) *GroundYear {
		i := slices.IndexFunc(years, func(y GroundYear) bool { return y.Year == d.Year() })
		if i < 0 {
			i, years = len(years), append(years, GroundYear{Year: d.Year()})
		}
		return &years[i]
	}
	for _, t := range r.in.Garden.Tests {
		if standsFor(t, bed.ID) && t.Date <= r.in.Day {
			y := of(t.Date)
			y.Tests = append(y.Tests, t)
		}
	}
	for _, t := range r.in.Garden.Treatments {
		if t.BedID != bed.ID || t.Date > r.in.Day {
			continue
		}
		p := PutOn{Treatment: t, Name: t.Material}
		mass := t.Amount
		if m, ok := soil.MaterialOf(t.Material, r.in.Garden.Packages); ok {
			p.Name, p.Family, p.Raw = m.Name, m.Family, m.Raw
			if mass == 0 && m.Density != nil {
				mass = quantity.Kilogram(float64(t.Volume) * m.Density.Value)
			}
		}
		if area := bed.Area(); area > 0 {
			p.Rate = quantity.KilogramPerSquareMetre(float64(mass) / float64(area))
		}
		y := of(t.Date)
		y.Put = append(y.Put, p)
	}
	slices.SortFunc(years, func(a, b GroundYear) int { return cmp.Compare(b.Year, a.Year) })
	return years
}

// standsFor says whether a test was taken from a bed, or from the whole garden.
func standsFor(t garden.SoilTest, bed int64) bool {
	return len(t.Beds) == 0 || slices.Contains(t.Beds, bed)
}

// fit is when the bed is dry enough to dig, by its texture and organic matter.
func (r *bedReader) fit(b BedGround) (*soil.Fitness, error) {
	if !r.told {
		return nil, nil
	}
	texture, organic := b.Texture, 0.0
	for _, t := range b.Tests {
		if t.Test.Organic != nil && organic == 0 {
			organic = *t.Test.Organic
		}
	}
	if organic > 0 { // to half a per cent, which moves the limit by one part in a hundred of the soil's weight; no test tells it closer
		organic = max(0.5, math.Round(2*organic)/2)
	}
	layer := soil.LayerOf(texture, organic)
	key := layerKey{texture, layer.Limit}
	if f, ok := r.fitness[key]; ok {
		return f, nil
	}
	f, err := r.drying.Fitness(layer)
	if err != nil {
		return nil, err
	}
	r.fitness[key] = &f
	return &f, nil
}

// held are the plantings of the season whose harvest raw manure holds back.
func (r *bedReader) held(ground soil.Ground) []HeldHarvest {
	var all []HeldHarvest
	for _, p := range ground.Plantings {
		c, ok := r.in.Crops.Find(p.CropID)
		if !ok || c.Group == crop.Cover {
			continue
		}
		until, held := soil.FirstHarvest(c, ground.Bed.ID, ground.Treatments)
		if held == nil || p.Last.P90 < held.Treatment.Date || p.Last.P90 != 0 && p.First.P10 >= until && until <= r.in.Day {
			continue
		}
		all = append(all, HeldHarvest{Planting: p, Crop: c, Held: *held, Clash: p.First.P50 != 0 && p.First.P50 < until})
	}
	return all
}

// holes are those of perennials that are still to be planted.
func (r *bedReader) holes(ground soil.Ground) []HoleGround {
	var all []HoleGround
	for _, p := range ground.Plantings {
		c, ok := r.in.Crops.Find(p.CropID)
		if !ok || p.Start < r.in.Day || p.Status == garden.InGround || p.Status == garden.Over {
			continue
		}
		hole, ok := soil.HoleFor(c, ground.Texture, r.in.Garden.Site.Units)
		if !ok {
			continue
		}
		digging, err := hole.Dig(p.Plants, soil.RowLength(ground.Bed, p), r.in.Garden.Site.Units)
		if err != nil {
			continue // a planting without plants or rows has no holes
		}
		all = append(all, HoleGround{Planting: p.Key, Crop: c, Hole: hole, Digging: digging})
	}
	return all
}

// again is what is due again, by day.
func (r *bedReader) again(b BedGround) []Again {
	var all []Again
	add := func(what string, on civil.Date, says, rule, source string) {
		all = append(all, Again{What: what, On: on, Due: on <= r.in.Day, Reason: garden.Reason{Says: says, Rule: rule, Source: source}})
	}
	if t := b.Reaction.Tested; t == 0 {
		add("test", r.in.Day, "This ground was never tested.", "test again", "REACTION-PRACTICE")
	} else {
		due := t.InYear(t.Year() + testYears)
		add("test", due, fmt.Sprintf("Tested on %s; what a test tells is good for about %d years.", t.Long(), testYears), "test again", "REACTION-PRACTICE")
	}
	if due := b.Reaction.Due; due != 0 {
		i := slices.IndexFunc(b.Reaction.Reasons, func(why garden.Reason) bool { return why.Rule == "lime again" })
		reason := garden.Reason{Rule: "lime again"}
		if i >= 0 {
			reason = b.Reaction.Reasons[i]
		}
		all = append(all, Again{What: "lime", On: due, Due: due <= r.in.Day, Reason: reason})
	}
	if o := b.Organic; o != nil {
		says := "No organic matter is on record here."
		if o.Last != 0 {
			says = fmt.Sprintf("Organic matter was last given on %s; it is used up within about a year.", o.Last.Long())
		}
		add("organic matter", o.Due, says, "organic matter again", "")
	}
	slices.SortStableFunc(all, func(a, b Again) int { return cmp.Compare(a.On, b.On) })
	return all
}
