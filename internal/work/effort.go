package work

import (
	"math"

	"kailyard/internal/quantity"
)

// The time a job takes: a setting-up time and a rate, one able person with hand tools, unhurried.
// Common practice, from memory; a garden's own journal will know better.
const (
	setUp           = 0.15 // hours: fetch, lay the line, put away
	digAnHour       = 7.0  // m² dug one spade deep and raked
	loosenAnHour    = 18.0 // m² loosened with fork or hoe after a crop, and raked
	drillAnHour     = 45.0 // m of drill drawn, sown, closed
	trenchAnHour    = 12.0 // m of wide trench taken out, sown, covered
	stationsAnHour  = 150.0
	setOutAnHour    = 45.0 // plants set out and watered in
	setsAnHour      = 150.0
	tubersAnHour    = 30.0
	cellsAnHour     = 150.0 // filled, sown, labelled
	thinAnHour      = 15.0  // m of row
	earthUpAnHour   = 25.0  // m of row
	fillInAnHour    = 40.0  // m of trench
	feedAnHour      = 60.0  // m of row
	stakesAnHour    = 12.0
	trellisAnHour   = 8.0  // m of row
	clearAnHour     = 15.0 // m² cleared
	hardenMinutes   = 5.0  // a day, out and in
	fleeceAnHour    = 20.0 // m² covered
	listLinesAnHour = 20.0 // lines of an order
)

// effort is the setting-up time and so much at a rate, to a quarter of an hour.
func effort(amount, anHour float64) quantity.Hour {
	if amount <= 0 || anHour <= 0 {
		return 0
	}
	return quarter(setUp + amount/anHour)
}

func quarter(hours float64) quantity.Hour {
	return quantity.Hour(max(0.25, math.Round(hours*4)/4))
}

// harvestAnHour is how much a picker brings in, kg an hour, by the part eaten: light leaves and
// pods go slowly, roots and heads fast. Common practice, from memory.
func harvestAnHour(part string) float64 {
	switch part {
	case "leaf", "pod", "seed":
		return 4
	case "fruit", "stalk", "spear":
		return 8
	case "head", "bulb":
		return 20
	}
	return 15
}
