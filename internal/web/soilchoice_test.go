package web

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/soil"
	"kailyard/internal/weather"
)

// What is put on is chosen in a small form on the soil's page and on the shopping list, kept with the garden, and reckoned with.
func TestWhatIsPutOnIsKept(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	if text := words(parse(t, get(t, h, "/soil"))); !strings.Contains(text, "Plant foods of any kind, lime by the magnesium test, garden compost.") {
		t.Error("the page does not say what is put on")
	}
	for back, to := range map[string]string{"soil": "/soil", "shopping": "/soil/shopping"} {
		w := post(t, h, "/soil/choice?back="+back, url.Values{"natural": {"yes"}, "lime": {"limestone-dolomitic"}, "organic": {"leaf-mould"}})
		if w.Code != http.StatusSeeOther || w.Header().Get("Location") != to+"?done=told" {
			t.Fatalf("status %d, leads to %s", w.Code, w.Header().Get("Location"))
		}
	}
	if s := store.g.Site.Soil; !s.Natural || s.Lime != "limestone-dolomitic" || s.Organic != "leaf-mould" {
		t.Errorf("kept is %+v", s)
	}
	text := words(parse(t, get(t, h, "/soil/shopping")))
	if !strings.Contains(text, "Only plant foods from plants, animals or rock, dolomitic limestone, leaf mould.") || strings.Contains(strings.ToLower(text), "garden compost ") && strings.Contains(text, "To fetch loose, or to make Garden compost") {
		t.Errorf("the list does not go by it: %s", text)
	}
	for field, wrong := range map[string]string{"lime": "compost", "organic": "moonstone"} {
		w := post(t, h, "/soil/choice", url.Values{field: {wrong}})
		doc := parse(t, w)
		if w.Code != http.StatusUnprocessableEntity || errorOf(doc, field) == "" {
			t.Errorf("%s %s: status %d, beside it %q", field, wrong, w.Code, errorOf(doc, field))
		}
		checkPage(t, "/soil/choice", doc)
	}
	if store.g.Site.Soil.Lime != "limestone-dolomitic" {
		t.Error("what cannot be put on is kept")
	}
}

// A lime of the person's own, known by the label of its package, is offered, kept and told by the name on its package.
func TestOwnLimeIsOffered(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	cce, fine := 88.0, 80.0
	store.g.Packages = append(slices.Clone(store.g.Packages), garden.Package{ID: 90, Material: "quarry-fines", Name: "quarry fines", Mass: 25, CCE: &cce, Fineness: &fine})
	if w := get(t, h, "/soil"); !strings.Contains(w.Body.String(), `<option value="quarry-fines">quarry fines (your own)</option>`) {
		t.Error("the form does not offer it")
	}
	if w := post(t, h, "/soil/choice?back=soil", url.Values{"lime": {"quarry-fines"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, w.Body)
	}
	if store.g.Site.Soil.Lime != "quarry-fines" {
		t.Fatalf("kept is %+v", store.g.Site.Soil)
	}
	doc := parse(t, get(t, h, "/soil"))
	if text := words(doc); !strings.Contains(text, "Plant foods of any kind, quarry fines, garden compost.") {
		t.Error("the page does not tell it")
	}
	checkPage(t, "/soil", doc)
	if text := words(parse(t, get(t, h, "/soil/shopping"))); strings.Contains(text, "no label analysis") {
		t.Errorf("the list does not know it: %s", text)
	}
}

// Lead and salts stand on the page of the day and above the jobs and the beds.
func TestAlarmsOnTheDay(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	for _, path := range []string{"/", "/jobs", "/beds", "/bed/8"} {
		text := words(parse(t, get(t, h, path)))
		if !strings.Contains(text, "Lead of 340 mg/kg") || !strings.Contains(text, "Fence strip : stop and ask.") && !strings.Contains(text, "Fence strip: stop and ask.") {
			t.Errorf("%s does not tell of the lead: %.300s", path, text)
		}
	}
}

// A book with weather and without a plan tells from the weather which way the ground goes and when it can be dug.
func TestTheSoilUsesTheRecordWithoutAPlan(t *testing.T) {
	store := &shelf{g: storyGarden()}
	record := storyRecord()
	h := New(Config{
		Store: store, Season: func(context.Context) (*season.Result, error) { return nil, unplannedSeason{} }, Crops: crop.Default(),
		Record: func(context.Context) (*weather.Record, error) { return record, nil }, Today: func() civil.Date { return civil.Of(2027, 3, 2) },
	})
	if text := words(parse(t, get(t, h, "/soil"))); !strings.Contains(text, "this ground turns acid in time") || !strings.Contains(text, "Rain in a year") {
		t.Errorf("the drift is not told from the weather: %.600s", text)
	}
	if text := words(parse(t, get(t, h, "/soil/dig"))); strings.Contains(text, "no weather record") {
		t.Error("the record is not used for the days fit to dig")
	}
	record = nil
	if w := get(t, h, "/soil/dig"); w.Code != http.StatusOK || !strings.Contains(words(parse(t, w)), "no weather record") {
		t.Error("a record that is gone is still used")
	}
}

// Late in a year the pages are about the season to come, and so is the soil book; without a plan nobody knows a day to feed on.
func TestTheSoilIsOfTheSeasonShownWithoutAPlan(t *testing.T) {
	store := &shelf{g: storyGarden()}
	shown := civil.SeasonOf(2028, store.g.Site.Latitude)
	s := &site{Config: Config{
		Store: store, Season: func(context.Context) (*season.Result, error) { return nil, unplannedSeason{} }, Crops: crop.Default(),
		Seasons: func(context.Context) ([]civil.Season, civil.Season, error) { return []civil.Season{shown}, shown, nil },
		Today:   func() civil.Date { return civil.Of(2027, 11, 25) },
	}}
	known, err := s.groundOf(httptest.NewRequest(http.MethodGet, "/soil", nil))
	if err != nil || known.ground.Season != shown {
		t.Fatalf("the soil book is read for %v, shown is %v: %v", known.ground.Season, shown, err)
	}
	for _, b := range known.ground.Beds {
		for i := 0; b.Feeding != nil && i < len(b.Feeding.Dressings); i++ {
			if d := b.Feeding.Dressings[i]; d.Date != 0 && d.Date < known.ground.Day.Add(-14) {
				t.Errorf("%s is fed on %s", b.Bed.Name, d.Date.Long())
			}
		}
	}
}

// Compost on which the feeding of a bed counts is told for before its planting, and not for the autumn after.
func TestCompostThatIsCountedOnIsNotPutOff(t *testing.T) {
	g := season.Ground{Day: civil.Of(2027, 4, 10), Site: garden.Site{Latitude: 44}}
	b := season.BedGround{Organic: &season.OrganicGround{Name: "garden compost", Due: civil.Of(2027, 4, 1)}, Feeding: &soil.Prescription{}}
	window := func() (from, to civil.Date) {
		bedWorks(b, &g, quantity.Metric, func(_ string, a, z civil.Date, _ string) { from, to = a, z })
		return from, to
	}
	if from, _ := window(); from != civil.Of(2027, 9, 15) {
		t.Errorf("compost on which nothing counts is told for %s", from)
	}
	b.Feeding.Credits = []soil.Credit{{What: "garden compost, still to come", Date: civil.Of(2027, 4, 20), Coming: true}}
	if from, to := window(); from != civil.Of(2027, 4, 10) || to != civil.Of(2027, 4, 20) {
		t.Errorf("compost that is counted on by 20 Apr is told for %s to %s", from, to)
	}
}
