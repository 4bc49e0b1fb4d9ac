package water

import (
	"math"

	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// MillimetresPerMegajoule is the water a MJ/m² evaporates.
//
// Source: FAO56 eq. 20
const MillimetresPerMegajoule = 0.408

// Daylight is the longest the sun can shine in a day.
//
//	latitude  degrees, north positive
//	yearDay   1–366
//	result    h, 0–24
//
// Source: FAO56 eq. 34
func Daylight(latitude float64, yearDay int) quantity.Hour {
	delta := 0.409 * math.Sin(2*math.Pi*float64(yearDay)/365-1.39) // eq. 24
	x := -math.Tan(latitude*math.Pi/180) * math.Tan(delta)         // eq. 25
	return quantity.Hour(24 / math.Pi * math.Acos(max(-1, min(1, x))))
}

// SolarFromSunshine is the sun's radiation on the ground from hours of bright sunshine.
//
//	ra        MJ/m² and day, above the air
//	sunshine  h; more than daylight counts as daylight
//	daylight  h; 0 gives 0
//
// Source: FAO56 eq. 35, a = 0.25 and b = 0.50
func SolarFromSunshine(ra quantity.MegajoulePerSquareMetre, sunshine, daylight quantity.Hour) quantity.MegajoulePerSquareMetre {
	if daylight <= 0 {
		return 0
	}
	share := float64(max(0, min(sunshine, daylight)) / daylight)
	return quantity.MegajoulePerSquareMetre(0.25+0.50*share) * ra
}

// SolarFromRange is the sun's radiation on the ground from the day's range of temperature: clear days are warm and
// their nights cold. It is as inland: by the sea, where nights are mild, it gives less than there is.
//
//	low, high  °C; high below low counts as without range
//	result     MJ/m² and day, never above the clear sky's at sea level
//
// Source: FAO56 eq. 50 (0.16, interior)
func SolarFromRange(low, high quantity.Celsius, ra quantity.MegajoulePerSquareMetre) quantity.MegajoulePerSquareMetre {
	return sun.FromRange(low, high, ra, 0, sun.Inland)
}

// NetShortwave is what a grass with albedo 0.23 keeps of the sun.
//
// Source: FAO56 eq. 38
func NetShortwave(solar quantity.MegajoulePerSquareMetre) quantity.MegajoulePerSquareMetre {
	return 0.77 * solar
}

// The share of the clear sky's radiation that counts for the heat lost at night: never over 1, nor under 0.3 on days so
// dark that the formula would give less than nothing. Where the sun hardly rises a sky half clear is taken.
//
// Source: REFET (the bounds); common practice for the last
const (
	darkest, clearest = 0.3, 1.0
	halfClear         = 0.65
)

// NetLongwave is the heat the ground loses to the sky: less under cloud and in damp air.
//
//	low, high  °C of the day
//	vapour     kPa
//	solar      MJ/m² and day on the ground
//	clear      MJ/m² and day on it without a cloud
//	result     MJ/m² and day
//
// Source: FAO56 eq. 39
func NetLongwave(low, high quantity.Celsius, vapour float64, solar, clear quantity.MegajoulePerSquareMetre) quantity.MegajoulePerSquareMetre {
	share := halfClear
	if clear > 0.1 {
		share = max(darkest, min(clearest, float64(solar/clear)))
	}
	black := (fourth(low) + fourth(high)) / 2
	damp := 0.34 - 0.14*math.Sqrt(max(0, vapour))
	return quantity.MegajoulePerSquareMetre(black * damp * (1.35*share - 0.35))
}

// fourth is what a black body of a temperature radiates, MJ/m² and day.
//
// Source: FAO56 table 2.8
func fourth(t quantity.Celsius) float64 {
	kelvin := float64(t) + 273.16
	return 4.903e-9 * kelvin * kelvin * kelvin * kelvin
}
