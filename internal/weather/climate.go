package weather

import (
	_ "embed" // the table of places
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/pelletier/go-toml/v2"

	"kailyard/internal/quantity"
)

// Climate is one built-in place: published monthly figures with their source.
type Climate struct {
	ID, Name            string
	Latitude, Longitude float64
	Elevation           quantity.Metre
	Months              [12]Normal
	Source              string // key in doc/SOURCES.md
	Period              string // the years the means are of
	SpreadQuality       string // of the standard deviations: "computed" from daily records, or "estimated"
	RainQuality         string // of the rain: "published", "computed" or "from memory"
	WetDaysQuality      string // of the wet days: "published", "computed", "estimated" or "from memory"
	Note                string
	Shape               *Shape // nil where no daily record says how the days lie about their means
}

//go:embed climates.toml
var climatesText string

type climateFile struct {
	Climate []struct {
		ID, Name             string
		Latitude, Longitude  float64
		Elevation            float64 `toml:"elevation_m"`
		Source, Period, Note string
		Spread               string    `toml:"spread_quality"`
		Wetness              string    `toml:"rain_quality"`
		Wet                  string    `toml:"wet_days_quality"`
		Max                  []float64 `toml:"max_c"`
		Min                  []float64 `toml:"min_c"`
		MaxSD                []float64 `toml:"max_sd_c"`
		MinSD                []float64 `toml:"min_sd_c"`
		Rain                 []float64 `toml:"rain_mm"`
		WetDays              []float64 `toml:"wet_days"`
	}
}

var loadClimates = sync.OnceValues(func() ([]Climate, error) { return parseClimates(climatesText) })

// Climates are the built-in places by ID.
func Climates() []Climate {
	list, err := loadClimates()
	if err != nil {
		panic("the embedded climates.toml is broken: " + err.Error()) // a test loads it
	}
	return append([]Climate(nil), list...)
}

// ClimateByID finds a built-in place, or says which there are.
func ClimateByID(id string) (Climate, error) {
	var ids []string
	for _, c := range Climates() {
		if c.ID == id {
			return c, nil
		}
		ids = append(ids, c.ID)
	}
	return Climate{}, fmt.Errorf("there is no built-in climate %q; choose one of %s", id, strings.Join(ids, ", "))
}

func parseClimates(text string) ([]Climate, error) {
	var file climateFile
	decoder := toml.NewDecoder(strings.NewReader(text)).DisallowUnknownFields()
	if err := decoder.Decode(&file); err != nil {
		return nil, err
	}
	var out []Climate
	for _, f := range file.Climate {
		c := Climate{ID: f.ID, Name: f.Name, Latitude: f.Latitude, Longitude: f.Longitude, Elevation: quantity.Metre(f.Elevation),
			Source: f.Source, Period: f.Period, Note: f.Note, SpreadQuality: f.Spread, RainQuality: f.Wetness, WetDaysQuality: f.Wet}
		for _, column := range [][]float64{f.Max, f.Min, f.MaxSD, f.MinSD, f.Rain, f.WetDays} {
			if len(column) != 12 {
				return nil, fmt.Errorf("climate %q: a row has %d months", f.ID, len(column))
			}
		}
		for m := range c.Months {
			c.Months[m] = Normal{Month: m + 1, Max: quantity.Celsius(f.Max[m]), Min: quantity.Celsius(f.Min[m]),
				MaxSD: quantity.Celsius(f.MaxSD[m]), MinSD: quantity.Celsius(f.MinSD[m]),
				Rain: quantity.Millimetre(f.Rain[m]), WetDays: f.WetDays[m]}
		}
		out = append(out, c)
	}
	slices.SortFunc(out, func(a, b Climate) int { return strings.Compare(a.ID, b.ID) })
	return out, giveShapes(out, shapesText)
}
