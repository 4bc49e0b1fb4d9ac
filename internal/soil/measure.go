package soil

import (
	"math"
	"strconv"

	"kailyard/internal/quantity"
)

// Measure is an amount as it is measured out by hand: "3½ tablespoons", "1¼ buckets".
type Measure struct {
	Count float64 // in quarters, at least ¼; from 4 on in halves, from 10 on whole: nobody counts closer
	Unit  string  // in the singular
}

// String is the measure in words.
func (m Measure) String() string {
	whole, quarter := math.Floor(m.Count), int(math.Round(math.Mod(m.Count, 1)*4))
	text := [4]string{"", "¼", "½", "¾"}[quarter%4]
	if whole > 0 {
		text = strconv.FormatFloat(whole, 'f', 0, 64) + text
	}
	if m.Count > 1 {
		return text + " " + m.Unit + "s"
	}
	return text + " " + m.Unit
}

type vessel struct {
	unit   string
	litres quantity.Litre
}

// vessels are what a kitchen and a shed measure with, from small to large; in the US by parts of the gallon.
var vessels = map[quantity.System][]vessel{
	quantity.US: {
		{"teaspoon", quantity.LitresPerGallon / 768}, {"tablespoon", quantity.LitresPerGallon / 256}, {"cup", quantity.LitresPerGallon / 16},
		{"quart", quantity.LitresPerGallon / 4}, {"gallon", quantity.LitresPerGallon},
	},
	quantity.Metric: {{"teaspoon", 0.005}, {"tablespoon", 0.015}, {"cup", 0.25}, {"litre", 1}},
}

// granular is the loose density of fertiliser grains where a material has none of its own: a pint weighs a pound.
//
// Source: KSU-SIDE (one pint is about one pound)
const granular = quantity.KilogramsPerPound / (quantity.LitresPerGallon / 8)

// looseDensity is a material's, in kilograms a litre.
func (m Material) looseDensity() float64 {
	if m.Density != nil && m.Density.Value > 0 {
		return m.Density.Value
	}
	return granular
}

// ByHand is a mass of a material in the largest vessel that it fills, or the person's own bucket (0: none) from a
// quarter of it; level, to the nearest part that is counted.
func ByHand(mass quantity.Kilogram, m Material, units quantity.System, bucket quantity.Litre) Measure {
	volume := quantity.Litre(float64(mass) / m.looseDensity())
	choice := vessels[units]
	best := choice[0]
	for _, v := range choice {
		if volume >= v.litres*0.95 {
			best = v
		}
	}
	if bucket > 0 && volume >= bucket/4 && bucket > best.litres {
		best = vessel{"bucket", bucket}
	}
	count, parts := float64(volume/best.litres), 4.0
	switch {
	case count >= 10:
		parts = 1
	case count >= 4:
		parts = 2
	}
	return Measure{math.Max(0.25, math.Round(count*parts)/parts), best.unit}
}
