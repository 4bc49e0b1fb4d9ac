package work

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

const inch = quantity.MetresPerInch

// The crops of these tests are made by hand, with figures of common practice.
func carrot() *crop.Crop {
	return &crop.Crop{
		ID: "carrot-main", Kind: "carrot", Type: "main crop", Group: crop.Root, Family: "Apiaceae",
		Emergence: crop.Emergence{Points: []crop.EmergencePoint{{Soil: 10, Days: 17}, {Soil: 25, Days: 6}}},
		Methods:   []crop.Method{{Way: crop.Sow, Days: crop.Range{Low: 60, High: 85}, Depth: 0.5 * inch, SoilAtLeast: 5}},
		Spacing:   crop.Spacing{InRow: 2 * inch, BetweenRows: 12 * inch, SowApart: 0.5 * inch},
		Harvest:   crop.Harvest{Manner: crop.Keeps, Part: "root", StoreDays: 120, Unit: "root"},
		Seed:      crop.Seed{PerGram: 25000 / quantity.GramsPerOunce, Keeps: 3, Germination: 0.55},
		Practice:  crop.Practice{Sowing: "drill", SlowRow: true, Thin: true, Succession: 28, SideDress: "once, on sandy ground"},
	}
}

func radish() *crop.Crop {
	return &crop.Crop{
		ID: "radish", Kind: "radish", Group: crop.Root, Family: "Brassicaceae",
		Methods:  []crop.Method{{Way: crop.Sow, Days: crop.Range{Low: 25, High: 30}, Depth: 0.5 * inch}},
		Spacing:  crop.Spacing{InRow: 2 * inch, BetweenRows: 6 * inch, SowApart: 1 * inch},
		Harvest:  crop.Harvest{Manner: crop.Once, Part: "root", Unit: "bunch"},
		Seed:     crop.Seed{PerGram: 90, Keeps: 4, Germination: 0.75},
		Practice: crop.Practice{Sowing: "drill", Marker: true, Thin: true, Succession: 10},
	}
}

func cabbage() *crop.Crop {
	least := quantity.Celsius(-4)
	return &crop.Crop{
		ID: "cabbage-early", Kind: "cabbage", Type: "early", Group: crop.Brassica, Family: "Brassicaceae",
		Methods: []crop.Method{{
			Way: crop.SetOut, Days: crop.Range{Low: 62, High: 75}, Depth: 0.25 * inch,
			WeeksIndoors: crop.Range{Low: 5, High: 7}, Hardening: 8, AirAtLeast: &least,
		}},
		Spacing:   crop.Spacing{InRow: 18 * inch, BetweenRows: 18 * inch, SowApart: 18 * inch},
		Hardiness: crop.Hardiness{Seedling: -4, Established: -7},
		Harvest:   crop.Harvest{Manner: crop.Once, Part: "head", Unit: "head"},
		Seed:      crop.Seed{PerGram: 300, Keeps: 3, Germination: 0.75},
		Practice:  crop.Practice{Sowing: "station", Collar: true, SideDress: "three weeks after setting out, and again when heads begin to form"},
	}
}

func lettuce() *crop.Crop {
	return &crop.Crop{
		ID: "lettuce-leaf", Kind: "lettuce", Type: "loose-leaf", Group: crop.Leaf, Family: "Asteraceae",
		Methods: []crop.Method{
			{Way: crop.SetOut, Days: crop.Range{Low: 30, High: 40}, Depth: 0.25 * inch, WeeksIndoors: crop.Range{Low: 4, High: 6}, Hardening: 7},
			{Way: crop.Sow, Days: crop.Range{Low: 45, High: 55}, Depth: 0.25 * inch},
		},
		Spacing:  crop.Spacing{InRow: 9 * inch, BetweenRows: 12 * inch, SowApart: 1 * inch},
		Harvest:  crop.Harvest{Manner: crop.Once, Part: "leaf", Unit: "head"},
		Seed:     crop.Seed{PerGram: 880, Keeps: 5, Germination: 0.8},
		Practice: crop.Practice{Sowing: "drill", Thin: true, Succession: 14},
	}
}

func pea() *crop.Crop {
	return &crop.Crop{
		ID: "pea", Kind: "pea", Type: "shelling", Group: crop.Legume, Family: "Fabaceae",
		Methods:  []crop.Method{{Way: crop.Sow, Days: crop.Range{Low: 58, High: 70}, Depth: 1 * inch, SoilAtLeast: 4.4}},
		Spacing:  crop.Spacing{InRow: 2 * inch, BetweenRows: 24 * inch, SowApart: 2 * inch, RowWidth: 6 * inch},
		Plant:    crop.Plant{Height: 1.8},
		Harvest:  crop.Harvest{Manner: crop.Repeated, Part: "seed", Unit: "kg"},
		Seed:     crop.Seed{PerGram: 120 / quantity.GramsPerOunce, Keeps: 3, Germination: 0.8},
		Practice: crop.Practice{Sowing: "trench and fill", Inoculant: true, Support: "brush"},
	}
}

func potato() *crop.Crop {
	return &crop.Crop{
		ID: "potato-main", Kind: "potato", Type: "main crop", Group: crop.Nightshade, Family: "Solanaceae",
		Methods:  []crop.Method{{Way: crop.Set, Days: crop.Range{Low: 100, High: 120}, Depth: 4 * inch, SoilAtLeast: 7}},
		Spacing:  crop.Spacing{InRow: 12 * inch, BetweenRows: 30 * inch, SowApart: 12 * inch},
		Harvest:  crop.Harvest{Manner: crop.Once, Part: "tuber", StoreDays: 150, Unit: "kg"},
		Seed:     crop.Seed{Sets: 16},
		Practice: crop.Practice{Sowing: "furrow", EarthUp: true},
	}
}

func leek() *crop.Crop {
	return &crop.Crop{
		ID: "leek", Kind: "leek", Group: crop.Allium, Family: "Amaryllidaceae",
		Methods: []crop.Method{
			{Way: crop.Sow, Days: crop.Range{Low: 120, High: 150}, Depth: 0.5 * inch},
			{Way: crop.SetOut, Days: crop.Range{Low: 90, High: 110}, Depth: 6 * inch, WeeksIndoors: crop.Range{Low: 8, High: 12}, Hardening: 7},
		},
		Spacing:  crop.Spacing{InRow: 4 * inch, BetweenRows: 16 * inch, SowApart: 1 * inch},
		Harvest:  crop.Harvest{Manner: crop.Keeps, Part: "stem", StoreDays: 60, Unit: "stem"},
		Seed:     crop.Seed{PerGram: 350, Keeps: 2, Germination: 0.6},
		Practice: crop.Practice{Sowing: "drill", SlowRow: true, EarthUp: true, Thin: true, SideDress: "every three to four weeks until autumn"},
	}
}

func on(month, day int) civil.Date { return civil.Of(2027, month, day) }

func around(d civil.Date, days int) garden.Spread {
	return garden.Spread{P10: d.Add(-days), P50: d, P90: d.Add(days)}
}

// kitchen is one season of a small invented garden in two beds.
func kitchen() Input {
	raise, raiseLettuce := on(3, 6), on(3, 4)
	long := garden.Bed{ID: 1, Name: "Long drill", Length: 9, Width: 0.6, Bearing: 0}
	square := garden.Bed{ID: 2, Name: "Square", Length: 3.6576, Width: 1.8288, Bearing: 90}
	third := garden.Bed{ID: 3, Name: "Far bed", Length: 6, Width: 1.5}
	whole := func(b garden.Bed) garden.Place { return garden.Place{AlongTo: b.Length, AcrossTo: b.Width} }
	plantings := []garden.Planting{
		{
			Key: "2027-01", BedID: 1, CropID: "carrot-main", Way: crop.Sow, Place: whole(long), Rows: 2, Plants: 354,
			Start: on(4, 10), Emerge: around(on(4, 27), 5), First: around(on(7, 5), 8), Last: around(on(9, 20), 10), Clear: on(10, 5),
			Role: garden.Slow, Partner: "2027-02", Success: 29, Years: 30, Expect: 20,
			Reasons: []garden.Reason{{Says: "Nothing of the carrot family grew here for three years."}},
		},
		{
			Key: "2027-02", BedID: 1, CropID: "radish", Way: crop.Sow, Place: whole(long), Rows: 2, Plants: 180,
			Start: on(4, 10), Emerge: around(on(4, 18), 2), First: around(on(5, 15), 3), Last: around(on(5, 24), 3), Clear: on(5, 28),
			Role: garden.Marker, Partner: "2027-01", Success: 30, Years: 30,
		},
		{
			Key: "2027-03", BedID: 2, CropID: "cabbage-early", Way: crop.SetOut, Place: whole(square), Rows: 4, Plants: 32, RaiseOn: &raise,
			Start: on(4, 17), First: around(on(6, 28), 6), Last: around(on(7, 18), 6), Clear: on(7, 26),
			Role: garden.Slow, Partner: "2027-04", Success: 28, Years: 30, Expect: 28,
		},
		{
			Key: "2027-04", BedID: 2, CropID: "lettuce-leaf", Way: crop.SetOut, Place: whole(square), Rows: 4, Plants: 28, RaiseOn: &raiseLettuce,
			Start: on(4, 17), First: around(on(5, 22), 4), Last: around(on(6, 2), 4), Clear: on(6, 8),
			Role: garden.Fast, Partner: "2027-03", Success: 30, Years: 30, Expect: 6,
		},
		{
			Key: "2027-05", BedID: 3, CropID: "pea", Way: crop.Sow, Place: whole(third), Rows: 2, Plants: 700,
			Start: on(3, 20), Emerge: around(on(4, 6), 5), First: around(on(6, 12), 5), Last: around(on(7, 1), 6), Clear: on(7, 10),
			Role: garden.Alone, Success: 30, Years: 30, Expect: 8,
		},
		{
			Key: "2027-06", BedID: 3, CropID: "lettuce-leaf", Method: 1, Way: crop.Sow, Place: garden.Place{AlongTo: 3, AcrossTo: 1.5}, Rows: 5, Plants: 65,
			Start: on(7, 12), Emerge: around(on(7, 16), 1), First: around(on(8, 30), 4), Last: around(on(9, 12), 4), Clear: on(9, 20),
			Role: garden.Alone, Success: 27, Years: 30, Expect: 12,
		},
		{
			Key: "2027-07", BedID: 3, CropID: "potato-main", Way: crop.Set, Place: garden.Place{AlongFrom: 3, AlongTo: 6, AcrossTo: 1.5}, Rows: 2, Plants: 20,
			Start: on(7, 14), Emerge: around(on(7, 30), 2), First: around(on(10, 20), 6), Last: around(on(11, 1), 6), Clear: on(11, 10),
			Role: garden.Alone, Success: 26, Years: 30, Expect: 15,
		},
	}
	season := civil.SeasonOf(2027, 45)
	return Input{
		Plan:   &plan.Plan{Season: season, Settings: plan.Settings{Share: 0.8}, Plantings: plantings},
		Garden: garden.Garden{Site: garden.Site{Latitude: 45}, Beds: []garden.Bed{long, square, third}},
		Crops:  crop.New(carrot(), radish(), cabbage(), lettuce(), pea(), potato()),
		Frost: func(at quantity.Celsius) weather.Frost {
			f := weather.Frost{Threshold: at, Years: 10, AutumnNone: 10}
			for i := range 10 {
				f.Spring = append(f.Spring, on(4, 5).Add(3*i)) // 5 April … 2 May
			}
			return f
		},
	}
}

func find(t *testing.T, jobs []Job, key string) Job {
	t.Helper()
	for _, j := range jobs {
		if j.Key == key {
			return j
		}
	}
	t.Fatalf("no job %q", key)
	return Job{}
}

func mustSay(t *testing.T, j Job, words ...string) {
	t.Helper()
	text := j.Title + "\n" + strings.Join(j.How, "\n") + "\n" + j.Weather + "\n" + strings.Join(j.Cautions, "\n")
	for _, r := range append(j.Why, j.Conditions...) {
		text += "\n" + r.Says
	}
	for _, w := range words {
		if !strings.Contains(text, w) {
			t.Errorf("%s does not say %q:\n%s", j.Key, w, text)
		}
	}
}
