package soil

import (
	"fmt"
	"math"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// Dose is a material to put on a bed.
type Dose struct {
	Material  Material
	Rate      quantity.KilogramPerSquareMetre // in all
	Low, High quantity.KilogramPerSquareMetre // what the sources span, of this material
	Mass      quantity.Kilogram               // on the bed
	Volume    quantity.Litre                  // loose, for a measured bucket
	Depth     quantity.Metre                  // worked in to; 0: left on top
	Parts     []Part
	Before    int // days before sowing that it should lie at least
	Reasons   []garden.Reason
	Cautions  []string
}

// Part is one of a dose's applications.
type Part struct {
	Rate quantity.KilogramPerSquareMetre
	Mass quantity.Kilogram
	From civil.Date // not before
	To   civil.Date // best by
	When string     // in words
}

// finish weighs the parts and sets their days.
func (d *Dose) finish(s Sour, parts, apart int) {
	d.Cautions = allInUnits(d.Cautions, s.Units)
	d.Mass = quantity.Kilogram(d.Rate) * quantity.Kilogram(s.Area)
	if d.Material.Density != nil && d.Material.Density.Value > 0 {
		d.Volume = quantity.Litre(float64(d.Mass) / d.Material.Density.Value)
	}
	from, when := d.opens(s)
	if last := lastGiven(s.Treatments, d.Material.Family); last != 0 && last <= s.Today && from < last.Add(apart) && apart < 365 {
		from, when = last.Add(apart), fmt.Sprintf("not before %s: some was given on %s", dated(last.Add(apart)), dated(last))
	}
	for i := range parts {
		at := from.Add(i * apart)
		words := when
		if i > 0 {
			words = fmt.Sprintf("%d months after the part before", int(math.Round(float64(apart)/30.4)))
			if apart < 90 {
				words = fmt.Sprintf("%d weeks after the part before", int(math.Ceil(float64(apart)/7)))
			}
		}
		d.Parts = append(d.Parts, Part{Rate: d.Rate / quantity.KilogramPerSquareMetre(parts), Mass: d.Mass / quantity.Kilogram(parts), From: at, To: at.Add(45), When: words})
	}
}

// opens is the day the first part goes on: in autumn where that can be waited for, else now when it lies long enough before sowing,
// else after the crop.
//
// Source: REACTION-PRACTICE (autumn preferred)
func (d *Dose) opens(s Sour) (civil.Date, string) {
	autumn := autumnFrom(s.Today, s.South)
	if d.Material.Family == Acidifying {
		return warmSoil(s.Today, s.South), "in warm, moist ground: late spring to early autumn"
	}
	switch {
	case autumn <= s.Today:
		return s.Today, "now, in autumn: it works all winter"
	case s.Sowing != 0 && s.Sowing > s.Today && s.Sowing.Since(s.Today) >= d.Before && s.Sowing < autumn:
		return s.Today, fmt.Sprintf("now, at least %s before sowing; autumn would have been better", quantity.Plural(float64(d.Before), "day"))
	}
	return autumn, "in autumn, when the bed is clear"
}

// autumnFrom is the first day of this autumn when it is now, else of the next: 15 September to the end of November, half a year
// later in the south.
func autumnFrom(today civil.Date, south bool) civil.Date {
	month, last := 9, 11
	if south {
		month, last = 3, 5
	}
	start := civil.Of(today.Year(), month, 15)
	if today > civil.Of(today.Year(), last, 30) {
		start = civil.Of(today.Year()+1, month, 15)
	}
	return start
}

// warmSoil is today in the warm half of the year, else its beginning.
func warmSoil(today civil.Date, south bool) civil.Date {
	from, to := civil.Of(today.Year(), 5, 1), civil.Of(today.Year(), 9, 15)
	if south {
		from, to = civil.Of(today.Year(), 11, 1), civil.Of(today.Year()+1, 3, 15)
		if today < civil.Of(today.Year(), 3, 15) {
			from, to = civil.Of(today.Year()-1, 11, 1), civil.Of(today.Year(), 3, 15)
		}
	}
	switch {
	case today < from:
		return from
	case today <= to:
		return today
	}
	return from.InYear(from.Year() + 1)
}

func partsWord(n int) string {
	if n == 1 {
		return "one part"
	}
	return fmt.Sprintf("%d parts", n)
}
