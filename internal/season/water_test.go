package season_test

import (
	"slices"
	"strings"
	"testing"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
	"kailyard/internal/growth"
	"kailyard/internal/plan"
	"kailyard/internal/quantity"
	"kailyard/internal/season"
	"kailyard/internal/water"
	"kailyard/internal/weather"
	"kailyard/internal/work"
)

// watering is the two beds planned, with a supply, through generated years.
func watering(t testing.TB) *season.Result {
	t.Helper()
	g, err := garden.ReadDescription("ground.toml", strings.NewReader(ground), crop.Default())
	if err != nil {
		t.Fatal(err)
	}
	for i := range g.Beds {
		g.Beds[i].ID = int64(i + 1)
	}
	g.Site.Supply = garden.Supply{Can: 10, Roof: 20, Tank: 200, Tap: 600}
	climate, err := weather.ClimateByID("burlington")
	if err != nil {
		t.Fatal(err)
	}
	r, err := season.Compute(season.Input{Season: civil.SeasonOf(2027, 44), Garden: g, Crops: crop.Default(), Record: weather.Generate(climate, 1996, 30, 1), Years: 20, Settings: plan.DefaultSettings()})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// What the beds want adds up to what the garden wants in the mean of the kinds of year; dry years want more; the peak is a week of the season.
func TestWaterOfASeason(t *testing.T) {
	r := watering(t)
	w, err := r.Water(civil.Of(2027, 7, 1), nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Beds) != 2 || w.Needs.Typical <= 0 || w.Needs.Dry < w.Needs.Typical || !r.Season.Span().Has(w.Needs.PeakWeek) || len(w.Says) < 3 || len(w.Store.Weeks) == 0 {
		t.Fatalf("%d beds, %.0f and %.0f L, peak %s, %q", len(w.Beds), float64(w.Needs.Typical), float64(w.Needs.Dry), w.Needs.PeakWeek, w.Says)
	}
	if w.Untold == "" || len(w.Today.Ground) > 0 {
		t.Errorf("a generated record tells what fell: %+v", w.Today)
	}
	for _, b := range w.Beds { // slow and fast, marker and slow share ground, and it is watered once
		for _, week := range b.Need.Weeks {
			if week.Area > b.Bed.Area()+1e-6 {
				t.Errorf("%s, week of %s: %.2f m² watered in a bed of %.2f", b.Bed.Name, week.From, float64(week.Area), float64(b.Bed.Area()))
			}
			for _, a := range []water.Amount{week.Typical, week.Dry} {
				if float64(a.Water) > float64(b.Bed.Area())*float64(a.Depth)+1e-6 {
					t.Errorf("%s, week of %s: %.1f L, %.1f mm over %.2f m²", b.Bed.Name, week.From, float64(a.Water), float64(a.Depth), float64(b.Bed.Area()))
				}
			}
		}
	}
	if !strings.Contains(strings.Join(w.Basis, " "), "generated") {
		t.Errorf("nothing is said of generated years: %q", w.Basis)
	}
}

// The ground dries until it is watered: rain that is logged puts the day off, more than it takes makes no debt, and the day's own watering counts.
func TestWaterToday(t *testing.T) {
	r, day := watering(t), civil.Of(2027, 7, 20)
	rain := func(on civil.Date, mm float64) garden.Entry {
		return garden.Entry{Kind: garden.Rained, Date: on, Depth: quantity.Metre(mm / 1000)}
	}
	told := func(entries ...garden.Entry) *season.Water {
		t.Helper()
		w, err := r.Water(day, entries)
		if err != nil {
			t.Fatal(err)
		}
		if w.Untold != "" || len(w.Today.Ground) == 0 {
			t.Fatalf("%q, %d stands", w.Untold, len(w.Today.Ground))
		}
		return w
	}
	dry := told(rain(day-25, 3))
	if len(dry.Due()) == 0 {
		t.Fatalf("after weeks without rain nothing wants water: %+v", dry.Today.Ground)
	}
	due := dry.Due()[0]
	if due.Give.Water <= 0 || due.Give.Cans <= 0 || !strings.Contains(due.Says, "can") {
		t.Errorf("%q", due.Says)
	}
	for _, b := range told(rain(day-25, 3), rain(day-1, 120)).Due() {
		if !strings.Contains(b.Says, "seedbed") { // seed on sand is sprinkled the day after any rain
			t.Errorf("the day after 120 mm: %q", b.Says)
		}
	}
	if wet := told(rain(day-25, 3), rain(day, 120)); len(wet.Due()) > 0 {
		t.Errorf("on the day of 120 mm: %q", wet.Due()[0].Says)
	}
	given := garden.Entry{Kind: garden.Watered, Date: day, BedID: due.Bed.ID, Volume: 2 * due.Give.Water}
	if b, _ := told(rain(day-25, 3), given).Bed(due.Bed.ID); b.Now {
		t.Errorf("just watered: %q", b.Says)
	}
}

// A bed is told what one watering brings and, from 10 mm on, how much is left for another, in depth and litres that add up to what its
// ground lacks; with less left there is no word of it, and nothing is given beyond 35 mm. After the first watering the rest is told with the day.
func TestFarBehindSaysHowMuch(t *testing.T) {
	r := watering(t)
	rain := func(on civil.Date, mm float64) garden.Entry {
		return garden.Entry{Kind: garden.Rained, Date: on, Depth: quantity.Metre(mm / 1000)}
	}
	behind, little := 0, 0
	for ago := range 29 {
		day := civil.Of(2027, 7, 28)
		w, err := r.Water(day, []garden.Entry{rain(day.Add(-ago-1), 90), rain(day.Add(-60), 1)})
		if err != nil || w.Untold != "" {
			t.Fatal(err, w.Untold)
		}
		for _, b := range w.Due() {
			var lacks, rest quantity.Litre
			most := 0.0
			for _, g := range b.Ground {
				if g.Now && g.Waters() {
					lacks, most = lacks+g.Give, max(most, float64(g.Give)/float64(g.Area))
					if left := g.Give - quantity.Litre(35*float64(g.Area)); float64(left) >= 10*float64(g.Area) {
						rest += left
					}
				}
			}
			told := strings.Contains(b.Says, "It lacks more than one watering can bring; the rest is ")
			if told != (most >= 45) || b.Give.Depth > 35.01 || told != (rest > 0.01) || told && !strings.Contains(b.Says, w.Site.Units.Volume(rest)) || strings.Contains(b.Says, "as much again") {
				t.Errorf("%.0f mm, %.1f L, of which %.1f L now: %q", most, float64(lacks), float64(b.Give.Water), b.Says)
			}
			if most > 35 && most < 45 {
				little++
			}
			if !told {
				continue
			}
			behind++
			again, err := r.Water(day, []garden.Entry{rain(day.Add(-ago-1), 90), rain(day.Add(-60), 1), {Kind: garden.Watered, Date: day, BedID: b.Bed.ID, Volume: b.Give.Water}})
			if err != nil {
				t.Fatal(err)
			}
			if now, _ := again.Bed(b.Bed.ID); now.Now || now.Says != "" && !strings.Contains(now.Says, "watered on 28 Jul and still lacks ") && !strings.Contains(now.Says, "lacks little") && !strings.Contains(now.Says, "It has water for") && !strings.Contains(now.Says, "tomorrow") {
				t.Errorf("watered, and then: %q", now.Says)
			}
		}
	}
	t.Logf("%d beds and days with a rest, %d with less than is worth one", behind, little)
	if behind == 0 || little == 0 {
		t.Error("nothing is checked")
	}
}

// The journal's days go before the plan's: what was set out later is younger, what was cleared wants nothing, and what nobody wrote down is
// named as counted from the plan.
func TestWaterTodayByTheJournal(t *testing.T) {
	r, day := watering(t), civil.Of(2027, 7, 20)
	rain := garden.Entry{Kind: garden.Rained, Date: day - 10, Depth: .02}
	told := func(entries ...garden.Entry) *season.Water {
		w, err := r.Water(day, append(entries, rain))
		if err != nil || w.Untold != "" {
			t.Fatal(err, w.Untold)
		}
		return w
	}
	plain := told()
	if !strings.Contains(strings.Join(plain.Today.Notes, "\n"), "Not written down as sown or set out, and counted from the plan's day: ") {
		t.Errorf("%q", plain.Today.Notes)
	}
	var entries []garden.Entry
	for _, g := range plain.Today.Ground {
		for _, s := range g.Stands {
			entries = append(entries, garden.Entry{Kind: garden.SetOut, Date: s.From + 3, Planting: s.Key})
		}
	}
	late := told(entries...)
	if strings.Contains(strings.Join(late.Today.Notes, "\n"), "Not written down") || len(late.Today.Ground) == 0 {
		t.Errorf("%q", late.Today.Notes)
	}
	for _, g := range late.Today.Ground {
		for _, s := range g.Stands {
			if i := slices.IndexFunc(entries, func(e garden.Entry) bool { return e.Planting == s.Key }); i < 0 || s.From != entries[i].Date {
				t.Errorf("%s stands from %s", s.Key, s.From)
			}
		}
	}
	for i := range entries {
		entries = append(entries, garden.Entry{Kind: garden.Cleared, Date: day - 1, Planting: entries[i].Planting})
	}
	if w := told(entries...); len(w.Today.Ground) > 0 || len(w.Due()) > 0 {
		t.Errorf("all is cleared, and yet: %+v", w.Today.Ground)
	}
}

// The weeks of the water are those of the jobs: the seven days from a Monday, with the litres that the page of water has for them.
func TestWaterWeeksAreJobWeeks(t *testing.T) {
	r := watering(t)
	w, err := r.Water(civil.Of(2027, 7, 1), nil)
	if err != nil {
		t.Fatal(err)
	}
	for day := r.Season.Start; day <= r.Season.End(); day++ {
		for _, b := range w.Beds {
			week, ok := b.Week(day)
			if !ok || week.From != day.Monday() {
				t.Fatalf("%s is held by the week from %s", day, week.From)
			}
			told := water.TellParts(week, b.Way, w.Site.Supply, w.Site.Units)
			mine := 0
			for _, one := range w.InWeek(day.Monday()) {
				if strings.HasPrefix(one.Bed, b.Bed.Name) {
					if mine >= len(told) || one.Dry != told[mine].Dry || one.Typical != told[mine].Typical {
						t.Fatalf("%s: %+v, the page %+v", day, one, told)
					}
					mine++
				}
			}
			if mine != len(told) {
				t.Fatalf("%s: %d lines with the jobs, %d on the page", day, mine, len(told))
			}
		}
	}
}

// What goes in is told with an amount to water it in, and how often the ground is too dry.
func TestJobsKnowTheGroundsMoisture(t *testing.T) {
	r, told := watering(t), 0
	for _, j := range r.Jobs {
		if j.Kind != work.Sow && j.Kind != work.SetOut {
			continue
		}
		for _, c := range j.Conditions {
			if c.Rule == "soil moisture at going in" && strings.Contains(strings.Join(j.How, " "), "water it in") {
				told++
			}
		}
	}
	if told == 0 {
		t.Error("no job tells it")
	}
}

// What the water of a large garden takes at the first request: a figure of the project's own to keep, under 0.3 s.
func BenchmarkWater(b *testing.B) {
	in := manyBeds(b)
	climate, err := weather.ClimateByID("burlington")
	if err != nil {
		b.Fatal(err)
	}
	record := weather.Generate(climate, 1996, 30, 1)
	years, _, err := record.Scenarios(in.Season, growth.Lead, growth.Tail, season.YearsUsed)
	if err != nil {
		b.Fatal(err)
	}
	in.Garden.Site.Supply = garden.Supply{Can: 10, Roof: 40, Tank: 1000}
	for b.Loop() {
		r := &season.Result{Season: in.Season, Garden: in.Garden, Record: record, Years: years, Plan: in.Plan, Crops: in.Crops}
		if _, err := r.Water(civil.Of(2027, 7, 1), nil); err != nil {
			b.Fatal(err)
		}
	}
}
