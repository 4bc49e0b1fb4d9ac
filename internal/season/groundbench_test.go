package season_test

import (
	"fmt"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// manyBeds is an invented market garden of a hundred beds with five hundred plantings, laid out by rule: each bed tested, no two alike.
func manyBeds(tb testing.TB) season.GroundInput {
	tb.Helper()
	in := season.GroundInput{Season: civil.SeasonOf(2027, 44), Crops: crop.Default(), Day: civil.Of(2027, 4, 2), Plan: &plan.Plan{}}
	in.Garden.Site = garden.Site{Name: "A hundred beds (invented)", Latitude: 44, Longitude: -90, Soil: garden.Soil{Texture: garden.Loam}}
	ids := []string{"carrot", "lettuce-loose-leaf", "cabbage-early", "beet", "bean-bush", "leek", "spinach", "kale"}
	for i := range 100 {
		in.Garden.Beds = append(in.Garden.Beds, garden.Bed{ID: int64(i + 1), Name: fmt.Sprintf("Bed %d", i+1), Length: 10, Width: 1.2, Sun: 8})
		bed := &in.Garden.Beds[i]
		bed.Soil.Texture = garden.Textures[i%4]
		ph, organic := 5.2+0.02*float64(i), 2+0.03*float64(i)
		in.Garden.Tests = append(in.Garden.Tests, garden.SoilTest{ID: bed.ID, Date: civil.Of(2026, 10, 1), Beds: []int64{bed.ID}, PH: &ph, Organic: &organic,
			Elements: []garden.Reading{{Element: garden.Phosphorus, Class: garden.TestClasses[i%5], Extractor: garden.HomeKit}, {Element: garden.Potassium, Class: garden.TestClasses[i/5%5], Extractor: garden.HomeKit}}})
		if i%3 > 0 { // two beds of three had compost lately, so that none is to come before they are fed
			in.Garden.Treatments = append(in.Garden.Treatments, garden.Treatment{EntryID: bed.ID, Date: civil.Of(2026, 10, 10+i%9), BedID: bed.ID, Material: "compost", Amount: quantity.Kilogram(10 + i%20)})
		}
		for k := range 5 {
			n := 5*i + k
			c, ok := in.Crops.Find(ids[n%len(ids)])
			if !ok {
				tb.Fatalf("no crop %s", ids[n%len(ids)])
			}
			start, along := in.Season.Start.Add(100+n%40), quantity.Metre(2*k)
			spread := func(days int) garden.Spread {
				return garden.Spread{P10: start.Add(days - 4), P50: start.Add(days), P90: start.Add(days + 4)}
			}
			in.Plan.Plantings = append(in.Plan.Plantings, garden.Planting{
				Key: fmt.Sprintf("2027-%03d", n+1), Season: 2027, BedID: int64(i + 1), CropID: c.ID, Way: c.Methods[0].Way,
				Place: garden.Place{AlongFrom: along, AlongTo: along + 2, AcrossTo: 1.2}, Rows: 3, Plants: 30 + n%60,
				Start: start, Emerge: spread(12), First: spread(66), Last: spread(90), Clear: start + 98, Status: garden.Planned,
			})
		}
	}
	return in
}

// What the soil book of a large garden takes, the first time (with the weather laid over the season) and again. A figure of the project's
// own to keep: under a tenth of a second. It is measured here and never by a test with a clock, which would fail on a busy machine.
func BenchmarkGround(b *testing.B) {
	in := manyBeds(b)
	climate, err := weather.ClimateByID("burlington")
	if err != nil {
		b.Fatal(err)
	}
	record := weather.Generate(climate, 1996, 30, 1)
	years, _, err := record.Scenarios(in.Season, growth.Lead, growth.Tail, season.YearsUsed)
	if err != nil {
		b.Fatal(err)
	}
	in.Record = record
	b.Run("first", func(b *testing.B) { readGround(b, in) })
	in.Years = years
	b.Run("years at hand", func(b *testing.B) { readGround(b, in) })
}

func readGround(b *testing.B, in season.GroundInput) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := season.GroundOf(in); err != nil {
			b.Fatal(err)
		}
	}
}
