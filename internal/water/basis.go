package water

import (
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// RadiationFrom, HumidityFrom and WindFrom say what a day's figure rests on, the best first.
type (
	RadiationFrom uint8
	HumidityFrom  uint8
	WindFrom      uint8
)

// What radiation rests on.
const (
	SolarMeasured    RadiationFrom = iota
	SolarSunshine                  // hours of bright sunshine
	SolarTemperature               // the day's range of temperature
)

// What the air's vapour rests on.
const (
	VapourDewPoint HumidityFrom = iota
	VapourRange                 // greatest and least humidity
	VapourMax                   // greatest humidity alone
	VapourMean                  // mean humidity
	VapourMinimum               // the night's minimum temperature as the dew point
)

// What wind rests on.
const (
	WindMeasured WindFrom = iota
	WindUsual             // 2 m/s
)

// Basis is what one day's evapotranspiration rests on.
type Basis struct {
	Radiation RadiationFrom
	Humidity  HumidityFrom
	Wind      WindFrom
	Above     bool // radiation above a clear sky's was measured: a clear sky's was taken
}

// Temperature says whether nothing but temperature was measured.
func (b Basis) Temperature() bool {
	return b.Radiation == SolarTemperature && b.Humidity == VapourMinimum && b.Wind == WindUsual
}

// usualWind is the mean of over 2000 stations of the world, m/s at 2 m.
//
// Source: FAO56 (chapter 3, missing wind data)
const usualWind = 2.0

// aboveClear is how far over the clear sky's a measured radiation may lie: broken cloud and clear winter air exceed the
// formula by a little.
const aboveClear = 1.10

// most is the most radiation that a day's measurement is believed to have: a tenth and 0.5 MJ/m² above the clear sky's.
func (s sky) most() quantity.MegajoulePerSquareMetre { return s.clear*aboveClear + 0.5 }

// of closes the gaps of a day, the best measure first: radiation from a pyranometer, sunshine, or the range of
// temperature; vapour from the dew point, both humidities, the greatest, the mean, or the night's minimum; wind, or the
// usual one.
//
// Source: FAO56 (chapter 3)
func (p Place) of(d weather.Day, s sky, psychro float64) (Air, Basis) {
	a := Air{Low: d.Min, High: d.Max, Psychro: psychro}
	var b Basis
	var solar quantity.MegajoulePerSquareMetre
	switch {
	case d.HasRadiation:
		solar = d.Radiation
		if solar > s.most() {
			solar, b.Above = s.clear, true
		}
	case d.Air.Has&weather.HasSunshine != 0:
		solar, b.Radiation = SolarFromSunshine(s.ra, d.Air.Sunshine, s.daylight), SolarSunshine
	default:
		solar, b.Radiation = SolarFromRange(d.Min, d.Max, s.ra), SolarTemperature
	}
	a.Vapour, b.Humidity = p.vapour(d)
	if a.Wind = usualWind; d.Air.Has&weather.HasWind != 0 {
		a.Wind = max(0, d.Air.Wind)
	} else {
		b.Wind = WindUsual
	}
	a.Sun = NetShortwave(solar)
	a.Net = a.Sun - NetLongwave(d.Min, d.Max, a.Vapour, solar, s.clear)
	return a, b
}

func (p Place) vapour(d weather.Day) (float64, HumidityFrom) {
	const both = weather.HasHumidityMax | weather.HasHumidityMin
	switch has := d.Air.Has; {
	case has&weather.HasDewPoint != 0:
		return SaturationVapourPressure(d.Air.DewPoint), VapourDewPoint // eq. 14
	case has&both == both:
		return VapourFromHumidity(d.Min, d.Max, d.Air.HumidityMax, d.Air.HumidityMin), VapourRange
	case has&weather.HasHumidityMax != 0:
		return VapourFromMaxHumidity(d.Min, d.Air.HumidityMax), VapourMax
	case has&weather.HasHumidityMean != 0:
		return VapourFromMeanHumidity(d.Min, d.Max, d.Air.HumidityMean), VapourMean
	}
	return SaturationVapourPressure(d.Min - p.DewBelow), VapourMinimum // eq. 48
}

// OfDay is the reference evapotranspiration of one day from whatever was measured. A day without temperature has none.
func (p Place) OfDay(d weather.Day) (et quantity.Millimetre, b Basis, ok bool) {
	if !d.HasTemp {
		return 0, b, false
	}
	a, b := p.air(d)
	return a.Reference(), b, true
}

// air is a day with a temperature, its gaps closed.
func (p Place) air(d weather.Day) (Air, Basis) {
	return p.of(d, p.sky(d.Date.YearDay()), Psychrometric(Pressure(p.Elevation)))
}

// OfTemperature is the reference evapotranspiration of a day of which nothing but temperature is known.
//
//	low, high  °C
//	yearDay    1–366
func (p Place) OfTemperature(low, high quantity.Celsius, yearDay int) quantity.Millimetre {
	a, _ := p.of(weather.Day{Min: low, Max: high, HasTemp: true}, p.sky(yearDay), Psychrometric(Pressure(p.Elevation)))
	return a.Reference()
}
