package work

import (
	"math"

	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// The time a job takes: a setting-up time and a rate, one able person with hand tools, unhurried.
// Common practice, from memory; a garden's own journal will know better.
const (
	setUp           = crop.SetUpHours   // hours: fetch, lay the line, put away
	digAnHour       = crop.DigAnHour    // m² dug one spade deep and raked
	loosenAnHour    = crop.LoosenAnHour // m² loosened with fork or hoe after a crop, and raked
	drillAnHour     = crop.DrillAnHour  // m of drill drawn, sown, closed
	trenchAnHour    = 12.0              // m of wide trench taken out, sown, covered
	stationsAnHour  = 150.0
	setOutAnHour    = crop.SetOutAnHour // plants set out and watered in
	setsAnHour      = crop.SetsAnHour
	tubersAnHour    = crop.TubersAnHour
	cellsAnHour     = crop.CellsAnHour   // filled, sown, labelled
	thinAnHour      = crop.ThinAnHour    // m of row
	earthUpAnHour   = crop.EarthUpAnHour // m of row
	fillInAnHour    = 40.0               // m of trench
	feedAnHour      = 60.0               // m of row
	stakesAnHour    = crop.StakesAnHour
	trellisAnHour   = crop.TrellisAnHour   // m of row
	clearAnHour     = crop.ClearAnHour     // m² cleared
	hardenMinutes   = crop.HardeningDayMin // a day, out and in
	fleeceAnHour    = 20.0                 // m² covered
	listLinesAnHour = 20.0                 // lines of an order
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

// harvestAnHour is how much a picker brings in, kg an hour, by the part eaten.
func harvestAnHour(part string) float64 { return crop.PickAnHour(part) }
