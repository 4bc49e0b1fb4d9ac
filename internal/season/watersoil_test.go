package season

import (
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/soil"
	"kailyard/internal/water"
)

// The two rooms that reckon with the water of the ground hold it to be the same ground.
func TestWaterAndSoilAgree(t *testing.T) {
	for _, texture := range garden.Textures {
		l, g := soil.LayerOf(texture, 0), water.GroundOf(texture)
		if l.Capacity != g.Capacity || l.Wilting != g.Wilting || l.Readily != g.Ready {
			t.Errorf("%s: %v, %v, %v in soil; %v, %v, %v in water", texture, l.Capacity, l.Wilting, l.Readily, g.Capacity, g.Wilting, g.Ready)
		}
	}
}
