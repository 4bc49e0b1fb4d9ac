package main

import (
	"context"
	"fmt"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
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
func (e *env) printRecord(r *weather.Record) error {
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
	e.printf("\n  month   min °C   max °C   rain mm   wet days\n")
	for _, n := range v.Normals {
		e.printf("  %5d   %6.1f   %6.1f   %7.0f   %8.1f\n", n.Month, n.Min, n.Max, n.Rain, n.WetDays)
	}
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
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
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

type windowsCmd struct {
	seasonFlag
	Crop  string  `arg:"" help:"A crop's name, kind or ID."`
	Share float64 `help:"The share of weather years that must succeed." default:"0.8"`
	Under string  `help:"Under this cover too, compared with the open: cloche, row cover, heavy row cover, low tunnel, cold frame or high tunnel." placeholder:"COVER"`
}

func (windowsCmd) example() string {
	return "kailyard windows 'snap bean' --share 0.9\nkailyard windows lettuce --under 'cold frame'"
}

type windowJSON struct {
	CropID       string     `json:"crop_id"`
	Crop         string     `json:"crop"`
	Way          string     `json:"way"`
	Under        string     `json:"under,omitempty"`
	Earlier      *int       `json:"opens_earlier_days,omitempty"`
	Later        *int       `json:"closes_later_days,omitempty"`
	Share        float64    `json:"success_share"`
	From         civil.Date `json:"from"`
	To           civil.Date `json:"to"`
	Best         civil.Date `json:"best"`
	SuccessYears int        `json:"success_years_at_best"`
	Years        int        `json:"weather_years"`
	Days         [3]int     `json:"days_to_harvest_p10_p50_p90"`
	Opens        string     `json:"opens"`
	Closes       string     `json:"closes"`
}

// Run prints planting windows.
func (c *windowsCmd) Run(ctx context.Context, e *env) error {
	if c.Share <= 0 || c.Share > 1 {
		return usageError{fmt.Sprintf("--share %g: give a share above 0 and up to 1, such as 0.8", c.Share)}
	}
	cover, err := coverNamed(c.Under)
	if err != nil {
		return err
	}
	b, err := e.open(ctx, true)
	if err != nil {
		return err
	}
	defer b.Close()
	in, err := input(ctx, e, b, c.seasonFlag)
	if err != nil {
		return err
	}
	found, near := in.Crops.Match(c.Crop)
	if len(found) == 0 {
		return season.UnknownCrop(c.Crop, near)
	}
	in.Garden.Standing, in.Garden.Wants, in.Garden.Site.Covers = nil, nil, nil
	if cover != nil {
		in.Garden.Site.Covers = []string{cover.ID}
	}
	for _, one := range found {
		in.Garden.Wants = append(in.Garden.Wants, garden.Want{Crop: one.ID})
	}
	r, err := season.Prepare(in)
	if err != nil {
		return err
	}
	u, list := in.Garden.Site.Units, []windowJSON{}
	for _, t := range r.Tables {
		m := t.Option.Crop.Methods[t.Option.Method]
		for _, w := range t.Windows(c.Share) {
			s := t.Summary(w.Best)
			one := windowJSON{
				CropID: t.Option.Crop.ID, Crop: t.Option.Crop.Name(), Way: string(m.Way), Share: c.Share, From: w.From, To: w.To,
				Best: w.Best, SuccessYears: s.Success, Years: s.Years, Days: w.Days, Opens: w.Opens.Reason(u).Says, Closes: w.Closes.Reason(u).Says,
			}
			one.compare(r, t, w, c.Share)
			list = append(list, one)
		}
	}
	if e.json {
		return e.printJSON(list)
	}
	e.printf("%s\n%s\n", in.Garden.Site.Name, wrapped(basisWords(r), "", 92))
	if len(list) == 0 {
		e.printf("\nNo day of %s does for %s in %.0f %% of the weather years. Try a lower --share, or another kind.\n", r.Season, c.Crop, 100*c.Share)
	}
	for _, w := range list {
		e.printf("\n%s, to %s%s: %s to %s (best %s, %d years of %d)\n", w.Crop, w.Way, underWords(w.Under), w.From.Short(), w.To.Short(), w.Best.Short(), w.SuccessYears, w.Years)
		e.printf("  first harvest after %d days (%d to %d, nine years in ten)\n", w.Days[1], w.Days[0], w.Days[2])
		e.printf("%s", w.compared())
		e.printf("%s\n%s\n", wrapped(w.Opens, "  ", 92), wrapped(w.Closes, "  ", 92))
	}
	return nil
}
