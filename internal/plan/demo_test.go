package plan

import (
	"os"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/weather"
)

// demo is the program's demo garden on thirty generated years of its built-in climate.
func demo(t testing.TB) Input {
	file, err := os.Open("../../cmd/kailyard/demo.toml")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	g, err := garden.ReadDescription("demo.toml", file, crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	season := civil.SeasonOf(2027, g.Site.Latitude)
	var years []weather.Scenario
	for _, c := range weather.Climates() {
		if c.ID == "burlington" {
			if years, _, err = weather.Generate(c, 1990, 35, 7).Scenarios(season, growth.Lead, growth.Tail, 30); err != nil {
				t.Fatal(err)
			}
		}
	}
	climate, err := growth.NewClimate(season, g.Site.Latitude, years)
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Season: season, Garden: g, Crops: crop.Default(), Settings: DefaultSettings()}
	in.Tables = growth.Tabulate(climate, optionsOf(t, in))
	return in
}

// optionsOf is every method of every crop the garden's wants and standing plantings name.
func optionsOf(t testing.TB, in Input) []growth.Option {
	var options []growth.Option
	seen := map[string]bool{}
	add := func(c *crop.Crop) {
		if !seen[c.ID] {
			seen[c.ID] = true
			for m := range c.Methods {
				options = append(options, growth.Option{Crop: c, Method: m})
			}
		}
	}
	for _, w := range in.Garden.Wants {
		found, near := in.Crops.Match(w.Crop)
		if len(found) == 0 {
			t.Fatalf("no crop %q; near %v", w.Crop, near)
		}
		for _, c := range found {
			add(c)
		}
	}
	for _, s := range in.Garden.Standing {
		if c, ok := in.Crops.Find(s.CropID); ok {
			add(c)
		}
	}
	return options
}
