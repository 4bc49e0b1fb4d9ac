package season

import (
	"fmt"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
)

// BenchmarkLightOfAHundredBeds is what a plan of a hundred beds asks of the light, with a house, a tree and six tall crops, the
// light of the year reckoned anew each time.
func BenchmarkLightOfAHundredBeds(b *testing.B) {
	g := garden.Garden{Site: garden.Site{Latitude: 44, Longitude: -73, Width: 40, Depth: 40}}
	for i := range 100 {
		g.Beds = append(g.Beds, garden.Bed{ID: int64(i + 1), Name: fmt.Sprint(i), X: 3 + 3.7*quantity.Metre(i%10), Y: 2 + 1.9*quantity.Metre(i/10), Length: 3, Width: 1.2, Bearing: 90})
	}
	g.Shades = []garden.Shade{
		{ID: 1, Name: "house", Kind: garden.House, X: 20, Y: -5, Length: 12, Width: 8, Bearing: 90, Height: 5, Ridge: 8},
		{ID: 2, Name: "tree", Kind: garden.Tree, X: 42, Y: 20, Height: 9, Spread: 6, CrownBase: 2, Crown: garden.RoundCrown},
	}
	var tables []*growth.Table
	for _, c := range crop.Default().All() {
		if c.Plant.Height >= tallFrom && len(tables) < 6 {
			tables = append(tables, &growth.Table{Option: growth.Option{Crop: c}})
		}
	}
	n := 0
	for b.Loop() {
		n++
		g.Shades[1].Y = 20 + quantity.Metre(n)/100
		if l := lightOf(g, nil, tables); len(l.Beds) != 100 {
			b.Fatal("beds are missing")
		}
	}
}
