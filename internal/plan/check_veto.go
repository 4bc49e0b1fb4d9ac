package plan

import (
	"strings"

	"kailyard/internal/garden"
)

// vetoes: nothing new is planned that the person will not have.
func (c *checker) vetoes(x *garden.Planting, o option) {
	for _, v := range c.garden.Vetoes {
		here := v.BedID == 0 || v.BedID == x.BedID
		so := v.Way == "" || v.Way == x.Way
		then := v.Before == nil || *v.Before > x.Start
		of := v.Crop == "" && v.Family == "" || v.Family != "" && strings.EqualFold(v.Family, familyOf(o.crop))
		if v.Crop != "" {
			found, _ := c.crops.Match(v.Crop)
			for _, one := range found {
				of = of || one.ID == x.CropID
			}
		}
		if here && so && then && of {
			c.fault(x, "is planned against a veto: %s", c.garden.VetoSays(v))
		}
	}
}
