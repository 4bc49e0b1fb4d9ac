package crop

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"kailyard/doc"
)

// TestCatalogue loads every file of data, reports everything wrong with any of them, and holds
// the whole to what the program needs.
func TestCatalogue(t *testing.T) {
	names, err := filepath.Glob("data/*.toml")
	if err != nil || len(names) == 0 {
		t.Fatal("no crops in data", err)
	}
	var crops []*Crop
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			file, err := os.Open(name)
			if err != nil {
				t.Fatal(err)
			}
			defer file.Close()
			c, err := Load(name, file)
			if err != nil {
				t.Fatal(err)
			}
			crops = append(crops, c)
			checkText(t, c)
		})
	}
	if t.Failed() || len(crops) < len(names) {
		return // a file is bad, or only some were asked for
	}
	t.Run("whole", func(t *testing.T) { checkWhole(t, New(crops...)) })
	t.Run("sources", func(t *testing.T) { checkSources(t, crops) })
}

// checkText holds a crop's words to the trade's habits.
func checkText(t *testing.T, c *Crop) {
	t.Helper()
	if len(c.Practice.Jobs) == 0 {
		t.Error("no job sentences: say how it is sown or set out")
	}
	if len(strings.Fields(c.Botanical)) < 2 {
		t.Errorf("botanical name %q has no species", c.Botanical)
	}
	if c.Kind != strings.TrimSpace(c.Kind) || strings.Contains(c.Kind, ",") {
		t.Errorf("kind %q: a plain name without a comma", c.Kind)
	}
	for _, figure := range c.Figures {
		if strings.HasPrefix(figure.Source, "memory") {
			t.Errorf("%s: source %q; what is from memory has q = \"from memory\"", figure.Field, figure.Source)
		}
	}
}

// The least numbers of crops by group that the catalogue promises.
var promised = map[Group]int{Root: 12, Leaf: 11, Brassica: 6, Allium: 5, Legume: 6, Cucurbit: 5, Nightshade: 4, Corn: 1, Herb: 3, PerennialGroup: 2}

func checkWhole(t *testing.T, c *Catalogue) {
	t.Helper()
	count := map[Group]int{}
	qualities := map[Quality]int{}
	phrasesSeen := map[string]string{}
	for _, each := range c.All() {
		count[each.Group]++
		for _, figure := range each.Figures {
			qualities[figure.Quality]++
		}
		// Two crops may share a kind, never a whole name; a family is spelt one way.
		if other, ok := phrasesSeen[each.Name()]; ok {
			t.Errorf("%s and %s have one name: %q", each.ID, other, each.Name())
		}
		phrasesSeen[each.Name()] = each.ID
		for old, current := range map[string]string{"Chenopodiaceae": "Amaranthaceae", "Alliaceae": "Amaryllidaceae", "Cruciferae": "Brassicaceae", "Valerianaceae": "Caprifoliaceae"} {
			if each.Family == old {
				t.Errorf("%s: family %s; the catalogue calls it %s, so that rotation sees one family", each.ID, old, current)
			}
		}
	}
	for group, least := range promised {
		if count[group] < least {
			t.Errorf("%d crops of group %s, promised %d", count[group], group, least)
		}
	}
	if kinds := len(c.Kinds()); kinds < 45 {
		t.Errorf("%d kinds, promised 45", kinds)
	}
	t.Logf("%d crops, %d kinds; by group %v; figures by quality %v", len(c.All()), len(c.Kinds()), count, qualities)
}

// checkSources holds every figure's source to the lists of sources in doc.
func checkSources(t *testing.T, crops []*Crop) {
	t.Helper()
	known := knownSources()
	for _, c := range crops {
		for _, figure := range c.Figures {
			if figure.Source != "" && !known[figure.Source] {
				t.Errorf("%s: %s cites %q, which no list of sources in doc has", c.ID, figure.Field, figure.Source)
			}
		}
	}
}

// knownSources are the keys of doc/SOURCES.md.
func knownSources() map[string]bool {
	known := map[string]bool{}
	for _, s := range doc.Sources() {
		known[s.Key] = true
	}
	return known
}

// TestTradePractice holds crops to common practice, which needs no source.
func TestTradePractice(t *testing.T) {
	c := Default()
	carrot, radish, beet := must(t, c, "carrot"), must(t, c, "radish"), must(t, c, "beet")

	// A carrot sowing takes up to three weeks to come up in spring soil of 10 °C, a radish about a week at 13 °C.
	if at10 := carrot.Emergence.Points[1]; at10.Soil != 10 || at10.Days < 14 || at10.Days > 21 {
		t.Errorf("carrot at 10 °C: %+v; want two to three weeks", at10)
	}
	if !carrot.Practice.SlowRow || !radish.Practice.Marker {
		t.Error("radish marks the slow row of carrots")
	}
	if d := radish.Methods[0].Days; d.Mid() < 25 || d.Mid() > 35 {
		t.Errorf("radish is pulled in about a month, not %v d", d)
	}
	// A beet seed an inch, half an inch deep.
	if beet.Spacing.SowApart != 0.0254 || beet.Methods[0].Depth != 0.0127 {
		t.Errorf("beets: %v m apart, %v m deep; want 1 in and 1/2 in", beet.Spacing.SowApart, beet.Methods[0].Depth)
	}
	// A packet of carrot seed, a gram to a gram and a half by trade custom, does about a 30-ft row.
	grams := 30 * 0.3048 / float64(carrot.Spacing.SowApart) / carrot.Seed.PerGram
	if grams < 0.5 || grams > 1.5 {
		t.Errorf("a 30-ft row of carrots takes %.2f g of seed; a packet holds about a gram", grams)
	}
	leaf := must(t, c, "lettuce-loose-leaf").Plant.Spread
	if leaf < 0.2 || leaf > 0.31 {
		t.Errorf("leaf lettuce spreads %v m; want 8 to 12 in", leaf)
	}
	for _, id := range []string{"potato", "potato-early"} {
		if !strings.Contains(strings.Join(must(t, c, id).Practice.Cautions, " "), "poisonous") {
			t.Errorf("%s: no caution about green tubers", id)
		}
	}
	for _, each := range c.All() {
		if each.Practice.SlowRow && each.Practice.Marker {
			t.Errorf("%s cannot both mark a slow row and be one", each.ID)
		}
	}
}

func must(t *testing.T, c *Catalogue, id string) *Crop {
	t.Helper()
	found, ok := c.Find(id)
	if !ok {
		t.Fatalf("no crop %s", id)
	}
	return found
}

// TestHarringtonMinges: the days to emergence of Harrington and Minges (1954) as printed in the
// Knott handbook's table, by soil temperature in °C; 0 where nothing came up or none was tried.
func TestHarringtonMinges(t *testing.T) {
	temperatures := []float64{0, 5, 10, 15, 20, 25, 30, 35}
	table := map[string][]float64{ // Source: HM54-UCSC
		"beet":               {0, 42, 17, 10, 6, 5, 5, 5},
		"carrot":             {0, 51, 17, 10, 7, 6, 6, 9},
		"lettuce-loose-leaf": {49, 15, 7, 4, 3, 2, 3, 0},
		"parsley":            {0, 0, 29, 17, 14, 13, 12, 0},
		"parsnip":            {172, 57, 27, 19, 14, 15, 32, 0},
		"radish":             {0, 29, 11, 6, 4, 4, 3, 0},
		"spinach":            {63, 23, 12, 7, 6, 5, 6, 0},
		"turnip":             {0, 0, 5, 3, 2, 1, 1, 1},
		"celery":             {0, 41, 16, 12, 7, 0, 0, 0},
	}
	for id, days := range table {
		points := must(t, Default(), id).Emergence.Points
		for i, temperature := range temperatures {
			at := slices.IndexFunc(points, func(p EmergencePoint) bool { return float64(p.Soil) == temperature })
			switch {
			case days[i] == 0 && at >= 0:
				t.Errorf("%s has a figure at %v °C, the table none", id, temperature)
			case days[i] != 0 && (at < 0 || points[at].Days != days[i]):
				t.Errorf("%s at %v °C: want %v d", id, temperature, days[i])
			}
		}
	}
}

// TestLoadAll: the good files of a folder load even where others are bad, and every bad one is named.
func TestLoadAll(t *testing.T) {
	folder := fstest.MapFS{
		"mine/good.toml":   {Data: []byte(good)},
		"mine/bad.toml":    {Data: []byte("kind = 3")},
		"mine/worse.toml":  {Data: []byte("kind")},
		"mine/notes.txt":   {Data: []byte("not a crop")},
		"mine/Wrong .toml": {Data: []byte(good)},
	}
	crops, err := loadAll(folder, "mine")
	if len(crops) != 1 || crops[0].ID != "good" {
		t.Errorf("loaded %v", crops)
	}
	for _, name := range []string{"bad.toml:1", "worse.toml:1", "Wrong .toml: "} {
		if err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s is not in %v", name, err)
		}
	}
}

func TestNewLaterCounts(t *testing.T) {
	first, second := &Crop{ID: "leek", Kind: "old"}, &Crop{ID: "leek", Kind: "own"}
	c := New(first, &Crop{ID: "beet", Kind: "beet"}, second)
	if got, _ := c.Find("leek"); got != second || len(c.All()) != 2 || c.All()[0].ID != "beet" {
		t.Errorf("got %v of %v", got, c.All())
	}
}
