package growth

import (
	"math"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

const (
	canopySteepness = 9.0  // of the logistic over progress 0–1
	canopyHalfway   = 0.5  // progress at which half the spread is reached
	setOutAhead     = 0.15 // progress that a plant raised under cover brings along
)

// CanopyShare is the plant's diameter as a share of its mature spread: a logistic of its progress to
// harvest, scaled to be nothing at 0 and whole at 1 and beyond.
//
//	progress  development since emergence as a share of the Requirement, 0 and up
//	result    0–1
//
// Source: estimate; the logistic is the usual form of canopy growth (AQUACROP, in two halves).
func CanopyShare(progress float64) float64 {
	logistic := func(p float64) float64 { return 1 / (1 + math.Exp(-canopySteepness*(p-canopyHalfway))) }
	if progress <= 0 {
		return 0
	} else if progress >= 1 {
		return 1
	}
	return (logistic(progress) - logistic(0)) / (logistic(1) - logistic(0))
}

// Canopy is the plant's diameter on a day in the 10, 50 and 90 % weather years, from a start day.
// Before emergence it is 0; it never exceeds the crop's mature spread. It counts the years in which the
// crop came up, and does not shrink at harvest; 0 when it came up in none.
func (t *Table) Canopy(start, on civil.Date) (p10, p50, p90 quantity.Metre) {
	c := t.Climate
	var sizes []float64
	first, _ := c.index(start)
	day := min(on.Since(c.Season.Start)+Lead, c.days)
	for y, p := range t.of(start) {
		if p.emerge < 0 {
			continue
		}
		sizes = append(sizes, CanopyShare(t.progress(y, first+int(p.emerge), day)))
	}
	if len(sizes) == 0 {
		return 0, 0, 0
	}
	slices.Sort(sizes)
	spread := t.Option.Crop.Plant.Spread
	size := func(percent int) quantity.Metre { return quantity.Metre(quantile(sizes, percent)) * spread }
	return size(10), size(50), size(90)
}

// progress is the share of the way to harvest made by a day in the y-th year by a plant up on another.
func (t *Table) progress(y, up, day int) float64 {
	if day < up || t.needs <= 0 {
		return 0
	}
	sums := t.growing.values()[y*(t.Climate.days+1) : (y+1)*(t.Climate.days+1)]
	made := (sums[day] - sums[up]) / t.needs
	if t.Option.method().Way == crop.SetOut {
		made = setOutAhead + (1-setOutAhead)*made
	}
	return made
}
