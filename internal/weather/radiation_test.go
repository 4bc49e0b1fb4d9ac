package weather

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
)

// TestRadiationUnits: FAO Irrigation and Drainage Paper 56, table 3: to MJ/m² and day from J/cm² 0.01, from cal/cm² 4.1868·10⁻²,
// from W/m² 0.0864; by definition 3.6 from kWh/m².
func TestRadiationUnits(t *testing.T) {
	for column, want := range map[string]float64{
		"radiation_mj_m2": 1, "radiation (MJ/m²)": 1, "radiation_j_cm2": 0.01, "radiation (J/cm²)": 0.01, "radiation_cal_cm2": 0.041868, "solar (langley)": 0.041868, "radiation_ly": 0.041868,
		"radiation_w_m2": 0.0864, "radiation_kwh_m2": 3.6, "radiation_wh_m2": 0.0036, "radiation_kj_m2": 0.001, "radiation_j_m2": 1e-6, "radiation_mj_m2_day": 1,
	} {
		r := read(t, invented(column, 5, func(int) string { return fmt.Sprint(12 / want) }))
		if got := float64(r.Days[2].Radiation); math.Abs(got-12) > 1e-9 {
			t.Errorf("%s: 12 MJ/m² came as %g", column, got)
		}
	}
	if _, err := Read("x.csv", strings.NewReader(invented("radiation_furlongs", 5, func(int) string { return "12" }))); err == nil || !strings.Contains(err.Error(), "radiation_cal_cm2") {
		t.Errorf("an unknown unit: %v", err)
	}
}

// A whole column in another unit than its name says is left out, with the unit it seems to be in.
func TestRadiationInAnotherUnit(t *testing.T) {
	for _, c := range []struct {
		factor float64 // of 10 to 28 MJ/m²
		says   string
	}{
		{100, "seems to be in J/cm²"}, {1 / 0.041868, "langleys (cal/cm²) (then call the column radiation_cal_cm2)"}, {1 / 0.0864, "W/m² (the mean over 24 hours)"},
		{1 / 0.0036, "seems to be in Wh/m²"}, {1000, "seems to be in kJ/m²"}, {1e6, "seems to be in J/m²"},
	} {
		r := read(t, invented("radiation_mj_m2", 40, func(i int) string { return fmt.Sprintf("%.4f", c.factor*float64(10+i%19)) }))
		if r.Days[9].HasRadiation || len(r.Notes) != 1 || r.Notes[0].Kind != WrongUnit || !strings.Contains(r.Notes[0].Says, c.says) || !strings.Contains(r.Notes[0].Says, "on 40 of 40 days, first 2027-05-01 (line 3)") {
			t.Errorf("factor %g: %+v", c.factor, r.Notes)
		}
	}
	r := read(t, invented("radiation_mj_m2", 40, func(i int) string {
		if i == 7 {
			return "145"
		}
		return "20"
	}))
	if r.Days[7].HasRadiation || !r.Days[8].HasRadiation || len(r.Notes) != 1 || !strings.Contains(r.Notes[0].Says, "2027-05-08 (line 10)") {
		t.Errorf("one slip: %+v", r.Notes)
	}
	if r.Line(7) != " (line 10)" || r.Line(-1) != "" || r.Line(400) != "" {
		t.Errorf("lines: %q", r.Line(7))
	}
}

// Readings of the air in another unit or past what can be are told with the first day and its line.
func TestAirIsToldWithItsLine(t *testing.T) {
	r := read(t, invented("humidity_mean_percent,wind_2m_m_s", 40, func(i int) string {
		if i == 12 {
			return "140,55"
		}
		return "70,3"
	}))
	if d := r.Days[12]; d.Date != civil.Of(2027, 5, 13) || d.Air.Has != 0 {
		t.Errorf("%+v", d)
	}
	if said := notesOf(r); !strings.Contains(said, "2027-05-13 (line 15) had a humidity outside 0–100 %") || !strings.Contains(said, "2027-05-13 (line 15) had a mean wind below 0 or above 40 m/s") {
		t.Error(said)
	}
}
