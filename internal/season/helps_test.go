package season_test

import (
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// narrow is an invented garden of one bed for three times what it can bear, where springs are cold.
const narrow = `
[site]
name = "One bed (invented)"
latitude = 44.0
longitude = -90.0
[[bed]]
name = "The bed"
length = "5 m"
width = "1.2 m"
sun_hours = 5
[[want]]
crop = "tomato"
amount = 20
[[want]]
crop = "carrot"
amount = 15
[[want]]
crop = "lettuce"
basis = "weekly"
amount = 3
unit = "head"
`

func narrowPlan(t *testing.T, text string, record *weather.Record, latitude float64) *season.Result {
	t.Helper()
	g, err := garden.ReadDescription("narrow.toml", strings.NewReader(text), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	g.Beds[0].ID = 1
	for i := range g.Wants {
		g.Wants[i].ID = int64(i + 1)
	}
	settings := plan.DefaultSettings()
	settings.Rounds = 24000
	r, err := season.Compute(season.Input{
		Season: civil.SeasonOf(2027, latitude), Garden: g, Record: record, Crops: crop.Default(), Settings: settings,
	})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What would help a crowded garden is told in words that are those of the two plans: the bed's size, harvests, work.
func TestWhatWouldHelp(t *testing.T) {
	r := narrowPlan(t, narrow, measured(t, "new_york_2012-2015.csv"), 44)
	list, err := r.Helps()
	if err != nil {
		t.Fatal(err)
	}
	titles := map[string]string{}
	for _, h := range list {
		titles[h.Title] = h.Says
		t.Logf("%.1f %% %s: %s", 100*h.Share, h.Title, h.Says)
		if h.Says == "" || !strings.HasSuffix(h.Says, ".") || strings.Contains(h.Says, "..") {
			t.Errorf("%q", h.Says)
		}
	}
	bed, ok := titles["Another bed of 5 m × 1.2 m in full sun"]
	if !ok || !strings.Contains(bed, " more ") || !strings.Contains(bed, "h more work") {
		t.Errorf("another bed: %q", bed)
	}
	if again, _ := r.Helps(); len(again) != len(list) || &again[0] != &list[0] {
		t.Error("what would help is reckoned twice")
	}
}

// far is an invented garden where the summer is too short for what it wants in the open.
const far = `
[site]
name = "North (invented)"
latitude = 64.8
longitude = -147.9
[[bed]]
name = "The bed"
length = "6 m"
width = "1.2 m"
sun_hours = 9
[[want]]
crop = "tomato"
amount = 10
[[want]]
crop = "potato"
amount = 8
`

// Where summers are short covers help, each named with what it brings; a garden that has them all is told of none.
func TestCoversThatWouldHelp(t *testing.T) {
	var record *weather.Record
	for _, c := range weather.Climates() {
		if c.ID == "fairbanks" {
			record = weather.Generate(c, 1991, 12, 7)
		}
	}
	covers := func(r *season.Result) (titles []string) {
		list, err := r.Helps()
		if err != nil {
			t.Fatal(err)
		}
		for _, h := range list {
			t.Logf("%.1f %% %s: %s", 100*h.Share, h.Title, h.Says)
			if h.Kind == plan.MoreCover {
				titles = append(titles, h.Title+": "+h.Says)
			}
		}
		return titles
	}
	r := narrowPlan(t, far, record, 64.8)
	if told := strings.Join(covers(r), "\n"); !strings.Contains(told, "tunnel: ") || !strings.Contains(told, "more tomato") {
		t.Errorf("covers that would help: %q", told)
	}
	all := strings.Replace(far, "longitude", "covers = [\""+strings.Join(crop.ProtectionNames(), "\", \"")+"\"]\nlongitude", 1)
	if told := covers(narrowPlan(t, all, record, 64.8)); len(told) > 0 {
		t.Errorf("the garden has them: %q", told)
	}
}
