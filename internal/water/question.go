package water

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/weather"
)

// QuestionOf asks for the watering of a garden's plantings: standing, planned or both.
//
//	plantings  what was lost is left out; one that is never cleared stands to the season's end
//	record     the measured or generated record, for the place's climate and what was measured; nil: temperature alone
//	years      its scenarios, begun well before the season
func QuestionOf(g garden.Garden, plantings []garden.Planting, crops *crop.Catalogue, season civil.Season, record *weather.Record, years []weather.Scenario) Question {
	q := Question{Season: season, Place: PlaceOf(g.Site.Latitude, g.Site.Elevation, record), Years: years, Grounds: map[int64]Ground{}, Reaches: map[int64]float64{}}
	q.Climate = ClimateOf(q.Place, record)
	if record != nil && record.Origin != weather.Generated {
		e := Evaporate(q.Place, record)
		q.Factors, _ = e.Factors(record)
		q.Rests = e.says(q.Factors)
		_, q.Doubted = wrongUnit(q.Place, record)
	}
	var untold []string
	for _, b := range g.Beds {
		texture := b.Soil.Texture
		if texture == "" {
			texture = g.Site.Soil.Texture
		}
		q.Grounds[b.ID] = GroundOf(texture)
		if texture == "" {
			untold = append(untold, b.Name)
		}
		_, q.Reaches[b.ID], _ = WayOf(g.WateredBy(b))
	}
	q.Rests = append(q.Rests, textureUntold(untold, len(g.Beds))...)
	plantings = slices.Clone(plantings)
	slices.SortStableFunc(plantings, func(a, b garden.Planting) int { return int(a.Start - b.Start) })
	for _, p := range plantings {
		bed, ok := g.Bed(p.BedID)
		c, known := crops.Find(p.CropID)
		if !ok || !known || p.Status == garden.Lost {
			continue
		}
		if p.Clear <= p.Start {
			p.Clear = max(season.End(), p.Start) + 1
		}
		if p.Clear <= season.Start || p.Start > season.End() {
			continue
		}
		s := standOf(p, c, g.WateredBy(bed))
		if s.From < season.Start-settles {
			s.From, s.To, s.Up, s.Settled = season.Start, min(s.To, season.End()+1), 0, true
		}
		q.Stands = append(q.Stands, s)
	}
	return q
}

// settles is how long before the season a planting must have gone in to count as standing from before: its stages then go with
// the season, as a perennial's do, and not with its age.
const settles = 200

// standOf is one planting.
func standOf(p garden.Planting, c *crop.Crop, w garden.Watering) Stand {
	s := Stand{Key: p.Key, Name: c.Kind, BedID: p.BedID, Area: p.Place.Area(), Place: p.Place, Crop: CropOf(c), From: p.Start, To: p.Clear, Plants: p.Plants, Mulch: w.Mulch}
	s.Wets, _, s.Waters = WayOf(w)
	if p.Way != crop.SetOut && p.Emerge.P50 > p.Start {
		s.Up = p.Emerge.P50
	}
	return s
}
