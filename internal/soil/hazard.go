package soil

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
)

// latestHazards are the newest readings of lead and of salts that stand for the bed.
func latestHazards(s Sour) garden.SoilTest {
	var out garden.SoilTest
	var lead, salts civil.Date
	for _, t := range s.Tests {
		if t.Date > s.Today || len(t.Beds) > 0 && !slices.Contains(t.Beds, s.BedID) {
			continue
		}
		if t.Lead != nil && (out.Lead == nil || t.Date >= lead) {
			out.Lead, lead = t.Lead, t.Date
		}
		if t.Salts != nil && (out.Salts == nil || t.Date >= salts) {
			out.Salts, out.SaltsBy, salts = t.Salts, t.SaltsBy, t.Date
		}
	}
	out.Texture = s.Soil.Texture
	return out
}

// BedAlarms are the lead and the salts that the newest tests of a bed tell of, up to a day.
func BedAlarms(tests []garden.SoilTest, bed int64, texture garden.Texture, today civil.Date) []Alarm {
	return AlarmsOf(latestHazards(Sour{BedID: bed, Tests: tests, Soil: garden.Soil{Texture: texture}, Today: today}))
}
