package soil

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// SourOf gathers what a bed's reaction is worked out from, out of the garden and the bed's ground. The person's own word on the
// drift stands before the one inferred from the weather.
//
//	inferred  by DriftOf; empty: no weather record
func SourOf(g garden.Garden, ground Ground, inferred garden.Drift, today civil.Date) Sour {
	s := Sour{BedID: ground.Bed.ID, Area: ground.Bed.Area(), Soil: g.SoilOf(ground.Bed), Tests: ground.Tests, Drift: inferred,
		Today: today, South: g.Site.Latitude < 0, Packages: g.Packages, Units: g.Site.Soil.Weighs}
	if s.Soil.Texture == "" || ground.TextureBy != 0 {
		s.Soil.Texture = ground.Texture
	}
	if s.Soil.Drift != "" {
		s.Drift = s.Soil.Drift
	}
	for _, t := range ground.Treatments {
		if t.BedID == ground.Bed.ID {
			s.Treatments = append(s.Treatments, t)
		}
	}
	for _, p := range ground.Plantings {
		if ground.Crops == nil {
			break
		}
		c, ok := ground.Crops.Find(p.CropID)
		if !ok {
			continue
		}
		if !slices.ContainsFunc(s.Crops, func(o *crop.Crop) bool { return o.ID == c.ID }) {
			s.Crops = append(s.Crops, c)
		}
		if c.Perennial && p.Start <= today && p.Clear > today {
			s.Established = true
		}
		if p.Start > today && (s.Sowing == 0 || p.Start < s.Sowing) {
			s.Sowing = p.Start
		}
	}
	return s
}
