package web

import (
	"fmt"
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/drawing"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// climateView is what the weather page says beyond its frosts and its warmth.
type climateView struct {
	LengthSays    string
	Length        figure
	Lengths       []lengthRow
	WorkableSays  string
	Depths        []string
	SoilDates     []soilDateRow
	DayLengthSays string
	DayLength     figure
	DayLengths    []fact
	NotMoved      string
	Moved         []movedRow
	MovedCharts   []figure
	MovedNote     string
	YearNames     []string
	YearRows      []yearRow
	QualitySays   []string
	Gaps          []gapRow
}

type lengthRow struct {
	Threshold string
	Days      []string
}

type soilDateRow struct {
	Least string
	When  []string
}

type movedRow struct{ Name, Years, Change, Between, Chance, Says string }

type yearRow struct {
	Year   string
	Values []string
}

type gapRow struct{ Year, Days, NoTemperature, Filled, NoRain, Used string }

func climateMatter(now *season.Result, today civil.Date) (v climateView, err error) {
	u := now.Garden.Site.Units
	v.LengthSays = season.LengthSays(now.Frost(0))
	if v.Length, err = lengthChart(now); err != nil {
		return v, err
	}
	v.Lengths = lengthRows(now)
	v.WorkableSays = now.WorkableSays()
	for _, d := range soilDepths {
		v.Depths = append(v.Depths, u.Depth(d))
	}
	v.SoilDates = soilDates(now)
	v.DayLengthSays = now.DayLengthSays()
	if v.DayLength, err = dayLengthChart(now, today); err != nil {
		return v, err
	}
	for m := range 12 {
		d := civil.Of(now.Season.Start.Year(), int(now.Season.Start.Month())+m, 15)
		v.DayLengths = append(v.DayLengths, fact{d.Short(), clock(float64(now.Climate.DayLength(d)))})
	}
	v.QualitySays = now.QualitySays()
	if !now.Generated() {
		v.Gaps = gapRows(now)
	}
	return v, v.moved(now)
}

// clock is hours as hours and minutes.
func clock(hours float64) string {
	minutes := int(math.Round(60 * hours))
	return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
}

var soilDepths = []quantity.Metre{seedDepth, workDepth, rootDepth}

func soilDates(now *season.Result) (rows []soilDateRow) {
	u := now.Garden.Site.Units
	for _, least := range []quantity.Celsius{5, 10, 15, 20} {
		row := soilDateRow{Least: u.Temperature(least)}
		for _, depth := range soilDepths {
			when, years := now.Climate.SoilReaches(depth, least)
			switch {
			case years == 0:
				row.When = append(row.When, "in no year")
			case years < len(now.Years):
				row.When = append(row.When, fmt.Sprintf("%s, in %d years of %d", spreadText(when), years, len(now.Years)))
			default:
				row.When = append(row.When, spreadText(when))
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// lengthChart is the share of years whose frost-free season is at least so long, at several thresholds.
func lengthChart(now *season.Result) (figure, error) {
	u := now.Garden.Site.Units
	shortest, longest := 366, 0
	var frosts []weather.Frost
	for _, t := range thresholds {
		f := now.Frost(t.at)
		frosts = append(frosts, f)
		if n := len(f.FreeDays); n > 0 {
			shortest, longest = min(shortest, f.FreeDays[0]), max(longest, f.FreeDays[n-1])
		}
	}
	from, to := max(0, shortest/30*30-30), min(390, longest/30*30+60)
	c := chart{id: "season-length", span: civil.Span{From: civil.Date(from), To: civil.Date(to)}, high: 100, step: 20, tick: percentTick, today: -1,
		desc: "Across: days between the frosts. Up: the share of weather years with at least so many, in percent, for four temperatures."}
	c.title = fmt.Sprintf("In nine years of ten at least %d days lie between the frosts", now.Frost(0).FreeAtLeast(90))
	if f := now.Frost(0); f.SpringNone == f.Years && f.AutumnNone == f.Years {
		c.title = "It never freezes"
	}
	for d := (from + 29) / 30 * 30; d <= to; d += 30 {
		c.marks = append(c.marks, chartMark{float64(d), fmt.Sprint(d)})
	}
	c.begin()
	var entries []keyEntry
	for k, t := range thresholds {
		f := frosts[k]
		if f.Years == 0 {
			continue
		}
		values := make([]float64, to-from+1)
		for i := range values {
			n, _ := slices.BinarySearch(f.FreeDays, from+i)
			values[i] = 100 * float64(len(f.FreeDays)-n) / float64(f.Years)
		}
		c.curve(c.span.From, values, t.colour, 1.8, t.dash...)
		entries = append(entries, keyEntry{t.colour, "above " + u.Temperature(t.at), t.dash})
	}
	c.keyAt(chartWidth-chartRight-128, 92, entries)
	return c.figure()
}

func lengthRows(now *season.Result) (rows []lengthRow) {
	for _, t := range thresholds {
		f := now.Frost(t.at)
		row := lengthRow{Threshold: now.Garden.Site.Units.Temperature(t.at)}
		for _, percent := range []float64{90, 75, 50, 25, 10} {
			row.Days = append(row.Days, fmt.Sprint(f.FreeAtLeast(percent)))
		}
		if n := len(f.FreeDays); n > 0 {
			row.Days = append(row.Days, fmt.Sprint(f.FreeDays[0]), fmt.Sprint(f.FreeDays[n-1]))
		}
		rows = append(rows, row)
	}
	return rows
}

const shortDay = 10 // h, the length below which little grows

func dayLengthChart(now *season.Result, today civil.Date) (figure, error) {
	values := make([]float64, now.Season.Days)
	low, high := 24.0, 0.0
	for i := range values {
		values[i] = float64(now.Climate.DayLength(now.Season.Start.Add(i)))
		low, high = min(low, values[i]), max(high, values[i])
	}
	c := chart{id: "day-length", span: now.Season.Span(), today: today, low: math.Floor(min(low, shortDay) - .5), high: math.Ceil(high + .5), step: 2,
		tick: func(v float64) string { return wholeTick(v) + " h" }, title: dayLengthTitle(now),
		desc: "Across: the season. Up: hours from sunrise to sunset."}
	c.begin()
	c.add(drawing.Line{X1: chartLeft, Y1: c.y(shortDay), X2: chartWidth - chartRight, Y2: c.y(shortDay), Style: drawing.Style{Stroke: faintInk, StrokeWidth: 1, Dash: []float64{4, 4}}})
	c.curve(c.span.From, values, "#8a6d1d", 2)
	return c.figure()
}

func dayLengthTitle(now *season.Result) string {
	spans := now.Climate.LongerThan(shortDay)
	switch {
	case len(spans) == 0:
		return "No day of the season is longer than 10 h"
	case len(spans) == 1 && spans[0].Days() == now.Season.Days:
		return "Every day of the season is longer than 10 h"
	}
	var list []string
	for _, s := range spans {
		list = append(list, s.String())
	}
	return "Days are longer than 10 h on " + joinWords(list)
}

// moved fills in how the climate has moved: a sentence and the numbers for each figure, pictures of the first four.
func (v *climateView) moved(now *season.Result) error {
	u := now.Garden.Site.Units
	list, why := now.Moved()
	v.NotMoved, v.MovedNote = why, season.MovedNote
	for i, m := range list {
		row := movedRow{Name: m.Name, Years: fmt.Sprint(m.Trend.Years), Says: m.Says(u)}
		if m.Untold == "" {
			row.Change = m.Change(u, m.Trend.Slope)
			row.Between = m.Change(u, m.Trend.Low) + " and " + m.Change(u, m.Trend.High)
			row.Chance = fmt.Sprintf("%.0f %%", 100*m.Trend.Chance)
			if m.Trend.Chance < .01 {
				row.Chance = "under 1 %"
			}
		}
		v.Moved = append(v.Moved, row)
		if i < 4 && m.Untold == "" {
			f, err := movedChart(now, m, fmt.Sprintf("moved-%d", i))
			if err != nil {
				return err
			}
			v.MovedCharts = append(v.MovedCharts, f)
		}
		v.YearNames = append(v.YearNames, m.Name)
	}
	for _, y := range now.Years {
		row := yearRow{Year: fmt.Sprint(y.Year)}
		for _, m := range list {
			text := "–"
			for _, r := range m.Readings {
				if r.Year == y.Year {
					text = m.Value(u, now.Season.Start, r.Value)
				}
			}
			row.Values = append(row.Values, text)
		}
		v.YearRows = append(v.YearRows, row)
	}
	return nil
}

// movedChart is a dot for each year and the line of the trend: whole where chance is unlikely to have made it.
func movedChart(now *season.Result, m season.Moved, id string) (figure, error) {
	u := now.Garden.Site.Units
	first, last := m.Readings[0].Year, m.Readings[len(m.Readings)-1].Year
	shown := func(v float64) float64 {
		if m.Of == season.OfTemperature && u == quantity.US {
			return quantity.Celsius(v).Fahrenheit()
		}
		return v
	}
	line := func(year int) float64 { return shown(m.Trend.Middle + m.Trend.Slope*(float64(year)-m.Trend.MidYear)) }
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range m.Readings {
		low, high = min(low, shown(r.Value)), max(high, shown(r.Value))
	}
	margin := .06*(high-low) + .01
	c := chart{id: id, span: civil.Span{From: civil.Date(first - 1), To: civil.Date(last + 1)}, low: low - margin, high: high + margin, today: -1,
		title: movedTitle(m, u, first, last), desc: "Across: the years. Up: the figure in each year, a dot, and the line of the trend."}
	c.tick = func(v float64) string {
		switch m.Of {
		case season.OfDate:
			return now.Season.Start.Add(int(math.Round(v))).Short()
		case season.OfDays:
			return wholeTick(v)
		}
		return fmt.Sprintf("%.1f°", v)
	}
	if m.Of == season.OfTemperature && high-low > 4 {
		c.tick = func(v float64) string { return wholeTick(v) + "°" }
	}
	for y := (first + 4) / 5 * 5; y <= last; y += 5 {
		c.marks = append(c.marks, chartMark{float64(y), fmt.Sprint(y)})
	}
	if c.marks == nil {
		c.marks = []chartMark{{float64(first), fmt.Sprint(first)}}
	}
	c.begin()
	dash := []float64{6, 4}
	if m.Trend.Plain() {
		dash = nil
	}
	c.add(drawing.Line{X1: c.x(float64(first)), Y1: c.y(line(first)), X2: c.x(float64(last)), Y2: c.y(line(last)), Style: drawing.Style{Stroke: todayInk, StrokeWidth: 1.8, Dash: dash}})
	for _, r := range m.Readings {
		c.add(drawing.Circle{X: c.x(float64(r.Year)), Y: c.y(shown(r.Value)), Radius: 3, Style: drawing.Style{Fill: deepColour}})
	}
	return c.figure()
}

func movedTitle(m season.Moved, u quantity.System, first, last int) string {
	if !m.Trend.Plain() {
		return fmt.Sprintf("%s, %d to %d: no movement that can be told from chance", m.Name, first, last)
	}
	return fmt.Sprintf("%s, %d to %d: %s each ten years", m.Name, first, last, m.ChangeWords(u, m.Trend.Slope))
}

// gapRows are the years of the record that lack something.
func gapRows(now *season.Result) (rows []gapRow) {
	used := map[int]bool{}
	for _, y := range now.Years {
		used[y.Year] = true
	}
	for _, y := range now.Record.Quality().ByYear {
		if y.NoTemperature == 0 && y.NoRain == 0 && y.Days >= 365 {
			continue
		}
		says := "no"
		if used[y.Year] {
			says = "yes"
		}
		rows = append(rows, gapRow{fmt.Sprint(y.Year), fmt.Sprint(y.Days), fmt.Sprint(y.NoTemperature), fmt.Sprint(y.Filled), fmt.Sprint(y.NoRain), says})
	}
	return rows
}
