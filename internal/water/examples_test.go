package water

import (
	"math"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
)

// printed is a figure as FAO Irrigation and Drainage Paper 56 (Allen et al., 1998) prints it, with half a unit of its
// last digit, or more where the paper goes on from rounded figures (said beside).
type printed struct {
	what              string
	got, want, within float64
}

func compare(t *testing.T, rows []printed) {
	t.Helper()
	for _, p := range rows {
		if !(math.Abs(p.got-p.want) <= p.within) {
			t.Errorf("%s is %.4f, printed %g ± %g", p.what, p.got, p.want, p.within)
		}
	}
}

// TestVapour: examples 2–6, and tables 2.2, 2.3, 2.4 of annex 2.
func TestVapour(t *testing.T) {
	compare(t, []printed{
		{"example 2, pressure at 1800 m", Pressure(1800), 81.8, 0.05},
		{"example 2, psychrometric constant", Psychrometric(Pressure(1800)), 0.054, 0.0005},
		{"example 3, e0(24.5)", SaturationVapourPressure(24.5), 3.075, 0.0005},
		{"example 3, e0(15)", SaturationVapourPressure(15), 1.705, 0.0005},
		{"example 3, mean", MeanSaturation(15, 24.5), 2.39, 0.005},
		{"example 4, pressure at 1200 m", Pressure(1200), 87.9, 0.05},
		{"example 4, e0(19.5)", SaturationVapourPressure(19.5), 2.267, 0.0005},
		{"example 4, vapour", vapourFromPsychrometer(25.6, 19.5, Pressure(1200), 0.000662), 1.91, 0.005},
		{"example 5, both humidities", VapourFromHumidity(18, 25, 82, 54), 1.70, 0.005},
		{"example 5, mean humidity", VapourFromMeanHumidity(18, 25, 68), 1.78, 0.005},
		{"example 6, deficit", MeanSaturation(18, 25) - VapourFromHumidity(18, 25, 82, 54), 0.91, 0.005},
		{"equation 18 beside equation 17", VapourFromMaxHumidity(18, 82), 2.064 * 0.82, 0.001},
	})
	for celsius, want := range map[quantity.Celsius][2]float64{
		1: {0.657, 0.047}, 5: {0.872, 0.061}, 10: {1.228, 0.082}, 15: {1.705, 0.110}, 20: {2.338, 0.145},
		25: {3.168, 0.189}, 30: {4.243, 0.243}, 35: {5.623, 0.311}, 40: {7.376, 0.393}, 45: {9.582, 0.493},
	} {
		compare(t, []printed{
			{"table 2.3", SaturationVapourPressure(celsius), want[0], 0.00051},
			{"table 2.4", SaturationSlope(celsius), want[1], 0.00051},
		})
	}
	for metres, want := range map[quantity.Metre]float64{800: 0.061, 1000: 0.060, 1900: 0.054, 2000: 0.053, 2900: 0.047, 3000: 0.047, 3900: 0.042, 4000: 0.041} {
		compare(t, []printed{{"table 2.2", Psychrometric(Pressure(metres)), want, 0.00051}})
	}
}

// TestRadiation: examples 8–16, and table 2.8. The paper goes on from rounded figures in 10, 12 and 16.
func TestRadiation(t *testing.T) {
	ra := func(latitude float64, day int) float64 { return float64(sun.Extraterrestrial(latitude, day)) }
	rio := sun.Extraterrestrial(-22.9, 135)
	solar := SolarFromSunshine(rio, 220.0/31, Daylight(-22.9, 135))
	net := NetShortwave(solar)
	lost := NetLongwave(19.1, 25.1, 2.1, solar, sun.ClearSky(rio, 0))
	lyon := SolarFromRange(14.8, 26.6, sun.Extraterrestrial(45.72, 196))
	bangkok := sun.Extraterrestrial(13.7333, 105)
	warm := sun.FromRange(25.6, 34.8, bangkok, 0, sun.Coastal)
	coast := NetLongwave(25.6, 34.8, 2.85, warm, sun.ClearSky(bangkok, 2))
	compare(t, []printed{
		{"box 8, mm to a MJ", MillimetresPerMegajoule, 0.408, 0.0005},
		{"example 8, above the air", ra(-20, 246), 32.2, 0.05},
		{"example 8, as water", MillimetresPerMegajoule * ra(-20, 246), 13.1, 0.05},
		{"example 9, daylight", float64(Daylight(-20, 246)), 11.7, 0.05},
		{"example 10, above the air", float64(rio), 25.1, 0.06},
		{"example 10, daylight", float64(Daylight(-22.9, 135)), 10.9, 0.05},
		{"example 10, solar", float64(solar), 14.5, 0.06},
		{"example 11, clear sky", float64(sun.ClearSky(rio, 0)), 18.8, 0.05},
		{"example 11, black body at 25.1", fourth(25.1), 38.8, 0.05},
		{"example 11, black body at 19.1", fourth(19.1), 35.8, 0.05},
		{"example 11, lost", float64(lost), 3.5, 0.05},
		{"example 12, kept of the sun", float64(net), 11.1, 0.06},
		{"example 12, kept in all", float64(net - lost), 7.6, 0.1},
		{"example 13, into the ground", float64(soilHeatOfMonth(14.1, 18.8)), 0.33, 0.005},
		{"example 15, solar", float64(lyon), 22.3, 0.05},
		{"example 16, above the air", float64(bangkok), 38.1, 0.1},
		{"example 16, solar", float64(warm), 21.9, 0.1},
		{"example 16, clear sky", float64(sun.ClearSky(bangkok, 2)), 28.5, 0.1},
		{"example 16, lost", float64(coast), 3.0, 0.1},
		{"example 16, kept in all", float64(NetShortwave(warm) - coast), 13.9, 0.1},
	})
	for celsius, want := range map[quantity.Celsius]float64{1: 27.70, 10: 31.52, 15: 33.81, 20: 36.21, 25: 38.75, 30: 41.41, 35: 44.21, 40: 47.15, 45: 50.24} {
		compare(t, []printed{{"table 2.8", fourth(celsius), want, 0.0051}})
	}
}

// TestMonthOfBangkok: example 17, April, with the month's mean temperature of 30.2 °C; from rounded figures, 0.03 mm.
func TestMonthOfBangkok(t *testing.T) {
	p := Place{Latitude: 13 + 44.0/60, Elevation: 2}
	s := p.sky(105)
	solar := SolarFromSunshine(s.ra, 8.5, s.daylight)
	lost := NetLongwave(25.6, 34.8, 2.85, solar, s.clear)
	a := Air{Low: 25.6, High: 34.8, Vapour: 2.85, Wind: 2, Net: NetShortwave(solar) - lost, SoilHeat: soilHeatSoFar(29.2, 30.2), Psychro: Psychrometric(Pressure(2))}
	compare(t, []printed{
		{"slope", SaturationSlope(30.2), 0.246, 0.0006},
		{"psychrometric constant", a.Psychro, 0.0674, 0.0002},
		{"mean saturation", MeanSaturation(25.6, 34.8), 4.42, 0.005},
		{"above the air", float64(s.ra), 38.06, 0.02},
		{"daylight", float64(s.daylight), 12.31, 0.01},
		{"solar", float64(solar), 22.65, 0.02},
		{"clear sky", float64(s.clear), 28.54, 0.02},
		{"kept of the sun", float64(NetShortwave(solar)), 17.44, 0.02},
		{"lost", float64(lost), 3.11, 0.06},
		{"kept in all", float64(a.Net), 14.33, 0.07},
		{"into the ground", float64(a.SoilHeat), 0.14, 0.005},
		{"reference", float64(a.reference(30.2)), 5.72, 0.03},
	})
}

// TestHourInNDiaye: example 19, 1 October from 14 to 15 h; within 0.005.
func TestHourInNDiaye(t *testing.T) {
	ra := hourOfSun(16.2167, 16.25, 15, 274, 14.5)
	vapour := SaturationVapourPressure(38) * 0.52
	et, net := referenceOfHour(38, vapour, 3.3, 2.45, ra, 8)
	compare(t, []printed{
		{"above the air", float64(ra), 3.543, 0.005},
		{"vapour", vapour, 3.445, 0.005},
		{"clear sky", float64(sun.ClearSky(ra, 8)), 2.658, 0.005},
		{"kept", float64(net), 1.749, 0.005},
		{"reference", float64(et), 0.63, 0.005},
	})
	if hourOfSun(16.2, 16.25, 15, 274, 2.5) != 0 {
		t.Error("the sun shines at night")
	}
}

// TestCheckbook: the worked sheet of a field of corn in an extension bulletin (Scherer, T.F. and D.D. Steele: Irrigation Scheduling by the
// Checkbook Method, AE792, North Dakota State University Extension, revised 2019; NDSU-AE792): what is missing from full in the evening, in
// inches, from the day's crop use, rain and watering, for 17 July to 2 August. Soil of 4.1 in of available water in 3 ft. Half a unit of the
// printed digit a day; our crop draws what the sheet's draws, for its thirst and the soil's surface are not in it. The sheet waters before
// half of the water is gone, 2.05 in; a crop that may take half, on our ShareAt, draws 0.96 of its full thirst or more on each of the sheet's
// mornings.
func TestCheckbook(t *testing.T) {
	const in = 25.4
	c := Column{Ground: Ground{Capacity: 0.136 + 4.1/36, Wilting: 0.136, Ready: 9, Curve: 60}, Deep: 36 * in / 1000}
	st := State{Root: c.Deep, Missing: 0.94 * in}
	day := civil.Of(2019, 7, 17)
	for _, row := range []struct{ use, rain, given, missing float64 }{
		{.24, 0, 0, 1.18}, {.24, 0, 0, 1.42}, {.24, .52, 0, 1.14}, {.19, 0, 0, 1.33}, {.19, 0, 0, 1.52}, {.23, 0, 0, 1.75}, {.18, 0, 0, 1.93},
		{.23, 0, 1, 1.16}, {.18, 0, 0, 1.34}, {.18, 0, 0, 1.52}, {.18, 0, 0, 1.70}, {.18, 0, 0, 1.88}, {.17, 0, 1, 1.05}, {.22, 0, 0, 1.27},
		{.22, 0, 0, 1.49}, {.13, 0, 0, 1.62}, {.22, 0, 0, 1.84},
	} {
		if morning := Stress(st.Missing, 4.1*in, ShareAt(0.5, row.use*in)); morning < 0.96 {
			t.Errorf("%s: it suffers (%.2f), the sheet says not", day, morning)
		}
		f, err := c.Day(&st, day, Asks{Reference: row.use * in, Basal: 1, Most: 1, Cover: 0.99, Root: c.Deep, Share: 0.8, Rain: row.rain * in, Water: row.given * in})
		if err != nil || f.Drained > 1e-9 || math.Abs(st.Missing/in-row.missing) > 0.005 {
			t.Errorf("%s: %.3f in missing, printed %.2f (%v)", day, st.Missing/in, row.missing, err)
		}
		day++
	}
}
