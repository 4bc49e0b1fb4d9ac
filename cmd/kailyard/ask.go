package main

import (
	"context"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/growth"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// usable says why a record cannot carry a plan, before it replaces a good one.
func usable(r *weather.Record, s civil.Season) error {
	_, _, err := r.Scenarios(s, growth.Lead, growth.Tail, season.YearsUsed)
	return err
}

type recordJSON struct {
	Source  string          `json:"source"`
	Origin  weather.Origin  `json:"origin"`
	Station weather.Station `json:"station"`
	First   civil.Date      `json:"first"`
	Last    civil.Date      `json:"last"`
	Years   []int           `json:"usable_years"`
	Notes   []weather.Note  `json:"notes"`
	Normals []normalJSON    `json:"normals"`
}

type normalJSON struct {
	Month   int     `json:"month"`
	Min     float64 `json:"mean_min_c"`
	Max     float64 `json:"mean_max_c"`
	Rain    float64 `json:"rain_mm"`
	WetDays float64 `json:"wet_days"`
}

// printRecord tells what a record holds and how good it is.
func (e *env) printRecord(r *weather.Record, units quantity.System) error {
	v := recordJSON{Source: r.Source, Origin: r.Origin, Station: r.Station, Years: []int{}, Notes: orEmpty(r.Notes)}
	if len(r.Days) > 0 {
		v.First, v.Last = r.Days[0].Date, r.Days[len(r.Days)-1].Date
	}
	years, notes, err := r.Scenarios(comingSeason(e.Today, r.Station.Latitude), growth.Lead, growth.Tail, 0)
	if err != nil {
		return err
	}
	v.Notes = append(v.Notes, notes...)
	for _, y := range years {
		v.Years = append(v.Years, y.Year)
	}
	for _, n := range r.Normals() {
		v.Normals = append(v.Normals, normalJSON{n.Month, float64(n.Min), float64(n.Max), float64(n.Rain), n.WetDays})
	}
	if e.json {
		return e.printJSON(v)
	}
	e.printf("%s, %s: %s to %s, %d usable years (%s).\n", r.Station.Name, r.Source, v.First, v.Last, len(v.Years), r.Origin)
	if r.Origin == weather.Generated {
		e.printf("These years are generated, not measured; every plan made from them says so.\n")
	}
	e.normalWords(v.Normals, units)
	const most = 12
	for i, n := range v.Notes {
		if i == 0 {
			e.printf("\nAbout this record:\n")
		}
		if i == most {
			e.printf("  … and %d more; --json lists all.\n", len(v.Notes)-most)
			break
		}
		e.printf("%s\n", wrapped("• "+n.Says, "  ", 92))
	}
	return nil
}

// normalWords prints the months' normals as a table.
func (e *env) normalWords(normals []normalJSON, units quantity.System) {
	if units == quantity.US {
		e.printf("\n  month   min °F   max °F   rain in   wet days\n")
		for _, n := range normals {
			e.printf("  %5d   %6.1f   %6.1f   %7.2f   %8.1f\n",
				n.Month, quantity.Celsius(n.Min).Fahrenheit(), quantity.Celsius(n.Max).Fahrenheit(), n.Rain/(1000*quantity.MetresPerInch), n.WetDays)
		}
		return
	}
	e.printf("\n  month   min °C   max °C   rain mm   wet days\n")
	for _, n := range normals {
		e.printf("  %5d   %6.1f   %6.1f   %7.0f   %8.1f\n", n.Month, n.Min, n.Max, n.Rain, n.WetDays)
	}
}

type frostCmd struct {
	seasonFlag
	Threshold string `help:"Count days at or below this temperature, with its unit." default:"0 °C" placeholder:"TEMP"`
}

func (frostCmd) example() string { return "kailyard frost --threshold '28 °F'" }

type frostJSON struct {
	ThresholdC float64          `json:"threshold_c"`
	Years      int              `json:"weather_years"`
	SpringNone int              `json:"years_without_spring_frost"`
	AutumnNone int              `json:"years_without_autumn_frost"`
	Later      []chanceJSON     `json:"chance_of_a_later_spring_frost"`
	Earlier    []chanceJSON     `json:"chance_of_an_earlier_autumn_frost"`
	Weather    weatherBasisJSON `json:"weather"`
}

type chanceJSON struct {
	Percent int         `json:"percent"`
	Date    *civil.Date `json:"date"` // null: so rare that no such date exists
}

// Run prints frost chances.
func (c *frostCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, reading, func(b *book.Book) error {
		in, err := input(ctx, e, b, c.seasonFlag)
		if err != nil {
			return err
		}
		limit, err := quantity.ParseTemperature(c.Threshold, in.Garden.Site.Units)
		if err != nil {
			return usageError{"--threshold: " + err.Error()}
		}
		in.Garden.Wants, in.Garden.Standing = nil, nil
		r, err := season.Prepare(in)
		if err != nil {
			return err
		}
		f := r.Frost(limit)
		v := frostJSON{ThresholdC: float64(limit), Years: f.Years, SpringNone: f.SpringNone, AutumnNone: f.AutumnNone, Weather: basisJSON(r)}
		for _, percent := range []float64{90, 75, 50, 25, 10} {
			v.Later = append(v.Later, chanceOf(f.LaterThan(percent)))
			v.Earlier = append(v.Earlier, chanceOf(f.EarlierThan(percent)))
		}
		if e.json {
			return e.printJSON(v)
		}
		u := in.Garden.Site.Units
		e.printf("%s: nights at or below %s\n%s\n\n", in.Garden.Site.Name, u.Temperature(limit), wrapped(basisWords(r), "", 92))
		e.printf("  In spring (%d of %d years have none):\n", f.SpringNone, f.Years)
		for _, c := range v.Later {
			e.printf("    %2d %% chance of a later one after %s\n", c.Percent, dateWords(c.Date))
		}
		e.printf("  In autumn (%d of %d years have none):\n", f.AutumnNone, f.Years)
		for _, c := range v.Earlier {
			e.printf("    %2d %% chance of an earlier one before %s\n", c.Percent, dateWords(c.Date))
		}
		return nil
	})
}

func chanceOf(c weather.Chance) chanceJSON {
	v := chanceJSON{Percent: c.Percent}
	if !c.None {
		v.Date = &c.Date
	}
	return v
}

func dateWords(d *civil.Date) string {
	if d == nil {
		return "no date: too few years have one"
	}
	return d.Short()
}
