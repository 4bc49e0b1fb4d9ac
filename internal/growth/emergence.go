package growth

import (
	"kailyard/internal/crop"
	"kailyard/internal/quantity"
)

// EmergenceRate is the share of the way from sowing to emergence made in one day at a soil temperature.
//
// The table gives days at steady temperatures; its inverse, the daily rate, is taken as linear in
// temperature between the points, falling linearly to nothing at Least below the coldest point and at
// Most above the warmest. Below Least and above Most the rate is zero.
//
//	e       the crop's table, days at °C
//	soil    °C, daily mean at the depth of the seed
//	result  1/d, zero or more
//
// Source: HM54-UCSC (table); the interpolation is ours.
func EmergenceRate(e crop.Emergence, soil quantity.Celsius) float64 {
	points := e.Points
	if len(points) == 0 || soil < e.Least || soil > e.Most {
		return 0
	}
	first, last := points[0], points[len(points)-1]
	switch {
	case soil < first.Soil:
		return between(float64(e.Least), 0, float64(first.Soil), inverse(first.Days), float64(soil))
	case soil > last.Soil:
		return between(float64(last.Soil), inverse(last.Days), float64(e.Most), 0, float64(soil))
	}
	for k := 1; k < len(points); k++ {
		if a, b := points[k-1], points[k]; soil <= b.Soil {
			return between(float64(a.Soil), inverse(a.Days), float64(b.Soil), inverse(b.Days), float64(soil))
		}
	}
	return inverse(last.Days)
}

// between is the value at x of the line through (x0, y0) and (x1, y1).
func between(x0, y0, x1, y1, x float64) float64 {
	if x1 <= x0 {
		return y1
	}
	return y0 + (y1-y0)*(x-x0)/(x1-x0)
}

// inverse is 1/days, 0 where the table has no emergence.
func inverse(days float64) float64 {
	if days <= 0 {
		return 0
	}
	return 1 / days
}
