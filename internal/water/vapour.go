package water

import (
	"math"

	"kailyard/internal/quantity"
)

// SaturationVapourPressure is how much water the air can hold at a temperature.
//
//	t       °C, −40 to 60
//	result  kPa
//
// Source: FAO56 eq. 11
func SaturationVapourPressure(t quantity.Celsius) float64 {
	return 0.6108 * math.Exp(17.27*float64(t)/(float64(t)+237.3))
}

// MeanSaturation is the day's mean of what the air can hold; the mean temperature would give too little.
//
//	low, high  °C of the day
//	result     kPa
//
// Source: FAO56 eq. 12
func MeanSaturation(low, high quantity.Celsius) float64 {
	return (SaturationVapourPressure(low) + SaturationVapourPressure(high)) / 2
}

// SaturationSlope is by how much more the air can hold for a degree.
//
//	t       °C
//	result  kPa/°C
//
// Source: FAO56 eq. 13
func SaturationSlope(t quantity.Celsius) float64 {
	over := float64(t) + 237.3
	return 4098 * SaturationVapourPressure(t) / (over * over)
}

// Pressure is the air's pressure at an elevation, at 20 °C.
//
//	elevation  m above the sea, −400 to 5000
//	result     kPa
//
// Source: FAO56 eq. 7
func Pressure(elevation quantity.Metre) float64 {
	return 101.3 * math.Pow((293-0.0065*float64(elevation))/293, 5.26)
}

// Psychrometric is the constant that ties the drying of a wet surface to its cooling.
//
//	pressure  kPa
//	result    kPa/°C
//
// Source: FAO56 eq. 8
func Psychrometric(pressure float64) float64 { return 0.665e-3 * pressure }

// VapourFromHumidity is what the air holds, from the day's greatest and least relative humidity; the greatest belongs
// to the coldest hour, the least to the warmest.
//
//	low, high                °C of the day
//	humidityMax, humidityMin  per cent, 0–100
//	result                    kPa
//
// Source: FAO56 eq. 17
func VapourFromHumidity(low, high quantity.Celsius, humidityMax, humidityMin float64) float64 {
	return (SaturationVapourPressure(low)*humidityMax + SaturationVapourPressure(high)*humidityMin) / 200
}

// VapourFromMaxHumidity is what the air holds, from the day's greatest relative humidity alone: better than both
// where the least is doubtful.
//
// Source: FAO56 eq. 18
func VapourFromMaxHumidity(low quantity.Celsius, humidityMax float64) float64 {
	return SaturationVapourPressure(low) * humidityMax / 100
}

// VapourFromMeanHumidity is what the air holds, from the day's mean relative humidity, the weakest of the measures.
//
//	result  kPa
//
// Source: FAO56 eq. 19
func VapourFromMeanHumidity(low, high quantity.Celsius, humidity float64) float64 {
	return humidity / 100 * MeanSaturation(low, high)
}
