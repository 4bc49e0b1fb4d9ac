package water

import (
	"fmt"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Ground is how a soil holds water.
type Ground struct {
	Texture  garden.Texture // the one reckoned with
	Capacity float64        // m³/m³ that stays when it has drained
	Wilting  float64        // m³/m³ that roots cannot take
	Ready    float64        // mm that bare ground loses at the full rate
	Curve    float64        // runoff curve number
}

// surface is how deep bare ground dries. Source: FAO56 (chapter 7, 0.10–0.15 m)
const surface = 0.10 // m

// grounds are field capacity, wilting point, readily evaporable water, and the curve number of level ground in rows with good
// structure. Peat and muck are estimated.
//
// Source: AQUACROP for water; TR55 for curve numbers (contoured and terraced rows in good state, groups A to D)
var grounds = map[garden.Texture]Ground{
	garden.Sand:      {Capacity: 0.13, Wilting: 0.06, Ready: 4, Curve: 62},
	garden.SandyLoam: {Capacity: 0.22, Wilting: 0.10, Ready: 7, Curve: 66},
	garden.Loam:      {Capacity: 0.31, Wilting: 0.15, Ready: 9, Curve: 71},
	garden.SiltLoam:  {Capacity: 0.33, Wilting: 0.13, Ready: 11, Curve: 71},
	garden.ClayLoam:  {Capacity: 0.39, Wilting: 0.23, Ready: 11, Curve: 78},
	garden.Clay:      {Capacity: 0.54, Wilting: 0.39, Ready: 14, Curve: 81},
	garden.Organic:   {Capacity: 0.45, Wilting: 0.20, Ready: 10, Curve: 66},
}

// GroundOf is how a texture holds water.
//
//	texture  empty: loam, which textureUntold says
func GroundOf(texture garden.Texture) Ground {
	g, ok := grounds[texture]
	if !ok {
		texture, g = garden.Loam, grounds[garden.Loam]
	}
	g.Texture = texture
	return g
}

// textureUntold says that beds are reckoned with as loam.
func textureUntold(beds []string, of int) []string {
	if len(beds) == 0 {
		return nil
	}
	where := Part{Names: beds}.Grows()
	if len(beds) == of {
		where = "the beds"
	}
	return []string{fmt.Sprintf("The texture of %s is not told, so a loam is reckoned with; sand holds half as much and wants water twice as often.", where)}
}

// Available is the water that roots can take from a depth, mm.
//
//	root  m
//
// Source: FAO56 eq. 82
func (g Ground) Available(root quantity.Metre) quantity.Millimetre {
	return quantity.Millimetre(1000 * (g.Capacity - g.Wilting) * float64(root))
}

// Evaporable is the water that the sun can take from bare ground, mm.
//
// Source: FAO56 eq. 73
func (g Ground) Evaporable() float64 { return 1000 * (g.Capacity - 0.5*g.Wilting) * surface }

// Runoff is what of a day's rain runs off level ground, mm.
//
//	rain  mm
//
// Source: TR55 (runoff equation, initial loss a fifth of what the ground can take)
func (g Ground) Runoff(rain float64) float64 {
	takes := 25400/g.Curve - 254
	above := rain - 0.2*takes
	if above <= 0 {
		return 0
	}
	return above * above / (rain + 0.8*takes)
}

// ShareAt is the part of the water in reach that a crop takes before it suffers on a day: the less the greater the thirst.
//
//	share   printed for 5 mm a day
//	demand  mm of the day
//	result  0.1–0.8
//
// Source: FAO56-T22, footnote: p + 0.04·(5 − ETc)
func ShareAt(share, demand float64) float64 {
	return max(0.1, min(0.8, share+0.04*(5-demand)))
}

// Stress is what a thirsty crop still draws of its full demand.
//
//	depletion, available  mm; share is ShareAt's
//	result                0–1; 1 until the readily taken water is gone
//
// Source: FAO56 eq. 84
func Stress(depletion, available, share float64) float64 {
	if ready := share * available; depletion <= ready {
		return 1
	}
	if available <= 0 || share >= 1 {
		return 0
	}
	return max(0, min(1, (available-depletion)/((1-share)*available)))
}

// Freely is how freely the ground's surface evaporates: fully until the ready water is gone, then less and less.
//
//	depletion  mm of the surface
//
// Source: FAO56 eq. 74
func (g Ground) Freely(depletion float64) float64 {
	all := g.Evaporable()
	ready := min(g.Ready, 0.9*all)
	if depletion <= ready {
		return 1
	}
	return max(0, (all-depletion)/(all-ready))
}

// Says tells how much a depth of it holds.
func (g Ground) Says(root quantity.Metre, units quantity.System) string {
	return fmt.Sprintf("%s holds %s for roots that go %s down.", g.Texture, units.Rain(g.Available(root)), units.Depth(root))
}
