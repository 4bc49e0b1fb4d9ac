package weather

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/quantity"
)

// TestWindAtTwoMetres: FAO Irrigation and Drainage Paper 56, example 14 and table 2.9, to the printed digits.
func TestWindAtTwoMetres(t *testing.T) {
	if got := WindAtTwoMetres(3.2, 10); math.Abs(got-2.4) > 0.05 {
		t.Errorf("3.2 m/s at 10 m is %.3f at 2 m, printed 2.4", got)
	}
	for height, want := range map[float64]float64{1: 1.178, 2: 1, 3: 0.921, 4: 0.872, 5: 0.838, 6: 0.812, 7: 0.792, 8: 0.775, 9: 0.760, 10: 0.748} {
		if got := WindAtTwoMetres(1, quantity.Metre(height)); math.Abs(got-want) > 0.0011 {
			t.Errorf("the factor for %g m is %.4f, printed %g", height, got, want)
		}
	}
}

// TestDewPoint: the same paper's table 2.3 read backwards.
func TestDewPoint(t *testing.T) {
	for vapour, want := range map[float64]float64{0.872: 5, 1.705: 15, 2.338: 20, 3.168: 25, 4.243: 30} {
		if got := DewPointOf(vapour); math.Abs(got-want) > 0.01 {
			t.Errorf("%g kPa: dew point %.3f, want %g", vapour, got, want)
		}
	}
}

// invented is a plain table of days, invented, with columns of the air.
func invented(columns string, days int, values func(day int) string) string {
	var b strings.Builder
	b.WriteString("# station: invented\ndate,tmin_c,tmax_c,rain_mm," + columns + "\n")
	for i := range days {
		fmt.Fprintf(&b, "%s,%d,%d,0,%s\n", civil.Of(2027, 5, 1).Add(i), 8+i%3, 19+i%5, values(i))
	}
	return b.String()
}

func TestAirOfAPlainTable(t *testing.T) {
	text := invented("rhmin_percent,rhmax (%),wind_10m_km_h,sunshine_min,vp_hpa", 40, func(int) string { return "45,92,9,300,10" })
	r := read(t, text)
	a := r.Days[3].Air
	if a.HumidityMin != 45 || a.HumidityMax != 92 || math.Abs(a.Wind-2.5*0.748) > 0.002 || a.Sunshine != 5 || math.Abs(float64(a.DewPoint)-7.0) > 0.1 {
		t.Errorf("read %+v", a)
	}
	if a.Has&HasHumidityMean != 0 || a.HumidityMean != 0 {
		t.Error("a mean humidity nobody measured")
	}
	var written bytes.Buffer
	if err := r.WriteCSV(&written); err != nil {
		t.Fatal(err)
	}
	again := read(t, written.String())
	for i := range r.Days {
		if r.Days[i] != again.Days[i] {
			t.Fatalf("%s comes back as %+v, was %+v", r.Days[i].Date, again.Days[i], r.Days[i])
		}
	}
}

// A record without such columns is as it was, and columns of an unknown unit are told and passed over.
func TestAirUnitsUnknown(t *testing.T) {
	r := read(t, invented("wind,humidity_max,wind_speed_10m_max (km/h)", 5, func(int) string { return "9,80,30" }))
	if r.Days[0].Air != (Air{}) {
		t.Errorf("%+v", r.Days[0].Air)
	}
	if len(r.Notes) != 3 || !strings.Contains(r.Notes[0].Says, "wind_10m_km_h") {
		t.Errorf("%+v", r.Notes)
	}
}

func TestAirThatCannotBe(t *testing.T) {
	for name, c := range map[string]struct {
		columns, value, says string
		left                 AirParts
	}{
		"humidity of 140 per cent": {"humidity_max_percent", "140", "above 105 on 40 of 40 days, first on line 3. Air holds no more than 100 %", 0},
		"humidity as a share":      {"humidity_mean_percent", "0.8", "shares, not per cent", 0},
		"wind in km/h":             {"wind_2m_m_s", "14", "km/h", 0},
		"sunshine in minutes":      {"sunshine_h", "310", "sunshine_min", 0},
	} {
		r := read(t, invented(c.columns, 40, func(int) string { return c.value }))
		if r.Days[5].Air.Has != c.left || len(r.Notes) != 1 || !strings.Contains(r.Notes[0].Says, c.says) {
			t.Errorf("%s: has %v, %+v", name, r.Days[5].Air.Has, r.Notes)
		}
	}
	r := read(t, invented("humidity_max_percent,wind_2m_m_s,dew_point_c", 40, func(i int) string {
		if i == 7 {
			return "140,90,35"
		}
		return "102,2,5"
	}))
	if a := r.Days[6].Air; a.HumidityMax != 100 || a.Wind != 2 {
		t.Errorf("a sensor that drifts to 102 %%: %+v", a)
	}
	if r.Days[7].Air.Has != 0 || len(r.Notes) != 3 || !strings.Contains(r.Notes[1].Says, "line 10") {
		t.Errorf("one bad day: %+v, %+v", r.Days[7].Air, r.Notes)
	}
}

// NASA POWER's dew point, mean humidity and wind at 2 m; −999 is missing.
func TestAirOfPower(t *testing.T) {
	r := read(t, "-BEGIN HEADER-\nParameter(s):\nT2M_MAX MERRA-2 Temperature at 2 Meters Maximum (C)\nT2M_MIN MERRA-2 Temperature at 2 Meters Minimum (C)\n-END HEADER-\n"+
		"YEAR,DOY,T2M_MAX,T2M_MIN,PRECTOTCORR,T2MDEW,RH2M,WS2M\n2026,1,4.1,-3.2,0.5,-2.1,81.3,2.4\n2026,2,5.1,-1.2,0.5,-999,80,-999\n2026,3,5.3,-1.0,0,-2,79,1\n")
	if a := r.Days[0].Air; a.DewPoint != -2.1 || a.HumidityMean != 81.3 || a.Wind != 2.4 || a.Has != HasDewPoint|HasHumidityMean|HasWind {
		t.Errorf("%+v", a)
	}
	if a := r.Days[1].Air; a.Has != HasHumidityMean {
		t.Errorf("%+v", a)
	}
	r = read(t, `{"properties":{"parameter":{"T2M_MIN":{"20260101":-3},"T2M_MAX":{"20260101":4},"WS2M":{"20260101":3.5}}},"header":{"fill_value":-999},"parameters":{"T2M_MIN":{"units":"C"},"T2M_MAX":{"units":"C"}}}`)
	if a := r.Days[0].Air; a.Wind != 3.5 || a.Has != HasWind {
		t.Errorf("%+v", a)
	}
}
