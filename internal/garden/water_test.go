package garden

import (
	"bytes"
	"strings"
	"testing"

	"kailyard/internal/quantity"
)

const wateredGarden = `[site]
name = "Ours"
latitude = 52
longitude = 5
tap = "12 L/min"
can = "9 L"
roof = "24 m²"
tank = "400 L"
watered_by = "can"
mulch = "organic"

[[bed]]
name = "Drilled"
length = "6 m"
width = "1.2 m"
sun_hours = 8
watered_by = "drip"
drip = "36 L/h"

[[bed]]
name = "Broad"
x = "9 m"
y = "9 m"
length = "6 m"
width = "1.2 m"
sun_hours = 8
watered_by = "sprinkler"
sprinkler = "0.5 in/h"
mulch = "film"
`

func TestWaterOfADescription(t *testing.T) {
	g, err := ReadDescription("garden.toml", strings.NewReader(wateredGarden), nil)
	if err != nil {
		t.Fatal(err)
	}
	if g.Site.Supply != (Supply{Tap: 720, Can: 9, Roof: 24, Tank: 400}) {
		t.Errorf("%+v", g.Site.Supply)
	}
	if w := g.WateredBy(g.Beds[0]); w != (Watering{By: ByDrip, Drip: 36, Mulch: OrganicMulch}) {
		t.Errorf("%+v", w)
	}
	if w := g.WateredBy(g.Beds[1]); w.By != BySprinkler || float64(w.Rain) != 12.7 || w.Mulch != FilmMulch {
		t.Errorf("%+v", w)
	}
	if w := (Garden{}).WateredBy(Bed{}); w.By != ByCan {
		t.Errorf("%+v", w)
	}
	for _, units := range []quantity.System{quantity.Metric, quantity.US} {
		g.Site.Units = units
		var text bytes.Buffer
		if err := WriteDescription(&text, g); err != nil {
			t.Fatal(err)
		}
		again, err := ReadDescription("garden.toml", &text, nil)
		if err != nil {
			t.Fatal(err)
		}
		if again.Site.Supply != g.Site.Supply || again.Site.Watering != g.Site.Watering || again.Beds[0].Watering != g.Beds[0].Watering || again.Beds[1].Watering != g.Beds[1].Watering {
			t.Errorf("%s: comes back as %+v, %+v", units, again.Site.Supply, again.Beds)
		}
	}
}

func TestWaterThatCannotBe(t *testing.T) {
	for line, says := range map[string]string{
		`tap = "12 furlongs"`:    "L/min",
		`tank = "-3 L"`:          "tank",
		`roof = "900000 m²"`:     "seen from above",
		`can = "900 L"`:          "watering can holds 900 L",
		`watered_by = "buckets"`: `"can", "hose"`,
		`mulch = "strw"`:         `"organic"`,
		`sprinkler = "900 mm/h"`: "straight-sided tins",
		`drip = "99999 gal/min"`: "together",
	} {
		text := strings.Replace(wateredGarden, "longitude = 5\n", "longitude = 5\n"+line+"\n", 1)
		key, _, _ := strings.Cut(line, " ")
		head, tail, _ := strings.Cut(text, "[[bed]]")
		kept := strings.Split(head, "\n")
		head = ""
		for _, l := range kept {
			if !strings.HasPrefix(l, key+" ") || l == line {
				head += l + "\n"
			}
		}
		_, err := ReadDescription("garden.toml", strings.NewReader(head+"[[bed]]"+tail), nil)
		if err == nil || !strings.Contains(err.Error(), says) || !strings.Contains(err.Error(), "garden.toml:5") {
			t.Errorf("%s: %v", line, err)
		}
	}
	if ps := (Supply{Tap: 12}).Validate(); len(ps) != 1 || !ps[0].Doubt {
		t.Errorf("a trickle: %v", ps)
	}
	if ps := (Supply{Tank: 200}).Validate(); len(ps) != 1 || !ps[0].Doubt {
		t.Errorf("a tank under no roof: %v", ps)
	}
}
