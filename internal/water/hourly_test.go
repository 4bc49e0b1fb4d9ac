package water

import (
	"math"

	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// What FAO-56 has beside the day's equations, for its examples of hours, months and instruments: they put the parts that the day's share to
// the test where no day does.

// hourOfSun is the sunshine above the air in an hour.
//
//	latitude           degrees, north positive
//	longitude, centre  degrees west of Greenwich, of the place and of its clock's meridian
//	yearDay            1–366
//	clock              the middle of the hour, h after midnight, without summer time
//	result             MJ/m² and hour; 0 while the sun is down
//
// Source: FAO56 eq. 28, 29, 30, 31, 32 and 33
func hourOfSun(latitude, longitude, centre float64, yearDay int, clock float64) quantity.MegajoulePerSquareMetre {
	year := 2 * math.Pi * float64(yearDay)
	b := 2 * math.Pi * float64(yearDay-81) / 364                                // eq. 33
	correction := 0.1645*math.Sin(2*b) - 0.1255*math.Cos(b) - 0.025*math.Sin(b) // eq. 32
	middle := math.Pi / 12 * (clock + 0.06667*(centre-longitude) + correction - 12)
	phi, delta := latitude*math.Pi/180, 0.409*math.Sin(year/365-1.39)
	sunset := math.Acos(max(-1, min(1, -math.Tan(phi)*math.Tan(delta))))
	from := max(-sunset, min(sunset, middle-math.Pi/24)) // eq. 29
	to := max(-sunset, min(sunset, middle+math.Pi/24))   // eq. 30
	distance := 1 + 0.033*math.Cos(year/365)
	return quantity.MegajoulePerSquareMetre(max(0, 12*60/math.Pi*0.0820*distance*
		((to-from)*math.Sin(phi)*math.Sin(delta)+math.Cos(phi)*math.Cos(delta)*(math.Sin(to)-math.Sin(from)))))
}

// referenceOfHour is the evapotranspiration of short, well-watered grass in an hour of the day.
//
//	t       °C, the hour's mean
//	vapour  kPa
//	wind    m/s at 2 m
//	solar   MJ/m² and hour on the ground; above is ra, that without air
//	result  mm, and the radiation kept, MJ/m² and hour
//
// Source: FAO56 eq. 53, 45 (soil heat by day)
func referenceOfHour(t quantity.Celsius, vapour, wind float64, solar, ra quantity.MegajoulePerSquareMetre, elevation quantity.Metre) (et quantity.Millimetre, net quantity.MegajoulePerSquareMetre) {
	net = NetShortwave(solar) - NetLongwave(t, t, vapour, solar, sun.ClearSky(ra, elevation))/24
	psychro, slope := Psychrometric(Pressure(elevation)), SaturationSlope(t)
	ground := 0.1 * float64(net) // eq. 45
	above := MillimetresPerMegajoule*slope*(float64(net)-ground) + psychro*37/(float64(t)+273)*wind*(SaturationVapourPressure(t)-vapour)
	return quantity.Millimetre(above / (slope + psychro*(1+0.34*wind))), net
}

// vapourFromPsychrometer is what the air holds, from a dry and a wet thermometer.
//
//	dry, wet     °C
//	pressure     kPa
//	coefficient  1/°C: 0.000662 for a ventilated instrument at 5 m/s, 0.0008 in a screen, 0.0012 indoors
//
// Source: FAO56 eq. 15 and 16
func vapourFromPsychrometer(dry, wet quantity.Celsius, pressure, coefficient float64) float64 {
	return SaturationVapourPressure(wet) - coefficient*pressure*float64(dry-wet)
}

// soilHeatOfMonth is the heat that goes into the ground in a month, MJ/m² and day: of a day or ten it is nothing.
//
//	before, after  °C, mean of the month before and of the month after
//
// Source: FAO56 eq. 43
func soilHeatOfMonth(before, after quantity.Celsius) quantity.MegajoulePerSquareMetre {
	return quantity.MegajoulePerSquareMetre(0.07 * float64(after-before))
}

// soilHeatSoFar is soilHeatOfMonth where the month after is not known.
//
// Source: FAO56 eq. 44
func soilHeatSoFar(before, month quantity.Celsius) quantity.MegajoulePerSquareMetre {
	return quantity.MegajoulePerSquareMetre(0.14 * float64(month-before))
}
