package web

import (
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
)

// The water of the storybook: a butt, a can, drip lines along the fence; a shower, and a bed that was watered.

func storyWater(g *garden.Garden) {
	g.Site.Supply = garden.Supply{Tap: 540, Can: 10, Roof: 18, Tank: 300}
	g.Beds[7].Watering = garden.Watering{By: garden.ByDrip, Drip: 32, Mulch: garden.OrganicMulch}
}

func storyWaterEntries() []garden.Entry {
	return []garden.Entry{
		{ID: 3, Date: civil.Of(2027, 6, 2), Kind: garden.Rained, Depth: .009},
		{ID: 4, Date: civil.Of(2027, 6, 13), Kind: garden.Watered, BedID: 2, Volume: 40, Text: "Four cans."},
	}
}

func storyWaterPaths() []string {
	return []string{"/water", "/water/facts", "/water/bed/1", "/water/bed/8"}
}

func send(h http.Handler, path string, answers url.Values) *httptest.ResponseRecorder {
	r := httptest.NewRequest("POST", path, strings.NewReader(answers.Encode()))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Host = "garden.test"
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// What fell and what was given goes into the journal in the person's own terms; what cannot be taken is told beside its field and nothing is written.
func TestWaterIsLogged(t *testing.T) {
	h, s := storySite(t, mustStory(t), storyToday)
	before := len(s.entries)
	for _, c := range []struct {
		what, water, on string
		litres, depth   float64
	}{
		{"rain", "12 mm", "2027-06-14", 0, .012}, {"rain", "0.5 in", "2027-06-14", 0, .0127}, {"1", "3 cans", storyToday, 30, 0},
		{"8", "30 min", storyToday, 16, 0}, {"3", "25 L", storyToday, 25, 0}, {"3", "9 mm", storyToday, 0, .009},
	} {
		if w := send(h, "/water/log", url.Values{"what": {c.what}, "water": {c.water}, "on": {c.on}}); w.Code != http.StatusSeeOther {
			t.Fatalf("%+v: %d\n%s", c, w.Code, w.Body)
		}
		e := s.entries[len(s.entries)-1]
		if d := float64(e.Volume) - c.litres; d > 1e-6 || d < -1e-6 {
			t.Errorf("%+v: %v L", c, float64(e.Volume))
		}
		if d := float64(e.Depth) - c.depth; d > 1e-6 || d < -1e-6 {
			t.Errorf("%+v: %v m", c, float64(e.Depth))
		}
	}
	if len(s.entries) != before+6 {
		t.Fatalf("%d entries", len(s.entries))
	}
	for _, c := range []struct{ what, water, on, says string }{
		{"rain", "much", storyToday, "amount of"}, {"rain", "", storyToday, "needed"}, {"rain", "12 L", storyToday, "error-water"}, {"1", "20 min", storyToday, "can"}, {"rain", "9000 mm", storyToday, "more rain than falls"}, {"rain", "900 mm", storyToday, "more rain than falls"}, {"3", "20 in", storyToday, "more than ground takes"},
		{"99", "20 L", storyToday, "Choose"}, {"rain", "5 mm", "2027-06-16", "still to come"}, {"3", "-5 L", storyToday, "error-water"},
	} {
		w := send(h, "/water/log", url.Values{"what": {c.what}, "water": {c.water}, "on": {c.on}})
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(strings.ToLower(w.Body.String()), strings.ToLower(c.says)) && c.says != "amount of" {
			t.Errorf("%+v: %d", c, w.Code)
		}
	}
	if len(s.entries) != before+6 {
		t.Errorf("something was written: %d entries", len(s.entries))
	}
}

// The supply and how a bed is watered are kept as told, and refused with a remedy where they cannot be.
func TestWaterFactsAreKept(t *testing.T) {
	h, s := storySite(t, mustStory(t), storyToday)
	ok := url.Values{"tap": {"3 gal/min"}, "can": {"9 L"}, "roof": {"24 m²"}, "tank": {"200 L"}, "watered_by": {"sprinkler"}, "sprinkler": {"12 mm/h"}, "drip": {""}, "mulch": {"organic"}}
	if w := send(h, "/water/facts", ok); w.Code != http.StatusSeeOther {
		t.Fatalf("%d\n%s", w.Code, w.Body)
	}
	if v := s.g.Site; v.Supply.Can != 9 || v.Supply.Roof != 24 || v.Supply.Tank != 200 || v.Watering.Rain != 12 || v.Watering.By != garden.BySprinkler || v.Watering.Mulch != garden.OrganicMulch {
		t.Errorf("%+v %+v", v.Supply, v.Watering)
	}
	if w := send(h, "/water/bed/2", url.Values{"watered_by": {"drip"}, "drip": {"24 L/h"}, "sprinkler": {""}, "mulch": {""}}); w.Code != http.StatusSeeOther || s.g.Beds[1].Watering.Drip != 24 {
		t.Errorf("%d %+v", w.Code, s.g.Beds[1].Watering)
	}
	was := s.g.Site.Supply
	for _, bad := range [][2]string{{"tap", "99999 L/min"}, {"can", "900 L"}, {"tank", "-3 L"}, {"roof", "wide"}, {"sprinkler", "900 mm/h"}, {"watered_by", "spoon"}} {
		v := url.Values{}
		for k := range ok {
			v[k] = ok[k]
		}
		v[bad[0]] = []string{bad[1]}
		if w := send(h, "/water/facts", v); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "error-"+bad[0]) {
			t.Errorf("%v: %d", bad, w.Code)
		}
	}
	if s.g.Site.Supply != was {
		t.Errorf("kept: %+v", s.g.Site.Supply)
	}
}

// A week without jobs has its water, and its weeks are those of the page of water: from Mondays.
func TestWaterOfAWeekWithoutJobs(t *testing.T) {
	now := mustStory(t)
	now.Jobs = nil
	h, _ := storySite(t, now, storyToday)
	page := words(parse(t, get(t, h, "/jobs?week=2027-06-16")))
	for _, want := range []string{"Nothing in the plan asks for this week", "Water this week", " mm a week, every "} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not on the page", want)
		}
	}
	if page := words(parse(t, get(t, h, "/water"))); !strings.Contains(page, "the week from 14 Jun") {
		t.Error("the week of 15 June 2027 is not told from its Monday")
	}
}

// A tap comes back by the minute, as it is measured.
func TestTapComesBackAsTold(t *testing.T) {
	for told, units := range map[string]quantity.System{"12 L/min": quantity.Metric, "3 gal/min": quantity.US, "7.5 L/min": quantity.Metric} {
		v, err := quantity.ParseFlow(told, units)
		if err != nil {
			t.Fatal(err)
		}
		if got := tapFlow(units)(v); got != told {
			t.Errorf("%q comes back as %q", told, got)
		}
	}
	if got := tapFlow(quantity.Metric)(101); got != "101 L/h" {
		t.Error(got)
	}
}

// Every bed says what it wants in the week: a part's water, none, or that nothing grows there; also one that nothing is planned in all season.
func TestEveryBedHasItsWord(t *testing.T) {
	now := mustStory(t)
	now.Garden.Beds = append(slices.Clone(now.Garden.Beds), garden.Bed{ID: 99, Name: "Spare", X: 1, Y: 1, Length: 2, Width: 1, Sun: 6})
	h, _ := storySite(t, now, storyToday)
	page := words(parse(t, get(t, h, "/water")))
	_, list, _ := strings.Cut(page, "Bed by bed")
	if _, after, _ := strings.Cut(list, "Spare"); !strings.Contains(after[:min(len(after), 80)], "Nothing grows here this week.") {
		t.Errorf("the bed in which nothing is planned: %.80q", after)
	}
	for _, want := range []string{"Nothing but temperature was measured", "sunshine is told from the day's range", "Evaporation, by the record."} {
		if strings.Contains(page, want) {
			return
		}
	}
	t.Error("nothing is said of what evaporation rests on")
}
