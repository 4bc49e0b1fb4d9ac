package weather

import (
	"math"
	"strings"
	"testing"

	"kailyard/internal/civil"
)

// sound holds whatever was read to the promises of Record: one day for every date in order, no value
// outside its bounds, no NaN; and lays it over a season, which must not panic either.
func sound(t *testing.T, text string) {
	t.Helper()
	r, err := Read("fuzz", strings.NewReader(text))
	if err != nil {
		if strings.Contains(err.Error(), "\n") {
			t.Fatalf("the error is more than one line: %q", err)
		}
		return
	}
	for i, d := range r.Days {
		bad := d.HasTemp && (!(d.Min <= d.Max) || d.Min < lowestCelsius || d.Max > highestCelsius) || d.HasRain && !(d.Rain >= 0 && d.Rain <= highestRainMM)
		if bad || d.Date != r.Days[0].Date.Add(i) || math.IsNaN(float64(d.Radiation)) {
			t.Fatalf("day %d is %+v", i, d)
		}
	}
	for _, latitude := range []float64{50, -50} {
		season := civil.SeasonOf(2028, latitude)
		years, _, err := r.Scenarios(season, 10, 200, 5)
		if err == nil {
			f := FrostOf(season, 10, years, 0)
			f.LaterThan(10)
			f.EarlierThan(90)
		}
	}
	r.Normals()
}

func FuzzReadDLY(f *testing.F) {
	f.Add(lineDLY("USC00011084", 1926, 1, "TMAX", "  100  6", "  -33 I6") + lineDLY("USC00011084", 1926, 1, "TMIN", "  100  6", "  -33 I6"))
	f.Add(lineDLY("USC00011084", 2024, 2, "PRCP", "    0T 6")[:100])
	f.Fuzz(func(t *testing.T, text string) { sound(t, "USC00011084"+strings.TrimPrefix(text, "USC00011084")) })
}

func FuzzReadNCEI(f *testing.F) {
	f.Add("X,2001-01-05,0.3,6.1,2.8,\",,Z\"\nX,2001-01-06,0.0,12.2,4.4,\",S,Z\"\n")
	f.Add("X,2001-01-05,3,61,28,\nX,2001-01-06,0,122,-99,\n")
	f.Add("X,2001-01-05,0.01,43,37,\nY,2001-13-06\n")
	f.Fuzz(func(t *testing.T, text string) { sound(t, "STATION,DATE,PRCP,TMAX,TMIN,TMAX_ATTRIBUTES\n"+text) })
}

func FuzzReadPowerCSV(f *testing.F) {
	f.Add("Location: latitude 10 longitude 20\nmissing: -99\nT2M_MIN x (K)\n-END HEADER-\nYEAR,DOY,T2M_MIN,T2M_MAX\n2001,1,273,280\n")
	f.Add("-END HEADER-\nYEAR,MO,DY,T2M_MIN,T2M_MAX,PRECTOTCORR,ALLSKY_SFC_SW_DWN\n2001,2,29,1,2,3,4\n")
	f.Fuzz(func(t *testing.T, text string) { sound(t, "-BEGIN HEADER-\n"+text) })
}

func FuzzReadJSON(f *testing.F) {
	f.Add(`"properties":{"parameter":{"T2M_MIN":{"20170101":18.5},"T2M_MAX":{"20170101":33.5}}},"header":{"fill_value":-999},"parameters":{"T2M_MIN":{"units":"C"}}}`)
	f.Add(`"daily_units":{"temperature_2m_min":"°F"},"daily":{"time":["1991-01-01"],"temperature_2m_min":[1],"temperature_2m_max":[null]}}`)
	f.Add(`"error":true,"reason":"no"}`)
	f.Add(`"geometry":{"coordinates":[1]},"features":[{}]}`)
	f.Fuzz(func(t *testing.T, text string) { sound(t, "{"+text) })
}

func FuzzReadOpenMeteoCSV(f *testing.F) {
	f.Add("1,2,3,0\n\ntime,temperature_2m_min (°C),temperature_2m_max (°F)\n1991-01-01,1,50\n")
	f.Fuzz(func(t *testing.T, text string) { sound(t, "latitude,longitude,elevation,utc_offset_seconds\n"+text) })
}

func FuzzReadPlain(f *testing.F) {
	f.Add("date,tmin_c,tmax_c,rain_mm\n2027-01-01,-5,5,25.4\n2027-01-02,9,5,-1\n2026-01-02,9,5,T\n")
	f.Add("# latitude: 12\n# origin: generated\nyear;doy;tmin_f;tmax_f;rain_in;radiation_kwh_m2\n2027;366;1,5;2;3;4\n")
	f.Add("date\ttmin_c\ttmax_c\n1700-01-01\t1\t2\n2300-12-31\t1\t2\n")
	f.Fuzz(sound)
}
