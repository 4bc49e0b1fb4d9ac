package growth

import "kailyard/internal/crop"

// Patience is the days from its start after which a crop that is not ready has stood still too long to come to
// anything: twice the upper Days and a month. One that overwinters may stand a winter through besides, from late summer
// to early summer, ten months; garlic and its like two months past their upper Days.
//
// Source: estimate; that bulb onions sown in August are lifted in June of the next year is common practice in mild winters.
func Patience(c *crop.Crop, m crop.Method) int {
	if c.Hardiness.Overwinters {
		return max(wintering, int(m.Days.High)+60)
	}
	return int(2*m.Days.High) + 30
}

// tenderAt is the progress from which a plant in flower and pod dies of less cold than before: when it flowers; of a crop
// that overwinters small, as broad beans do, when it is half grown and in bud. 0 for crops of which neither holds.
//
// Source: estimate; that broad beans are sown in late autumn so that they meet the winter small is common practice.
func tenderAt(o Option) float64 {
	c := o.Crop
	switch h := c.Hardiness; {
	case !ripens(c) || h.Mature <= h.Established:
		return 0
	case h.Overwinters:
		return juvenileUntil
	}
	return flowering(o)
}

// flowering is the progress at which an option flowers: a plant reckoned by its days to harvest in the weather for which they hold has as
// many of them left as its first fruits need from flower to picking: beans a week, tomatoes and peppers half of their time and more. So
// tomatoes set out early in a hot country have set before the heat, and what is set out into the heat does not.
//
// Source: BRITANNICA-VEG, the age of fruits at market maturity; 0.6 where nothing is known is an estimate.
func flowering(o Option) float64 {
	full, possible := Requirement(o)
	if o.Crop.Harvest.FromBloom == 0 || !possible {
		return flowersAt
	}
	return max(1-o.Crop.Harvest.FromBloom*referenceSpeed(o)/full, flowersNever)
}

// eases is the degrees by which hardening lowers what kills a growing plant, and with it the night that checks it.
func eases(h crop.Hardiness) float64 {
	if h.Overwinters {
		return max(float64(h.Established-h.Dormant), 0)
	}
	return max(float64(h.Established-h.Hardened), 0)
}
