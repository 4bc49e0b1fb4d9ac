package light

import (
	"fmt"
	"math"
	"slices"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// Remedy is something to do about a bed that has little sun.
type Remedy struct {
	Says    string
	Gains   quantity.Hour // of direct sun a day over the season
	Shade   int64         // the shade to work on, if that is it
	To      *garden.Bed   // where to move the bed, if that is it
	Caution string        // to show with it
	Source  string        // key in doc/SOURCES.md; empty: it is reckoned
}

// CutCaution goes with every advice to cut what throws shade.
const CutCaution = "Work up a ladder, with a saw or near a power line is for qualified people: have an arborist do it, and ask the network operator first where a line is within reach. " +
	"A neighbour's tree or hedge is theirs to cut, and many trees are protected: ask first. Birds nest from spring to late summer."

// The least that a remedy must gain, and the sun from which a bed wants none.
const (
	worthIt     quantity.Hour = 0.5
	worthMoving quantity.Hour = 1
)

var fullSun = classes[Fruit].Needs

// A tree keeps living branches on the upper two thirds of its height, and loses no more than a third of its living crown to
// have it raised, and that over years: no more than a quarter of it in one.
//
// Source: USFS-PRUNE.
const (
	mostClear   = 1. / 3 // of its height
	mostTaken   = 1. / 3 // of its living crown
	raisedWords = "over three years or more, a little in each and never more than a quarter of the living crown"
)

// Remedies are what would bring a bed more sun, the most first: thinning or taking away what stands in the light, raising a
// crown, moving the bed. None where the bed has sun enough for everything. They are differences between what is reckoned with and
// without; where less sun was seen than is reckoned, finding out what stands in its way comes before them.
func (y Year) Remedies(b garden.Bed) []Remedy {
	g := y.Garden
	there := y.Sun(b)
	if len(g.Shades) == 0 && there.Mean() < min(fullSun, InSeason(g.Site.Latitude, y.Open).Hours) && g.Site.Lie.Level() {
		return []Remedy{{Says: "Nothing is told that throws shade on this bed. Tell of the houses, fences, hedges and trees around it, and it can be reckoned what each of them takes and where there is more sun."}}
	}
	reckoned := sunOf(g.Site.Latitude, y.reckoned(b))
	var first []Remedy
	if lost := reckoned.For(classes[Fruit]) - there.For(classes[Fruit]); lost >= worthIt && !enough(there) {
		first = []Remedy{{Gains: reckoned.Mean() - there.Mean(), Says: fmt.Sprintf("By what you saw this bed has %s of sun a day less than is reckoned from what is told: look from the bed at the hours without sun for what stands in its way, and tell of it. Then it can be reckoned what thinning it or moving the bed would bring.", g.Site.Units.Hours(reckoned.Mean()-there.Mean()))}}
	}
	if enough(reckoned) {
		return first
	}
	return append(first, y.reckonedRemedies(b, reckoned)...)
}

// enough says whether sun is enough for everything.
func enough(sun Sun) bool { return sun.Share(classes[Fruit]) >= 1-nearlyAll }

// counted is by how much more of one sun than of another counts for what wants the most.
func counted(more, less Sun) quantity.Hour {
	return more.For(classes[Fruit]) - less.For(classes[Fruit])
}

// reckonedRemedies are those that are reckoned from what is told.
func (y Year) reckonedRemedies(b garden.Bed, now Sun) []Remedy {
	g := y.Garden
	hours := g.Site.Units.Hours
	var all []Remedy
	for i, s := range g.Shades {
		without := g
		without.Shades = slices.Delete(slices.Clone(g.Shades), i, i+1)
		free := y.seasonOn(without, b)
		takes := free.Mean() - now.Mean()
		if takes < worthIt || counted(free, now) < worthIt/2 {
			continue
		}
		r := Remedy{Gains: takes, Shade: s.ID, Says: fmt.Sprintf("The %s %q takes %s of sun a day from this bed.", s.Kind, s.Name, hours(takes))}
		if s.Kind.Grows() {
			r.Caution = CutCaution
			r.Says += " Thinning it gives a part of that back, cutting it down all."
			if s.Kind == garden.Tree {
				r.Source = "USFS-PRUNE"
				r.Says += " A tree bears to lose a quarter of its living crown in a year at most, an old one much less."
			}
			if raised, gains := y.raised(i, b, now); gains >= worthIt {
				r.Says += fmt.Sprintf(" With the lowest branches taken off up to %s, %s, the bed gains %s.", g.Site.Units.Length(raised.CrownBase), raisedWords, hours(gains))
			}
		}
		all = append(all, r)
	}
	if r, ok := y.moved(b, now); ok {
		all = append(all, r)
	}
	slices.SortStableFunc(all, func(a, b Remedy) int {
		if a.Gains > b.Gains {
			return -1
		}
		return 1
	})
	return all
}

// raised is a tree without as many of its lowest branches as it bears to lose, and what the bed gains by that.
func (y Year) raised(i int, b garden.Bed, now Sun) (raised garden.Shade, gains quantity.Hour) {
	g := y.Garden
	raised, ok := Raised(g.Shades[i])
	if !ok {
		return raised, 0
	}
	g.Shades = slices.Clone(g.Shades)
	g.Shades[i] = raised
	return raised, y.seasonOn(g, b).Mean() - now.Mean()
}

// Raised is a tree with its crown raised as far as it may be: to a third of its height, and by a third of its living crown,
// by length and by bulk. ok is false of what is no tree, or one that has no branches to spare.
//
// Of a round crown the lowest part t of its length holds 3t² − 2t³ of its bulk, less than t up to a half; of a cone
// 1 − (1 − t)³, and what is left of that is narrower, too.
//
// Source: USFS-PRUNE.
func Raised(tree garden.Shade) (raised garden.Shade, ok bool) {
	if tree.Kind != garden.Tree {
		return tree, false
	}
	living, part := tree.Height-tree.CrownBase, mostTaken
	if tree.Crown == garden.ConeCrown {
		part = 1 - math.Cbrt(1-mostTaken)
	}
	to := min(tree.Height*mostClear, tree.CrownBase+living*quantity.Metre(part))
	to = quantity.Metre(math.Floor(float64(to)*10+1e-6) / 10) // to be told, and cut, to the tenth of a metre
	if to <= tree.CrownBase {
		return tree, false
	}
	raised = tree
	raised.CrownBase = to
	if tree.Crown == garden.ConeCrown {
		raised.Spread *= 1 - (to-tree.CrownBase)/living
	}
	return raised, true
}

// seasonOn is the direct sun on a bed over the season, as reckoned.
func (y Year) seasonOn(g garden.Garden, b garden.Bed) Sun {
	months := Season(g.Site.Latitude)
	days := make([][]sun.Step, len(months))
	for i, m := range months {
		days[i] = y.days[m-1]
	}
	return onBed(g, b, months, sunOnly(days))
}

// moved looks for the sunniest free ground on the plot for a bed of the same size, turned as it is: by what counts for what wants the
// most sun, and of places alike the nearer.
func (y Year) moved(b garden.Bed, now Sun) (Remedy, bool) {
	const farther = 0.01 // hours that a metre of way weighs
	g, stride := y.Garden, max(0.5, y.Grid.Cell)
	season := y.season()
	low, high := g.Extent()
	best, at := 0.0, b
	for east := low.East; east <= high.East; east += stride {
		for north := low.North; north <= high.North; north += stride {
			there := b
			there.X, there.Y = east, north
			hours := y.at(there, season) - farther*math.Hypot(float64(east-b.X), float64(north-b.Y))
			if hours > best && free(g, there, low, high) {
				best, at = hours, there
			}
		}
	}
	if best == 0 {
		return Remedy{}, false
	}
	there := y.seasonOn(g, at)
	if counted(there, now) < worthMoving {
		return Remedy{}, false
	}
	gains, u := there.Mean()-now.Mean(), g.Site.Units
	return Remedy{
		Gains: gains, To: &at,
		Says: fmt.Sprintf("Moved to where its middle is %s east and %s north of the plot's south-west corner, the bed gains %s of sun a day.", u.Length(at.X), u.Length(at.Y), u.Hours(gains)),
	}, true
}

// season is the season's mean of the hours that count for what wants the most, by cell.
func (y Year) season() []float32 {
	months := Season(y.Garden.Site.Latitude)
	mean := make([]float32, y.Grid.Cells())
	for _, m := range months {
		for i, h := range y.Hours[m-1] {
			mean[i] += min(h, float32(fullSun)) / float32(len(months))
		}
	}
	return mean
}

// at is the mean on a bed by nine spots of it; 0 where one lies off the plot.
func (y Year) at(b garden.Bed, of []float32) float64 {
	sum := 0.0
	for i := range 3 {
		for j := range 3 {
			spot := b.On(b.Length*quantity.Metre(2*i+1)/6, b.Width*quantity.Metre(2*j+1)/6)
			cell, ok := y.Grid.Holding(sun.Spot(spot))
			if !ok {
				return 0
			}
			sum += float64(of[cell])
		}
	}
	return sum / 9
}

// walkway is the path kept free around a bed that is moved: between beds, before what stands on the plot, and to the plot's edge.
const walkway quantity.Metre = 0.4

// free says whether nothing else is on the ground of a bed, which lies on the plot, and there is a path to walk around it.
func free(g garden.Garden, b garden.Bed, low, high garden.Point) bool {
	b.Length, b.Width = b.Length+2*walkway, b.Width+2*walkway
	for _, c := range b.Corners() {
		if c.East < low.East-0.01 || c.North < low.North-0.01 || c.East > high.East+0.01 || c.North > high.North+0.01 {
			return false
		}
	}
	for _, o := range g.Beds {
		if o.ID != b.ID && o.Overlaps(b) {
			return false
		}
	}
	for _, s := range g.Shades {
		if s.Footprint().Overlaps(b) {
			return false
		}
	}
	return true
}

// RowCost is what a row of tall plants takes on a clear day of a month from ground beside it.
//
//	row       its height, length and bearing, true
//	distance  at right angles to it
//	side      from the row to the ground, degrees clockwise from true north: 0 is north of it
func RowCost(latitude float64, m time.Month, row sun.Row, distance quantity.Metre, side float64) quantity.Hour {
	return row.Costs(latitude, sun.UsualDay(anyYear, m), distance, side)
}
