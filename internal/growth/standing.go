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
func tenderAt(c *crop.Crop) float64 {
	switch h := c.Hardiness; {
	case !ripens(c) || h.Mature <= h.Established:
		return 0
	case h.Overwinters:
		return juvenileUntil
	}
	return flowersAt
}

// eases is the degrees by which hardening lowers what kills a growing plant, and with it the night that checks it.
func eases(h crop.Hardiness) float64 {
	if h.Overwinters {
		return max(float64(h.Established-h.Dormant), 0)
	}
	return max(float64(h.Established-h.Hardened), 0)
}
