package plan

import (
	"fmt"

	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// whyMethod says, of a planting grown by another method than the crop's usual one, what that costs.
func whyMethod(c *crop.Crop, m crop.Method, plants int) []garden.Reason {
	usual := c.Methods[0].Way
	if m.Way == usual {
		return nil
	}
	says := fmt.Sprintf("It is usually %s.", map[crop.Way]string{crop.Sow: "sown where it stands", crop.SetOut: "raised under cover and set out", crop.Set: "planted"}[usual])
	if m.Way == crop.SetOut && plants > 0 {
		says += fmt.Sprintf(" The work of raising %s, about two minutes each, is counted, and what it gains here is worth more.", quantity.Plural(float64(plants), "plant"))
	} else {
		says += " On this ground and for this want the other way gains more than it costs."
	}
	return []garden.Reason{{Rule: "method", Source: practice, Says: says}}
}
