package water

import (
	"math"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// maricopa is where the station of refET stands: Maricopa, Arizona, 361 m, wind measured at 3 m.
var maricopa = Place{Latitude: 33.069, Elevation: 361}

// refET are days of Maricopa with the reference evapotranspiration that the program Ref-ET 3.1.15 (R.G. Allen, University
// of Idaho) prints for FAO-56, in mm. US government work (USDA-ARS, test data of an open package).
var refET = []struct {
	day                         civil.Date
	low, high, solar, wind, dew float64 // °C, °C, MJ/m², m/s at 3 m, °C
	want                        float64
}{
	{civil.Of(2003, 1, 1), -0.5, 17.5, 12.48, 1.0, -0.1, 1.45},
	{civil.Of(2003, 1, 15), 2.4, 21.8, 12.49, 1.0, 5.1, 1.71},
	{civil.Of(2003, 2, 1), 4.2, 28.7, 15.02, 1.1, 2.9, 2.73},
	{civil.Of(2003, 2, 15), 9.9, 21.3, 15.23, 1.3, 11.9, 2.18},
	{civil.Of(2003, 3, 1), 3.4, 17.1, 14.14, 1.4, 5.4, 2.07},
	{civil.Of(2003, 3, 15), 8.4, 26.1, 12.89, 1.6, 5.0, 3.41},
	{civil.Of(2003, 4, 1), 10.3, 33.5, 25.18, 3.3, -2.8, 7.93},
	{civil.Of(2003, 4, 15), 10.0, 20.6, 27.96, 4.4, 5.1, 5.4},
	{civil.Of(2003, 5, 1), 8.5, 30.2, 27.32, 1.5, -3.8, 5.77},
	{civil.Of(2003, 5, 15), 14.6, 31.8, 29.9, 2.5, 0.3, 7.56},
	{civil.Of(2003, 6, 1), 20.8, 40.8, 29.65, 2.2, 4.2, 8.66},
	{civil.Of(2003, 6, 15), 18.1, 42.1, 31.1, 1.6, 1.8, 7.99},
	{civil.Of(2003, 7, 1), 24.3, 41.6, 29.05, 2.5, 10.8, 9.11},
	{civil.Of(2003, 7, 15), 26.4, 45.9, 25.28, 2.6, 13.6, 9.39},
	{civil.Of(2003, 8, 1), 23.8, 34.9, 22.67, 2.2, 20.4, 6.03},
	{civil.Of(2003, 8, 15), 22.2, 32.1, 22.98, 2.7, 20.0, 5.68},
	{civil.Of(2003, 9, 1), 26.9, 39.8, 17.97, 1.8, 19.5, 5.78},
	{civil.Of(2003, 9, 15), 16.6, 40.3, 23.07, 1.0, 9.4, 5.18},
	{civil.Of(2003, 10, 1), 20.8, 40.0, 20.24, 1.6, 13.9, 5.5},
	{civil.Of(2003, 10, 15), 14.7, 35.7, 18.3, 1.0, 9.9, 3.79},
	{civil.Of(2003, 11, 1), 11.9, 23.5, 6.43, 1.7, 9.7, 2.2},
	{civil.Of(2003, 11, 15), 7.1, 21.4, 13.12, 0.8, 9.9, 1.64},
	{civil.Of(2003, 12, 1), 0.2, 26.0, 12.75, 1.0, -2.0, 2.13},
	{civil.Of(2003, 12, 15), -0.3, 15.7, 12.26, 2.3, -3.0, 2.15},
	{civil.Of(2010, 1, 1), 0.1, 19.8, 12.77, 1.3, -8.4, 2.07},
	{civil.Of(2010, 1, 15), 3.6, 22.4, 14.22, 1.5, -0.8, 2.42},
	{civil.Of(2010, 2, 1), 3.6, 19.0, 12.53, 1.0, 6.7, 1.64},
	{civil.Of(2010, 2, 15), 4.5, 23.5, 18.22, 1.1, 1.7, 2.73},
	{civil.Of(2010, 3, 1), 4.4, 19.1, 18.07, 0.7, 8.1, 2.23},
	{civil.Of(2010, 3, 15), 1.7, 23.7, 23.16, 1.7, 0.0, 4.01},
	{civil.Of(2010, 4, 1), 10.6, 19.3, 24.1, 3.4, -5.7, 5.5},
	{civil.Of(2010, 4, 15), 7.7, 31.9, 27.23, 1.2, -1.5, 5.34},
	{civil.Of(2010, 5, 1), 8.2, 25.9, 28.9, 3.0, -6.2, 6.81},
	{civil.Of(2010, 5, 15), 16.1, 33.4, 29.98, 1.7, -2.7, 6.89},
	{civil.Of(2010, 6, 1), 17.0, 36.6, 30.12, 2.5, -4.4, 8.59},
	{civil.Of(2010, 6, 15), 19.1, 39.6, 30.94, 2.0, 0.9, 8.35},
	{civil.Of(2010, 7, 1), 26.9, 44.0, 26.33, 3.4, 10.7, 10.6},
	{civil.Of(2010, 7, 15), 31.2, 45.2, 26.05, 2.2, 13.3, 8.86},
	{civil.Of(2010, 8, 1), 23.0, 32.1, 15.07, 2.1, 19.4, 4.48},
	{civil.Of(2010, 8, 15), 26.3, 42.0, 24.8, 2.4, 15.1, 8.14},
	{civil.Of(2010, 9, 1), 21.7, 39.2, 25.38, 1.1, 13.4, 5.83},
	{civil.Of(2010, 9, 15), 21.4, 39.4, 22.71, 1.2, 9.9, 5.44},
	{civil.Of(2010, 10, 1), 23.1, 38.7, 17.49, 2.1, 12.1, 5.87},
	{civil.Of(2010, 10, 15), 16.6, 33.6, 18.28, 2.0, 10.6, 4.78},
	{civil.Of(2010, 11, 1), 8.0, 28.1, 16.42, 1.0, 1.6, 2.78},
	{civil.Of(2010, 11, 15), 4.5, 23.3, 14.55, 1.5, -2.0, 2.69},
	{civil.Of(2010, 12, 1), -2.4, 21.3, 13.35, 0.8, -9.6, 1.67},
	{civil.Of(2010, 12, 15), 1.8, 22.8, 9.91, 1.8, 2.1, 2.36},
	{civil.Of(2018, 1, 20), 7.1, 16.8, 6.01, 3.6, -0.8, 3.13},
	{civil.Of(2018, 2, 20), 3.2, 14.6, 18.97, 1.6, -8.5, 2.75},
	{civil.Of(2018, 3, 20), 2.5, 26.2, 23.76, 1.2, -7.5, 4.1},
	{civil.Of(2018, 4, 20), 11.2, 25.2, 26.51, 3.2, -1.1, 6.46},
	{civil.Of(2018, 5, 20), 17.9, 36.0, 29.35, 3.1, -2.3, 9.16},
	{civil.Of(2018, 6, 20), 20.9, 41.9, 31.25, 2.9, 3.0, 10.2},
	{civil.Of(2018, 7, 20), 30.8, 42.1, 24.09, 2.7, 16.5, 8.75},
	{civil.Of(2018, 8, 20), 28.1, 41.3, 24.6, 2.5, 16.4, 8.1},
	{civil.Of(2018, 9, 20), 20.0, 35.0, 22.17, 1.3, 20.0, 4.82},
	{civil.Of(2018, 10, 20), 16.0, 33.2, 17.87, 3.2, 12.7, 5.48},
	{civil.Of(2018, 11, 20), 4.2, 24.3, 11.92, 1.5, -0.3, 2.61},
	{civil.Of(2018, 12, 20), 0.7, 23.4, 12.84, 0.9, 1.6, 1.68},
}

// TestRefETDays: no day off by 0.1 mm, root mean square error at most 0.03.
func TestRefETDays(t *testing.T) {
	sum := 0.0
	for _, c := range refET {
		d := weather.Day{Date: c.day, Min: quantity.Celsius(c.low), Max: quantity.Celsius(c.high), HasTemp: true,
			Radiation: quantity.MegajoulePerSquareMetre(c.solar), HasRadiation: true,
			Air: weather.Air{DewPoint: quantity.Celsius(c.dew), Wind: weather.WindAtTwoMetres(c.wind, 3), Has: weather.HasDewPoint | weather.HasWind}}
		et, basis, ok := maricopa.OfDay(d)
		off := float64(et) - c.want
		sum += off * off
		if !ok || math.Abs(off) > 0.1 {
			t.Errorf("%s: %.3f mm, printed %g", c.day, float64(et), c.want)
		}
		if basis != (Basis{}) {
			t.Errorf("%s: not all was measured: %+v", c.day, basis)
		}
	}
	if rmse := math.Sqrt(sum / float64(len(refET))); rmse > 0.03 {
		t.Errorf("root mean square error %.4f mm", rmse)
	} else {
		t.Logf("%d days, root mean square error %.4f mm", len(refET), rmse)
	}
}

// TestUccle: FAO-56 example 18, 6 July at Brussels; humidity by both, sunshine, wind of 10 km/h at 10 m; within 0.01 mm.
// TestLyon: example 20, July, nothing but temperature; the paper's 4.56, and 4.2 and 4.8 for wind of 1 and 3 m/s.
func TestUccle(t *testing.T) {
	wind := weather.WindAtTwoMetres(10/3.6, 10)
	d := weather.Day{Date: civil.Of(2001, 7, 6), Min: 12.3, Max: 21.5, HasTemp: true,
		Air: weather.Air{HumidityMax: 84, HumidityMin: 63, Wind: wind, Sunshine: 9.25, Has: weather.HasHumidityMax | weather.HasHumidityMin | weather.HasWind | weather.HasSunshine}}
	et, basis, _ := Place{Latitude: 50.8, Elevation: 100}.OfDay(d)
	p := Place{Latitude: 50.8, Elevation: 100}
	s := p.sky(187)
	a, _ := p.of(d, s, Psychrometric(Pressure(100)))
	solar := SolarFromSunshine(s.ra, 9.25, s.daylight)
	compare(t, []printed{
		{"wind at 2 m", wind, 2.078, 0.001},
		{"pressure", Pressure(100), 100.1, 0.05},
		{"slope", SaturationSlope(16.9), 0.122, 0.0005},
		{"psychrometric constant", a.Psychro, 0.0666, 0.0001},
		{"mean saturation", MeanSaturation(12.3, 21.5), 1.997, 0.001},
		{"vapour", a.Vapour, 1.409, 0.0005},
		{"above the air", float64(s.ra), 41.09, 0.005},
		{"daylight", float64(s.daylight), 16.1, 0.05},
		{"solar", float64(solar), 22.07, 0.005},
		{"clear sky", float64(s.clear), 30.90, 0.005},
		{"kept of the sun", float64(NetShortwave(solar)), 17.00, 0.005},
		{"lost", float64(NetLongwave(12.3, 21.5, a.Vapour, solar, s.clear)), 3.71, 0.005},
		{"kept in all", float64(a.Net), 13.28, 0.005},
		{"reference", float64(et), 3.88, 0.005},
	})
	if (basis != Basis{Radiation: SolarSunshine, Humidity: VapourRange}) {
		t.Errorf("%+v", basis)
	}
}

func TestLyon(t *testing.T) {
	p := Place{Latitude: 45.72, Elevation: 200}
	a, basis := p.of(weather.Day{Min: 14.8, Max: 26.6}, p.sky(196), Psychrometric(Pressure(200)))
	if !basis.Temperature() {
		t.Errorf("%+v", basis)
	}
	rows := []printed{
		{"vapour", a.Vapour, 1.68, 0.005},
		{"kept in all", float64(a.Net), 13.48, 0.005},
		{"temperature alone", float64(p.OfTemperature(14.8, 26.6, 196)), 4.56, 0.005},
		{"Hargreaves", float64(weather.Hargreaves(14.8, 26.6, p.sky(196).ra)), 5.0, 0.05},
	}
	for wind, want := range map[float64]float64{1: 4.2, 3: 4.8} {
		a.Wind = wind
		rows = append(rows, printed{"another wind", float64(a.Reference()), want, 0.05})
	}
	compare(t, rows)
}
