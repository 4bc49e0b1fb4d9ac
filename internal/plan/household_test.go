package plan

import (
	"sync"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// household is an invented garden of ten beds and twenty-one wants on thirty generated years of a
// invented climate with real winters.
func household(t testing.TB) Input { return inClimate(t, "cold") }

var climates sync.Map

// inventedClimates are monthly means made up for these tests: a cold continental, a mild maritime
// and a warm place, and one of the southern hemisphere.
var inventedClimates = map[string]weather.Climate{
	"cold":  invent("cold", 44.5, [12]float64{-12, -11, -5, 1, 7, 13, 16, 14, 10, 4, -1, -8}, [12]float64{-2, 0, 5, 13, 20, 25, 27, 26, 21, 14, 7, 1}),
	"mild":  invent("mild", 45, [12]float64{1, 1, 3, 4, 7, 10, 12, 12, 10, 6, 3, 1}, [12]float64{8, 10, 13, 16, 20, 23, 27, 27, 24, 17, 11, 8}),
	"warm":  invent("warm", 33, [12]float64{1, 3, 6, 10, 15, 19, 21, 21, 18, 11, 6, 2}, [12]float64{12, 14, 18, 23, 27, 31, 33, 32, 29, 23, 18, 13}),
	"south": invent("south", -37, [12]float64{14, 14, 13, 10, 8, 6, 5, 6, 7, 9, 11, 12}, [12]float64{26, 26, 24, 20, 17, 14, 13, 15, 17, 20, 22, 24}),
}

func invent(id string, latitude float64, low, high [12]float64) weather.Climate {
	c := weather.Climate{ID: id, Name: "Invented", Latitude: latitude}
	for m := range c.Months {
		c.Months[m] = weather.Normal{Month: m + 1, Min: quantity.Celsius(low[m]), Max: quantity.Celsius(high[m]), MinSD: 4, MaxSD: 4, Rain: 80, WetDays: 9}
	}
	return c
}

func inClimate(t testing.TB, id string) Input {
	if in, ok := climates.Load(id); ok {
		return in.(Input)
	}
	place, ok := inventedClimates[id]
	for _, c := range weather.Climates() {
		if c.ID == id {
			place, ok = c, true
		}
	}
	if !ok {
		t.Fatalf("no climate %q", id)
	}
	in := onWeather(t, weather.Generate(place, 1990, 35, 7), place.Latitude)
	climates.Store(id, in)
	return in
}

// onWeather is the household at a latitude on a record's years.
func onWeather(t testing.TB, record *weather.Record, latitude float64) Input {
	return gardenOn(t, householdGarden(), record, latitude)
}

// gardenOn is a garden at a latitude on a record's years.
func gardenOn(t testing.TB, g garden.Garden, record *weather.Record, latitude float64) Input {
	season := civil.SeasonOf(2027, latitude)
	years, _, err := record.Scenarios(season, growth.Lead, growth.Tail, 30)
	if err != nil {
		t.Fatal(err)
	}
	climate, err := growth.NewClimate(season, latitude, years)
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Season: season, Garden: g, Crops: crop.Default(), Settings: DefaultSettings()}
	in.Tables = growth.Tabulate(climate, optionsOf(t, in))
	return in
}

func householdGarden() garden.Garden {
	g := garden.Garden{Site: garden.Site{Name: "Invented household", Units: quantity.Metric, Household: 4, Invented: true}}
	bed := func(name string, length, width, sun float64) *garden.Bed {
		g.Beds = append(g.Beds, garden.Bed{ID: int64(len(g.Beds) + 1), Name: name, Length: quantity.Metre(length), Width: quantity.Metre(width), Sun: quantity.Hour(sun)})
		return &g.Beds[len(g.Beds)-1]
	}
	bed("North", 6, 1.2, 8)
	bed("South", 6, 1.2, 8)
	bed("Middle", 6, 1.2, 8)
	bed("Corner", 4, 1.2, 7)
	bed("Old brassica bed", 6, 1.2, 8)
	bed("Long drills", 9, 0.6, 8)
	bed("Second drills", 9, 0.6, 8)
	bed("Shade", 4, 1, 4.5)
	bed("Patch", 5, 4, 8).RowsAcross = true
	bed("Perennials", 5, 1, 7).Perennial = true
	for y := 2024; y <= 2026; y++ {
		g.History = append(g.History, garden.Past{BedID: 5, Year: y, CropID: "cabbage-early"})
	}
	g.History = append(g.History,
		garden.Past{BedID: 1, Year: 2026, CropID: "potato"}, garden.Past{BedID: 1, Year: 2025, Family: "Asteraceae"},
		garden.Past{BedID: 2, Year: 2026, Family: "Fabaceae"}, garden.Past{BedID: 3, Year: 2026, Family: "Cucurbitaceae"},
		garden.Past{BedID: 6, Year: 2026, Family: "Apiaceae"})
	want := func(name string, basis garden.Basis, amount float64, unit string, weight int) {
		g.Wants = append(g.Wants, garden.Want{ID: int64(len(g.Wants) + 1), Crop: name, Basis: basis, Amount: amount, Unit: unit, Weight: weight})
	}
	want("lettuce", garden.Weekly, 3, "head", 4)
	want("carrot", garden.Total, 25, "kg", 4)
	want("radish", garden.Weekly, 0.2, "kg", 2)
	want("pea", garden.Total, 6, "kg", 4)
	want("bean-bush", garden.Total, 10, "kg", 3)
	want("tomato", garden.Total, 30, "kg", 5)
	want("potato", garden.Total, 40, "kg", 3)
	want("onion", garden.Total, 20, "kg", 4)
	want("garlic", garden.Total, 2, "kg", 3)
	want("cabbage", garden.Total, 12, "kg", 2)
	want("cauliflower", garden.Total, 8, "kg", 2)
	want("broccoli", garden.Total, 6, "kg", 3)
	want("kale", garden.Weekly, 0.4, "kg", 3)
	want("spinach", garden.Weekly, 0.4, "kg", 3)
	want("beet", garden.Total, 10, "kg", 3)
	want("parsnip", garden.Total, 6, "kg", 1)
	want("leek", garden.Total, 8, "kg", 2)
	want("sweet corn", garden.Total, 8, "kg", 3)
	want("cucumber", garden.Total, 10, "kg", 3)
	want("squash", garden.Total, 15, "kg", 2)
	want("asparagus", garden.Total, 3, "kg", 2)
	return g
}

// What a practised gardener would look for, on thirty years with real winters (common practice).
func TestThePlanFollowsCommonPractice(t *testing.T) {
	in := household(t)
	p, err := Make(in)
	if err != nil {
		t.Fatal(err)
	}
	if faults := Check(in, p); len(faults) > 0 {
		t.Fatal(faults)
	}
	roles := map[garden.Role]int{}
	first := map[string]civil.Date{}
	for _, x := range p.Plantings {
		roles[x.Role]++
		c, _ := in.Crops.Find(x.CropID)
		if at, ok := first[c.Kind]; !ok || x.Start < at {
			first[c.Kind] = x.Start
		}
		if x.RaiseOn != nil && (x.Start-*x.RaiseOn < 14 || x.Start-*x.RaiseOn > 100) {
			t.Errorf("%s is raised %d days before it goes out", x.Key, x.Start-*x.RaiseOn)
		}
		if (x.Way == crop.SetOut) != (x.RaiseOn != nil) {
			t.Errorf("%s: set out without being raised, or raised and sown", x.Key)
		}
		if c.Group == crop.Brassica && x.RaiseOn != nil && (x.Start-*x.RaiseOn < 28 || x.Start-*x.RaiseOn > 56) {
			t.Errorf("%s, %s, is %d days from seed when set out; about six weeks is the practice", x.Key, c.Name(), x.Start-*x.RaiseOn)
		}
	}
	if roles[garden.Fast] == 0 {
		t.Error("no fast crop stands between slow ones")
	}
	if roles[garden.Fast]+roles[garden.Marker] != roles[garden.Slow] {
		t.Errorf("partners do not pair: %v", roles)
	}
	if twice := usedTwice(p); twice < 3 {
		t.Errorf("only %d plantings follow another in the same ground", twice)
	}
	if first["onion"] > first["tomato"]-21 {
		t.Errorf("onions start on %s, tomatoes on %s: the hardy crop goes in three weeks earlier at least", first["onion"], first["tomato"])
	}
	if g, ok := first["garlic"]; ok && g.Month() < 9 {
		t.Errorf("garlic is set on %s; it is set in autumn", g)
	}
}

// usedTwice counts the plantings that follow another in the same ground.
func usedTwice(p *Plan) int {
	n := 0
	for i, x := range p.Plantings {
		for _, y := range p.Plantings[:i] {
			if x.BedID == y.BedID && x.Place.Meets(y.Place) && y.Clear <= x.Start {
				n++
				break
			}
		}
	}
	return n
}

// Another record gives another plan.
func TestAnotherClimateAnotherPlan(t *testing.T) {
	starts := map[string]string{}
	for _, id := range []string{"cold", "warm", "south"} {
		in := inClimate(t, id)
		in.Settings.Rounds = 2000
		p, err := Make(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range p.Plantings {
			c, _ := in.Crops.Find(x.CropID)
			if c.Kind == "tomato" && starts[id] == "" {
				starts[id] = x.Start.Short()
			}
		}
	}
	if starts["cold"] == starts["warm"] || starts["cold"] == starts["south"] {
		t.Errorf("tomatoes go out on %v", starts)
	}
}

func BenchmarkMakeDemoSized(b *testing.B) {
	in := household(b)
	for b.Loop() {
		if _, err := Make(in); err != nil {
			b.Fatal(err)
		}
	}
}
