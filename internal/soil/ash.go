package soil

import (
	"fmt"
	"slices"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

const ashID = "wood-ash"

// ashOfAYear is what one year may have of wood ash, not within a year of the last.
//
// Source: ASH-EXT (20 lb to 1,000 square feet in a year)
func (d *Dose) ashOfAYear(s Sour) {
	whole := d.Rate
	d.Rate, d.Low, d.High = min(d.Rate, d.Material.Most), min(d.Low, d.Material.Most), min(d.High, d.Material.Most)
	if whole > d.Rate {
		d.Reasons = append(d.Reasons, garden.Reason{Says: fmt.Sprintf("Of wood ash no more than %s goes on in a year, of the %s wanted: give the rest as ground limestone, or ash again in a year after a test.", s.Units.Rate(d.Material.Most), s.Units.Rate(whole)), Rule: "most in a year", Source: "ASH-EXT"})
	}
	d.finish(s, 1, 365)
	last := civil.Date(0)
	for _, t := range s.Treatments {
		if t.Material == ashID && t.Date <= s.Today && t.Date > last {
			last = t.Date
		}
	}
	if again := last.Add(365); last != 0 && d.Parts[0].From < again {
		d.Parts[0].From, d.Parts[0].To = again, again.Add(45)
		d.Parts[0].When = fmt.Sprintf("not before %s: ash was given on %s", dated(again), dated(last))
	}
}

// woodAsh offers ash in place of the stone, within its limit: 20 lb to 1,000 square feet in a year, the lower of the two limits met with.
//
// Source: ASH-EXT (twice the weight of limestone; 20 lb to 1,000 square feet; not at pH 7.0 and above, not for potatoes)
func (r *Reaction) woodAsh(s Sour) {
	ash, ok := Find("wood-ash")
	if !ok || r.Requirement.Lime <= 0 || slices.ContainsFunc(s.Crops, func(c *crop.Crop) bool { return c != nil && c.Kind == "potato" }) {
		return
	}
	strength, err := StrengthOf(ash, labelOf(s, ash.ID))
	if err != nil {
		return
	}
	if r.Dose != nil && r.Dose.Material.ID == ashID {
		return
	}
	whole := strength.OfProduct(r.Requirement.Lime)
	d := Dose{Material: ash, Rate: min(whole, ash.Most), Depth: r.Requirement.Depth, Before: 21, Cautions: slices.Clone(ash.Cautions)}
	d.Low, d.High = d.Rate, d.Rate
	says := fmt.Sprintf("Wood ash does about half of what limestone does: %s would be needed", s.Units.Rate(whole))
	if whole > ash.Most {
		says += fmt.Sprintf(", but no more than %s in a year is given (another source allows %s), so ash does %.0f %% of it this year and stone the rest", s.Units.Rate(ash.Most), s.Units.Rate(50*PoundPer1000SquareFeet), 100*float64(ash.Most/whole))
	}
	d.Reasons = append(strength.Reasons, garden.Reason{Says: says + ".", Rule: "wood ash for lime", Source: "ASH-EXT; ASH-MF"})
	d.finish(s, 1, 365)
	r.Others = append(r.Others, d)
}
