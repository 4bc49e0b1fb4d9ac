package soil_test

import (
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
)

// TestSoilOfTheSite: what a bed does not tell of its ground is told by the site, the tool it is dug with among it.
func TestSoilOfTheSite(t *testing.T) {
	g := garden.Garden{Site: garden.Site{Latitude: 44, Soil: garden.Soil{Texture: garden.Clay, Topsoil: 0.3, Tilled: 0.25, Spit: garden.Tiller, Bucket: 12}}}
	ground := groundOf()
	if got := soil.SourOf(g, ground, "", day(4, 2)).Soil; got.Spit != garden.Tiller || got.Tilled != 0.25 || got.Topsoil != 0.3 || got.Texture != garden.Clay || got.Bucket != 12 {
		t.Errorf("of the site alone: %+v", got)
	}
	ground.Bed.Soil = garden.Soil{Spit: garden.ForkAndSpade, Tilled: 0.4}
	if got := soil.SourOf(g, ground, "", day(4, 2)).Soil; got.Spit != garden.ForkAndSpade || got.Tilled != 0.4 || got.Topsoil != 0.3 {
		t.Errorf("of the bed before the site: %+v", got)
	}
}
