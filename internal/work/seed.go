package work

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Shares added or lost between the packet and the row, where the crop's file says nothing closer.
// All are common practice.
const (
	// standingShare of the seedlings raised under cover are good enough to set out.
	standingShare = 0.85
	// drillSpare is bought beyond what the drills take: for a gap sown again, a spilt packet.
	drillSpare = 0.10
	// setSpare is bought beyond the sets, tubers or cloves the rows take: for soft and sprouted ones.
	setSpare = 0.05
	// fieldShare of placed seeds that come up grow on: the rest goes to slugs, birds, crusted soil.
	fieldShare = 0.85
	// seedsAStation is the most seeds put in one place.
	seedsAStation = 3
	// seedsAHill go in each hill, a hand apart, to be thinned to the best one or two.
	seedsAHill = 4
)

// SeedsFor is how many seeds give so many plants.
//
//	plants       wanted, 0 or more
//	germination  share of the seeds that come up, 0–1; the legal minimum where a crop has one (7 CFR 201.31)
//	growOn       share of the seedlings that become plants, 0–1
//
// Seeds are whole, so the result is rounded up. A share of 0 (not known) counts as 1.
//
// Source: common practice; plants ÷ (germination × share growing on).
func SeedsFor(plants int, germination, growOn float64) int {
	if germination <= 0 || germination > 1 {
		germination = 1
	}
	if growOn <= 0 || growOn > 1 {
		growOn = 1
	}
	return int(math.Ceil(float64(plants)/(germination*growOn) - 1e-9))
}

// SeedMass is the mass of so many seeds; 0 when the count to a gram is not known.
func SeedMass(seeds int, perGram float64) quantity.Gram {
	if perGram <= 0 {
		return 0
	}
	return quantity.Gram(float64(seeds) / perGram)
}

// drilled is the sowing of one planting in the open ground.
type drilled struct {
	rows   int
	length quantity.Metre // of one row
	apart  quantity.Metre // seed from seed along the row, or station from station
	abreast,
	station int // lines of seed in a wide drill; seeds at each place
	seeds int
}

// drill works out the sowing: along each row a seed every SowApart (a wide drill takes as many lines
// of seed as fit at the same distance); where the seed is placed at the final distance, as many in
// each place as make it likely that one grows.
func drill(c *crop.Crop, p *garden.Planting, length quantity.Metre) drilled {
	s := drilled{rows: max(1, p.Rows), length: length, apart: c.Spacing.SowApart, abreast: 1, station: 1}
	if s.apart <= 0 {
		s.apart = c.Spacing.InRow
	}
	if s.apart <= 0 || length <= 0 {
		s.seeds = SeedsFor(p.Plants, c.Seed.Germination, fieldShare)
		return s
	}
	if c.Spacing.RowWidth > 0 {
		s.abreast = max(1, int(math.Floor(float64(c.Spacing.RowWidth/s.apart)+1e-6)))
	}
	if p.Role == garden.Marker {
		return marked(c, p, s)
	}
	places := float64(s.rows) * math.Round(float64(length/s.apart)) * float64(s.abreast)
	if placed(c) {
		places = float64(p.Plants)
		s.apart = c.Spacing.InRow
		s.station = eachPlace(c)
	}
	s.seeds = int(places) * s.station
	return s
}

// marked is the sowing of a marker: as many places as the plan gives it, along the slow crop's drills.
func marked(c *crop.Crop, p *garden.Planting, s drilled) drilled {
	n := max(1, p.Plants)
	s.abreast = 1
	s.apart = s.length * quantity.Metre(s.rows) / quantity.Metre(n)
	s.seeds = SeedsFor(n, c.Seed.Germination, fieldShare)
	return s
}

// placed says whether the seed is put at the final distance, one or a few to a place: in hills and
// stations, and where it is sown as far apart as the plants stand. In a wide drill or trench it is
// not: there the seed lies thick, and none is spared for a second.
func placed(c *crop.Crop) bool {
	if c.Spacing.RowWidth > 0 {
		return false
	}
	if _, told := toldEach(c); told || c.Practice.Sowing == hilled {
		return true
	}
	return c.Spacing.SowApart <= 0 || c.Spacing.SowApart >= c.Spacing.InRow*0.99
}

// raised is the sowing of one planting under cover.
type raised struct {
	cells, each int // each: seeds to a cell; 0 cells: sown in trays
	seeds       int
	seedlings   int // expected
}

// raising works out the sowing under cover. Onions and leeks go thickly in trays; all others in
// cells or pots, two seeds each where fewer than nine in ten come up.
func raising(c *crop.Crop, p *garden.Planting) raised {
	seedlings := SeedsFor(p.Plants, 1, standingShare)
	if c.Group == crop.Allium {
		return raised{seeds: SeedsFor(seedlings, c.Seed.Germination, 1), seedlings: seedlings}
	}
	g := c.Seed.Germination
	if g <= 0 || g > 1 {
		g = 1
	}
	r := raised{each: 1, seedlings: seedlings}
	if g < 0.9 {
		r.each = 2
	}
	filled := 1 - math.Pow(1-g, float64(r.each)) // share of cells with at least one seedling
	r.cells = int(math.Ceil(float64(seedlings)/filled - 1e-9))
	r.seeds = r.cells * r.each
	return r
}

// SetsFor is how many sets, tubers, cloves or crowns to buy for so many places.
func SetsFor(places int) int {
	return int(math.Ceil(float64(places)*(1+setSpare) - 1e-9))
}

// toAPlace is how a crop's sentence says the seeds of one place: "Sow two or three seeds to a station".
var toAPlace = regexp.MustCompile(`(?i)\b(two|three|four|five)(?: or \w+)? seeds to a (?:station|hill)\b`)

// toldEach is how many seeds go in one place by the crop's own sentences.
func toldEach(c *crop.Crop) (int, bool) {
	for _, s := range c.Practice.Jobs {
		if m := toAPlace.FindStringSubmatch(s); m != nil {
			return slices.Index(smallNumbers, strings.ToLower(m[1])), true
		}
	}
	return 0, false
}

// eachPlace is how many seeds go in one place: as the crop's file says; four to a hill; else as many
// as make it likely that one grows.
func eachPlace(c *crop.Crop) int {
	if n, told := toldEach(c); told {
		return n
	}
	if c.Practice.Sowing == hilled {
		return seedsAHill
	}
	return min(seedsAStation, SeedsFor(1, c.Seed.Germination, fieldShare))
}

// bestOf is what places sown with a few seeds are thinned to.
func bestOf(c *crop.Crop, places int) string {
	switch {
	case places == 1:
		return "to the best plant"
	case c.Practice.Sowing == hilled:
		return "to the best one or two in each hill"
	}
	return "to the best in each place"
}

// leaving is what thinning leaves of them.
func leaving(c *crop.Crop, places int) string { return strings.TrimPrefix(bestOf(c, places), "to ") }
