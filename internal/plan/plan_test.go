package plan

import (
	"bytes"
	"encoding/json"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"kailyard/internal/civil"
	"kailyard/internal/crop"
	"kailyard/internal/garden"
)

// Every plan of a random garden keeps every rule: Make checks it and would return an error.
func TestEveryPlanKeepsTheRules(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tr := randomTrial(rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1)))
		p, err := tr.plan()
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range p.Plantings {
			if x.Key == "" || (x.Status == garden.Planned && len(x.Reasons) < 4) {
				t.Fatalf("planting %q has %d reasons", x.Key, len(x.Reasons))
			}
		}
		for _, s := range p.Supply {
			if float64(s.Expected) < 0.95*float64(s.Asked) && len(s.Short) == 0 {
				t.Fatalf("the want for %s is short without a reason", s.Want.Crop)
			}
		}
	})
}

func TestSameInputSamePlan(t *testing.T) {
	for seed := range uint64(20) {
		var texts [2][]byte
		for i := range texts {
			p, err := randomTrial(rand.New(rand.NewPCG(seed, 2))).plan()
			if err != nil {
				t.Fatal(err)
			}
			texts[i], _ = json.Marshal(p)
		}
		if !bytes.Equal(texts[0], texts[1]) {
			t.Fatalf("two runs with seed %d differ", seed)
		}
	}
}

func TestSameInputSamePlanOfTheCatalogue(t *testing.T) {
	in := household(t)
	in.Settings.Rounds = 3000
	var texts [2][]byte
	for i := range texts {
		p, err := Make(in)
		if err != nil {
			t.Fatal(err)
		}
		texts[i], _ = json.Marshal(p)
	}
	if !bytes.Equal(texts[0], texts[1]) {
		t.Fatal("two runs differ")
	}
}

// More ground never makes the plan worse. The search is not exact, so a hundredth is allowed.
func TestMoreGroundIsNeverWorse(t *testing.T) {
	for seed := range uint64(40) {
		r := rand.New(rand.NewPCG(seed, 3))
		small := randomTrial(r)
		small.settings.Rounds = 3000
		before, err := small.plan()
		if err != nil {
			t.Fatal(err)
		}
		b := small.bed(3, 1.2)
		b.ID = 99
		after, err := small.plan()
		if err != nil {
			t.Fatal(err)
		}
		if after.Value < 0.99*before.Value-1e-9 {
			t.Errorf("seed %d: a bed more takes the value from %.1f to %.1f", seed, before.Value, after.Value)
		}
	}
}

// simple is one bed of lettuce-like ground and one crop ready in 60 days.
func simple() *trial {
	t := newTrial()
	t.grow(plainCrop("leaf", "A", 0.25, 0.3, 2), steadyTimes{from: 90, to: 200, days: 60, span: 10, good: 9})
	t.bed(6, 1.2)
	t.want("leaf", garden.Total, 6, 3)
	return t
}

func mustPlan(t *testing.T, tr *trial) *Plan {
	t.Helper()
	p, err := tr.plan()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func says(reasons []garden.Reason) string {
	var all []string
	for _, r := range reasons {
		all = append(all, r.Says)
	}
	return strings.Join(all, "\n")
}

func TestSimpleWantIsMet(t *testing.T) {
	p := mustPlan(t, simple())
	// 2 kg/m² in nine years of ten: 6 kg need 3 m², 2.5 m of a bed 1.2 m wide; what would make up for the tenth year is too much in the nine.
	if got := float64(p.Supply[0].Expected); got < 5.4 || got > 6.6 {
		t.Errorf("expected %.2f kg of the 6 asked; %v", got, says(p.Supply[0].Short))
	}
	if typical, _ := p.Supply[0].Typical(); typical < 5.95 || typical > 6.6 {
		t.Errorf("%.2f kg of the 6 asked in the typical year", float64(typical))
	}
	for _, x := range p.Plantings {
		// 1.2 m hold four rows 0.3 m apart, and a row of n metres holds 4n plants 0.25 m apart.
		if x.Rows != 4 || x.Plants != 16*int(x.Place.AlongTo-x.Place.AlongFrom)+16*int(4*(float64(x.Place.AlongTo-x.Place.AlongFrom)-float64(int(x.Place.AlongTo-x.Place.AlongFrom))))/4 {
			t.Errorf("%d rows, %d plants in %.2f m", x.Rows, x.Plants, x.Place.AlongTo-x.Place.AlongFrom)
		}
		if x.Clear.Since(x.Start) != 70 || x.Success != 9 || x.Years != 10 {
			t.Errorf("held %d days, %d of %d years", x.Clear.Since(x.Start), x.Success, x.Years)
		}
	}
}

func TestNothingToPlant(t *testing.T) {
	for name, change := range map[string]func(*trial){
		"no wants":  func(t *trial) { t.garden.Wants = nil },
		"no beds":   func(t *trial) { t.garden.Beds = nil },
		"all shade": func(t *trial) { t.garden.Beds[0].Sun = 0 },
		"asks none": func(t *trial) { t.garden.Wants[0].Amount = 0 },
		"no window": func(t *trial) {
			t.options[0].times = steadyTimes{season: t.season, from: 90, to: 200, days: 60, span: 10, good: 5}
		},
		"its family grew there": func(t *trial) {
			t.garden.History = []garden.Past{{BedID: 1, Year: 2025, Family: "A"}}
		},
	} {
		tr := simple()
		change(tr)
		p := mustPlan(t, tr)
		if len(p.Plantings) != 0 {
			t.Errorf("%s: %d plantings", name, len(p.Plantings))
		}
		for _, s := range p.Supply {
			if s.Asked > 0 && len(s.Short) == 0 {
				t.Errorf("%s: no reason for the want not met", name)
			}
		}
		if len(p.Notes) == 0 && name != "no wants" {
			t.Errorf("%s: no notes", name)
		}
	}
}

func TestRotationEndsOnTime(t *testing.T) {
	for year, want := range map[int]int{2024: 1, 2025: 0, 2026: 0} { // three years: 2024 may return in 2027
		tr := simple()
		tr.garden.History = []garden.Past{{BedID: 1, Year: year, CropID: "leaf"}}
		if got := min(len(mustPlan(t, tr).Plantings), 1); got != want {
			t.Errorf("family grown in %d: planted %d", year, got)
		}
	}
	tr := simple()
	tr.options[0].crop.Rotation = 4
	tr.garden.History = []garden.Past{{BedID: 1, Year: 2024, CropID: "leaf"}}
	if n := len(mustPlan(t, tr).Plantings); n != 0 {
		t.Errorf("a crop that asks for four years was planted after three")
	}
}

func TestBadInputIsASentence(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*trial)
		says   string
	}{
		"unknown crop": {func(t *trial) { t.want("leaff", garden.Total, 1, 1) }, "leaf"},
		"unit":         {func(t *trial) { t.garden.Wants[0].Unit = "bushel" }, "head"},
		"weight":       {func(t *trial) { t.garden.Wants[0].Weight = 6 }, "weight 6"},
		"basis":        {func(t *trial) { t.garden.Wants[0].Basis = "daily" }, "daily"},
		"zero bed":     {func(t *trial) { t.garden.Beds[0].Width = 0 }, "Bed 1"},
		"share":        {func(t *trial) { t.settings.Share = 0.2 }, "success_share"},
		"standing bed": {func(t *trial) {
			t.garden.Standing = []garden.Planting{{Key: "x", BedID: 7, CropID: "leaf", Start: t.season.Start, Clear: t.season.Start + 9}}
		}, "bed 7"},
		"standing crop": {func(t *trial) {
			t.garden.Standing = []garden.Planting{{Key: "x", BedID: 1, CropID: "moss", Start: t.season.Start, Clear: t.season.Start + 9}}
		}, "moss"},
		"no table": {func(t *trial) { t.options = nil }, "growth table"},
	} {
		tr := simple()
		c.change(tr)
		if _, err := tr.plan(); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Make(Input{}); err == nil {
		t.Error("an empty input made a plan")
	}
}

func TestSettings(t *testing.T) {
	s := DefaultSettings()
	if err := s.Validate(); err != nil {
		t.Fatal(err)
	}
	for _, r := range SettingsList() {
		if v, ok := s.Get(r.Name); !ok || v != r.Default {
			t.Errorf("%s: %v, default %v", r.Name, v, r.Default)
		}
		if s.Put(r.Name, r.High+1) == nil || s.Put(r.Name, r.Low-1) == nil {
			t.Errorf("%s takes a value out of range", r.Name)
		}
	}
	if s.Put("rotation_years", 3.5) == nil || s.Put("colour", 1) == nil {
		t.Error("half a year or an unknown setting was taken")
	}
}

// A season that crosses New Year: the southern hemisphere's, with a crop grown over it.
func TestSeasonAcrossNewYear(t *testing.T) {
	tr := newTrial()
	tr.season = civil.SeasonOf(2027, -40)
	tr.grow(plainCrop("leaf", "A", 0.25, 0.3, 2), steadyTimes{from: 150, to: 180, days: 60, span: 10, good: 10})
	tr.bed(4, 1.2)
	tr.want("leaf", garden.Total, 5, 3)
	p := mustPlan(t, tr)
	if len(p.Plantings) == 0 || p.Plantings[0].Start.Year() != 2027 || p.Plantings[0].Clear.Year() != 2028 {
		t.Fatalf("%v", p.Plantings)
	}
	if !strings.HasPrefix(p.Plantings[0].Key, "2027-") {
		t.Errorf("key %s", p.Plantings[0].Key)
	}
}

func TestWeeklyWantIsStaggered(t *testing.T) {
	tr := simple()
	tr.bed(6, 1.2)
	tr.bed(6, 1.2)
	tr.settings.Rounds = 10000
	tr.garden.Wants[0].Basis, tr.garden.Wants[0].Amount = garden.Weekly, 1
	p := mustPlan(t, tr)
	starts := map[civil.Date]bool{}
	for _, x := range p.Plantings {
		starts[x.Start] = true
	}
	// Ready from day 150 to 260, ten days at a time: some eight or more sowings.
	if len(starts) < 6 || float64(p.Supply[0].Expected) < 0.7*float64(p.Supply[0].Asked) {
		t.Errorf("%d start days give %.1f of %.1f kg", len(starts), p.Supply[0].Expected, p.Supply[0].Asked)
	}
}

func TestWeightComesFirst(t *testing.T) {
	tr := simple()
	tr.garden.Beds[0].Length = 2
	tr.grow(plainCrop("rival", "B", 0.25, 0.3, 2), steadyTimes{from: 90, to: 200, days: 120, span: 10, good: 9})
	tr.options[0].times = steadyTimes{season: tr.season, from: 90, to: 200, days: 120, span: 10, good: 9}
	tr.want("rival", garden.Total, 6, 5)
	p := mustPlan(t, tr)
	if p.Supply[1].Expected <= p.Supply[0].Expected {
		t.Errorf("weight 5 got %.1f kg, weight 3 %.1f kg", p.Supply[1].Expected, p.Supply[0].Expected)
	}
}

func TestStandingPlantingsStay(t *testing.T) {
	tr := simple()
	tr.grow(plainCrop("tree-kale", "B", 0.5, 0.5, 2), steadyTimes{from: 90, to: 100, days: 60, span: 10, good: 10})
	at := garden.Place{AlongTo: 5, AcrossTo: 1.2}
	tr.garden.Standing = []garden.Planting{{Key: "2026-09", BedID: 1, CropID: "tree-kale", Place: at, Start: tr.season.Start - 90, Clear: tr.season.Start + 300, Pinned: true}}
	p := mustPlan(t, tr)
	for _, x := range p.Plantings {
		if x.Key != "2026-09" && x.Place.AlongFrom < 5 {
			t.Errorf("%s stands where %s does", x.Key, "2026-09")
		}
	}
	if len(p.Plantings) < 2 {
		t.Error("the free metre stays empty")
	}
}

func TestMarkerStandsInTheSlowDrill(t *testing.T) {
	tr := newTrial()
	slow := tr.grow(plainCrop("slow-root", "A", 0.05, 0.3, 3), steadyTimes{from: 90, to: 130, days: 110, span: 20, good: 10, spread: 0.2})
	slow.Plant.Spread, slow.Practice.SlowRow = 0.2, true
	quick := tr.grow(plainCrop("quick", "B", 0.04, 0.2, 2), steadyTimes{from: 80, to: 240, days: 30, span: 7, good: 10, spread: 0.12})
	quick.Practice.Marker = true
	tr.bed(4, 0.6)
	tr.want("slow-root", garden.Total, 8, 4)
	tr.want("quick", garden.Total, 0.6, 3)
	p := mustPlan(t, tr)
	for _, x := range p.Plantings {
		if x.Role == garden.Marker {
			return
		}
	}
	t.Errorf("no marker in %+v", p.Plantings)
}

func TestFastCropStandsBetweenTheSlow(t *testing.T) {
	tr := newTrial()
	head := tr.grow(plainCrop("head", "A", 0.46, 0.46, 4), steadyTimes{from: 100, to: 104, days: 90, span: 14, good: 10, spread: 0.5})
	head.Plant.Height = 0.4
	leaf := tr.grow(plainCrop("leaf", "B", 0.25, 0.3, 2), steadyTimes{from: 95, to: 125, days: 35, span: 7, good: 10, spread: 0.25})
	leaf.Plant.Height = 0.2
	tr.bed(3, 1.2)
	tr.want("head", garden.Total, 15, 5)
	tr.want("leaf", garden.Total, 1.5, 4)
	p := mustPlan(t, tr)
	for _, x := range p.Plantings {
		if x.Role == garden.Fast {
			if !strings.Contains(says(x.Reasons), "they would meet on") {
				t.Errorf("no day on which the canopies meet: %s", says(x.Reasons))
			}
			return
		}
	}
	t.Errorf("no fast crop in %+v", p.Plantings)
}

func TestPerennialsKeepTheirBeds(t *testing.T) {
	tr := simple()
	tr.bed(4, 1).Perennial = true
	cane := plainCrop("cane", "B", 0.5, 1, 1)
	cane.Perennial, cane.Harvest.FirstYear = true, 3
	tr.grow(cane, steadyTimes{from: 90, to: 120, days: 300, span: 10, good: 10})
	tr.want("cane", garden.Total, 3, 3)
	p := mustPlan(t, tr)
	seen := false
	for _, x := range p.Plantings {
		if (x.BedID == 2) != (x.CropID == "cane") {
			t.Errorf("%s in bed %d", x.CropID, x.BedID)
		}
		seen = seen || x.CropID == "cane"
	}
	if !seen || p.Supply[1].Expected != 0 || !strings.Contains(says(p.Supply[1].Short), "year 3") {
		t.Errorf("planted %v, expected %.1f kg: %s", seen, p.Supply[1].Expected, says(p.Supply[1].Short))
	}
}

func TestBlockCropWantsRows(t *testing.T) {
	tr := simple()
	tr.options[0].crop.Practice.Block = true
	tr.options[0].crop.Spacing = crop.Spacing{InRow: 0.25, BetweenRows: 0.75}
	if p := mustPlan(t, tr); len(p.Plantings) != 0 {
		t.Error("a block crop stands in two rows")
	}
	tr.garden.Beds[0].RowsAcross = true
	p := mustPlan(t, tr)
	if len(p.Plantings) == 0 || p.Plantings[0].Rows < 3 {
		t.Errorf("%+v", p.Plantings)
	}
}

// TestNothingBeginsBeforeTheDay: a plan made in mid-season begins nothing in the past, keeps what
// stands, and says so.
func TestNothingBeginsBeforeTheDay(t *testing.T) {
	tr := simple()
	tr.from = tr.season.Start + 150
	out := mustPlan(t, tr)
	if len(out.Plantings) == 0 {
		t.Fatal("nothing is planted, though the window stays open for fifty days more")
	}
	for _, x := range out.Plantings {
		if x.Start < tr.from {
			t.Errorf("%s starts on %s, before %s", x.Key, x.Start, tr.from)
		}
	}
	if !strings.Contains(says(out.Notes), "nothing new is begun before") {
		t.Errorf("the plan does not say so: %s", says(out.Notes))
	}
}

// TestGoesOnFromItsOwnPlan: planning again with nothing new changes nothing; a new want is fitted in
// and leaves the rest alone.
func TestGoesOnFromItsOwnPlan(t *testing.T) {
	first := simple()
	p := mustPlan(t, first)
	again := simple()
	again.old = p.Plantings
	q := mustPlan(t, again)
	if !slices.EqualFunc(p.Plantings, q.Plantings, sameGround) {
		t.Errorf("nothing is new, and the plan is:\n%+v\nwas:\n%+v", q.Plantings, p.Plantings)
	}
	more := simple()
	more.grow(plainCrop("root", "B", 0.1, 0.3, 3), steadyTimes{from: 100, to: 150, days: 60, span: 20, good: 10})
	more.want("root", garden.Total, 3, 3)
	more.old = p.Plantings
	r := mustPlan(t, more)
	for _, x := range p.Plantings {
		if !slices.ContainsFunc(r.Plantings, func(y garden.Planting) bool { return sameGround(x, y) }) {
			t.Errorf("%s had to go for a new want, though there is room", x.Key)
		}
	}
	if r.Supply[1].Expected == 0 {
		t.Error("the new want gets nothing")
	}
}

func sameGround(a, b garden.Planting) bool {
	return a.Key == b.Key && a.CropID == b.CropID && a.Place == b.Place && a.Start == b.Start
}
