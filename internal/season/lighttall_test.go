package season

import (
	"strings"
	"testing"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
)

// TestTallCropsBeforeToldBedsAreTold: corn on the sunny side of lettuce in a bed with hours told for the season is told, with the rule of
// thumb; on the dark side of it, long after it, far from it, or where the light is known by month, it is not. At 44° the midday
// sun of the equinox stands 46° high: corn throws its shade about its own height far, over a bed 1.8 m off when it is 2 m high.
func TestTallCropsBeforeToldBedsAreTold(t *testing.T) {
	corn, ok := crop.Default().Find("sweet-corn-main")
	if !ok || corn.Plant.Height < tallFrom {
		t.Fatal("the catalogue has no tall corn")
	}
	lettuce := func(bed int64, month int) garden.Planting {
		return garden.Planting{Key: "low", BedID: bed, CropID: "lettuce-loose-leaf", Start: civil.Of(2027, month, 1), Last: garden.Spread{P50: civil.Of(2027, month+2, 1)}, Clear: civil.Of(2027, month+2, 10)}
	}
	tall := func(bed int64) garden.Planting {
		return garden.Planting{Key: "tall", BedID: bed, CropID: corn.ID, Start: civil.Of(2027, 5, 20), First: garden.Spread{P50: civil.Of(2027, 8, 10)}, Last: garden.Spread{P50: civil.Of(2027, 8, 20)}, Clear: civil.Of(2027, 9, 25)}
	}
	ground := func(latitude float64) garden.Garden {
		return garden.Garden{Site: garden.Site{Latitude: latitude, Width: 10, Depth: 30}, Beds: []garden.Bed{
			{ID: 1, Name: "South", X: 5, Y: 4, Length: 6, Width: 1.2, Bearing: 90, Sun: 8}, {ID: 2, Name: "North", X: 5, Y: 5.8, Length: 6, Width: 1.2, Bearing: 90, Sun: 8},
			{ID: 3, Name: "Far", X: 5, Y: 25, Length: 6, Width: 1.2, Bearing: 90, Sun: 8},
		}}
	}
	for _, c := range []struct {
		what      string
		latitude  float64
		tall, low garden.Planting
		change    func(g *garden.Garden)
		told      bool
	}{
		{"corn south of lettuce", 44, tall(1), lettuce(2, 8), nil, true},
		{"corn north of lettuce", 44, tall(2), lettuce(1, 8), nil, false},
		{"corn north of lettuce on the southern half of the earth", -44, tall(2), lettuce(1, 8), nil, true},
		{"corn south of lettuce that is over before", 44, tall(1), lettuce(2, 3), nil, false},
		{"far off", 44, tall(1), lettuce(3, 8), nil, false},
		{"in one bed", 44, tall(1), lettuce(1, 8), nil, false},
		{"sun seen there", 44, tall(1), lettuce(2, 8), func(g *garden.Garden) {
			g.Beds[1].Observed = []garden.SunSeen{{Month: time.June, From: 9, To: 17}}
		}, false},
		{"a fence told", 44, tall(1), lettuce(2, 8), func(g *garden.Garden) {
			g.Shades = []garden.Shade{{ID: 1, Name: "fence", Kind: garden.Fence, X: 5, Y: 29, Length: 9, Bearing: 90, Height: 1.5}}
		}, false},
		{"beds not placed", 44, tall(1), lettuce(2, 8), func(g *garden.Garden) { g.Beds[0].X, g.Beds[0].Y = 0, 0 }, false},
	} {
		g := ground(c.latitude)
		if c.change != nil {
			c.change(&g)
		}
		notes := tallNotes(g, &plan.Plan{Plantings: []garden.Planting{c.tall, c.low}}, crop.Default())
		if (len(notes) > 0) != c.told {
			t.Errorf("%s: %+v", c.what, notes)
			continue
		}
		if c.told {
			pole := map[bool]string{true: "to the north", false: "to the south"}[c.latitude > 0]
			if says := notes[0].Says; !strings.Contains(says, corn.Name()+" takes up to") || !strings.Contains(says, pole) || !strings.Contains(says, "does not reckon with that") {
				t.Errorf("%s: %s", c.what, says)
			}
		}
	}
}
