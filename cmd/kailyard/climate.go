package main

import (
	"context"

	"kailyard/internal/book"
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

type climateCmd struct{ seasonFlag }

func (climateCmd) example() string { return "kailyard climate" }

type climateJSON struct {
	Weather   weatherBasisJSON   `json:"weather"`
	Frosts    []frostLineJSON    `json:"frosts"`
	Soil      []soilDateJSON     `json:"soil_reaches"`
	Workable  workableJSON       `json:"workable_soil"`
	Thermal   []thermalJSON      `json:"thermal_time"`
	DayLength []dayLengthJSON    `json:"day_length"`
	Moved     []movedJSON        `json:"moved"`
	NotMoved  string             `json:"why_nothing_moved,omitempty"`
	Quality   climateQualityJSON `json:"record"`
	Says      []string           `json:"says"`
}

type frostLineJSON struct {
	ThresholdC float64      `json:"threshold_c"`
	Years      int          `json:"weather_years"`
	Later      []chanceJSON `json:"chance_of_a_later_spring_frost"`
	Earlier    []chanceJSON `json:"chance_of_an_earlier_autumn_frost"`
	Free       []lengthJSON `json:"frost_free_season"`
}

type lengthJSON struct {
	Percent int `json:"percent_of_years"`
	Days    int `json:"at_least_days"`
}

type soilDateJSON struct {
	DepthM float64        `json:"depth_m"`
	LeastC float64        `json:"least_c"`
	When   *garden.Spread `json:"when"`
	Years  int            `json:"years_it_comes"`
}

type workableJSON struct {
	First  garden.Spread `json:"first_day"`
	Stays  garden.Spread `json:"for_good_from"`
	Years  int           `json:"weather_years"`
	Always int           `json:"years_always"`
	Never  int           `json:"years_never"`
}

type thermalJSON struct {
	BaseC   float64    `json:"base_c"`
	To      civil.Date `json:"to"`
	P10     float64    `json:"p10_c_days"`
	P50     float64    `json:"p50_c_days"`
	P90     float64    `json:"p90_c_days"`
	FromDay civil.Date `json:"from"`
}

type dayLengthJSON struct {
	Date  civil.Date `json:"date"`
	Hours float64    `json:"hours"`
}

type movedJSON struct {
	Figure   string  `json:"figure"`
	Unit     string  `json:"unit"`
	Years    int     `json:"years"`
	PerTen   float64 `json:"change_in_ten_years"`
	Low      float64 `json:"change_low"`
	High     float64 `json:"change_high"`
	Chance   float64 `json:"chance_if_nothing_moves"`
	Told     bool    `json:"told"`
	Without  int     `json:"years_without"`
	Sentence string  `json:"says"`
}

type climateQualityJSON struct {
	First         civil.Date `json:"first"`
	Last          civil.Date `json:"last"`
	Days          int        `json:"days"`
	NoTemperature int        `json:"days_without_temperature"`
	Filled        int        `json:"days_filled"`
	LongestHole   int        `json:"longest_hole_days"`
	NoRain        int        `json:"days_without_rain_figure"`
}

// Run tells the climate of the garden.
func (c *climateCmd) Run(ctx context.Context, e *env) error {
	return e.with(ctx, reading, func(b *book.Book) error {
		in, err := input(ctx, e, b, c.seasonFlag)
		if err != nil {
			return err
		}
		in.Garden.Wants, in.Garden.Standing = nil, nil
		r, err := season.Prepare(in)
		if err != nil {
			return err
		}
		v := climateShape(r)
		if e.json {
			return e.printJSON(v)
		}
		e.climateWords(r, v)
		return nil
	})
}

func climateShape(r *season.Result) climateJSON {
	v := climateJSON{Weather: basisJSON(r), Moved: []movedJSON{}}
	for _, limit := range season.FrostThresholds() {
		f := r.Frost(limit)
		line := frostLineJSON{ThresholdC: float64(limit), Years: f.Years}
		for _, percent := range []float64{90, 75, 50, 25, 10} {
			line.Later = append(line.Later, chanceOf(f.LaterThan(percent)))
			line.Earlier = append(line.Earlier, chanceOf(f.EarlierThan(percent)))
			line.Free = append(line.Free, lengthJSON{int(percent), f.FreeAtLeast(percent)})
		}
		v.Frosts = append(v.Frosts, line)
	}
	for _, depth := range []quantity.Metre{.05, .1, .2} {
		for _, least := range []quantity.Celsius{5, 10, 15, 20} {
			when, years := r.Climate.SoilReaches(depth, least)
			one := soilDateJSON{DepthM: float64(depth), LeastC: float64(least), Years: years}
			if years > 0 {
				one.When = &when
			}
			v.Soil = append(v.Soil, one)
		}
	}
	w := r.Climate.Workable()
	v.Workable = workableJSON{w.First, w.Stays, w.Years, w.Always, w.Never}
	for _, base := range []quantity.Celsius{5, 10} {
		low, mid, high := r.Climate.ThermalTime(base, r.Season.Start)
		for _, d := range monthEnds(r.Season) {
			i := int(d - r.Season.Start)
			v.Thermal = append(v.Thermal, thermalJSON{float64(base), d, float64(low[i]), float64(mid[i]), float64(high[i]), r.Season.Start})
		}
	}
	for _, d := range monthEnds(r.Season) {
		v.DayLength = append(v.DayLength, dayLengthJSON{d, float64(r.Climate.DayLength(d))})
	}
	moved, why := r.Moved()
	v.NotMoved = why
	for _, m := range moved {
		v.Moved = append(v.Moved, movedOf(m, r.Garden.Site.Units))
	}
	q := r.Record.Quality()
	v.Quality = climateQualityJSON{q.First, q.Last, q.Days, q.NoTemperature, q.FilledDays, q.LongestHole, q.NoRain}
	v.Says = append([]string{season.LengthSays(r.Frost(0)), r.WorkableSays(), r.DayLengthSays()}, r.QualitySays()...)
	return v
}

func movedOf(m season.Moved, u quantity.System) movedJSON {
	unit := map[season.Measure]string{season.OfDate: "days", season.OfDays: "days", season.OfTemperature: "c"}[m.Of]
	return movedJSON{
		Figure: m.Name, Unit: unit, Years: m.Trend.Years, PerTen: 10 * m.Trend.Slope, Low: 10 * m.Trend.Low, High: 10 * m.Trend.High,
		Chance: m.Trend.Chance, Told: m.Untold == "", Without: m.Without, Sentence: m.Says(u),
	}
}

// monthEnds are the last days of the season's months.
func monthEnds(s civil.Season) (days []civil.Date) {
	for m := 1; m <= 12; m++ {
		if d := civil.Of(s.Start.Year(), int(s.Start.Month())+m, 1) - 1; s.Span().Has(d) {
			days = append(days, d)
		}
	}
	return days
}

func (e *env) climateWords(r *season.Result, v climateJSON) {
	u := r.Garden.Site.Units
	e.printf("%s\n%s\n", r.Garden.Site.Name, wrapped(basisWords(r), "", 92))
	e.printf("\nFROST\n  %-10s %22s %22s %22s\n", "at or", "later than, in", "earlier than, in", "free days, at least in")
	e.printf("  %-10s %10s %11s %10s %11s %10s %11s\n", "below", "5 of 10", "1 of 10", "1 of 10", "5 of 10", "9 of 10", "5 of 10")
	for _, f := range v.Frosts {
		e.printf("  %-10s %10s %11s %10s %11s %10d %11d\n", u.Temperature(quantity.Celsius(f.ThresholdC)),
			orDash(f.Later[2].Date), orDash(f.Later[4].Date), orDash(f.Earlier[4].Date), orDash(f.Earlier[2].Date), f.Free[0].Days, f.Free[2].Days)
	}
	e.printf("%s\n", wrapped(v.Says[0], "  ", 92))
	e.printf("\nSOIL\n%s\n  %-10s", wrapped(v.Says[1], "  ", 92), "reaches")
	for _, least := range []quantity.Celsius{5, 10, 15, 20} {
		e.printf(" %12s", u.Temperature(least))
	}
	for i, s := range v.Soil {
		if i%4 == 0 {
			e.printf("\n  %-10s", u.Depth(quantity.Metre(s.DepthM)))
		}
		if s.When == nil {
			e.printf(" %12s", "–")
		} else {
			e.printf(" %12s", s.When.P50.Short())
		}
	}
	e.printf("\n\nWARMTH AND LIGHT, by the end of the month (middle year)\n  %-8s %18s %18s %12s\n", "", "above "+u.Temperature(5), "above "+u.Temperature(10), "day length")
	n := len(v.DayLength)
	for i, d := range v.DayLength {
		e.printf("  %-8s %18s %18s %10.1f h\n", d.Date.Short(), u.ThermalTime(quantity.CelsiusDay(v.Thermal[i].P50)), u.ThermalTime(quantity.CelsiusDay(v.Thermal[n+i].P50)), d.Hours)
	}
	e.printf("%s\n\nHOW IT HAS MOVED\n", wrapped(v.Says[2], "  ", 92))
	if v.NotMoved != "" {
		e.printf("%s\n", wrapped(v.NotMoved, "  ", 92))
	}
	for _, m := range v.Moved {
		e.printf("  %s\n%s\n", m.Figure, wrapped(m.Sentence, "      ", 92))
	}
	if len(v.Moved) > 0 {
		e.printf("%s\n", wrapped(season.MovedNote, "  ", 92))
	}
	e.printf("\nTHE RECORD\n")
	for _, s := range v.Says[3:] {
		e.printf("%s\n", wrapped(s, "  ", 92))
	}
	e.recordRemarks(r)
}

func (e *env) recordRemarks(r *season.Result) {
	const most = 8
	notes := append(append([]weather.Note(nil), r.Record.Notes...), r.Notes...)
	for i, n := range notes {
		if i == most {
			e.printf("  … and %d more remarks; `kailyard weather --json` lists all.\n", len(notes)-most)
			return
		}
		e.printf("%s\n", wrapped("• "+n.Says, "  ", 92))
	}
}

func orDash(d *civil.Date) string {
	if d == nil {
		return "–"
	}
	return d.Short()
}
