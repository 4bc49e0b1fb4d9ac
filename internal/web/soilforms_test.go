package web

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"golang.org/x/net/html/atom"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
)

func near(got, want float64) bool { return math.Abs(got-want) < 1e-9*math.Max(1, math.Abs(want)) }

func TestALaboratorysReportIsKept(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Tests)
	w := post(t, h, "/soil/test/report", url.Values{
		"date": {"2027-06-01"}, "depth": {"6 in"}, "bed-2": {"yes"}, "bed-3": {"yes"}, "ph": {"5,8"}, "buffer_ph": {"6.4"}, "buffer_method": {"Sikora"},
		"value-P": {"22"}, "unit-P": {"ppm"}, "extractor-P": {"Mehlich 3"}, "value-K": {"0.3"}, "unit-K": {"meq/100 g"}, "extractor-K": {"Mehlich 3"}, "class-Mg": {"low"},
		"organic_percent": {"4.1"}, "cec_meq": {"12"}, "texture": {"loam"}, "salts_ds_m": {"400"}, "salts_unit": {"micro"}, "salts_in": {"1:2"}, "lead_mg_kg": {"22"}, "lab": {"the state's"},
	})
	if w.Code != http.StatusSeeOther || len(store.g.Tests) != n+1 {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	got := store.g.Tests[n]
	// 6 in are 0.1524 m by definition; 1000 µS/cm are 1 dS/m.
	if !near(float64(got.Depth), .1524) || !near(*got.Salts, .4) || got.SaltsBy != garden.OneToTwo {
		t.Errorf("depth %v, salts %v in %s", got.Depth, *got.Salts, got.SaltsBy)
	}
	if *got.PH != 5.8 || *got.Buffer != 6.4 || got.Method != garden.Sikora || fmt.Sprint(got.Beds) != "[2 3]" || got.Kit || *got.Organic != 4.1 || *got.CEC != 12 || *got.Lead != 22 || got.Texture != garden.Loam {
		t.Errorf("the test kept is %+v", got)
	}
	want := []garden.Reading{
		{Element: garden.Phosphorus, Value: 22, Unit: garden.PPM, Extractor: garden.Mehlich3}, {Element: garden.Potassium, Value: .3, Unit: garden.MeqPer100g, Extractor: garden.Mehlich3}, {Element: garden.Magnesium, Class: garden.Low},
	}
	if fmt.Sprint(got.Elements) != fmt.Sprint(want) {
		t.Errorf("the elements kept are %v, want %v", got.Elements, want)
	}
	back := get(t, h, w.Header().Get("Location"))
	if text := words(parse(t, back)); back.Code != http.StatusOK || !strings.Contains(text, "Kept. What the beds are given goes by this test now.") {
		t.Errorf("the form leads to %s, status %d", w.Header().Get("Location"), back.Code)
	}
	page := words(parse(t, get(t, h, "/soil/bed/2")))
	if !strings.Contains(page, "The last test, 1 Jun 2027") || !strings.Contains(page, "22 ppm by Mehlich 3") {
		t.Error("the bed's page does not show the new test")
	}
}

func TestWhatIsWrongWithATestStandsBesideItsField(t *testing.T) {
	rows := []struct {
		name, field, says string
		send              url.Values
	}{
		{"a point is missing", "ph", "6.5", url.Values{"ph": {"65"}}},
		{"pH 14", "ph", "no soil has", url.Values{"ph": {"14"}}},
		{"pH below what ground has", "ph", "2.5", url.Values{"ph": {"2.5"}}},
		{"no number", "ph", "not a number", url.Values{"ph": {"sour"}}},
		{"nothing", "ph", "tells nothing", url.Values{}},
		{"buffer below pH", "buffer_ph", "below the soil's pH", url.Values{"ph": {"6.2"}, "buffer_ph": {"5.8"}, "buffer_method": {"SMP"}}},
		{"buffer without method", "buffer_method", "no method", url.Values{"ph": {"5.5"}, "buffer_ph": {"6.4"}}},
		{"unknown extractor", "extractor-P", "Choose one of the list", url.Values{"ph": {"6"}, "value-P": {"20"}, "unit-P": {"ppm"}, "extractor-P": {"Bray"}}},
		{"extractor not told", "extractor-P", "solution", url.Values{"ph": {"6"}, "value-P": {"20"}, "unit-P": {"ppm"}}},
		{"no unit", "unit-K", "no unit", url.Values{"ph": {"6"}, "value-K": {"120"}, "extractor-K": {"Mehlich 3"}}},
		{"unit without figure", "value-K", "Write the figure", url.Values{"ph": {"6"}, "unit-K": {"ppm"}}},
		{"more than soil holds", "value-P", "more than any soil holds", url.Values{"value-P": {"9000"}, "unit-P": {"ppm"}, "extractor-P": {"Bray 1"}}},
		{"salts in nothing", "salts_in", "not told", url.Values{"ph": {"6"}, "salts_ds_m": {"1.2"}}},
		{"lead below nothing", "lead_mg_kg", "-4", url.Values{"ph": {"6"}, "lead_mg_kg": {"-4"}}},
		{"a day to come", "date", "not come yet", url.Values{"ph": {"6"}, "date": {"2027-12-01"}}},
		{"no such day", "date", "2027-02-30", url.Values{"ph": {"6"}, "date": {"2027-02-30"}}},
		{"depth of a well", "depth", "deep", url.Values{"ph": {"6"}, "depth": {"15 m"}}},
	}
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			h, store := storySite(t, mustStory(t), storyToday)
			n := len(store.g.Tests)
			if row.send.Get("date") == "" {
				row.send.Set("date", "2027-06-01")
			}
			row.send.Set("sure", "yes") // being sure takes nothing that is wrong
			w := post(t, h, "/soil/test/report", row.send)
			doc := parse(t, w)
			if w.Code != http.StatusUnprocessableEntity || !strings.Contains(errorOf(doc, row.field), row.says) {
				t.Errorf("status %d, beside %s: %q; %s", w.Code, row.field, errorOf(doc, row.field), words(doc))
			}
			if len(store.g.Tests) != n {
				t.Error("a wrong test was kept")
			}
			checkPage(t, "/soil/test/report", doc)
			if text := row.send.Get("ph"); text != "" && valueOf(doc, "ph") != text {
				t.Errorf("the typed pH came back as %q", valueOf(doc, "ph"))
			}
		})
	}
}

// What is odd but can be is asked about once, and kept when the person is sure.
func TestADoubtIsToldBeforeATestIsKept(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Tests)
	send := url.Values{"date": {"2027-06-01"}, "bed-2": {"yes"}, "ph": {"6.2"}, "value-P": {"640"}, "unit-P": {"ppm"}, "extractor-P": {"Bray 1"}}
	w := post(t, h, "/soil/test/report", send)
	doc := parse(t, w)
	if text := words(doc); w.Code != http.StatusUnprocessableEntity || !strings.Contains(text, "is it lb/acre?") || !strings.Contains(text, "I have looked again") || len(store.g.Tests) != n {
		t.Fatalf("status %d, %d tests more: %s", w.Code, len(store.g.Tests)-n, text)
	}
	checkPage(t, "/soil/test/report", doc)
	send.Set("sure", "yes")
	if w := post(t, h, "/soil/test/report", send); w.Code != http.StatusSeeOther || len(store.g.Tests) != n+1 {
		t.Errorf("sure: status %d", w.Code)
	}
}

func TestAHomeKitIsKeptAndWithdrawn(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Tests)
	w := post(t, h, "/soil/test/kit", url.Values{"date": {"2027-06-02"}, "ph": {"6.5"}, "class-N": {"low"}, "class-P": {"very high"}, "free_lime": {"no"}})
	if w.Code != http.StatusSeeOther || w.Header().Get("Location") != "/soil?done=tested" {
		t.Fatalf("status %d to %s: %s", w.Code, w.Header().Get("Location"), words(parse(t, w)))
	}
	got := store.g.Tests[n]
	if !got.Kit || got.Beds != nil || len(got.Elements) != 2 || got.Elements[1].Class != garden.VeryHigh || got.Elements[1].Extractor != garden.HomeKit || *got.FreeLime {
		t.Errorf("the test kept is %+v", got)
	}
	if text := words(parse(t, get(t, h, "/soil/tests"))); !strings.Contains(text, "2 Jun 2027, the whole garden") {
		t.Error("the list of tests lacks it")
	}
	if w := post(t, h, fmt.Sprintf("/soil/test/%d/withdraw", got.ID), nil); w.Code != http.StatusSeeOther || len(store.g.Tests) != n {
		t.Errorf("withdrawing: status %d, %d tests", w.Code, len(store.g.Tests))
	}
}

func TestLeadAndSaltsAreAboveEverything(t *testing.T) {
	h, _ := storySite(t, mustStory(t), storyToday)
	for _, path := range []string{"/soil", "/soil/bed/8", "/soil/tests"} {
		text := words(parse(t, get(t, h, path)))
		if !strings.Contains(text, "Lead of 340 mg/kg") || !strings.Contains(text, "local health or extension office") || !strings.Contains(strings.ToLower(text), "stop and ask") {
			t.Errorf("%s does not say to stop and ask", path)
		}
	}
	doc := parse(t, get(t, h, "/soil/bed/8"))
	text := words(doc)
	if !strings.Contains(text, "Nothing, before someone local was asked") || strings.Contains(text, "Feeding this season") || strings.Contains(text, "Grow what stands it") {
		t.Error("something is prescribed on ground with lead")
	}
	if text := words(parse(t, get(t, h, "/soil/shopping"))); !strings.Contains(text, "Nothing is bought for Fence strip") {
		t.Error("the shopping list does not say what is left out")
	}
}

func TestWhatIsPutOnIsWrittenInTheRecord(t *testing.T) {
	for _, row := range []struct {
		amount string
		mass   quantity.Kilogram
		volume quantity.Litre
	}{
		{"2,5 kg", 2.5, 0}, {"3", 3, 0}, {"10 lb", 10 * quantity.KilogramsPerPound, 0}, {"40 L", 0, 40}, {"3 buckets", 0, 30}, {"1 bucket", 0, 10},
		{"2 barrows", 0, 2 * 3 * 28.316846592}, // a cubic foot is 28.316846592 L by definition; the barrow of 3 cu ft is common practice
	} {
		h, store := storySite(t, mustStory(t), storyToday)
		n := len(store.entries)
		w := post(t, h, "/soil/bed/2/put", url.Values{"material": {"limestone-ground"}, "amount": {row.amount}, "date": {"2027-06-10"}, "depth": {"7 in"}, "note": {"still air"}})
		if w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/soil/bed/2?done=put") || len(store.entries) != n+1 {
			t.Errorf("%s: status %d: %s", row.amount, w.Code, words(parse(t, w)))
			continue
		}
		e := store.entries[n]
		if !near(float64(e.Amount), float64(row.mass)) || !near(float64(e.Volume), float64(row.volume)) || e.Kind != garden.Fed || e.BedID != 2 || e.Date != civil.Of(2027, 6, 10) || !near(float64(e.Depth), .1778) || e.Text != "still air" {
			t.Errorf("%s is kept as %+v", row.amount, e)
		}
		if text := words(parse(t, get(t, h, "/soil/bed/2"))); !strings.Contains(text, "10 Jun 2027ground limestone") && !strings.Contains(text, "10 Jun 2027 ground limestone") {
			t.Errorf("%s does not stand in the bed's record", row.amount)
		}
		if text := words(parse(t, get(t, h, "/journal"))); !strings.Contains(text, "Ground limestone. still air") {
			t.Errorf("%s does not stand in the journal", row.amount)
		}
	}
}

func TestWhatIsWrongWithAPuttingOnStandsBesideItsField(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.entries)
	good := url.Values{"material": {"limestone-ground"}, "amount": {"450 kg"}, "date": {"2027-06-10"}}
	for field, bad := range map[string]map[string]string{
		"material": {"": "needed", "moon-dust": "one of the list"}, "amount": {"": "needed", "some": "“40 L”", "no buckets": "how many", "0 kg": "Neither"}, "date": {"2027-08-01": "not come yet", "soon": "soon"}, "depth": {"5 m": "deep"},
	} {
		for value, says := range bad {
			send := url.Values{}
			for k := range good {
				send.Set(k, good.Get(k))
			}
			send.Set(field, value)
			w := post(t, h, "/soil/bed/2/put", send)
			doc := parse(t, w)
			if w.Code != http.StatusUnprocessableEntity || !strings.Contains(errorOf(doc, field), says) || len(store.entries) != n {
				t.Errorf("%s %q: status %d, beside it %q", field, value, w.Code, errorOf(doc, field))
			}
			checkPage(t, "/soil/bed/2/put", doc)
		}
	}
	much := url.Values{"material": {"leaf-mould"}, "amount": {"1000 kg"}, "date": {"2027-06-10"}}
	if w := post(t, h, "/soil/bed/2/put", much); w.Code != http.StatusUnprocessableEntity || !strings.Contains(words(parse(t, w)), "more than any soil is given") || len(store.entries) != n {
		t.Errorf("a ton on a bed: status %d", w.Code)
	}
	much.Set("sure", "yes")
	if w := post(t, h, "/soil/bed/2/put", much); w.Code != http.StatusSeeOther {
		t.Errorf("a ton, and sure: status %d", w.Code)
	}
	n = len(store.entries)
	much.Set("amount", "9000 kg")
	if w := post(t, h, "/soil/bed/2/put", much); w.Code != http.StatusUnprocessableEntity || len(store.entries) != n {
		t.Errorf("nine tons, however sure: status %d", w.Code)
	}
	if w := post(t, h, "/soil/bed/99/put", good); w.Code != http.StatusNotFound {
		t.Errorf("a bed that is not: status %d", w.Code)
	}
}

func TestTheFactsOfTheSoilAreKept(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	w := post(t, h, "/soil/facts", url.Values{"texture": {"clay"}, "topsoil": {"8 in"}, "dug_to": {"25"}, "dug_with": {"tiller"}, "weighs": {"us"}, "bucket": {"2"}, "drift": {"acid"}})
	if w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	v := store.g.Site.Soil
	// 8 in are 0.2032 m, a US gallon 3.785411784 L by definition; a bare depth is in the garden's centimetres.
	if v.Texture != garden.Clay || !near(float64(v.Topsoil), .2032) || !near(float64(v.Tilled), .25) || v.Spit != garden.Tiller || v.Weighs != quantity.US || !near(float64(v.Bucket), 2*3.785411784) || v.Drift != garden.TowardsAcid {
		t.Errorf("kept %+v", v)
	}
	before := store.g.Site
	w = post(t, h, "/soil/facts", url.Values{"texture": {"cheese"}, "topsoil": {"9 m"}, "weighs": {"us"}, "bucket": {"5000 L"}})
	doc := parse(t, w)
	for _, field := range []string{"texture", "topsoil", "bucket"} {
		if errorOf(doc, field) == "" {
			t.Errorf("nothing is said of %s", field)
		}
	}
	if w.Code != http.StatusUnprocessableEntity || store.g.Site.Soil != before.Soil {
		t.Errorf("status %d, kept %+v", w.Code, store.g.Site.Soil)
	}
	if w := post(t, h, "/soil/bed/2/facts", url.Values{"texture": {""}, "state": {"sod"}, "dug_with": {"fork and spade"}, "topsoil": {"30 cm"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d", w.Code)
	}
	if b, _ := store.g.Bed(2); b.Soil != (garden.Soil{State: garden.Sod, Topsoil: .3}) {
		t.Errorf("the bed's soil is %+v", b.Soil)
	}
}

func TestSizesOnSaleAreKept(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Packages)
	if w := post(t, h, "/soil/package/new", url.Values{"material": {"compost"}, "holds": {"40 L"}, "price": {"4.20"}}); w.Code != http.StatusSeeOther || len(store.g.Packages) != n+1 {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	if got := store.g.Packages[n]; got.Volume != 40 || got.Mass != 0 || got.Price != 4.2 || got.Material != "compost" {
		t.Errorf("kept %+v", got)
	}
	if w := post(t, h, "/soil/package/new", url.Values{"material": {"own"}, "name": {"Grain 7"}, "holds": {"25 lb"}, "n": {"7"}, "p2o5": {"4"}, "k2o": {"5"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	if got := store.g.Packages[n+1]; got.Material != "own-grain-7" || *got.K2O != 5 || !near(float64(got.Mass), 25*.45359237) {
		t.Errorf("kept %+v", got)
	}
	for _, row := range []struct {
		field, says string
		send        url.Values
	}{
		{"n", "no label analysis", url.Values{"material": {"own"}, "name": {"Grain 8"}, "holds": {"25 lb"}}},
		{"name", "needs a name", url.Values{"material": {"own"}, "holds": {"25 lb"}, "n": {"7"}, "p2o5": {"4"}, "k2o": {"5"}}},
		{"n", "Only part", url.Values{"material": {"urea"}, "holds": {"5 kg"}, "n": {"46"}}},
		{"n", "per cent together", url.Values{"material": {"urea"}, "holds": {"5 kg"}, "n": {"46"}, "p2o5": {"40"}, "k2o": {"40"}}},
		{"holds", "needed", url.Values{"material": {"urea"}}},
		{"holds", "volume", url.Values{"material": {"urea"}, "holds": {"a sack"}}},
		{"price", "price", url.Values{"material": {"urea"}, "holds": {"5 kg"}, "price": {"-3"}}},
		{"material", "needed", url.Values{"holds": {"5 kg"}}},
	} {
		w := post(t, h, "/soil/package/new", row.send)
		doc := parse(t, w)
		if w.Code != http.StatusUnprocessableEntity || !strings.Contains(errorOf(doc, row.field), row.says) || len(store.g.Packages) != n+2 {
			t.Errorf("%v: status %d, beside %s: %q; %s", row.send, w.Code, row.field, errorOf(doc, row.field), words(doc))
		}
	}
	if w := post(t, h, "/soil/package/2", url.Values{"material": {"limestone-ground"}, "holds": {"5 kg"}, "price": {"3"}}); w.Code != http.StatusSeeOther || store.g.Packages[1].Price != 3 || store.g.Packages[1].CCE != nil {
		t.Errorf("changing: status %d, %+v", w.Code, store.g.Packages[1])
	}
	if w := post(t, h, "/soil/package/2/remove", nil); w.Code != http.StatusSeeOther || len(store.g.Packages) != n+1 {
		t.Errorf("removing: status %d", w.Code)
	}
}

func TestAHeapFromItsRecipeToItsLog(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Heaps)
	doc := parse(t, get(t, h, "/soil/heaps/recipe?put-leaves=10+barrows&put-grass-clippings=400+L&put-kitchen-scraps=60"))
	begin := ""
	for _, a := range all(doc, atom.A) {
		if strings.HasPrefix(attr(a, "href"), "/soil/heap/new?") {
			begin = attr(a, "href")
		}
	}
	if begin == "" {
		t.Fatalf("the recipe leads to no heap: %s", words(doc))
	}
	send := url.Values{}
	for _, in := range all(parse(t, get(t, h, begin)), atom.Input) {
		send.Set(attr(in, "name"), attr(in, "value"))
	}
	if send.Get("put-leaves") == "" {
		t.Error("what the recipe takes is not in the form")
	}
	send.Set("started", "2027-06-01")
	w := post(t, h, "/soil/heap/new", send)
	if w.Code != http.StatusSeeOther || len(store.g.Heaps) != n+1 {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	heap := store.g.Heaps[n]
	at := fmt.Sprintf("/soil/heap/%d", heap.ID)
	if len(heap.Put) < 2 || heap.Started != civil.Of(2027, 6, 1) {
		t.Errorf("kept %+v", heap)
	}
	// 58 °C are 136.4 °F by definition.
	if w := post(t, h, at+"/log", url.Values{"date": {"2027-06-05"}, "kind": {"heat"}, "temperature": {"136.4 °F"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("status %d: %s", w.Code, words(parse(t, w)))
	}
	if e := store.g.Heaps[n].Log[0]; math.Abs(float64(*e.Celsius)-58) > 1e-9 || e.Kind != garden.HeapHeat {
		t.Errorf("the log has %+v", e)
	}
	if text := words(parse(t, get(t, h, at))); !strings.Contains(text, "hot") || !strings.Contains(text, "was hottest on 5 Jun") {
		t.Errorf("the heap's page does not tell of its heat: %s", text)
	}
	for field, bad := range map[string]url.Values{
		"temperature": {"date": {"2027-06-06"}, "kind": {"heat"}}, "date": {"date": {"2027-05-01"}, "kind": {"turned"}}, "kind": {"date": {"2027-06-06"}, "kind": {"sung to"}},
	} {
		w := post(t, h, at+"/log", bad)
		doc := parse(t, w)
		if w.Code != http.StatusUnprocessableEntity || errorOf(doc, field) == "" || len(store.g.Heaps[n].Log) != 1 {
			t.Errorf("%v: status %d, beside %s %q", bad, w.Code, field, errorOf(doc, field))
		}
		checkPage(t, at+"/log", doc)
	}
	if w := post(t, h, at+"/log", url.Values{"date": {"2027-06-06"}, "kind": {"heat"}, "temperature": {"300 °C"}}); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("300 °C: status %d", w.Code)
	}
	if w := post(t, h, at+"/remove", nil); w.Code != http.StatusSeeOther || len(store.g.Heaps) != n {
		t.Errorf("removing: status %d", w.Code)
	}
	if w := get(t, h, "/soil/heaps/recipe?put-leaves=many"); w.Code != http.StatusUnprocessableEntity {
		t.Errorf("many leaves: status %d", w.Code)
	}
}

// A garden of beds alone has its soil pages; what the weather and a plan would tell is left out in words.
func TestTheSoilNeedsNoPlan(t *testing.T) {
	store := &shelf{}
	h := bareSite(store)
	for _, path := range []string{"/soil", "/soil/dig", "/soil/shopping", "/soil/tests", "/soil/heaps"} {
		w := get(t, h, path)
		if doc := parse(t, w); w.Code != http.StatusOK {
			t.Errorf("%s without beds: status %d: %s", path, w.Code, words(doc))
		} else {
			checkPage(t, path, doc)
		}
	}
	store.g = storyGarden()
	for _, path := range []string{"/soil", "/soil/bed/1", "/soil/bed/6", "/soil/bed/9", "/soil/dig", "/soil/shopping"} {
		w := get(t, h, path)
		doc := parse(t, w)
		if w.Code != http.StatusOK {
			t.Errorf("%s: status %d: %s", path, w.Code, words(doc))
		}
		checkPage(t, path, doc)
	}
	if text := words(parse(t, get(t, h, "/soil/dig"))); !strings.Contains(text, "no weather record") {
		t.Error("nothing is said of the missing weather")
	}
	if w := get(t, h, "/soil/bed/99"); w.Code != http.StatusNotFound {
		t.Errorf("a bed that is not: status %d", w.Code)
	}
}

func TestSoilFormsOfOtherSitesAreRefused(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	n := len(store.g.Tests)
	for _, path := range []string{"/soil/test/kit", "/soil/test/1/withdraw", "/soil/bed/1/put", "/soil/heap/1/remove", "/soil/package/1/remove", "/soil/facts"} {
		if w := postFrom(t, h, path, "cross-site"); w.Code != http.StatusForbidden {
			t.Errorf("%s from another site: status %d", path, w.Code)
		}
	}
	if len(store.g.Tests) != n {
		t.Error("a form of another site changed the garden")
	}
}

// bareSite serves a store without a season.
func bareSite(store *shelf) http.Handler {
	return New(Config{
		Store: store, Crops: crop.Default(), Today: func() civil.Date { return civil.Of(2027, 6, 15) },
		Season: func(context.Context) (*season.Result, error) {
			return nil, errors.New("the book holds no weather record")
		},
	})
}

// postFrom sends an empty form as a browser on another site would.
func postFrom(tb testing.TB, h http.Handler, path, site string) *httptest.ResponseRecorder {
	tb.Helper()
	r := httptest.NewRequest("POST", path, nil)
	r.Host = "localhost"
	r.Header.Set("Sec-Fetch-Site", site)
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// What was put on and written wrongly is withdrawn from the bed's record; an amount that no ground is given is refused beside its field.
func TestWhatWasPutOnIsWithdrawn(t *testing.T) {
	h, store := storySite(t, mustStory(t), storyToday)
	w := post(t, h, "/soil/bed/2/put", url.Values{"material": {"limestone-ground"}, "amount": {"9000 kg"}, "date": {"2027-06-01"}})
	if w.Code != http.StatusUnprocessableEntity || !strings.Contains(errorOf(parse(t, w), "amount"), "more than any ground is given") {
		t.Errorf("status %d, beside the amount %q", w.Code, errorOf(parse(t, w), "amount"))
	}
	n := len(store.g.Treatments)
	if w = post(t, h, "/soil/bed/2/put", url.Values{"material": {"limestone-ground"}, "amount": {"3 kg"}, "date": {"2027-06-01"}}); w.Code != http.StatusSeeOther || len(store.g.Treatments) != n+1 {
		t.Fatalf("status %d", w.Code)
	}
	path := fmt.Sprintf("/soil/put/%d/withdraw", store.g.Treatments[n].EntryID)
	button := false
	for _, f := range all(parse(t, get(t, h, "/soil/bed/2")), atom.Form) {
		button = button || attr(f, "action") == path
	}
	if !button {
		t.Error("the bed's record has nothing to withdraw it with")
	}
	if w = post(t, h, path, nil); w.Code != http.StatusSeeOther || len(store.g.Treatments) != n || w.Header().Get("Location") != "/soil/bed/2?done=taken-back#record" {
		t.Errorf("withdrawing: status %d, to %s", w.Code, w.Header().Get("Location"))
	}
	if w = post(t, h, path, nil); w.Code != http.StatusNotFound {
		t.Errorf("a second time: status %d", w.Code)
	}
}
