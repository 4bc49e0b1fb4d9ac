package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/weather"
)

// The storybook is an invented garden that fills every page: tests and the browser read it.

// storyPerennial is the key of the rhubarb that stands for years: no weather year dates it.
const storyPerennial = "kept-1"

// storyOwn is the ID of a variety of the person's own.
const storyOwn = "the-neighbours-short-okra"

// storyOwnCrops are a variety, a whole crop, one no longer grown, and one that cannot be read.
func storyOwnCrops() crop.OwnCrops {
	text, _ := crop.FileText("carrot")
	text = strings.NewReplacer(`kind = "carrot"`, `kind = "winter root"`, `type = "main crop"`, `type = ""`).Replace(text)
	return crop.OwnCrops{
		Files: []crop.File{{ID: "winter-root", Text: text}, {ID: "half-written", Text: "kind = \"tuber\"\ngroup = \"rot\"\n"}},
		Varieties: []crop.Variety{
			{ID: storyOwn, Name: "the neighbour’s short okra", Base: "okra", Days: "48–52", InRow: "25 cm", Note: "seed over the fence, kept since 2019"},
			{ID: "old-okra", Name: "old okra", Base: "okra", Retired: true},
		},
	}
}

func storyGarden() garden.Garden {
	bed := func(id int64, name string, x, y, length, width, bearing, sun float64) garden.Bed {
		b := garden.Bed{ID: id, Name: name, Bearing: bearing}
		b.X, b.Y = metres(x), metres(y)
		b.Length, b.Width, b.Sun = metres(length), metres(width), hours(sun)
		return b
	}
	from, to := civil.Of(2027, 5, 1), civil.Of(2027, 10, 15)
	g := garden.Garden{
		Site: garden.Site{Name: "The invented garden", Latitude: 43.5, Longitude: -72.3, Elevation: 240, Household: 4, Invented: true, Width: 16, Depth: 11, Covers: []string{"row-cover", "cold-frame"}},
		Beds: []garden.Bed{
			bed(1, "Long drills", 5.2, 1.4, 9, 1.5, 90, 8),
			bed(2, "East bed", 11.8, 4.4, 4, 1.2, 0, 8),
			bed(3, "Middle bed", 9.6, 4.4, 4, 1.2, 0, 8),
			bed(4, "West bed", 7.4, 4.4, 4, 1.2, 0, 7),
			bed(5, "Old cabbage bed", 3.4, 5.2, 5, 1.2, 90, 7.5),
			bed(6, "Under the tree", 2.6, 8.4, 3, 1.2, 70, 4.5),
			bed(7, "Square", 8.2, 8.6, 3, 3, 0, 8),
			bed(8, "Fence strip", 15.2, 5, 8, .6, 0, 6),
			bed(9, "Keepers", 12.4, 9.4, 4, 1.2, 90, 7),
		},
	}
	g.Own = storyOwnCrops()
	storySoil(&g)
	storyWater(&g)
	g.Beds[8].Perennial = true
	g.Beds[5].Note = "the maple takes the afternoon"
	g.Standing = []garden.Planting{{
		Key: storyPerennial, Season: 2023, BedID: 9, CropID: "rhubarb", Way: crop.Set, Place: garden.Place{AlongTo: 2, AcrossTo: 1.2}, Rows: 1, Plants: 2,
		Start: civil.Of(2023, 4, 20), Clear: civil.Of(2040, 4, 20), Role: garden.Alone, Status: garden.InGround,
	}}
	for year := 2024; year <= 2026; year++ {
		g.History = append(g.History, garden.Past{ID: int64(year), BedID: 5, Year: year, Family: "Brassicaceae", Note: "cabbages and kale"})
	}
	g.History = append(g.History, garden.Past{ID: 3, BedID: 7, Year: 2026, CropID: "potato", Family: "Solanaceae"})
	want := func(crop string, basis garden.Basis, amount float64, unit string, weight int) {
		w := garden.Want{ID: int64(len(g.Wants) + 1), Crop: crop, Basis: basis, Amount: amount, Unit: unit, Weight: weight}
		if basis == garden.Weekly {
			w.From, w.To = &from, &to
		}
		g.Wants = append(g.Wants, w)
	}
	want("lettuce", garden.Weekly, 3, "head", 4)
	want("carrot", garden.Total, 15, "kg", 4)
	want("pea", garden.Total, 6, "kg", 3)
	want("tomato", garden.Total, 25, "kg", 5)
	want("potato", garden.Total, 25, "kg", 3)
	want("cabbage", garden.Total, 8, "head", 3)
	want("cauliflower", garden.Total, 8, "head", 3)
	want("onion", garden.Total, 10, "kg", 4)
	want("garlic", garden.Total, 2, "kg", 3)
	want("beet", garden.Total, 8, "kg", 2)
	want("bean", garden.Total, 8, "kg", 3)
	want("spinach", garden.Total, 3, "kg", 2)
	want("radish", garden.Weekly, .3, "kg", 1)
	want("squash", garden.Total, 10, "kg", 2)
	want("leek", garden.Total, 4, "kg", 2)
	want("kale", garden.Total, 4, "kg", 2)
	want("sweet corn", garden.Total, 5, "kg", 2)
	return g
}

// storyRecord is the invented weather: years generated from a built-in place with a cold winter.
func storyRecord() *weather.Record {
	for _, c := range weather.Climates() {
		if c.ID == "ithaca" {
			return weather.Generate(c, 1997, 31, 7)
		}
	}
	panic("the built-in place is gone")
}

const storyToday = "2027-06-15"

var story = sync.OnceValues(func() (*season.Result, error) {
	g := storyGarden()
	crops, _ := g.Catalogue(crop.Default())
	return season.Compute(season.Input{
		Season: civil.SeasonOf(2027, g.Site.Latitude), Garden: g, Record: storyRecord(), Crops: crops, Settings: plan.DefaultSettings(),
	})
})

func mustStory(tb testing.TB) *season.Result {
	tb.Helper()
	r, err := story()
	if err != nil {
		tb.Fatal(err)
	}
	return r
}

// shelf is a store in memory.
type shelf struct {
	record  *weather.Record // the one given last
	mu      sync.Mutex
	g       garden.Garden
	entries []garden.Entry
	next    int64
	pinned  map[string]bool
	under   []string // what plantings were grown under, "KEY COVER"
	planner plan.Settings
	alone   bool   // no other plans were made
	chosen  string // the plan chosen of several
	broken  error  // returned by every method when set
}

func (s *shelf) Garden(context.Context) (garden.Garden, error) { return s.g, s.broken }

func (s *shelf) SaveSite(_ context.Context, v garden.Site) error { s.g.Site = v; return s.broken }

func (s *shelf) id() int64 { s.next++; return 1000 + s.next }

func (s *shelf) AddBed(_ context.Context, v garden.Bed) (int64, error) {
	v.ID = s.id()
	s.g.Beds = append(s.g.Beds, v)
	return v.ID, s.broken
}

func (s *shelf) SaveBed(_ context.Context, v garden.Bed) error {
	i := slices.IndexFunc(s.g.Beds, func(b garden.Bed) bool { return b.ID == v.ID })
	if i < 0 {
		return fmt.Errorf("no bed %d", v.ID)
	}
	s.g.Beds[i] = v
	return s.broken
}

func (s *shelf) RemoveBed(_ context.Context, id int64) error {
	s.g.Beds = slices.DeleteFunc(s.g.Beds, func(b garden.Bed) bool { return b.ID == id })
	return s.broken
}

func (s *shelf) AddWant(_ context.Context, v garden.Want) (int64, error) {
	v.ID = s.id()
	s.g.Wants = append(s.g.Wants, v)
	return v.ID, s.broken
}

func (s *shelf) SaveWant(_ context.Context, v garden.Want) error {
	i := slices.IndexFunc(s.g.Wants, func(w garden.Want) bool { return w.ID == v.ID })
	if i < 0 {
		return fmt.Errorf("no want %d", v.ID)
	}
	s.g.Wants[i] = v
	return s.broken
}

func (s *shelf) RemoveWant(_ context.Context, id int64) error {
	s.g.Wants = slices.DeleteFunc(s.g.Wants, func(w garden.Want) bool { return w.ID == id })
	return s.broken
}

func (s *shelf) AddVeto(_ context.Context, v garden.Veto) (int64, error) {
	v.ID = s.id()
	s.g.Vetoes = append(slices.Clone(s.g.Vetoes), v)
	return v.ID, s.broken
}

func (s *shelf) RemoveVeto(_ context.Context, id int64) error {
	s.g.Vetoes = slices.DeleteFunc(slices.Clone(s.g.Vetoes), func(v garden.Veto) bool { return v.ID == id })
	return s.broken
}

func (s *shelf) AddPast(_ context.Context, v garden.Past) (int64, error) {
	v.ID = s.id()
	s.g.History = append(s.g.History, v)
	return v.ID, s.broken
}

func (s *shelf) RemovePast(_ context.Context, id int64) error {
	s.g.History = slices.DeleteFunc(s.g.History, func(p garden.Past) bool { return p.ID == id })
	return s.broken
}

func (s *shelf) Append(_ context.Context, v garden.Entry) (int64, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	v.ID = s.id()
	s.entries = append(s.entries, v)
	if t, ok := v.Treatment(); ok {
		s.g.Treatments = append(slices.Clone(s.g.Treatments), t)
	}
	return v.ID, s.broken
}

func (s *shelf) Journal(_ context.Context, span civil.Span) ([]garden.Entry, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	var out []garden.Entry
	for _, e := range s.entries {
		if span.Has(e.Date) {
			out = append(out, e)
		}
	}
	return out, s.broken
}

func (s *shelf) SetPinned(_ context.Context, key string, pinned bool) error {
	if s.pinned == nil {
		s.pinned = map[string]bool{}
	}
	s.pinned[key] = pinned
	return s.broken
}

func (s *shelf) Settings(context.Context) (plan.Settings, error) { return s.planner, s.broken }

func (s *shelf) SaveSettings(_ context.Context, v plan.Settings) error {
	s.planner = v
	return s.broken
}

func (s *shelf) AddVariety(_ context.Context, v crop.Variety) (string, error) {
	crops, _ := s.g.Catalogue(crop.Default())
	if v.ID == "" {
		v.ID = crops.FreeID(v.Name, v.Base)
	}
	if err := crops.Admit(v); err != nil {
		return "", garden.OwnProblems(err)
	}
	if other := crops.Taken(v.Name, v.ID); other != nil {
		return "", garden.Problems{garden.NameTaken(v.Name, other)}
	}
	s.g.Own.Varieties = append(s.g.Own.Varieties, v)
	return v.ID, s.broken
}

func (s *shelf) SaveVariety(_ context.Context, v crop.Variety) error {
	crops, _ := s.g.Catalogue(crop.Default())
	if err := crops.Admit(v); err != nil {
		return garden.OwnProblems(err)
	}
	for i := range s.g.Own.Varieties {
		if s.g.Own.Varieties[i].ID == v.ID {
			s.g.Own.Varieties[i] = v
		}
	}
	return s.broken
}

func (s *shelf) SaveCropFile(_ context.Context, f crop.File) error {
	if _, err := f.Load(); err != nil {
		return garden.OwnProblems(err)
	}
	s.g.Own.Files = append(slices.DeleteFunc(s.g.Own.Files, func(o crop.File) bool { return o.ID == f.ID }), f)
	return s.broken
}

func (s *shelf) RemoveCrop(_ context.Context, id string) (bool, error) {
	s.g.Own.Files = slices.DeleteFunc(s.g.Own.Files, func(f crop.File) bool { return f.ID == id })
	s.g.Own.Varieties = slices.DeleteFunc(s.g.Own.Varieties, func(v crop.Variety) bool { return v.ID == id })
	return false, s.broken
}

// storySite serves the storybook on a day.
func storySite(tb testing.TB, r *season.Result, today string) (http.Handler, *shelf) {
	tb.Helper()
	d, err := civil.Parse(today)
	if err != nil {
		tb.Fatal(err)
	}
	g := r.Garden
	g.Beds, g.Wants, g.History = slices.Clone(g.Beds), slices.Clone(g.Wants), slices.Clone(g.History)
	g.Own.Files, g.Own.Varieties = slices.Clone(g.Own.Files), slices.Clone(g.Own.Varieties)
	storyLight(&g)
	s := &shelf{g: g, planner: plan.DefaultSettings(), entries: []garden.Entry{
		{ID: 1, Date: civil.Of(2027, 4, 20), Kind: garden.Dug, BedID: 1, Text: "The long drills, a spade deep; soil still cold."},
		{ID: 2, Date: civil.Of(2027, 6, 12), Kind: garden.Harvested, BedID: 3, Amount: 1.4, Text: "First lettuce."},
	}}
	s.entries = append(s.entries, storyWaterEntries()...)
	return New(Config{
		Store: s, Season: func(context.Context) (*season.Result, error) { return r, nil },
		Replan: func(context.Context) error { return nil },
		Under: func(_ context.Context, key string, how season.Growing) error {
			says := key + " " + how.Cover
			if how.Start != nil {
				says += " " + how.Start.String()
			}
			s.under = append(s.under, says)
			return s.broken
		},
		Others:  s.others,
		Compare: func(context.Context) error { s.alone = false; return s.broken },
		Use: func(_ context.Context, way string) (bool, error) {
			s.chosen = way
			return !s.alone, s.broken
		},
		Seasons: func(context.Context) ([]civil.Season, civil.Season, error) {
			return []civil.Season{r.Season, civil.SeasonOf(r.Season.Year()+1, r.Garden.Site.Latitude)}, r.Season, nil
		},
		Choose: func(context.Context, int) error { return nil },
		TakeRecord: func(_ context.Context, r *weather.Record) error {
			if len(r.Days) < 3*365 {
				return errors.New("this record holds fewer than three years; give a longer one")
			}
			s.record = r
			return nil
		},
		Generate: func(c weather.Climate) *weather.Record { return weather.Generate(c, 1991, 30, 7) },
		Fetching: storyFetching(tb), Fit: fitTo(func(context.Context) (*weather.Record, error) { return storyRecord(), nil }), Kept: newStoryKept(),
		Today: func() civil.Date { return d }, Crops: crop.Default(), Hosts: []string{"garden.test"},
	}), s
}

// storyPaths are addresses that show every page.
func storyPaths(r *season.Result) []string {
	paths := []string{"/", "/plot", "/plot?day=2027-02-01", "/plot?day=2027-07-20", "/plot?day=2027-09-10", "/plan", "/plan/helps", "/beds", "/bed/1", "/bed/3", "/bed/7", "/bed/9", "/planting/" + storyPerennial, "/jobs", "/jobs?week=2027-04-20", "/orders", "/weather", "/crops", "/crop/carrot", "/crop/tomato-early", "/crop/garlic", "/crop/watermelon", "/crops/weakest", "/crops/own", "/crops/new", "/crops/new?like=beet", "/crop/" + storyOwn, "/crop/" + storyOwn + "/change", "/crop/winter-root", "/crop/winter-root/change", "/crop/okra/vary", "/ready", "/ready?crop=carrot&by=thanksgiving", "/ready?crop=tomato-early&by=2027-09-01&share=90", "/ready?crop=asparagus&by=easter", "/ready?by=christmas", "/sources", "/weather/record", "/weather/network", "/weather/network/fetch", "/weather/network/fetch?over=yes", "/weather/kept", "/weather/kept/record/2/drop", "/weather/kept/fetched/power/43.50,-72.30/drop", "/journal", "/garden", "/site", "/bed/new", "/bed/2/edit", "/want/new", "/want/1", "/veto/new", "/veto/new?bed=2", "/history", "/settings", "/plan/others", "/nowhere"}
	paths = append(paths, storySoilPaths()...)
	paths = append(paths, storyWaterPaths()...)
	paths = append(paths, storyLightPaths()...)
	for _, role := range []garden.Role{garden.Alone, garden.Slow, garden.Fast, garden.Marker} {
		for _, p := range r.Plan.Plantings {
			if p.Role == role {
				paths = append(paths, "/planting/"+p.Key)
				break
			}
		}
	}
	return paths
}

func metres(v float64) quantity.Metre { return quantity.Metre(v) }
func hours(v float64) quantity.Hour   { return quantity.Hour(v) }
