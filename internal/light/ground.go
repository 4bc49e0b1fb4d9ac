package light

import (
	"math"
	"slices"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// Beds are reckoned on ground of their own, in finer cells than the plot's that lie along and across the bed, most of them across:
// an edge of shade that lies along a bed all day, as that of a wall does about the equinox, falls on one side of a row of cells
// or the other.
const (
	acrossBed                 = 64 // cells on a bed's shorter side
	alongBed   quantity.Metre = 0.25
	leastAlong                = 12
	mostAlong                 = 24
)

// outline is where a bed lies.
type outline struct {
	x, y, length, width quantity.Metre
	bearing             float64
}

func outlineOf(b garden.Bed) outline { return outline{b.X, b.Y, b.Length, b.Width, b.Bearing} }

// facing is the garden as it lies to one who stands in the middle of a bed and looks along it: the same ground under the same
// sun, so turned that the bed's longer side goes to the north of a grid.
func facing(g garden.Garden, b garden.Bed) (garden.Garden, sun.Grid) {
	turn, long, short := b.Bearing, b.Length, b.Width
	if short > long {
		turn, long, short = turn+90, short, long
	}
	g.Site.Lie.North += turn
	sin, cos := math.Sincos(turn * math.Pi / 180)
	shades := make([]garden.Shade, len(g.Shades))
	for i, s := range g.Shades {
		east, north := float64(s.X-b.X), float64(s.Y-b.Y)
		s.X, s.Y = quantity.Metre(east*cos-north*sin), quantity.Metre(east*sin+north*cos)
		s.Bearing -= turn
		shades[i] = s
	}
	g.Shades = shades
	grid := sun.Grid{SouthWest: sun.Spot{East: -short / 2, North: -long / 2}, Cell: max(short, 0.01) / acrossBed, Columns: acrossBed}
	grid.Rows = max(leastAlong, min(mostAlong, int(math.Round(float64(long/alongBed)))))
	grid.Deep = max(long, 0.01) / quantity.Metre(grid.Rows)
	return g, grid
}

// onBed is the mean on a bed of the direct sun of some months.
func onBed(g garden.Garden, b garden.Bed, months []time.Month, days [][]sun.Step) (hours Sun) {
	turned, grid := facing(g, b)
	scene := SceneOf(turned)
	for i, thing := range scene.Things {
		if len(thing.Passes) != 12 {
			continue
		}
		passes := make([]float64, len(months))
		for k, m := range months {
			passes[k] = thing.Passes[m-1]
		}
		scene.Things[i].Passes = passes
	}
	for _, of := range scene.Shine(grid, days).Hours {
		sum := 0.0
		for _, h := range of {
			sum += float64(h)
		}
		hours = append(hours, quantity.Hour(sum/float64(len(of))))
	}
	return hours
}

// wholeYear are the months.
var wholeYear = []time.Month{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12}

// hoursOn is the direct sun on a bed's own ground, by month.
func (y Year) hoursOn(b garden.Bed) Sun { return onBed(y.Garden, b, wholeYear, sunOnly(y.days)) }

// bedYear is what is reckoned for a bed: direct sun on its own ground; the energy by the plot's cells, and by as much more or less
// as the hours of the finer ground are.
func (y Year) bedYear(b garden.Bed, own Sun) (of [12]Month) {
	parts := partsOf(b, y.Grid)
	for m, hours := range own {
		coarse := Month{quantity.Hour(mean(y.Hours[m], parts)), quantity.MegajoulePerSquareMetre(mean(y.Energy[m], parts)), Reckoned}
		of[m] = Month{hours, y.energy(coarse, y.Open[m], hours, m), Reckoned}
	}
	return of
}

// sunOnly are steps of which only the hours are asked for.
func sunOnly(days [][]sun.Step) [][]sun.Step {
	bare := make([][]sun.Step, len(days))
	for i, day := range days {
		bare[i] = slices.Clone(day)
		for k := range bare[i] {
			bare[i][k].Beam = 0
		}
	}
	return bare
}
