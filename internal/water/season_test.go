package water

import (
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// TestSeasonNeeds: what crops draw over their whole time, as an FAO manual gives it for the world's climates (Irrigation Water
// Management, Training manual 3: Irrigation Water Needs, 1986, table of crop water needs; from memory), in mm. The crops
// stand as long as that manual's usual times; the places are built-in climates with a warm summer. A tenth beyond the range
// is let pass.
func TestSeasonNeeds(t *testing.T) {
	for _, c := range []struct {
		id        string
		days      int
		low, high float64
	}{
		{"bean-bush", 90, 300, 500}, {"cabbage-late", 130, 350, 500}, {"sweet-corn-main", 100, 500, 800}, {"muskmelon", 130, 400, 600}, {"onion-long-day", 160, 350, 550},
		{"pea-tall", 95, 350, 500}, {"pepper-sweet", 150, 600, 900}, {"potato", 120, 500, 700}, {"tomato-staked", 150, 400, 800}, {"sunflower", 125, 600, 1000}, {"soybean-green", 140, 450, 700},
	} {
		lowest, highest := 1e9, 0.0
		for _, place := range []string{"burlington", "urbana", "davis", "wagga-wagga", "de-bilt"} {
			climate, err := weather.ClimateByID(place)
			if err != nil {
				t.Fatal(err)
			}
			record := weather.Generate(climate, 1991, 8, 1)
			latitude := record.Station.Latitude
			season := civil.SeasonOf(2027, latitude)
			years, _, err := record.Scenarios(season, 60, 60, 0)
			if err != nil {
				t.Fatal(err)
			}
			p := PlaceOf(latitude, record.Station.Elevation, record)
			from := season.Start.Add(130) // spring is over
			s := Stand{BedID: 1, Area: 1, Crop: CropOf(catalogue(t, c.id)), From: from, To: from.Add(c.days), Wets: 1, Waters: true}
			n := mustReckon(t, Question{Season: season, Place: p, Climate: ClimateOf(p, record), Years: years, Stands: []Stand{s}})
			lowest, highest = min(lowest, float64(n.Beds[0].Demand)), max(highest, float64(n.Beds[0].Demand))
		}
		t.Logf("%s: %.0f to %.0f mm, the manual %g to %g", c.id, lowest, highest, c.low, c.high)
		if highest < 0.9*c.low || lowest > 1.1*c.high {
			t.Errorf("%s draws %.0f to %.0f mm, the manual says %g to %g", c.id, lowest, highest, c.low, c.high)
		}
	}
}

// TestYearOfDavis: reference evapotranspiration of the middle of California's Central Valley, where Davis lies, is mapped at 57
// inches a year by the state's network of weather stations (reference evapotranspiration zone 14; from memory); a tenth, for
// the built-in climate has nothing but temperature and rain.
func TestYearOfDavis(t *testing.T) {
	climate, err := weather.ClimateByID("davis")
	if err != nil {
		t.Fatal(err)
	}
	record := weather.Generate(climate, 1991, 10, 1)
	sum := 0.0
	for _, d := range Evaporate(PlaceOf(record.Station.Latitude, record.Station.Elevation, record), record).Days {
		sum += float64(d) / 10
	}
	if sum < 0.9*57*25.4 || sum > 1.1*57*25.4 {
		t.Errorf("%.0f mm a year, mapped 1448", sum)
	} else {
		t.Logf("%.0f mm a year, mapped 1448", sum)
	}
}

// A garden's plantings become stands: sown ones with a seedbed, set out ones without; what follows on the same ground follows;
// what was lost is left out; an old perennial goes with the season.
func TestQuestionOfAGarden(t *testing.T) {
	season, list := years(6, 10)
	whole := garden.Place{AlongTo: 5, AcrossTo: 1.2}
	g := garden.Garden{Site: garden.Site{Latitude: 45, Soil: garden.Soil{Texture: garden.Clay}, Watering: garden.Watering{Mulch: garden.OrganicMulch}},
		Beds: []garden.Bed{{ID: 4, Length: 5, Width: 1.2, Watering: garden.Watering{By: garden.ByDrip, Drip: 30}}, {ID: 5, Length: 5, Width: 1.2, Soil: garden.Soil{Texture: garden.Sand}, Watering: garden.Watering{By: garden.Unwatered}}}}
	plantings := []garden.Planting{
		{Key: "c", BedID: 4, CropID: "kale", Way: crop.SetOut, Place: whole, Start: civil.Of(2027, 8, 1), Clear: civil.Of(2027, 11, 15), Plants: 12},
		{Key: "a", BedID: 4, CropID: "pea-dwarf", Way: crop.Sow, Place: whole, Start: civil.Of(2027, 4, 1), Clear: civil.Of(2027, 7, 10), Emerge: garden.Spread{P50: civil.Of(2027, 4, 14)}},
		{Key: "b", BedID: 4, CropID: "beet", Way: crop.Sow, Place: whole, Start: civil.Of(2027, 5, 1), Clear: civil.Of(2027, 7, 20), Status: garden.Lost},
		{Key: "d", BedID: 5, CropID: "asparagus", Way: crop.Set, Place: whole, Start: civil.Of(2024, 4, 1), Clear: civil.Of(2035, 7, 20)},
	}
	q := QuestionOf(g, plantings, crop.Default(), season, nil, list)
	if len(q.Stands) != 3 {
		t.Fatalf("%+v", q.Stands)
	}
	byKey := map[string]Stand{}
	for _, s := range q.Stands {
		byKey[s.Key] = s
	}
	if a := byKey["a"]; a.Up != civil.Of(2027, 4, 14) || a.Place != whole || a.Area != 6 || a.Mulch != garden.OrganicMulch || !a.Waters || a.Wets >= 0.5 {
		t.Errorf("%+v", a)
	}
	if c := byKey["c"]; c.Up != 0 || c.Place != whole || c.Name != "kale" || c.Plants != 12 {
		t.Errorf("%+v", c)
	}
	if d := byKey["d"]; !d.Settled || d.From != season.Start || d.Waters {
		t.Errorf("%+v", d)
	}
	if q.Grounds[4].Texture != garden.Clay || q.Grounds[5].Texture != garden.Sand {
		t.Errorf("%+v", q.Grounds)
	}
	if p := patchesOf(q.Stands); len(p) != 2 || len(p[1].stands) != 2 || p[1].area != 6 {
		t.Errorf("%+v", p)
	}
	n := mustReckon(t, q)
	for _, b := range n.Beds {
		if b.BedID == 5 && b.Typical != 0 {
			t.Errorf("an unwatered perennial is given %.0f L", float64(b.Typical))
		}
		if b.BedID == 4 && (b.Typical <= 0 || b.WateringIn <= 0 || b.Area != 6) {
			t.Errorf("%+v", b)
		}
	}
	if says := TellParts(n.Beds[1].Weeks[33], g.WateredBy(g.Beds[0]), g.Site.Supply, quantity.Metric); len(says) == 0 {
		t.Error("nothing is told")
	}
}
