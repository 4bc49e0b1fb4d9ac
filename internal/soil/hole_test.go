package soil

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Common practice: rhubarb 18 in across and deep with the crown at most an inch under; a grapevine two feet by two. Volumes by hand:
// π/4·1.5²·1.5 = 2.651 cu ft, π/4·2²·2 = 6.283 cu ft.
func TestHoles(t *testing.T) {
	crops := crop.Default()
	hole := func(id string, texture garden.Texture) Hole {
		c, ok := crops.Find(id)
		if !ok {
			t.Fatal(id)
		}
		h, ok := HoleFor(c, texture, quantity.US)
		if !ok {
			t.Fatalf("no hole for %s", id)
		}
		return h
	}
	rhubarb, grape := hole("rhubarb", ""), hole("grape", "")
	if rhubarb.Width != 18*inch || rhubarb.Depth != 18*inch || rhubarb.Crown != inch || math.Abs(float64(rhubarb.Volume()/cubicFoot)-2.651) > 0.001 {
		t.Errorf("rhubarb: %+v", rhubarb)
	}
	if grape.Width != 24*inch || grape.Depth != 24*inch || math.Abs(float64(grape.Volume()/cubicFoot)-6.283) > 0.001 {
		t.Errorf("grape: %+v", grape)
	}
	d, err := rhubarb.Dig(3, 0, quantity.US)
	if err != nil || d.Holes != 3 || math.Abs(float64(d.Mix["compost"]-rhubarb.Volume())) > 1e-9 || d.Stints < 1 || d.Hours <= 0 {
		t.Errorf("%+v, %v", d, err)
	}
	heavy, light := hole("asparagus", garden.Clay), hole("asparagus", garden.Sand)
	if heavy.Crown < 6*inch || heavy.Crown > 8*inch || light.Crown < 8*inch || light.Crown > 10*inch || !heavy.Trench {
		t.Errorf("asparagus: %v, %v", heavy.Crown, light.Crown)
	}
	if d, err := heavy.Dig(0, 10, quantity.US); err != nil || math.Abs(float64(d.Earth)-float64(heavy.Width*heavy.Depth)*10000) > 1e-6 || d.Holes != 0 {
		t.Errorf("%+v, %v", d, err)
	}
	if s := hole("strawberry", ""); s.Crown != 0 || !strings.Contains(s.Level, "level with the surface") {
		t.Errorf("strawberry: %+v", s)
	}
	for _, h := range plantingHoles {
		if c, ok := crops.Find(h.Crop); !ok || !c.Perennial {
			t.Errorf("%s is no perennial of the catalogue", h.Crop)
		}
		for _, f := range h.Fill {
			if _, ok := Find(f.Material); !ok || f.Share <= 0 || f.Share > 0.5 {
				t.Errorf("%s: %+v", h.Crop, f)
			}
		}
		if len(h.How) == 0 || len(h.Reason) == 0 || h.Level == "" || h.Volume() <= 0 {
			t.Errorf("%+v", h)
		}
	}
	if _, err := grape.Dig(0, 0, quantity.US); err == nil {
		t.Error("no vine was planted")
	}
	if _, err := heavy.Dig(5, 0, quantity.US); err == nil {
		t.Error("a trench of no length was dug")
	}
	carrot, _ := crops.Find("carrot")
	if _, ok := HoleFor(carrot, "", quantity.US); ok {
		t.Error("a carrot has a hole")
	}
	if _, ok := HoleFor(nil, "", quantity.US); ok {
		t.Error("nothing has a hole")
	}
}
