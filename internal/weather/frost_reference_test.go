package weather

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"kailyard/internal/civil"
)

// The dates of the last and first 32 °F that NCEI published with the 1981–2010 normals, against those
// computed from the daily records of the same stations and years. NCEI's spring P90 is the early date.
func TestFrostDatesAgainstNCEI(t *testing.T) {
	file, err := os.Open(reference(t, "weather", "published", "ncei_1981-2010_freeze_32F.csv"))
	if err != nil {
		t.Skip(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	season := civil.SeasonOf(2023, 45)
	var at50, at90 []int
	for _, row := range rows[1:] {
		path := filepath.Join("weather", "records", row[0]+".dly")
		if _, err := os.Stat(reference(t, path)); err != nil {
			continue
		}
		r := cut(readReference(t, path), 1981, 2010)
		years, notes, err := r.Scenarios(season, 0, 0, 0)
		if err != nil {
			t.Errorf("%s: %v", row[5], err)
			continue
		}
		_ = notes
		f := FrostOf(season, 0, years, 0)
		if row[6] == "" { // never freezes
			if len(f.Spring) > 3 {
				t.Errorf("%s: %d spring frosts where there should be none", row[5], len(f.Spring))
			}
			continue
		}
		line := fmt.Sprintf("%-24s %2d years", row[5], f.Years)
		for _, c := range []struct {
			published string
			chance    Chance
			into      *[]int
		}{
			{row[6], f.LaterThan(50), &at50}, {row[7], f.LaterThan(90), &at90},
			{row[8], f.EarlierThan(50), &at50}, {row[9], f.EarlierThan(90), &at90},
		} {
			var month, day int
			fmt.Sscanf(c.published, "%d/%d", &month, &day)
			if c.chance.None {
				line += "   none/" + c.published
				if c.published == "01/01" { // falls into the next season
					continue
				}
				*c.into = append(*c.into, 99)
				continue
			}
			miss := c.chance.Date.Since(civil.Of(2023, month, day))
			line += fmt.Sprintf("  %s %s %+3d", c.published, c.chance.Date.Short(), miss)
			*c.into = append(*c.into, int(math.Abs(float64(miss))))
		}
		t.Log(line, " free ", f.FreeAtLeast(50), row[10], f.FreeAtLeast(90), row[11])
	}
	slices.Sort(at50)
	slices.Sort(at90)
	if len(at50) < 20 {
		t.Skip("fewer than ten stations to compare")
	}
	share := func(v []int, p float64) int { return v[int(math.Ceil(p*float64(len(v))))-1] }
	t.Logf("at 50 %%: median miss %d, 90 %% of dates within %d days; at 90 %%: median %d, within %d", share(at50, 0.5), share(at50, 0.9), share(at90, 0.5), share(at90, 0.9))
	if share(at50, 0.5) > 2 || share(at50, 0.9) > 5 || share(at90, 0.9) > 7 {
		t.Error("the frost dates miss the published ones by more than allowed")
	}
}

// cut keeps the years from first to last.
func cut(r *Record, first, last int) *Record {
	out := *r
	out.Days = nil
	for _, d := range r.Days {
		if y := d.Date.Year(); y >= first && y <= last {
			out.Days = append(out.Days, d)
		}
	}
	return &out
}
