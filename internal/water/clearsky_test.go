package water

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
	"kailyard/internal/sun"
	"kailyard/internal/weather"
)

// weathered is an invented record whose days have a share of the clear sky's radiation, two in five of them clear.
func weathered(p Place, days int, factor float64) *weather.Record {
	r := &weather.Record{Station: weather.Station{Name: "invented"}}
	for i := range days {
		d := civil.Of(2021, 1, 1).Add(i)
		share := []float64{1, 0.35, 0.7, 0.98, 0.5}[i%5]
		clear := float64(sun.ClearSky(sun.Extraterrestrial(p.Latitude, d.YearDay()), p.Elevation))
		r.Days = append(r.Days, weather.Day{Date: d, Min: 8, Max: 20, HasTemp: true, HasRain: true, HasRadiation: true, Radiation: quantity.MegajoulePerSquareMetre(factor * share * clear)})
		r.Lines = append(r.Lines, i+2)
	}
	return r
}

// TestRadiationDoubt: an honest record, and one above it by less than the tolerance, is not doubted; one in another unit
// and single slips are told with how many, the first, its line, the limit and the remedy.
//
// The limit is checked against FAO Irrigation and Drainage Paper 56, example 8: on 3 September at 20° south 32.2 MJ/m² come
// above the air, so that by its equation 37 at sea level 0.75 · 32.2 = 24.15 are the clear sky's, and 27.1 with a tenth and 0.5.
func TestRadiationDoubt(t *testing.T) {
	rio := Place{Latitude: -20}
	for _, factor := range []float64{1, 1.08} {
		if n, doubted := RadiationDoubt(rio, weathered(rio, 365, factor)); doubted {
			t.Errorf("%g times an honest record: %+v", factor, n)
		}
	}
	r := weathered(rio, 365, 1)
	at := int(civil.Of(2021, 9, 3) - r.Days[0].Date)
	r.Days[at].Radiation = 45
	n, doubted := RadiationDoubt(rio, r)
	if !doubted || n.Kind != weather.AboveClearSky || n.From != civil.Of(2021, 9, 3) || n.To != n.From {
		t.Fatalf("a day of 45 MJ: %+v", n)
	}
	for _, want := range []string{"on 1 of 365 days", "first on 2021-09-03 (line 247): 45.0 MJ/m²", "20.0° south", "no more than 24.1 comes", "27.1 with the tolerance", "mistyped"} {
		if !strings.Contains(n.Says, want) {
			t.Errorf("a day of 45 MJ: %q lacks %q", n.Says, want)
		}
	}
	if clear := float64(newSkies(rio).at(civil.Of(2021, 9, 3).YearDay()).clear); math.Abs(clear-24.15) > 0.05 {
		t.Errorf("the clear sky's is %.3f, by the printed 32.2 it is 24.15", clear)
	}
	for _, factor := range []float64{1.6, 2} {
		n, doubted := RadiationDoubt(rio, weathered(rio, 365, factor))
		if !doubted || n.Kind != weather.WrongUnit || !strings.Contains(n.Says, "first on 2021-01-01 (line 2)") || !strings.Contains(n.Says, "radiation_j_cm2") || !strings.Contains(n.Says, "check the latitude (20.0° south)") {
			t.Errorf("%g times: %+v", factor, n)
		}
	}
	// kWh/m² under the name of MJ/m² stays far below the clear sky.
	n, doubted = RadiationDoubt(rio, weathered(rio, 365, 1/3.6))
	if !doubted || n.Kind != weather.WrongUnit || !strings.Contains(n.Says, "begins at 28 %") || !strings.Contains(n.Says, "radiation_kwh_m2") {
		t.Errorf("kWh: %+v", n)
	}
}

// The edges: no radiation at all, the polar night, and a record without lines.
func TestRadiationDoubtEdges(t *testing.T) {
	pole := Place{Latitude: 70}
	r := weathered(pole, 365, 1)
	if n, doubted := RadiationDoubt(pole, r); doubted {
		t.Errorf("an honest year far north: %+v", n)
	}
	r.Lines = nil
	r.Days[3].Radiation = 6
	if n, doubted := RadiationDoubt(pole, r); !doubted || !strings.Contains(n.Says, "first on 2021-01-04: 6.0 MJ/m²") {
		t.Errorf("sun in the polar night: %+v", n)
	}
	for i := range r.Days {
		r.Days[i].HasRadiation = false
	}
	if _, doubted := RadiationDoubt(pole, r); doubted {
		t.Error("a record without radiation is doubted")
	}
	if _, doubted := RadiationDoubt(pole, &weather.Record{}); doubted {
		t.Error("a record without days is doubted")
	}
}
