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

// Transpires is what a mulch makes of the crop's own draught: over film that is not yet shaded it draws a little more, for the heat that the
// film sends up.
//
//	cover   share of the ground that the crop shades, 0–1
//
// Source: FAO56 (chapter 10: 10–30 % more over film; the low end, and only where the sun reaches the film)
func Transpires(m garden.Mulch, cover float64) float64 {
	if m == garden.FilmMulch {
		return 1 + 0.1*(1-max(0, min(1, cover)))
	}
	return 1
}

// filmAtMost is what a crop and its ground over film draw together at most, of what they would without. Source: FAO56 (chapter 10: Kc as a
// whole 10–30 % lower)
const filmAtMost = 0.9

// mulched are a day's coefficients of crop and ground under a mulch.
func mulched(m garden.Mulch, basal, evaporates, cover float64) (float64, float64) {
	crop, ground := basal*Transpires(m, cover), evaporates*Evaporates(m)
	if most := filmAtMost * (basal + evaporates); m == garden.FilmMulch && crop+ground > most {
		part := most / (crop + ground)
		crop, ground = crop*part, ground*part
	}
	return crop, ground
}
