package growth

import (
	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// coverWeek is the days over which the nights are looked at before a cover is taken off.
const coverWeek = 7

// ColdNight is the minimum, °C, at or below which a cover taken off is laid again for the night.
const ColdNight = 2.0

// coverKey is what the climate under a cover depends on; options with one key share it. The zero key is open ground.
type coverKey struct {
	protection *crop.Protection
	warm       bool // a crop of warm weather: aired later
	young      bool // the grown crop is taller than the cover has room for
}

// cover is the key of an option.
func (o Option) cover() coverKey {
	if o.Protection == nil {
		return coverKey{}
	}
	class := o.Crop.Hardiness.Class
	return coverKey{
		protection: o.Protection,
		warm:       class == "tender" || class == "very tender",
		young:      o.Crop.Plant.Height > o.Protection.Room,
	}
}

// Fits says whether a crop can be grown under a cover: an annual eaten that is low enough for it, or, where the
// cover comes off when the nights are warm, one that stands under it while it is young.
//
// Source: common practice.
func Fits(c *crop.Crop, p *crop.Protection) bool {
	if c.Perennial || c.Group == crop.Cover {
		return false
	}
	return c.Plant.Height <= p.Room || p.Removable()
}

// CoveredDay is the day's minimum and maximum under a cover that is on.
//
// At night it holds its gain. By day it gains as far as the limit at which it is opened; from there the air under
// it is that outside when it is warmer, the limit when it is cooler. It is never colder than outside.
//
//	low, high  °C  the day's air minimum and maximum outside
//	warm       a crop of warm weather, aired at VentWarm instead of VentCool
//
// Source: the form is ours; gains and limits are the cover's figures.
func CoveredDay(p *crop.Protection, warm bool, low, high quantity.Celsius) (quantity.Celsius, quantity.Celsius) {
	vent := p.VentCool
	if warm {
		vent = p.VentWarm
	}
	low += p.Night
	high = max(high, min(high+p.Day, vent))
	return low, max(low, high)
}

// under is the climate under a cover: air and soil as they are there on the days on which it is on. Plants are
// taken to be hardened as those outside are: they meet the same short days and nearly the same cold.
func (c *Climate) under(k coverKey) *Climate {
	if k.protection == nil {
		return c
	}
	out := *c
	out.open = c
	out.low, out.high, out.mean = make([]float32, len(c.low)), make([]float32, len(c.low)), make([]float32, len(c.low))
	out.swing, out.warmth = make([][4]float32, len(c.low)), make([]float32, len(c.low))
	for y := range c.Years {
		from, to := c.year(y)
		on := k.on(c.low[from:to], c.hours)
		for i := from; i < to; i++ {
			low, high := c.low[i], c.high[i]
			if on[i-from] {
				l, h := CoveredDay(k.protection, k.warm, quantity.Celsius(low), quantity.Celsius(high))
				low, high = float32(l), float32(h)
				out.warmth[i] = float32(k.protection.Soil)
			}
			out.low[i], out.high[i], out.mean[i] = low, high, (low+high)/2
			out.swing[i] = daySamples(low, high)
		}
	}
	return &out
}

// on says on which days of a year the cover is on.
//
// It is on, or shut, while the minima outside of the week up to and with the day average below Off, and on any night at
// or below 2 °C, which the forecast gives away; without Off, always. So it goes on in autumn, comes off in
// spring, and lies ready on the bed weeks before a spring sowing, which warms the soil.
// Where the grown crop has no room under it, it is on only while the days grow longer: over the young plants of spring.
//
// Source: common practice.
func (k coverKey) on(low []float32, hours []float64) []bool {
	on := make([]bool, len(low))
	sum := 0.0
	for i := range low {
		sum += float64(low[i])
		if i >= coverWeek {
			sum -= float64(low[i-coverWeek])
		}
		on[i] = true
		if k.protection.Off != nil {
			warm := sum >= float64(*k.protection.Off)*float64(min(i+1, coverWeek))
			on[i] = !warm || low[i] <= ColdNight
		}
		if k.young && !lengthens(hours, i) {
			on[i] = false
		}
	}
	return on
}

// lengthens says whether a day is longer than the day before it; the first day, whether the next is longer still.
func lengthens(hours []float64, i int) bool {
	if i == 0 {
		return len(hours) > 1 && hours[1] > hours[0]
	}
	return hours[i] > hours[i-1]
}

// Covering is when a planting's cover goes on and comes off: the first day from the start day on that begins a week
// of days with it, and the first after that which begins a week without it before the harvest is over; over the
// weather years that end Ready, and in how many of them each comes. In the open there are none.
func (t *Table) Covering(start civil.Date) (on, off garden.Spread, onYears, offYears int) {
	k := t.Option.cover()
	if k.protection == nil {
		return on, off, 0, 0
	}
	c := t.Climate
	first, _ := c.index(start)
	var ons, offs []int
	for y, p := range t.of(start) {
		if p.cause != ready {
			continue
		}
		from, to := c.year(y)
		days, last := k.on(c.low[from:to], c.hours), first+int(p.last)
		begins, ok := weekOf(days, first, true)
		if !ok || begins > last {
			continue
		}
		ons = append(ons, begins-first)
		if ends, ok := weekOf(days, begins, false); ok && ends <= last {
			offs = append(offs, ends-first)
		}
	}
	return spread(start, ons), spread(start, offs), len(ons), len(offs)
}

// Outgrows says whether a crop that has no room under its cover when grown would touch it before it comes off, in
// the year in ten that grows most: its height is taken to go with its width.
//
// Source: estimate.
func (t *Table) Outgrows(start civil.Date) bool {
	p := t.Option.Protection
	if p == nil || t.Option.Crop.Plant.Height <= p.Room {
		return false
	}
	_, off, _, years := t.Covering(start)
	if years == 0 {
		return false // it is never on, or stays on in no year in which the crop stands
	}
	_, _, wide := t.Canopy(start, off.P50)
	return t.Option.Crop.Plant.Height*wide > p.Room*t.Option.Crop.Plant.Spread
}

// weekOf is the first day from one on that begins a week on whose days the cover is all on, or all off.
func weekOf(on []bool, from int, want bool) (day int, ok bool) {
	run := 0
	for i := from; i < len(on); i++ {
		if run++; on[i] != want {
			run = 0
		}
		if run == coverWeek {
			return i - coverWeek + 1, true
		}
	}
	return 0, false
}

// Widens compares a window under a cover with the windows of the same way of growing in the open: by how
// many days it opens earlier and closes later than those it meets. meets is false when it meets none: in
// the open there is nothing at that time.
func Widens(covered Window, open []Window) (earlier, later int, meets bool) {
	for _, w := range open {
		if !w.Meets(covered.Span) {
			continue
		}
		if !meets {
			earlier = int(w.From - covered.From)
		}
		later, meets = int(covered.To-w.To), true
	}
	return earlier, later, meets
}
