package web

import (
	"fmt"
	"net/http"
	"time"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// weatherPage is the weather years behind every date.
type weatherPage struct {
	frame
	Station   string
	Record    string
	Years     string
	Made      bool // generated
	Spring    figure
	Autumn    figure
	Frosts    []frostRow
	Free      string
	Climate   climateView
	Soil      figure
	SoilRows  []soilRow
	Warmth    figure
	WarmthRow []warmthRow
	Normals   []normalRow
	Notes     []noteRow
	NoteCount int
	Links     []navLink // ways to give it other weather
}

type frostRow struct {
	Threshold              string
	Later50, Later10       string
	Earlier10, Earlier50   string
	SpringNone, AutumnNone string
}

type soilRow struct{ Month, Shallow, Middle, Deep, Air string }

type warmthRow struct{ Date, Base5, Base10 string }

type normalRow struct{ Month, Min, Max, Rain, WetDays, Years string }

type noteRow struct{ When, Says string }

// thresholds are a light frost on the ground, freezing, and two that kill hardier leaves.
var thresholds = []struct {
	at     quantity.Celsius
	colour string
	dash   []float64
}{
	{2, "#8a6d1d", []float64{2, 3}}, {0, "#1d5f8a", nil}, {-2, "#7a2f6b", []float64{7, 3}}, {-4, "#3b3f46", []float64{9, 3, 2, 3}},
}

func (s *site) weather(w http.ResponseWriter, r *http.Request) error {
	now, err := s.current(r)
	if err != nil {
		return err
	}
	type made struct {
		page weatherPage
		err  error
	}
	m := remember(s, now, "weather "+s.Today().String(), func() made {
		var m made
		m.page, m.err = weatherMatter(now, s.Today())
		return m
	})
	if m.err != nil {
		return m.err
	}
	m.page.frame = s.seasonFrame("The weather behind the plan", r, now)
	m.page.Links = s.weatherLinks("")
	return s.render(w, http.StatusOK, "weather", m.page)
}

func weatherMatter(now *season.Result, today civil.Date) (p weatherPage, err error) {
	u := now.Garden.Site.Units
	p.Made = now.Generated()
	st := now.Record.Station
	p.Station = st.Name
	if p.Station == "" {
		p.Station = "a station without a name"
	}
	if st.Located {
		p.Record = fmt.Sprintf("%s; %.2f° %s, %.2f° %s, %s above the sea. ", upper(now.Record.Source), abs(st.Latitude), pole(st.Latitude, "N", "S"), abs(st.Longitude), pole(st.Longitude, "E", "W"), u.Height(st.Elevation))
	} else {
		p.Record = upper(now.Record.Source) + ". "
	}
	if n := len(now.Years); n > 0 {
		p.Years = fmt.Sprintf("%s of it, %d to %d, are run through every planting; each counts the same.", plural(n, "year", "years"), now.Years[0].Year, now.Years[n-1].Year)
	}
	if p.Spring, err = frostChart(now, today, true); err != nil {
		return p, err
	}
	if p.Autumn, err = frostChart(now, today, false); err != nil {
		return p, err
	}
	p.Frosts = frostRows(now)
	if p.Climate, err = climateMatter(now, today); err != nil {
		return p, err
	}
	if p.Soil, err = soilChart(now, today); err != nil {
		return p, err
	}
	p.SoilRows = soilRows(now)
	if p.Warmth, err = warmthChart(now, today); err != nil {
		return p, err
	}
	p.WarmthRow = warmthRows(now)
	for _, n := range now.Record.Normals() {
		p.Normals = append(p.Normals, normalRow{
			Month: time.Month(n.Month).String(),
			Min:   u.Temperature(n.Min), Max: u.Temperature(n.Max), Rain: u.Rain(n.Rain),
			WetDays: fmt.Sprintf("%.0f", n.WetDays), Years: fmt.Sprint(n.Years),
		})
	}
	const most = 60
	for _, list := range [][]weather.Note{now.Record.Notes, now.Notes} {
		for _, n := range list {
			p.NoteCount++
			if len(p.Notes) < most {
				when := n.From.String()
				if n.To != n.From {
					when += " to " + n.To.String()
				}
				p.Notes = append(p.Notes, noteRow{when, n.Says})
			}
		}
	}
	return p, nil
}

func abs(v float64) float64 { return max(v, -v) }

func pole(v float64, positive, negative string) string {
	if v < 0 {
		return negative
	}
	return positive
}

// frostChart is the chance of a later frost through the spring, or of an earlier one through the
// autumn, at several thresholds: the share of years, day by day.
func frostChart(now *season.Result, today civil.Date, spring bool) (figure, error) {
	u := now.Garden.Site.Units
	half := now.Season.Start.Add(now.Season.Days / 2)
	c := chart{id: "frost-spring", span: civil.Span{From: now.Season.Start, To: half}, high: 100, step: 20, tick: percentTick, today: today}
	if !spring {
		c.id, c.span = "frost-autumn", civil.Span{From: half, To: now.Season.End()}
	}
	f := now.Frost(0)
	c.title = frostTitle(f, spring)
	c.desc = "Across: the days. Up: the share of weather years, in percent, for four temperatures."
	c.begin()
	var entries []keyEntry
	for _, t := range thresholds {
		f := now.Frost(t.at)
		if f.Years == 0 {
			continue
		}
		values := make([]float64, c.span.Days())
		for d := range values {
			day := c.span.From.Add(d)
			n := 0
			if spring {
				for _, s := range f.Spring {
					n += count(s > day)
				}
			} else {
				for _, a := range f.Autumn {
					n += count(a < day)
				}
			}
			values[d] = 100 * float64(n) / float64(f.Years)
		}
		c.curve(c.span.From, values, t.colour, 1.8, t.dash...)
		entries = append(entries, keyEntry{t.colour, u.Temperature(t.at), t.dash})
	}
	if spring {
		c.key(78, entries)
	} else {
		c.key(90, entries)
	}
	return c.figure()
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

func frostTitle(f weather.Frost, spring bool) string {
	if spring {
		if c := f.LaterThan(10); !c.None {
			return fmt.Sprintf("After %s the chance of a later frost is one in ten", c.Date.Short())
		}
		return "A spring frost is rarer than one year in ten"
	}
	if c := f.EarlierThan(10); !c.None {
		return fmt.Sprintf("Before %s the chance of an earlier frost is one in ten", c.Date.Short())
	}
	return "An autumn frost is rarer than one year in ten"
}

func chanceText(c weather.Chance) string {
	if c.None {
		return "none"
	}
	return c.Date.Short()
}

func frostRows(now *season.Result) (rows []frostRow) {
	u := now.Garden.Site.Units
	for _, t := range thresholds {
		f := now.Frost(t.at)
		rows = append(rows, frostRow{
			Threshold: u.Temperature(t.at),
			Later50:   chanceText(f.LaterThan(50)), Later10: chanceText(f.LaterThan(10)),
			Earlier10: chanceText(f.EarlierThan(10)), Earlier50: chanceText(f.EarlierThan(50)),
			SpringNone: fmt.Sprintf("%d of %d", f.SpringNone, f.Years), AutumnNone: fmt.Sprintf("%d of %d", f.AutumnNone, f.Years),
		})
	}
	return rows
}

// Depths at which the soil is told: where small seed lies, where ground is judged workable, and where roots are.
const (
	seedDepth quantity.Metre = .05
	workDepth quantity.Metre = .1
	rootDepth quantity.Metre = .2
)

const soilColour, deepColour, airColour = "#a55a24", "#3d4f80", "#7d7f76"

func shown(u quantity.System, list []quantity.Celsius) []float64 {
	out := make([]float64, len(list))
	for i, t := range list {
		out[i] = float64(t)
		if u == quantity.US {
			out[i] = t.Fahrenheit()
		}
	}
	return out
}

func soilChart(now *season.Result, today civil.Date) (figure, error) {
	u := now.Garden.Site.Units
	a, b, d := now.Climate.SoilSpread(seedDepth)
	e, f, g := now.Climate.SoilSpread(rootDepth)
	low, mid, high := shown(u, a), shown(u, b), shown(u, d)
	low2, mid2, high2 := shown(u, e), shown(u, f), shown(u, g)
	c := chart{id: "soil", span: now.Season.Span(), today: today, title: soilTitle(now),
		desc: "Across: the season. Up: the temperature of the soil at two depths; the bands hold eight weather years of ten."}
	word := "°C"
	c.low, c.high = -5, 30
	if u == quantity.US {
		word, c.low, c.high = "°F", 25, 90
	}
	for i := range low {
		c.low, c.high = min(c.low, low[i], low2[i]), max(c.high, high[i], high2[i])
	}
	c.tick = func(v float64) string { return wholeTick(v) + " " + word }
	c.begin()
	c.band(c.span.From, low2, high2, deepColour, .22)
	c.band(c.span.From, low, high, soilColour, .22)
	c.curve(c.span.From, mid2, deepColour, 1.8, 7, 3)
	c.curve(c.span.From, mid, soilColour, 1.8)
	at := len(mid) / 3
	c.note(c.span.From.Add(at-8), mid[at]+(c.high-c.low)*.06, drawing.End, soilColour, u.Depth(seedDepth)+" deep")
	at = len(mid) * 4 / 5
	c.note(c.span.From.Add(at+8), mid2[at]+(c.high-c.low)*.05, drawing.Start, deepColour, u.Depth(rootDepth)+" deep")
	return c.figure()
}

func soilTitle(now *season.Result) string {
	u := now.Garden.Site.Units
	when, years := now.Climate.SoilReaches(seedDepth, 10)
	if years == 0 {
		return fmt.Sprintf("The soil %s deep does not reach %s in any weather year", u.Depth(seedDepth), u.Temperature(10))
	}
	return fmt.Sprintf("The soil %s deep reaches %s about %s", u.Depth(seedDepth), u.Temperature(10), spreadText(when))
}

func tempSpread(u quantity.System, a, b, c quantity.Celsius) string {
	return fmt.Sprintf("%s (%s – %s)", u.Temperature(b), u.Temperature(a), u.Temperature(c))
}

func soilRows(now *season.Result) []soilRow {
	u := now.Garden.Site.Units
	var rows []soilRow
	for m := range 12 {
		d := civil.Of(now.Season.Start.Year(), int(now.Season.Start.Month())+m, 15)
		a, b, c := now.Climate.SoilAt(seedDepth, d)
		k, l, n := now.Climate.SoilAt(workDepth, d)
		e, f, g := now.Climate.SoilAt(rootDepth, d)
		h, i, j := now.Climate.AirOn(d)
		rows = append(rows, soilRow{d.Short(), tempSpread(u, a, b, c), tempSpread(u, k, l, n), tempSpread(u, e, f, g), tempSpread(u, h, i, j)})
	}
	return rows
}

func warmthShown(u quantity.System, list []quantity.CelsiusDay) []float64 {
	out := make([]float64, len(list))
	for i, t := range list {
		out[i] = float64(t)
		if u == quantity.US {
			out[i] *= 1.8
		}
	}
	return out
}

func warmthChart(now *season.Result, today civil.Date) (figure, error) {
	u := now.Garden.Site.Units
	c := chart{id: "warmth", span: now.Season.Span(), today: today,
		desc: "Across: the season. Up: degrees above a base, summed day by day since the season's start; the bands hold eight weather years of ten."}
	type run struct {
		low, mid, high []float64
		base           quantity.Celsius
		colour         string
		dash           []float64
	}
	var runs []run
	for _, k := range []run{{base: 5, colour: "#4d7233"}, {base: 10, colour: "#a1460d", dash: []float64{7, 3}}} {
		a, b, d := now.Climate.ThermalTime(k.base, now.Season.Start)
		k.low, k.mid, k.high = warmthShown(u, a), warmthShown(u, b), warmthShown(u, d)
		if len(k.high) == 0 {
			continue
		}
		c.high = max(c.high, k.high[len(k.high)-1])
		runs = append(runs, k)
	}
	c.title = warmthTitle(now)
	c.tick = wholeTick
	c.begin()
	for _, k := range runs {
		c.band(c.span.From, k.low, k.high, k.colour, .22)
		c.curve(c.span.From, k.mid, k.colour, 1.8, k.dash...)
		at := len(k.mid) * 3 / 5
		c.note(c.span.From.Add(at-6), k.mid[at]+c.high*.04, drawing.End, k.colour, "above "+u.Temperature(k.base))
	}
	return c.figure()
}

func warmthTitle(now *season.Result) string {
	a, b, c := now.Climate.ThermalTime(5, now.Season.Start)
	if len(b) == 0 {
		return "No warmth to sum"
	}
	u, n := now.Garden.Site.Units, len(b)-1
	return fmt.Sprintf("The season sums to %s above %s (%s – %s)", u.ThermalTime(b[n]), u.Temperature(5), u.ThermalTime(a[n]), u.ThermalTime(c[n]))
}

func warmthRows(now *season.Result) []warmthRow {
	u := now.Garden.Site.Units
	low5, five, high5 := now.Climate.ThermalTime(5, now.Season.Start)
	low10, ten, high10 := now.Climate.ThermalTime(10, now.Season.Start)
	var rows []warmthRow
	for m := 1; m <= 12; m++ {
		d := civil.Of(now.Season.Start.Year(), int(now.Season.Start.Month())+m, 1) - 1
		i := int(d - now.Season.Start)
		if i < 0 || i >= len(five) || i >= len(ten) {
			continue
		}
		rows = append(rows, warmthRow{d.Short(),
			u.ThermalTime(five[i]) + " (" + u.ThermalTime(low5[i]) + " – " + u.ThermalTime(high5[i]) + ")",
			u.ThermalTime(ten[i]) + " (" + u.ThermalTime(low10[i]) + " – " + u.ThermalTime(high10[i]) + ")"})
	}
	return rows
}
