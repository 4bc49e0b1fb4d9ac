package growth

import (
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// SoilAt is the daily mean soil temperature at a depth on a date in the 10, 50 and 90 % weather years. A
// date that the climate does not reach is taken at its nearest day.
func (c *Climate) SoilAt(depth quantity.Metre, on civil.Date) (p10, p50, p90 quantity.Celsius) {
	return c.spreadAt(c.soil(depth), on)
}

// SoilTemperature is the daily mean soil temperature at a depth, °C, by weather year and day of the season.
func (c *Climate) SoilTemperature(depth quantity.Metre) [][]float32 {
	return c.season(c.soil(depth))
}

// SoilSpread is the soil temperature at a depth for every day of the season in the 10, 50 and 90 % years.
func (c *Climate) SoilSpread(depth quantity.Metre) (p10, p50, p90 []quantity.Celsius) {
	return c.spreadOver(c.soil(depth))
}

// AirSpread is the daily mean air temperature for every day of the season in the 10, 50 and 90 % years.
func (c *Climate) AirSpread() (p10, p50, p90 []quantity.Celsius) { return c.spreadOver(c.mean) }

// AirOn is the daily mean air temperature on a date in the 10, 50 and 90 % weather years. A date that
// the climate does not reach is taken at its nearest day.
func (c *Climate) AirOn(on civil.Date) (p10, p50, p90 quantity.Celsius) {
	return c.spreadAt(c.mean, on)
}

// ThermalTime is the degree-days above a base from a date, for each day from it to the season's end: the
// sums up to and with the day in the 10, 50 and 90 % weather years. The day's share is its mean above the
// base, none below; the mean is that of minimum and maximum.
//
// Source: MCMASTER-1997, method 1.
func (c *Climate) ThermalTime(base quantity.Celsius, from civil.Date) (p10, p50, p90 []quantity.CelsiusDay) {
	first, inside := c.index(from)
	if !inside {
		return nil, nil, nil
	}
	sums := make([]float64, len(c.Years))
	sorted := make([]float64, len(c.Years))
	for i := first; i < Lead+c.Season.Days; i++ {
		for y := range c.Years {
			sums[y] += max(float64(c.mean[y*c.days+i])-float64(base), 0)
		}
		copy(sorted, sums)
		slices.Sort(sorted)
		p10 = append(p10, quantity.CelsiusDay(quantile(sorted, 10)))
		p50 = append(p50, quantity.CelsiusDay(quantile(sorted, 50)))
		p90 = append(p90, quantity.CelsiusDay(quantile(sorted, 90)))
	}
	return p10, p50, p90
}

// SoilReaches is the first day of the season on which the 3-day mean of the soil at a depth is at least a
// temperature and the ground can be worked, over the weather years; years is in how many it comes at all.
func (c *Climate) SoilReaches(depth quantity.Metre, least quantity.Celsius) (when garden.Spread, years int) {
	soil, work := c.soil(depth), c.soil(workableDepth)
	var days []int
	for y := range c.Years {
		from, to := c.year(y)
		for s := range c.Season.Days {
			if threeDays(soil[from:to], Lead+s) >= float64(least) && workable(work[from:to], Lead+s) {
				days = append(days, s)
				break
			}
		}
	}
	return spread(c.Season.Start, days), len(days)
}

// season is the season's days of a flat array, by year.
func (c *Climate) season(values []float32) [][]float32 {
	out := make([][]float32, len(c.Years))
	for y := range out {
		from, _ := c.year(y)
		out[y] = values[from+Lead : from+Lead+c.Season.Days]
	}
	return out
}

func (c *Climate) spreadOver(values []float32) (p10, p50, p90 []quantity.Celsius) {
	for d := c.Season.Start; d <= c.Season.End(); d++ {
		a, b, e := c.spreadAt(values, d)
		p10, p50, p90 = append(p10, a), append(p50, b), append(p90, e)
	}
	return p10, p50, p90
}

func (c *Climate) spreadAt(values []float32, on civil.Date) (p10, p50, p90 quantity.Celsius) {
	i, _ := c.index(on)
	i = min(max(i, 0), c.days-1)
	days := make([]float32, len(c.Years))
	for y := range days {
		days[y] = values[y*c.days+i]
	}
	slices.Sort(days)
	return quantity.Celsius(quantile(days, 10)), quantity.Celsius(quantile(days, 50)), quantity.Celsius(quantile(days, 90))
}
