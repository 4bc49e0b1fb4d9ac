package growth

import (
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
	"kailyard/internal/weather"
)

// Lead and Tail are the days a scenario must reach before the season's start and past its end.
const (
	Lead = 60
	Tail = 365
)

// Climate is the weather years of a site made ready for growth: air, soil at several depths, light, thermal sums.
type Climate struct {
	Season   civil.Season
	Latitude float64
	Years    []int // the recorded years, in order

	days int // days of each year: Lead + Season.Days + Tail; index 0 is Lead days before the season
	// Flat arrays, days values for each year in turn.
	low, high, mean []float32    // °C
	swing           [][4]float32 // °C, the day's temperatures at four phases of a sine (see daySamples)
	hardened        []bool       // the fortnight up to the day was cold enough to harden plants wholly
	hardening       []float32    // how far the fortnight up to the day has hardened plants, 0–1
	snow            []bool       // the fortnight up to the day was so cold that snow or a mulch lies (see crownLow)
	bulbCold        []bool       // the fortnight up to the day was cold enough for bulbs that need a winter

	hours []float64 // day length by day, the same in all years
	light []float64 // LightFactor of the sky's light by day

	// Of the climate under a cover: the one in the open, and by how much the cover warms what the soil tends
	// to, °C. Both nil in the open.
	open   *Climate
	warmth []float32
}

// NewClimate prepares the weather years for a season at a latitude. The scenarios must start at
// least Lead days before the season and run at least Tail days past its end.
func NewClimate(season civil.Season, latitude float64, years []weather.Scenario) (*Climate, error) {
	if len(years) == 0 {
		return nil, fmt.Errorf("there are no weather years to grow anything in; give a weather record with at least one whole year")
	}
	if season.Days < 1 || season.Days > 400 {
		return nil, fmt.Errorf("a season of %d days cannot be planned; it must have 1 to 400", season.Days)
	}
	if !(latitude >= -90 && latitude <= 90) {
		return nil, fmt.Errorf("latitude %v is not between -90 and 90 degrees", latitude)
	}
	c := &Climate{Season: season, Latitude: latitude, days: Lead + season.Days + Tail}
	for _, y := range years {
		if err := c.add(y); err != nil {
			return nil, err
		}
	}
	for i := range c.days {
		hours := float64(sun.DayLength(latitude, c.date(i)))
		c.hours = append(c.hours, hours)
		c.light = append(c.light, LightFactor(SkyLight(latitude, c.date(i))))
	}
	c.harden()
	return c, nil
}

// add appends one weather year after checking its length and its values.
func (c *Climate) add(y weather.Scenario) error {
	skip := int(c.date(0) - y.Start)
	if skip < 0 {
		return fmt.Errorf("weather year %d starts on %v; it must start by %v, %d days before the season", y.Year, y.Start, c.date(0), Lead)
	}
	if len(y.Min) < skip+c.days || len(y.Max) < skip+c.days {
		return fmt.Errorf("weather year %d has %d days from %v; it needs %d to reach %d days past the season", y.Year, min(len(y.Min), len(y.Max)), y.Start, skip+c.days, Tail)
	}
	for i := skip; i < skip+c.days; i++ {
		low, high := y.Min[i], y.Max[i]
		if !(low <= high) || math.IsInf(float64(low), 0) || math.IsInf(float64(high), 0) {
			return fmt.Errorf("weather year %d, day laid on %v: minimum %v °C and maximum %v °C do not make a day", y.Year, y.Start.Add(i), low, high)
		}
		c.low = append(c.low, low)
		c.high = append(c.high, high)
		c.mean = append(c.mean, (low+high)/2)
		c.swing = append(c.swing, daySamples(low, high))
	}
	c.Years = append(c.Years, y.Year)
	return nil
}

// date is the date, in the season being planned, of a day's index.
func (c *Climate) date(i int) civil.Date { return c.Season.Start.Add(i - Lead) }

// index is the index of a date; inside says whether the climate reaches it.
func (c *Climate) index(d civil.Date) (i int, inside bool) {
	i = d.Since(c.Season.Start) + Lead
	return i, i >= 0 && i < c.days
}

// year is the part of a flat array that belongs to the y-th year.
func (c *Climate) year(y int) (from, to int) { return y * c.days, (y + 1) * c.days }

// DayLength is the time from sunrise to sunset on a date at the climate's latitude.
func (c *Climate) DayLength(on civil.Date) quantity.Hour { return sun.DayLength(c.Latitude, on) }
