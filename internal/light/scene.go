// Package light is the sun on a garden's ground: hours and energy by bed and month, what that is good for, what to do about shade.
package light

import (
	"math"
	"time"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// SceneOf is the garden as the sun sees it, what lets light through told by month.
func SceneOf(g garden.Garden) sun.Scene {
	s := sun.Scene{Turn: g.Site.Lie.North, Slope: g.Site.Lie.Slope, Aspect: g.Site.Lie.Aspect}
	for _, sight := range g.Site.Lie.Horizon {
		s.Horizon = append(s.Horizon, sun.Sight(sight))
	}
	for _, shade := range g.Shades {
		s.Things = append(s.Things, thingsOf(shade)...)
	}
	return s
}

// thingsOf are the shapes of one shade: a tree's crown and trunk, or a box.
func thingsOf(s garden.Shade) []sun.Thing {
	passes := make([]float64, 12)
	for m := range passes {
		passes[m] = s.Through(time.Month(m + 1))
	}
	if s.Kind != garden.Tree {
		return []sun.Thing{{Shape: boxOf(s), Passes: passes}}
	}
	middle := sun.Spot{East: s.X, North: s.Y}
	things := []sun.Thing{{Shape: sun.Crown{Middle: middle, Radius: s.Spread / 2, Bottom: s.CrownBase, Top: s.Height, Cone: s.Crown == garden.ConeCrown}, Passes: passes}}
	if s.CrownBase > 0 {
		things = append(things, sun.Thing{Shape: sun.Post{Middle: middle, Radius: s.TrunkThick() / 2, Top: s.CrownBase}})
	}
	return things
}

func boxOf(s garden.Shade) sun.Solid {
	foot := s.Footprint()
	spot := func(along, across quantity.Metre) sun.Spot { return sun.Spot(foot.On(along, across)) }
	var box sun.Solid
	for _, c := range foot.Corners() {
		box.Foot = append(box.Foot, sun.Spot(c))
		box.Top = append(box.Top, sun.Apex{Spot: sun.Spot(c), Height: s.Height})
	}
	if s.Ridge > s.Height {
		box.Top = append(box.Top, sun.Apex{Spot: spot(0, foot.Width/2), Height: s.Ridge}, sun.Apex{Spot: spot(foot.Length, foot.Width/2), Height: s.Ridge})
	}
	return box
}

// The ground is reckoned in cells this wide, wider on land so large that there would be more of them than mostCells.
const (
	finest    quantity.Metre = 0.25
	mostCells int            = 40000
)

// GridOf is the plot in cells.
func GridOf(g garden.Garden) sun.Grid {
	low, high := g.Extent()
	wide, deep := max(high.East-low.East, finest), max(high.North-low.North, finest)
	cell := max(finest, quantity.Metre(math.Sqrt(float64(wide)*float64(deep)/float64(mostCells))))
	return sun.Grid{SouthWest: sun.Spot(low), Cell: cell, Columns: int(math.Ceil(float64(wide/cell) - 1e-6)), Rows: int(math.Ceil(float64(deep/cell) - 1e-6))}
}

// part is a cell with its weight in a mean.
type part struct {
	cell   int
	weight float64
}

// partsOf are the cells a bed lies on, by a spot for every quarter of a metre of it, each between the middles of four cells.
// Spots beyond the grid take its rim.
func partsOf(b garden.Bed, grid sun.Grid) (parts []part) {
	along, across := pieces(b.Length), pieces(b.Width)
	each := 1 / float64(along*across)
	for i := range along {
		for j := range across {
			at := b.On(b.Length*quantity.Metre(2*i+1)/quantity.Metre(2*along), b.Width*quantity.Metre(2*j+1)/quantity.Metre(2*across))
			column, east := between(float64((at.East-grid.SouthWest.East)/grid.Cell), grid.Columns)
			row, north := between(float64((at.North-grid.SouthWest.North)/grid.Cell), grid.Rows)
			for _, c := range [4]struct {
				right, up int
				weight    float64
			}{{0, 0, (1 - east) * (1 - north)}, {1, 0, east * (1 - north)}, {0, 1, (1 - east) * north}, {1, 1, east * north}} {
				if c.weight > 0 {
					parts = append(parts, part{(row+c.up)*grid.Columns + column + c.right, c.weight * each})
				}
			}
		}
	}
	return parts
}

// between is the cell whose middle lies before a place, counted in cells from the rim, and how far it is on to the next.
func between(place float64, cells int) (cell int, on float64) {
	place = max(0, min(float64(cells-1), place-0.5))
	cell = int(place)
	return cell, place - float64(cell)
}

func pieces(side quantity.Metre) int { return max(1, min(400, int(math.Round(float64(side/finest))))) }

// mean is the mean over the parts.
func mean(of []float32, parts []part) (sum float64) {
	for _, p := range parts {
		sum += p.weight * float64(of[p.cell])
	}
	return sum
}
