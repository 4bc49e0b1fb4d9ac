package water

import "kailyard/internal/garden"

// Evaporates is what of bare ground's evaporation a mulch lets through: straw, leaves or grass over the whole ground halve it
// (a twentieth for each tenth covered), film keeps two thirds back.
//
// Source: FAO56 (chapter 10: organic mulch; plastic film 50–80 % less, the middle taken)
func Evaporates(m garden.Mulch) float64 {
	switch m {
	case garden.OrganicMulch:
		return 0.5
	case garden.FilmMulch:
		return 0.35
	}
	return 1
}

// Transpires is what a mulch makes of the crop's own draught: over film it draws a little more, for the heat it sends up.
//
// Source: FAO56 (chapter 10: 10–30 % more over film while the canopy is open; the low end, for it closes)
func Transpires(m garden.Mulch) float64 {
	if m == garden.FilmMulch {
		return 1.1
	}
	return 1
}
