package water

import (
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// Air is a day's weather with every gap closed: what Penman and Monteith's equation asks for.
type Air struct {
	Low, High quantity.Celsius
	Vapour    float64                          // kPa that the air holds
	Wind      float64                          // m/s, the day's mean at 2 m
	Net       quantity.MegajoulePerSquareMetre // radiation kept
	Sun       quantity.MegajoulePerSquareMetre // of that, what the sun brought
	SoilHeat  quantity.MegajoulePerSquareMetre // into the ground; 0 for a day
	Psychro   float64                          // kPa/°C
}

// Reference is the evapotranspiration of short, well-watered grass: the measure all crops are taken by.
//
//	result  mm a day; below nothing, where dew falls, it is 0
//
// Source: FAO56 eq. 6
func (a Air) Reference() quantity.Millimetre { return a.reference((a.Low + a.High) / 2) }

// reference takes the day's mean temperature where it was measured.
func (a Air) reference(mean quantity.Celsius) quantity.Millimetre {
	slope := SaturationSlope(mean)
	deficit := max(0, MeanSaturation(a.Low, a.High)-a.Vapour)
	above := MillimetresPerMegajoule*slope*float64(a.Net-a.SoilHeat) + a.Psychro*900/(float64(mean)+273)*a.Wind*deficit
	return quantity.Millimetre(max(0, above/(slope+a.Psychro*(1+0.34*a.Wind))))
}

// sunlit is the part of Reference that the sun's own radiation drives; the rest comes of warm, dry and moving air.
//
//	result  mm a day
//
// Source: FAO56 eq. 6
func (a Air) sunlit() float64 {
	slope := SaturationSlope((a.Low + a.High) / 2)
	return MillimetresPerMegajoule * slope * float64(a.Sun) / (slope + a.Psychro*(1+0.34*a.Wind))
}

// Place is where the grass stands.
type Place struct {
	Latitude  float64 // degrees, north positive
	Elevation quantity.Metre
	// DewBelow is how far the dew point lies below the night's minimum where humidity is not measured: 0 in humid
	// country, 2 °C where it is arid. Source: FAO56 (chapter 3, and annex 6)
	DewBelow quantity.Celsius
}

// sky is what a place and a day of the year give.
type sky struct {
	ra, clear quantity.MegajoulePerSquareMetre
	daylight  quantity.Hour
}

func (p Place) sky(yearDay int) sky {
	ra := sun.Extraterrestrial(p.Latitude, yearDay)
	return sky{ra, sun.ClearSky(ra, p.Elevation), Daylight(p.Latitude, yearDay)}
}
