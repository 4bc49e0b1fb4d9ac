package web

import (
	"fmt"
	"net/http"
	"net/url"
	"testing"

	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// largeLight is an invented plot of 30 × 20 m, 9 600 cells of 25 cm, with twelve beds and twelve things that throw shade on it.
func largeLight() garden.Garden {
	g := garden.Garden{Site: garden.Site{Name: "Thirty by twenty (invented)", Latitude: 45, Longitude: 5, Width: 30, Depth: 20}}
	for i := range 12 {
		g.Beds = append(g.Beds, garden.Bed{ID: int64(i + 1), Name: fmt.Sprintf("Bed %d", i+1), X: 5 + 6*quantity.Metre(i%4), Y: 4 + 5*quantity.Metre(i/4), Length: 5, Width: 1.2, Bearing: 90, Sun: 8})
	}
	tree := func(name string, x, y, height, spread float64, crown garden.CrownShape) garden.Shade {
		return garden.Shade{Name: name, Kind: garden.Tree, X: metres(x), Y: metres(y), Height: metres(height), Spread: metres(spread), CrownBase: 1.5, Crown: crown}
	}
	box := func(name string, kind garden.ShadeKind, x, y, length, width, bearing, height, ridge float64) garden.Shade {
		return garden.Shade{Name: name, Kind: kind, X: metres(x), Y: metres(y), Length: metres(length), Width: metres(width), Bearing: bearing, Height: metres(height), Ridge: metres(ridge)}
	}
	g.Shades = []garden.Shade{
		tree("Pear", 2, 6.5, 6, 4, garden.RoundCrown), tree("Plum", 14, 6.5, 5, 4, garden.RoundCrown), tree("Cherry", 26, 11.5, 8, 6, garden.RoundCrown),
		tree("Fir", 31, 6, 14, 4, garden.ConeCrown), tree("Spruce", -2, 12, 16, 5, garden.ConeCrown), tree("Lime", 10, -4, 15, 9, garden.RoundCrown),
		box("House", garden.House, 20, -5, 12, 8, 90, 5, 8), box("Shed", garden.Shed, 28, 1.3, 3, 2, 90, 2.2, 2.8), box("Roof next door", garden.Roof, -8, 5, 10, 9, 20, 4, 7),
		box("Fence", garden.Fence, 15, 19.8, 29, .1, 90, 1.8, 0), box("Wall", garden.Wall, 29.8, 12, 14, .3, 0, 2, 0), box("Hedge", garden.Hedge, 6, 1, 10, 1, 90, 1.6, 0),
	}
	for i := range g.Shades {
		g.Shades[i].ID = int64(i + 1)
		if s := &g.Shades[i]; s.Kind == garden.Tree && s.Crown == garden.RoundCrown {
			s.LeafOn, s.LeafOff = garden.DayOfYear{Month: 4, Day: 25}, garden.DayOfYear{Month: 11, Day: 1}
		}
	}
	return g
}

// BenchmarkLightAfterADrag is what the browser asks for when a tree was dragged: where it stands is kept, the light of the whole
// year reckoned anew, and the page with the picture written, all through the handler. It is to take less than 200 ms.
func BenchmarkLightAfterADrag(b *testing.B) {
	h, store := storySite(b, mustStory(b), storyToday)
	store.g = largeLight()
	for n := 0; b.Loop(); n++ {
		x := 14 + float64(n%500)/100
		w := post(b, h, "/plot/shade/2/move", url.Values{"x": {fmt.Sprint(x)}, "y": {"6.5"}, "month": {"6"}})
		if w.Code != http.StatusSeeOther {
			b.Fatalf("moving: status %d: %s", w.Code, words(parse(b, w)))
		}
		if w := get(b, h, w.Header().Get("Location")); w.Code != http.StatusOK {
			b.Fatal(w.Code)
		}
	}
}
