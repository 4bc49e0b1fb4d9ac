package garden_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Corners worked by hand: a bed 4 m by 1 m about (10, 20).
func TestCorners(t *testing.T) {
	half := quantity.Metre(math.Sqrt2 / 4) // half a metre, seen from 45°
	rows := []struct {
		bearing   float64
		southWest garden.Point
		alongEnd  garden.Point // the corner at the far end of the length from there
	}{
		{0, garden.Point{East: 9.5, North: 18}, garden.Point{East: 9.5, North: 22}},
		{90, garden.Point{East: 8, North: 19.5}, garden.Point{East: 12, North: 19.5}},
		{180, garden.Point{East: 9.5, North: 18}, garden.Point{East: 9.5, North: 22}},
		{45, garden.Point{East: 10 - 5*half, North: 20 - 3*half}, garden.Point{East: 10 + 3*half, North: 20 + 5*half}},
		{135, garden.Point{East: 10 - 5*half, North: 20 + 3*half}, garden.Point{East: 10 + 3*half, North: 20 - 5*half}},
	}
	for _, r := range rows {
		b := garden.Bed{X: 10, Y: 20, Length: 4, Width: 1, Bearing: r.bearing}
		c := b.Corners()
		if far(c[0], r.southWest) > 1e-9 || far(c[1], r.alongEnd) > 1e-9 {
			t.Errorf("bearing %v: got %v, want %v and %v", r.bearing, c, r.southWest, r.alongEnd)
		}
	}
}

func far(a, b garden.Point) float64 {
	return math.Hypot(float64(a.East-b.East), float64(a.North-b.North))
}

// Turning a bed never changes its size, and its own corner 0 is never north-east of its middle.
func TestGroundLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := garden.Bed{
			X: 3, Y: 4, Length: quantity.Metre(rapid.Float64Range(0.1, 50).Draw(t, "length")), Width: quantity.Metre(rapid.Float64Range(0.1, 50).Draw(t, "width")),
			Bearing: rapid.Float64Range(0, 180).Draw(t, "bearing"),
		}
		c := b.Corners()
		if math.Abs(far(c[0], c[1])-float64(b.Length)) > 1e-9 || math.Abs(far(c[1], c[2])-float64(b.Width)) > 1e-9 ||
			math.Abs(far(c[0], c[2])-math.Hypot(float64(b.Length), float64(b.Width))) > 1e-9 {
			t.Errorf("the corners %v do not make the bed %+v", c, b)
		}
		if !b.Overlaps(b) {
			t.Error("a bed lies over itself")
		}
		if m := b.On(b.Length/2, b.Width/2); far(m, garden.Point{East: 3, North: 4}) > 1e-9 {
			t.Errorf("its middle is %v", m)
		}
	})
}

// Overlap against brute force: a fine grid of points in one bed, asked of the other.
func TestOverlapsAgainstAGrid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) garden.Bed {
			return garden.Bed{
				X: quantity.Metre(rapid.Float64Range(-3, 3).Draw(t, name+" x")), Y: quantity.Metre(rapid.Float64Range(-3, 3).Draw(t, name+" y")),
				Length: quantity.Metre(rapid.Float64Range(0.5, 4).Draw(t, name+" length")), Width: quantity.Metre(rapid.Float64Range(0.5, 2).Draw(t, name+" width")),
				Bearing: rapid.Float64Range(0, 180).Draw(t, name+" bearing"),
			}
		}
		a, b := draw("a"), draw("b")
		const steps = 40
		met := false
		for i := 0; i <= steps && !met; i++ {
			for j := 0; j <= steps && !met; j++ {
				p := a.On(a.Length*quantity.Metre(i)/steps, a.Width*quantity.Metre(j)/steps)
				met = inside(b, p, 0.02)
			}
		}
		if met && !a.Overlaps(b) {
			t.Errorf("%+v and %+v share ground", a, b)
		}
		if a.Overlaps(b) != b.Overlaps(a) {
			t.Error("overlap is mutual")
		}
		if !met && a.Overlaps(b) { // then they may share a corner smaller than the grid, no more
			small := a
			small.Length, small.Width = a.Length-0.3, a.Width-0.3
			if small.Width > 0 && small.Overlaps(shrunk(b, 0.3)) {
				t.Errorf("%+v and %+v are told to share ground", a, b)
			}
		}
	})
}

func shrunk(b garden.Bed, by quantity.Metre) garden.Bed {
	b.Length, b.Width = max(b.Length-by, 0.01), max(b.Width-by, 0.01)
	return b
}

// inside asks with the bed's bearing by the definition of a bearing: clockwise from north.
func inside(b garden.Bed, p garden.Point, margin float64) bool {
	sin, cos := math.Sincos(b.Bearing * math.Pi / 180)
	east, north := float64(p.East-b.X), float64(p.North-b.Y)
	along, across := east*sin+north*cos, east*cos-north*sin
	return math.Abs(along) < float64(b.Length)/2-margin && math.Abs(across) < float64(b.Width)/2-margin
}

func TestDoubtsBetweenBeds(t *testing.T) {
	bed := func(name string, x quantity.Metre) garden.Bed {
		return garden.Bed{Name: name, X: x, Y: 5, Length: 4, Width: 1, Sun: 8}
	}
	g := garden.Garden{Site: garden.Site{Name: "A", Width: 10, Depth: 10}, Beds: []garden.Bed{bed("one", 1), bed("two", 1.9), bed("three", 5), bed("four", 9.8)}}
	ps := g.Validate(nil)
	if len(ps.Refused()) != 0 || len(ps.Doubts()) != 2 {
		t.Fatalf("got %v", ps)
	}
	if got := ps[0].Says; got != `bed "two": it lies over the bed "one"` {
		t.Error(got)
	}
	if got := ps[1].Says; got != `bed "four": it reaches beyond the plot` {
		t.Error(got)
	}
}

func TestGrown(t *testing.T) {
	g := garden.Garden{
		Beds: []garden.Bed{{ID: 1}, {ID: 2}},
		History: []garden.Past{
			{BedID: 1, Year: 2024, CropID: "carrot"}, {BedID: 1, Year: 2026, CropID: "cabbage-early"},
			{BedID: 1, Year: 2020, Family: "Brassicaceae"}, {BedID: 2, Year: 2026, Family: "Fabaceae"},
		},
		Standing: []garden.Planting{{BedID: 1, CropID: "asparagus", Start: civil.Of(2025, 4, 1), Clear: civil.Of(2027, 1, 1)}},
	}
	var got []string
	for _, one := range g.Grown(1, 2024, 2026, invented()) {
		got = append(got, one.Family)
	}
	if len(got) != 4 || got[0] != "Apiaceae" || got[1] != "Asparagaceae" || got[2] != "Asparagaceae" || got[3] != "Brassicaceae" {
		t.Errorf("got %v", got)
	}
	if year, ok := g.LastGrown(1, "brassicaceae", 2026, invented()); !ok || year != 2020 {
		t.Errorf("before 2026 brassicas last grew in %d, %v", year, ok)
	}
	if _, ok := g.LastGrown(2, "Brassicaceae", 2030, invented()); ok {
		t.Error("brassicas never grew in bed 2")
	}
}

// 1 lb = 0.453 592 37 kg by definition; a head weighs what the crop says.
func TestWantMass(t *testing.T) {
	early := invented().All()[1]
	if early.ID != "cabbage-early" {
		t.Fatal(early.ID)
	}
	for unit, want := range map[string]float64{"kg": 10, "": 10, "lb": 4.5359237, "oz": 0.28349523125, "g": 0.01, "head": 12, "Heads": 12} {
		got, err := garden.Want{Amount: 10, Unit: unit}.Mass(early)
		if err != nil || math.Abs(float64(got)-want) > 1e-12 {
			t.Errorf("10 %s: got %v, %v, want %v", unit, got, err, want)
		}
	}
	if _, err := (garden.Want{Amount: 1, Unit: "bunch"}).Mass(early); err == nil {
		t.Error("a bunch of cabbage was weighed")
	}
	season := civil.SeasonOf(2027, 42)
	from, to := civil.Of(2027, 6, 1), civil.Of(2027, 6, 14) // days 151–164: weeks 21, 22 and 23
	weekly := garden.Want{Amount: 2, Unit: "kg", Basis: garden.Weekly, From: &from, To: &to}
	if got, err := weekly.Asked(early, season); err != nil || got != 6 {
		t.Errorf("three weeks of 2 kg: %v, %v", got, err)
	}
	weekly.From, weekly.To = nil, nil
	if got := weekly.Weeks(season); got != 53 {
		t.Errorf("a whole season has %d weeks", got)
	}
}

func TestForms(t *testing.T) {
	site := garden.Site{Name: " ", Latitude: 95, Longitude: 200, Elevation: -900, Household: -1, Width: -1}
	ps := site.Validate()
	for _, field := range []string{"name", "latitude", "longitude", "elevation", "household", "width"} {
		if len(ps.Of(field)) != 1 || ps.Of(field)[0].Remedy == "" {
			t.Errorf("%s: %v", field, ps.Of(field))
		}
	}
	if site.Validate().Err() == nil || (garden.Site{Name: "A"}).Validate().Err() != nil {
		t.Error("an error for a bad site, none for a good one")
	}
	nan := quantity.Metre(math.NaN())
	if (garden.Bed{Name: "A", Length: nan, Width: 1, Sun: 8}).Validate().Err() == nil {
		t.Error("a length that is no number was taken")
	}
	if (garden.Want{Crop: "carrot", Basis: garden.Total, Amount: math.NaN(), Weight: 3}).Validate(nil).Err() == nil {
		t.Error("an amount that is no number was taken")
	}
	if err := (garden.Entry{Kind: "pondered", Date: civil.Of(2027, 1, 1)}).Validate().Err(); err == nil {
		t.Error("a kind that is none was taken")
	}
	if len(garden.Units([]*crop.Crop{})) != 4 {
		t.Error("masses are always units")
	}
}
