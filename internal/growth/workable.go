package growth

import (
	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// Workable is when the ground can be worked in spring: when the mean of a week of the soil 10 cm deep has reached
// 6 °C, the rule by which plantings go in.
type Workable struct {
	First  garden.Spread // the first day of the season on which it can be worked
	Stays  garden.Spread // the day from which on it stays so until midsummer
	Years  int           // weather years
	Always int           // years in which it can be worked from the season's first day to midsummer
	Never  int           // years in which it cannot until midsummer; they are in neither spread

	Depth quantity.Metre   // where the soil is judged
	Least quantity.Celsius // what it must have reached there
}

// Workable is over the weather years.
func (c *Climate) Workable() Workable {
	w := Workable{Years: len(c.Years), Depth: workableDepth, Least: workableSoil}
	soil := c.soil(workableDepth)
	half := int(weather.Midsummer(c.Season) - c.Season.Start)
	var first, stays []int
	for y := range c.Years {
		from, to := c.year(y)
		days := soil[from:to]
		begins, holds := -1, -1
		for s := range half {
			switch {
			case !workable(days, Lead+s):
				holds = -1
			case begins < 0:
				begins, holds = s, s
			case holds < 0:
				holds = s
			}
		}
		switch {
		case holds < 0:
			w.Never++
			continue
		case holds == 0:
			w.Always++
		}
		first, stays = append(first, begins), append(stays, holds)
	}
	w.First, w.Stays = spread(c.Season.Start, first), spread(c.Season.Start, stays)
	return w
}

// LongerThan is the season's spans of days that are longer than so many hours.
func (c *Climate) LongerThan(hours float64) []civil.Span {
	var out []civil.Span
	for d := c.Season.Start; d <= c.Season.End(); d++ {
		if c.hours[Lead+int(d-c.Season.Start)] <= hours {
			continue
		}
		if n := len(out); n > 0 && out[n-1].To == d-1 {
			out[n-1].To = d
		} else {
			out = append(out, civil.Span{From: d, To: d})
		}
	}
	return out
}
