package soil

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// TestTestedTexture: the texture that the newest test tells goes before what is told of the bed or the garden, for the beds the test
// stands for: in the lime, and in the feeding, whose side-dressing and leaching go by it.
func TestTestedTexture(t *testing.T) {
	bed := garden.Bed{ID: 1, Name: "South", Length: 5, Width: 2, Soil: garden.Soil{Texture: garden.Clay}}
	other := garden.Bed{ID: 2, Name: "North", Length: 5, Width: 2}
	g := garden.Garden{Site: garden.Site{Latitude: 44, Soil: garden.Soil{Texture: garden.Loam}}, Beds: []garden.Bed{bed, other}}
	season := civil.SeasonOf(2027, 44)
	look := func(b garden.Bed) (Ground, Sour) {
		ground := GroundOf(g, b, nil, season, crop.Default())
		return ground, SourOf(g, ground, garden.TowardsAcid, season.Start.Add(60))
	}
	if ground, sour := look(bed); ground.Texture != garden.Clay || ground.TextureBy != 0 || sour.Soil.Texture != garden.Clay {
		t.Errorf("told: %s and %s", ground.Texture, sour.Soil.Texture)
	}
	first, last := civil.Of(2024, 10, 1), civil.Of(2026, 10, 1)
	g.Tests = []garden.SoilTest{{Date: last, Texture: garden.Sand, Beds: []int64{1}}, {Date: first, Texture: garden.Loam}, {Date: last + 1, Beds: []int64{1}}}
	if ground, sour := look(bed); ground.Texture != garden.Sand || ground.TextureBy != last || sour.Soil.Texture != garden.Sand {
		t.Errorf("tested: %s by %s, for the lime %s", ground.Texture, ground.TextureBy, sour.Soil.Texture)
	}
	if ground, _ := look(other); ground.Texture != garden.Loam || ground.TextureBy != first {
		t.Errorf("a bed the newer test does not stand for: %s by %s", ground.Texture, ground.TextureBy)
	}
}

// TestDriftInUnits: the year's water is told in the person's units.
func TestDriftInUnits(t *testing.T) {
	var months [12]weather.Normal
	for m := range months {
		months[m] = weather.Normal{Month: m + 1, Min: 5, Max: 12, Rain: 101.6}
	}
	for units, want := range map[quantity.System]string{quantity.Metric: "1219 mm of rain", quantity.US: "48 in of rain"} {
		if says := DriftOf(44, months, units).Reasons[0].Says; !strings.Contains(says, want) {
			t.Errorf("%v: %s", units, says)
		}
	}
}
