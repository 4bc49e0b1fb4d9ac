package plan

import "strings"

// vetoes: nothing new is planned that the person will not have.
func (c *checker) vetoes() {
	for _, v := range c.garden.Vetoes {
		named := map[string]bool{}
		if v.Crop != "" {
			found, _ := c.crops.Match(v.Crop)
			for _, one := range found {
				named[one.ID] = true
			}
		}
		for i := range c.plan.Plantings {
			x := &c.plan.Plantings[i]
			of, ok := c.crops.Find(x.CropID)
			if !ok || c.stands[x.Key] {
				continue
			}
			here := v.BedID == 0 || v.BedID == x.BedID
			so := v.Way == "" || v.Way == x.Way
			then := v.Before == nil || *v.Before > x.Start
			any := v.Crop == "" && v.Family == ""
			if here && so && then && (any || named[x.CropID] || v.Family != "" && strings.EqualFold(v.Family, familyOf(of))) {
				c.fault(x, "is planned against a veto: %s", c.garden.VetoSays(v))
			}
		}
	}
}
