package season

import (
	"fmt"
	"math"

	"kailyard/internal/growth"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// FrostThresholds are a light frost on the ground, freezing, and two that kill hardier leaves.
func FrostThresholds() []quantity.Celsius { return []quantity.Celsius{2, 0, -2, -4} }

// Confidence is that of the intervals of every trend.
const Confidence = 0.95

// tooFew is the share of years without a frost from which its day has no trend: it is seen in too few.
const tooFew = 0.2

// Moved is how one figure of the climate has moved over the weather years.
type Moved struct {
	Name     string // "Last frost of spring"
	Of       Measure
	Readings []weather.Reading // dates as days from the season's start
	Trend    weather.Trend
	Without  int    // years that have no such day
	Untold   string // why no trend is told, else empty
}

// Measure is what a figure counts.
type Measure uint8

// The measures.
const (
	OfDate        Measure = iota // days from the season's start
	OfDays                       // a number of days
	OfTemperature                // °C
)

// Moved are the figures with their trends over the weather years used; or why there are none.
//
// Generated years have none: every one of them was drawn from the same monthly figures, so that whatever
// slope they show is chance.
func (r *Result) Moved() (list []Moved, why string) {
	if r.Generated() {
		return nil, "Nothing is said of how the climate has moved: these years were not measured. Each was drawn from the same monthly figures, so whatever slope they have is chance."
	}
	if len(r.Years) < 11 {
		return nil, fmt.Sprintf("Nothing is said of how the climate has moved: %d years are too few to tell a movement from chance.", len(r.Years))
	}
	last, first := Moved{Name: "Last frost of spring", Of: OfDate}, Moved{Name: "First frost of autumn", Of: OfDate}
	free := Moved{Name: "Frost-free season", Of: OfDays}
	for _, y := range weather.FrostYears(r.Season, growth.Lead, r.Years, 0) {
		last.take(y.Year, float64(y.Spring-r.Season.Start), y.HasSpring)
		first.take(y.Year, float64(y.Autumn-r.Season.Start), y.HasAutumn)
		free.take(y.Year, float64(y.FreeDays), y.HasSpring || y.HasAutumn)
	}
	year := Moved{Name: "Mean of the year", Of: OfTemperature, Readings: weather.YearMeans(r.Season, growth.Lead, r.Years)}
	list = append(list, last, first, free, year)
	from, to := r.Years[0].Year, r.Years[len(r.Years)-1].Year
	for q, readings := range r.Record.QuarterMeans(from, to) {
		list = append(list, Moved{Name: quarterName(q, r.Garden.Site.Latitude), Of: OfTemperature, Readings: readings})
	}
	for i := range list {
		list[i].settle(len(r.Years))
	}
	return list, ""
}

func (m *Moved) take(year int, value float64, has bool) {
	if !has {
		m.Without++
		return
	}
	m.Readings = append(m.Readings, weather.Reading{Year: year, Value: value})
}

// settle works the trend out, or says why it is not told.
func (m *Moved) settle(years int) {
	trend, ok := weather.TrendOf(m.Readings, Confidence)
	m.Trend = trend
	switch {
	case float64(m.Without) > tooFew*float64(years):
		m.Untold = fmt.Sprintf("Not told: %d of %d years have none.", m.Without, years)
	case !ok || !trend.Enough():
		m.Untold = fmt.Sprintf("Not told: %d years have it, too few.", trend.Years)
	}
}

// quarterName is a quarter of the year with the name it has on its side of the equator, none in the tropics.
func quarterName(quarter int, latitude float64) string {
	months := [4]string{"December to February", "March to May", "June to August", "September to November"}[quarter]
	if math.Abs(latitude) < 23.4 {
		return "Mean, " + months
	}
	if latitude < 0 {
		quarter = (quarter + 2) % 4
	}
	return [4]string{"Winter", "Spring", "Summer", "Autumn"}[quarter] + ", " + months
}
