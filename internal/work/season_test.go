package work

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/weather"
)

// ofOurs are words that belong to no garden: a format gone wrong, or a measure in the wrong units.
var ofOurs = regexp.MustCompile(`%!|NaN|1970|\b(inch|inches|foot|feet)\b|°F|\b\d+ in\b|  |\.\.|null`)

// own are a person's feet and a pole's foot.
var own = strings.NewReplacer("feet apart", "legs apart", "feet clear", "legs clear", "foot of the", "base of the")

// readable holds every text of the jobs and orders to what a person can read.
func readable(t *testing.T, jobs []Job, orders []Order) {
	t.Helper()
	seen := map[string]bool{}
	say := func(where, text string) {
		switch {
		case text == "":
			t.Errorf("%s: an empty sentence", where)
		case ofOurs.MatchString(own.Replace(text)) && !seen[text]:
			seen[text] = true
			t.Errorf("%s: %q in %q", where, ofOurs.FindString(text), text)
		case !utf8.ValidString(text):
			t.Errorf("%s: broken characters", where)
		}
	}
	for _, j := range jobs {
		say(j.Key, j.Title)
		say(j.Key, j.Weather)
		for i, s := range j.How {
			say(j.Key, s)
			if slices.Contains(j.How[:i], s) {
				t.Errorf("%s says twice: %s", j.Key, s)
			}
		}
		for _, s := range j.Cautions {
			say(j.Key, s)
		}
		for _, r := range append(slices.Clone(j.Why), j.Conditions...) {
			say(j.Key, r.Says)
		}
	}
	for _, o := range orders {
		say(o.What, o.What)
		for _, r := range o.Why {
			say(o.What, r.Says)
		}
	}
}

// Every crop of the catalogue by every method gives jobs that read well in metric, and in US units
// differ only where they should.
func TestEveryCropOfTheCatalogue(t *testing.T) {
	season := civil.SeasonOf(2027, 45)
	for _, c := range crop.Default().All() {
		in := Input{Plan: &plan.Plan{Season: season}, Crops: crop.New(c), Frost: kitchen().Frost}
		in.Garden.Beds = []garden.Bed{{ID: 1, Name: "Bed", Length: 4, Width: 1.2}}
		for i, m := range c.Methods {
			p := garden.Planting{
				Key: fmt.Sprintf("2027-%02d", i+1), BedID: 1, CropID: c.ID, Method: i, Way: m.Way, Role: garden.Alone, Rows: 2, Plants: 14,
				Place: garden.Place{AlongFrom: quantity.Metre(i), AlongTo: quantity.Metre(i + 1), AcrossTo: 1.2},
				Start: on(4, 20), Emerge: around(on(5, 5), 4), First: around(on(8, 1), 9), Last: around(on(9, 1), 9), Clear: on(9, 15),
				Success: 28, Years: 30, Expect: 4,
			}
			in.Plan.Plantings = append(in.Plan.Plantings, p)
		}
		american := in
		american.Garden.Site.Units = quantity.US
		noMetric(t, Jobs(american), Orders(american))
		jobs, orders := Jobs(in), Orders(in)
		readable(t, jobs, orders)
		for _, p := range in.Plan.Plantings {
			if n := len(served(jobs, p.Key)); n < 3 {
				t.Errorf("%s by %s: only %d jobs", c.ID, p.Way, n)
			}
		}
		for _, o := range orders {
			if amountWords(o, measures{}) == "" || (!supply(o) && o.Count <= 0) || (isSeed(o) && c.Seed.PerGram > 0 && o.Mass <= 0) {
				t.Errorf("%s: %+v", c.ID, o)
			}
		}
	}
}

// ofMetric are measures no American reads, and grams or ounces too small for a balance.
var ofMetric = regexp.MustCompile(`\d ?(mm|cm|m|m²|g|kg|L|°C)\b|\d ?°C|\b0\.0[0-4]\d* oz`)

func noMetric(t *testing.T, jobs []Job, orders []Order) {
	t.Helper()
	seen := map[string]bool{}
	say := func(where, text string) {
		if found := ofMetric.FindString(text); found != "" && !seen[text] {
			seen[text] = true
			t.Errorf("%s: %q in %q", where, found, text)
		}
	}
	for _, j := range jobs {
		say(j.Key, strings.Join(append([]string{j.Title, j.Weather}, append(j.How, j.Cautions...)...), "\n"))
		for _, r := range append(slices.Clone(j.Why), j.Conditions...) {
			say(j.Key, r.Says)
		}
	}
	for _, o := range orders {
		say(o.What, o.What+" "+o.Amount(quantity.US)+" "+o.Weight(quantity.US))
		for _, r := range o.Why {
			say(o.What, r.Says)
		}
	}
}

func served(jobs []Job, key string) []Job {
	var out []Job
	for _, j := range jobs {
		if slices.Contains(j.Serves, key) {
			out = append(out, j)
		}
	}
	return out
}

// A whole season planned from generated years of a built-in place: the jobs hold together and read well.
func TestJobsOfAPlannedSeason(t *testing.T) {
	in := planned(t)
	jobs, orders := Jobs(in), Orders(in)
	readable(t, jobs, orders)
	if len(in.Plan.Plantings) < 8 || len(jobs) < 5*len(in.Plan.Plantings) {
		t.Fatalf("%d plantings, %d jobs", len(in.Plan.Plantings), len(jobs))
	}
	for _, p := range in.Plan.Plantings {
		mine := served(jobs, p.Key)
		var in, first *Job
		for i, j := range mine {
			switch j.Kind {
			case Sow, SetOut, Plant:
				in = &mine[i]
			case Harvest:
				first = &mine[i]
			}
		}
		if in == nil || first == nil || in.Window.From != p.Start || first.Window.From != p.First.P10 {
			t.Errorf("%s: goes in %+v, harvest %+v", p.Key, in, first)
		}
	}
	beds := map[int64]garden.Bed{}
	for _, b := range in.Garden.Beds {
		beds[b.ID] = b
	}
	for _, line := range strings.Split(Words(jobs, beds)+OrderWords(orders, quantity.Metric), "\n") {
		if utf8.RuneCountInString(line) > 80 {
			t.Errorf("%q", line)
		}
	}
	if a, b := fmt.Sprint(jobs), fmt.Sprint(Jobs(in)); a != b {
		t.Error("the same plan gives other jobs")
	}
}

// planned is a small invented garden, planned.
func planned(t *testing.T) Input {
	t.Helper()
	places := weather.Climates()
	at := slices.IndexFunc(places, func(c weather.Climate) bool { return c.Latitude > 40 && c.Latitude < 55 })
	if at < 0 {
		t.Fatal("no built-in place in the middle latitudes")
	}
	season := civil.SeasonOf(2027, places[at].Latitude)
	years, _, err := weather.Generate(places[at], 1991, 14, 1).Scenarios(season, growth.Lead, growth.Tail, 10)
	if err != nil {
		t.Fatal(err)
	}
	climate, err := growth.NewClimate(season, places[at].Latitude, years)
	if err != nil {
		t.Fatal(err)
	}
	g := garden.Garden{Site: garden.Site{Name: "Invented", Latitude: places[at].Latitude, Household: 4, Invented: true}}
	for i, name := range []string{"North", "Middle", "South"} {
		g.Beds = append(g.Beds, garden.Bed{ID: int64(i + 1), Name: name, Length: 6, Width: 1.2, Bearing: 90, Sun: 8})
	}
	var options []growth.Option
	for i, word := range []string{"carrot", "pea", "lettuce", "cabbage", "potato", "onion", "snap bean", "radish", "tomato"} {
		found, _ := crop.Default().Match(word)
		if len(found) == 0 {
			t.Fatalf("no %s in the catalogue", word)
		}
		g.Wants = append(g.Wants, garden.Want{ID: int64(i + 1), Crop: word, Basis: garden.Total, Amount: 4, Unit: "kg", Weight: 3})
		for _, c := range found {
			for m := range c.Methods {
				options = append(options, growth.Option{Crop: c, Method: m})
			}
		}
	}
	settings := plan.DefaultSettings()
	settings.Rounds = 300
	tables := growth.Tabulate(climate, options)
	p, err := plan.Make(plan.Input{Season: season, Garden: g, Crops: crop.Default(), Tables: tables, Settings: settings})
	if err != nil {
		t.Fatal(err)
	}
	return Input{
		Plan: p, Garden: g, Crops: crop.Default(), Tables: tables,
		Frost: func(at quantity.Celsius) weather.Frost { return weather.FrostOf(season, growth.Lead, years, at) },
	}
}
