package garden

import (
	"fmt"
	"strings"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// MassUnit is the unit of a want that names none, as people of a system of units weigh: "kg" or "lb".
func MassUnit(u quantity.System) string {
	if u == quantity.US {
		return "lb"
	}
	return "kg"
}

// massUnits are the masses a want may be counted in, in kilograms. An empty unit, as books may have kept, means kilograms.
var massUnits = map[string]quantity.Kilogram{
	"": 1, "kg": 1, "g": 0.001,
	"lb": quantity.KilogramsPerPound, "lbs": quantity.KilogramsPerPound, "oz": quantity.GramsPerOunce / 1000,
}

// Mass is the want's amount, of one week or of the season by its basis, as a mass of a crop.
func (w Want) Mass(c *crop.Crop) (quantity.Kilogram, error) {
	unit := strings.ToLower(strings.TrimSpace(w.Unit))
	if each, ok := massUnits[unit]; ok {
		return quantity.Kilogram(w.Amount) * each, nil
	}
	if countedIn(unit, c) {
		return quantity.Kilogram(w.Amount) * c.Harvest.UnitMass, nil
	}
	return 0, Problem{
		Field: "unit", Says: fmt.Sprintf("%q is not a unit for %s", w.Unit, c.Name()),
		Remedy: "write " + strings.Join(Units([]*crop.Crop{c}), ", "),
	}
}

// Asked is what the want asks of a crop over a whole season: its amount, or its weekly amount in
// every week wanted. Without dates every week of the season counts, so it is then the most that
// could be used, not what the crop can give.
func (w Want) Asked(c *crop.Crop, season civil.Season) (quantity.Kilogram, error) {
	each, err := w.Mass(c)
	if err != nil || w.Basis != Weekly {
		return each, err
	}
	return each * quantity.Kilogram(w.Weeks(season)), nil
}

// Weeks is the number of the season's weeks in which a weekly want is wanted.
func (w Want) Weeks(season civil.Season) int {
	from, to := season.Start, season.End()
	if w.From != nil {
		from = max(from, *w.From)
	}
	if w.To != nil {
		to = min(to, *w.To)
	}
	if to < from {
		return 0
	}
	return season.Week(to) - season.Week(from) + 1
}

// Units are the units a want for any of the crops may be counted in.
func Units(crops []*crop.Crop) []string {
	units := []string{"kg", "g", "lb", "oz"}
	seen := map[string]bool{"kg": true, "g": true, "lb": true, "oz": true}
	for _, c := range crops {
		if u := c.Harvest.Unit; u != "" && c.Harvest.UnitMass > 0 && !seen[u] {
			units, seen[u] = append(units, u), true
		}
	}
	return units
}

func knownUnit(unit string, crops []*crop.Crop) bool {
	unit = strings.ToLower(strings.TrimSpace(unit))
	if _, ok := massUnits[unit]; ok {
		return true
	}
	for _, c := range crops {
		if countedIn(unit, c) {
			return true
		}
	}
	return false
}

// countedIn says whether a unit, singular or plural, is the one people count the crop in.
func countedIn(unit string, c *crop.Crop) bool {
	own := strings.ToLower(c.Harvest.Unit)
	return own != "" && c.Harvest.UnitMass > 0 && (unit == own || unit == own+"s" || unit == own+"es")
}
