package growth

import "kailyard/internal/quantity"

// The constants of the soil filter, fitted by least root-mean-square error at 5, 10 and 20 cm on 13 of
// the 26 US Climate Reference Network stations of 2020 (every second one by name) and checked on the others.
const (
	filterDays         = 3.8  // d, time constant at the surface
	filterDaysPerMetre = 22.5 // d/m, its growth with depth
	warmthPerSwing     = 0.08 // °C of mean soil above mean air for each °C of daily range
	coldUnderFreezing  = 0.2  // share of the air's cold below freezing that reaches the soil
)

// SoilResponse is the share of the gap between air and soil that the soil closes in one day.
//
// The soil follows the air as through a damped filter, slower the deeper: Kang et al. and Zheng et al.
// publish daily steps of the form T += a·(A − T); here a = 1/(3.8 + 22.5·z).
//
//	depth   m    0–0.3; outside it the nearer end is used
//	result  –    0.26 at the surface, 0.17 at 10 cm, 0.12 at 20 cm
//
// Source: KANG-2000 and ZHENG-1993 for the form; constants fitted on CRN-2020.
func SoilResponse(depth quantity.Metre) float64 {
	z := min(max(float64(depth), 0), 0.3)
	return 1 / (filterDays + filterDaysPerMetre*z)
}

// SoilDrive is the temperature that the soil tends to on a day of given air temperatures.
//
// By day the sun warms the ground above the air, the more the greater the daily range; in frost, snow and
// freezing water keep most of the cold out.
//
//	low, high  °C   the day's air minimum and maximum
//	result     °C   mean + 0.08·(high − low); below freezing a fifth of that
//
// Source: fitted on CRN-2020, whose probes lie under short grass; bare ground in full sun is commonly a
// degree or two warmer by spring days, which is left as a margin.
func SoilDrive(low, high quantity.Celsius) quantity.Celsius {
	t := (low+high)/2 + warmthPerSwing*(high-low)
	if t < 0 {
		t *= coldUnderFreezing
	}
	return t
}

// soil is the daily mean soil temperature at a depth for all years, flat; under a cover it tends to what it
// would in the open and the cover's gain above it. It starts at the mean drive
// of the first fortnight, so that the depth's memory has no cold start.
func (c *Climate) soil(depth quantity.Metre) []float32 {
	out := make([]float32, len(c.low))
	for y := range c.Years {
		from, to := c.year(y)
		if c.open != nil {
			soilFollows(out[from:to], depth, func(i int) float64 { return c.open.drive(from+i) + float64(c.warmth[from+i]) })
			continue
		}
		soilTemperature(out[from:to], c.low[from:to], c.high[from:to], depth)
	}
	return out
}

// drive is SoilDrive of a day of the flat arrays.
func (c *Climate) drive(i int) float64 {
	return float64(SoilDrive(quantity.Celsius(c.low[i]), quantity.Celsius(c.high[i])))
}

// soilTemperature fills out with the daily mean soil temperature under days of air, °C.
func soilTemperature(out, low, high []float32, depth quantity.Metre) {
	soilFollows(out, depth, func(i int) float64 {
		return float64(SoilDrive(quantity.Celsius(low[i]), quantity.Celsius(high[i])))
	})
}

// soilFollows fills out with the daily mean soil temperature that follows what drives it, °C.
func soilFollows(out []float32, depth quantity.Metre, drive func(i int) float64) {
	first := min(fortnight, len(out))
	t, a := 0.0, SoilResponse(depth)
	for i := range first {
		t += drive(i) / float64(first)
	}
	for i := range out {
		t += a * (drive(i) - t)
		out[i] = float32(t)
	}
}
