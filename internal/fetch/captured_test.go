package fetch

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"kailyard/internal/civil"
)

// formats is the folder of captured answers beside the repository, where there is one.
func formats(t *testing.T) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for ; dir != filepath.Dir(dir); dir = filepath.Dir(dir) {
		found := filepath.Join(filepath.Dir(dir), "shared", "reference", "weather", "formats")
		if _, err := os.Stat(found); err == nil {
			return found
		}
	}
	t.Skip("no captured answers beside the repository: the stand-in's forms are checked in TestServices")
	return ""
}

// Answers that the services once gave pass as answers to the request that would bring them, with the
// values that stand in them; and do not pass as answers to another.
func TestCapturedAnswers(t *testing.T) {
	dir := formats(t)
	for _, c := range []struct {
		file, id            string
		latitude, longitude float64
		from, to            civil.Date
		low, high, height   float64 // of the first day, as the file prints them
	}{
		{"nasa_power_daily_sb_point_LST.csv", "power", -89.5, -179.5, civil.Of(1983, 1, 1), civil.Of(1983, 1, 1), -25.67, -24.88, 2885.03},
		{"nasa_power_daily_ag_point.csv", "power", -89.5, -179.5, civil.Of(1983, 1, 1), civil.Of(1983, 1, 1), -25.37, -22.7, 2885.03},
		{"open_meteo_archive_daily_1991.json", "open-meteo", 58.5984, 5.7893, civil.Of(1991, 1, 1), civil.Of(1991, 1, 10), 3.5, 4.7, 51},
	} {
		body, err := os.ReadFile(filepath.Join(dir, c.file))
		if err != nil {
			t.Fatal(err)
		}
		service, _ := ServiceOf(c.id)
		a := asker{Fetcher: &Fetcher{Today: today}, request: Request{Service: service, Latitude: c.latitude, Longitude: c.longitude}}
		r, f := a.read(body, c.from, c.to)
		if f != nil {
			t.Errorf("%s: %v", c.file, f.err)
			continue
		}
		if d := r.Days[0]; math.Abs(float64(d.Min)-c.low) > 1e-9 || math.Abs(float64(d.Max)-c.high) > 1e-9 || float64(r.Station.Elevation) != c.height || !r.Station.Levelled {
			t.Errorf("%s: %+v at %v m", c.file, d, r.Station.Elevation)
		}
		if _, f = a.read(body, c.from, c.to+1); f == nil || f.err.Kind != CutOff {
			t.Errorf("%s passes for a day more", c.file)
		}
		a.request.Longitude = 40
		if _, f = a.read(body, c.from, c.to); c.id == "open-meteo" && (f == nil || f.err.Kind != Changed) {
			t.Errorf("%s passes for another place", c.file)
		}
	}
	body, err := os.ReadFile(filepath.Join(dir, "open_meteo_error.json"))
	if err != nil {
		t.Fatal(err)
	}
	if why := reason(body); why != "Cannot initialize WeatherVariable from invalid String value tempeture_2m for key hourly" {
		t.Errorf("the captured refusal says %q", why)
	}
}
