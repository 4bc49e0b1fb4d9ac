package weather

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"kailyard/internal/civil"
)

func read(t testing.TB, text string) *Record {
	t.Helper()
	r, err := Read("test", strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// lineDLY writes a .dly line; blank is used for days beyond those given.
func lineDLY(station string, year, month int, element string, values ...string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s%04d%02d%s", station, year, month, element)
	for d := range 31 {
		v := "-9999   "
		if d < len(values) {
			v = values[d]
		}
		b.WriteString(v)
	}
	return b.String() + "\n"
}

// The columns of the format: station 1–11, year 12–15, month 16–17, element 18–21, then value(5),
// measurement, quality and source flag (GHCN-Daily readme, section III). The line of Brewton, Alabama,
// January 1926 is one of the station's own, its trailing blanks trimmed.
func TestReadDLY(t *testing.T) {
	brewton := "USC00011084192601TMAX" + strings.Repeat("-9999   ", 20) +
		"  239  6  222  6   50  6   50  6  144  6  144  6  161  6  144  6  150  6  128  6  200  6"
	low := lineDLY("USC00011084", 1926, 1, "TMIN", append(strings.Split(strings.Repeat("-9999   |", 20), "|")[:20], "  100  6", "  -33 I6", "   -6  6")...)
	rain := lineDLY("USC00011084", 1926, 1, "PRCP", append(strings.Split(strings.Repeat("    0  6|", 20), "|")[:20], "  254  6", "    0T 6")...)
	r := read(t, brewton+"\r\n"+low+rain+lineDLY("USC00011084", 1926, 1, "SNOW", "    0  6"))
	day := func(n int) Day { return r.Days[n-r.Days[0].Date.Day()] }
	if r.Station.ID != "USC00011084" || r.Days[0].Date != civil.Of(1926, 1, 1) || len(r.Days) != 31 {
		t.Fatalf("station %q, %d days from %s", r.Station.ID, len(r.Days), r.Days[0].Date)
	}
	if d := day(21); !d.HasTemp || d.Max != 23.9 || d.Min != 10 || !d.HasRain || d.Rain != 25.4 {
		t.Errorf("21 January: %+v, want 10.0 to 23.9 °C and 25.4 mm", d)
	}
	if d := day(22); d.HasTemp || !d.HasRain || d.Rain != 0 {
		t.Errorf("22 January: %+v, want no temperature (the minimum failed its check) and a trace of rain as none", d)
	}
	if d := day(23); d.Min != -0.6 || d.Max != 5 {
		t.Errorf("23 January: %+v", d)
	}
	if day(1).HasTemp {
		t.Error("1 January has a temperature though -9999 stands there")
	}
	if !strings.Contains(notesOf(r), "1 value was left out because the source's own quality control") {
		t.Errorf("notes: %s", notesOf(r))
	}
}

func notesOf(r *Record) string {
	var b strings.Builder
	for _, n := range r.Notes {
		fmt.Fprintf(&b, "[%s] %s\n", n.Kind, n.Says)
	}
	return b.String()
}

// The service's three scales (units=metric, units=standard, and the files by station in tenths), the
// same three days: 6.1/2.8 °C, 12.2/4.4 °C, 3.3/−9.9 °C; 0.3, 0 and 25.4 mm.
func TestReadNCEIScales(t *testing.T) {
	for name, text := range map[string]string{
		"metric":   "\"STATION\",\"DATE\",\"PRCP\",\"TMAX\",\"TMIN\"\n\"X1\",\"2001-01-05\",\"0.3\",\"6.1\",\"2.8\"\n\"X1\",\"2001-01-06\",\"0.0\",\"12.2\",\"4.4\"\n\"X1\",\"2001-01-07\",\"25.4\",\"3.3\",\"-9.9\"\n",
		"standard": "STATION,DATE,PRCP,TMAX,TMIN\nX1,2001-01-05,0.01,43,37\nX1,2001-01-06,0.00,54,40\nX1,2001-01-07,1.00,38,14\n",
		"tenths":   "\"STATION\",\"DATE\",\"PRCP\",\"PRCP_ATTRIBUTES\",\"TMAX\",\"TMAX_ATTRIBUTES\",\"TMIN\",\"TMIN_ATTRIBUTES\"\n\"X1\",\"2001-01-05\",\"    3\",\",,Z,null\",\"   61\",\",,Z\",\"   28\",\",,Z\"\n\"X1\",\"2001-01-06\",\"    0\",\"T,,Z\",\"  122\",\",,Z\",\"   44\",\",,Z\"\n\"X1\",\"2001-01-07\",\"  254\",\",,Z\",\"   33\",\",,Z\",\"  -99\",\",,Z\"\n",
	} {
		r := read(t, text)
		for i, want := range [][3]float64{{2.8, 6.1, 0.3}, {4.4, 12.2, 0}, {-9.9, 3.3, 25.4}} {
			d := r.Days[i]
			if !d.HasTemp || math.Abs(float64(d.Min)-want[0]) > 0.15 || math.Abs(float64(d.Max)-want[1]) > 0.15 || math.Abs(float64(d.Rain)-want[2]) > 0.06 {
				t.Errorf("%s, day %d: %+v, want %v", name, i+1, d, want)
			}
		}
		if !strings.Contains(notesOf(r), "[units]") {
			t.Errorf("%s: no note says which scale was taken", name)
		}
	}
}

func TestReadNCEIAttributesAndPlace(t *testing.T) {
	r := read(t, `"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES","TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES"
"X1","2001-07-05","40.5","-73.5","42.7","SOME TOWN, US","1.0",",,W","31.1",",S,W","20.0",",,W"
"X1","2001-07-06","40.5","-73.5","42.7","SOME TOWN, US","",,"28.3",",,W","18.3",",,W"
`)
	if !r.Station.Located || r.Station.Latitude != 40.5 || r.Station.Longitude != -73.5 || r.Station.Elevation != 42.7 || r.Station.Name != "SOME TOWN, US" {
		t.Errorf("station %+v", r.Station)
	}
	if r.Days[0].HasTemp || !r.Days[0].HasRain {
		t.Errorf("the maximum that failed the spatial check (S) was kept: %+v", r.Days[0])
	}
	if !r.Days[1].HasTemp || r.Days[1].HasRain {
		t.Errorf("second day %+v", r.Days[1])
	}
}

const powerHead = `-BEGIN HEADER-
NASA/POWER Source Native Resolution Daily Data 
Dates (month/day/year): 01/01/1983 through 01/03/1983 in %s
Location: latitude  -35.5   longitude 147.25 
elevation from MERRA-2: Average for 0.5 x 0.625 degree lat/lon region = 212.03 meters
The value for missing source data that cannot be computed or is outside of the sources availability range: %s 
parameter(s): 
T2M_MIN               MERRA-2 Temperature at 2 Meters Minimum (C) 
T2M_MAX               MERRA-2 Temperature at 2 Meters Maximum (C) 
PRECTOTCORR           MERRA-2 Precipitation Corrected (mm/day) 
ALLSKY_SFC_SW_DWN     CERES SYN1deg All Sky Surface Shortwave Downward Irradiance (%s) 
-END HEADER-
`

// Layouts as in real files of 2021–2025: date as YEAR,DOY or YEAR,MO,DY; the fill value and the
// unit of radiation (MJ for agroclimatology, kW-hr for the other communities) stand in the header.
func TestReadPowerCSV(t *testing.T) {
	for _, c := range []struct{ standard, fill, unit, body string }{
		{"LST", "-999", "MJ/m^2/day", "YEAR,DOY,T2M_MIN,T2M_MAX,PRECTOTCORR,ALLSKY_SFC_SW_DWN\n1983,1,14.1,30.2,0.0,28.8\n1983,2,-999,31.2,1.5,-999\n1983,3,15.0,32.1,-999,18.0\n"},
		{"UTC", "-99", "kW-hr/m^2/day", "YEAR,MO,DY,T2M_MIN,T2M_MAX,PRECTOTCORR,ALLSKY_SFC_SW_DWN\n1983,1,1,14.1,30.2,0.0,8.0\n1983,1,2,-99,31.2,1.5,-99\n1983,1,3,15.0,32.1,-99,5.0\n"},
	} {
		r := read(t, fmt.Sprintf(powerHead, c.standard, c.fill, c.unit)+c.body)
		if len(r.Days) != 3 || r.Station.Latitude != -35.5 || r.Station.Longitude != 147.25 || r.Station.Elevation != 212.03 {
			t.Fatalf("%d days at %+v", len(r.Days), r.Station)
		}
		a, b, last := r.Days[0], r.Days[1], r.Days[2]
		if a.Min != 14.1 || a.Max != 30.2 || !a.HasRain || math.Abs(float64(a.Radiation)-28.8) > 1e-9 {
			t.Errorf("%s: first day %+v, want 14.1 to 30.2 °C and 28.8 MJ/m²", c.unit, a)
		}
		if b.HasTemp || b.HasRadiation || b.Rain != 1.5 || last.HasRain || math.Abs(float64(last.Radiation)-18) > 1e-9 {
			t.Errorf("%s: fill values: %+v %+v", c.unit, b, last)
		}
		if got := strings.Contains(notesOf(r), "universal time"); got != (c.standard == "UTC") {
			t.Errorf("%s: notes %s", c.standard, notesOf(r))
		}
	}
}

func TestReadPowerJSON(t *testing.T) {
	body := `{"type":"Feature","geometry":{"type":"Point","coordinates":[20.09,-23.02,1277.67]},"properties":{"parameter":{"T2M_MIN":{"20170101":18.5,"20170102":-999.0,"20170103":17.5},"T2M_MAX":{"20170101":33.5,"20170102":34.5,"20170103":31.25},"ALLSKY_SFC_SW_DWN":{"20170101":7.5,"20170102":7.0,"20170103":-999.0}}},"header":{"title":"t","fill_value":-999.0,"start":"20170101"},"messages":[],"parameters":{"T2M_MIN":{"units":"C"},"ALLSKY_SFC_SW_DWN":{"units":"kW-hr/m^2/day"}}}`
	older := strings.NewReplacer(`"fill_value":-999.0`, `"fillValue":"-999"`, `"parameters":{`, `"parameterInformation":{`).Replace(body)
	collection := `{"features":[{"geometry":{"coordinates":[20.09,-23.02]},"properties":{"parameter":{"T2M_MIN":{"20170101":18.5,"20170102":-999,"20170103":17.5},"T2M_MAX":{"20170101":33.5,"20170102":34.5,"20170103":31.25},"ALLSKY_SFC_SW_DWN":{"20170101":27,"20170103":-999}}}}],"header":{"fillValue":-999},"parameterInformation":{"ALLSKY_SFC_SW_DWN":{"units":"MJ/m^2/day"}},"type":"FeatureCollection"}`
	for name, text := range map[string]string{"version 2.2": body, "older": older, "collection": collection} {
		r := read(t, text)
		if len(r.Days) != 3 || r.Station.Latitude != -23.02 || r.Station.Longitude != 20.09 {
			t.Fatalf("%s: %d days at %+v", name, len(r.Days), r.Station)
		}
		if d := r.Days[0]; d.Min != 18.5 || d.Max != 33.5 || math.Abs(float64(d.Radiation)-27) > 1e-9 || d.HasRain {
			t.Errorf("%s: %+v", name, d)
		}
		if r.Days[1].HasTemp || r.Days[2].HasRadiation {
			t.Errorf("%s: a fill value was taken for one measured", name)
		}
	}
}

func TestReadOpenMeteo(t *testing.T) {
	metric := `{"latitude":58.59,"longitude":5.79,"elevation":51.0,"timezone":"Europe/Oslo","daily_units":{"time":"iso8601","precipitation_sum":"mm","temperature_2m_min":"°C","temperature_2m_max":"°C","shortwave_radiation_sum":"MJ/m²"},"daily":{"time":["1991-01-01","1991-01-02"],"precipitation_sum":[25.4,null],"temperature_2m_min":[-5.0,4.0],"temperature_2m_max":[5.0,6.6],"shortwave_radiation_sum":[1.2,0.9]}}`
	us := `{"latitude":58.59,"longitude":5.79,"elevation":51.0,"daily_units":{"precipitation_sum":"inch","temperature_2m_min":"°F","temperature_2m_max":"°F","shortwave_radiation_sum":"MJ/m²"},"daily":{"time":["1991-01-01","1991-01-02"],"precipitation_sum":[1.0,null],"temperature_2m_min":[23,39.2],"temperature_2m_max":[41,43.88],"shortwave_radiation_sum":[1.2,0.9]}}`
	table := "latitude,longitude,elevation,utc_offset_seconds,timezone,timezone_abbreviation\n58.59,5.79,51.0,3600,Europe/Oslo,CET\n\ntime,precipitation_sum (mm),temperature_2m_min (°C),temperature_2m_max (°C),shortwave_radiation_sum (MJ/m²)\n1991-01-01,25.4,-5.0,5.0,1.2\n1991-01-02,,4.0,6.6,0.9\n"
	for name, text := range map[string]string{"metric": metric, "US units": us, "CSV": table} {
		r := read(t, text)
		a, b := r.Days[0], r.Days[1]
		if r.Station.Latitude != 58.59 || r.Station.Elevation != 51 || math.Abs(float64(a.Min+5)) > 1e-9 || math.Abs(float64(a.Max-5)) > 1e-9 || math.Abs(float64(a.Rain)-25.4) > 1e-9 || a.Radiation != 1.2 {
			t.Errorf("%s: %+v %+v", name, r.Station, a)
		}
		if b.HasRain || math.Abs(float64(b.Max)-6.6) > 1e-9 {
			t.Errorf("%s: %+v", name, b)
		}
	}
}

func TestReadPlain(t *testing.T) {
	for name, text := range map[string]string{
		"Celsius":        "# station: the allotment\n# latitude: -33.9\n# longitude: 18.4\n# elevation_m: 12\ndate,tmin_c,tmax_c,rain_mm\n2027-01-01,-5,5,25.4\n2027-01-02,,,\n2027-01-03,1,8,0\n",
		"Fahrenheit":     "# station: the allotment\n# latitude: -33.9\n# longitude: 18.4\n# elevation_m: 12\r\ndate,tmax_f,tmin_f,rain_in\r\n2027-01-01,41,23,1.00\r\n2027-01-02,NA,NA,NA\r\n2027-01-03,46.4,33.8,T\r\n",
		"decimal comma":  "# station: the allotment\n# latitude: -33.9\n# longitude: 18.4\n# elevation_m: 12\nDate;TMIN (°C);TMAX (°C);Rain [cm];wind\n2027/01/01;-5,0;5,0;2,54;3\n20270102;;;;\n2027-01-03T00:00;1;8;0;1\n",
		"tab, year, day": "\xef\xbb\xbf# station: the allotment\n# latitude: -33.9\n# longitude: 18.4\n# elevation_m: 12\nyear\tdoy\tmint_c\tmaxt_c\train_mm\n2027\t1\t-5\t5\t25.4\n2027\t2\t-999\t-999\t-999\n2027\t3\t1\t8\t0\n",
		"three columns":  "# name: the allotment\n# latitude: -33.9\n# longitude: 18.4\n# elevation_m: 12\nyear,month,day,min_temp_c,max_temp_c,precipitation_mm\n2027,1,3,1,8,0\n2027,1,2,,,\n2027,1,1,-5,5,25.4\n",
	} {
		r := read(t, text)
		if len(r.Days) != 3 || r.Station.Name != "the allotment" || r.Station.Latitude != -33.9 || r.Station.Longitude != 18.4 || r.Station.Elevation != 12 || !r.Station.Located {
			t.Errorf("%s: %d days, %+v", name, len(r.Days), r.Station)
			continue
		}
		a, b, c := r.Days[0], r.Days[1], r.Days[2]
		if math.Abs(float64(a.Min+5)) > 1e-9 || math.Abs(float64(a.Max-5)) > 1e-9 || math.Abs(float64(a.Rain)-25.4) > 1e-9 || b.HasTemp || b.HasRain || math.Abs(float64(c.Min-1)) > 1e-9 || !c.HasRain || c.Rain != 0 {
			t.Errorf("%s: %+v %+v %+v", name, a, b, c)
		}
	}
}

func TestReadGzip(t *testing.T) {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write([]byte("date,tmin_c,tmax_c,rain_mm\n2027-01-01,-5,5,25.4\n"))
	z.Close()
	r, err := Read("x.gz", bytes.NewReader(b.Bytes()))
	if err != nil || len(r.Days) != 1 {
		t.Fatalf("%v %v", r, err)
	}
	if _, err := Read("x.gz", bytes.NewReader(b.Bytes()[:20])); err == nil || !strings.Contains(err.Error(), "cut off") {
		t.Errorf("half a compressed file: %v", err)
	}
}

// Every fault in one sentence: the place, what is wrong, what to do.
func TestReadFaults(t *testing.T) {
	good := "date,tmin_c,tmax_c,rain_mm\n"
	year := func(swap bool) string {
		var b strings.Builder
		b.WriteString(good)
		for i := range 365 {
			low, high := 5, 15
			if swap {
				low, high = high, low
			}
			fmt.Fprintf(&b, "%s,%d,%d,0\n", civil.Of(2027, 1, 1).Add(i), low+i%3, high+i%3)
		}
		return b.String()
	}
	whole := lineDLY("USC00011084", 1926, 1, "TMAX", "  100  6")
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "the file is empty"},
		{"blank", " \n\n", "the file is empty"},
		{"binary", "date,tmin_c\n\x00\x01\x02", "line 2: this is not text"},
		{"zip", "PK\x03\x04whatever", "zip archive or a spreadsheet"},
		{"UTF-16", "\xff\xfed\x00a\x00", "UTF-16"},
		{"web page", "<!DOCTYPE html><html><body>404</body></html>", "line 1: this is a web page"},
		{"prose", "hello there\nthis is no record\n", "line 1: the format is not one that is known"},
		{"header only", good, "a header but no days"},
		{"no unit", "date,tmin,tmax_c,rain_mm\n2027-01-01,1,2,0\n", `line 1: the column "tmin" does not say a unit that is known; call it tmin_c or tmin_f`},
		{"unknown unit", "# note\ndate,tmin_c,tmax_c,rain_gallon\n2027-01-01,1,2,0\n", `line 2: the column "rain_gallon"`},
		{"twice", "date,tmin_c,tmin_f,tmax_c\n2027-01-01,1,2,0\n", `both give the minimum`},
		{"wrong column", "date,wind,rain_mm\n2027-01-01,1,2\n", "line 1: the columns for minimum and maximum temperature are not both there"},
		{"no date", "when,tmin_c,tmax_c\n2027-01-01,1,2\n", "no column is called date"},
		{"not a number", good + "2027-01-01,1,5,0\n2027-01-02,cold,5,0\n", `line 3: in column "tmin_c", "cold" is not a number`},
		{"bad date", good + "2027-02-29,1,5,0\n", "line 2"},
		{"ambiguous date", good + "03/04/2027,1,5,0\n", "write dates as year-month-day"},
		{"cut off", good + "2027-01-01,1,5,0\n2027-01-0", "line 3: the line has 1 column where the header has 4"},
		{"bad latitude", "# latitude: north\n" + good + "2027-01-01,1,5,0\n", "line 1"},
		{"columns exchanged", year(true), "the minimum is above the maximum on 365 of 365 days"},
		{"wrong scale", strings.ReplaceAll(strings.ReplaceAll(year(false), ",15,", ",75,"), ",16,", ",76,"), "these are not degrees Celsius"},
		{"only rain", good + "2027-01-01,,,5\n", "no day has both a minimum and a maximum"},
		{"dly cut off", whole + whole[:100], "line 2: the line is cut off after 100 characters"},
		{"dly two stations", whole + lineDLY("USC00011085", 1926, 1, "TMAX", "  100  6"), "line 2: a second station begins here"},
		{"dly letters", strings.Replace(whole, "  100", "  1x0", 1), "line 1: the value for day 1"},
		{"dly month 13", lineDLY("USC00011084", 1926, 13, "TMAX", "  100  6"), "line 1: there is no month 13"},
		{"dly then prose", whole + "the end\n", "line 2: this is not a GHCN-Daily line"},
		{"dly without temperature", lineDLY("USC00011084", 1926, 1, "SNOW", "  100  6"), "no TMAX, TMIN or PRCP"},
		{"NCEI one column", "STATION,DATE,PRCP\nX,2001-01-01,0\n", "TMIN and TMAX are not both there"},
		{"NCEI two stations", "STATION,DATE,TMAX,TMIN\nX,2001-01-01,10.1,1.0\nY,2001-01-01,10.1,1.0\n", "line 3: a second station begins here"},
		{"NCEI monthly", "STATION,DATE,TMAX,TMIN\nX,2001-01,10.1,1.0\n", "line 2"},
		{"NCEI unknown scale", "STATION,DATE,TMAX,TMIN\nX,2001-01-01,61,28\n", "cannot be told"},
		{"POWER climatology", "-BEGIN HEADER-\n-END HEADER-\nPARAMETER,JAN,FEB\nT2M,1,2\n", "line 3: these are POWER's monthly averages"},
		{"POWER hourly", "-BEGIN HEADER-\n-END HEADER-\nYEAR,MO,DY,HR,T2M\n2001,1,1,0,5\n", "hourly"},
		{"POWER one column", "-BEGIN HEADER-\n-END HEADER-\nYEAR,DOY,T2M\n2001,1,5\n", "T2M_MIN and T2M_MAX are not both there"},
		{"POWER cut off", "-BEGIN HEADER-\nNASA/POWER\n", "-END HEADER-"},
		{"POWER day 366", "YEAR,DOY,T2M_MIN,T2M_MAX\n2001,366,1,5\n", "line 2: the date cannot be read"},
		{"POWER JSON one", `{"properties":{"parameter":{"T2M":{"20170101":25.56}}},"header":{}}`, "only T2M"},
		{"JSON error", `{"error":true,"reason":"Cannot initialize WeatherVariable from invalid String value tempeture_2m for key hourly"}`, "Open-Meteo refused the request"},
		{"JSON cut off", "{\"daily\":{\"time\":[\"1991-01-01\",\n", "ends in the middle"},
		{"JSON list", `[{"a":1}]`, "this is a list"},
		{"JSON other", `{"hello":"world"}`, "neither NASA POWER's nor Open-Meteo's"},
		{"Open-Meteo hourly", `{"hourly":{"time":[]}}`, "hourly"},
		{"Open-Meteo lengths", `{"daily":{"time":["1991-01-01"],"temperature_2m_min":[1,2],"temperature_2m_max":[3]}}`, "2 values for 1 days"},
		{"Open-Meteo one", `{"daily":{"time":["1991-01-01"],"temperature_2m_min":[1]}}`, "temperature_2m_max are not both there"},
		{"two stations plain", good + strings.Repeat("2027-01-01,1,5,0\n2027-01-02,2,6,0\n2027-01-01,9,15,0\n2027-01-02,8,19,0\n", 1) + "2027-01-03,2,6,0\n2027-01-03,9,16,0\n2027-01-04,2,6,0\n2027-01-04,9,16,0\n", "more than one station"},
	} {
		_, err := Read("file.txt", strings.NewReader(c.text))
		if err == nil {
			t.Errorf("%s: no error", c.name)
			continue
		}
		var fault *FileError
		if !errors.As(err, &fault) || !strings.HasPrefix(err.Error(), "file.txt") || fault.Remedy == "" || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: not one sentence with place and remedy: %v", c.name, err)
		}
		if !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v\n want %s", c.name, err, c.want)
		}
	}
}

type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = 'x'
	}
	return len(p), nil
}

func TestReadRefusesEndlessInput(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 64 MB")
	}
	if _, err := Read("pipe", endless{}); err == nil || !strings.Contains(err.Error(), "64 MB") {
		t.Errorf("%v", err)
	}
}

func TestWriteCSVReadsBack(t *testing.T) {
	for _, r := range []*Record{Generate(climate(t, "gatton"), 2001, 3, 9), sample(t, "seattle")} {
		var b bytes.Buffer
		if err := r.WriteCSV(&b); err != nil {
			t.Fatal(err)
		}
		back := read(t, b.String())
		if back.Origin != r.Origin || back.Station != r.Station || back.Source != r.Source || len(back.Days) != len(r.Days) {
			t.Fatalf("%v %+v %q %d", back.Origin, back.Station, back.Source, len(back.Days))
		}
		for i := range r.Days {
			if back.Days[i] != r.Days[i] {
				t.Fatalf("%+v came back as %+v", r.Days[i], back.Days[i])
			}
		}
	}
}

// sample reads a small real record from testdata. Source: VEGA-WEATHER.
func sample(t testing.TB, name string) *Record {
	t.Helper()
	file, err := os.Open("testdata/" + name + "_2012-2015.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r, err := Read(name, file)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Every sample of the services' formats that stands beside the repository is read, or refused with the right reason.
func TestReferenceFormats(t *testing.T) {
	for name, want := range map[string]string{
		"sample_ghcnd_USC00304174.dly":                          "",
		"ncei_access_daily-summaries_USW00094728_first10.csv":   "",
		"nasa_power_daily_ag_point.csv":                         "",
		"nasa_power_daily_sb_point_LST.csv":                     "",
		"nasa_power_daily_sb_point_UTC.csv":                     "",
		"nasa_power_adjusted_air_pressure.csv":                  "",
		"nasa_power_adjusted_wind_elevation.csv":                "",
		"open_meteo_archive_daily_1991.json":                    "",
		"open_meteo_archive_daily_csv_layout_RECONSTRUCTED.csv": "",
		"nasa_power_climatology_ag_point.csv":                   "monthly averages",
		"nasa_power_daily_point_T2M.json":                       "only T2M",
		"open_meteo_error.json":                                 "Cannot initialize",
	} {
		text, err := os.ReadFile(reference(t, "weather", "formats", name))
		if err != nil {
			continue
		}
		r, err := Read(name, bytes.NewReader(text))
		switch {
		case want == "" && err != nil:
			t.Errorf("%s: %v", name, err)
		case want == "":
			d := r.Days[0]
			t.Logf("%s: %d days, first %s %.1f to %.1f °C %.1f mm, %+v", name, len(r.Days), d.Date, d.Min, d.Max, d.Rain, r.Station)
		case err == nil || !strings.Contains(err.Error(), want):
			t.Errorf("%s: %v, want %q", name, err, want)
		}
	}
}
