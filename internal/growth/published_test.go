package growth

import (
	"os"
	"path/filepath"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/weather"
)

// reference is a file of the reference folder that stands beside the repository in the builders' own trees.
func reference(t *testing.T, parts ...string) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for range 8 {
		path := filepath.Join(append([]string{dir, "shared", "reference"}, parts...)...)
		if _, err := os.Stat(path); err == nil {
			return path
		}
		dir = filepath.Dir(dir)
	}
	t.Skip("the reference folder is not beside this tree; the check needs its weather records")
	return ""
}

// recorded is the climate of a station's last thirty recorded years laid over 2027.
func recorded(t *testing.T, file string, latitude float64) *Climate {
	t.Helper()
	f, err := os.Open(reference(t, "weather", "records", file))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r, err := weather.Read(file, f)
	if err != nil {
		t.Fatal(err)
	}
	season := civil.SeasonOf(2027, latitude)
	years, _, err := r.Scenarios(season, Lead, Tail, 30)
	if err != nil {
		t.Fatal(err)
	}
	c, err := NewClimate(season, latitude, years)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
